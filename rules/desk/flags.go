package desk

import (
	"cmp"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

// Flags that several commands have.

func formatFlag(formats ...string) flag {
	return flag{name: "format", words: formats, doc: "how to write it", first: formats[0] + ", or what the name after --out ends in"}
}

func tableFlag(tables ...string) flag {
	return flag{name: "table", words: tables, doc: "this table alone, as one CSV with a row of headings"}
}

// checkTable refuses a table in another format than CSV.
func (in *call) checkTable() error {
	table := in.text("table")
	if table == "" {
		return nil
	}
	if f := in.text("format"); f != "" && f != "csv" {
		return usagef("--table is CSV, and --format %s is asked for too", f).write("--table %s, without --format", table)
	}
	if out := in.text("out"); out != "" && !strings.EqualFold(filepath.Ext(out), ".csv") && extensions()[strings.ToLower(filepath.Ext(out))] != "" {
		return usagef("--table is CSV, and --out %s is not called so", out).write("--out %s", text.Shell(strings.TrimSuffix(out, filepath.Ext(out))+".csv"))
	}
	return nil
}

func outFlag() flag {
	return flag{name: "out", value: "FILE", doc: "write to this file, whole or not at all"}
}

func withFlag() flag {
	return flag{name: "with", value: "KEY=VALUE", list: true, doc: "what if: change a value of the file for this run, as closure.front.use=horn-36", hint: "closure.front.use=horn-36"}
}

func catalogFlag() flag {
	return flag{name: "catalog", value: "FILE", list: true, doc: "a catalogue file of your own; its entries win over the built-in ones", hint: "own-notions.toml"}
}

func sizeFlag() flag {
	return flag{name: "size", value: "NAME", doc: "only this size", hint: "M"}
}

func unitsFlag() flag {
	return flag{name: "units", words: []string{"in", "mm"}, doc: "answer in inches or millimetres", first: "those of the file"}
}

func oneUnitFlag() flag {
	return flag{name: "one-unit", kind: boolFlag, doc: "without the other unit in brackets: a metric sheet for a metric room"}
}

// alone is a unit as the answer is printed in it: with the other in brackets,
// or without.
func (in *call) alone(u measure.Unit) measure.Unit {
	if in.on("one-unit") {
		return u.Alone()
	}
	return u
}

func strictFlag() flag {
	return flag{name: "strict", kind: boolFlag, doc: "a caution stands in the way too: exit code 1"}
}

func colorFlag() flag {
	return flag{name: "color", words: []string{"auto", "always", "never"}, doc: "colours beside the words", first: "auto: on a terminal, unless NO_COLOR is set"}
}

func measuringFlag() flag {
	return flag{name: "measuring", words: []string{"hand", "caliper"}, doc: "how lengths without a ± were measured, by a ruler or a caliper: tells what only just passes"}
}

// extensions are the ends of file names that tell a format.
var extensions = sync.OnceValue(func() map[string]string {
	return map[string]string{
		".txt": "text", ".md": "markdown", ".markdown": "markdown", ".html": "html", ".htm": "html", ".csv": "csv", ".json": "json", ".sarif": "sarif",
	}
})

// others are ends of file names that no command with a format writes.
var others = sync.OnceValue(func() map[string]string {
	return map[string]string{
		".pdf": "pdf", ".svg": "svg", ".png": "png", ".jpg": "jpg", ".jpeg": "jpg", ".xlsx": "xlsx", ".xls": "xls", ".ods": "ods",
		".docx": "docx", ".doc": "doc", ".odt": "odt", ".rtf": "rtf",
	}
})

// misnamed refuses a name that promises what the command does not write: a
// text called .pdf opens nowhere.
func (in *call) misnamed(out string) error {
	f := in.cmd.flag("format")
	if f == nil || in.text("format") != "" {
		return nil
	}
	end := filepath.Ext(out)
	is := cmp.Or(extensions()[strings.ToLower(end)], others()[strings.ToLower(end)])
	if is == "" || slices.Contains(f.words, is) {
		return nil
	}
	to := ".txt"
	for _, best := range [][2]string{{"csv", ".csv"}, {"html", ".html"}, {"markdown", ".md"}} {
		sheet := is == "xlsx" || is == "xls" || is == "ods"
		if slices.Contains(f.words, best[0]) && (sheet || best[0] != "csv") {
			to = best[1]
			break
		}
	}
	return usagef("--out %s: %s writes no %s", out, in.cmd.name, is).write("--out %s", text.Shell(strings.TrimSuffix(out, end)+to))
}

// format is how the answer is to be written: what was asked for, or what the
// name of the file to write says.
func (in *call) format() string {
	f := in.cmd.flag("format")
	if s := in.text("format"); s != "" {
		return s
	}
	if in.cmd.flag("table") != nil && in.has("table") {
		return "csv"
	}
	if name := in.text("out"); name != "" {
		is := extensions()[strings.ToLower(filepath.Ext(name))]
		for _, w := range f.words {
			if w == is {
				return w
			}
		}
	}
	return f.words[0]
}
