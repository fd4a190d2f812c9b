package desk

import (
	"fmt"
	"os"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/sheet"
)

func needleCommand() *command {
	return &command{
		name:  "needle",
		does:  "needle, thread and stitch length for a cloth",
		about: "Gives the needle sizes that the cloth asks for, and the one that suits the thread. --cloth takes the figures of a cloth of the catalogue; flags beside it win.",
		examples: []string{
			`needle --weight "18 oz/yd2" --layers 4`,
			`needle --cloth melton --layers 3 --thickness 2.4mm --thread "Tex 60"`,
		},
		flags: []flag{
			{name: "weight", value: "WEIGHT", doc: "weight of the cloth, as \"18 oz/yd2\" or 620gsm", hint: `"18 oz/yd2"`},
			{name: "cloth", value: "NAME", doc: "a cloth of the catalogue", hint: "melton"},
			{name: "layers", kind: numberFlag, value: "N", doc: "layers sewn through", first: "2", lo: 1, hi: 40, whole: true, hint: "4"},
			lengthFlagOf("thickness", 50*mm, "2.4mm", "one layer of it (otherwise estimated from the weight)"),
			{name: "thread", value: "SIZE", doc: "the thread you mean to use, as \"Tex 40\"", hint: `"Tex 40"`},
			{name: "fibre", words: []string{"polyester", "cotton", "nylon"}, doc: "fibre of the thread", first: "polyester"},
			{name: "needle", value: "SIZE", doc: "the needle you mean to use, as 90/14: it is checked", hint: "90/14"},
			catalogFlag(), unitsFlag(), formatFlag("text", "json"), outFlag(),
		},
		action: needle,
	}
}

func needle(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	cloth, err := q.cloth()
	if err != nil {
		return err
	}
	layers, given, err := q.count("layers")
	if err != nil {
		return err
	}
	if !given {
		layers = 2
	}
	c := catalog.Closure{}
	for range layers {
		c.Over = append(c.Over, catalog.Layer{Name: "cloth", Cloth: cloth})
	}
	c.Notion.Diameter = catalog.Measured{V: 20 * mm, From: catalog.Default}
	if s := q.text("needle"); s != "" {
		v, err := measure.ParseNeedleSize(s)
		if err != nil {
			return badValue("needle", s, err)
		}
		c.Needle = catalog.Opt[measure.NeedleSize]{V: v, From: catalog.Given}
	}
	g, err := q.garment(c)
	if err != nil {
		return err
	}
	if s := q.text("thread"); s != "" {
		tex, err := measure.ParseLinearDensity(s)
		if err != nil {
			return badValue("thread", s, err)
		}
		g.Closures[0].Thread = "thread"
		g.ThreadNames = []string{"thread"}
		g.Threads = []*catalog.Thread{{
			Entry: catalog.Entry{Name: "thread"}, Fibre: q.or("fibre", "polyester"),
			Tex: catalog.Opt[measure.LinearDensity]{V: tex, From: catalog.Given},
		}}
	} else if q.has("fibre") {
		return usagef("--fibre is that of the thread: --thread is missing").write(`--thread "Tex 40"`)
	}
	p := rules.PlanOnly(g, "needle-cloth", "needle-thread", "thread-cloth")
	k := &p.Closures[0]
	n, t, st := &k.Needle, &k.Thread, &k.Stitch

	a := &answer{head: fmt.Sprintf("Use needle %s, %s point, and a stitch of %s.", n.NM, n.Point, st.Length.ShortThin())}
	if n.Given {
		a.head = fmt.Sprintf("Needle %s, %s point, with a stitch of %s.", n.NM, n.Point, st.Length.ShortThin())
	}
	guess := ""
	if k.Over.Estimated {
		guess = ", by estimate from the weight"
	}
	thread := "taken, none was given"
	if t.Given {
		thread = "as given"
	}
	a.rows = [][]string{
		{"cloth", fmt.Sprintf("%s; %d layers make %s%s, %s under the foot", n.Class, layers, k.Over.Thick.TextThin(), guess, k.Over.Pressed.TextThin())},
		{"needles", fmt.Sprintf("%s to %s", n.Min, n.Max)},
		{"thread", fmt.Sprintf("%s to %s for seams and holes, %s to %s to sew buttons on, %s for top-stitching that shows", t.Min, t.Max, t.ButtonMin, t.ButtonMax, t.Topstitch)},
		{"", fmt.Sprintf("%s, %s; %s thick, %.0f %% of the blade (24 to 40 %% is good)", t.Tex.Text(), thread, t.Diameter.TextThin(), 100*n.Ratio)},
		{"stitch", fmt.Sprintf("%s to %s", st.Min.TextThin(), st.Max.TextThin())},
	}
	a.notes = append(a.notes, "Sew a sample through all the layers, slowly. A needle that strikes the plate can break and fly: protect your eyes.")
	a.json = pairs{
		{"nm_min", int(n.Min)}, {"nm_max", int(n.Max)}, {"nm", int(n.NM)}, {"us", n.NM.US()}, {"point", n.Point},
		{"class", n.Class}, {"thread_tex", t.Tex.Tex()}, {"thread_tex_min", t.Min.Tex()}, {"thread_tex_max", t.Max.Tex()},
		{"thread_of_blade", float64(int(n.Ratio*1000+0.5)) / 1000}, {"stitch_mm", sheet.MM(st.Length)},
		{"stack_mm", sheet.MM(k.Over.Thick)}, {"pressed_mm", sheet.MM(k.Over.Pressed)}, {"estimated", k.Over.Estimated},
	}
	return q.hand(a, p.Findings)
}

// cloth is the cloth that the flags describe.
func (q *quick) cloth() (*catalog.Cloth, error) {
	cloth := &catalog.Cloth{}
	if name := q.text("cloth"); name != "" {
		cat, err := q.catalog()
		if err != nil {
			return nil, err
		}
		found := cat.Cloth(name)
		if found == nil {
			var names []string
			for _, c := range cat.Cloths {
				names = append(names, c.Name)
			}
			return nil, oneOf("--cloth", name, names)
		}
		*cloth = *found
	}
	if s := q.text("weight"); s != "" {
		w, err := measure.ParseAreaWeight(s)
		if err != nil {
			return nil, badValue("weight", s, err)
		}
		cloth.Weight = catalog.Opt[measure.AreaWeight]{V: w, From: catalog.Given}
		cloth.Thickness = catalog.Measured{} // the catalogue's was that of another weight
	}
	if q.has("thickness") {
		t, err := q.measured("thickness")
		if err != nil {
			return nil, err
		}
		cloth.Thickness = t
	}
	if !cloth.Weight.Has() && !cloth.Thickness.Has() {
		return nil, usagef("--weight is missing: the needle goes by the weight of the cloth").write(`--weight "18 oz/yd2"   or   --cloth melton`)
	}
	return cloth, nil
}

// catalog is the built-in catalogue, with the files of --catalog.
func (in *call) catalog() (*catalog.Catalog, error) {
	files := in.list("catalog")
	for _, f := range files {
		if _, err := os.Stat(f); err != nil {
			return nil, &unusable{"--catalog", in.missing(f, err)}
		}
	}
	return catalog.Open(files...)
}
