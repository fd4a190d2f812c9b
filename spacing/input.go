package spacing

import (
	"fmt"

	"placketeer/catalog/measure"
)

// far bounds every length of a problem, so that sums never overflow. It is
// also where a run ends whose length is taken away, see Clash.
const far = 1000 * measure.Metre

// check refuses a problem that makes no sense, as against one that has no
// layout.
func (p *Problem) check() error {
	switch {
	case p.Run <= 0 || p.Run > MaxRun:
		return fmt.Errorf("spacing: a run of %v: it must be more than 0 and at most %d m", p.Run, MaxRun/measure.Metre)
	case p.Step <= 0:
		return fmt.Errorf("spacing: a step of %v: it must be more than 0", p.Step)
	case p.Run/p.Step > MaxPlaces:
		return fmt.Errorf("spacing: a step of %v is too fine for a run of %v: at most %d steps", p.Step, p.Run, MaxPlaces)
	case p.Step > far:
		return tooFar("step", p.Step)
	case p.First.Min > p.First.Max:
		return fmt.Errorf("spacing: first ends at %v before it begins at %v", p.First.Max, p.First.Min)
	case p.Last.Min > p.Last.Max:
		return fmt.Errorf("spacing: last ends at %v before it begins at %v", p.Last.Max, p.Last.Min)
	case p.CountMin < 0 || p.CountMax < 0 || p.CountMin > MaxCount || p.CountMax > MaxCount:
		return fmt.Errorf("spacing: a count of %d to %d: it must lie between 0 and %d", p.CountMin, p.CountMax, MaxCount)
	case p.CountMax > 0 && p.CountMin > p.CountMax:
		return fmt.Errorf("spacing: a count of at least %d and at most %d", p.CountMin, p.CountMax)
	case p.Gap.Min < 0 || p.Gap.Max < 0:
		return fmt.Errorf("spacing: gap limits of %v and %v: neither may be less than 0", p.Gap.Min, p.Gap.Max)
	case p.Repeat < 0:
		return fmt.Errorf("spacing: a repeat of %v: it must be more than 0, or 0 for none", p.Repeat)
	case p.EvenWithin < 0:
		return fmt.Errorf("spacing: even within %v: it must be more than 0, or 0 for the usual", p.EvenWithin)
	case p.Most < 0:
		return fmt.Errorf("spacing: at most %d tries: it must be more than 0, or 0 for the most there are", p.Most)
	case p.Group < 0 || p.Group > 3:
		return fmt.Errorf("spacing: groups of %d: there are pairs and threes", p.Group)
	case p.Group > 1 && p.GroupGap <= 0:
		return fmt.Errorf("spacing: a gap of %v inside a group: it must be more than 0", p.GroupGap)
	}
	if least, most := p.groups(); least > most {
		if p.CountMin == p.CountMax {
			return fmt.Errorf("spacing: a count of %d does not go into groups of %d", p.CountMin, p.Group)
		}
		return fmt.Errorf("spacing: no count from %d to %d goes into groups of %d", max(p.CountMin, 1), p.CountMax, p.Group)
	}
	for _, v := range []struct {
		what   string
		length measure.Length
	}{
		{"first", p.First.Min}, {"first", p.First.Max}, {"last", p.Last.Min}, {"last", p.Last.Max},
		{"gap.min", p.Gap.Min}, {"gap.max", p.Gap.Max}, {"repeat", p.Repeat}, {"phase", p.Phase},
		{"group gap", p.GroupGap}, {"even within", p.EvenWithin},
	} {
		if v.length < -far || v.length > far {
			return tooFar(v.what, v.length)
		}
	}
	for _, a := range p.Anchors {
		switch {
		case a.Within < 0:
			return fmt.Errorf("spacing: anchor %q lies within %v: it must not be less than 0", a.Name, a.Within)
		case a.At < -far || a.At > far:
			return tooFar("anchor "+a.Name, a.At)
		case a.Within > far:
			return tooFar("anchor "+a.Name, a.Within)
		}
	}
	for _, z := range p.Clear {
		switch {
		case z.From > z.To:
			return fmt.Errorf("spacing: clear zone %q ends at %v before it begins at %v", z.Name, z.To, z.From)
		case z.From < -far:
			return tooFar("clear zone "+z.Name, z.From)
		case z.To > far:
			return tooFar("clear zone "+z.Name, z.To)
		}
	}
	return nil
}

func tooFar(what string, l measure.Length) error {
	return fmt.Errorf("spacing: %s of %v is beyond %d m", what, l, far/measure.Metre)
}

// members is the number of fasteners in a group.
func (p *Problem) members() int { return max(p.Group, 1) }

// width is the length of a group, 0 for single fasteners.
func (p *Problem) width() int64 { return int64(p.members()-1) * int64(p.GroupGap) }

// open tells whether there is a count to choose.
func (p *Problem) open() bool {
	least, most := p.groups()
	return least < most
}

// groups are the fewest and most groups.
func (p *Problem) groups() (least, most int) {
	g := p.members()
	least, most = (max(p.CountMin, 1)+g-1)/g, MaxCount/g
	if p.CountMax > 0 {
		most = p.CountMax / g
	}
	return least, most
}
