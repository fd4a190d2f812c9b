package desk

import (
	"regexp"
	"strings"
	"sync"
)

// How people answer: not knowing, and what a button is made of.

var unsure = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(?:(?:i\s+|really\s+)*(?:do ?n[o'’]?t|dont|don[’']t|not)\s+(?:really\s+)?(?:know|sure)|i have no idea|no idea|no clue|unsure|unknown|dunno|idk|i'?m not sure|not sure yet|(?:the\s+)?(usual|normal|standard|default|whatever)(?:\s+(?:one|way))?)(?:\s+yet)?[.!]*$`)
})

// materials are words for what a button is made of, and what the catalogue
// calls it.
var materials = map[string]string{
	"horn": "horn", "wood": "wood", "wooden": "wood", "corozo": "corozo", "brass": "brass", "metal": "metal", "leather": "leather",
	"bone": "bone", "coconut": "coconut", "polyester": "polyester", "plastic": "polyester", "melamine": "melamine",
}

// madeOf takes the material out of what is said of a button.
func madeOf(s string) (rest, material string) {
	var out []string
	for _, w := range strings.Fields(s) {
		if m := materials[strings.ToLower(strings.Trim(w, ","))]; m != "" && material == "" {
			material = m
			continue
		}
		out = append(out, w)
	}
	return strings.Trim(strings.Join(out, " "), " ,"), material
}

// unknown says whether an answer is that somebody does not know, or would have
// it as it usually is.
func unknown(s string) bool { return unsure().MatchString(s) }
