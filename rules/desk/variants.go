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
	var wrong source.Problems
	for _, name := range g.Variants() {
		v, err := g.AsVariant(name)
		if err == nil {
			err = rules.SettledFaults(v)
		}
		var problems source.Problems
		if errors.As(err, &problems) {
			wrong = append(wrong, problems...)
			continue
		}
		if err != nil {
			return err
		}
		q := search.Checked(v, search.CheckOptions{Measuring: in.measuring(), Fixes: in.cmd.fixes})
		if err := q.SettledConflicts(); err != nil {
			return err
		}
		p.Variants = append(p.Variants, q)
	}
	return wrong.Err()
}

// withVariants are plans, each followed by those of its variants.
func withVariants(plans []*rules.Planned) []*rules.Planned {
	var out []*rules.Planned
	for _, p := range plans {
		out = append(out, p.All()...)
	}
	return out
}
