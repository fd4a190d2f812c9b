package plan

import (
	"cmp"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// What is taken for a figure that nobody has measured yet.

// likeSize is how near a button's diameter must come to another's to be one of
// its size.
const likeSize = 2 * measure.Ligne

// UsualThickness is how thick flat buttons of a diameter are: the middle one of
// those of about that size in the catalogue, with a ± that takes in the half of
// them that is nearest to it. Where there is none of that size it is the
// nearest one. It is an estimate.
func UsualThickness(cat *catalog.Catalog, d measure.Length) catalog.Measured {
	var like []catalog.Measured
	var near *catalog.Notion
	for _, n := range cat.Notions {
		if n.Kind != catalog.Button || n.Shape != "" && n.Shape != "flat" || n.Shank.Has() || !n.Diameter.Has() || !n.Thickness.Has() {
			continue
		}
		if near == nil || (n.Diameter.V-d).Abs() < (near.Diameter.V-d).Abs() {
			near = n
		}
		if (n.Diameter.V - d).Abs() <= likeSize {
			like = append(like, n.Thickness)
		}
	}
	switch {
	case near == nil:
		return catalog.Measured{}
	case len(like) == 0:
		like = []catalog.Measured{near.Thickness}
	}
	slices.SortStableFunc(like, func(a, b catalog.Measured) int { return cmp.Compare(a.V, b.V) })
	const step = mm / 20
	mid, lo, hi := like[len(like)/2], like[len(like)/4], like[len(like)*3/4]
	v := mid.V.RoundNearest(step)
	return catalog.Measured{V: v, Tol: max(hi.V+hi.Tol-v, v-(lo.V-lo.Tol)).RoundUp(step), From: catalog.Estimated}
}

// LignesBetween are the lignes on sale from one diameter to another.
func LignesBetween(from, to measure.Length) []measure.Length {
	var out []measure.Length
	for _, l := range LignesSold {
		if d := measure.Length(l) * measure.Ligne; d >= from && d <= to {
			out = append(out, d)
		}
	}
	return out
}

// metals are materials of metal buttons, which belong to uniforms, blazers and
// dress coats: MIL-B-20289D (1990) has them as insignia buttons.
var metals = []string{"aluminium", "brass", "bronze", "copper alloy", "metal", "pewter", "silver", "steel", "zinc"}

// OddMetal says whether a button is of metal where the one in its place is of
// something else: it is chosen where it is asked for (ours).
func OddMetal(n, now *catalog.Notion) bool {
	return n.Kind == catalog.Button && slices.Contains(metals, n.Material) && !slices.Contains(metals, now.Material)
}
