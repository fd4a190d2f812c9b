package desk

import (
	"fmt"
	"os"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/sheet"
)

func needleCommand() *command {
	return &command{
		name:  "needle",
		does:  "needle, thread and stitch length for a cloth, and whether it goes under the foot",
		about: "Gives the needle sizes that the cloth asks for, and the one that suits the thread, and says whether the layers go under the foot. --cloth takes the figures of a cloth of the catalogue; flags beside it win.",
		examples: []string{
			`needle --weight "18 oz/yd2" --layers 4`,
			`needle --cloth melton --layers 3 --thickness 2.4mm --thread "Tex 60"`,
			"needle --cloth denim --layers 6 --machine walking-foot",
		},
		flags: quickFlags(slices.Concat(layersFlags("thickness"), threadFlags(), []flag{
			{name: "needle", value: "SIZE", doc: "the needle you mean to use, as 90/14: it is checked", hint: "90/14"},
		}, machineFlags())...),
		action: needle,
	}
}

// threadFlags describe the thread.
func threadFlags() []flag {
	return []flag{
		{name: "thread", value: "SIZE", doc: "the thread you mean to use, as \"Tex 40\"", hint: `"Tex 40"`},
		{name: "fibre", words: []string{"polyester", "cotton", "nylon"}, doc: "fibre of the thread", first: "polyester"},
	}
}

// putThread writes the thread.
func (q *quick) putThread() error {
	s := q.text("thread")
	q.from = append(q.from, keyFrom{"closure[0].thread", "--thread"}, keyFrom{"closure[0].needle", "--thread"})
	if s == "" {
		if q.has("fibre") {
			return usagef("--fibre is that of the thread: --thread is missing").write(`--thread "Tex 40"`)
		}
		return nil
	}
	if cat, err := q.catalog(); err != nil {
		return err
	} else if cat.Thread(s) != nil {
		q.put(".thread.thread.use", s, "--thread")
		return nil
	}
	tex, err := measure.ParseLinearDensity(s)
	if err != nil {
		return badValue("thread", s, err)
	}
	q.put(".thread.thread.tex", fmt.Sprintf("%.9g tex", tex.Tex()), "--thread")
	q.put(".thread.thread.fibre", q.or("fibre", "polyester"), "--fibre")
	return nil
}

func needle(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	layers, err := q.putLayers("thickness")
	if err != nil {
		return err
	}
	if !layers {
		return usagef("--weight is missing: the needle goes by the weight of the cloth").write(`--weight "18 oz/yd2"` + orElse + "--cloth melton")
	}
	if err := q.putMachine(); err != nil {
		return err
	}
	if err := q.putThread(); err != nil {
		return err
	}
	if s := q.text("needle"); s != "" {
		v, err := measure.ParseNeedleSize(s)
		if err != nil {
			return badValue("needle", s, err)
		}
		q.put("needle", fmt.Sprintf("NM %d", int(v)), "--needle")
	}
	// The layers are those of a hole, sewn by the machine.
	q.take("notion", map[string]any{"diameter": "15 mm", "thickness": "3 mm"})
	q.put("hole", "machine")
	p, err := q.plan()
	if err != nil {
		return err
	}
	k := &p.Closures[0]
	n, t, st, o := &k.Needle, &k.Thread, &k.Stitch, &k.Over

	a := &answer{head: fmt.Sprintf("Use needle %s, %s point, and a stitch of %s.", n.Use, n.Point, st.Length.ShortThin(q.unit))}
	if n.Given {
		a.head = fmt.Sprintf("Needle %s, %s point, with a stitch of %s.", n.NM, n.Point, st.Length.ShortThin(q.unit))
	}
	finest, thickest := plan.ThreadTakes(t.Diameter)
	if t.Given && !n.Given && (thickest == 0 || thickest < n.Min || finest > n.Max) {
		a.head = q.noNeedle(k, finest, thickest)
	}
	thick := measure.Toleranced{V: o.Thick, Tol: o.Tol}.TextThin(q.unit)
	if o.Estimated {
		thick += " by estimate"
		q.says = append(q.says, "thickness-estimated")
	}
	a.rows = [][]string{
		{"cloth", fmt.Sprintf("%s; %s make %s, %s under the foot", n.Class, text.Counted(len(o.Layers), "layer"), thick, o.Pressed.ShortThin(q.unit))},
		{"needles", fmt.Sprintf("%s to %s, with a stitch of %s to %s", n.Min, n.Max, st.Min.TextThin(q.unit), st.Max.TextThin(q.unit))},
		{"thread", fmt.Sprintf("%s to %s in seams and holes, %s to %s on buttons, %s to top-stitch", t.Min, t.Max, t.ButtonMin, t.ButtonMax, t.Topstitch)},
	}
	if t.Given {
		a.rows = append(a.rows, []string{"", fmt.Sprintf("%s takes %.0f %% of the blade (24 to 40 %% is good)", t.Tex.Text(), 100*n.Ratio)})
	}
	a.rows = append(a.rows, q.foot(p)...)
	a.say("Sew a sample through all the layers, slowly. A needle that strikes the plate can break and fly: protect your eyes.")
	a.json = pairs{
		{"nm_min", int(n.Min)}, {"nm_max", int(n.Max)}, {"nm", int(n.NM)}, {"us", n.NM.US()}, {"point", n.Point},
		{"class", n.Class}, {"thread_tex", t.Tex.Tex()}, {"thread_tex_min", t.Min.Tex()}, {"thread_tex_max", t.Max.Tex()},
		{"thread_of_blade", float64(int(n.Ratio*1000+0.5)) / 1000}, {"stitch_mm", sheet.MM(st.Length)},
		{"stack_mm", sheet.MM(o.Thick)}, {"stack_tolerance_mm", sheet.MM(o.Tol)}, {"pressed_mm", sheet.MM(o.Pressed)}, {"estimated", o.Estimated},
	}
	a.next = q.again("post")
	if s := q.text("thickness"); s != "" {
		a.next = q.again("post", "--cloth-thickness", text.Shell(s))
	}
	return q.hand(a, p)
}

// noNeedle says that no needle suits the cloth and the thread, and which
// thread does.
func (q *quick) noNeedle(k *plan.Closure, finest, thickest measure.NeedleSize) string {
	n, t := &k.Needle, &k.Thread
	if thickest == 0 {
		return fmt.Sprintf("No needle suits both: none of the usual sizes carries this thread; take %s to %s.", t.Min, t.Max)
	}
	cloth, thread := n.Min.String()+" or thicker", thickest.String()+" or finer"
	if finest > n.Max {
		cloth, thread = n.Max.String()+" or finer", finest.String()+" or thicker"
	}
	return fmt.Sprintf("No needle suits both: this cloth needs %s, this thread %s; take %s to %s.", cloth, thread, t.Min, t.Max)
}

// foot says whether the layers go under the foot.
func (q *quick) foot(p *rules.Planned) [][]string {
	o, m := &p.Closures[0].Over, &p.Garment.Machine
	goes, known := o.GoesUnder(m)
	if !known {
		return nil
	}
	whose := "the usual household machine"
	switch {
	case q.has("foot-lift"):
		whose = "yours"
	case q.has("machine"):
		whose = m.Name
	}
	lift := "lifts " + m.FootLift.V.TextThin(q.unit)
	if m.FootLiftExtra.V > m.FootLift.V {
		lift += ", held up " + m.FootLiftExtra.V.TextThin(q.unit)
	}
	says := o.Thick.ShortThin(q.unit) + " goes under it"
	if !goes {
		says = o.Thick.ShortThin(q.unit) + " does not go under it"
	}
	return [][]string{{"foot", whose + " " + lift + ": " + says}}
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
