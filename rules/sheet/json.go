package sheet

import "placketeer/catalog/text"

// writeJSON is a value in JSON: of garments one array with an object each.
func writeJSON(v any) (string, error) {
	out, err := text.JSON(v)
	return string(out), err
}
