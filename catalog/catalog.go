// Package catalog holds what exists: measures in text, cloths, interfacings,
// fasteners, threads, needles, machines, and the garments that use them.
package catalog

import (
	"fmt"
	"hash/maphash"
	"slices"
	"strings"
	"sync"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// Catalog is everything that can be named by `use`.
type Catalog struct {
	Notions      []*Notion
	Cloths       []*Cloth
	Interfacings []*Interfacing
	Threads      []*Thread
	Needles      []*Needle
	Machines     []*Machine
	Families     []*Family
	Fibres       []*Fibre
	Cords        []*CordPart
	CordLocks    []*CordPart

	notion map[string]*Notion
	family map[string]*Family
	fibre  map[string]*Fibre

	fibreList, familyList []string // sorted names
	keysOnce              sync.Once
	derived               sync.Map // see Derive
	keys                  []field  // of a garment file, see rootKeys
}

// stock is made of the values in stock.go, which are made from the files in
// the folder stock: nothing is parsed, and nothing done where nobody asks.
var stock = sync.OnceValue(func() *Catalog {
	c := builtIn()
	c.index()
	return c
})

//go:generate go test -run StockIsTheFiles -update .

// pointers are the places of the items of a list.
func pointers[T any](list []T) []*T {
	out := make([]*T, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}

// StockCatalog is the built-in catalogue. It is shared and must not be
// changed; an error would be a fault of the program itself.
func StockCatalog() (*Catalog, error) { return stock(), nil }

// own is the catalogue that was last made of files of own notions. All
// garments of a folder mostly name the same ones, which are then read once.
var own struct {
	sync.Mutex
	stock *Catalog
	files []string
	texts []sum
	made  *Catalog
}

// sum stands for a text: two texts of one sum are the same one.
type sum [2]uint64

var seeds = sync.OnceValue(func() [2]maphash.Seed { return [2]maphash.Seed{maphash.MakeSeed(), maphash.MakeSeed()} })

func sumOf(text []byte) sum {
	s := seeds()
	return sum{maphash.Bytes(s[0], text), maphash.Bytes(s[1], text)}
}

// with is a catalogue in which the entries of the files of own notions win
// over the stock by name. It is shared and must not be changed.
func (c *Catalog) with(read func(string) ([]byte, error), files ...string) (*Catalog, error) {
	texts, sums := make([][]byte, len(files)), make([]sum, len(files))
	for i, name := range files {
		var err error
		if texts[i], err = read(name); err != nil {
			return nil, err
		}
		sums[i] = sumOf(texts[i])
	}
	own.Lock()
	made := own.made
	if own.stock != c || !slices.Equal(own.files, files) || !slices.Equal(own.texts, sums) {
		made = nil
	}
	own.Unlock()
	if made != nil {
		return made, nil
	}
	made, err := c.add(files, texts)
	if err != nil {
		return nil, err
	}
	own.Lock()
	own.stock, own.files, own.texts, own.made = c, slices.Clone(files), sums, made
	own.Unlock()
	return made, nil
}

// add makes the catalogue that with gives.
func (c *Catalog) add(files []string, texts [][]byte) (*Catalog, error) {
	out := &Catalog{
		Notions: slices.Clone(c.Notions), Cloths: slices.Clone(c.Cloths), Interfacings: slices.Clone(c.Interfacings),
		Threads: slices.Clone(c.Threads), Needles: slices.Clone(c.Needles), Machines: slices.Clone(c.Machines),
		Families: slices.Clone(c.Families), Fibres: slices.Clone(c.Fibres),
		Cords: slices.Clone(c.Cords), CordLocks: slices.Clone(c.CordLocks),
	}
	sections := out.sections()
	for i, name := range files {
		if err := out.read(sections, name, name, texts[i]); err != nil {
			return nil, err
		}
		texts[i] = nil // there may be many
	}
	out.index()
	if n := out.count() - c.count(); n > MaxEntries {
		return nil, fmt.Errorf("the catalogues have %d entries together: %d is the most", n, MaxEntries)
	}
	return out, nil
}

// count is how many entries there are.
func (c *Catalog) count() int {
	return len(c.Notions) + len(c.Cloths) + len(c.Interfacings) + len(c.Threads) + len(c.Needles) +
		len(c.Machines) + len(c.Families) + len(c.Fibres) + len(c.Cords) + len(c.CordLocks)
}

func (c *Catalog) index() {
	c.notion = make(map[string]*Notion, len(c.Notions))
	for _, n := range c.Notions {
		c.notion[n.Name] = n
	}
	c.family = make(map[string]*Family, len(c.Families))
	for _, x := range c.Families {
		c.family[x.Name] = x
	}
	c.fibre = make(map[string]*Fibre, len(c.Fibres))
	for _, x := range c.Fibres {
		c.fibre[x.Name] = x
	}
	c.fibreList, c.familyList = nil, nil // so that they are made anew
	c.fibreList, c.familyList = c.fibreNames(), c.familyNames()
}

// Derive is what of makes of the catalogue, made once and kept under a key of
// the caller's own type, for what a search over many plans asks of it again
// and again.
func Derive[T any](c *Catalog, key any, of func(*Catalog) T) T {
	if v, ok := c.derived.Load(key); ok {
		return v.(T)
	}
	v, _ := c.derived.LoadOrStore(key, of(c))
	return v.(T)
}

// Notion finds a fastener by name, or nil.
func (c *Catalog) Notion(name string) *Notion { return c.notion[name] }

// Family finds a family of cloths by name, or nil.
func (c *Catalog) Family(name string) *Family { return c.family[name] }

// Fibre finds a fibre by name, or nil.
func (c *Catalog) Fibre(name string) *Fibre { return c.fibre[name] }

// Cloth finds a cloth by name, or nil.
func (c *Catalog) Cloth(name string) *Cloth {
	return find(c.Cloths, name, func(x *Cloth) string { return x.Name })
}

// Interfacing finds an interfacing by name, or nil.
func (c *Catalog) Interfacing(name string) *Interfacing {
	return find(c.Interfacings, name, func(x *Interfacing) string { return x.Name })
}

// Thread finds a thread by name, or nil.
func (c *Catalog) Thread(name string) *Thread {
	return find(c.Threads, name, func(x *Thread) string { return x.Name })
}

// Machine finds a machine by name, or nil.
func (c *Catalog) Machine(name string) *Machine {
	return find(c.Machines, name, func(x *Machine) string { return x.Name })
}

// Cord finds a drawcord by name, or nil.
func (c *Catalog) Cord(name string) *CordPart {
	return find(c.Cords, name, func(x *CordPart) string { return x.Name })
}

func find[T any](list []*T, name string, of func(*T) string) *T {
	for _, x := range list {
		if of(x) == name {
			return x
		}
	}
	return nil
}

func namesOf[T any](list []*T, of func(*T) string) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = of(x)
	}
	slices.Sort(out)
	return out
}

func (c *Catalog) fibreNames() []string {
	if c.fibreList != nil {
		return c.fibreList
	}
	return namesOf(c.Fibres, func(x *Fibre) string { return x.Name })
}

func (c *Catalog) familyNames() []string {
	if c.familyList != nil {
		return c.familyList
	}
	return namesOf(c.Families, func(x *Family) string { return x.Name })
}

// section is one array of tables of a catalogue file.
type section struct {
	name   string
	doc    string
	fields func() []field
	// reads gives what reads the entries of one file.
	reads func() func(r *reader, path string, raw any) *Entry
}

// sections are the tables a catalogue file may hold. Each read appends a new
// entry, or replaces one of the same name.
func (c *Catalog) sections() []section {
	out := []section{
		entries("fibre", "fibres: density and ironing limit", &c.Fibres, indexOf(&c.Fibres, (*Fibre).entry), (*Fibre).entry, fibreFields),
		entries("family", "families of cloth, for estimating thickness", &c.Families, indexOf(&c.Families, (*Family).entry), (*Family).entry, familyFields),
	}
	notions := indexOf(&c.Notions, (*Notion).entry)
	for _, kind := range fasteners {
		out = append(out, entries(kind, "fasteners: "+kind, &c.Notions, notions, (*Notion).entry, func(x *Notion) []field {
			x.Kind = kind
			return notionFields(kind, x)
		}))
	}
	return append(out,
		entries("cloth", "cloths", &c.Cloths, indexOf(&c.Cloths, (*Cloth).entry), (*Cloth).entry, func(x *Cloth) []field {
			return clothFields(x, c.fibreNames(), c.familyNames())
		}),
		entries("interfacing", "interfacings", &c.Interfacings, indexOf(&c.Interfacings, (*Interfacing).entry), (*Interfacing).entry, func(x *Interfacing) []field {
			return interfacingFields(x, c.fibreNames())
		}),
		entries("thread", "threads", &c.Threads, indexOf(&c.Threads, (*Thread).entry), (*Thread).entry, threadFields),
		entries("needle", "needles", &c.Needles, indexOf(&c.Needles, (*Needle).entry), (*Needle).entry, needleFields),
		entries("machine", "machines", &c.Machines, indexOf(&c.Machines, (*Machine).entry), (*Machine).entry, machineFields),
		entries("cord", "drawcords", &c.Cords, indexOf(&c.Cords, (*CordPart).entry), (*CordPart).entry, cordPartFields),
		entries("cord-lock", "cord locks", &c.CordLocks, indexOf(&c.CordLocks, (*CordPart).entry), (*CordPart).entry, cordPartFields),
	)
}

func (x *Fibre) entry() *Entry       { return &x.Entry }
func (x *Family) entry() *Entry      { return &x.Entry }
func (x *Notion) entry() *Entry      { return &x.Entry }
func (x *Cloth) entry() *Entry       { return &x.Entry }
func (x *Interfacing) entry() *Entry { return &x.Entry }
func (x *Thread) entry() *Entry      { return &x.Entry }
func (x *Needle) entry() *Entry      { return &x.Entry }
func (x *Machine) entry() *Entry     { return &x.Entry }
func (x *CordPart) entry() *Entry    { return &x.Entry }

// indexOf finds the entries of a list by name, once one is read.
func indexOf[T any](list *[]*T, entry func(*T) *Entry) func() map[string]int {
	return sync.OnceValue(func() map[string]int {
		m := make(map[string]int, len(*list))
		for i, x := range *list {
			m[entry(x).Name] = i
		}
		return m
	})
}

// roomOf is for how many entries room is taken at a time.
const roomOf = 128

func entries[T any](name, doc string, dst *[]*T, indexed func() map[string]int, entry func(*T) *Entry, own func(*T) []field) section {
	fields := func(x *T) []field { return append(entryFields(entry(x)), own(x)...) }
	var room []T // a large catalogue takes less where its entries lie together
	fresh := func() *T {
		if len(*dst) < 2*roomOf { // few, beside the stock
			return new(T)
		}
		if len(room) == 0 {
			room = make([]T, roomOf)
		}
		x := &room[0]
		room = room[1:]
		return x
	}
	return section{name: name, doc: doc,
		fields: func() []field { return fields(new(T)) },
		reads: func() func(*reader, string, any) *Entry {
			next := new(T) // a file has many entries: the fields are made for one
			into := fields(next)
			blank := *next
			var texts []*string
			for i := range into {
				if s, ok := into[i].dst.(*string); ok && s != &entry(next).Name {
					texts = append(texts, s)
				}
			}
			return func(r *reader, path string, raw any) *Entry {
				*next = blank
				r.table(path, raw, into)
				// The text of the file is let go, and what many entries say is kept once.
				n := entry(next)
				n.Name = strings.Clone(n.Name)
				for _, s := range texts {
					*s = r.kept(*s)
				}
				x := fresh()
				*x = *next
				e, index := entry(x), indexed()
				if i, old := index[e.Name]; old {
					(*dst)[i] = x
				} else {
					index[e.Name] = len(*dst)
					*dst = append(*dst, x)
				}
				return e
			}
		}}
}

// currencyField is the key of a catalogue file that is no table.
func currencyField(dst *string) field {
	return f("currency", dst, "of all prices in the file: three capital letters, such as EUR", asCurrency)
}

// read adds the entries of one catalogue file.
func (c *Catalog) read(sections []section, shown, file string, data []byte) error {
	doc, err := source.Parse(shown, data)
	if other := asCatalog(shown, data, doc); other != nil {
		return other
	}
	if err != nil {
		return err
	}
	units := measure.MM
	r := &reader{doc: doc, units: units, origin: Stock}
	known := []string{"currency"}
	for _, s := range sections {
		known = append(known, s.name)
	}
	for _, key := range sortedKeys(doc.Root) {
		if !slices.Contains(known, key) {
			r.failKey(key, text.Meant(key, known), "unknown key %q", key)
		}
	}
	currency := ""
	if raw, there := doc.Root["currency"]; there {
		r.assign("currency", raw, currencyField(&currency))
	}
	seen := map[string]string{} // where a name stands
	for _, s := range sections {
		raw, there := doc.Root[s.name]
		if !there {
			continue
		}
		items, ok := tables(raw)
		if !ok {
			r.fail(s.name, fmt.Sprintf("[[%s]] and the keys below it, once for each", s.name), "%s is a list of tables, not %s", s.name, kindOf(raw))
			continue
		}
		group := s.name
		if slices.Contains(fasteners, s.name) {
			group = "fastener" // their names must differ across kinds
		}
		read := s.reads()
		for i, it := range items {
			path := source.Item(s.name, i)
			e := read(r, path, it)
			e.File, e.Currency = file, currency
			if e.Name == "" {
				continue
			}
			id := group + "/" + e.Name
			if first, dup := seen[id]; dup {
				r.fail(source.Join(path, "name"), "another name", "%q is already the name of the entry at %s", e.Name, r.keyPos(first))
			}
			seen[id] = path
		}
	}
	return r.err()
}
