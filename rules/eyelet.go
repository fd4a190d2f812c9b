package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

var eyeletRules = []*Rule{
	{
		Name: "eyelet-cord", Severity: Conflict,
		Rests: []string{"closure.*.cord", "closure.*.notion.inside", "closure.*.notion.kind"},
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			n := &x.C.Notion
			if n.Kind != catalog.Eyelet || !x.C.Cord.Has() || !n.Inside.Has() {
				return Numbers{}
			}
			return atLeast(n.Inside.V, x.C.Cord.V)
		},
		Title:   "the cord must go through the eyelet",
		Figure:  "eyelet, inside",
		Formula: "inside of the eyelet ≥ the cord's thickness (conflict below), ≥ cord + {play} (caution below)",
		Limits:  []plan.Threshold{plan.CordPlayLimit},
		Why:     "A cord that only just goes through drags on the rim and wears out.",
		Sources: []string{"geometry", "boating magazine on spur grommets: inside sizes 1/4, 5/16, 3/8 in"},
		Ours:    "{play} of play",
		Check: func(x *Context) {
			n, cord := &x.C.Notion, x.C.Cord
			if n.Kind != catalog.Eyelet || !cord.Has() || !n.Inside.Has() {
				return
			}
			switch {
			case n.Inside.V < cord.V:
				have, limit := x.Over(cord.V, n.Inside.V)
				x.report(Conflict, x.at("cord"), atLeast(n.Inside.V, cord.V).on(plan.NotionBasis(x.C, n.Inside, "inside"), plan.BasisOf(cord, x.key("cord"))), "a cord of %s does not go through an eyelet of %s inside: take a thinner cord or a larger eyelet", have, limit.For(x.at("cord"))).Line("a cord of %s does not go through the eyelet, %s inside", have, limit)
			case n.Inside.V < cord.V+plan.CordPlay:
				x.report(Caution, x.at("cord"), atLeast(n.Inside.V, cord.V+plan.CordPlay), "a cord of %s only just goes through an eyelet of %s inside and will drag: leave at least %s", x.say(cord.V), x.say(n.Inside.V), x.sayThin(plan.CordPlay)).Line("a cord of %s drags in an eyelet of %s: leave %s", x.say(cord.V), x.say(n.Inside.V), x.sayThin(plan.CordPlay))
			}
		},
		Touches: anotherNotion,
		Propose: func(x *Context, f *Finding) []Change {
			if x.C.Use == "" {
				return nil
			}
			return x.nearestUse(func(n *catalog.Notion) bool {
				return n.Kind == catalog.Eyelet && n.EyeletKind == x.C.Notion.EyeletKind && n.Inside.V >= x.C.Cord.V+plan.CordPlay
			}, func(n *catalog.Notion) measure.Length { return n.Inside.V })
		},
	},
}
