package desk

import (
	"errors"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/rules"
	"placketeer/rules/search"
)

func variantFlag() flag {
	return flag{name: "variant", value: "NAME", doc: "this variant of the file alone", hint: "navy"}
}

// variant is the one variant that is asked for, "" where none is.
func (in *call) variant() string {
	if in.cmd.flag("variant") == nil {
		return ""
	}
	return in.text("variant")
}

// noVariant is the error of a variant that a file does not have.
func noVariant(e *catalog.VariantError) error {
	says, instead := e.Says()
	u := usagef("--variant: %s", says)
	switch {
	case len(e.Known) == 0:
		return u.write("the command without --variant")
	case instead == "":
		return u
	}
	return u.write("--variant %s", instead)
}

// checkVariants plans the variants of a garment's file beside it, where the
// command tells all of them and none is asked for alone.
func (in *call) checkVariants(p *rules.Planned) error {
	g := p.Garment
	if !in.cmd.variants || g.Variant != "" {
		return nil
	}
	names := g.Variants()
	results := make([]struct {
		p   *rules.Planned
		err error
	}, len(names))
	parallel(len(names), func(i int) { results[i].p, results[i].err = in.checkedVariant(g, names[i], 1+len(names)) })
	var wrong source.Problems
	for _, r := range results {
		var problems source.Problems
		switch {
		case errors.As(r.err, &problems):
			wrong = append(wrong, problems...)
		case r.err != nil:
			return r.err
		default:
			p.Variants = append(p.Variants, r.p)
		}
	}
	return wrong.Err()
}

// checkedVariant plans one variant of a garment's file, one of so many.
func (in *call) checkedVariant(g *catalog.Garment, name string, of int) (*rules.Planned, error) {
	v, err := g.AsVariant(name)
	if err == nil {
		err = rules.SettledFaults(v)
	}
	if err != nil {
		return nil, err
	}
	p := search.Checked(v, search.CheckOptions{Measuring: in.measuring(), Fixes: in.cmd.fixes, Unwritten: in.unwritten(), Of: of})
	return p, p.SettledConflicts()
}
