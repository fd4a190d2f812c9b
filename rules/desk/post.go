package desk

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
	"placketeer/rules/sheet"
)

func postCommand() *command {
	return &command{
		name:  "post",
		does:  "how long a post, nail or rivet these layers take",
		about: "Gives the length of post for the layers as they are pressed when it is set. Squeeze a folded stack of the real cloth and measure it (--pressed); --use says whether an entry of the catalogue fits.",
		examples: []string{
			"post --pressed 5mm",
			"post --cloth denim --layers 4 --kind prong",
			"post --pressed 4mm --use tack-17mm-nail-8",
		},
		flags: quickFlags(slices.Concat([]flag{
			{name: "kind", words: []string{"tack", "prong", "post", "semi-tubular", "solid", "double-cap"}, doc: "how it is fixed: a tack button's nail, a prong snap, a post snap, a kind of rivet", first: "tack"},
			{name: "use", value: "NAME", doc: "hardware of the catalogue", hint: "tack-17mm-nail-8"},
			lengthFlagOf("width", 20*mm, "1/8in", "width of the shank of a rivet"),
			lengthFlagOf("pressed", 100*mm, "5mm", "the layers squeezed together, as measured"),
			lengthFlagOf("over", 100*mm, "5mm", "the layers lying free"),
		}, layersFlags("cloth-thickness"))...),
		action: post,
	}
}

func post(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	use, err := q.named("use", entriesOf(catalog.TackButton, catalog.Snap, catalog.Rivet))
	if err != nil {
		return err
	}
	kind := q.or("kind", "tack")
	switch {
	case use != "" && q.has("kind"):
		return usagef("--use says what kind it is").write("--use %s", use)
	case use != "":
		q.put("use", use, "--use")
	case (kind == "semi-tubular" || kind == "solid") && !q.has("width"):
		return q.missing("width")
	default:
		q.putKind(kind)
	}
	if q.has("width") {
		if err := q.putLengths(map[string]string{"width": "notion.post_width"}); err != nil {
			return err
		}
	}
	layers := false
	if q.has("pressed") {
		layers = true
		if err := q.putLengths(map[string]string{"pressed": ".cloth.layers.thickness"}); err != nil {
			return err
		}
		q.put(".cloth.layers.pressed", 1, "--pressed")
		q.put("over", []string{"layers"}, "--pressed")
	} else if layers, err = q.anyLayers(); err != nil {
		return err
	}
	if !layers {
		return q.missing("pressed")
	}
	q.notes = []string{"hardware-post", "hardware-grip"}
	p, err := q.plan()
	if err != nil {
		return err
	}
	k, u := &p.Closures[0], p.Garment.Units
	if q.has("pressed") || q.has("over") { // squeezed together: nobody said how many
		for i := range k.Hardware.Sides {
			k.Hardware.Sides[i].Layers = 0
		}
	}
	h := &k.Hardware
	if !h.Needed {
		return usagef("%s is sewn on and has no post", use)
	}
	thin, thick := h.Stack()
	a := &answer{}
	switch {
	case h.PostRule != "":
		a.head = "Take a post of " + measure.TextThinSpan(h.PostMin, h.PostMax, q.unit) + "."
		a.rows = append(a.rows, []string{"post", h.PostRule})
	case h.GripGiven:
		a.head = use + " grips " + measure.TextThinSpan(h.GripMin, h.GripMax, q.unit) + "."
	default:
		a.head = "No rule for this post is known: ask the maker for the range that it grips."
	}
	fits := func(f plan.Fit) string {
		if f == plan.Fits {
			return " fits these layers: "
		}
		return " does not fit these layers: "
	}
	switch {
	case use == "":
	case h.GripGiven:
		a.head = use + fits(plan.FitOf(thick, h.GripMin, h.GripMax)) + "it grips " + measure.TextThinSpan(h.GripMin, h.GripMax, q.unit) + "."
	case h.Post > 0 && h.PostRule != "":
		a.head = use + fits(plan.FitOf(h.Post, h.PostMin, h.PostMax)) + "its post is " + h.Post.TextThin(q.unit) + ", and they take " + measure.TextThinSpan(h.PostMin, h.PostMax, q.unit) + "."
	}
	stack := thick.TextThin(q.unit)
	if thin != thick {
		stack = measure.TextThinSpan(thin, thick, q.unit)
	}
	if k.Under.Estimated {
		stack = measure.Toleranced{V: thick, Tol: k.Under.PressedBasis().Tol}.TextThin(q.unit) + ", by estimate from the weight,"
		q.says = append(q.says, "thickness-estimated")
	}
	a.rows = append(a.rows, []string{"layers", stack + " pressed"})
	if h.Punch > 0 {
		a.rows = append(a.rows, []string{"punch", h.Punch.TextThin(q.unit)})
	}
	if !q.has("pressed") {
		a.say("How far the layers give is a usual figure: squeeze a folded stack, measure it and give --pressed.")
	}
	a.say("Make a test set in the same layers, with eye protection and a mallet that is not of steel; the maker's own range wins.")
	a.json = pairs{
		{"attach", h.Attach}, {"pressed_mm", sheet.MM(thick)}, {"post_min_mm", maybe(h.PostMin)}, {"post_max_mm", maybe(h.PostMax)},
		{"grip_min_mm", maybe(h.GripMin)}, {"grip_max_mm", maybe(h.GripMax)}, {"punch_mm", maybe(h.Punch)}, {"rule", h.PostRule}, {"units", u.String()},
	}
	a.next = "catalog --kind " + k.Closure.Notion.Kind
	return q.hand(a, p)
}

// putKind writes hardware of a kind of which only the post is asked.
func (q *quick) putKind(kind string) {
	q.take("notion.diameter", "17 mm")
	switch kind {
	case "tack":
		q.put("fastener", catalog.TackButton, "--kind")
	case "prong", "post":
		q.put("fastener", catalog.Snap, "--kind")
		q.put("notion.attach", kind, "--kind")
	default:
		q.put("fastener", catalog.Rivet, "--kind")
		q.put("notion.kind", kind, "--kind")
	}
}
