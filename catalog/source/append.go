package source

import "fmt"

// Text is the text of the document as it was read.
func (d *Document) Text() string { return d.text }

// Append adds an item to an array of tables of the file, such as [[settled]],
// with these keys in their order: below the last item that it has, else at the
// end of the file. Assignments that take a key out are left aside. It returns
// the new text and the lines that differ; the rest stays as it is.
func (d *Document) Append(name string, keys ...Assignment) ([]byte, []Edit, error) {
	block := []string{"", "[[" + Join("", name) + "]]"}
	wide := 0
	for _, k := range keys {
		if !k.Out {
			wide = max(wide, len(Join("", k.Path)))
		}
	}
	for _, k := range keys {
		if !k.Out {
			block = append(block, fmt.Sprintf("%-*s = %s", wide, Join("", k.Path), Text(k.Value)))
		}
	}
	lines := make([]line, d.Lines())
	for i := range lines {
		lines[i] = line{d.Line(i + 1), i + 1}
	}
	at := len(lines) // below that line
	for at > 0 && lines[at-1].text == "" {
		at--
	}
	x := d.index
	if id := x.child(0, name); id >= 0 {
		if x.nodes[id].kind != tables {
			return nil, nil, fmt.Errorf("%s is not written as [[%s]]", name, name)
		}
		e := editor{doc: d}
		at = e.end(id) + 1
	}
	out := make([]line, 0, len(lines)+len(block))
	out = append(out, lines[:at]...)
	for _, b := range block {
		out = append(out, line{b, 0})
	}
	out = append(out, lines[at:]...)
	if at == len(lines) {
		out = append(out, line{}) // the file ends in a line end
	}
	text := d.joined(out)
	if _, err := Parse(d.Name, []byte(text)); err != nil {
		return nil, nil, fmt.Errorf("the changed text cannot be read: %w", err)
	}
	return []byte(text), d.differences(out), nil
}
