package text

import (
	"bytes"
	"encoding/json"
	"fmt"
	"unicode/utf16"
	"unicode/utf8"
)

// JSON is a value as JSON, indented, with a line end. What a screen would
// obey or not show stands in it as an escape such as \u202e, which reads back
// as the same text.
func JSON(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return escapeJSON(b.Bytes()), nil
}

// escapeJSON escapes the hidden characters of a JSON text. They can stand in
// its strings alone.
func escapeJSON(data []byte) []byte {
	out := data
	done := 0 // bytes of data that are in out, once they differ
	for i := 0; i < len(data); {
		if c := data[i]; c < 0x7f {
			i++
			continue
		}
		r, n := utf8.DecodeRune(data[i:])
		if Hidden(r) {
			if done == 0 {
				out = make([]byte, 0, len(data)+64)
			}
			out = append(append(out, data[done:i]...), unicodeEscape(r)...)
			done = i + n
		}
		i += n
	}
	if done == 0 {
		return data
	}
	return append(out, data[done:]...)
}

func unicodeEscape(r rune) string {
	if a, b := utf16.EncodeRune(r); a != utf8.RuneError {
		return fmt.Sprintf(`\u%04x\u%04x`, a, b)
	}
	return fmt.Sprintf(`\u%04x`, r)
}
