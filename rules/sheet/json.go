package sheet

import (
	"bytes"
	"encoding/json"
)

// writeJSON is a value in JSON: of garments one array with an object each.
func writeJSON(v any) (string, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return "", err
	}
	return b.String(), nil
}
