package sheet

import (
	"reflect"
	"strings"
	"sync"
)

// schemas are the outputs of the commands that this package writes: every key
// is always there, and there is no other.
var schemas = sync.OnceValue(func() map[string]output {
	return map[string]output{
		"check":     {reflect.TypeFor[Garment](), true}, // an object a garment
		"spec":      {reflect.TypeFor[Garment](), true},
		"checklist": {reflect.TypeFor[listed](), false},
		"choose":    {reflect.TypeFor[ChoiceOut](), false},
		"order":     {reflect.TypeFor[OrderOut](), false},
		"compare":   {reflect.TypeFor[Comparison](), false},
	}
})

type output struct {
	of    reflect.Type
	array bool
}

// Schema is the JSON Schema (draft 2020-12) of what a command writes for
// programs, nil where that is not written here.
func Schema(command string) map[string]any {
	x, known := schemas()[command]
	if !known {
		return nil
	}
	s := schemaOf(x.of)
	if command == "check" {
		s = map[string]any{"anyOf": []any{s, schemaOf(reflect.TypeFor[Unread]())}}
	}
	if x.array {
		s = map[string]any{"type": "array", "items": s}
	}
	return s
}

// words that a key may hold.
var schemaWords = sync.OnceValue(func() map[string][]any {
	return map[string][]any{
		"Garment.version":    {OutputVersion},
		"listed.version":     {OutputVersion},
		"ChoiceOut.version":  {OutputVersion},
		"Comparison.version": {OutputVersion},
		"Closure.lap_over":   {"left", "right", nil},
		"Garment.verdict":    {"ok", "note", "caution", "conflict"},
		"Unread.version":     {OutputVersion},
		"Unread.verdict":     {Unreadable},
		"Garment.units":      {"in", "mm"},
		"Brief.severity":     {"note", "caution", "conflict"},
		"BuyPiece.kind":      {"strip", "patch", "swatch"},
	}
})

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
	case reflect.Array:
		return map[string]any{"type": "array", "items": schemaOf(t.Elem()), "minItems": t.Len(), "maxItems": t.Len()}
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
			if w := schemaWords()[ownerOf(t, f).Name()+"."+key]; w != nil {
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
