package guide

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// randomGarment writes a garment, invented, with openings of every kind.
func randomGarment(seed uint64) string {
	m := &maker{Rand: rand.New(rand.NewPCG(seed, 1911)), mm: seed%2 == 0}
	units := "in"
	if m.mm {
		units = "mm"
	}
	m.add("garment = \"Quay coat %d, invented\"\nunits = %q\ncut_for = %q", seed, units, m.one("women", "men", "unisex"))
	if m.chance(0.5) {
		m.sizes = []string{"S", "M", "L"}[:2+m.IntN(2)]
		m.add("[sizes]\nnames = [\"%s\"]", strings.Join(m.sizes, `", "`))
	}
	m.add("[cloth.shell]\nuse = %q\nrepeat = { along = \"40 mm\", across = \"30 mm\" }", m.one("melton", "duck-10", "denim"))
	m.add("[interfacing.inner]\nuse = %q", m.one("hair-canvas", "woven-sewn-medium"))
	m.front(seed)
	if m.chance(0.4) {
		m.closure("tab", m.one("flap", "pocket", "tab", "cuff", "strap"), m.one("button", "snap", "tack-button"))
		m.stand(0, 0)
		m.add("[closure.run]\nlength = %s\ncount = %d", m.length(60, 180), 1+m.IntN(2))
	}
	return m.String()
}

type maker struct {
	*rand.Rand
	strings.Builder
	mm    bool
	sizes []string
}

func (m *maker) add(format string, args ...any) { fmt.Fprintf(m, format+"\n", args...) }

func (m *maker) chance(p float64) bool { return m.Float64() < p }

func (m *maker) one(words ...string) string { return words[m.IntN(len(words))] }

// length is one between lo and hi mm, in the garment's units.
func (m *maker) length(lo, hi float64) string {
	x := lo + m.Float64()*(hi-lo)
	if m.mm {
		return fmt.Sprintf("\"%.0f mm\"", x)
	}
	return fmt.Sprintf("\"%d/8 in\"", max(1, int(x/25.4*8)))
}

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
	m.add("[[closure]]\nname = %q\nwhere = %q\nuse = %q\nover = [%s]\nunder = [%s]", name, where, m.one(goods[kind]...), m.one(layers...), m.one(layers...))
	if kind == "button" || kind == "tack-button" {
		m.add("hole = %q\ndirection = %q", m.one("machine", "keyhole", "bound", "hand", "loop"), m.one("across", "along"))
	}
	if kind == "button" && m.chance(0.3) {
		m.add("backing = \"11 mm\"")
	}
}

func (m *maker) stand(lo, hi float64) {
	m.add("[closure.stand]\nconstruction = %q", m.one("faced", "faced", "folded", "band", "fly"))
	if hi > 0 && m.chance(0.6) {
		m.add("finished = %s", m.length(lo, hi))
	}
	if m.chance(0.5) {
		m.add("facing = %s", m.length(30, 120))
	}
	if m.chance(0.3) {
		m.add("turn_under = \"10 mm\"")
	}
	if m.chance(0.3) {
		m.add("topstitch = \"6 mm\"")
	}
}

// run writes a run that all closures of an opening share.
func (m *maker) run(run string, count int) {
	m.add("[closure.run]\nlength = %s", run)
	if count > 0 {
		m.add("count = %d\nfirst = %s\nlast = %s", count, m.length(4, 40), m.length(4, 130))
	}
}

func (m *maker) front(seed uint64) {
	run := m.length(500, 700)
	if len(m.sizes) > 0 {
		var by []string
		for _, s := range m.sizes {
			by = append(by, s+" = "+m.length(500, 700))
		}
		run = "{ " + strings.Join(by, ", ") + " }"
	}
	count := 2 + m.IntN(4)
	switch seed % 4 {
	case 0: // double-breasted
		m.closure("front", "front", m.one("button", "button", "button", "snap"))
		m.add("lap = \"double\"")
		m.stand(110, 130)
		m.run(run, count)
		if m.chance(0.3) {
			m.add("hem = \"30 mm\"")
		}
		m.add("[closure.rows]")
		if m.chance(0.5) {
			m.add("distance = %s", m.length(50, 80))
		} else {
			m.add("top = %s\nbottom = %s", m.length(65, 80), m.length(40, 60))
		}
		if m.chance(0.6) {
			m.add("working = %d", 1+m.IntN(count))
		}
		m.add("inner = %v\nshow_holes = %v", m.chance(0.5), m.chance(0.5))
	case 1: // two closures of one opening
		if m.chance(0.5) {
			m.closure("zip", "front", "zip")
			m.add("opening = \"front\"\nbehind = \"flap\"")
			m.stand(0, 0)
			m.run(run, 0)
			m.closure("flap", "front", m.one("snap", "button"))
			m.add("opening = \"front\"\n[closure.flap]\nwidth = %s", m.length(50, 70))
			if m.chance(0.5) {
				m.add("inset = %s", m.length(28, 34))
			}
			m.stand(0, 0)
			m.run(run, count)
			return
		}
		m.closure("toggles", "front", "toggle")
		m.add("opening = \"front\"\ncord = \"5 mm\"")
		if m.chance(0.7) {
			m.add("inset = %s", m.length(60, 80))
		}
		m.stand(35, 50)
		m.run(run, count)
		m.closure("zip", "front", "zip")
		m.add("opening = \"front\"\nbehind = \"toggles\"")
		m.stand(0, 0)
		m.run(run, 0)
	default:
		kind := kinds[int(seed/4*2+seed%2)%len(kinds)]
		m.closure("front", m.one("front", "front", "fly"), kind)
		if m.chance(0.3) {
			m.add("lap = \"edge\"")
		}
		if m.chance(0.3) {
			m.add("lap_over = %q", m.one("left", "right"))
		}
		m.stand(15, 50)
		if kind == "zip" {
			m.run(run, 0)
		} else {
			m.run(run, count)
		}
		if m.chance(0.3) {
			m.add("anchor = [{ name = \"bust\", at = \"200 mm\", within = \"100 mm\" }]")
		}
		if m.chance(0.3) {
			m.add("clear = [{ name = \"belt\", from = \"300 mm\", to = \"340 mm\" }]")
		}
		if m.chance(0.4) {
			m.add("[closure.check]\ncloth = \"shell\"\nover = \"10 mm\"\nunder = \"5 mm\"\nover_along = \"12 mm\"\nunder_along = \"12 mm\"")
		}
	}
}
