package sheet

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/work"
)

// OrderOut is an order in JSON: what to buy for all that is made. Lengths are
// exact millimetres; costs are in the currency of each catalogue, and two are
// never added.
type OrderOut struct {
	Version   int           `json:"version"`
	Units     string        `json:"units"`
	Garments  []BatchOut    `json:"garments"`
	Suppliers []SupplierOut `json:"suppliers"` // those without a name last
	Cost      []MoneyOut    `json:"cost"`
	Unpriced  []UnpricedOut `json:"unpriced"` // listed, and not counted
	LeftOut   []LeftOutOut  `json:"left_out"` // files of which nothing is made
}

// BatchOut is a garment, or a variant, that is made.
type BatchOut struct {
	File     string     `json:"file"`
	Garment  string     `json:"garment"`
	Variant  *string    `json:"variant"`
	Verdict  string     `json:"verdict"`
	Make     []MadeOut  `json:"make"`
	Garments int        `json:"garments"` // in all
	Each     []MoneyOut `json:"each"`     // cost of one by use, not by pack; tests, needles and what falls off are not in it
}

// SupplierOut is what is bought of one supplier.
type SupplierOut struct {
	Supplier *string    `json:"supplier"`
	Items    []ItemOut  `json:"items"`
	Cost     []MoneyOut `json:"cost"`
}

// ItemOut is one thing to buy.
type ItemOut struct {
	What     string   `json:"what"`
	Kind     string   `json:"kind"`
	About    string   `json:"about"`
	Article  *string  `json:"article"`
	Colour   *string  `json:"colour"`
	For      []string `json:"for"`
	LengthMM *MM      `json:"length_mm"` // of a zip
	SizeMM   *MM      `json:"size_mm"`   // diameter of a backing button, thickness of a cord
	Needed   int      `json:"needed"`    // pieces
	Spare    int      `json:"spare"`
	Once     int      `json:"once"` // tests; needles, however many are made
	Pack     int      `json:"pack"`
	Packs    int      `json:"packs"`
	Pieces   int      `json:"pieces"` // in those packs; of thread spools
	NeededMM *MM      `json:"needed_mm"`
	BuyMM    *MM      `json:"buy_mm"`
	SpoolMM  *MM      `json:"spool_mm"`
	GoodsMM  *MM      `json:"goods_width_mm"`
	Known    bool     `json:"known"` // false: at least so much
	Price    *float64 `json:"price"`
	Currency *string  `json:"currency"`
	Cost     *float64 `json:"cost"`
}

// MoneyOut is an amount; null is a currency that no catalogue names.
type MoneyOut struct {
	Currency *string `json:"currency"`
	Amount   float64 `json:"amount"`
}

// UnpricedOut is what has no cost, and why.
type UnpricedOut struct {
	What string `json:"what"`
	Why  string `json:"why"`
}

// LeftOutOut is a file that is not ordered.
type LeftOutOut struct {
	File string `json:"file"`
	Why  string `json:"why"`
}

// LeftOut is a file, or a variant of it, of which nothing is made.
type LeftOut struct{ File, Why string }

// Order writes what to buy for all that is made.
func Order(w io.Writer, p *work.Purchase, left []LeftOut, o Options) error {
	o.fit()
	s := orderSheet{p}
	out, err := "", error(nil)
	switch o.Format {
	case "", "text":
		out = s.text(left, o)
	case "markdown":
		m := &markdown{}
		m.document(s.document(left), check)
		out = m.String()
	case "html":
		d := s.document(left)
		var b strings.Builder
		err = layout().Execute(&b, view{Title: d.Title, Head: "Order of notions and goods", Garments: []*document{d}})
		out = b.String()
	case "csv":
		rows := s.csv()
		if o.Table != "" {
			rows = s.table(rows, o.Table)
		}
		out, err = text.CSV(rows)
	case "json":
		out, err = writeJSON(s.json(left))
	default:
		err = fmt.Errorf("there is no format %q: use %s", o.Format, strings.Join(Formats, ", "))
	}
	if err == nil {
		_, err = io.WriteString(w, out)
	}
	return err
}

type orderSheet struct{ *work.Purchase }

// verdict is the worst of what is made, the garments that have conflicts, and
// those without that have no places.
func (s orderSheet) verdict() (worst string, conflicts, unlaid []string) {
	sev, found := rules.Note, false
	for i := range s.Batches {
		p := s.Batches[i].Plan
		v, some := p.Verdict()
		if sev, found = max(sev, v), found || some; p.Count(rules.Conflict) > 0 {
			conflicts = append(conflicts, p.Garment.Title())
		} else if slices.ContainsFunc(p.Findings, func(f rules.Finding) bool { return f.Unlaid() }) {
			unlaid = append(unlaid, p.Garment.Title())
		}
	}
	return verdict(sev, found), conflicts, unlaid
}

// document is the order for people.
func (s orderSheet) document(left []LeftOut) *document {
	total := 0
	for i := range s.Batches {
		total += s.Batches[i].Total()
	}
	word, conflicts, unlaid := s.verdict()
	d := &document{sheet: &Garment{}, Title: "Order for " + text.Count(total, "garment"), Verdict: word}
	d.sheet.Garment = d.Title
	named := 0
	for _, items := range s.Suppliers() {
		if items[0].Trade.Supplier != "" {
			named++
		}
	}
	d.Summary = text.Count(len(s.Items), "thing")
	if named > 0 {
		d.Summary += ", of " + text.Count(named, "named supplier")
	}
	if len(s.Costs) > 0 {
		d.Summary += ", " + moneys(s.Costs)
	}
	d.Next = "Check the colours and the articles before you send it."
	if len(unlaid) > 0 {
		d.Next = "Order nothing before its fasteners can be laid out: " + text.And(unlaid...) + "."
	}
	if len(conflicts) > 0 {
		d.Next = "Order nothing until the conflicts are settled: " + text.And(conflicts...) + "."
	}
	d.add("garments", "What is made", s.made())
	for i, items := range s.Suppliers() {
		name := or(items[0].Trade.Supplier, "No supplier named")
		var says bullets
		if cost := work.CostOf(items); len(cost) > 0 {
			says = append(says, "Cost: "+moneys(cost)+".")
		}
		d.add("supplier-"+itoa(i+1), name, s.items(i+1, name, items), says)
	}
	var ends bullets
	if len(s.Costs) > 0 {
		ends = append(ends, "Cost of all: "+moneys(s.Costs)+".")
		if len(s.Costs) > 1 {
			ends = append(ends, "Currencies are not added to one another.")
		}
	}
	var whys []string
	by := map[string][]string{}
	for _, u := range s.unpriced() {
		if by[u.Why] == nil {
			whys = append(whys, u.Why)
		}
		by[u.Why] = append(by[u.Why], u.What)
	}
	for _, why := range whys {
		ends = append(ends, "Not counted, "+why+": "+strings.Join(by[why], "; ")+".")
	}
	if len(s.Costs) > 0 {
		ends = append(ends, "The cost of a garment is by use, not by pack: test sets, needles, what falls off goods and what is left over are not in it.")
	}
	ends = append(ends, "Needles are bought once for all that is made; facings, collars, whole fronts, cloth and the thread of other seams are not in the order.")
	d.add("cost", "Cost", ends)
	var out bullets
	for _, l := range left {
		out = append(out, l.File+": "+l.Why)
	}
	d.add("left-out", "Not ordered", out)
	return d
}

// made is a table of what is made.
func (s orderSheet) made() *table {
	t := &table{ID: "made", Caption: "Garments by number", Head: []string{"no.", "garment", "sizes", "garments"}}
	if len(s.Costs) > 0 {
		t.Caption += ", and what one costs by use"
		t.Head = append(t.Head, "one costs")
	}
	for i := range s.Batches {
		b := &s.Batches[i]
		g := b.Plan.Garment
		var sizes []string
		for k, n := range b.Garments {
			if n > 0 && g.Sizes[k] != "" {
				sizes = append(sizes, g.Sizes[k]+" "+itoa(n))
			}
		}
		row := []cell{words(itoa(i + 1)), words(g.Title()), words(or(strings.Join(sizes, ", "), "one size")), number(b.Total())}
		if len(s.Costs) > 0 {
			row = append(row, words(moneys(s.EachOf(i))))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// items is the table of one supplier.
func (s orderSheet) items(n int, supplier string, items []*work.Item) *table {
	t := &table{ID: "items-" + itoa(n), Caption: "To buy of " + supplier, Head: []string{"what"}}
	if items[0].Trade.Supplier == "" {
		t.Caption = "To buy"
	}
	t.Caption += ", for the garments of these numbers"
	in := currenciesOf(items)
	if len(in) == 1 && in[0] != "" {
		t.Caption += "; prices in " + in[0]
	}
	some := func(has func(it *work.Item) bool) bool { return slices.ContainsFunc(items, has) }
	articles := some(func(it *work.Item) bool { return it.Trade.Article != "" })
	colours := some(func(it *work.Item) bool { return it.Trade.Colour != "" })
	prices := some(func(it *work.Item) bool { return it.Trade.Price.Has() })
	if articles {
		t.Head = append(t.Head, "article")
	}
	if colours {
		t.Head = append(t.Head, "colour")
	}
	t.Head = append(t.Head, "takes", "buy")
	if prices {
		t.Head = append(t.Head, "price", "cost")
	}
	t.Head = append(t.Head, "for")
	for _, it := range items {
		row := []cell{words(s.what(it))}
		if articles {
			row = append(row, words(it.Trade.Article))
		}
		if colours {
			row = append(row, words(it.Trade.Colour))
		}
		row = append(row, words(s.takes(it)), words(s.buys(it)))
		if prices {
			price, cost := words(""), words("")
			if it.Trade.Price.Has() {
				price = cell{Text: priceText(it), Value: priceText(it)}
				if it.Kind == plan.GoodInterfacing || it.Kind == plan.GoodLoopCord {
					price.Text += " a metre"
				}
				if len(in) > 1 {
					price = words(strings.TrimSpace(it.Currency + " " + price.Text))
				}
			}
			switch {
			case it.Priced && len(in) > 1:
				cost = words(moneys([]work.Money{it.Cost}))
			case it.Priced:
				cost = cell{Text: amountOf(it.Cost), Value: amountOf(it.Cost)}
			}
			row = append(row, price, cost)
		}
		t.Rows = append(t.Rows, append(row, words(s.numbers(it))))
	}
	return t
}

// currenciesOf are the currencies that prices of items are in.
func currenciesOf(items []*work.Item) []string {
	var out []string
	for _, it := range items {
		if it.Trade.Price.Has() && !slices.Contains(out, it.Currency) {
			out = append(out, it.Currency)
		}
	}
	return out
}

// priceText is a price with at least two places.
func priceText(it *work.Item) string {
	s := strconv.FormatFloat(it.Trade.Price.V, 'f', -1, 64)
	if i := strings.IndexByte(s, '.'); i < 0 || len(s)-i < 3 {
		return strconv.FormatFloat(it.Trade.Price.V, 'f', 2, 64)
	}
	return s
}

// numbers are the garments that take a thing, by number: 1, 3–5, or all.
func (s orderSheet) numbers(it *work.Item) string {
	of := it.Of()
	if len(of) == len(s.Batches) {
		return "all"
	}
	var parts []string
	for i := 0; i < len(of); {
		j := i
		for j+1 < len(of) && of[j+1] == of[j]+1 {
			j++
		}
		switch says := itoa(of[i] + 1); {
		case j == i:
			parts = append(parts, says)
		case j == i+1:
			parts = append(parts, says, itoa(of[j]+1))
		default:
			parts = append(parts, says+"–"+itoa(of[j]+1))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// what is a thing with its size.
func (s orderSheet) what(it *work.Item) string {
	says := it.What
	switch it.Kind {
	case plan.GoodFastener:
		if it.Good.Size > 0 {
			says += ", " + it.Good.Size.Text(s.Units)
			if it.Good.Least {
				says += " at least"
			}
		}
	case plan.GoodInterfacing:
		if it.Good.Width > 0 {
			says += ", " + it.Good.Width.Short(s.Units) + " wide"
		}
	case plan.GoodThread:
		if tex := it.Good.Tex.String(); !strings.Contains(says, tex) {
			says += ", " + tex
		}
	case plan.GoodNeedle, plan.GoodHandNeedle:
		says = "needle " + says
	case plan.GoodLoopCord:
		if it.Good.Size > 0 {
			says += ", " + it.Good.Size.TextThin(s.Units) + " thick"
		}
	}
	return says
}

// takes is how much all that is made takes.
func (s orderSheet) takes(it *work.Item) string {
	a := &it.Amount
	says := ""
	switch {
	case it.Unlaid():
		return "as much as the layout takes"
	case it.Kind == plan.GoodThread:
		says = s.thread(a.Length)
	case it.Kind == plan.GoodInterfacing && (!a.Known || !a.Fits), it.Kind == plan.GoodCord:
		return "see the checklist"
	case it.Kind == plan.GoodInterfacing, it.Kind == plan.GoodLoopCord:
		says = work.Taken(a.Length, s.Units)
	default:
		var parts []string
		if a.Needed > 0 || a.Once == 0 {
			parts = append(parts, itoa(a.Needed))
		}
		if a.Spare > 0 {
			parts = append(parts, itoa(a.Spare)+" spare")
		}
		if a.Once > 0 && it.Good.Shared() {
			parts = append(parts, itoa(a.Once))
		} else if a.Once > 0 {
			parts = append(parts, itoa(a.Once)+" to test")
		}
		says = strings.Join(parts, " + ")
	}
	if it.AtLeast() {
		says += " or more"
	}
	return says
}

// thread is a length of thread: yards or metres.
func (s orderSheet) thread(l measure.Length) string {
	if s.Units.Is(measure.In) {
		return fmt.Sprintf("%.1f yd", float64(l)/float64(measure.Yard))
	}
	return fmt.Sprintf("%.1f m", l.MM()/1000)
}

// buys is what to ask for, in what is sold.
func (s orderSheet) buys(it *work.Item) string {
	a := &it.Amount
	if it.Unlaid() {
		return it.Why
	}
	switch it.Kind {
	case plan.GoodInterfacing, plan.GoodLoopCord:
		if !a.Fits || !a.Known && it.Kind == plan.GoodInterfacing {
			return it.Why
		}
		return work.Sold(a.Buy, s.Units)
	case plan.GoodCord:
		return it.Why
	case plan.GoodThread:
		if it.Buy == 0 {
			return s.thread(a.Length)
		}
		says := text.Count(it.Buy, "spool") + " of " + work.Spool(it.Good.Spool, s.Units)
		return says + packs(it)
	}
	if it.Buy == 0 {
		return it.Why
	}
	return itoa(it.Buy) + packs(it)
}

func packs(it *work.Item) string {
	if it.Good.Pack < 2 {
		return ""
	}
	return fmt.Sprintf(", %s of %d", text.Count(it.Packs, "pack"), it.Good.Pack)
}

// unpriced are the things that have no cost.
func (s orderSheet) unpriced() []UnpricedOut {
	out := []UnpricedOut{}
	for _, it := range s.Items {
		if !it.Priced {
			out = append(out, UnpricedOut{s.what(it), it.Why})
		}
	}
	return out
}

// moneys are amounts in words.
func moneys(list []work.Money) string {
	parts := make([]string, len(list))
	for i, m := range list {
		parts[i] = strings.TrimSpace(m.Currency + " " + amountOf(m))
	}
	if len(parts) == 0 {
		return "nothing priced"
	}
	return text.And(parts...)
}

func amountOf(m work.Money) string { return fmt.Sprintf("%d.%02d", m.Cents/100, m.Cents%100) }

func moneysOut(list []work.Money) []MoneyOut {
	out := []MoneyOut{}
	for _, m := range list {
		out = append(out, MoneyOut{word(m.Currency), float64(m.Cents) / 100})
	}
	return out
}

// text is the order for a terminal.
func (s orderSheet) text(left []LeftOut, o Options) string {
	t := &terminal{o: o}
	d := s.document(left)
	t.heading(d.Title, "=")
	t.painted(d.Verdict, d.Verdict, func() { t.flowIn("", 2, d.Verdict+": "+d.Summary+". "+d.Next) })
	for _, sec := range d.Sections {
		t.line("")
		t.heading(sec.Title, "-")
		for _, b := range sec.Blocks {
			t.block(d, b)
		}
	}
	return t.String()
}

// json is the order for programs.
func (s orderSheet) json(left []LeftOut) OrderOut {
	out := OrderOut{
		Version: OutputVersion, Units: s.Units.String(), Garments: []BatchOut{}, Suppliers: []SupplierOut{},
		Cost: moneysOut(s.Costs), Unpriced: s.unpriced(), LeftOut: []LeftOutOut{},
	}
	for i := range s.Batches {
		b := &s.Batches[i]
		g := b.Plan.Garment
		v, found := b.Plan.Verdict()
		x := BatchOut{File: g.File, Garment: g.Name, Variant: word(g.Variant), Verdict: verdict(v, found), Make: []MadeOut{}, Garments: b.Total(), Each: moneysOut(s.EachOf(i))}
		for k, n := range b.Garments {
			if n > 0 {
				x.Make = append(x.Make, MadeOut{g.Sizes[k], n})
			}
		}
		out.Garments = append(out.Garments, x)
	}
	for _, items := range s.Suppliers() {
		x := SupplierOut{Supplier: word(items[0].Trade.Supplier), Items: []ItemOut{}, Cost: moneysOut(work.CostOf(items))}
		for _, it := range items {
			x.Items = append(x.Items, s.itemOut(it))
		}
		out.Suppliers = append(out.Suppliers, x)
	}
	for _, l := range left {
		out.LeftOut = append(out.LeftOut, LeftOutOut(l))
	}
	return out
}

func (s orderSheet) itemOut(it *work.Item) ItemOut {
	a, g := &it.Amount, it.Good
	x := ItemOut{
		What: it.What, Kind: string(it.Kind), About: it.Trade.About, Article: word(it.Trade.Article), Colour: word(it.Trade.Colour), For: list(it.For),
		Needed: a.Needed, Spare: a.Spare, Once: a.Once, Pack: g.Pack, Packs: it.Packs, Pieces: it.Buy,
		SpoolMM: some(g.Spool), GoodsMM: some(g.Width), Known: a.Known, Currency: word(it.Currency),
	}
	switch it.Kind {
	case plan.GoodFastener:
		x.LengthMM = some(g.Size)
	case plan.GoodBacking, plan.GoodCord:
		x.SizeMM = some(g.Size)
	case plan.GoodThread:
		x.NeededMM, x.BuyMM = ref(a.Length), some(measure.Length(it.Buy)*g.Spool)
	case plan.GoodLoopCord:
		x.SizeMM = some(g.Size)
		x.NeededMM, x.BuyMM = ref(a.Length), ref(a.Buy)
	case plan.GoodInterfacing:
		if a.Known && a.Fits {
			x.NeededMM, x.BuyMM = ref(a.Length), ref(a.Buy)
		}
	}
	if it.Trade.Price.Has() {
		x.Price = finite(it.Trade.Price.V)
	}
	if it.Priced {
		x.Cost = finite(float64(it.Cost.Cents) / 100)
	}
	return x
}

// csv is the order as tables: what is bought, what is made.
func (s orderSheet) csv() [][]string {
	rows := [][]string{{
		"table", "supplier", "article", "what", "kind", "colour", "length mm", "needed", "spare", "once", "pack", "packs", "pieces",
		"needed mm", "buy mm", "price", "currency", "cost", "not counted because", "for",
	}}
	length := func(m *MM) string {
		if m == nil {
			return ""
		}
		return exact(*m)
	}
	for _, it := range s.Items {
		x := s.itemOut(it)
		rows = append(rows, []string{
			"order", it.Trade.Supplier, deref(x.Article), x.What, x.Kind, deref(x.Colour), length(x.LengthMM), itoa(x.Needed), itoa(x.Spare), itoa(x.Once),
			itoa(x.Pack), itoa(x.Packs), itoa(x.Pieces), length(x.NeededMM), length(x.BuyMM), floatText(x.Price), it.Currency, costText(it), it.Why, strings.Join(it.For, "; "),
		})
	}
	rows = append(rows, []string{"table", "file", "garment", "variant", "size", "garments", "one costs by use", "currency"})
	for i := range s.Batches {
		b := &s.Batches[i]
		g := b.Plan.Garment
		costs := s.EachOf(i)
		if len(costs) == 0 {
			costs = []work.Money{{}}
		}
		for k, n := range b.Garments {
			if n == 0 {
				continue
			}
			for _, m := range costs {
				cost := ""
				if m.Cents > 0 {
					cost = amountOf(m)
				}
				rows = append(rows, []string{"made", g.File, g.Name, g.Variant, g.Sizes[k], itoa(n), cost, m.Currency})
			}
		}
	}
	return rows
}

// OrderTables are the tables of an order that can be asked for alone: all that
// is bought, of it the notions and the goods, and what is made.
var OrderTables = []string{"order", "notions", "goods", "made"}

// table is one of the tables alone, without its name.
func (s orderSheet) table(rows [][]string, name string) [][]string {
	made := slices.IndexFunc(rows[1:], func(r []string) bool { return r[0] == "table" }) + 1
	of := rows[:made]
	switch name {
	case "made":
		of = rows[made:]
	case "notions", "goods":
		of = of[:1:1]
		for i, it := range s.Items {
			if isNotion := it.Kind == plan.GoodFastener || it.Kind == plan.GoodBacking; isNotion == (name == "notions") {
				of = append(of, rows[i+1])
			}
		}
	}
	out := make([][]string, len(of))
	for i, r := range of {
		out[i] = r[1:]
	}
	return out
}

func costText(it *work.Item) string {
	if !it.Priced {
		return ""
	}
	return amountOf(it.Cost)
}
