package source

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Set returns a copy of the document in which the value at path is value.
// Tables on the way are made where they are missing; an array can be extended
// by one item. d and everything it shares with the copy stay as they are.
// Positions of the value, and of all beneath it, have label as their file
// name, for instance "--with closure.front.use=horn-36". The error, of type
// Problems, is placed there too.
func (d *Document) Set(path string, value any, label string) (*Document, error) {
	fail := func(format string, args ...any) (*Document, error) {
		return nil, Problems{{Pos: Pos{File: label}, Width: 1, Message: fmt.Sprintf(format, args...)}}
	}
	list, ok := steps(path)
	if !ok || len(list) == 0 {
		return fail("%q does not name a value", path)
	}
	root, err := put(d.Root, list, value, "")
	if err != nil {
		return fail("%s", err)
	}
	c := *d
	c.Root = root.(map[string]any)
	c.over = append(slices.Clip(d.over), override{list, label})
	return &c, nil
}

// Unset returns a copy of the document without the key at path; see Set. An
// item of an array cannot be taken out, for those after it would move up.
func (d *Document) Unset(path, label string) (*Document, error) {
	list, ok := steps(path)
	if !ok || len(list) == 0 || list[len(list)-1].item >= 0 {
		return nil, Problems{{Pos: Pos{File: label}, Width: 1, Message: fmt.Sprintf("%q does not name a key", path)}}
	}
	if _, there := get(d.Root, list); !there {
		return d, nil
	}
	root, err := put(d.Root, list, missing{}, "")
	if err != nil {
		return nil, Problems{{Pos: Pos{File: label}, Width: 1, Message: err.Error()}}
	}
	c := *d
	c.Root = root.(map[string]any)
	c.over = append(slices.Clip(d.over), override{list, label})
	return &c, nil
}

// missing is what put takes for a key that is to go.
type missing struct{}

// put returns v with the value at path replaced. at is the path of v.
func put(v any, path []step, value any, at string) (any, error) {
	if len(path) == 0 {
		return value, nil
	}
	s := path[0]
	if s.item < 0 {
		table, ok := v.(map[string]any)
		if !ok && v != nil {
			if _, list := v.([]any); list {
				return nil, fmt.Errorf("%s is a list: say which of it, such as %s", at, Item(at, 0))
			}
			return nil, fmt.Errorf("%s is a single value, it has no %s", at, s.key)
		}
		e, err := put(table[s.key], path[1:], value, Join(at, s.key))
		if err != nil {
			return nil, err
		}
		table = maps.Clone(table)
		if table == nil {
			table = map[string]any{}
		}
		if _, gone := e.(missing); gone {
			delete(table, s.key)
		} else {
			table[s.key] = e
		}
		return table, nil
	}
	list, ok := v.([]any)
	if !ok && v != nil {
		return nil, fmt.Errorf("%s is not a list", at)
	}
	if s.item > len(list) {
		return nil, fmt.Errorf("%s has %d items, the next is %s", at, len(list), Item(at, len(list)))
	}
	var old any
	if s.item < len(list) {
		old = list[s.item]
	}
	e, err := put(old, path[1:], value, Item(at, s.item))
	if err != nil {
		return nil, err
	}
	list = append(slices.Clone(list), nil)[:max(len(list), s.item+1)]
	list[s.item] = e
	return list, nil
}

// Resolve turns a path as people write it into one for Set and Pos: an item
// of an array of tables may be named by its name, so that closure.front.use
// becomes closure[0].use. Keys that are not in the document are left as they
// are. The error says which name is not there or stands there twice.
func (d *Document) Resolve(path string) (string, error) {
	list, ok := steps(path)
	if !ok || len(list) == 0 {
		return "", fmt.Errorf("%q does not name a value", path)
	}
	out := ""
	var v any = d.Root
	for _, s := range list {
		if items, ok := v.([]any); ok && s.item < 0 {
			n, err := named(items, s.key, out)
			if err != nil {
				return "", err
			}
			out, v = Item(out, n), items[n]
			continue
		}
		if s.item < 0 {
			out = Join(out, s.key)
		} else {
			out = Item(out, s.item)
		}
		v, _ = get(v, []step{s})
	}
	return out, nil
}

func named(items []any, name, at string) (int, error) {
	found := -1
	var names []string
	for i, item := range items {
		table, _ := item.(map[string]any)
		switch n, ok := table["name"].(string); {
		case !ok:
		case n == name && found >= 0:
			return 0, fmt.Errorf("%s has two items named %q, say which: %s or %s", at, name, Item(at, found), Item(at, i))
		case n == name:
			found = i
		default:
			names = append(names, n)
		}
	}
	if found < 0 {
		if len(names) == 0 {
			return 0, fmt.Errorf("%s has no item named %q", at, name)
		}
		return 0, fmt.Errorf("%s has no item named %q, only %s", at, name, strings.Join(names, ", "))
	}
	return found, nil
}

// ParseValue turns the right-hand side of KEY=VALUE into a value: a number,
// true or false, a quoted text, an array or an inline table as TOML has them,
// and anything else the text itself: horn-36, 24 in.
func ParseValue(s string) any {
	s = strings.TrimSpace(s)
	if s == "" || !strings.ContainsRune("0123456789+-\"'[{tf", rune(s[0])) || strings.ContainsAny(s, "\n\r") {
		return s
	}
	if n, err := strconv.ParseInt(s, 10, 64); err == nil && s[0] >= '1' && s[0] <= '9' {
		return n
	}
	if c := s[0]; (c >= '0' && c <= '9' || c == '+' || c == '-') && strings.ContainsAny(s, " /\"±") {
		return s // 1 7/8 in: no number of TOML has any of these
	}
	d, err := Parse("", []byte("v = "+s))
	if err != nil || int(d.index.nodes[1].valueEnd) != len(d.text) { // a # would begin a comment
		return s
	}
	switch v := d.Root["v"].(type) {
	case time.Time:
		return s
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return s
		}
	}
	return d.Root["v"]
}
