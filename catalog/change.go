package catalog

import "placketeer/catalog/source"

// The same with changes as texts, KEY=VALUE.

// Change is Alter with changes as texts.
func (g *Garment) Change(with ...string) (*Garment, error) {
	w, err := parseWiths(with)
	if err != nil {
		return nil, err
	}
	return g.Alter(w...)
}

// Lines is Rewrite with changes as texts.
func (g *Garment) Lines(with ...string) (text []byte, lines []source.Edit, err error) {
	w, err := parseWiths(with)
	if err != nil {
		return nil, nil, err
	}
	return g.Rewrite(w...)
}

// Swap is Replace with changes as texts.
func (g *Garment) Swap(kind, name, use string) []string { return Texts(g.Replace(kind, name, use)) }

// Keeps is Kept with a change as a text.
func (g *Garment) Keeps(change string) string {
	key, _, _ := cutChange(change)
	return g.Kept(With{Key: key})
}

// With are the changes this garment was read with, as texts.
func (g *Garment) With() []string { return Texts(g.with) }
