package catalog

import (
	"fmt"
	"strings"
	"sync"
	"unicode/utf8"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// A garment file to begin from, made from the tables of keys: the shortest
// file that works, and every other key as a comment.

// examples are the values shown for keys, by path without names and numbers:
// in inches and, where they differ, in millimetres. A key without one gets
// what suits its kind.
var examples = sync.OnceValue(func() map[string][2]string {
	return map[string][2]string{
		"units":                     {`"in"`, `"mm"`},
		"age":                       {"6", ""},
		"height":                    {`"46 in"`, `"116 cm"`},
		"catalog":                   {`["own-notions.toml"]`, ""},
		"base":                      {`"../house.toml"`, ""},
		"keep":                      {`["cloth", "closure.front.use"]`, ""},
		"sizes.names":               {`["S", "M", "L"]`, ""},
		"make":                      {`12`, ""},
		"currency":                  {`"EUR"`, ""},
		"variant":                   {`{ navy = { "cloth.shell.use" = "melton", make = { S = 4, M = 6 } } }`, ""},
		"machine.use":               {`"domestic"`, ""},
		"machine.foot_lift":         {`"6 mm"`, ""},
		"machine.foot_lift_extra":   {`"12 mm"`, ""},
		"machine.sewing_max":        {`"5 mm"`, ""},
		"machine.buttonhole_max":    {`"28 mm"`, ""},
		"machine.buttonhole_sizes":  {`["10 mm", "13 mm", "16 mm", "18 mm", "21 mm"]`, ""},
		"machine.keyhole_sizes":     {`["16 mm", "18 mm", "21 mm", "24 mm"]`, ""},
		"machine.swing":             {`{ min = "2.5 mm", max = "4.5 mm" }`, ""},
		"machine.stitch_max":        {`"4 mm"`, ""},
		"machine.needle_max":        {`"110/18"`, ""},
		"machine.thread_min_number": {"20", ""},
		"cloth.use":                 {`"melton"`, ""},
		"cloth.weight":              {`"18 oz/yd2"`, `"620 g/m2"`},
		"cloth.thickness":           {`"2.4 mm ± 0.2"`, ""},
		"cloth.kind":                {`"melton"`, ""},
		"cloth.density":             {"0.26", ""},
		"cloth.spread":              {"20", ""},
		"cloth.pressed":             {"0.7", ""},
		"cloth.fibre":               {"{ wool = 80, polyamide = 20 }", ""},
		"cloth.surface":             {`"napped"`, ""},
		"cloth.weave":               {`"twill"`, ""},
		"cloth.frays":               {"false", ""},
		"cloth.width":               {`"60 in"`, `"150 cm"`},
		"cloth.repeat":              {`{ along = "3 1/2 in", across = "3 1/2 in", even = true }`, `{ along = "9 cm", across = "9 cm", even = true }`},
		"cloth.shrink":              {"3", ""},
		"interfacing.use":           {`"weft-fusible-medium"`, ""},
		"interfacing.kind":          {`"weft"`, ""},
		"interfacing.weight":        {`"80 g/m2"`, ""},
		"interfacing.thickness":     {`"0.4 mm"`, ""},
		"interfacing.density":       {"0.39", ""},
		"interfacing.fuse":          {`"135 C"`, ""},
		"interfacing.resin":         {`"polyamide"`, ""},
		"interfacing.width":         {`"35 in"`, `"90 cm"`},
		"interfacing.shrink":        {"1", ""},
		"interfacing.fibre":         {"{ polyester = 100 }", ""},
		"thread.use":                {`"polyester-tex-40"`, ""},
		"thread.tex":                {`"Tex 40"`, ""},
		"thread.fibre":              {`"polyester"`, ""},
		"thread.build":              {`"core-spun"`, ""},
		"thread.jobs":               {`["seam", "buttonhole"]`, ""},
		"thread.needle_min":         {`"90/14"`, ""},
		"thread.needle_max":         {`"110/18"`, ""},
		"thread.metres":             {"100", ""},

		"closure.name":                   {`"front"`, ""},
		"closure.use":                    {`"horn-30"`, ""},
		"closure.hole_rule":              {`"passing"`, ""},
		"closure.over":                   {`["shell", "shell"]`, ""},
		"closure.under":                  {`["shell", "shell"]`, ""},
		"closure.needle":                 {`"100/16"`, ""},
		"closure.thread":                 {`"seam"`, ""},
		"closure.button_thread":          {`"seam"`, ""},
		"closure.hole_length":            {`"1 3/8 in"`, `"35 mm"`},
		"closure.loop":                   {`"2 in"`, `"50 mm"`},
		"closure.opening":                {`"front"`, ""},
		"closure.behind":                 {`"toggles"`, ""},
		"closure.inset":                  {`"3 in"`, `"75 mm"`},
		"closure.turn":                   {`"1/8 in"`, `"3 mm"`},
		"closure.thread_shank":           {`"4 mm"`, ""},
		"closure.button_stitches":        {"16", ""},
		"closure.edge":                   {`"3/4 in"`, `"20 mm"`},
		"closure.thickness_step":         {`"0.5 mm"`, ""},
		"closure.packing":                {`"1 mm"`, ""},
		"closure.cord":                   {`"4 mm"`, ""},
		"closure.stand.tuck":             {`"1/4 in"`, `"6 mm"`},
		"closure.run.hem_under":          {`"1/2 in"`, `"10 mm"`},
		"closure.punch":                  {`"3 mm"`, ""},
		"closure.stitch":                 {`"3 mm"`, ""},
		"closure.pieces":                 {"1", ""},
		"closure.spare":                  {"1", ""},
		"closure.backing":                {`"20L"`, ""},
		"closure.zip_length":             {`"22 in"`, `"55 cm"`},
		"closure.notion.diameter":        {`"40L"`, ""},
		"closure.notion.thickness":       {`"5 mm ± 0.2"`, ""},
		"closure.notion.girth":           {`"46 mm"`, ""},
		"closure.notion.holes":           {"4", ""},
		"closure.notion.flange":          {`"26 mm"`, ""},
		"closure.notion.side":            {`"13 mm"`, ""},
		"closure.notion.hole_gap":        {`"4 mm"`, ""},
		"closure.notion.hole_size":       {`"2 mm"`, ""},
		"closure.notion.shank":           {`"6 mm"`, ""},
		"closure.notion.length":          {`"45 mm"`, ""},
		"closure.notion.width":           {`"14 mm"`, ""},
		"closure.notion.short_end":       {`"20 mm"`, ""},
		"closure.notion.material":        {`"horn"`, ""},
		"closure.notion.nickel":          {"0.1", ""},
		"closure.notion.lead":            {"20", ""},
		"closure.notion.pull":            {"90", ""},
		"closure.notion.coating":         {`"none"`, ""},
		"closure.stand.extension":        {`"3 in"`, `"75 mm"`},
		"closure.stand.finished":         {`"1 in"`, `"25 mm"`},
		"closure.stand.turn_under":       {`"1/2 in"`, `"12 mm"`},
		"closure.stand.seam":             {`"5/8 in"`, `"15 mm"`},
		"closure.stand.facing":           {`"3 in"`, `"75 mm"`},
		"closure.stand.band":             {`"2 in"`, `"50 mm"`},
		"closure.stand.strip":            {`"3 in"`, `"75 mm"`},
		"closure.stand.strip_from_edge":  {`"1/2 in"`, `"12 mm"`},
		"closure.stand.strips":           {`[ { name = "stay", width = "4 in" } ]`, `[ { name = "stay", width = "100 mm" } ]`},
		"closure.stand.topstitch":        {`"1/8 in"`, `"3 mm"`},
		"closure.flap.width":             {`"2 1/2 in"`, `"65 mm"`},
		"closure.flap.inset":             {`"1 in"`, `"25 mm"`},
		"closure.measured.stack":         {`"5.2 mm ± 0.1"`, ""},
		"closure.measured.stack_under":   {`"5.2 mm ± 0.1"`, ""},
		"closure.measured.stack_pressed": {`"4.4 mm ± 0.1"`, ""},
		"closure.measured.hole_length":   {`"1 1/8 in"`, `"28 mm"`},
		"closure.run.length":             {`"24 in"`, `"60 cm"`},
		"closure.run.first":              {`"1 in"`, `"25 mm"`},
		"closure.run.last":               {`"4 in"`, `"10 cm"`},
		"closure.run.count":              {"5", ""},
		"closure.run.gap":                {`{ min = "3 in", max = "5 in" }`, `{ min = "8 cm", max = "12 cm" }`},
		"closure.run.step":               {`"1/8 in"`, `"5 mm"`},
		"closure.run.anchor":             {`[ { name = "bust", at = "8 in", within = "1 in" } ]`, `[ { name = "bust", at = "20 cm", within = "25 mm" } ]`},
		"closure.run.clear":              {`[ { name = "belt", from = "12 in", to = "13 in" } ]`, `[ { name = "belt", from = "30 cm", to = "33 cm" } ]`},
		"closure.run.hem":                {`"1 in"`, `"25 mm"`},
		"closure.run.match":              {`"shell"`, ""},
		"closure.run.group":              {"1", ""},
		"closure.run.group_gap":          {`"1 1/2 in"`, `"40 mm"`},
		"closure.rows.distance":          {`"3 in"`, `"75 mm"`},
		"closure.rows.top":               {`"4 in"`, `"10 cm"`},
		"closure.rows.bottom":            {`"3 in"`, `"75 mm"`},
		"closure.rows.row":               {`[ { row = 1, distance = "4 in" } ]`, `[ { row = 1, distance = "10 cm" } ]`},
		"closure.rows.working":           {"2", ""},
		"closure.check.cloth":            {`"shell"`, ""},
		"closure.check.over":             {`"1 in"`, `"25 mm"`},
		"closure.check.under":            {`"1 in"`, `"25 mm"`},
		"closure.check.over_along":       {`"2 in"`, `"50 mm"`},
		"closure.check.under_along":      {`"2 in"`, `"50 mm"`},
		"settled.rule":                   {`"stack-bulky"`, ""},
		"settled.closure":                {`"front"`, ""},
		"settled.size":                   {`"M"`, ""},
		"settled.because":                {`"sample sewn 12 November, no skipped stitch"`, ""},
		"settled.have":                   {`"5.2 mm"`, ""},
		"settled.need":                   {`"4 mm"`, ""},
		"settled.while":                  {`["closure.front.use=horn-30"]`, ""},
		"cord.name":                      {`"hood"`, ""},
		"cord.use":                       {`"cord-4mm"`, ""},
		"cord.free_end":                  {`"3 in"`, `"75 mm"`},
		"cord.drawn_in":                  {`"8 in"`, `"200 mm"`},
		"cord.loop":                      {`"8 in"`, `"20 cm"`},
		"cord.thickness":                 {`"4 mm"`, ""},
	}
})

// starter writes the file.
type starter struct {
	strings.Builder
	unit  measure.Unit
	name  string
	block [][3]string // lines of the table being written: mark, text, explanation
}

// live are the keys that are no comments: the shortest file that works.
var live = sync.OnceValue(func() map[string]bool {
	return map[string]bool{
		"garment": true, "units": true, "cloth.use": true,
		"closure.name": true, "closure.use": true, "closure.over": true, "closure.run.length": true, "closure.run.count": true,
	}
})

const schemaFile = "garment.schema.json"

// SchemaLine tells editors where the schema of a garment file lies: beside it.
const SchemaLine = "#:schema ./" + schemaFile + "\n"

// Starter is a garment file to begin from, with that name and those units.
func (c *Catalog) Starter(name string, u measure.Unit) string {
	s := &starter{unit: u, name: name}
	s.WriteString(SchemaLine + `# For an editor that knows TOML: placketeer schema --out ` + schemaFile + `
# A garment file. What has no # before it is the shortest file that works: put
# in your own figures. The rest are options: take the # away from the lines you
# want, and from the [heading] above them. A length is "1 1/8 in", "28 mm" or
# "40L"; a bare number is read in the units below. ± after a length says how
# far off the measuring may be.

`)
	blank := &Garment{Catalog: c}
	fields := blank.rootFields(&rawRoot{closures: make([]rawClosure, 1)})
	var tables []field
	for _, fd := range fields {
		switch fd.dst.(type) {
		case subTable, named, list, variants:
			tables = append(tables, fd)
		default:
			s.key(fd.name, fd)
		}
	}
	s.flush()
	for _, fd := range tables {
		switch dst := fd.dst.(type) {
		case subTable:
			s.table("["+fd.name+"]", fd.name, dst, fd.doc)
		case named:
			s.table("["+fd.name+"."+map[string]string{"cloth": "shell", "interfacing": "stay", "thread": "seam"}[fd.name]+"]", fd.name, dst.blank(), fd.doc)
		case list:
			dst.grow(1)
			s.table("[["+fd.name+"]]", fd.name, dst.item(0), fd.doc)
		case variants:
			s.WriteByte('\n')
			s.line("# ", "[variant.navy]", "", fd.doc)
			s.line("# ", `"cloth.shell.use"`, `"melton"`, "any key of the file")
			s.line("# ", "make", "12", "how many are made of it")
			s.flush()
		}
	}
	return s.String()
}

// table writes a table: its plain keys, then the tables inside it.
func (s *starter) table(heading, path string, fields []field, doc string) {
	s.WriteByte('\n')
	s.line(markOf(path+"."), heading, "", doc)
	var inside []field
	for _, fd := range fields {
		_, shown := examples()[path+"."+fd.name]
		switch fd.dst.(type) {
		case subTable, rawTable:
			if !shown {
				inside = append(inside, fd)
				continue
			}
		}
		s.key(path+"."+fd.name, fd)
	}
	s.flush()
	for _, fd := range inside {
		sub, ok := fd.dst.(subTable)
		if !ok {
			sub = ownNotionFields(Button, &Notion{})
		}
		s.table("["+path+"."+fd.name+"]", path+"."+fd.name, sub, fd.doc)
	}
}

// markOf is the # of a key that is a comment; of a table, where its path ends
// in a dot, that of one without any live key.
func markOf(path string) string {
	for key := range live() {
		if key == path || strings.HasSuffix(path, ".") && strings.HasPrefix(key, path) {
			return ""
		}
	}
	return "# "
}

// key writes one key with its example and its explanation.
func (s *starter) key(path string, fd field) {
	doc := fd.doc
	if fd.enum != nil && len(fd.enum) <= 10 && !strings.Contains(doc, source.Text(fd.enum[0])) {
		switch fd.dst.(type) {
		case *string, *[]string:
			doc += ": " + strings.Join(fd.enum, ", ")
		}
	}
	if path == "closure.run.length" {
		like := gradeLike
		if s.unit.Is(measure.MM) {
			like = `{ at = "60 cm", size = "M", grade = "6 mm" }`
		}
		doc += "; like any length by size it may be graded: " + like
	}
	s.line(markOf(path), source.Join("", fd.name), s.example(path, fd), doc)
}

// example is a value that the key can have.
func (s *starter) example(path string, fd field) string {
	if path == "garment" {
		return source.Text(s.name)
	}
	if e, ok := examples()[path]; ok {
		if s.unit.Is(measure.MM) && e[1] != "" {
			return e[1]
		}
		return e[0]
	}
	switch fd.dst.(type) {
	case *string:
		if fd.enum != nil {
			return source.Text(fd.enum[0])
		}
		return `"…"`
	case *[]string:
		if fd.enum != nil {
			return "[" + source.Text(fd.enum[0]) + "]"
		}
		return `["…"]`
	case *Measured, *Sized, window:
		if s.unit.Is(measure.MM) {
			return `"25 mm"`
		}
		return `"1 in"`
	case *[]measure.Length:
		return `["10 mm", "20 mm"]`
	case *Range:
		return `{ min = "2 mm", max = "4 mm" }`
	case *Opt[bool]:
		return "true"
	case *Opt[measure.AreaWeight]:
		return `"620 g/m2"`
	case *Opt[measure.LinearDensity]:
		return `"Tex 40"`
	case *Opt[measure.NeedleSize]:
		return `"90/14"`
	case *Opt[measure.Temperature]:
		return `"135 C"`
	case *map[string]float64:
		return "{ wool = 100 }"
	case *[]Count:
		return "5"
	}
	if fd.bounded && fd.lo > 1 {
		return fmt.Sprint(fd.lo)
	}
	return "1"
}

// line is a line of the table being written: a heading, or a key and its
// value, with its explanation.
func (s *starter) line(mark, key, value, doc string) {
	s.block = append(s.block, [3]string{mark + key, value, doc})
}

// flush writes the table with its keys and explanations under one another.
// An explanation too long for that stands above its line.
func (s *starter) flush() {
	const most, aside = 80, 40 // columns; an explanation beside a longer line stands apart
	wide, at := 0, 0
	for _, l := range s.block {
		if l[1] != "" {
			wide = max(wide, len(l[0]))
		}
	}
	lines := make([]string, len(s.block))
	for i, l := range s.block {
		lines[i] = l[0]
		if l[1] != "" {
			lines[i] = fmt.Sprintf("%-*s = %s", wide, l[0], l[1])
		}
		if n := utf8.RuneCountInString(lines[i]); n <= aside {
			at = max(at, n)
		}
	}
	for i, l := range s.block {
		pad := max(1, at+2-utf8.RuneCountInString(lines[i]))
		if utf8.RuneCountInString(lines[i])+pad+2+utf8.RuneCountInString(l[2]) > most {
			for _, d := range text.Wrap(l[2], most-6) {
				fmt.Fprintf(s, "#     %s\n", d)
			}
			fmt.Fprintf(s, "%s\n", lines[i])
			continue
		}
		fmt.Fprintf(s, "%s%s# %s\n", lines[i], strings.Repeat(" ", pad), l[2])
	}
	s.block = s.block[:0]
}
