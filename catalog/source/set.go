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
// name, for instance "--with closure.front.use=horn-36": a text, or what
// prints as one. The error, of type Problems, is placed there too.
func (d *Document) Set(path string, value, label any) (*Document, error) {
	list, ok := d.path(path)
	if !ok || len(list) == 0 {
		return nil, refused(label, fmt.Errorf("%q does not name a value", path))
	}
	return d.changed(override{path: list, label: label}, value)
}

// SetFrom is Set for a value that stands in the document itself, at from,
// which goes through tables alone: that is its place.
func (d *Document) SetFrom(path string, value any, from string) (*Document, error) {
	return d.withFrom(path, value, from)
}

// UnsetFrom is Unset where something at from in the document asks for it.
func (d *Document) UnsetFrom(path, from string) (*Document, error) {
	if _, there := d.Get(path); !there {
		return d, nil
	}
	return d.withFrom(path, missing{}, from)
}

func (d *Document) withFrom(path string, value any, from string) (*Document, error) {
	list, ok := d.path(path)
	at, ok2 := ParsePath(from)
	if !ok || !ok2 || len(list) == 0 {
		return nil, refused("", fmt.Errorf("%q does not name a value", path))
	}
	return d.changed(override{path: list, label: "", from: at}, value)
}

// changed is the document with the value at the path of an override replaced.
func (d *Document) changed(o override, value any) (*Document, error) {
	root, err := put(d.Root, o.path, value, make(Path, 0, len(o.path)))
	if err != nil {
		return nil, refused(o.label, err)
	}
	c := *d
	c.Root = root.(map[string]any)
	c.over = append(slices.Clip(d.over), o)
	return &c, nil
}

func refused(label any, err error) Problems {
	return Problems{{Pos: Pos{File: fmt.Sprint(label)}, Width: 1, Message: err.Error()}}
}

// Unset returns a copy of the document without the key at path; see Set. An
// item of an array cannot be taken out, for those after it would move up.
func (d *Document) Unset(path string, label any) (*Document, error) {
	list, ok := d.path(path)
	if !ok || len(list) == 0 || list[len(list)-1].Item >= 0 {
		return nil, refused(label, fmt.Errorf("%q does not name a key", path))
	}
	if _, there := get(d.Root, list); !there {
		return d, nil
	}
	return d.changed(override{path: list, label: label}, missing{})
}

// missing is what put takes for a key that is to go.
type missing struct{}

// put returns v with the value at path replaced. at is the path of v.
func put(v any, path Path, value any, at Path) (any, error) {
	if len(path) == 0 {
		return value, nil
	}
	s := path[0]
	at = append(at, s)
	here := at[:len(at)-1]
	if s.Item < 0 {
		table, ok := v.(map[string]any)
		if !ok && v != nil {
			if items, list := v.([]any); list {
				if _, err := named(items, s.Key, here.String()); err != nil && hasNames(items) {
					return nil, err
				}
				return nil, fmt.Errorf("%s is a list: say which of it, such as %s", here, Item(here.String(), 0))
			}
			return nil, fmt.Errorf("%s is a single value, it has no %s", here, s.Key)
		}
		e, err := put(table[s.Key], path[1:], value, at)
		if err != nil {
			return nil, err
		}
		now := make(map[string]any, len(table)+1)
		maps.Copy(now, table)
		if _, gone := e.(missing); gone {
			delete(now, s.Key)
		} else {
			now[s.Key] = e
		}
		return now, nil
	}
	list, ok := v.([]any)
	if !ok && v != nil {
		return nil, fmt.Errorf("%s is not a list", here)
	}
	if s.Item > len(list) {
		return nil, fmt.Errorf("%s has %d items, the next is %s", here, len(list), Item(here.String(), len(list)))
	}
	var old any
	if s.Item < len(list) {
		old = list[s.Item]
	}
	e, err := put(old, path[1:], value, at)
	if err != nil {
		return nil, err
	}
	list = append(slices.Clone(list), nil)[:max(len(list), s.Item+1)]
	list[s.Item] = e
	return list, nil
}

// Named is a path with the items of arrays of tables by name where they have
// one: closure.front.use for closure[0].use. ok is false where the path
// cannot be read.
func (d *Document) Named(path string) (p Path, ok bool) {
	p, ok = d.path(path)
	var v any = d.Root
	for i, s := range p {
		if v, _ = s.of(v); s.Item < 0 {
			continue
		}
		if table, is := v.(map[string]any); is {
			if name, is := table["name"].(string); is {
				p[i] = Step{name, -1}
			}
		}
	}
	return p, ok
}

// hasNames says whether any item of a list has a name.
func hasNames(items []any) bool {
	return slices.ContainsFunc(items, func(item any) bool {
		table, _ := item.(map[string]any)
		_, ok := table["name"].(string)
		return ok
	})
}

// named is the number of the item of that name in the list at a path.
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
	switch c := s[0]; {
	case c == 't' || c == 'f': // no other value begins so
		if s == "true" || s == "false" {
			return s == "true"
		}
		return s
	case strings.IndexByte("\"'[{", c) < 0 && strings.Trim(s, "0123456789+-_.:abcdefABCDEFinoxTZtz") != "":
		return s // horn-36 and 45L: no number and no date of TOML has such letters
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
