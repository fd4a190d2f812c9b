package measure

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// How people say a number: what they hedge with, in words, with a comma.

// patterns are made ready when somebody first answers.
var patterns = sync.OnceValue(func() *saying {
	return &saying{
		hedge:    regexp.MustCompile(`(?i)(?:^|\s)(?:about|approx(?:imately)?|abt|roughly|around|circa|ca|maybe|perhaps|probably|nearly|almost|some|i think|i guess|it is|it's|they are|or so|say)(?:[.,:]?\s|$)|[~≈]`),
		half:     regexp.MustCompile(`(?i)\b(\d+) and a half\b`),
		fraction: regexp.MustCompile(`(?i)\b(half|quarter|a half|a quarter|1 half|1 quarter|3 quarters|3 eighths|5 eighths|7 eighths|an eighth|1 eighth) (?:of )?(?:an? )?(inch|in|cm)\b`),
		dozen:    regexp.MustCompile(`(?i)\b(?:half a|half|a|an|1)? ?dozen\b`),
		ofAnInch: regexp.MustCompile(`(?i) of (?:an?|the) (inch|cm)\b`),
		anInch:   regexp.MustCompile(`(?i)\ban? (inch|cm|mm)\b`),
		// A comma between two digits is a point, but for thousands.
		comma: regexp.MustCompile(`(\d),(\d{1,2})\b`),
	}
})

type saying struct {
	hedge, half, fraction, dozen, ofAnInch, anInch, comma *regexp.Regexp
}

var fractions = map[string]string{
	"half": "1/2", "a half": "1/2", "1 half": "1/2", "quarter": "1/4", "a quarter": "1/4", "1 quarter": "1/4", "3 quarters": "3/4",
	"an eighth": "1/8", "1 eighth": "1/8", "3 eighths": "3/8", "5 eighths": "5/8", "7 eighths": "7/8",
}

var numberWords = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// Everyday is what somebody says with its numbers as they are written: without
// about and the like, six as 6, half an inch as 1/2 inch, 2,8 cm as 2.8 cm.
func Everyday(s string) string {
	s = Hedgeless(s)
	fields := strings.Fields(s)
	for i, f := range fields {
		if n := slices.Index(numberWords, strings.ToLower(strings.Trim(f, ","))); n >= 0 {
			fields[i] = strings.Replace(f, strings.Trim(f, ","), strconv.Itoa(n), 1)
		}
	}
	s = strings.Join(fields, " ")
	s = patterns().dozen.ReplaceAllStringFunc(s, func(w string) string {
		if strings.Contains(strings.ToLower(w), "half") {
			return "6"
		}
		return "12"
	})
	s = patterns().fraction.ReplaceAllStringFunc(s, func(w string) string {
		m := patterns().fraction.FindStringSubmatch(w)
		return fractions[strings.ToLower(m[1])] + " " + m[2]
	})
	s = patterns().half.ReplaceAllString(s, "$1 1/2")
	s = patterns().ofAnInch.ReplaceAllString(s, " $1")
	s = patterns().anInch.ReplaceAllString(s, "1 $1")
	return patterns().comma.ReplaceAllString(s, "$1.$2")
}

// Hedgeless is a text without about, roughly and the like.
func Hedgeless(s string) string {
	for was := ""; was != s; {
		was, s = s, strings.TrimSpace(patterns().hedge.ReplaceAllString(s, " "))
	}
	return s
}
