package desk

import (
	"strings"
	"sync"

	"placketeer/catalog/text"
	"placketeer/rules/sheet"
)

// outputSchema hands over the schema of what a command writes for programs.
func (in *call) outputSchema(command string) error {
	s := outputOf(command)
	if s == nil {
		var have []string
		for _, c := range commands() {
			if outputOf(c.name) != nil {
				have = append(have, c.name)
			}
		}
		if near := text.Nearest(command, have); near != "" {
			return usagef("there is no output of %q", command).write("%s schema output %s", Program, near)
		}
		return usagef("%q writes no JSON", command).write("%s schema output, and one of: %s", Program, strings.Join(have, ", "))
	}
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = Program + " " + command
	if command == "check" || command == "spec" { // they write the same
		s["title"] = Program + " check and spec"
	}
	s["description"] = "Keys that end in _mm are exact millimetres. A list that has nothing is [], a value that does not apply or is not known is null."
	data, err := text.JSON(s)
	if err != nil {
		return err
	}
	return in.deliver(data)
}

// outputOf is the JSON Schema of what a command writes for programs, nil where
// it writes nothing for them.
func outputOf(command string) map[string]any {
	switch command {
	case "catalog":
		// An entry has the keys that a file of the catalogue may have for its kind.
		s := objectOf("kind:s name:s file:s")
		s["additionalProperties"] = true
		s["properties"].(map[string]any)["name"] = map[string]any{"type": "string"}
		s["patternProperties"] = map[string]any{"_mm$": map[string]any{"type": []any{"number", "array", "null"}}}
		return map[string]any{"type": "array", "items": s}
	case "explain":
		return map[string]any{"type": "array", "items": map[string]any{"anyOf": []any{objectOf(ruleKeys), objectOf(keyKeys)}}}
	}
	if keys, ok := answerKeys()[command]; ok {
		return objectOf(keys + " findings:[rule:s,severity:s,message:s,short:s,from:[s],sources:[s]] left_open:[rule:s,needs:s] next?:s")
	}
	return sheet.Schema(command)
}

// What rules and keys have in explain.
const (
	ruleKeys = "rule:s severity:s title:s formula:s why:s sources:[s] ours:s others:s touches:[s] rests:[s] thresholds:[name:s,figure:s,ground:s,lenient?:b]"
	keyKeys  = "key:s says:s takes:s words:[s] example:s keys:[s] changed_by:[s]"
)

// answerKeys are the keys of the answers of the quick commands beside those
// that all have. s is a text, n a number, b yes or no, one in brackets a list
// of them, or of objects; a big letter may be null, and what has a ? is there
// only in some answers.
var answerKeys = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"buttonhole": "length_mm?:n passing_mm?:n ease_mm?:n stitched_mm?:N kind?:s rule?:s units:s working?:[s] others?:[rule:s,says:s,length_mm:n] " +
			"sizes?:[ligne:n,diameter_mm:n,thickness_mm:n,thickness_tolerance_mm:n,length_mm:n]",
		"stand": "least_mm?:n usual_mm?:n full_mm?:n have_mm?:N known?:b construction?:S band_mm?:N band_cut_mm?:N extension_mm?:N facing_least_mm?:n facing_usual_mm?:n " +
			"folded_extension_mm?:n units:s stand_mm?:n diameter_mm?:n most_mm?:n flap_least_mm?:n flap_usual_mm?:n tape_mm?:N",
		"spacing": "positions_mm:[n] gaps_mm:[n] spread_mm:n count:n step_mm?:n last_mm?:n units:s clash?:[s] works?:[count:n,gap_least_mm:n,gap_most_mm:n,without:S]",
		"strip":   "width_mm:n least_mm:n usual_mm:n direction:s units:s across:N needed_mm:N",
		"needle": "nm_min:n nm_max:n nm:n us:n point:s class:s thread_tex:n thread_tex_min:n thread_tex_max:n thread_of_blade:n stitch_mm:n stack_mm:n " +
			"stack_tolerance_mm:n pressed_mm:n estimated:b",
		"convert": "kind:s note:s mm?:n in?:n ligne?:n cm?:n ft?:n yd?:n gsm?:n oz_yd2?:n tex?:n denier?:n nm?:n ne?:n tkt?:n cotton_tkt?:n dtex?:n " +
			"needle_nm?:n needle_us?:n blade_mm?:n c?:n f?:n dots?:N stitch_mm?:n spi?:n per_10_cm?:n number?:n",
		"post":   "attach:s pressed_mm:n post_min_mm:N post_max_mm:N grip_min_mm:N grip_max_mm:N punch_mm:N rule:s units:s",
		"zip":    "need_mm:n buy_mm:N shorten_mm:n end:s top_mm:n longest_mm:N number:n number_min:n number_max:n units:s",
		"loop":   "girth_mm:n least_mm:n inside_mm:n usual_mm:n most_mm:n cut_mm:n cord_mm:N units:s",
		"press":  "iron_c:N fuse_c:N fibre:s dots:n units:s",
		"thread": "used_mm:n hole_mm:n spools:N shank_mm:N shank_most_mm:N backing_mm:N thread_tex:n units:s",
	}
})

// objectOf is the schema of an object of those keys, and its version.
func objectOf(keys string) map[string]any {
	s := partsOf(strings.Fields(keys))
	s["properties"].(map[string]any)["version"] = map[string]any{"const": sheet.OutputVersion}
	s["required"] = append([]any{"version"}, s["required"].([]any)...)
	return s
}

func partsOf(keys []string) map[string]any {
	props, required := map[string]any{}, []any{}
	for _, k := range keys {
		name, kind, _ := strings.Cut(k, ":")
		plain, some := strings.CutSuffix(name, "?")
		if !some {
			required = append(required, plain)
		}
		props[plain] = typeOf(kind)
	}
	return map[string]any{"type": "object", "properties": props, "required": required, "additionalProperties": false}
}

func typeOf(kind string) map[string]any {
	names := map[string]string{"s": "string", "n": "number", "b": "boolean"}
	inner, list := strings.CutPrefix(kind, "[")
	switch name := names[strings.ToLower(kind)]; {
	case list:
		inner = strings.TrimSuffix(inner, "]")
		if strings.Contains(inner, ":") {
			return map[string]any{"type": "array", "items": partsOf(splitKeys(inner))}
		}
		return map[string]any{"type": "array", "items": typeOf(inner)}
	case kind != strings.ToLower(kind):
		return map[string]any{"type": []any{name, "null"}}
	default:
		return map[string]any{"type": name}
	}
}

// splitKeys takes the keys of an object in a list apart, at the commas that are not
// in brackets.
func splitKeys(s string) []string {
	var out []string
	depth, from := 0, 0
	for i, r := range s {
		switch r {
		case '[':
			depth++
		case ']':
			depth--
		case ',':
			if depth == 0 {
				out = append(out, s[from:i])
				from = i + 1
			}
		}
	}
	return append(out, s[from:])
}
