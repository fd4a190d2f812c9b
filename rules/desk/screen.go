package desk

import (
	"bytes"
	"encoding/json"
	"os"
	"strconv"
	"strings"

	"golang.org/x/term"
)

// terminal says whether the answer goes to a screen.
func (in *call) terminal() bool {
	f, ok := in.out.(*os.File)
	if !ok || in.text("out") != "" {
		return false
	}
	return term.IsTerminal(int(f.Fd()))
}

// color says whether to colour: as asked, otherwise on a terminal where
// NO_COLOR is not set.
func (in *call) color() bool {
	switch in.text("color") {
	case "always":
		return true
	case "never":
		return false
	}
	return in.terminal() && in.getenv("NO_COLOR") == "" && in.getenv("TERM") != "dumb"
}

// utf8 says whether the locale can show more than ASCII. A file can.
func (in *call) utf8() bool {
	if in.text("out") != "" {
		return true
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := in.getenv(name); v != "" {
			v = strings.ToLower(v)
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return false
}

// Columns of a screen: what is narrower or wider is laid out as these.
const (
	leastWidth = 40
	mostWidth  = 160
)

// width is the width of the screen: what COLUMNS says, otherwise the
// terminal's own; 0 where the answer goes elsewhere, or it is not known.
func (in *call) width() int {
	if !in.terminal() {
		return 0
	}
	n, err := strconv.Atoi(in.getenv("COLUMNS"))
	if err != nil || n <= 0 {
		if n, _, err = term.GetSize(int(in.out.(*os.File).Fd())); err != nil || n <= 0 {
			return 0
		}
	}
	return min(max(n, leastWidth), mostWidth)
}

// put writes lines.
func put(b *strings.Builder, lines []string) {
	for _, l := range lines {
		b.WriteString(l)
		b.WriteByte('\n')
	}
}

// pairs is a JSON object that keeps the order of its keys.
type pairs []pair

type pair struct {
	key   string
	value any
}

// MarshalJSON writes the object.
func (p pairs) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	b.WriteByte('{')
	for i, x := range p {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := e.Encode(x.key); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := e.Encode(x.value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}
