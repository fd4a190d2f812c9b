package rules

import (
	"fmt"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

// LineWidth is the most columns that a finding's line takes.
const LineWidth = 70

// seconds are the units of a measure in brackets, which says the one before it
// once more.
var seconds = [...]string{" mm", " in", " cm", " m", " yd", " °C", " °F", " g/m²", " oz/yd²", " lbf", " N"}

// OneUnit is a text with its measures in the first of their units alone.
func OneUnit(says string) string {
	out, from := "", 0 // what is said until there
	for at := 0; ; {
		i := strings.Index(says[at:], " (")
		if i == -1 {
			return out + says[from:]
		}
		i += at
		at = i + 2
		end := strings.IndexAny(says[at:], "()")
		if end == -1 || says[at+end] == '(' || says[at] < '0' || says[at] > '9' {
			continue
		}
		for _, u := range seconds {
			if strings.HasSuffix(says[at+1:at+end], u) {
				out += says[from:i]
				at += end + 1
				from = at
				break
			}
		}
	}
}

// Say is what a rule says of a finding: a line of at most LineWidth columns
// with its figures in the garment's own unit, and the whole message.
func (r *Rule) Say(f *Finding, u measure.Unit) (line, message string) {
	message = f.Message()
	if f.short != "" {
		line = f.short
		if len(f.shortArgs) > 0 {
			line = fmt.Sprintf(f.short, f.shortArgs...)
		}
		if line = OneUnit(line); text.Width(line) <= LineWidth {
			return line, message
		}
	}
	line = OneUnit(message)
	for _, end := range []string{": ", "; ", ". "} {
		line, _, _ = strings.Cut(line, end)
	}
	switch {
	case text.Width(line) <= LineWidth:
	case f.Compared && r.Figure != "":
		line = r.Figure + ": " + f.figures(u)
	default:
		line = r.Title
	}
	return line, message
}

// figures are what a finding compared, in short.
func (f *Finding) figures(u measure.Unit) string {
	n := &f.Numbers
	least := n.Margin == n.Have-n.Need || n.Margin < 0 && n.Have < n.Need
	say := func(x float64, up bool) string {
		l := measure.FromMM(x)
		switch {
		case n.Unit == "C" && u.IsAlone():
			return measure.Temperature(x).ShortGiven(u)
		case n.Unit == "N" && u.IsAlone():
			return measure.Force(x).Short(u)
		case n.Unit != "mm":
			return strings.TrimSpace(text.Number(x) + " " + n.Unit)
		case up:
			return l.ShortLeast(u)
		}
		return l.ShortMost(u)
	}
	if least {
		return say(n.Have, false) + ", at least " + say(n.Need, true)
	}
	return say(n.Have, true) + ", at most " + say(n.Need, false)
}
