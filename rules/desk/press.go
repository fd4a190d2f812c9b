package desk

import (
	"fmt"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func pressCommand() *command {
	return &command{
		name:  "press",
		does:  "how hot the iron may be for a cloth, and for its interfacing",
		about: "Gives the heat that the most delicate fibre of the cloth allows, the heat that the fusible needs, and whether they go together.",
		examples: []string{
			"press --cloth melton --interfacing weft-fusible-medium",
			"press --fibre wool=80,polyamide=20",
		},
		flags: quickFlags(slices.Concat([]flag{
			{name: "fibre", value: "NAME=PERCENT,…", doc: "fibres of the cloth", hint: "wool=80,polyamide=20"},
			{name: "interfacing", value: "NAME", doc: "an interfacing of the catalogue", hint: "weft-fusible-medium"},
			{name: "fuse", value: "HEAT", doc: "the heat that its maker prints, as 135C", hint: "135C"},
		}, layersFlags("cloth-thickness")[:1])...),
		action: press,
	}
}

func press(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	use, err := q.named("cloth", entriesOf("cloth"))
	if err != nil {
		return err
	}
	if use == "" && !q.has("fibre") {
		return usagef("--cloth is missing: the heat goes by its fibres").write("--cloth melton" + orElse + "--fibre wool=80,polyamide=20")
	}
	if use != "" {
		q.put(".cloth.cloth.use", use, "--cloth")
	} else {
		q.put(".cloth.cloth.thickness", "1 mm")
		q.taken = append(q.taken, "cloth.cloth.thickness")
	}
	if q.has("fibre") {
		shares, err := q.shares("fibre")
		if err != nil {
			return err
		}
		q.put(".cloth.cloth.fibre", shares, "--fibre")
	}
	layers := []string{"cloth", "cloth"}
	inter, err := q.named("interfacing", entriesOf("interfacing"))
	if err != nil {
		return err
	}
	if inter != "" {
		q.put(".interfacing.interfacing.use", inter, "--interfacing")
		layers = []string{"cloth", "interfacing", "cloth"}
	}
	if s := q.text("fuse"); s != "" {
		t, err := measure.ParseTemperature(s)
		if err != nil {
			return badValue("fuse", s, err)
		}
		if inter == "" {
			return usagef("--fuse is the heat of an interfacing").write("--interfacing weft-fusible-medium")
		}
		q.put(".interfacing.interfacing.fuse", fmt.Sprintf("%g C", t.C()), "--fuse")
	}
	q.put("over", layers)
	q.take("notion", map[string]any{"diameter": "15 mm", "thickness": "3 mm"})
	q.notes = []string{"fuse-heat", "press-setting"}
	p, err := q.plan()
	if err != nil {
		return err
	}
	g, u := p.Garment, p.Garment.Units
	cl := g.ClothNamed("cloth")
	limit := plan.IronLimit(g.Catalog, cl.Fibre)
	a := &answer{json: pairs{{"iron_c", nil}, {"fuse_c", nil}}}
	if limit.Fibre == "" {
		a.head = "The fibres of the cloth are not known, so no heat can be named: try a scrap, from cool to warm."
	} else {
		a.head = "Iron at " + limit.Symbol.TextMost(u) + " at most (" + rules.Dots(limit.Symbol) + "), for the " + limit.Fibre + " in it."
		a.json[0].value = limit.Symbol.C()
		// What its face does not stand goes before what its fibres do.
		switch how := rules.HowPressed(cl, limit); {
		case rules.NoIron(cl):
			a.head, a.json[0].value = "Do not iron it: "+how+".", nil
		case rules.Hardly(cl):
			a.head = "Press it hardly at all: " + how + "; " + limit.Symbol.TextMost(u) + " at most (" + rules.Dots(limit.Symbol) + ")."
		case rules.Steamed(cl):
			a.head = "Press it " + how + "; " + limit.Symbol.TextMost(u) + " at most (" + rules.Dots(limit.Symbol) + ")."
		}
		if !limit.Pressed() {
			a.rows = append(a.rows, []string{"the bulk", limit.Bulk.TextMost(u) + ", " + limit.BulkFibre + ": through a press cloth, after a scrap"})
		}
	}
	if in := interfacingOf(g); in != nil {
		lo, hi := rules.FuseRange(in)
		if in.Fixing != "fusible" {
			a.rows = append(a.rows, []string{"interfacing", "it is sewn in and not fused"})
		} else {
			a.json[1].value = lo.C()
			heat := lo.TextGiven(u)
			if hi > lo {
				heat += " to " + hi.TextGiven(u)
			}
			a.rows = append(a.rows, []string{"fuse at", heat + ": the maker's own figure wins"})
		}
	}
	switch in := interfacingOf(g); {
	case in != nil && in.Fixing == "fusible":
		a.say("Fuse and press a scrap first. A hot iron and its steam burn.")
	case limit.Fibre != "" && rules.NoIron(cl):
		a.say("Crease and stitch a scrap first.")
	default:
		a.say("Press a scrap first. A hot iron and its steam burn.")
	}
	a.json = append(a.json, pair{"fibre", limit.Fibre}, pair{"dots", limit.Symbol.Dots()}, pair{"units", u.String()})
	a.next = "catalog --kind interfacing"
	return q.hand(a, p)
}

func interfacingOf(g *catalog.Garment) *catalog.Interfacing { return g.InterfacingNamed("interfacing") }
