package catalog

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// Bounds on what a length may be where its key says nothing else.
const (
	maxLength = 10 * measure.Metre
	minLength = measure.Length(1)
)

// field is one key of a table: its name, where its value goes and what it
// may be. The tables of fields are the one description of the file format:
// the reader, the schema, the suggestions and --with all follow them.
type field struct {
	name     string
	dst      any
	doc      string
	enum     []string
	min, max measure.Length
	lo, hi   float64
	bounded  bool
	zero     bool
	signed   bool // may be negative: a place to either side
	thin     bool // a thickness of cloth or the like: millimetres in every file
	required bool
	entries  int  // most entries of a list or a set of tables
	filled   bool // a list that cannot be empty
	currency bool // a currency's three letters
}

func f(name string, dst any, doc string, opts ...option) field {
	fd := field{name: name, dst: dst, doc: doc, min: minLength, max: maxLength, entries: MaxItems}
	for _, o := range opts {
		switch o.is {
		case isOneOf:
			fd.enum = o.words
		case isUpTo:
			fd.max = o.length
		case isAtLeast:
			fd.min = o.length
		case isBetween:
			fd.lo, fd.hi, fd.bounded = o.lo, o.hi, true
		case isAtMost:
			fd.entries = int(o.hi)
		case isZero:
			fd.zero = true
		case isSigned:
			fd.zero, fd.signed = true, true
		case isThin:
			fd.thin = true
		case isRequired:
			fd.required = true
		case isFilled:
			fd.filled = true
		case isCurrencyCode:
			fd.currency = true
		}
	}
	return fd
}

// option is what a field has besides. It is a plain value, so that the table
// of a closure is one piece of memory.
type option struct {
	is     optionKind
	words  []string
	length measure.Length
	lo, hi float64
}

type optionKind uint8

const (
	isOneOf optionKind = iota
	isUpTo
	isAtLeast
	isBetween
	isAtMost
	isZero
	isSigned
	isThin
	isRequired
	isFilled
	isCurrencyCode
)

func oneOf(words ...string) option    { return option{is: isOneOf, words: words} }
func upTo(l measure.Length) option    { return option{is: isUpTo, length: l} }
func atLeast(l measure.Length) option { return option{is: isAtLeast, length: l} }
func between(lo, hi float64) option   { return option{is: isBetween, lo: lo, hi: hi} }
func atMost(n int) option             { return option{is: isAtMost, hi: float64(n)} }

var (
	orZero   = option{is: isZero}
	signed   = option{is: isSigned}
	thin     = option{is: isThin}
	required = option{is: isRequired}
	filled   = option{is: isFilled}

	// asCurrency is a field of a currency: the code that ISO 4217 gives it.
	asCurrency = option{is: isCurrencyCode}
)

// least is the least length the key takes, most the most, as a message says
// them: typed back they are taken.
func (fd field) least(u measure.Unit) string {
	if fd.thin {
		return fd.min.TextThinLeast(u)
	}
	return fd.min.TextLeast(u)
}

func (fd field) most(u measure.Unit) string {
	if fd.thin {
		return fd.max.TextThinMost(u)
	}
	return fd.max.TextMost(u)
}

// Destinations that are more than one plain value.
type (
	// subTable is a table inside a table.
	subTable []field
	// window is a length, or { min, max } between which it may lie; each may
	// be given by size.
	window struct{ lo, hi *Sized }
	// named is a table of tables, one for each name: [cloth.shell].
	named struct {
		begin func(r *reader, path, name string, raw map[string]any) []field
		blank func() []field // the same for the schema
	}
	// list is an array of tables.
	list interface {
		item(i int) []field
		read(i int, into func(item []field)) // reads an item
		grow(n int)
		clear()
		blank() []field // of an item, for looking at
	}
)

type listOf[T any] struct {
	dst   *[]T
	field func(int, *T) []field
	keys  func() []field // what blank gives, where it is known beforehand
}

func (l listOf[T]) clear()             { *l.dst = nil }
func (l listOf[T]) grow(n int)         { *l.dst = make([]T, n) }
func (l listOf[T]) item(i int) []field { return l.field(i, &(*l.dst)[i]) }

func (l listOf[T]) read(i int, into func(item []field)) { into(l.item(i)) }

func (l listOf[T]) blank() []field {
	if l.keys != nil {
		return l.keys()
	}
	return l.field(0, new(T))
}

func each[T any](dst *[]T, fields func(i int, x *T) []field) list {
	return listOf[T]{dst: dst, field: fields}
}

// reader turns the tables of one document into values and collects every
// fault it meets on the way.
type reader struct {
	doc      *source.Document
	units    measure.Unit
	sizes    []string
	origin   Origin
	noLayers bool // see Options
	problems source.Problems
	over     int               // faults that were only counted
	said     map[string]string // see kept
	cut      bool              // a list was too long, and is not read: what names its entries is not looked at
}

// kept is a text that does not hold on to the text of the file, each once.
func (r *reader) kept(s string) string {
	if s == "" {
		return ""
	}
	own, known := r.said[s]
	if !known {
		if r.said == nil {
			r.said = map[string]string{}
		}
		own = strings.Clone(s)
		r.said[own] = own
	}
	return own
}

// full counts a fault that is one too many to be put into words.
func (r *reader) full() bool {
	if len(r.problems) < maxFaults {
		return false
	}
	r.over++
	return true
}

// err is what was found wrong, tidied; nil where nothing was.
func (r *reader) err() error {
	switch {
	case len(r.problems) == 0:
		return nil
	case r.over > 0:
		return r.problems.Counted(r.doc.Name, r.over)
	}
	return r.problems.Tidy()
}

func (r *reader) fail(path, instead, format string, args ...any) {
	if r.full() {
		return
	}
	r.problems = append(r.problems, r.doc.Problem(path, fmt.Sprintf(format, args...), instead))
}

func (r *reader) failKey(path, instead, format string, args ...any) {
	if r.full() {
		return
	}
	r.problems = append(r.problems, r.doc.KeyProblem(path, fmt.Sprintf(format, args...), instead))
}

// table reads raw into the fields and reports keys it does not know.
func (r *reader) table(path string, raw any, fields []field) {
	m, ok := raw.(map[string]any)
	if !ok {
		r.fail(path, "", "%s is a table of keys, not %s", last(path), kindOf(raw))
		return
	}
	for _, key := range sortedKeys(m) {
		i := slices.IndexFunc(fields, func(f field) bool { return f.name == key })
		if i < 0 {
			r.unknown(source.Join(path, key), key, fields)
			continue
		}
		r.assign(source.Join(path, key), m[key], fields[i])
	}
	for _, fd := range fields {
		if _, there := m[fd.name]; fd.required && !there {
			r.failKey(path, fmt.Sprintf("%s = …   (%s)", fd.name, fd.doc), "%s is missing", fd.name)
		}
	}
}

func (r *reader) unknown(path, key string, fields []field) {
	if r.full() {
		return
	}
	if below := keyBelow(fields, key); below != nil {
		p, _ := source.ParsePath(path)
		table := slices.DeleteFunc(p[:len(p)-1], func(s source.Step) bool { return s.Item >= 0 })
		for _, k := range below[:len(below)-1] {
			table = append(table, source.Step{Key: k, Item: -1})
		}
		r.failKey(path, fmt.Sprintf("%s below [%s]", key, table), "%s stands one table too high", key)
		return
	}
	r.failKey(path, text.Meant(key, names(fields)), "unknown key %q", key)
}

// keyBelow is the way from a table to a key that stands in a table inside it,
// nil where there is none.
func keyBelow(fields []field, key string) []string {
	for _, fd := range fields {
		if sub, ok := fd.dst.(subTable); ok && slices.ContainsFunc(sub, func(f field) bool { return f.name == key }) {
			return []string{fd.name, key}
		}
	}
	for _, fd := range fields {
		if sub, ok := fd.dst.(subTable); ok {
			if below := keyBelow(sub, key); below != nil {
				return append([]string{fd.name}, below...)
			}
		}
	}
	return nil
}

// tooMany refuses a list longer than its key may have, and an empty one where
// something must stand in it.
func (r *reader) tooMany(path string, n int, fd field) bool {
	if most := cmp.Or(fd.entries, MaxItems); n > most {
		r.fail(path, "", "%s has %d entries: %d is the most", last(path), n, most)
		r.cut = true
		return true
	}
	if n == 0 && fd.filled && !(r.noLayers && (fd.name == "over" || fd.name == "under")) {
		instead := `a list, like ["shell", "front"]`
		if _, tables := fd.dst.(list); tables {
			instead = missingRoot()[fd.name]
		}
		r.fail(path, instead, "%s is empty", last(path))
		return true
	}
	return false
}

func (r *reader) assign(path string, raw any, fd field) {
	switch dst := fd.dst.(type) {
	case *string:
		if s, ok := r.text(path, raw); ok && r.word(path, s, fd) {
			*dst = s
		}
	case *Measured:
		if m, ok := r.length(path, raw, fd); ok {
			*dst = m
		}
	case *Sized:
		r.sized(path, raw, fd, dst)
	case window:
		if m, ok := raw.(map[string]any); ok && (has(m, "min") || has(m, "max")) {
			r.table(path, raw, []field{
				{name: "min", dst: dst.lo, min: fd.min, max: fd.max, zero: fd.zero, thin: fd.thin, required: true, doc: "the nearest it may lie"},
				{name: "max", dst: dst.hi, min: fd.min, max: fd.max, zero: fd.zero, thin: fd.thin, required: true, doc: "the farthest it may lie"},
			})
			return
		}
		r.sized(path, raw, fd, dst.lo)
	case *Range:
		r.table(path, raw, []field{
			{name: "min", dst: &dst.Min, min: fd.min, max: fd.max, zero: fd.zero, thin: fd.thin, doc: "the least"},
			{name: "max", dst: &dst.Max, min: fd.min, max: fd.max, zero: fd.zero, thin: fd.thin, doc: "the most"},
		})
		if dst.Min.Has() && dst.Max.Has() && dst.Min.V > dst.Max.V {
			r.fail(path, "", "min is more than max")
		}
	case *[]measure.Length:
		r.lengths(path, raw, fd, dst)
	case *[]string:
		r.texts(path, raw, fd, dst)
	case *int:
		if n, ok := r.whole(path, raw, fd); ok {
			*dst = n
		}
	case *Opt[int]:
		if n, ok := r.whole(path, raw, fd); ok {
			*dst = Opt[int]{n, r.origin}
		}
	case *Opt[float64]:
		if n, ok := r.number(path, raw, fd); ok {
			*dst = Opt[float64]{n, r.origin}
		}
	case *Opt[bool]:
		b, ok := raw.(bool)
		if !ok {
			r.fail(path, "true or false", "%s is yes or no, not %s", fd.name, kindOf(raw))
			return
		}
		*dst = Opt[bool]{b, r.origin}
	case *Opt[measure.AreaWeight]:
		parsed(r, path, raw, fd, dst, measure.ParseAreaWeight, `a weight with its unit, like "620 g/m2"`)
	case *Opt[measure.LinearDensity]:
		parsed(r, path, raw, fd, dst, measure.ParseLinearDensity, `a thread size with its system, like "Tex 40"`)
	case *Opt[measure.NeedleSize]:
		parsed(r, path, raw, fd, dst, measure.ParseNeedleSize, `a needle size, like "90/14"`)
	case *Opt[measure.Temperature]:
		parsed(r, path, raw, fd, dst, measure.ParseTemperature, `a heat with its unit, like "135 C" or "2 dots"`)
	case *map[string]float64:
		r.shares(path, raw, fd, dst)
	case *[]Count:
		r.counts(path, raw, dst)
	case subTable:
		r.table(path, raw, dst)
	case named:
		r.named(path, raw, dst, fd)
	case list:
		r.list(path, raw, dst, fd)
	case rowList:
		r.rows(path, raw, dst)
	case *Amount:
		r.figure(path, raw, dst)
	case rawTable:
		*dst.dst = raw
	case *Made:
		r.made(path, raw, dst)
	case variants:
		r.checkVariants(path, raw, fd)
	default:
		panic(fmt.Sprintf("no reader for %s: %T", fd.name, fd.dst))
	}
}

// clear makes the value of a field what it is before it is read.
func (fd *field) clear() {
	switch dst := fd.dst.(type) {
	case window:
		*dst.lo, *dst.hi = nil, nil
	case subTable:
		for i := range dst {
			dst[i].clear()
		}
	case list:
		dst.clear()
	case rowList:
		*dst.dst = nil
	case rawTable:
		*dst.dst = nil
	case variants:
	default:
		reflect.ValueOf(dst).Elem().SetZero()
	}
}

// again reads anew what stands at path below a table, which raw now is at
// the path at. It is false where that is not enough to know that the table
// can be used: then the whole must be read.
func (r *reader) again(fields []field, path source.Path, at string, raw any) bool {
	m, ok := raw.(map[string]any)
	if !ok || len(path) == 0 {
		return false
	}
	k := -1
	for i := range fields {
		if fields[i].required && !has(m, fields[i].name) {
			return false
		}
		if fields[i].name == path[0].Key {
			k = i
		}
	}
	if k < 0 {
		return false
	}
	fd := &fields[k]
	v, there := m[fd.name]
	if sub, ok := fd.dst.(subTable); ok && there && len(path) > 1 {
		return r.again(sub, path[1:], source.Join(at, fd.name), v)
	}
	fd.clear()
	if there {
		r.assign(source.Join(at, fd.name), v, *fd)
	}
	return true
}

// parsed reads a text measure of kind T.
func parsed[T any](r *reader, path string, raw any, fd field, dst *Opt[T], parse func(string) (T, error), want string) {
	s, ok := raw.(string)
	if !ok {
		r.fail(path, want, "%s is a text in quotes, not %s", fd.name, kindOf(raw))
		return
	}
	v, err := parse(s)
	if err != nil {
		r.failParse(path, err)
		return
	}
	*dst = Opt[T]{v, r.origin}
}

// failParse reports a measure that could not be read, with the mark at the
// very place in the text.
func (r *reader) failParse(path string, err error) {
	var pe *measure.ParseError
	if !errors.As(err, &pe) {
		r.fail(path, "", "%v", err)
		return
	}
	r.fail(path, pe.Instead, "%s", pe.Reason)
	if r.over > 0 {
		return
	}
	p := &r.problems[len(r.problems)-1]
	if pe.Offset > 0 && pe.Offset < len(pe.Text) {
		shift := len([]rune(pe.Text[:pe.Offset])) + 1 // and the opening quote
		p.Pos.Column += shift
		p.Width = max(1, p.Width-shift-1)
	}
}

func (r *reader) text(path string, raw any) (string, bool) {
	s, ok := raw.(string)
	if !ok {
		r.fail(path, fmt.Sprintf("%q", fmt.Sprint(raw)), "%s is a text in quotes, not %s", last(path), kindOf(raw))
		return "", false
	}
	if strings.TrimSpace(s) == "" {
		r.fail(path, "", "%s is empty", last(path))
		return "", false
	}
	most := MaxText
	if k := last(path); k == "name" || k == "garment" {
		most = MaxName
	}
	if n := utf8.RuneCountInString(s); n > most {
		r.fail(path, "", "%s has %d letters: %d is the most", last(path), n, most)
		return "", false
	}
	return s, true
}

// isCurrency says whether a text is written like a currency of ISO 4217.
func isCurrency(s string) bool {
	return len(s) == 3 && !strings.ContainsFunc(s, func(c rune) bool { return c < 'A' || c > 'Z' })
}

func (r *reader) word(path, s string, fd field) bool {
	if fd.currency && !isCurrency(s) {
		instead := `three capital letters, such as "EUR"`
		if up := strings.ToUpper(strings.TrimSpace(s)); isCurrency(up) {
			instead = source.Text(up)
		}
		r.fail(path, instead, "%q is no currency", text.Safe(s))
		return false
	}
	if fd.enum == nil || slices.Contains(fd.enum, s) {
		return true
	}
	r.fail(path, text.MeantQuoted(strings.ToLower(s), fd.enum), "%s cannot be %q", fd.name, s)
	return false
}

// length reads a length: a text with its unit, or a bare number in the
// units of the file.
func (r *reader) length(path string, raw any, fd field) (Measured, bool) {
	var t measure.Toleranced
	tooMuch := func() { r.fail(path, "", "%s is too much: %s is the most", fd.name, fd.most(r.units)) }
	refuse := func(err error) {
		var pe *measure.ParseError
		// The measure's own limit is none of the key's.
		if errors.As(err, &pe) && pe.Over && !strings.ContainsAny(pe.Text[:pe.Offset], "±+") {
			tooMuch()
			return
		}
		r.failParse(path, err)
	}
	switch v := raw.(type) {
	case string:
		var err error
		rest, minus := v, false
		if fd.signed {
			rest, minus = cutMinus(v)
		}
		if t, err = measure.ParseToleranced(rest, r.unitAt(path)); err != nil {
			refuse(err)
			return Measured{}, false
		}
		if minus {
			t.V = -t.V
		}
	case int64, float64:
		x, _ := toFloat(v)
		if math.IsNaN(x) || math.IsInf(x, 0) {
			r.fail(path, "a length, like \"1 in\"", "%s is not a number", fd.name)
			return Measured{}, false
		}
		if x < 0 && !fd.signed {
			r.fail(path, "", "%s cannot be negative", fd.name)
			return Measured{}, false
		}
		l, err := measure.LengthOf(math.Abs(x), r.unitAt(path))
		if err != nil {
			refuse(err)
			return Measured{}, false
		}
		if x < 0 {
			l = -l
		}
		t.V = l
	case LengthIn:
		t = v.Toleranced
	default:
		r.fail(path, "a length, like \"1 in\" or \"25 mm\"", "%s is a length, not %s", fd.name, kindOf(raw))
		return Measured{}, false
	}
	switch {
	case t.V == 0 && fd.zero:
	case t.V == 0:
		r.fail(path, "", "%s cannot be zero", fd.name)
		return Measured{}, false
	case t.V < 0 && fd.signed && -t.V > fd.max:
		tooMuch()
		return Measured{}, false
	case t.V < 0 && fd.signed:
	case t.V < 0:
		r.fail(path, "", "%s cannot be negative", fd.name)
		return Measured{}, false
	case t.V < fd.min:
		r.fail(path, "", "%s is too small: %s is the least", fd.name, fd.least(r.units))
		return Measured{}, false
	case t.V > fd.max:
		tooMuch()
		return Measured{}, false
	}
	if t.Tol > 0 && t.Tol >= t.V && !fd.signed {
		r.fail(path, "", "the ± of %s is as large as the length itself", fd.name)
		return Measured{}, false
	}
	return Measured{V: t.V, Tol: t.Tol, From: r.origin}, true
}

// cutMinus takes a minus off the front of a text.
func cutMinus(s string) (rest string, minus bool) {
	s = strings.TrimLeft(s, " \t")
	for _, m := range [...]string{"-", "\u2212"} {
		if rest, ok := strings.CutPrefix(s, m); ok {
			return rest, true
		}
	}
	return s, false
}

// sized reads one length for all sizes, or a table of one for each.
func (r *reader) sized(path string, raw any, fd field, dst *Sized) {
	m, ok := raw.(map[string]any)
	if !ok {
		if v, ok := r.length(path, raw, fd); ok {
			*dst = Sized{v}
		}
		return
	}
	if isGraded(m) {
		if v, ok := r.graded(path, m, fd); ok {
			*dst = v
		}
		return
	}
	out := make(Sized, len(r.sizes))
	if !r.bySize(path, m, func(i int, path string, raw any) bool {
		v, ok := r.length(path, raw, field{name: fd.name + " of size " + r.sizes[i], min: fd.min, max: fd.max, zero: fd.zero, thin: fd.thin})
		out[i] = v
		return ok
	}) {
		return
	}
	*dst = out
}

// bySize walks a table by size; it is false when anything was wrong.
func (r *reader) bySize(path string, m map[string]any, take func(i int, path string, raw any) bool) bool {
	if len(r.sizes) == 0 || r.sizes[0] == "" {
		r.fail(path, `one value, or list the sizes: [sizes] names = ["S", "M", "L"]`, "%s is given by size, but the garment lists no sizes", last(path))
		return false
	}
	good := true
	for _, key := range sortedKeys(m) {
		i := slices.Index(r.sizes, key)
		if i < 0 {
			says, instead := text.NoSuch("the garment", "size", key, r.sizes)
			r.failKey(source.Join(path, key), instead, "%s", says)
			good = false
			continue
		}
		good = take(i, source.Join(path, key), m[key]) && good
	}
	var missing []string
	for _, s := range r.sizes {
		if !has(m, s) {
			missing = append(missing, s)
		}
	}
	if len(missing) > 0 {
		r.fail(path, "", "%s says nothing for size %s", last(path), strings.Join(missing, ", "))
		good = false
	}
	return good
}

func (r *reader) counts(path string, raw any, dst *[]Count) {
	one := func(path string, raw any) (Count, bool) {
		if m, ok := raw.(map[string]any); ok && (has(m, "min") || has(m, "max")) {
			c := Count{Set: true}
			n := len(r.problems)
			r.table(path, m, []field{
				f("min", &c.Min, "fewest", between(1, 200), required),
				f("max", &c.Max, "most", between(1, 200), required),
			})
			if len(r.problems) > n {
				return c, false
			}
			if c.Min > c.Max {
				r.fail(path, "", "count: min is more than max")
				return c, false
			}
			return c, true
		}
		n, ok := r.whole(path, raw, field{name: "count", lo: 1, hi: 200, bounded: true})
		return Count{Min: n, Max: n, Set: true}, ok
	}
	if m, ok := raw.(map[string]any); ok && !has(m, "min") && !has(m, "max") {
		out := make([]Count, len(r.sizes))
		if r.bySize(path, m, func(i int, path string, raw any) bool {
			c, ok := one(path, raw)
			out[i] = c
			return ok
		}) {
			*dst = out
		}
		return
	}
	if c, ok := one(path, raw); ok {
		*dst = []Count{c}
	}
}

func (r *reader) lengths(path string, raw any, fd field, dst *[]measure.Length) {
	a, ok := raw.([]any)
	if !ok {
		r.fail(path, `["10 mm", "13 mm"]`, "%s is a list of lengths, not %s", fd.name, kindOf(raw))
		return
	}
	if r.tooMany(path, len(a), fd) {
		return
	}
	var out []measure.Length
	for i, v := range a {
		if m, ok := r.length(source.Item(path, i), v, fd); ok {
			out = append(out, m.V)
		}
	}
	slices.Sort(out)
	*dst = slices.Compact(out)
}

func (r *reader) texts(path string, raw any, fd field, dst *[]string) {
	a, ok := raw.([]any)
	if !ok {
		instead := `a list, like ["shell", "front"]`
		if s, ok := raw.(string); ok {
			instead = "[" + source.Text(s) + "]"
		}
		r.fail(path, instead, "%s is a list of names, not %s", fd.name, kindOf(raw))
		return
	}
	if r.tooMany(path, len(a), fd) {
		return
	}
	var out []string
	for i, v := range a {
		p := source.Item(path, i)
		if s, ok := r.text(p, v); ok && r.word(p, s, fd) {
			out = append(out, s)
		}
	}
	*dst = out
}

func (r *reader) whole(path string, raw any, fd field) (int, bool) {
	n, ok := raw.(int64)
	if !ok {
		instead, what := "a whole number, like 5", kindOf(raw)
		switch v := raw.(type) {
		case string:
			if n, err := strconv.Atoi(strings.TrimSpace(v)); err == nil {
				instead = strconv.Itoa(n)
			}
		case float64:
			what = full(v)
		}
		r.fail(path, instead, "%s is a whole number, not %s", fd.name, what)
		return 0, false
	}
	lo, hi := 0.0, 1e6
	if fd.bounded {
		lo, hi = fd.lo, fd.hi
	}
	if float64(n) < lo || float64(n) > hi {
		r.fail(path, "", "%s is %d, but must lie between %.0f and %.0f", fd.name, n, lo, hi)
		return 0, false
	}
	return int(n), true
}

func (r *reader) number(path string, raw any, fd field) (float64, bool) {
	x, ok := toFloat(raw)
	if !ok {
		r.fail(path, "a number", "%s is a number, not %s", fd.name, kindOf(raw))
		return 0, false
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		r.fail(path, "a number", "%s is not a finite number", fd.name)
		return 0, false
	}
	lo, hi := 0.0, 1e6
	if fd.bounded {
		lo, hi = fd.lo, fd.hi
	}
	if x < lo || x > hi {
		r.fail(path, "", "%s is %s, but must lie between %s and %s", fd.name, typed(x), full(lo), full(hi))
		return 0, false
	}
	return x, true
}

// shares reads fibre percents, which must make 100.
func (r *reader) shares(path string, raw any, fd field, dst *map[string]float64) {
	m, ok := raw.(map[string]any)
	if !ok {
		r.fail(path, "{ wool = 80, polyamide = 20 }", "%s is a table of percents, not %s", fd.name, kindOf(raw))
		return
	}
	out := make(map[string]float64, len(m))
	sum, good := 0.0, true
	for _, k := range sortedKeys(m) {
		p := source.Join(path, k)
		if !slices.Contains(fd.enum, k) && fd.enum != nil {
			r.failKey(p, text.Meant(k, fd.enum), "unknown fibre %q", k)
			good = false
			continue
		}
		v, ok := r.number(p, m[k], field{name: k, lo: 0, hi: 100, bounded: true})
		if !ok {
			good = false
			continue
		}
		out[k] = v
		sum += v
	}
	if good && math.Abs(sum-100) > 0.5 {
		r.fail(path, "", "the fibre percents add to %g, not 100", sum)
		return
	}
	*dst = out
}

func (r *reader) named(path string, raw any, n named, fd field) {
	m, ok := raw.(map[string]any)
	if !ok {
		r.fail(path, fmt.Sprintf("[%s.shell] and the keys below it", path), "%s is a set of named tables, not %s", path, kindOf(raw))
		return
	}
	if r.tooMany(path, len(m), fd) {
		return
	}
	for _, k := range r.doc.Keys(path) {
		p := source.Join(path, k)
		sub, ok := m[k].(map[string]any)
		if !ok {
			r.fail(p, fmt.Sprintf("[%s.shell] and the keys below it", path), "%s.%s is a table of keys, not %s", path, k, kindOf(m[k]))
			continue
		}
		r.table(p, sub, n.begin(r, p, k, sub))
	}
}

func (r *reader) keyPos(path string) source.Pos {
	p, _ := r.doc.KeyPos(path)
	return p
}

func (r *reader) list(path string, raw any, l list, fd field) {
	items, ok := tables(raw)
	if !ok {
		r.fail(path, fmt.Sprintf("[[%s]] and the keys below it, once for each", heading(path)), "%s is a list of tables, not %s", last(path), kindOf(raw))
		return
	}
	if r.tooMany(path, len(items), fd) {
		return
	}
	l.grow(len(items))
	for i, it := range items {
		l.read(i, func(item []field) { r.table(source.Item(path, i), it, item) })
	}
}

// rowList are single rows with a distance of their own, counted from 1 in
// the file.
type rowList struct{ dst *map[int]measure.Length }

// rowEntry is one of them.
type rowEntry struct {
	row      int
	distance Measured
}

func rowFields(_ int, e *rowEntry) []field {
	return []field{
		f("row", &e.row, "which row, counted from the top", between(1, 100), required),
		f("distance", &e.distance, "to the centre line", upTo(400*mm), required),
	}
}

func (r *reader) rows(path string, raw any, l rowList) {
	var list []rowEntry
	r.list(path, raw, each(&list, rowFields), field{entries: MaxItems})
	*l.dst = make(map[int]measure.Length, len(list))
	for i, e := range list {
		if _, twice := (*l.dst)[e.row-1]; twice && e.row > 0 {
			r.fail(source.Join(source.Item(path, i), "row"), "another row", "row %d is given twice", e.row)
		}
		(*l.dst)[e.row-1] = e.distance.V
	}
}

// tables are the tables of an array, however it is written.
func tables(raw any) ([]any, bool) {
	switch v := raw.(type) {
	case []map[string]any:
		out := make([]any, len(v))
		for i := range v {
			out[i] = v[i]
		}
		return out, true
	case []any:
		for _, e := range v {
			if _, ok := e.(map[string]any); !ok {
				return nil, false
			}
		}
		return v, true
	}
	return nil, false
}

func toFloat(raw any) (float64, bool) {
	switch v := raw.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

func kindOf(raw any) string {
	switch raw.(type) {
	case string, LengthIn:
		return "a text"
	case int64, float64:
		return "a number"
	case bool:
		return "true or false"
	case []any:
		return "a list"
	case []map[string]any:
		return "a list of tables"
	case map[string]any:
		return "a table"
	}
	return "a date or time"
}

func has(m map[string]any, k string) bool { _, ok := m[k]; return ok }

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func names(fields []field) []string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = f.name
	}
	slices.Sort(out)
	return out
}

// heading is the name that a table at a path has in its heading.
func heading(path string) string {
	p, _ := source.ParsePath(path)
	return source.Path(slices.DeleteFunc(p, func(s source.Step) bool { return s.Item >= 0 })).String()
}

// last is the last key of a path, for messages.
func last(path string) string {
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		return path[i+1:]
	}
	return path
}
