package desk

import (
	"regexp"
	"strings"
	"sync"
)

// What rules say names keys of a garment file, which a question has none of:
// here they become the flags that state them, and where none does the words
// about them go.

var keyWords = sync.OnceValue(func() (w struct{ set, puts, says, is *regexp.Regexp }) {
	w.set = regexp.MustCompile(` and set ([a-z_]+(?:\.[a-z_]+)+)$`)
	w.puts = regexp.MustCompile(`; (?:to [a-z ]+, )?(?:write )?([a-z_]+) = "[^"]*"[^;]*`)
	w.says = regexp.MustCompile(`say [a-z]+_[a-z]+ if yours does, or `)
	w.is = regexp.MustCompile(`\b([a-z_]+) = "([^"]*)"((?:,? (?:or )?"[^"]*")*)`)
	return w
})

// inFlags is what a rule says, in the words of the flags.
func (q *quick) inFlags(says string) string {
	w := keyWords()
	says = w.set.ReplaceAllStringFunc(says, func(s string) string {
		if f := q.flagFor(w.set.FindStringSubmatch(s)[1]); f != "" {
			return " and give " + f
		}
		return ""
	})
	says = w.puts.ReplaceAllStringFunc(says, func(s string) string {
		if q.cmd.flag(w.puts.FindStringSubmatch(s)[1]) != nil {
			return s
		}
		return ""
	})
	says = w.says.ReplaceAllString(says, "say ")
	return w.is.ReplaceAllStringFunc(says, func(s string) string {
		m := w.is.FindStringSubmatch(s)
		if q.cmd.flag(m[1]) == nil {
			return s
		}
		value := m[2]
		if strings.Contains(value, " ") {
			value = `"` + value + `"`
		}
		return "--" + m[1] + " " + value + strings.ReplaceAll(m[3], `"`, "")
	})
}

// flagFor is the flag that states a key of a garment file, "" where none does.
func (q *quick) flagFor(key string) string {
	table, rest, _ := strings.Cut(key, ".")
	at := strings.ReplaceAll(key[strings.LastIndexByte(key, '.')+1:], "_", "-")
	if table == "closure" {
		rest = rest[strings.IndexByte(rest, '.')+1:]
	}
	var names []string
	switch {
	case table == "machine":
		names = []string{at, "machine"}
	case table == "cloth" && at == "thickness" && strings.HasPrefix(rest, "layers"):
		names = []string{"pressed", "over"}
		if q.has("over") {
			names = names[1:]
		}
	case table == "cloth" && at == "thickness" && q.cmd.flag("cloth-thickness") != nil:
		names = []string{"cloth-thickness"}
	case table == "cloth", strings.HasPrefix(rest, "notion."), strings.HasPrefix(rest, "run."), strings.HasPrefix(rest, "stand."), !strings.Contains(rest, "."):
		names = []string{at}
	}
	for _, n := range names {
		if f := q.cmd.flag(n); f != nil && f.kind != boolFlag {
			return "--" + n
		}
	}
	return ""
}

// keyInFlags is a fault of the garment file with its keys as flags.
func (q *quick) keyInFlags(says string) string {
	for _, k := range q.from {
		key := k.path[strings.LastIndexByte(k.path, '.')+1:]
		if !q.has(strings.TrimPrefix(k.flag, "--")) || strings.TrimPrefix(k.flag, "--") != strings.ReplaceAll(key, "_", "-") {
			continue
		}
		if rest, ok := strings.CutPrefix(says, key+" "); ok {
			return k.flag + " " + rest
		}
	}
	return says
}
