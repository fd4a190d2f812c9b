package desk

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/search"
	"placketeer/rules/sheet"
)

// The interview of start --ask: plain questions, one line each, answered in
// words. Each answer is checked as it is given; the draft is read as a garment
// file after every one, so that what comes out can be planned.

// enough is how many questions a plain coat needs; end ends at any later one.
const enough = 5

// draft is what is known so far.
type draft struct {
	name   string
	wearer string // adult, child or infant
	age    int    // 0 where it was not said
	cut    string // women or men, "" where it was not said
	market string
	double bool         // double-breasted
	plaid  bool         // or striped
	unit   measure.Unit // NoUnit while no length told it

	cloth       []entry        // keys of [cloth.shell]
	fastener    string         // its kind
	use         string         // an entry of the catalogue
	notion      []entry        // or what was measured
	wish        bool           // to be chosen when all is known
	flap        string         // a snap, on a flap over the zip; "" for none
	length      string         // a value as it stands in the file
	shortest    measure.Length // of its sizes
	sizes       []string
	count       string
	gap         string
	columns     string // how far a column of a double-breasted front is from the centre line
	interfacing string // an entry of the catalogue, "none" for none
	edge        string
	hole        string
	machine     []entry
	said        map[string]string // the words of each answer
}

// entry is a key with its value as it stands in a file.
type entry struct{ key, value string }

// asking is one question of the interview.
type asking struct {
	key   string // what the answer is remembered by
	asks  string
	as    func(d *draft) string // other words for some garments; nil or "": asks
	first string                // what an empty answer means, "" where one is needed
	help  string
	aid   func(d *draft) string // other help for some garments; nil or "": help
	only  func(d *draft) bool   // asked only of such; nil of all
	open  string                // what is answered for who does not know; "" is first, or else the help
	take  func(iv *interview, d *draft, s string) error
}

func (q *asking) helpFor(d *draft) string {
	if q.aid != nil {
		return cmp.Or(q.aid(d), q.help)
	}
	return q.help
}

// interview is a conversation that makes a draft.
type interview struct {
	in    *call
	cat   *catalog.Catalog
	lines *bufio.Scanner
	now   draft
	asked []step // what was answered, to go back to
}

type step struct {
	at     int // of the question
	before draft
}

// again is an answer that cannot be used, and what would do.
type again struct{ says string }

func (a again) Error() string { return a.says }

func ask(format string, args ...any) error { return again{fmt.Sprintf(format, args...)} }

func (in *call) interview(cat *catalog.Catalog) error {
	iv := &interview{in: in, cat: cat, lines: bufio.NewScanner(in.in)}
	iv.now.said = map[string]string{}
	if u, err := measure.ParseUnit(in.text("units")); err == nil && in.has("units") {
		iv.now.unit = u
	}
	if err := iv.writable(); err != nil {
		return err
	}
	iv.say("", "A garment file in a few questions. Any unit will do. ? explains a question, back returns to the one before, stop ends and writes nothing.")
	qs := questions()
	n := 0
	for at := 0; at < len(qs); at++ {
		q := &qs[at]
		if q.only != nil && !q.only(&iv.now) {
			continue
		}
		if n++; n == enough+1 {
			iv.say("", "That is enough for a first plan. The questions from here on make it closer to yours: end at any of them ends.")
		}
		back, end, err := iv.question(n, at, q)
		switch {
		case err != nil:
			return err
		case end:
			at = len(qs)
		case back:
			n--
			if k := len(iv.asked); k > 0 {
				last := iv.asked[k-1]
				iv.asked, iv.now, at = iv.asked[:k-1], last.before, last.at-1
				n--
			} else {
				iv.say("", "There is no question before this one.")
				at--
			}
		}
	}
	return iv.write()
}

// say writes a text in lines, a head before the first.
func (iv *interview) say(head, s string) { say(iv.in.out, head, s) }

// question asks one question until it is answered.
func (iv *interview) question(n, at int, q *asking) (back, end bool, err error) {
	fmt.Fprintln(iv.in.out)
	asks := q.asks
	if q.as != nil {
		asks = cmp.Or(q.as(&iv.now), asks)
	}
	if q.first != "" {
		asks += " (Enter: " + q.first + ")"
	}
	iv.say(fmt.Sprintf("%d. ", n), asks)
	for {
		s, err := iv.read()
		if err != nil {
			return false, false, err
		}
		switch strings.ToLower(s) {
		case "?", "help":
			iv.say("   ", q.helpFor(&iv.now))
			continue
		case "back":
			return true, false, nil
		case "stop", "quit":
			return false, false, &unusable{says: "stopped: nothing was written"}
		case "end", "done":
			if n > enough {
				return false, true, nil
			}
			iv.say("   ", fmt.Sprintf("The first %d questions are needed for a plan.", enough))
			continue
		case "":
			if q.first == "" {
				iv.say("   ", "This one is needed. "+q.helpFor(&iv.now))
				continue
			}
		}
		answer := s
		if unknown(s) {
			switch {
			case q.open != "":
				s = q.open
			case q.first != "":
				iv.say("   ", "Then it is "+q.first+".")
				s = ""
			default:
				iv.say("   ", q.helpFor(&iv.now))
				continue
			}
		}
		d := iv.now
		d.said = map[string]string{}
		for k, v := range iv.now.said {
			d.said[k] = v
		}
		d.said[q.key] = answer
		err = q.take(iv, &d, s)
		if err == nil {
			err = iv.reads(&d)
		}
		var bad again
		switch {
		case errors.As(err, &bad):
			iv.say("   ", bad.says)
		case err != nil:
			return false, false, err
		default:
			iv.asked = append(iv.asked, step{at, iv.now})
			iv.now = d
			return false, false, nil
		}
	}
}

// read reads one answer.
func (iv *interview) read() (string, error) {
	fmt.Fprint(iv.in.out, "> ")
	if !iv.lines.Scan() {
		fmt.Fprintln(iv.in.out)
		if err := iv.lines.Err(); err != nil {
			return "", &unusable{says: "an answer cannot be read, so nothing was written: " + source.Reason("read", err)}
		}
		return "", &unusable{says: "the answers ended before the end, so nothing was written"}
	}
	return strings.Join(strings.Fields(iv.lines.Text()), " "), nil
}

// reads says what is wrong with the draft as a garment file.
func (iv *interview) reads(d *draft) error {
	_, err := iv.garment(d)
	var wrong source.Problems
	if errors.As(err, &wrong) {
		says := wrong[0].Message
		if w := wrong[0].Instead; w != "" {
			says += "; write " + w
		}
		return ask("%s", says)
	}
	return err
}

func (iv *interview) garment(d *draft) (*catalog.Garment, error) {
	return catalog.Read("the answers", []byte(d.file()), catalog.Options{Catalogs: iv.in.list("catalog")})
}

// pick lets one of several be chosen by its letter.
func (iv *interview) pick(of []catalog.Item) (string, error) {
	const most = 12
	more := len(of) - most
	of = of[:min(len(of), most)]
	for i, it := range of {
		iv.say(fmt.Sprintf("   %c  ", 'a'+i), text.Join("; ", it.Name+": "+brief(it, iv.now.unit), it.About))
	}
	if more > 0 {
		iv.say("   ", fmt.Sprintf("and %d more: say more of it to find them", more))
	}
	which := "Which? A letter, or other words."
	if len(of) == 1 {
		which = "Is it that? Enter takes it; otherwise say it in other words."
	}
	for {
		iv.say("   ", which)
		s, err := iv.read()
		if err != nil {
			return "", err
		}
		switch w := strings.ToLower(s); {
		case len(of) == 1 && slices.Contains([]string{"", "y", "yes", "ok"}, w):
			return of[0].Name, nil
		case unknown(s):
			iv.say("   ", "Take the one that is most like yours; it can be changed later.")
		case len(w) == 1 && w[0] >= 'a' && int(w[0]-'a') < len(of):
			return of[w[0]-'a'].Name, nil
		case len(w) > 1:
			return "", again{s}
		}
	}
}

// find looks for entries of some kinds by everyday words: those in whose name
// or description every word stands, and fasteners also by a size.
func (iv *interview) find(s string, kinds ...string) []catalog.Item {
	var of, called []catalog.Item
	for _, it := range iv.cat.Items() {
		if !slices.Contains(kinds, it.Kind) {
			continue
		}
		if it.Name == s {
			return []catalog.Item{it}
		}
		of = append(of, it)
		says := strings.ToLower(it.Name + " " + it.About)
		if s != "" && !slices.ContainsFunc(strings.Fields(strings.ToLower(s)), func(w string) bool { return !strings.Contains(says, w) }) {
			called = append(called, it)
		}
	}
	if len(called) > 0 || !slices.ContainsFunc(kinds, fastens) {
		return called
	}
	return having(of, strings.Fields(s))
}

// nearly are entries that have some of the words, those with most of them.
func (iv *interview) nearly(s string, kinds ...string) []catalog.Item {
	var best []catalog.Item
	most := 0
	for _, it := range iv.cat.Items() {
		if !slices.Contains(kinds, it.Kind) {
			continue
		}
		n, says := 0, strings.ToLower(it.Name+" "+it.About)
		for _, w := range strings.Fields(strings.ToLower(s)) {
			if len(w) > 3 && strings.Contains(says, strings.TrimSuffix(w, "s")) {
				n++
			}
		}
		switch {
		case n > most:
			best, most = []catalog.Item{it}, n
		case n == most && n > 0:
			best = append(best, it)
		}
	}
	return best
}

// one is the entry that words mean: the only one, or the one that is picked.
func (iv *interview) one(s, what string, kinds ...string) (string, error) {
	for {
		if len(s) < 2 {
			return "", ask("Say more of it: a name, or words of it.")
		}
		found := iv.find(s, kinds...)
		switch len(found) {
		case 0:
			if found = iv.nearly(s, kinds...); len(found) > 0 {
				iv.say("   ", fmt.Sprintf("The catalogue has no %s called %q. What comes near it:", what, s))
				break
			}
			var names []string
			for _, it := range iv.cat.Items() {
				if slices.Contains(kinds, it.Kind) {
					names = append(names, it.Name)
				}
			}
			if near := text.Nearest(s, names); near != "" {
				return "", ask("The catalogue knows no %s called %q; it has %s.", what, s, near)
			}
			return "", ask("The catalogue knows no %s called %q. Say it in other words; ? tells more.", what, s)
		case 1:
			return found[0].Name, nil
		}
		name, err := iv.pick(found)
		var other again
		if !errors.As(err, &other) {
			return name, err
		}
		switch other.says {
		case "back":
			return "", ask("Once more, then: which %s?", what)
		case "stop", "quit":
			return "", &unusable{says: "stopped: nothing was written"}
		}
		s = other.says
	}
}

var (
	yearsOld = pattern(`\b(?:of|aged?|is)?\s*(\d{1,2})\s*(years?|yrs?|y\.?o\.?|months?)?\b`)
	forChild = pattern(`(?i)\b(child|children|kid|kids|boy|girl|son|daughter|school)\b`)
	forBaby  = pattern(`(?i)\b(baby|babies|infant|toddler|newborn)\b`)
	eighth   = pattern(`\b(eight|8)\b`)
	oneLayer = pattern(`\b(layer|each|single|one)\b`)
	doubled  = pattern(`(?i)\bdouble[ -]?breasted\b`)
	forWomen = pattern(`(?i)\b(wom[ae]n|lady|ladies|girls?|daughters?|sister|wife|mother|mum|mom|grandmother|aunt|niece|her|girlfriend)('?s)?\b`)
	forMen   = pattern(`(?i)\b(m[ae]n|gentlem[ae]n|boys?|sons?|brother|husband|father|dad|grandfather|uncle|nephew|him|boyfriend)('?s)?\b`)
	article  = pattern(`(?i)^an? +`)
	number   = pattern(`^\d+$`)
)

func questions() []asking {
	return []asking{
		{
			key: "what", asks: "What is it, and for whom? For instance: winter coat; anorak for a child of 6; jacket for a baby",
			help: "A name for the garment. For a child or a baby say so: other rules of safety hold, and they begin with the age.",
			take: takeName,
		},
		{
			key: "cloth", asks: "Which cloth? For instance: melton; boiled wool; 13 oz denim; 620 g/m2 coating",
			help: "An everyday name, or the weight and a name. Where you do not know the weight: cut a square of 10 cm, weigh it in grams, and a hundred times that is its g/m2. placketeer catalog --kind cloth lists the names.",
			open: unknownCloth,
			take: func(iv *interview, d *draft, s string) error {
				err := takeCloth(iv, d, s)
				d.plaid = repeats(s + " " + d.name)
				for _, it := range iv.cat.Items() {
					d.plaid = d.plaid || it.Kind == "cloth" && len(d.cloth) > 0 && source.Text(it.Name) == d.cloth[0].value && repeats(it.About)
				}
				return err
			},
		},
		{
			key: "fastener", asks: "Which fastener? For instance: button 45L; button 1 1/8 in, 4 mm thick; snaps; toggles; zip; choose",
			help: "What you have in hand, measured: the widest way across, and how thick. Or its name in the catalogue, or the kind of it and a size. A kind alone, or choose, leaves it open: the usual size for such a garment is taken from the catalogue, and placketeer choose shows the others.",
			open: "choose",
			take: takeFastener,
		},
		{
			key: "length", asks: "How long is the front, from the neck edge to the finished hem? For instance: 24 in; 61 cm; S 23 in, M 24 in, L 25 in",
			help: "Measured along the centre line, on the pattern. For several sizes say each with its length, commas between.",
			take: takeLength,
		},
		{
			key: "count", asks: "How many fasteners? For instance: 6; 5 to 7; every 4 in", first: "as many as gaps of about 4 in want",
			help: "A number, a range, or about how far apart they are to be.",
			as: func(d *draft) string {
				if d.flap != "" {
					return "How many snaps on the flap over the zip? For instance: 6; 5 to 7; every 4 in"
				}
				if d.double {
					return "How many rows of two, from the top to the hem? For instance: 4; 3 to 5; every 4 in"
				}
				return ""
			},
			take: takeCount,
			only: func(d *draft) bool { return d.fastener != catalog.Zip || d.flap != "" },
		},
		{
			key: "columns", asks: "How far is each column of fasteners from the centre line? For instance: 3 in; 7 cm", first: "the usual, 70 mm (2 3/4 in)",
			help: "On the pattern, from the centre line to where the fasteners are: half of what lies between the two columns.",
			take: takeColumns,
			only: func(d *draft) bool { return d.double && d.fastener != catalog.Zip },
		},
		{
			key: "repeat", asks: "After how much does the plaid or stripe come again, down the cloth and across? For instance: 8 cm, 6 cm; 3 1/2 in", first: "not measured yet",
			help: "From a line to the next one that is the same, along the selvedge, then from selvedge to selvedge. One length alone is that down the cloth.",
			take: takeRepeat,
			only: func(d *draft) bool { return d.plaid },
		},
		{
			key: "thickness", asks: "How thick is the cloth? Fold it in eight, lay a ruler on the stack, and say what it shows: for instance 19 mm", first: "estimated from the weight",
			help: "Eight layers are easier to measure than one. Press them flat with a finger, not hard. A layer alone may be said too: 2.4 mm a layer.",
			take: takeThickness,
		},
		{
			key: "interfacing", asks: "Which interfacing lies behind the holes and fasteners? For instance: weft fusible medium; hair canvas; none", first: "none",
			help: "An everyday name of one, such as hair canvas, nonwoven, wigan. placketeer catalog --kind interfacing lists them.",
			take: takeInterfacing,
		},
		{
			key: "edge", asks: "How is the front edge made? faced, folded, band or fly", first: "faced",
			help: "faced: a facing sewn to the edge and turned in. folded: the edge itself folded over twice as a band. band: a band of its own sewn on. fly: the holes hidden in a second layer behind the edge.",
			take: takeEdge,
			only: func(d *draft) bool { return !d.double && d.fastener != catalog.Zip }, // those are faced
		},
		{
			key: "hole", asks: "How are the holes made? machine, keyhole, hand, bound or loop", first: "machine",
			help: "machine: a straight buttonhole. keyhole: with a round eye, for coats. hand: worked by hand. bound: with lips of cloth. loop: loops at the edge.",
			take: takeHole,
			only: func(d *draft) bool { return d.fastener == catalog.Button },
		},
		{
			key: "market", asks: "Where is it worn, or sold? us or eu", first: "us",
			help: "The rules for the small parts and cords of a child's garment are not the same there.",
			take: func(_ *interview, d *draft, s string) error { return oneWord(&d.market, marketOf(s), "us", "us", "eu") },
			only: func(d *draft) bool { return d.wearer != "adult" },
		},
		{
			key: "machine", asks: "How long a buttonhole does your machine sew at most, and how high does its foot lift? For instance: 28 mm, 6 mm", first: "what is usual",
			help: "The longest button that fits the buttonhole foot, and the room under the lifted foot. Both stand in the machine's manual, or can be measured.",
			as: func(d *draft) string {
				if !d.holes() {
					return "How high does the foot of your machine lift? For instance: 6 mm"
				}
				return ""
			},
			aid: func(d *draft) string {
				if !d.holes() {
					return "The room under the lifted foot. It stands in the machine's manual, or can be measured."
				}
				return ""
			},
			take: takeMachine,
		},
	}
}

func takeName(_ *interview, d *draft, s string) error {
	name, who, _ := strings.Cut(s, " for ")
	d.wearer, d.age, d.double = "adult", 0, doubled().MatchString(s)
	d.cut = ""
	switch women, men := forWomen().MatchString(s), forMen().MatchString(s); {
	case women && !men:
		d.cut = "women"
	case men && !women:
		d.cut = "men"
	}
	years := -1
	if m := yearsOld().FindStringSubmatch(who); m != nil {
		years, _ = strconv.Atoi(m[1])
		if strings.HasPrefix(m[2], "month") {
			years /= 12
		}
	}
	switch {
	case forBaby().MatchString(s) || years >= 0 && years < 3:
		d.wearer = "infant"
	case forChild().MatchString(s) || years >= 0 && years < 14:
		d.wearer = "child"
		if years > 0 && years < 14 {
			d.age = years
		}
	}
	if low := strings.ToLower(who); name == "" || d.wearer == "adult" && low != "me" && low != "myself" {
		name = s
	}
	d.name = text.Capital(strings.Trim(article().ReplaceAllString(strings.TrimSpace(name), ""), " ,;"))
	return nil
}

// unknownCloth is the cloth of who does not know it.
const unknownCloth = "?"

// everyday are the cloths that are shown to who does not know theirs.
var everyday = []string{"melton", "melton-light", "boiled-wool", "tweed", "coating-check", "flannel", "denim", "cotton-drill", "waxed-cotton", "coated-cotton", "fleece", "quilted-wadding"}

var grams = pattern(`(?i)\b(\d+) ?(?:gr?|grams?)(?:$|[\s,])`)

func takeCloth(iv *interview, d *draft, s string) error {
	if s == unknownCloth {
		var of []catalog.Item
		for _, name := range everyday {
			for _, it := range iv.cat.Items() {
				if it.Kind == "cloth" && it.Name == name {
					of = append(of, it)
				}
			}
		}
		iv.say("   ", "Then take the one that is most like yours; it can be weighed and changed later:")
		use, err := iv.pick(of)
		if bad := (again{}); errors.As(err, &bad) {
			return takeCloth(iv, d, bad.says)
		}
		d.cloth = []entry{{"use", source.Text(use)}}
		return err
	}
	s = strings.Join(strings.Fields(grams().ReplaceAllString(strings.ReplaceAll(measure.Hedgeless(s), ",", " ")+" ", "$1 g/m2 ")), " ")
	weight, words := "", s
	parts := strings.Fields(s)
	for from := 0; from < len(parts) && weight == ""; from++ {
		for n := len(parts); n > from; n-- {
			if w, err := measure.ParseAreaWeight(strings.Join(parts[from:n], " ")); err == nil {
				weight = strconv.FormatFloat(w.GSM(), 'f', -1, 64) + " g/m2"
				words = strings.Join(slices.Concat(parts[:from], parts[n:]), " ")
				if words == "" {
					words = strings.TrimLeft(strings.Join(parts, " "), "0123456789./ ")
				}
				break
			}
		}
	}
	if weight != "" {
		w, _ := measure.ParseAreaWeight(weight)
		weight = strconv.FormatFloat(roundTo(w.GSM()), 'f', -1, 64) + " g/m2"
	}
	if kind := iv.cat.KindSaid(s); weight != "" && kind != "" {
		for _, it := range iv.cat.Items() {
			if it.Kind == "cloth" && strings.Contains(strings.ToLower(s), it.Name) {
				d.cloth = []entry{{"use", source.Text(it.Name)}, {"weight", source.Text(weight)}}
				return nil
			}
		}
	}
	if weight != "" && len(iv.find(words, "cloth")) == 0 {
		if _, err := measure.ParseAreaWeight(s); err == nil {
			return ask("And which cloth is it? Say its name behind the weight: %s melton, for instance.", weight)
		}
		return ask("The catalogue knows no cloth called %q. Say the nearest: wool coating, denim, drill, fleece, leather.", words)
	}
	if weight == "" && strings.ContainsAny(s, "0123456789") && strings.Contains(s, "oz") {
		_, err := measure.ParseAreaWeight(s)
		var pe *measure.ParseError
		if errors.As(err, &pe) {
			name := strings.Fields(s[strings.Index(s, "oz"):])
			meant := pe.Meant()
			for i := range meant {
				meant[i] += " " + strings.Join(name[1:], " ")
			}
			return ask("%s. Write %s.", pe.Reason, text.Or(meant...))
		}
	}
	use, err := iv.one(words, "cloth", "cloth")
	if err != nil {
		return err
	}
	d.cloth = []entry{{"use", source.Text(use)}}
	if weight != "" {
		d.cloth = append(d.cloth, entry{"weight", source.Text(weight)})
	}
	return nil
}

// roundTo is a weight as scales show it.
func roundTo(gsm float64) float64 { return float64(int(gsm + 0.5)) }

// kinds of fasteners as people call them, the longer words first.
var fastenerWords = []struct{ word, kind string }{
	{"tack button", catalog.TackButton}, {"jeans button", catalog.TackButton},
	{"button", catalog.Button}, {"press stud", catalog.Snap}, {"popper", catalog.Snap}, {"snap", catalog.Snap},
	{"toggle", catalog.Toggle}, {"frog", catalog.Frog}, {"hook", catalog.Hook}, {"zipper", catalog.Zip}, {"zip", catalog.Zip},
}

func takeFastener(iv *interview, d *draft, s string) error {
	d.use, d.notion, d.wish, d.fastener, d.flap = "", nil, false, "", ""
	s = strings.TrimSpace(strings.TrimPrefix(measure.Everyday(s), "a "))
	low, rest := strings.ToLower(s), ""
	switch kinds := kindsSaid(low); {
	case len(kinds) == 2 && slices.Contains(kinds, catalog.Zip) && slices.Contains(kinds, catalog.Snap):
		d.fastener, d.wish = catalog.Zip, true
		d.use, d.flap = iv.firstOf(catalog.Zip), iv.firstOf(catalog.Snap) // till all is known
		iv.say("   ", "A zip, and snaps on a flap of its own that lies over it.")
		return nil
	case len(kinds) > 1:
		return ask("One of them at a time: which closes the front? The other is a [[closure]] of its own, to be written into the file.")
	}
	for _, f := range fastenerWords {
		if i := strings.Index(low, f.word); i >= 0 {
			d.fastener = f.kind
			rest = strings.Trim(s[:i]+" "+strings.TrimPrefix(s[i+len(f.word):], "s"), " ,")
			rest = strings.TrimSpace(strings.TrimPrefix(strings.Join(strings.Fields(rest), " "), "of "))
			break
		}
	}
	switch {
	case low == "choose":
		d.fastener, d.wish = catalog.Button, true
		return nil
	case d.fastener != "" && (rest == "choose" || rest == ""): // a kind alone
		d.wish = true
		if d.fastener != catalog.Button {
			d.use = iv.firstOf(d.fastener) // till all is known
		}
		return nil
	}
	if it := iv.find(low, catalog.Kinds()[:fastenerKinds()]...); len(it) == 1 && it[0].Name == low {
		d.use, d.fastener = low, it[0].Kind
		return nil
	}
	if d.fastener == "" { // a size alone is that of a button
		first, _, _ := strings.Cut(s, ",")
		if _, err := measure.ParseLength(first, measure.NoUnit); err == nil || len(measure.Meanings(first)) > 0 {
			d.fastener, rest = catalog.Button, s
		} else {
			rest = s
		}
	}
	if d.fastener == catalog.Button {
		if ok, err := iv.takeButton(d, rest); ok || err != nil {
			return err
		}
	}
	kinds := catalog.Kinds()[:fastenerKinds()]
	if d.fastener != "" {
		kinds = []string{d.fastener}
	}
	if d.fastener != "" && d.fastener != catalog.Button && d.fastener != catalog.Zip {
		if ok, err := iv.takeSized(d, rest); ok || err != nil {
			return err
		}
	}
	use, err := iv.one(rest, "fastener", kinds...)
	if err != nil {
		return err
	}
	d.use = use
	for _, it := range iv.cat.Items() {
		if it.Name == use && fastens(it.Kind) {
			d.fastener = it.Kind
		}
	}
	return nil
}

// fastenerKinds is how many of the kinds are fasteners.
func fastenerKinds() int { return slices.Index(catalog.Kinds(), "cloth") }

// kindsSaid are the kinds of fasteners that words speak of, each once.
func kindsSaid(low string) (kinds []string) {
	for _, f := range fastenerWords {
		if strings.Contains(low, f.word) && !slices.Contains(kinds, f.kind) {
			kinds = append(kinds, f.kind)
		}
		low = strings.ReplaceAll(low, f.word, " ")
	}
	return kinds
}

// firstOf is the first fastener of a kind that the catalogue has.
func (iv *interview) firstOf(kind string) string {
	for _, it := range iv.cat.Items() {
		if it.Kind == kind {
			return it.Name
		}
	}
	return ""
}

// sizedIn is the length in some words, as it was said, and what else they say
// of a thing: without what the length is called, and how many there are.
func sizedIn(s string) (length, words string) {
	parts := strings.Fields(strings.ReplaceAll(s, ",", " "))
search:
	for from := range parts {
		for to := len(parts); to > from; to-- {
			said := strings.Join(parts[from:to], " ")
			if l, err := measure.ParseLength(said, measure.NoUnit); err == nil && l > 0 && !number().MatchString(said) {
				length, parts = said, slices.Delete(parts, from, to)
				break search
			}
		}
	}
	parts = slices.DeleteFunc(parts, func(w string) bool {
		return number().MatchString(w) || length != "" && slices.Contains([]string{"long", "length", "wide", "across", "diameter", "in"}, strings.ToLower(w))
	})
	return length, strings.Join(parts, " ")
}

// takeSized reads a fastener of a kind with its size: an entry that has it, or
// for a toggle one that is made so long. It is not for those without a size.
func (iv *interview) takeSized(d *draft, s string) (bool, error) {
	size, words := sizedIn(s)
	l, err := measure.ParseLength(size, measure.NoUnit)
	if err != nil {
		return false, nil
	}
	var alike, found []catalog.Item
	for _, it := range iv.cat.Items() {
		says := strings.ToLower(it.Name + " " + it.About)
		if it.Kind != d.fastener || slices.ContainsFunc(strings.Fields(strings.ToLower(words)), func(w string) bool { return !strings.Contains(says, strings.TrimSuffix(w, "s")) }) {
			continue
		}
		alike = append(alike, it)
		if it.HasLength(l) {
			found = append(found, it)
		}
	}
	own := len(found) == 0
	switch {
	case len(alike) == 0, own && d.fastener != catalog.Toggle:
		return false, nil
	case len(found) == 1:
		d.use = found[0].Name
		return true, nil
	case own:
		iv.say("   ", fmt.Sprintf("The catalogue has none of %s. Which is most like yours? It is taken as %s long.", said(size), said(size)))
		found = alike
	}
	if d.use, err = iv.pick(found); err == nil && own {
		d.notion = []entry{{"length", source.Text(said(size))}}
	}
	var other again
	if errors.As(err, &other) {
		return true, takeFastener(iv, d, other.says)
	}
	return true, err
}

// takeButton reads a button as it was measured: how wide, and how thick. One
// whose thickness is not said is as thick as those that are sold.
func (iv *interview) takeButton(d *draft, s string) (bool, error) {
	size, material := madeOf(s)
	if _, err := measure.ParseLength(strings.TrimSpace(strings.SplitN(size, ",", 2)[0]), measure.NoUnit); err == nil && material != "" {
		s = size
	} else {
		material = ""
	}
	wide, thick, _ := strings.Cut(s, ",")
	wide = strings.TrimSpace(wide)
	if wide == "" {
		return false, nil
	}
	l, u, err := measure.ParseLengthUnit(wide, measure.NoUnit)
	if err != nil {
		if all := measure.Meanings(wide); len(all) > 0 {
			return false, ask("%s what? Write %s.", wide, text.Or(all...))
		}
		if strings.ContainsAny(wide, "0123456789") && len(iv.find(wide, catalog.Button)) == 0 {
			return false, ask("%q is no width of a button: write 28 mm, 1 1/8 in or 45L.", wide)
		}
		return false, nil
	}
	if l <= 0 {
		return false, ask("The button cannot be nothing across.")
	}
	if d.unit == measure.NoUnit && !strings.Contains(strings.ToLower(wide), "l") {
		d.unit = u
	}
	d.notion = []entry{{"kind", `"button"`}, {"diameter", source.Text(said(wide))}}
	if material != "" {
		d.notion = append(d.notion, entry{"material", source.Text(material)})
	}
	thick = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(thick), "thick"))
	if thick == "" {
		t := plan.UsualThickness(iv.cat, l)
		d.notion = append(d.notion, entry{"thickness", source.Text(lengthText(measure.Toleranced{V: t.V, Tol: t.Tol})) + " # an estimate: measure yours"})
		return true, nil
	}
	if t, err := measure.ParseLength(thick, measure.NoUnit); err != nil || t <= 0 {
		return false, ask("%q is no thickness: write 4 mm or 5/32 in.", thick)
	}
	d.notion = append(d.notion, entry{"thickness", source.Text(said(thick))})
	return true, nil
}

// said is a length as it was said, in the way files have it.
func said(s string) string {
	l, u, err := measure.ParseLengthUnit(s, measure.NoUnit)
	if err != nil {
		return s
	}
	if strings.HasSuffix(strings.ToLower(s), "l") || strings.Contains(s, "lig") {
		return s
	}
	return l.Exact(u)
}

// A front is so long: ours, so wide that only a slip falls out of it.
const shortFront, longFront = 2 * measure.Inch, 100 * measure.Inch

func takeLength(iv *interview, d *draft, s string) error {
	s = measure.Everyday(s)
	d.sizes, d.shortest = nil, longFront
	unit := func(s string) (string, error) {
		l, u, err := measure.ParseLengthUnit(s, measure.NoUnit)
		if err != nil {
			if all := measure.Meanings(s); len(all) > 0 || number().MatchString(s) {
				return "", ask("%s what? Write %s in or %s cm.", s, s, s)
			}
			return "", ask("%q is no length: write 24 in, 61 cm or 610 mm.", s)
		}
		if l <= 0 {
			return "", ask("The front cannot be nothing long.")
		}
		if l < shortFront || l > longFront {
			return "", ask("The front of what is it? %s, from the neck edge to the hem, is no garment. Write 24 in, or 61 cm.", l.Exact(u))
		}
		d.shortest = min(d.shortest, l)
		if !iv.in.has("units") {
			d.unit = u
		}
		return l.Exact(u), nil
	}
	parts := strings.Split(s, ",")
	if len(parts) == 1 {
		l, err := unit(s)
		if err == nil {
			d.length = source.Text(l)
			return nil
		}
		if f := strings.Fields(s); len(f) < 3 || strings.ContainsAny(f[0], "0123456789") || !strings.ContainsAny(s, "0123456789") {
			return err
		}
	}
	var out []string
	for _, p := range parts {
		p = strings.TrimSpace(strings.ReplaceAll(p, "=", " "))
		name, l, ok := strings.Cut(p, " ")
		if !ok {
			return ask("%q: say each size with its length, as S 23 in, M 24 in.", p)
		}
		v, err := unit(strings.TrimSpace(l))
		if err != nil {
			return err
		}
		if slices.Contains(d.sizes, name) {
			return ask("Size %s is there twice.", name)
		}
		d.sizes = append(d.sizes, name)
		out = append(out, catalog.Key(name)+" = "+source.Text(v))
	}
	d.length = "{ " + strings.Join(out, ", ") + " }"
	return nil
}

var fromTo = pattern(`^(?:between )?(\d+) *(?:to|or|and|-|–) *(\d+)$`)

func takeCount(_ *interview, d *draft, s string) error {
	d.count, d.gap = "", ""
	low := strings.TrimSpace(strings.TrimPrefix(strings.ToLower(measure.Everyday(s)), "every "))
	if m := fromTo().FindStringSubmatch(low); m != nil {
		d.count = "{ min = " + m[1] + ", max = " + m[2] + " }"
		return nil
	}
	switch l, u, err := measure.ParseLengthUnit(low, measure.NoUnit); {
	case s == "": // the gaps that the program names where none are given
		d.gap = `{ min = "3 in", max = "4 1/2 in" }`
		if d.unit.Is(measure.MM) {
			d.gap = `{ min = "75 mm", max = "115 mm" }`
		}
	case number().MatchString(low):
		if n, err := strconv.Atoi(low); err != nil || n < 1 {
			return ask("%s fasteners close nothing: write 1 or more.", s)
		}
		d.count = low
	case err != nil || l <= 0:
		return ask("%q is no number: write 6, 5 to 7, or every 4 in.", s)
	case d.shortest > 0 && l >= d.shortest:
		return ask("%s from one to the next is more than the front is long: write how many, such as 6, or every 4 in.", l.Exact(u))
	default:
		d.gap = "{ min = " + source.Text((l * 4 / 5).Exact(u)) + ", max = " + source.Text((l * 6 / 5).Exact(u)) + " }"
	}
	return nil
}

func takeThickness(_ *interview, d *draft, s string) error {
	d.cloth = slices.DeleteFunc(slices.Clone(d.cloth), func(e entry) bool { return e.key == "thickness" })
	if s == "" {
		return nil
	}
	low, layer := strings.CutSuffix(strings.ToLower(measure.Everyday(s)), "a layer")
	l, err := measure.ParseLength(strings.TrimSpace(low), measure.NoUnit)
	if err != nil || l <= 0 {
		size, _ := sizedIn(low) // folded in eight it is 3 cm
		if l, err = measure.ParseLength(size, measure.NoUnit); err == nil && l > 0 {
			layer = layer || !eighth().MatchString(low) && oneLayer().MatchString(low)
		} else if number().MatchString(low) {
			return ask("%s what? Write %s mm, or inches.", s, s)
		}
	}
	if err != nil || l <= 0 {
		return ask("%q is no thickness: write 19 mm or 3/4 in for the eight layers, or 2.4 mm a layer.", s)
	}
	if !layer {
		l /= 8
	}
	d.cloth = append(d.cloth, entry{"thickness", source.Text(l.Exact(measure.MM))})
	return nil
}

func takeInterfacing(iv *interview, d *draft, s string) error {
	d.interfacing = ""
	if low := strings.ToLower(s); low == "" || low == "none" || low == "no" {
		return nil
	}
	use, err := iv.one(strings.ToLower(s), "interfacing", "interfacing")
	d.interfacing = use
	return err
}

func takeEdge(_ *interview, d *draft, s string) error {
	return oneWord(&d.edge, s, "faced", "faced", "folded", "band", "fly")
}

func takeHole(_ *interview, d *draft, s string) error {
	return oneWord(&d.hole, s, "machine", "machine", "keyhole", "hand", "bound", "loop")
}

// members are the states of the European Union, by the list of its own pages,
// 2024, as they are called in English.
var members = []string{
	"austria", "belgium", "bulgaria", "croatia", "cyprus", "czech republic", "czechia", "denmark", "estonia", "finland", "france", "germany", "greece",
	"holland", "hungary", "ireland", "italy", "latvia", "lithuania", "luxembourg", "malta", "netherlands", "poland", "portugal", "romania", "slovakia",
	"slovenia", "spain", "sweden",
}

// marketOf is the market of a country that is named.
func marketOf(s string) string {
	low := strings.ToLower(strings.TrimSpace(s))
	low = strings.TrimPrefix(strings.TrimPrefix(low, "in "), "the ")
	switch {
	case slices.Contains([]string{"usa", "u.s.", "u.s.a.", "united states", "states", "america"}, low):
		return "us"
	case slices.Contains([]string{"europe", "european union", "e.u."}, low) || slices.Contains(members, low):
		return "eu"
	}
	return s
}

// oneWord takes one of some words, or with nothing said the first.
func oneWord(to *string, s, first string, words ...string) error {
	*to = strings.ToLower(s)
	if s == "" {
		*to = first
	}
	// by hand, key hole, bound buttonholes, with a facing
	var said []string
	joined := strings.NewReplacer(" ", "", "-", "", "facing", "faced").Replace(*to)
	for _, w := range words {
		stem := strings.TrimSuffix(w, "ed")
		if len(stem) < 4 {
			stem = w
		}
		if slices.Contains(strings.Fields(*to), w) || len(stem) > 3 && strings.Contains(joined, stem) {
			said = append(said, w)
		}
	}
	if len(said) == 1 {
		*to = said[0]
		return nil
	}
	if near := text.Nearest(*to, words); near != "" && len(near) > 2 {
		return ask("%q is not one of them; write %s.", s, near)
	}
	return ask("%q is not one of them; write %s.", s, text.Or(words...))
}

func takeMachine(_ *interview, d *draft, s string) error {
	d.machine = nil
	if s == "" {
		return nil
	}
	s = measure.Everyday(s)
	keys := []string{"buttonhole_max", "foot_lift"}
	if !d.holes() && !strings.Contains(s, ",") {
		keys = keys[1:]
	}
	for i, p := range strings.SplitN(s, ",", len(keys)) {
		p = strings.TrimSpace(p)
		if p == "" {
			continue
		}
		if l, err := measure.ParseLength(p, measure.NoUnit); err != nil || l <= 0 {
			if len(keys) == 1 {
				return ask("%q is no length: write 6 mm.", p)
			}
			return ask("%q is no length: write 28 mm, 6 mm.", p)
		}
		d.machine = append(d.machine, entry{keys[i], source.Text(said(p))})
	}
	return nil
}

// holes says whether the machine sews the holes.
func (d *draft) holes() bool {
	return d.fastener == catalog.TackButton || d.fastener == catalog.Button && (d.hole == "" || d.hole == "machine" || d.hole == "keyhole")
}

func takeColumns(_ *interview, d *draft, s string) error {
	d.columns = ""
	if s == "" {
		return nil
	}
	l, u, err := measure.ParseLengthUnit(measure.Everyday(s), measure.NoUnit)
	if err != nil || l <= 0 {
		return ask("%q is no length: write 3 in or 7 cm.", s)
	}
	d.columns = l.Exact(u)
	return nil
}

func takeRepeat(_ *interview, d *draft, s string) error {
	d.cloth = slices.DeleteFunc(slices.Clone(d.cloth), func(e entry) bool { return e.key == "repeat" })
	if s == "" {
		return nil
	}
	var out []string
	for i, p := range strings.SplitN(measure.Everyday(s), ",", 2) {
		l, u, err := measure.ParseLengthUnit(strings.TrimSpace(p), measure.NoUnit)
		if err != nil || l <= 0 {
			return ask("%q is no length: write 8 cm, 6 cm or 3 1/2 in.", strings.TrimSpace(p))
		}
		out = append(out, []string{"along", "across"}[i]+" = "+source.Text(l.Exact(u)))
	}
	d.cloth = append(d.cloth, entry{"repeat", "{ " + strings.Join(out, ", ") + " }"})
	return nil
}

// striped is what people call a cloth that repeats.
var striped = []string{"plaid", "tartan", "check", "stripe", "gingham", "houndstooth"}

// repeats says whether words speak of a plaid or stripes.
func repeats(s string) bool {
	low := strings.ToLower(s)
	return slices.ContainsFunc(striped, func(w string) bool { return strings.Contains(low, w) })
}

// file is the draft as a garment file.
func (d *draft) file() string {
	var b strings.Builder
	note := func(key string) string {
		if s := d.said[key]; s != "" {
			return "  " + source.Said + text.Safe(s)
		}
		return ""
	}
	line := func(key, value, from string) { fmt.Fprintf(&b, "%s = %s%s\n", key, value, note(from)) }
	unit := d.unit
	if unit == measure.NoUnit {
		unit = measure.MM
	}
	name := d.name
	if name == "" {
		name = "Coat"
	}
	b.WriteString(catalog.SchemaLine + "# Written from your answers. Change what you like and check it again. Every key\n# there is: placketeer start, or placketeer explain KEY.\n")
	line("garment", source.Text(name), "what")
	line("units  ", source.Text(unit.String()), "")
	if d.wearer != "" && d.wearer != "adult" {
		line("wearer ", source.Text(d.wearer), "")
	}
	if d.age > 0 {
		line("age    ", strconv.Itoa(d.age), "")
	}
	if d.cut != "" {
		line("cut_for", source.Text(d.cut), "")
	}
	if d.market != "" {
		line("market ", source.Text(d.market), "")
	}
	if len(d.sizes) > 0 {
		b.WriteString("\n[sizes]\n")
		var names []string
		for _, s := range d.sizes {
			names = append(names, source.Text(s))
		}
		line("names", "["+strings.Join(names, ", ")+"]", "")
	}
	if len(d.machine) > 0 {
		b.WriteString("\n[machine]\n")
		line("use", `"domestic"`, "")
		for _, e := range d.machine {
			line(e.key, e.value, "machine")
		}
	}
	b.WriteString("\n[cloth.shell]\n")
	cloth := d.cloth
	if cloth == nil {
		cloth = []entry{{"use", `"melton"`}}
	}
	for _, e := range cloth {
		from := "cloth"
		if e.key == "thickness" || e.key == "repeat" {
			from = e.key
		}
		line(e.key, e.value, from)
	}
	layers := `["shell", "shell"]`
	if d.interfacing != "" {
		b.WriteString("\n[interfacing.stay]\n")
		line("use", source.Text(d.interfacing), "interfacing")
		layers = `["shell", "stay", "shell"]`
	}
	b.WriteString("\n[[closure]]\nname  = " + source.Text(d.closure()) + "\nwhere = \"front\"\n")
	if d.flap != "" {
		b.WriteString("opening = \"front\"\nbehind  = \"snaps\"\n")
	}
	switch {
	case d.use != "":
		line("use  ", source.Text(d.use), "fastener")
	case d.notion == nil:
		line("use  ", `"horn-40"`, "")
	}
	if d.double && d.fastener != catalog.Zip {
		line("lap  ", `"double"`, "")
	}
	if d.hole != "" {
		line("hole ", source.Text(d.hole), "hole")
	}
	over := layers
	if d.flap != "" {
		over = `["shell", "shell"]`
	}
	b.WriteString("over  = " + over + "  # the layers a hole or fastener goes through, outside first\n")
	if d.notion != nil {
		b.WriteString("\n[closure.notion]\n")
		for _, e := range d.notion {
			if e.key != "kind" {
				line(e.key, e.value, "")
			}
		}
	}
	if d.edge != "" && d.fastener != catalog.Zip {
		b.WriteString("\n[closure.stand]\n")
		line("construction", source.Text(d.edge), "edge")
	}
	if d.double && d.fastener != catalog.Zip {
		b.WriteString("\n[closure.rows]\n")
		columns := source.Text(d.columns)
		if d.columns == "" { // usual is 60 to 80 mm
			if columns = `"2 3/4 in"`; d.unit.Is(measure.MM) || d.unit == measure.NoUnit {
				columns = `"70 mm"`
			}
			columns += "  # usual: measure your pattern"
		}
		line("distance", columns, "columns")
	}
	b.WriteString("\n[closure.run]\n")
	length := d.length
	if length == "" {
		length = `"24 in"`
	}
	line("length", length, "length")
	if d.flap != "" {
		width, inset := "50 mm", "30 mm" // the snaps clear the tape of the zip: ours
		if !d.unit.Is(measure.MM) && d.unit != measure.NoUnit {
			width, inset = "2 in", "1 1/4 in"
		}
		fmt.Fprintf(&b, "\n[[closure]]\nname  = \"snaps\"\nwhere = \"front\"\nopening = \"front\"\nuse   = %s\nover  = %s\n", source.Text(d.flap), layers)
		fmt.Fprintf(&b, "\n[closure.flap]  # sewn on over the zip\nwidth = %s  # from the teeth of the zip to its edge\ninset = %s  # to its snaps\n", source.Text(width), source.Text(inset))
		fmt.Fprintf(&b, "\n[closure.run]\nlength = %s\n", length)
	}
	switch {
	case d.count != "":
		line("count ", d.count, "count")
	case d.gap != "":
		line("gap   ", d.gap, "count")
	case d.fastener != catalog.Zip || d.flap != "":
		line("count ", "5", "")
	}
	return b.String()
}

// usualOf is a wish that was left open: the first that choose would name.
func (iv *interview) usualOf(d *draft) error {
	g, err := iv.garment(d)
	if err != nil {
		return err
	}
	usual := func(closure string, use *string) error {
		c, err := search.Choose(g, search.ChoiceOptions{Closure: closure, Usual: true, Limit: 64})
		if err != nil {
			return err
		}
		pass := slices.DeleteFunc(c.Candidates, func(x search.Candidate) bool { return !x.Passes })
		// Who says snaps means those that are set with a tool, where the cloth
		// bears one.
		if n := slices.IndexFunc(pass, func(x search.Candidate) bool { return d.plainSnap(iv.cat.Notion(x.Name)) }); n > 0 {
			pass = pass[n:]
		}
		if len(pass) > 0 {
			*use = pass[0].Name
		}
		return nil
	}
	if err := usual(d.closure(), &d.use); err != nil || d.flap == "" {
		return err
	}
	return usual("snaps", &d.flap)
}

// plainSnap says whether a snap is one that is set with a tool, opens from
// either side and is no magnet.
func (d *draft) plainSnap(n *catalog.Notion) bool {
	return n != nil && n.Kind == catalog.Snap && rules.SetWithTool(n) && n.Spring != "locking" && n.Spring != "magnet"
}

// snapSays is how the snap that was taken goes on, "" where none was.
func (d *draft) snapSays(n *catalog.Notion) string {
	switch {
	case n == nil || n.Kind != catalog.Snap:
		return ""
	case d.plainSnap(n):
		return " The snap is set with a tool."
	}
	return " The snap is sewn on: none that is set with a tool passes in these layers; an interfacing may change that."
}

// closure is the name of the one that the questions are about.
func (d *draft) closure() string {
	if d.flap != "" {
		return "zip"
	}
	return "front"
}

// write writes the file, and shows the first screen of it.
func (iv *interview) write() error {
	d := &iv.now
	if d.wish {
		if err := iv.usualOf(d); err != nil {
			return err
		}
	}
	data := []byte(d.file())
	out, err := iv.put(data)
	if err != nil { // the answers are not lost
		fmt.Fprintf(iv.in.out, "\n%s", data)
		return &unusable{says: err.Error() + "; what you answered stands above, to be kept by hand"}
	}
	g, err := catalog.Load(out, catalog.Options{Catalogs: iv.in.list("catalog")})
	if err != nil {
		return err
	}
	fmt.Fprintln(iv.in.out)
	if d.wish {
		took, others, snap := d.use, "", d.use
		if d.flap != "" {
			took, others, snap = text.And(d.use, d.flap), " --closure snaps", d.flap
		}
		iv.say("", fmt.Sprintf("Taken from the catalogue: %s.%s Others: %s choose %s%s", took, d.snapSays(iv.cat.Notion(snap)), Program, text.Shell(out), others))
	}
	iv.say("", fmt.Sprintf("wrote %s. Its plan:", text.Safe(out)))
	fmt.Fprintln(iv.in.out)
	p := search.Checked(g, search.CheckOptions{Fixes: true})
	if err := sheet.Check(iv.in.out, []*rules.Planned{p}, sheet.Options{Width: iv.in.width(), UTF8: iv.in.utf8(), Color: iv.in.color()}); err != nil {
		return err
	}
	if iv.in.on("live") {
		fmt.Fprintln(iv.in.out)
		return iv.in.table(out, !iv.in.on("no-open"))
	}
	iv.say("", fmt.Sprintf("Next: %s live %s, a page to work on it and to print the marking guide and the checklist from.", Program, text.Shell(out)))
	return nil
}

// writable says before the first question whether the file can be written.
func (iv *interview) writable() error {
	dir := "."
	if out := iv.in.text("out"); out != "" {
		dir = filepath.Dir(out)
	}
	f, err := os.CreateTemp(dir, ".placketeer-*.tmp")
	if err != nil {
		return &unusable{says: fmt.Sprintf("nothing can be written into the folder %s: %s", dir, source.Reason("write", err))}
	}
	f.Close()
	return os.Remove(f.Name())
}

// put writes the file, over none that came to be there meanwhile.
func (iv *interview) put(data []byte) (name string, err error) {
	name = iv.in.text("out")
	if name != "" && iv.in.on("force") {
		return name, source.WriteFile(name, data)
	}
	for range 100 {
		out := name
		if out == "" {
			out = freeName(iv.now.name)
		}
		ok, err := source.WriteNew(out, data)
		switch {
		case err != nil || ok:
			return out, err
		case name != "":
			return "", fmt.Errorf("%s is there by now, and stays as it is", out)
		}
	}
	return "", errors.New("no name for the file is free")
}

var notInNames = pattern(`[^a-z0-9]+`)

// freeName is a name for the file of a garment that no file has yet.
func freeName(garment string) string {
	base := strings.Trim(notInNames().ReplaceAllString(strings.ToLower(garment), "-"), "-")
	if base == "" {
		base = "coat"
	}
	if len(base) > 40 {
		if n := strings.LastIndexByte(base[:41], '-'); n > 20 {
			base = base[:n] // at the end of a word
		}
		base = strings.Trim(base[:min(len(base), 40)], "-")
	}
	for n := 1; ; n++ {
		name := base + ".toml"
		if n > 1 {
			name = fmt.Sprintf("%s-%d.toml", base, n)
		}
		if _, err := os.Lstat(name); err != nil {
			return name
		}
	}
}
