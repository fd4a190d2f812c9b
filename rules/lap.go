package rules

import "placketeer/catalog"

var lapRules = []*Rule{
	{
		Name: "lap-side", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "which side laps over",
		Formula: "women's: the wearer's right over left; men's, and mostly unisex: left over right",
		Why:     "The holes go on the side that lies on top; marked on the wrong front, both fronts are spoilt.",
		Sources: []string{
			"sewing and design professionals' standards, p. 24",
			"IASRI e-course: women's buttons on the left front, men's on the right",
		},
		Others: "one teaching article prints it the other way round",
		Check: func(x *Context) {
			over := x.C.LapOver
			if over == "" || x.G.CutFor == "" || x.C.Lap == "edge" || x.C.Where != "" && x.C.Where != "front" && x.C.Where != "fly" {
				return
			}
			if want := catalog.UsualLap(x.G.CutFor); over != want {
				path := x.at("lap_over")
				x.report(Note, path, Numbers{}, "the %s front lies on top here; on %s it is usually the %s: set lap_over = %q, or keep it if you mean it", over, cutForWords[x.G.CutFor], want, want).Line("the %s front lies on top; on %s it is usually the %s", over, cutForWords[x.G.CutFor], want)
			}
		},
		Touches: []string{"closure.*.lap_over"},
		Propose: func(x *Context, f *Finding) []Change {
			want := catalog.UsualLap(x.G.CutFor)
			return []Change{{With: set(x, "lap_over", want), Says: "let the " + want + " front lie on top", Cost: 1}}
		},
	},
	{
		Name: "edge-unshared", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "two closures of one edge want one opening",
		Formula: "two closures of the front, neither with opening, nor on several pieces: each counts as an opening of its own, with its own edge",
		Why:     "Only within an opening is it seen that a zip, its flap and the fasteners beside it lie clear of each other, and that they share one edge.",
		Sources: []string{"geometry"},
		garment: true,
		Check: func(x *Context) {
			first := (*catalog.Closure)(nil)
			for i := range x.G.Closures {
				c := &x.G.Closures[i]
				switch {
				case c.Opening != "" || c.Pieces > 1 || c.Where != "" && c.Where != "front":
				case first == nil:
					first = c
				default:
					x.report(Note, place{i, "opening"}, Numbers{}, "%s and %s count as two openings, each with an edge of its own: where they close the same edge, give both opening = %q; else say where it lies", first.Name, c.Name, first.Name).Line("with %s on one edge? then give both one opening", first.Name).Closure = c.Name
				}
			}
		},
	},
}

var cutForWords = map[string]string{"women": "women's clothes", "men": "men's clothes", "unisex": "clothes for both"}
