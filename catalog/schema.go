package catalog

import (
	"fmt"
	"slices"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

// The JSON Schema of garment and catalogue files, for editors: made from the
// tables of keys that the reader goes by. It knows the kinds of values and
// the words they may be; what a length may be at most, and what must fit
// together, only the reader knows.

// object is a JSON object.
type object = map[string]any

// GarmentSchema is the JSON Schema (draft 2020-12) of garment files that use
// this catalogue.
func (c *Catalog) GarmentSchema() ([]byte, error) {
	blank := &Garment{Catalog: c}
	s := tableSchema(blank.rootFields(&rawRoot{closures: make([]rawClosure, 1)}))
	// What a file does not say, its base may: of a closure in a file that has
	// one, only the name is asked.
	closure := s["properties"].(object)["closure"].(object)["items"].(object)
	s["if"] = object{"not": object{"required": []string{"base"}}}
	s["then"] = object{"required": s["required"], "properties": object{"closure": object{"items": asked(closure)}}}
	closure["required"] = []string{"name"}
	delete(s, "required")
	return c.schema(s, "garment file of placketeer", "What a garment is made of, and the closures on it.")
}

// asked takes out of the schema of a table the keys that it asks for, there and
// in the tables in it, and gives them as a schema of their own.
func asked(s object) object {
	out := object{}
	if need, ok := s["required"]; ok {
		out["required"] = need
		delete(s, "required")
	}
	props, _ := s["properties"].(object)
	inside := object{}
	for _, k := range sortedKeys(props) {
		if t, _ := props[k].(object); t["type"] == "object" {
			if in := asked(t); len(in) > 0 {
				inside[k] = in
			}
		}
	}
	if len(inside) > 0 {
		out["properties"] = inside
	}
	return out
}

// FileSchema is the JSON Schema of catalogue files.
func (c *Catalog) FileSchema() ([]byte, error) {
	props := object{"currency": currencyField(new(string)).schema()}
	for _, s := range c.sections() {
		props[s.name] = object{"type": "array", "description": s.doc, "items": tableSchema(s.fields())}
	}
	return c.schema(object{"type": "object", "properties": props, "additionalProperties": false},
		"catalogue file of placketeer", "Fasteners, cloths, interfacings, threads, needles and machines that garments call by name.")
}

func (c *Catalog) schema(s object, title, about string) ([]byte, error) {
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"], s["description"] = title, about
	s["$defs"] = object{
		"length": object{
			"description": `a length: "1 1/8 in", "28 mm", "40L", with ± after it if you like, or a number in the units of the file`,
			"anyOf":       []any{object{"type": "string", "pattern": `\S`}, object{"type": "number", "minimum": 0}},
		},
		"lengthBySize": object{
			"description": "one length for all sizes, one for each: { S = \"23 in\", M = \"24 in\" }, or one and its grade: " + gradeLike,
			"anyOf": []any{
				object{"$ref": "#/$defs/length"},
				object{
					"type": "object", "minProperties": 1, "additionalProperties": object{"$ref": "#/$defs/length"},
					"propertyNames": object{"not": object{"enum": append([]string{"min", "max"}, gradeWords...)}}, // no size is called so
				},
				object{
					"type": "object", "required": gradeWords, "additionalProperties": false, "properties": object{
						"at":   object{"$ref": "#/$defs/length"},
						"size": object{"type": "string", "pattern": `\S`},
						"grade": object{"anyOf": []any{
							object{"$ref": "#/$defs/grade"},
							object{
								"type": "object", "minProperties": 1, "additionalProperties": object{"$ref": "#/$defs/grade"},
								"propertyNames": object{"pattern": `\S\s*\.\.\s*\S`},
							},
						}},
					},
				},
			},
		},
		"grade": object{
			"description": "what a length grows by from each size to the next; less than nothing where it becomes shorter",
			"anyOf":       []any{object{"type": "string", "pattern": `\S`}, object{"type": "number"}},
		},
		"count": object{
			"description": "a number, or { min, max }",
			"anyOf": []any{
				object{"type": "integer", "minimum": 1, "maximum": 200},
				object{"type": "object", "required": []string{"min", "max"}, "additionalProperties": false, "properties": object{
					"min": object{"type": "integer", "minimum": 1, "maximum": 200},
					"max": object{"type": "integer", "minimum": 1, "maximum": 200},
				}},
			},
		},
	}
	return text.JSON(s)
}

// tableSchema is the schema of a table with these keys.
func tableSchema(fields []field) object {
	props := object{}
	var need []string
	for _, fd := range fields {
		props[fd.name] = fd.schema()
		if fd.required {
			need = append(need, fd.name)
		}
	}
	s := object{"type": "object", "properties": props, "additionalProperties": false}
	if len(need) > 0 {
		s["required"] = need
	}
	return s
}

// schema is the schema of the value of one key.
func (fd field) schema() object {
	s := fd.valueSchema()
	s["description"] = fd.doc
	return s
}

func (fd field) valueSchema() object {
	ref := func(name string) object { return object{"$ref": "#/$defs/" + name} }
	text := func() object {
		s := object{"type": "string", "pattern": `\S`}
		if fd.enum != nil {
			s["enum"] = fd.enum
			delete(s, "pattern")
		}
		if fd.currency {
			s["pattern"] = "^[A-Z]{3}$"
		}
		return s
	}
	number := func(kind string) object {
		s := object{"type": kind, "minimum": 0.0, "maximum": 1e6}
		if fd.bounded {
			s["minimum"], s["maximum"] = fd.lo, fd.hi
		}
		return s
	}
	listOf := func(items object) object { return object{"type": "array", "items": items} }
	switch dst := fd.dst.(type) {
	case *string:
		return text()
	case *Measured:
		if fd.signed {
			return object{"anyOf": []any{object{"type": "string", "pattern": `\S`}, object{"type": "number"}}}
		}
		return ref("length")
	case *Sized:
		return ref("lengthBySize")
	case window:
		return object{"anyOf": []any{
			ref("lengthBySize"),
			object{"type": "object", "required": []string{"min", "max"}, "additionalProperties": false, "properties": object{
				"min": ref("lengthBySize"), "max": ref("lengthBySize"),
			}},
		}}
	case *Range:
		return object{"type": "object", "additionalProperties": false, "properties": object{"min": ref("length"), "max": ref("length")}}
	case *[]measure.Length:
		return listOf(ref("length"))
	case *[]string:
		return listOf(text())
	case *int, *Opt[int]:
		return number("integer")
	case *Opt[float64]:
		return number("number")
	case *Opt[bool]:
		return object{"type": "boolean"}
	case *Opt[measure.AreaWeight], *Opt[measure.LinearDensity], *Opt[measure.NeedleSize], *Opt[measure.Temperature]:
		return object{"type": "string", "pattern": `\S`}
	case *Amount:
		return object{"anyOf": []any{object{"type": "string", "pattern": `\S`}, object{"type": "number"}}}
	case *map[string]float64:
		s := object{"type": "object", "additionalProperties": object{"type": "number", "minimum": 0, "maximum": 100}}
		if fd.enum != nil {
			s["propertyNames"] = object{"enum": fd.enum}
		}
		return s
	case *[]Count:
		return object{"anyOf": []any{
			ref("count"),
			object{"type": "object", "minProperties": 1, "additionalProperties": ref("count"), "not": object{"anyOf": []any{
				object{"required": []string{"min"}}, object{"required": []string{"max"}},
			}}},
		}}
	case subTable:
		return tableSchema(dst)
	case named:
		return object{"type": "object", "additionalProperties": tableSchema(dst.blank())}
	case list:
		dst.grow(1)
		return listOf(tableSchema(dst.item(0)))
	case rowList:
		return listOf(tableSchema(rowFields(0, &rowEntry{})))
	case rawTable:
		return notionSchema()
	case *Made:
		return madeSchema()
	case variants:
		return object{"type": "object", "maxProperties": MaxVariants, "additionalProperties": object{
			"type": "object", "properties": object{"make": madeSchema()}, "maxProperties": MaxItems,
			"additionalProperties": object{"type": []string{"string", "number", "boolean", "array", "object"}},
		}}
	}
	panic(fmt.Sprintf("no schema for %s: %T", fd.name, fd.dst))
}

// madeSchema is the schema of how many are made.
func madeSchema() object {
	n := object{"type": "integer", "minimum": 0, "maximum": MaxMade}
	return object{"anyOf": []any{n, object{"type": "object", "additionalProperties": n}}}
}

// notionSchema is the schema of a fastener described in a garment file:
// which keys it may have depends on its kind, so all of them are taken.
func notionSchema() object {
	kinds := map[string][]object{}
	for _, kind := range fasteners {
		for _, fd := range ownNotionFields(kind, &Notion{}) {
			s := fd.schema()
			if !slices.ContainsFunc(kinds[fd.name], func(o object) bool { return fmt.Sprint(o) == fmt.Sprint(s) }) {
				kinds[fd.name] = append(kinds[fd.name], s)
			}
		}
	}
	props := object{}
	for name, list := range kinds {
		props[name] = list[0]
		if len(list) > 1 {
			props[name] = object{"anyOf": list}
		}
	}
	return object{"type": "object", "properties": props, "additionalProperties": false}
}
