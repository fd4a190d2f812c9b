package trial

// Lengths that are drawn at more than one place, mm.
const (
	rowsNear, rowsFar   = 10, 110 // a column of a double-breasted front, at its top and bottom
	stripNear, stripFar = 1, 60   // a strip from its edge
	zipNear, zipFar     = 2, 200  // a zip from either end
)

// Opening writes a garment with one opening, closed by one to three closures
// of any kind, and often a flap, pocket, tab or cuff.
func (m *Maker) Opening() string {
	m.Begin()
	if m.Chance(0.5) {
		m.Add("cut_for = %q", m.One("women", "men", "unisex"))
	}
	m.Add("[machine]\nuse = \"domestic\"\nbuttonhole_max = \"60 mm\"")
	if m.Chance(0.4) {
		m.SomeSizes("S", "M", "L")
	}
	m.Add("[cloth.shell]\nuse = %q\nthickness = \"%.1f mm\"", m.One("melton", "duck-10", "denim"), 0.9+1.6*m.Float64())
	m.Add("[interfacing.inner]\nuse = %q\nthickness = \"0.5 mm\"", m.One("hair-canvas", "weft-fusible-medium"))
	m.Add("[interfacing.more]\nuse = %q\nthickness = \"0.5 mm\"", m.One("silesia", "weft-fusible-medium"))
	run := "length = " + m.Sized(300, 800)
	zip := m.Chance(0.4)
	if zip {
		m.zip(run)
	}
	if !zip || m.Chance(0.7) {
		where := "front"
		if !zip && m.Chance(0.2) {
			where = m.One("flap", "pocket", "tab", "cuff", "collar")
		}
		m.fasteners("fasteners", where, "front", run)
	}
	if m.Chance(0.1) {
		m.fasteners("more", "front", "front", run)
	}
	if m.Chance(0.2) {
		m.fasteners("small", m.One("flap", "pocket", "tab", "cuff"), "", "length = "+m.Sized(60, 180))
	}
	return m.String()
}

func (m *Maker) zip(run string) {
	m.Add("[[closure]]\nname = \"zip\"\nopening = \"front\"\nfastener = \"zip\"\nover = [\"shell\", \"shell\"]")
	m.Add("[closure.notion]\nnumber = %d\nopening = \"separating\"", 3+m.IntN(8))
	if m.Chance(0.8) {
		m.Add("chain = \"%d mm\"", 4+m.IntN(8))
	}
	if m.Chance(0.8) {
		m.Add("tape = \"%d mm\"", 8+m.IntN(14))
	}
	if m.Chance(0.3) {
		m.Add("[closure.flap]\nwidth = %s", m.Length(5, 70))
	}
	if m.Chance(0.6) {
		m.Add("[closure.stand]")
		if m.Chance(0.5) {
			m.Add("construction = %q", m.One("faced", "fly"))
		}
		if m.Chance(0.4) {
			m.Add("finished = %s", m.Length(2, 60))
		}
		if m.Chance(0.5) {
			m.Add("seam = %s", m.Length(5, 25))
		}
		if m.Chance(0.4) {
			m.Add("facing = %s", m.Length(20, 100))
		}
	}
	m.Add("[closure.run]\n%s", run)
	if m.Chance(0.3) {
		m.Add("first = %s", m.Length(zipNear, zipFar))
	}
	if m.Chance(0.3) {
		m.Add("last = %s", m.Length(zipNear, zipFar))
	}
}

func (m *Maker) fasteners(name, where, opening, run string) {
	kind := m.One("button", "button", "button", "tack-button", "snap", "toggle", "toggle", "frog", "hook", "eyelet", "rivet")
	m.Add("[[closure]]\nname = %q\nwhere = %q\nfastener = %q", name, where, kind)
	if opening != "" {
		m.Add("opening = %q", opening)
	}
	m.Add("over = [%s]", m.One(`"shell", "inner", "shell"`, `"shell", "inner", "shell"`, `"shell", "shell"`, `"shell", "inner", "more", "shell"`))
	if m.Chance(0.2) {
		m.Add("under = [%s]", m.One(`"shell", "inner", "shell"`, `"shell", "shell"`))
	}
	lap := m.One("", "", "", "single", "double", "edge")
	flap := m.Chance(0.3)
	if lap != "" {
		m.Add("lap = %q", lap)
	}
	holed := kind == "button" || kind == "tack-button"
	if holed {
		if m.Chance(0.6) {
			m.Add("hole = %q", m.One("machine", "keyhole", "bound", "hand", "loop"))
		}
		if m.Chance(0.5) {
			m.Add("direction = %q", m.One("across", "along"))
		}
		if m.Chance(0.2) {
			m.Add("hole_length = %s", m.Length(12, 50))
		}
		if m.Chance(0.2) {
			m.Add("hole_centred = true")
		}
	}
	if (kind == "toggle" || kind == "frog") && m.Chance(0.6) {
		m.Add("inset = %s", m.Length(1, 110))
	}
	if kind != "button" && m.Chance(0.2) {
		m.Add("edge = %s", m.Length(3, 40))
	}
	if kind == "button" && m.Chance(0.2) {
		m.Add("backing = \"10 mm\"")
	}
	m.Add("[closure.notion]")
	switch kind {
	case "toggle":
		l := 30 + m.IntN(50)
		m.Add("length = \"%d mm\"\nwidth = \"%d mm\"\nthickness = \"12 mm\"", l, 8+m.IntN(10))
		if m.Chance(0.7) {
			m.Add("short_end = \"%d mm\"", l/4+m.IntN(l/4))
		}
	case "frog":
		m.Add("knot = \"%d mm\"\ncord = \"4 mm\"", 10+m.IntN(12))
	case "hook":
		m.Add("length = \"%d mm\"\nwidth = \"%d mm\"\nkind = \"hook-and-eye\"", 6+m.IntN(12), 4+m.IntN(6))
	case "eyelet":
		m.Add("inside = \"5 mm\"\nflange = \"%d mm\"", 8+m.IntN(8))
	case "rivet":
		m.Add("diameter = \"%d mm\"\npost = \"6 mm\"", 6+m.IntN(6))
	case "snap":
		m.Add("diameter = \"%d mm\"\npost = \"5 mm\"\npost_width = \"4 mm\"", 9+m.IntN(10))
	default:
		m.Add("diameter = \"%d mm\"\nthickness = \"%d mm\"", 10+m.IntN(30), 2+m.IntN(5))
	}
	if flap {
		m.Add("[closure.flap]\nwidth = %s", m.Length(40, 90))
		if m.Chance(0.7) {
			m.Add("inset = %s", m.Length(1, 38))
		}
	}
	if m.Chance(0.7) {
		m.Add("[closure.stand]\nconstruction = %q", m.One("faced", "faced", "folded", "band", "fly"))
		switch m.IntN(5) {
		case 0, 1:
			m.Add("finished = %s", m.Length(8, 150))
		case 2:
			m.Add("extension = %s", m.Length(20, 180))
		case 3:
			m.Add("band = %s", m.Length(16, 90))
		}
		if m.Chance(0.5) {
			m.Add("facing = %s", m.Length(10, 160))
		}
		if m.Chance(0.5) {
			m.Add("strip = %s", m.Length(15, 260))
		}
		if m.Chance(0.2) {
			m.Add("strip_from_edge = %s", m.Length(stripNear, stripFar))
		}
		if m.Chance(0.2) {
			from := ""
			if m.Chance(0.3) {
				from = ", from_edge = " + m.Length(stripNear, stripFar)
			}
			m.Add("strips = [{ name = \"more\", width = %s%s }]", m.Length(10, 200), from)
		}
		if m.Chance(0.2) {
			m.Add("topstitch = %s", m.Length(1, 30))
		}
		switch m.IntN(8) {
		case 0:
			m.Add("tuck = %s", m.Length(3, 10))
		case 1:
			m.Add("concealed = true")
		}
	}
	if lap == "double" {
		m.Add("[closure.rows]")
		if m.Chance(0.8) {
			if m.Chance(0.5) {
				m.Add("distance = %s", m.Length(rowsNear, rowsFar))
			} else {
				m.Add("top = %s\nbottom = %s", m.Length(rowsNear, rowsFar), m.Length(rowsNear, rowsFar))
			}
		}
		if m.Chance(0.5) {
			m.Add("working = %d", 1+m.IntN(4))
		}
		m.Add("inner = %v\nshow_holes = %v", m.Chance(0.5), m.Chance(0.5))
	}
	far := 1.0
	if opening == "" {
		far = 0.25 // short runs
	}
	m.Add("[closure.run]\n%s\ncount = %d", run, 1+m.IntN(6))
	if m.Chance(0.4) {
		m.Add("first = %s", m.Length(1, 90*far))
	}
	if m.Chance(0.4) {
		m.Add("last = %s", m.Length(1, 120*far))
	}
	if m.Chance(0.3) {
		m.Add("hem = %s", m.Length(5, 50*far))
	}
}
