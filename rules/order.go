package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// JoinedPiece says whether a closure sits on a piece that is joined to the body
// later, and so is worked before that.
func JoinedPiece(c *catalog.Closure) bool { return plan.JoinedPiece(c) }

// SewnHole says whether a closure has a hole to sew or cut open.
func SewnHole(k *plan.Closure) bool { return k.SewnHole() }

// setBasis is what it rests on that a fastener is set with a tool: of a snap
// that it is not sewn on.
func (x *Context) setBasis() plan.Basis {
	if n := &x.C.Notion; n.Kind == catalog.Snap && n.Attach != "" {
		return plan.NotionWord(x.C, "attach")
	}
	return plan.Basis{}
}

var orderRules = []*Rule{
	{
		Name: "order-late", Severity: Conflict,
		Rests:   []string{"closure.*.notion.attach", "closure.*.notion.kind", "closure.*.when", "closure.*.where"},
		Task:    NoTask,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "holes and hardware of a flap, tab or pocket come before it is joined",
		Formula: "on a flap, pocket, tab or strap: when is not after-joining; on a cuff or collar with set hardware: caution",
		Why:     "Joined to the body, the anvil cannot reach under a pocket or flap, and what goes through the top layer goes through the one below: the pocket is shut, the front is pierced.",
		Sources: []string{"common practice, no source: work the small piece first, join it afterwards"},
		Check: func(x *Context) {
			if x.C.When != "after-joining" {
				return
			}
			hard := SetWithTool(&x.C.Notion)
			switch {
			case JoinedPiece(x.C) && hard:
				x.report(Conflict, x.at("when"), Numbers{}.on(x.setBasis()), "the %s of the %s would be set after it is joined: the anvil cannot reach under it, and the post would go through the layer below. Set them first, then join the %s", text.Plural(x.C.Notion.Kind), x.C.Where, x.C.Where).Line("set the %s before the %s is joined: no anvil reaches under it", text.Plural(x.C.Notion.Kind), x.C.Where)
			case JoinedPiece(x.C) && SewnHole(x.K):
				x.report(Conflict, x.at("when"), Numbers{}, "the hole of the %s would be sewn after it is joined: the foot sews through the layer below and the blade cuts it. Sew and open it first, then join the %s", x.C.Where, x.C.Where).Line("sew and open the hole before the %s is joined", x.C.Where)
			case JoinedPiece(x.C) && x.C.Notion.Kind != catalog.Zip:
				x.report(Caution, x.at("when"), Numbers{}, "sewn on after the %s is joined, the %s easily catches the layer below: sew it on first, or slip a card between", x.C.Where, text.One(x.C.Notion.Kind)).Line("sew the %s on before the %s is joined, or slip a card between", text.One(x.C.Notion.Kind), x.C.Where)
			case hard && (x.C.Where == "cuff" || x.C.Where == "collar"):
				x.report(Caution, x.at("when"), Numbers{}, "try whether the anvil reaches into the closed %s, or set the %s before it is sewn in", x.C.Where, text.Plural(x.C.Notion.Kind)).Line("try if the anvil reaches into the %s, or set the %s first", x.C.Where, text.Plural(x.C.Notion.Kind))
			}
		},
		Touches: []string{"closure.*.when"},
		Propose: func(x *Context, f *Finding) []Change {
			return []Change{{With: set(x, "when", "before-joining"), Says: "work it before it is joined", Cost: 1}}
		},
	},
}
