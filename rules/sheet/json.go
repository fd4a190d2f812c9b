package sheet

import (
	"bytes"
	"encoding/json"
)

// writeJSON is one array with an object a garment.
func writeJSON(sheets []*Garment) (string, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(sheets); err != nil {
		return "", err
	}
	return b.String(), nil
}
