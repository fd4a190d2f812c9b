package plan

import (
	"math"
	"strconv"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

const RimClear = 3 * mm // rim inside the finished edge: Sew Today, 2019

// StandLeast, StandUsual and StandFull are the button stand, centre line to
// finished edge, for a fastener d across: the least that keeps the rim on
// the cloth, the usual minimum, and the trade's full stand.
func StandLeast(d measure.Length) measure.Length { return d/2 + RimClear }

// StandUsual is the larger of d/2 + 1/4 in and 3/4 d.
func StandUsual(d measure.Length) measure.Length { return max(d/2+quarter, 3*d/4) }

// StandFull is d.
func StandFull(d measure.Length) measure.Length { return d }

// Band is a band folded back on itself at the edge.
type Band struct {
	Width     measure.Length // finished
	TurnUnder measure.Length // turned under at the inside edge, 0 for none
	Cloth     measure.Length // thickness of the cloth
}

// Folds is how many folds the band has: at the edge, and at the turn-under.
func (b Band) Folds() int {
	if b.TurnUnder > 0 {
		return 2
	}
	return 1
}

// Extension is what must be drafted from the centre line to the cut edge:
// half the band, the whole of it folded back, the turn-under, and one cloth
// thickness for each fold.
func (b Band) Extension() measure.Length {
	return b.Width/2 + b.Width + b.TurnUnder + measure.Length(b.Folds())*b.Cloth
}

// BandFrom is the widest band that an extension already drafted leaves.
func BandFrom(extension, turnUnder, cloth measure.Length) Band {
	b := Band{TurnUnder: turnUnder, Cloth: cloth}
	b.Width = max(0, (extension-turnUnder-measure.Length(b.Folds())*cloth)*2/3)
	return b
}

// SeparateBand is the cut width of a band sewn on: twice its finished width,
// a seam allowance at each edge, and one cloth thickness for the fold.
func SeparateBand(width, seam, cloth measure.Length) measure.Length {
	return 2*width + 2*seam + cloth
}

const UsualSeam = in * 5 / 8 // common practice, no source

func standOf(g *catalog.Garment, c *catalog.Closure, k *Closure) Stand {
	d := AcrossOf(&c.Notion)
	s := Stand{
		Least: StandLeast(d), Usual: StandUsual(d), Full: StandFull(d),
		Construction: c.Stand.Construction,
		TurnUnder:    c.Stand.TurnUnder.Or(0),
		Seam:         c.Stand.Seam.Or(UsualSeam),
	}
	base := "closure[" + strconv.Itoa(c.Index) + "].stand"
	shell := ShellThickness(k)
	f := c.Stand
	switch s.Construction {
	case "folded":
		b := Band{Width: 2 * max(s.Full, s.Least), TurnUnder: s.TurnUnder, Cloth: shell}
		switch {
		case f.Band.Has():
			b.Width, s.BandKnown, s.From = f.Band.V, true, base+".band"
		case f.Finished.Has():
			b.Width, s.BandKnown, s.From = 2*f.Finished.V, true, base+".finished"
		case f.Extension.Has():
			b = BandFrom(f.Extension.V, s.TurnUnder, shell)
			s.BandKnown, s.From = true, base+".extension"
		}
		s.Band, s.Folds = b.Width, b.Folds()
		s.FoldLoss = measure.Length(s.Folds) * shell
		s.Extension = f.Extension.Or(b.Extension())
		s.Have, s.Known = b.Width/2, s.BandKnown
	case "band":
		s.Band = 2 * max(s.Full, s.Least)
		switch {
		case f.Band.Has():
			s.Band, s.BandKnown, s.From = f.Band.V, true, base+".band"
		case f.Finished.Has():
			s.Band, s.BandKnown, s.From = 2*f.Finished.V, true, base+".finished"
		}
		s.Folds, s.FoldLoss = 1, shell
		s.BandCut = SeparateBand(s.Band, s.Seam, shell)
		s.Have, s.Known = s.Band/2, s.BandKnown
	default: // faced, fly, or not said
		switch {
		case f.Finished.Has():
			s.Have, s.Known, s.From = f.Finished.V, true, base+".finished"
		case f.Band.Has():
			s.Have, s.Known, s.From = f.Band.V/2, true, base+".band"
		case f.Extension.Has():
			s.Have, s.Known, s.From = max(0, f.Extension.V-s.Seam), true, base+".extension"
		default:
			s.Have = s.draft()
		}
		s.Extension = f.Extension.Or(s.Have + s.Seam)
		if f.Facing.Has() {
			s.FacingCut = s.Have + f.Facing.V + s.Seam
		}
	}
	if c.Lap == "double" {
		s.double(c)
	}
	return s
}

// draft is the stand to draft where none is given: the full stand, or the
// usual one where a small fastener needs more than its own width.
func (s *Stand) draft() measure.Length { return max(s.Full, s.Usual) }

// double moves the stand of a double-breasted front from the centre line to
// its outer column, where the holes are.
func (s *Stand) double(c *catalog.Closure) {
	r := &c.Rows
	s.Column = max(r.Distance.V, r.Top.V, r.Bottom.V)
	switch {
	case s.Column == 0 && s.Known:
		s.Column = max(0, s.Have-s.Full) // the full stand outside the column
		s.Have -= s.Column
	case s.Known:
		s.Have = max(0, s.Have-s.Column)
	default:
		s.Extension += s.Column
	}
}

// AcrossOf is D for the rules of the stand: the widest the fastener reaches
// across, flange included.
func AcrossOf(n *catalog.Notion) measure.Length {
	switch n.Kind {
	case catalog.Zip:
		return 0
	case catalog.Hook:
		return max(n.Width.V, n.Length.V)
	case catalog.Eyelet:
		return max(n.Flange.V, n.Diameter.V, n.Inside.V)
	case catalog.Frog:
		return ShapeOf(n).Across()
	case catalog.Toggle:
		return ShapeOf(n).Width
	}
	return max(ShapeOf(n).Across(), n.Flange.V)
}

// ShellThickness is the thickness of the outermost cloth.
func ShellThickness(k *Closure) measure.Length {
	for _, l := range k.Over.Layers {
		if l.Layer.Cloth != nil {
			return l.Thick
		}
	}
	return 0
}

// CeilDiv is a ÷ b rounded up, for whole pieces.
func CeilDiv(a, b int) int { return int(math.Ceil(float64(a) / float64(b))) }
