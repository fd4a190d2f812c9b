package rules

import (
	"fmt"

	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// SetRight says how hardware that is set right looks.
func SetRight(h *plan.Hardware) string {
	switch h.Setting {
	case plan.SetNail:
		return "It must sit tight on the cloth and snag nowhere, the nail straight, its point not through the face. A head that swivels may turn; a fixed one must not"
	case plan.SetProngs:
		return "Every prong must be curled inside the cap and none come through the face; it must not turn by hand and snag nowhere"
	case plan.SetPlastic:
		return "Press the point through the cloth first, then the part with its pliers: the point must end flat and round, not bent over. Snap it shut and open ten times: it must click, hold and part"
	case plan.SetRivet:
		return "It must sit tight, not turn by hand and snag nowhere, its cap not dented"
	case plan.SetEyelet:
		return "It must sit tight, not turn by hand, snag nowhere and show no split in the barrel"
	}
	return "It must sit tight, not turn by hand, snag nowhere and show at most " + number(h.Splits) + " splits in the barrel"
}

// number is a small number in words.
func number(n int) string {
	if n == 3 {
		return "three"
	}
	return fmt.Sprint(n)
}

// SetSafely is the usual caution of setting hardware of that sort, with the
// tool that the file names.
func SetSafely(s plan.Setting, tool, what string) string {
	switch {
	case s == plan.SetPlastic:
		return "press the " + what + " with the pliers or the press made for them, never with a hammer, and keep fingers out of it"
	case tool == "press" || tool == "pliers" || tool == "machine":
		return "wear eye protection when you set the " + what + ", keep fingers out of the " + tool + ", and use the maker's own dies"
	}
	return "wear eye protection when you set the " + what + ", strike with a rawhide or plastic mallet, never steel, and use the maker's own die and anvil"
}

// testSetShort is the same in a few words: what to set, and through what,
// where it is one for all the hardware of the garment.
func testSetShort(x *Context) string {
	says := testSetOf(x)
	for i := range x.P.Closures {
		y := *x
		if y.C, y.K = &x.G.Closures[i], &x.P.Closures[i]; y.K.Hardware.Needed && testSetOf(&y) != says {
			return "make a test set of each in scrap first"
		}
	}
	return "make a test set in scrap first: " + says
}

func testSetOf(x *Context) string {
	h := &x.K.Hardware
	says := "the very layers" // none are told
	if h.Sides[0].Layers > 0 {
		says = text.Count(h.Sides[0].Layers, "layer")
	}
	if h.Count > 1 && h.Sides[1].Layers != h.Sides[0].Layers {
		says = fmt.Sprintf("%d and %s", h.Sides[0].Layers, text.Count(h.Sides[1].Layers, "layer"))
	}
	if h.Post > 0 {
		return PostWord(h.Attach) + " " + h.Post.TextThin(x.U) + " through " + says
	}
	return "through " + says
}

// testSet is what to set in scrap and what to look for.
func testSet(x *Context) string {
	h := &x.K.Hardware
	s := &h.Sides[0]
	says := "the very layers, "
	if s.Layers > 0 {
		says = text.Count(s.Layers, "layer") + ", "
	}
	says += s.Free.TextThin(x.U) + " lying free, " + s.Pressed.TextThin(x.U) + " pressed" + GripSideBy(s, x.U)
	if h.Count > 1 {
		s := &h.Sides[1]
		says += "; and " + text.Count(s.Layers, "layer") + ", " + s.Free.TextThin(x.U) + " and " + s.Pressed.TextThin(x.U) + GripSideBy(s, x.U)
	}
	if h.Post > 0 {
		says += "; " + PostWord(h.Attach) + " " + h.Post.TextThin(x.U)
	}
	switch {
	case h.Setting == plan.SetProngs:
		says += "; no hole"
	case h.Setting == plan.SetNail && h.Punch == 0:
		says += ", pushed through from underneath"
	case h.Into == "leather" && h.Punch == 0:
		says += "; try the hole in scrap: there is no published rule for leather"
	case h.Punch > 0:
		says += "; hole " + x.len(h.Punch)
	}
	grip := ""
	if !h.GripGiven {
		grip = " No grip range is known: ask its maker for the chart."
	}
	return fmt.Sprintf("%s. %s.%s", says, SetRight(h), grip)
}
