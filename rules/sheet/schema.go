package sheet

import (
	"reflect"
	"strings"

	"placketeer/catalog/text"
)

// Schema is the JSON Schema (draft 2020-12) of the output of check and spec:
// an array with an object a garment. Every key is always there, and there is
// no other.
func Schema() []byte {
	s := map[string]any{
		"$schema":     "https://json-schema.org/draft/2020-12/schema",
		"title":       "placketeer check and spec",
		"description": "Keys that end in _mm are exact millimetres. A list that has nothing is [], a value that does not apply or is not known is null.",
		"type":        "array",
		"items":       schemaOf(reflect.TypeFor[Garment]()),
	}
	out, err := text.JSON(s)
	if err != nil {
		panic(err) // strings, lists and maps alone
	}
	return out
}

// words that a key may hold.
var schemaWords = map[string][]any{
	"Garment.verdict": {"ok", "note", "caution", "conflict"},
	"Garment.units":   {"in", "mm"},
	"Brief.severity":  {"note", "caution", "conflict"},
	"BuyPiece.kind":   {"strip", "patch", "swatch"},
}

func schemaOf(t reflect.Type) map[string]any {
	if t == reflect.TypeFor[MM]() {
		return map[string]any{"type": "number"}
	}
	switch t.Kind() {
	case reflect.Pointer:
		s := schemaOf(t.Elem())
		if kind, ok := s["type"].(string); ok {
			s["type"] = []any{kind, "null"}
		}
		return s
	case reflect.Slice:
		return map[string]any{"type": "array", "items": schemaOf(t.Elem())}
	case reflect.Struct:
		keys := map[string]any{}
		required := []any{}
		for _, f := range reflect.VisibleFields(t) {
			key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if key == "" || key == "-" {
				continue
			}
			s := schemaOf(f.Type)
			if w := schemaWords[ownerOf(t, f).Name()+"."+key]; w != nil {
				s["enum"] = w
			}
			keys[key] = s
			required = append(required, key)
		}
		return map[string]any{"type": "object", "properties": keys, "required": required, "additionalProperties": false}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	}
	return map[string]any{"type": "string"}
}

// ownerOf is the struct in which a field stands.
func ownerOf(t reflect.Type, f reflect.StructField) reflect.Type {
	for _, i := range f.Index[:len(f.Index)-1] {
		t = t.Field(i).Type
	}
	return t
}
