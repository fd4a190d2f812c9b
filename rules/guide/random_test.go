package guide

import "placketeer/rules/trial"

// randomGarment writes a garment, invented, with openings of every kind.
func randomGarment(seed uint64) string {
	m := &maker{trial.New(seed, 1911)}
	m.Begin()
	m.Add("cut_for = %q", m.One("women", "men", "unisex"))
	if m.Chance(0.5) {
		m.SomeSizes("S", "M", "L")
	}
	m.Add("[cloth.shell]\nuse = %q\nrepeat = { along = \"40 mm\", across = \"30 mm\" }", m.One("melton", "duck-10", "denim"))
	m.Add("[interfacing.inner]\nuse = %q", m.One("hair-canvas", "woven-sewn-medium"))
	m.front(seed)
	if m.Chance(0.4) {
		m.closure("tab", m.One("flap", "pocket", "tab", "cuff", "strap"), m.One("button", "snap", "tack-button"))
		m.stand(0, 0)
		m.Add("[closure.run]\nlength = %s\ncount = %d", m.Length(60, 180), 1+m.IntN(2))
	}
	return m.String()
}

type maker struct{ *trial.Maker }

var goods = map[string][]string{
	"button":      {"horn-24", "horn-36", "wood-60", "polyester-14", "metal-dome-30", "insignia-27"},
	"snap":        {"prong-snap-14", "ring-spring-15", "sewn-snap-14", "magnet-19"},
	"tack-button": {"tack-27-short", "tack-17mm-nail-8"},
	"rivet":       {"double-cap-9-8"},
	"eyelet":      {"eyelet-5-5mm", "sail-eyelet-5-2mm"},
	"toggle":      {"toggle-horn-50", "toggle-wood-40", "toggle-resin-50"},
	"frog":        {"frog-small", "frog-large"},
	"hook":        {"coat-hook-25", "hook-eye-10-5mm", "hook-bar-13"},
	"zip":         {"coil-5-separating", "moulded-8-two-way", "metal-5-closed", "coil-3-closed"},
}

var kinds = []string{"button", "button", "button", "snap", "tack-button", "rivet", "eyelet", "toggle", "frog", "hook", "zip"}

// closure begins a closure.
func (m *maker) closure(name, where, kind string) {
	layers := []string{`"shell", "inner", "shell"`, `"shell", "shell"`, `"shell", "inner"`}
	m.Add("[[closure]]\nname = %q\nwhere = %q\nuse = %q\nover = [%s]\nunder = [%s]", name, where, m.One(goods[kind]...), m.One(layers...), m.One(layers...))
	if kind == "button" || kind == "tack-button" {
		m.Add("hole = %q\ndirection = %q", m.One("machine", "keyhole", "bound", "hand", "loop"), m.One("across", "along"))
	}
	if kind == "button" && m.Chance(0.3) {
		m.Add("backing = \"11 mm\"")
	}
}

func (m *maker) stand(lo, hi float64) {
	m.Add("[closure.stand]\nconstruction = %q", m.One("faced", "faced", "folded", "band", "fly"))
	if hi > 0 && m.Chance(0.6) {
		m.Add("finished = %s", m.Length(lo, hi))
	}
	if m.Chance(0.5) {
		m.Add("facing = %s", m.Length(30, 120))
	}
	if m.Chance(0.3) {
		m.Add("turn_under = \"10 mm\"")
	}
	if m.Chance(0.3) {
		m.Add("topstitch = \"6 mm\"")
	}
}

// run writes a run that all closures of an opening share.
func (m *maker) run(run string, count int) {
	m.Add("[closure.run]\nlength = %s", run)
	if count > 0 {
		m.Add("count = %d\nfirst = %s\nlast = %s", count, m.Length(4, 40), m.Length(4, 130))
	}
}

func (m *maker) front(seed uint64) {
	run := m.Sized(500, 700)
	count := 2 + m.IntN(4)
	switch seed % 4 {
	case 0: // double-breasted
		m.closure("front", "front", m.One("button", "button", "button", "snap"))
		m.Add("lap = \"double\"")
		m.stand(110, 130)
		m.run(run, count)
		if m.Chance(0.3) {
			m.Add("hem = \"30 mm\"")
		}
		m.Add("[closure.rows]")
		if m.Chance(0.5) {
			m.Add("distance = %s", m.Length(50, 80))
		} else {
			m.Add("top = %s\nbottom = %s", m.Length(65, 80), m.Length(40, 60))
		}
		if m.Chance(0.6) {
			m.Add("working = %d", 1+m.IntN(count))
		}
		m.Add("inner = %v\nshow_holes = %v", m.Chance(0.5), m.Chance(0.5))
	case 1: // two closures of one opening
		if m.Chance(0.5) {
			m.closure("zip", "front", "zip")
			m.Add("opening = \"front\"\nbehind = \"flap\"")
			m.stand(0, 0)
			m.run(run, 0)
			m.closure("flap", "front", m.One("snap", "button"))
			m.Add("opening = \"front\"\n[closure.flap]\nwidth = %s", m.Length(50, 70))
			if m.Chance(0.5) {
				m.Add("inset = %s", m.Length(28, 34))
			}
			m.stand(0, 0)
			m.run(run, count)
			return
		}
		m.closure("toggles", "front", "toggle")
		m.Add("opening = \"front\"\ncord = \"5 mm\"")
		if m.Chance(0.7) {
			m.Add("inset = %s", m.Length(60, 80))
		}
		m.stand(35, 50)
		m.run(run, count)
		m.closure("zip", "front", "zip")
		m.Add("opening = \"front\"\nbehind = \"toggles\"")
		m.stand(0, 0)
		m.run(run, 0)
	default:
		kind := kinds[int(seed/4*2+seed%2)%len(kinds)]
		m.closure("front", m.One("front", "front", "fly"), kind)
		if m.Chance(0.3) {
			m.Add("lap = \"edge\"")
		}
		if m.Chance(0.3) {
			m.Add("lap_over = %q", m.One("left", "right"))
		}
		m.stand(15, 50)
		if kind == "zip" {
			m.run(run, 0)
		} else {
			m.run(run, count)
		}
		if m.Chance(0.3) {
			m.Add("anchor = [{ name = \"bust\", at = \"200 mm\", within = \"100 mm\" }]")
		}
		if m.Chance(0.3) {
			m.Add("clear = [{ name = \"belt\", from = \"300 mm\", to = \"340 mm\" }]")
		}
		if m.Chance(0.4) {
			m.Add("[closure.check]\ncloth = \"shell\"\nover = \"10 mm\"\nunder = \"5 mm\"\nover_along = \"12 mm\"\nunder_along = \"12 mm\"")
		}
	}
}
