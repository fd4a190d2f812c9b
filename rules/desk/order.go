package desk

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/sheet"
	"placketeer/rules/work"
)

func orderCommand() *command {
	return &command{
		name: "order", args: "FILE|DIR…",
		does:  "one order of notions and goods for many garments and how many of them are made",
		about: "Adds up what all garments and variants take that say how many of them are made (make = { S = 12, M = 20 } in the file, and in a [variant.NAME]), pools the packs, and lists what to buy by supplier with its cost. Two currencies are never added; what has no price is listed and not counted.",
		examples: []string{
			"order patterns/",
			"order coat.toml --make S=12,M=20",
			"order patterns/ --table order --out order.csv",
		},
		flags: []flag{
			{name: "make", value: "SIZE=N,…", doc: "how many of each size, in the place of every make there is; a number where there are no sizes", hint: "S=12,M=20"},
			formatFlag(sheet.Formats...), tableFlag(sheet.OrderTables...), outFlag(), withFlag(), variantFlag(), catalogFlag(), unitsFlag(), oneUnitFlag(), strictFlag(), colorFlag(),
		},
		variants: true,
		action:   order,
	}
}

func order(in *call) error {
	if err := in.checkTable(); err != nil {
		return err
	}
	counts, err := in.makeFlag()
	if err != nil {
		return err
	}
	names, failed := in.names()
	if len(names) == 0 {
		return failed
	}
	plans, wrong := in.plans(names)
	if isUsage(wrong) {
		return wrong
	}
	if failed == nil {
		failed = wrong
	}
	var batches []work.Batch
	var left []sheet.LeftOut
	var made []*rules.Planned
	for _, p := range plans {
		found := 0
		all := p.All()
		for _, v := range all {
			g := v.Garment
			n := g.Make.N
			if counts != nil && (g.Make.Total() > 0 || len(all) == 1 || g.Variant == "" && !slices.ContainsFunc(all, isMade)) {
				if n, err = counts.of(g); err != nil {
					return err
				}
			}
			b := work.Batch{Plan: v, Garments: n}
			if b.Total() == 0 {
				continue
			}
			found++
			batches = append(batches, b)
			one := *v
			one.Variants = nil
			made = append(made, &one)
		}
		if found == 0 {
			left = append(left, sheet.LeftOut{File: p.Garment.File, Why: "it does not say how many are made"})
		}
	}
	if len(batches) == 0 {
		if failed != nil {
			return failed
		}
		e := usagef("nothing is ordered: no garment says how many are made")
		like := "12"
		if sizes := plans[0].Garment.Sizes; sizes[0] != "" {
			like = sizes[0] + "=12"
		}
		return e.write("--make %s, or make = { … } in the file", text.Shell(like))
	}
	units, inches := measure.MM, 0
	for _, p := range made {
		if p.Garment.Units.Is(measure.In) {
			inches++
		}
	}
	if 2*inches >= len(made) {
		units = measure.In
	}
	p, err := work.NewPurchase(batches, in.alone(units))
	if err != nil {
		return &unusable{"", err}
	}
	if err := in.deliverText(func(w io.Writer) error { return sheet.Order(w, p, left, in.sheetOptions()) }); err != nil {
		return err
	}
	if failed != nil {
		return failed
	}
	return in.verdict(made)
}

func isMade(p *rules.Planned) bool { return p.Garment.Make.Total() > 0 }

// counts are how many are made by --make: of each size, or "" where there are
// no sizes.
type counts map[string]int

// makeFlag reads --make; nil where it was not given.
func (in *call) makeFlag() (counts, error) {
	if !in.has("make") {
		return nil, nil
	}
	out := counts{}
	for _, part := range strings.Split(in.text("make"), ",") {
		size, number, ok := cutLast(part, "=")
		if !ok {
			size, number = "", part
		}
		size, number = strings.TrimSpace(size), strings.TrimSpace(number)
		n, err := strconv.Atoi(number)
		switch {
		case err != nil || ok && size == "":
			return nil, usagef("--make %q: it is not SIZE=NUMBER", text.Safe(in.text("make"))).write("--make S=12,M=20, or --make 12 where there are no sizes")
		case n < 0 || n > catalog.MaxMade:
			return nil, usagef("--make: %d of one size, but must lie between 0 and %d", n, catalog.MaxMade).write("--make S=12,M=20")
		}
		if _, twice := out[size]; twice {
			return nil, usagef("--make: %s is given twice", cmp.Or(size, "the number")).write("--make S=12,M=20")
		}
		out[size] = n
	}
	return out, nil
}

// cutLast cuts a text at the last of a sign.
func cutLast(s, sign string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sign); i >= 0 {
		return s[:i], s[i+len(sign):], true
	}
	return s, "", false
}

// of are the numbers for the sizes of a garment.
func (c counts) of(g *catalog.Garment) ([]int, error) {
	out := make([]int, len(g.Sizes))
	for _, size := range slices.Sorted(maps.Keys(c)) {
		i := slices.Index(g.Sizes, size)
		switch {
		case i >= 0:
			out[i] = c[size]
		case size == "":
			return nil, usagef("--make: %s has sizes: say how many of each", text.Safe(g.File)).write("--make %s", text.Shell(source.Join("", g.Sizes[0])+"="+fmt.Sprint(c[size])))
		case g.Sizes[0] == "":
			return nil, usagef("--make: %s has no sizes", text.Safe(g.File)).write("--make 12")
		default:
			says, instead := text.NoSuch(g.File, "size", size, g.Sizes)
			return nil, usagef("--make: %s", says).write("--make %s=%d", instead, c[size])
		}
	}
	return out, nil
}
