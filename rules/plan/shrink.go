package plan

import (
	"slices"
	"strings"

	"placketeer/catalog"
)

// Shrinking is what is done to a cloth before it is cut, so that it does not
// shrink afterwards.
type Shrinking struct {
	How     string  // wash, may wash, steam, shrink: as the file says by how much; "" where nothing is to be done
	Percent float64 // of its length
	Known   bool    // the file or the catalogue says by how much
	Nap     bool    // a high nap, which damp may change
}

// How a cloth is shrunk.
const (
	Wash    = "wash"
	MayWash = "may wash" // cotton and the like, where the file does not say how it is cleaned
	Steam   = "steam"
	Shrunk  = "shrink"
)

// UsualShrink is what wool and what is washed is counted to shrink, percent,
// until a swatch says: the most that goods inspection lets pass, as quoted
// from a Japanese course (1 to 3 %).
const UsualShrink = 3

// FeltWashed is what wool felt may lose in its first wash, percent: a felt
// maker's page, up to 8 % of its length and 9.5 % of its width.
const FeltWashed = 9.5

// woolly are families of cloth that are mostly wool where the file names no
// fibre.
var woolly = map[string]bool{
	"melton": true, "loose-coating": true, "woollen-brushed": true, "worsted": true, "wool-felt": true, "boiled-wool": true,
}

const WoolShare = 50 // percent of a cloth that is treated as wool: ours

// ShrinkOf is how a cloth is shrunk before it is cut: what will be washed is
// washed, wool is damped and steamed, and nothing is done to what the file
// says does not shrink.
func ShrinkOf(g *catalog.Garment, c *catalog.Cloth) Shrinking {
	s := Shrinking{Percent: c.Shrink.Or(UsualShrink), Known: c.Shrink.Has()}
	s.Nap = c.Surface == "napped" || c.Surface == "pile" || c.Surface == "looped"
	switch {
	case s.Known && s.Percent == 0, c.Kind == "leather", c.Surface == "coated", c.Surface == "laminated", c.Surface == "quilted", c.Kind == "waxed-cotton":
		if s.Known && s.Percent != 0 {
			s.How = Shrunk
		}
		return s
	case strings.HasPrefix(g.Care, "wash"):
		s.How = Wash
		if c.Kind == "wool-felt" && !s.Known {
			s.Percent = FeltWashed
		}
	case isWool(c):
		s.How = Steam
	case s.Known:
		s.How = Shrunk
	case g.Care == "" && isCotton(c) && !slices.ContainsFunc(g.Cloths, isWool): // with wool it goes to the cleaner's
		s.How = MayWash
	}
	return s
}

// isCotton says whether a cloth is mostly of plant fibre, which washing shrinks.
func isCotton(c *catalog.Cloth) bool {
	return c.Fibre["cotton"]+c.Fibre["linen"]+c.Fibre["hemp"] >= WoolShare
}

// isWool says whether a cloth is mostly wool.
func isWool(c *catalog.Cloth) bool {
	var share float64
	any := false
	for name, percent := range c.Fibre {
		any = any || percent > 0
		switch name {
		case "wool", "hair":
			share += percent
		}
	}
	if !any {
		return woolly[c.Kind]
	}
	return share >= WoolShare
}
