package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

// writeCSV writes the findings, or the notions list and the size table. Every
// row begins with the name of its table, every table with a row of headings;
// all rows are as long as the longest, so that any reader takes them.
func writeCSV(sheets []*Garment, k kind) (string, error) {
	return text.CSV(csvTables(sheets, k))
}

func csvTables(sheets []*Garment, k kind) [][]string {
	var rows [][]string
	if k == check {
		rows = csvFindings(sheets)
	} else {
		for _, table := range []func([]*Garment) [][]string{csvNotions, csvGoods, csvPlaces, csvLines, csvAreas, csvParts} {
			rows = append(rows, byVariant(sheets, table)...)
		}
	}
	return rows
}

// Tables are the tables that can be asked for alone.
var Tables = []string{"places", "notions", "goods", "closures", "findings"}

// writeTable writes one table alone: a row of headings, and rows as long as it,
// without the name of the table that the rows of several begin with.
func writeTable(sheets []*Garment, name string) (string, error) {
	var rows [][]string
	switch name {
	case "places":
		rows = byVariant(sheets, csvPlaces)
	case "notions":
		rows = byVariant(sheets, csvNotions)
	case "goods":
		rows = byVariant(sheets, csvGoods)
	case "closures":
		rows = byVariant(sheets, csvClosures)
	case "findings":
		rows = csvFindings(sheets)
	default:
		return "", fmt.Errorf("there is no table %q: use %s", name, strings.Join(Tables, ", "))
	}
	for i := range rows {
		rows[i] = rows[i][1:]
	}
	return text.CSV(rows)
}

// csvClosures are what the closures take.
func csvClosures(sheets []*Garment) [][]string {
	rows := [][]string{{
		"table", "file", "garment", "closure", "where", "lap over", "fastener", "notion", "pieces", "spare", "count",
		"over mm", "under mm", "hole", "direction", "cut mm", "passing mm", "stitched mm",
		"construction", "stand mm", "stand least mm", "stand usual mm", "band mm", "extension mm", "strip mm", "needle NM", "needle point", "thread Tex", "stitch mm",
	}}
	length := func(m *MM) string {
		if m == nil {
			return ""
		}
		return exact(*m)
	}
	for _, s := range sheets {
		for i := range s.Closures {
			c := &s.Closures[i]
			var counts []string
			for j := range c.Sizes {
				if n := itoa(c.Sizes[j].Count); !slices.Contains(counts, n) {
					counts = append(counts, n)
				}
			}
			r := []string{
				"closures", s.File, s.Garment, c.Name, deref(c.Where), deref(c.LapOver), c.Fastener, c.Notion, itoa(c.Pieces), itoa(c.Spare), strings.Join(counts, " "),
				exact(c.Stack.Over), exact(c.Stack.Under), "", "", "", "", "", "", "", "", "", "", "", "", "", "", "", exact(c.StitchMM),
			}
			if h := c.Hole; h != nil {
				copy(r[13:], []string{h.Kind, h.Direction, exact(h.Length), exact(h.Passing), length(h.Stitched)})
			}
			if st := c.Stand; st != nil {
				copy(r[18:], []string{deref(st.Construction), length(st.Have), exact(st.Least), exact(st.Usual), length(st.Band), length(st.Extension)})
			}
			if u := c.Support; u != nil {
				r[24] = exact(u.Strip)
			}
			if n := c.Needle; n != nil {
				r[25], r[26] = itoa(n.Used), n.Point
			}
			if t := c.Thread; t != nil {
				r[27] = floatText(&t.Tex)
			}
			rows = append(rows, r)
		}
	}
	return rows
}

// byVariant is a table of the sheets and of their variants, with the name of
// the variant behind each row.
func byVariant(sheets []*Garment, table func([]*Garment) [][]string) [][]string {
	head := table(nil)[0]
	rows := [][]string{append(head, "variant")}
	for _, s := range flat(sheets) {
		for _, r := range table([]*Garment{s})[1:] {
			rows = append(rows, append(r, deref(s.Variant)))
		}
	}
	return rows
}

func floatText(f *float64) string {
	if f == nil {
		return ""
	}
	return strconv.FormatFloat(*f, 'f', -1, 64)
}

func csvFindings(sheets []*Garment) [][]string {
	rows := [][]string{{"table", "file", "garment", "line", "column", "severity", "rule", "closure", "size", "message", "have", "need", "margin", "unit", "try", "settled", "variants"}}
	for _, s := range sheets {
		for _, e := range slices.Concat(s.found, s.settled) {
			for _, f := range e.Where {
				have, need, margin, unit := "", "", "", ""
				if f.Compared {
					have, need, margin, unit = floatText(finite(f.Have)), floatText(finite(f.Need)), floatText(finite(f.Margin)), f.Unit
				}
				var tries []string
				for j := range f.Fixes {
					tries = append(tries, fixSays(&f.Fixes[j]))
				}
				line, column := "", ""
				if f.Pos.Line > 0 {
					line, column = itoa(f.Pos.Line), itoa(f.Pos.Column)
				}
				rows = append(rows, []string{
					"findings", f.Pos.File, s.Garment, line, column, f.Severity.String(), f.Rule, f.Closure, f.Size, f.Message(),
					have, need, margin, unit, strings.Join(tries, "; "), f.Settled, variantsText(e.In),
				})
			}
		}
	}
	return rows
}

// variantsText are the variants that have a finding, the file itself as -;
// "" where all do.
func variantsText(in []string) string {
	out := slices.Clone(in)
	for i, n := range out {
		out[i] = or(n, "-")
	}
	return strings.Join(out, ", ")
}

func csvNotions(sheets []*Garment) [][]string {
	rows := [][]string{{
		"table", "file", "garment", "notion", "kind", "for", "pack", "price each",
		"garment needed", "garment spare", "garment packs", "garment pieces", "garment cost",
		"range needed", "range spare", "range packs", "range pieces", "range cost", "lengths mm", "garment test", "range test",
	}}
	for _, s := range sheets {
		for i := range s.Buy.Notions {
			n := &s.Buy.Notions[i]
			var lengths []string
			for _, l := range n.Lengths {
				lengths = append(lengths, exact(l))
			}
			r := []string{"notions", s.File, s.Garment, n.Notion, n.Kind, strings.Join(n.Closures, ", "), itoa(n.Pack), money(n.Price).Text}
			for _, a := range []*Amount{&n.Garment, &n.Range} {
				r = append(r, itoa(a.Needed), itoa(a.Spare), itoa(a.Packs), itoa(a.Pieces), money(a.Cost).Text)
			}
			rows = append(rows, append(r, strings.Join(lengths, " "), itoa(n.Garment.Test), itoa(n.Range.Test)))
		}
	}
	return rows
}

// csvGoods are the interfacing, the thread and the rest that is bought.
func csvGoods(sheets []*Garment) [][]string {
	rows := [][]string{{"table", "file", "garment", "what", "kind", "for", "goods width mm", "garment mm", "garment buy mm", "range mm", "range buy mm", "spools", "pieces"}}
	length := func(m *MM) string {
		if m == nil {
			return ""
		}
		return exact(*m)
	}
	for _, s := range sheets {
		for i := range s.Buy.Interfacing {
			x := &s.Buy.Interfacing[i]
			var of []string
			for _, p := range x.Pieces {
				if p.Kind != "swatch" {
					of = append(of, p.Closure)
				}
			}
			rows = append(rows, []string{"goods", s.File, s.Garment, x.Interfacing, "interfacing", strings.Join(of, ", "), length(x.Goods), length(x.Garment), length(x.GarmentBuy), length(x.Range), length(x.RangeBuy), "", ""})
		}
		for i := range s.Buy.Thread {
			x := &s.Buy.Thread[i]
			spools := ""
			if x.Spools != nil {
				spools = itoa(*x.Spools)
			}
			rows = append(rows, []string{"goods", s.File, s.Garment, x.Thread, "thread", strings.Join(x.Closures, ", "), "", exact(x.Garment), "", exact(x.Range), "", spools, ""})
		}
		for i := range s.Buy.Cord {
			x := &s.Buy.Cord[i]
			rows = append(rows, []string{"goods", s.File, s.Garment, x.Cord, x.Kind, strings.Join(x.For, ", "), "", length(x.Garment), length(x.GarmentBuy), length(x.Range), length(x.RangeBuy), "", ""})
		}
		for i := range s.Buy.Needles {
			x := &s.Buy.Needles[i]
			rows = append(rows, []string{"goods", s.File, s.Garment, x.Needle, x.Kind, strings.Join(x.Closures, ", "), "", "", "", "", "", "", itoa(x.Pieces)})
		}
		for i := range s.Buy.Sundries {
			x := &s.Buy.Sundries[i]
			rows = append(rows, []string{"goods", s.File, s.Garment, x.What, "sundry", strings.Join(x.Closures, ", "), "", "", "", "", "", "", itoa(x.Pieces)})
		}
	}
	return rows
}

func csvPlaces(sheets []*Garment) [][]string {
	rows := [][]string{{"table", "file", "garment", "closure", "size", "number", "centre mm", "centre", "to the next mm", "to the next", "from centre line mm", "role"}}
	for _, s := range sheets {
		for i := range s.Closures {
			c := &s.Closures[i]
			for j := range c.Sizes {
				z := &c.Sizes[j]
				for n, p := range z.Positions {
					next, out := z.Last, ""
					if n < len(z.Gaps) {
						next = &z.Gaps[n]
					}
					if n < len(z.Rows) {
						out = exact(z.Rows[n])
					}
					r := []string{"places", s.File, s.Garment, c.Name, z.Size, itoa(n + 1), exact(p), measure.Length(p).ShortPlace(s.unit), "", "", out, s.role(i, z.index, n)}
					if next != nil {
						r[8], r[9] = exact(*next), measure.Length(*next).ShortPlace(s.unit)
					}
					rows = append(rows, r)
				}
			}
		}
	}
	return rows
}

// eachPiece runs do for every piece of every closure that holds some.
func eachPiece(sheets []*Garment, do func(head []string, p *PieceOut)) {
	for _, s := range sheets {
		for i := range s.Closures {
			c := &s.Closures[i]
			for j := range c.Sizes {
				z := &c.Sizes[j]
				for k := range z.Pieces {
					p := &z.Pieces[k]
					do([]string{s.File, s.Garment, c.Name, z.Size, p.Piece, p.Side}, p)
				}
			}
		}
	}
}

// pieceHead are the first columns of the tables of the pieces. What lies out
// lies beyond the meeting line, towards the edge; less than 0 is inside it.
var pieceHead = []string{"file", "garment", "closure", "size", "piece", "side"}

// csvLines are the lines of the pieces.
func csvLines(sheets []*Garment) [][]string {
	rows := [][]string{slices.Concat([]string{"table"}, pieceHead, []string{"line", "from out mm", "from at mm", "to out mm", "to at mm"})}
	eachPiece(sheets, func(head []string, p *PieceOut) {
		for _, l := range p.Lines {
			rows = append(rows, slices.Concat([]string{"lines"}, head, []string{l.Kind, exact(l.From.Out), exact(l.From.At), exact(l.To.Out), exact(l.To.At)}))
		}
	})
	return rows
}

// csvAreas are the areas of the pieces.
func csvAreas(sheets []*Garment) [][]string {
	rows := [][]string{slices.Concat([]string{"table"}, pieceHead, []string{"area", "layer", "name", "out from mm", "out to mm", "from mm", "to mm"})}
	eachPiece(sheets, func(head []string, p *PieceOut) {
		for _, a := range p.Areas {
			rows = append(rows, slices.Concat([]string{"areas"}, head, []string{a.Kind, deref(a.Layer), deref(a.Name), exact(a.OutFrom), exact(a.OutTo), exact(a.From), exact(a.To)}))
		}
	})
	return rows
}

// csvParts are the holes, fasteners, loops and zips of the pieces.
func csvParts(sheets []*Garment) [][]string {
	rows := [][]string{slices.Concat([]string{"table"}, pieceHead, []string{"of", "part", "role", "number", "layer", "out mm", "at mm", "out from mm", "out to mm", "from mm", "to mm", "cut mm", "stitched mm", "eye"})}
	length := func(m *MM) string {
		if m == nil {
			return ""
		}
		return exact(*m)
	}
	eachPiece(sheets, func(head []string, p *PieceOut) {
		for _, q := range p.Parts {
			rows = append(rows, slices.Concat([]string{"parts"}, head, []string{
				q.Closure, q.Kind, q.Role, itoa(q.Number), itoa(q.Layer), exact(q.Centre.Out), exact(q.Centre.At),
				exact(q.OutFrom), exact(q.OutTo), exact(q.From), exact(q.To), length(q.Cut), length(q.Stitched), deref(q.Eye),
			}))
		}
	})
	return rows
}
