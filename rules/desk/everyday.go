package desk

import (
	"regexp"
	"slices"
	"strings"
)

// How people answer: what they hedge with, numbers in words, and not knowing.

var (
	hedge    = regexp.MustCompile(`(?i)(?:^|\s)(?:about|approx(?:imately)?|abt|roughly|around|circa|ca|maybe|perhaps|probably|nearly|almost|some|i think|i guess|it is|it's|they are|or so|say)(?:[.,:]?\s|$)|[~≈]`)
	unsure   = regexp.MustCompile(`(?i)^(?:(?:i\s+|really\s+)*(?:do ?n[o'’]?t|dont|don[’']t|not)\s+(?:really\s+)?(?:know|sure)|i have no idea|no idea|no clue|unsure|unknown|dunno|idk|i'?m not sure|not sure yet|(?:the\s+)?(usual|normal|standard|default|whatever)(?:\s+(?:one|way))?)(?:\s+yet)?[.!]*$`)
	halfOf   = regexp.MustCompile(`(?i)\b(\d+) and a half\b`)
	fraction = regexp.MustCompile(`(?i)\b(half|quarter|a half|a quarter|1 half|1 quarter|3 quarters|3 eighths|5 eighths|7 eighths|an eighth|1 eighth) (?:of )?(?:an? )?(inch|in|cm)\b`)
	dozen    = regexp.MustCompile(`(?i)\b(?:half a|half|a|an|1)? ?dozen\b`)
	ofAnInch = regexp.MustCompile(`(?i) of (?:an?|the) (inch|cm)\b`)
	anInch   = regexp.MustCompile(`(?i)\ban? (inch|cm|mm)\b`)
	// A comma between two digits is a point, but for thousands.
	decimal = regexp.MustCompile(`(\d),(\d{1,2})\b`)
)

var parts = map[string]string{
	"half": "1/2", "a half": "1/2", "1 half": "1/2", "quarter": "1/4", "a quarter": "1/4", "1 quarter": "1/4", "3 quarters": "3/4",
	"an eighth": "1/8", "1 eighth": "1/8", "3 eighths": "3/8", "5 eighths": "5/8", "7 eighths": "7/8",
}

var numberWords = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// numbers is an answer with its numbers as they are written: without about and
// the like, six as 6, half an inch as 1/2 inch, 2,8 cm as 2.8 cm.
func numbers(s string) string {
	for was := ""; was != s; {
		was, s = s, strings.TrimSpace(hedge.ReplaceAllString(s, " "))
	}
	fields := strings.Fields(s)
	for i, f := range fields {
		if n := slices.Index(numberWords, strings.ToLower(strings.Trim(f, ","))); n >= 0 {
			fields[i] = strings.Replace(f, strings.Trim(f, ","), digits[n], 1)
		}
	}
	s = strings.Join(fields, " ")
	s = dozen.ReplaceAllStringFunc(s, func(w string) string {
		if strings.Contains(strings.ToLower(w), "half") {
			return "6"
		}
		return "12"
	})
	s = fraction.ReplaceAllStringFunc(s, func(w string) string {
		m := fraction.FindStringSubmatch(w)
		return parts[strings.ToLower(m[1])] + " " + m[2]
	})
	s = halfOf.ReplaceAllString(s, "$1 1/2")
	s = ofAnInch.ReplaceAllString(s, " $1")
	s = anInch.ReplaceAllString(s, "1 $1")
	return decimal.ReplaceAllString(s, "$1.$2")
}

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

var digits = []string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12"}

// unknown says whether an answer is that somebody does not know, or would have
// it as it usually is.
func unknown(s string) bool { return unsure.MatchString(s) }
