package trial

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// sample is what many random garments have, and how long: by who has it (any
// fastener, or those of a sort) and what.
type sample struct {
	n    map[string]int
	mm   map[string][2]float64 // least and most, of garments in mm
	inch map[string][2]float64 // the same, mm, of those in inches
	ints map[string]map[int]bool
	word map[string]map[string]int
}

// sampled are so many garments, each with a seed of its own.
func sampled(t *testing.T, garments uint64) *sample {
	t.Helper()
	s := &sample{map[string]int{}, map[string][2]float64{}, map[string][2]float64{}, map[string]map[int]bool{}, map[string]map[string]int{}}
	for seed := range garments {
		if err := s.read(New(seed, 5).Opening()); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
	}
	return s
}

// pair is a key of a closure and its value.
type pair struct{ key, value string }

// read adds one garment.
func (s *sample) read(text string) error {
	var head []pair
	closures := [][]pair{}
	section, at := "", &head
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		key, value, is := strings.Cut(line, " = ")
		switch {
		case line == "[[closure]]":
			closures, section = append(closures, nil), ""
			at = &closures[len(closures)-1]
		case !is && strings.HasPrefix(line, "["):
			section = strings.TrimPrefix(strings.Trim(line, "[]"), "closure.") + "."
			*at = append(*at, pair{section, ""})
		case !is:
			return fmt.Errorf("%q is no key", line)
		default:
			*at = append(*at, pair{section + key, value})
		}
	}
	in := "mm"
	for _, p := range head {
		if p.key == "units" {
			in = strings.Trim(p.value, `"`)
		}
	}
	if err := s.add([]string{"garment"}, head, in); err != nil {
		return err
	}
	for _, c := range closures {
		var who []string
		kind, where, name := "", "", ""
		for _, p := range c {
			switch v := strings.Trim(p.value, `"`); p.key {
			case "fastener":
				kind = v
			case "name":
				name = v
			case "where":
				where = v
			case "lap":
				if v == "double" {
					who = append(who, "double")
				}
			}
		}
		who = append(who, kind)
		if name != kind {
			who = append(who, name)
		}
		if kind != "zip" {
			who = append(who, "any")
		}
		switch kind {
		case "button", "tack-button":
			who = append(who, "holed")
		case "toggle", "frog":
			who = append(who, "corded")
		}
		if kind != "button" && kind != "zip" {
			who = append(who, "no button")
		}
		if name != "small" && kind != "zip" {
			who = append(who, "long")
		}
		if name == "fasteners" {
			s.count("fasteners "+map[bool]string{true: "at the front", false: "elsewhere"}[where == "front"], "")
		}
		if err := s.add(who, c, in); err != nil {
			return err
		}
	}
	names := make([]string, len(closures))
	for i, c := range closures {
		names[i] = strings.Trim(c[0].value, `"`)
	}
	s.count("closures "+strings.Join(names, ", "), "")
	return nil
}

func (s *sample) count(key, word string) {
	s.n[key]++
	if word != "" {
		if s.word[key] == nil {
			s.word[key] = map[string]int{}
		}
		s.word[key][word]++
	}
}

// add adds the keys of one garment or closure for each of those it belongs to.
func (s *sample) add(who []string, pairs []pair, in string) error {
	for _, w := range who {
		s.n[w]++
		for _, p := range pairs {
			if err := s.one(w+" "+p.key, p.value, in); err != nil {
				return err
			}
		}
	}
	return nil
}

func (s *sample) one(key, value, in string) error {
	if value == "" {
		s.n[key]++
		return nil
	}
	if n, err := strconv.Atoi(value); err == nil {
		s.n[key]++
		if s.ints[key] == nil {
			s.ints[key] = map[int]bool{}
		}
		s.ints[key][n] = true
		return nil
	}
	if inside, is := strings.CutPrefix(value, "[{ "); is { // a further strip
		s.n[key]++
		for part := range strings.SplitSeq(strings.TrimSuffix(inside, " }]"), ", ") {
			k, v, _ := strings.Cut(part, " = ")
			if err := s.one(key+"."+k, v, in); err != nil {
				return err
			}
		}
		return nil
	}
	if inside, is := strings.CutPrefix(value, "{ "); is { // by size
		s.count(key, "by size")
		for part := range strings.SplitSeq(strings.TrimSuffix(inside, " }"), ", ") {
			if err := s.length(key, part[strings.Index(part, "=")+2:], in); err != nil {
				return err
			}
		}
		return nil
	}
	word := strings.Trim(value, `"`)
	if strings.HasSuffix(word, " mm") || strings.HasSuffix(word, "/16 in") {
		s.count(key, "for all")
		return s.length(key, value, in)
	}
	s.count(key, word)
	return nil
}

func (s *sample) length(key, value, in string) error {
	word := strings.Trim(value, `"`)
	to, unit := s.mm, " mm"
	if strings.HasSuffix(word, "/16 in") {
		if to, unit = s.inch, "/16 in"; in != "in" {
			return fmt.Errorf("%s in a garment in %s", value, in)
		}
	}
	l, err := strconv.ParseFloat(strings.TrimSuffix(word, unit), 64)
	if err != nil {
		return err
	}
	if unit != " mm" {
		l *= 25.4 / 16
	}
	ends, has := to[key]
	if !has {
		ends = [2]float64{l, l}
	}
	to[key] = [2]float64{min(ends[0], l), max(ends[1], l)}
	return nil
}

// often fails where so many of all is not what a chance comes to, within three
// and a half times what a binomial count strays: of 2000 right counts one is as far off.
func often(t *testing.T, what string, n, of int, chance float64) {
	t.Helper()
	want := chance * float64(of)
	if off := math.Abs(float64(n) - want); of == 0 || off > 3.5*math.Sqrt(want*(1-chance)) {
		t.Errorf("%s: %d of %d, want %.0f", what, n, of, want)
	}
}

// Whoever tests with random garments tests what is in them. So the maker draws
// every length to within a millimetre of both its ends, and never beyond, every
// number of a range, and every key as often as it is said here: what is rare (a
// strip from its edge, a tuck) often enough for 60 garments to have some.
func TestWhatIsDrawn(t *testing.T) {
	s := sampled(t, 20_000)
	for _, r := range []struct {
		who, key, of string // of those who have this key, or of all who
		chance       float64
		lo, hi       float64 // mm; none: 0, 0
	}{
		{"garment", "cut_for", "", 0.5, 0, 0}, {"garment", "sizes.", "", 0.4, 0, 0},
		{"garment", "cloth.shell.thickness", "", 1, 0.9, 2.5},

		{"zip", "flap.width", "", 0.3, 5, 70},
		{"zip", "notion.chain", "", 0.8, 4, 11}, {"zip", "notion.tape", "", 0.8, 8, 21},
		{"zip", "stand.", "", 0.6, 0, 0}, {"zip", "stand.construction", "stand.", 0.5, 0, 0},
		{"zip", "stand.finished", "stand.", 0.4, 2, 60}, {"zip", "stand.seam", "stand.", 0.5, 5, 25}, {"zip", "stand.facing", "stand.", 0.4, 20, 100},
		{"zip", "run.length", "", 1, 300, 800}, {"zip", "run.first", "", 0.3, 2, 200}, {"zip", "run.last", "", 0.3, 2, 200},

		{"any", "under", "", 0.2, 0, 0}, {"any", "lap", "", 0.5, 0, 0},
		{"holed", "hole", "", 0.6, 0, 0}, {"holed", "direction", "", 0.5, 0, 0}, {"holed", "hole_length", "", 0.2, 12, 50}, {"holed", "hole_centred", "", 0.2, 0, 0},
		{"corded", "inset", "", 0.6, 1, 110}, {"no button", "edge", "", 0.2, 3, 40}, {"button", "backing", "", 0.2, 10, 10},
		{"any", "flap.", "", 0.3, 0, 0}, {"any", "flap.width", "flap.", 1, 40, 90}, {"any", "flap.inset", "flap.", 0.7, 1, 38},

		{"any", "stand.", "", 0.7, 0, 0},
		{"any", "stand.finished", "stand.", 0.4, 8, 150}, {"any", "stand.extension", "stand.", 0.2, 20, 180}, {"any", "stand.band", "stand.", 0.2, 16, 90},
		{"any", "stand.facing", "stand.", 0.5, 10, 160}, {"any", "stand.strip", "stand.", 0.5, 15, 260}, {"any", "stand.strip_from_edge", "stand.", 0.2, 1, 60},
		{"any", "stand.strips", "stand.", 0.2, 0, 0}, {"any", "stand.strips.width", "stand.strips", 1, 10, 200}, {"any", "stand.strips.from_edge", "stand.strips", 0.3, 1, 60},
		{"any", "stand.topstitch", "stand.", 0.2, 1, 30}, {"any", "stand.tuck", "stand.", 0.125, 3, 10}, {"any", "stand.concealed", "stand.", 0.125, 0, 0},

		{"double", "rows.", "", 1, 0, 0}, {"double", "rows.distance", "rows.", 0.4, 10, 110}, {"double", "rows.top", "rows.", 0.4, 10, 110}, {"double", "rows.bottom", "rows.top", 1, 10, 110},
		{"double", "rows.working", "rows.", 0.5, 0, 0},

		{"long", "run.length", "", 1, 300, 800}, {"long", "run.first", "", 0.4, 1, 90}, {"long", "run.last", "", 0.4, 1, 120}, {"long", "run.hem", "", 0.3, 5, 50},
		{"small", "run.length", "", 1, 60, 180}, {"small", "run.first", "", 0.4, 1, 22.5}, {"small", "run.last", "", 0.4, 1, 30}, {"small", "run.hem", "", 0.3, 5, 12.5},

		{"toggle", "notion.length", "", 1, 30, 79}, {"toggle", "notion.width", "", 1, 8, 17}, {"toggle", "notion.thickness", "", 1, 12, 12}, {"toggle", "notion.short_end", "", 0.7, 7, 37},
		{"frog", "notion.knot", "", 1, 10, 21}, {"frog", "notion.cord", "", 1, 4, 4},
		{"hook", "notion.length", "", 1, 6, 17}, {"hook", "notion.width", "", 1, 4, 9},
		{"eyelet", "notion.inside", "", 1, 5, 5}, {"eyelet", "notion.flange", "", 1, 8, 15},
		{"rivet", "notion.diameter", "", 1, 6, 11}, {"rivet", "notion.post", "", 1, 6, 6},
		{"snap", "notion.diameter", "", 1, 9, 18}, {"snap", "notion.post", "", 1, 5, 5}, {"snap", "notion.post_width", "", 1, 4, 4},
		{"holed", "notion.diameter", "", 1, 10, 39}, {"holed", "notion.thickness", "", 1, 2, 6},
	} {
		key, of := r.who+" "+r.key, s.n[r.who]
		if r.of != "" {
			of = s.n[r.who+" "+r.of]
		}
		often(t, key, s.n[key], of, r.chance)
		if r.hi == 0 {
			continue
		}
		if ends := s.mm[key]; ends[0] < r.lo || ends[0] >= r.lo+1 || ends[1] > r.hi || ends[1] <= r.hi-1 {
			t.Errorf("%s: from %v to %v mm, want %v to %v", key, ends[0], ends[1], r.lo, r.hi)
		}
		// In inches to the sixteenth below, and no less than one.
		if ends, has := s.inch[key]; has && (ends[0] < max(1, math.Floor(r.lo/25.4*16))*25.4/16-1e-9 || ends[1] > r.hi || ends[1] < r.hi-3) {
			t.Errorf("%s: in inches from %v to %v mm, want %v to %v", key, ends[0], ends[1], r.lo, r.hi)
		}
	}
	for key, ends := range map[string][2]int{"any run.count": {1, 6}, "zip notion.number": {3, 10}, "double rows.working": {1, 4}} {
		got := slices.Sorted(maps.Keys(s.ints[key]))
		if len(got) != ends[1]-ends[0]+1 || got[0] != ends[0] || got[len(got)-1] != ends[1] {
			t.Errorf("%s: %v, want %d to %d", key, got, ends[0], ends[1])
		}
	}
	for key, words := range map[string]map[string]float64{
		"garment units":          {"in": 0.5, "mm": 0.5},
		"garment cut_for":        {"women": 1. / 3, "men": 1. / 3, "unisex": 1. / 3},
		"garment sizes.names":    {`["S", "M"]`: 0.5, `["S", "M", "L"]`: 0.5},
		"any fastener":           {"button": 3. / 11, "toggle": 2. / 11, "tack-button": 1. / 11, "snap": 1. / 11, "frog": 1. / 11, "hook": 1. / 11, "eyelet": 1. / 11, "rivet": 1. / 11},
		"any lap":                {"single": 1. / 3, "double": 1. / 3, "edge": 1. / 3},
		"any stand.construction": {"faced": 0.4, "folded": 0.2, "band": 0.2, "fly": 0.2},
		"zip stand.construction": {"faced": 0.5, "fly": 0.5},
		"holed hole":             {"machine": 0.2, "keyhole": 0.2, "bound": 0.2, "hand": 0.2, "loop": 0.2},
		"holed direction":        {"across": 0.5, "along": 0.5},
		"double rows.inner":      {"true": 0.5, "false": 0.5},
		"double rows.show_holes": {"true": 0.5, "false": 0.5},
	} {
		for word, chance := range words {
			often(t, key+" "+word, s.word[key][word], s.n[key], chance)
		}
		if len(s.word[key]) != len(words) {
			t.Errorf("%s: %v", key, s.word[key])
		}
	}
	// Of the garments with sizes, 0.6 of the lengths that may be by size are.
	often(t, "run length by size", s.word["fasteners run.length"]["by size"]+s.word["zip run.length"]["by size"],
		int(0.4*float64(s.n["fasteners"]+s.n["zip"])), 0.6)
	// A zip in 0.4 of them; fasteners without one, and with one in 0.7; beside a
	// front elsewhere in 0.2 of those without a zip.
	zips := s.n["zip"]
	often(t, "zip", zips, s.n["garment"], 0.4)
	often(t, "fasteners with a zip", s.n["fasteners"]-(s.n["garment"]-zips), zips, 0.7)
	often(t, "fasteners elsewhere", s.n["fasteners elsewhere"], s.n["garment"]-zips, 0.2)
	often(t, "more", s.n["more"], s.n["garment"], 0.1)
	often(t, "small", s.n["small"], s.n["garment"], 0.2)
}
