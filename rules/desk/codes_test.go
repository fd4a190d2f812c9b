package desk

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The exit code of every command, in-process: what stands on which stream
// goes with it.
func TestExitCodes(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	ready := write("ready.toml", coat)
	// D/2 + 3 mm, Sew Today, 2019: 19.05 mm need 12.5 mm.
	narrow := write("narrow.toml", strings.Replace(coat, "over =", "stand = { construction = \"faced\", finished = \"3/8 in\" }\nover =", 1))
	bad := write("bad.toml", strings.Replace(coat, "horn-30", "horm-30", 1))
	unlaid := filepath.Join("..", "..", "testdata", "rules", "spacing-clash", "bad-usual.toml") // a usual end, so a caution
	binary := write("binary.toml", "\x7fELF\x00\x01")

	for _, tc := range []struct {
		code int
		args []string
		says string // on the stream that belongs to the code
	}{
		{ExitOK, nil, "placketeer"},
		{ExitOK, []string{"--version"}, Version},
		{ExitOK, []string{"check", ready}, "Quay coat"},
		{ExitOK, []string{"check", "-"}, "Quay coat"},
		{ExitConflict, []string{"check", ready, "--strict"}, "caution"},
		{ExitConflict, []string{"check", narrow}, "stand-narrow"},
		{ExitOK, []string{"post", "--cloth", "sherpa"}, "in), at most "}, // pressed it is not thinner than nothing
		{ExitConflict, []string{"check", unlaid}, ": conflict: "},
		{ExitConflict, []string{"check", "--format", "json", unlaid}, `"verdict": "conflict"`},
		{ExitConflict, []string{"checklist", "--format", "json", unlaid}, `"verdict": "conflict"`},
		{ExitConflict, []string{"order", "--make", "3", unlaid}, "Order nothing before"},
		{ExitConflict, []string{"spec", "--format", "json", narrow}, `"verdict": "conflict"`},
		{ExitOK, []string{"check", narrow, "--with", "closure.front.stand.finished=1 in"}, "Quay coat"},
		{ExitUsage, []string{"check"}, "say which file"},
		{ExitUsage, []string{"chekc", ready}, "placketeer check"},
		{ExitUsage, []string{"check", ready, "--stric"}, "--strict"},
		{ExitUsage, []string{"check", ready, "--with", "closure.front.uze=x"}, "closure.front.use"},
		{ExitUsage, []string{"check", ready, "--with", "closure.front.use=horm-30"}, "horn-30"},
		{ExitInput, []string{"check", bad}, bad + ":7:7: "},
		{ExitInput, []string{"check", binary}, binary + ": this is not a garment file"},
		{ExitInput, []string{"check", dir + "/nowhere.toml"}, "no such file"},
		{ExitInput, []string{"spec", ready, "--out", dir + "/no/where.html"}, "does not exist"},
		{ExitOK, []string{"mark", ready, "--out", dir + "/x.svg"}, "wrote"},
		{ExitUsage, []string{"mark", ready}, "--out"},
		{ExitUsage, []string{"checklist"}, "say which file"},
		{ExitUsage, []string{"choose", ready, "--closure", "frnt"}, "--closure front"},
		{ExitOK, []string{"buttonhole", "--diameter", "1in", "--thickness", "1/8in"}, "1 1/8 in"},
		{ExitUsage, []string{"buttonhole", "--diameter", "nan", "--thickness", "1/8in"}, "--diameter"},
		{ExitOK, []string{"stand", "--diameter", "45L"}, "29 mm"},
		{ExitConflict, []string{"stand", "--diameter", "1in", "--band", "1in"}, "conflict"},
		{ExitOK, []string{"spacing", "--length", "18in", "--first", "1in", "--last", "1in", "--count", "9"}, "all gaps 2 in"},
		{ExitConflict, []string{"spacing", "--length", "18in", "--first", "1in", "--last", "1in", "--count", "9", "--gap-min", "3in"}, "No layout"},
		{ExitUsage, []string{"spacing", "--length", "18in"}, "--first"},
		{ExitOK, []string{"strip", "--diameter", "1in", "--thickness", "1/8in", "--stand", "1in"}, "2 1/2 in"},
		{ExitOK, []string{"needle", "--weight", "18 oz/yd2"}, "100/16"},
		{ExitUsage, []string{"needle", "--weight", "18oz"}, "three meanings"},
		{ExitOK, []string{"convert", "40L"}, "25.4 mm"},
		{ExitUsage, []string{"convert", "50"}, "four meanings"},
		{ExitOK, []string{"catalog", "show", "horn-40"}, "[[button]]"},
		{ExitUsage, []string{"catalog", "show", "horm-40"}, "horn-40"},
		{ExitOK, []string{"start"}, "[[closure]]"},
		{ExitInput, []string{"start", "--out", ready}, "is there already"},
		{ExitOK, []string{"explain", "stand-narrow"}, "D/2 + 3 mm"},
		{ExitUsage, []string{"explain", "stand-narow"}, "stand-narrow"},
		{ExitOK, []string{"schema"}, "$schema"},
	} {
		got := runIn(t, coat, nil, tc.args...)
		if got.code != tc.code {
			t.Errorf("%v: code %d, want %d\n%s%s", tc.args, got.code, tc.code, got.out, got.err)
			continue
		}
		says, silent := got.out, got.err
		if tc.code == ExitUsage || tc.code == ExitInput {
			says, silent = silent, says
		}
		if !strings.Contains(says, tc.says) {
			t.Errorf("%v: does not say %q:\n%s", tc.args, tc.says, says)
		}
		if silent != "" {
			t.Errorf("%v: the other stream says %q", tc.args, silent)
		}
	}
	if data, err := os.ReadFile(ready); err != nil || string(data) != coat {
		t.Errorf("the garment file was changed: %v", err)
	}
	if _, err := os.Stat(dir + "/no"); err == nil {
		t.Error("a folder was made")
	}
}

// Seven different mistakes are all told, in order, each at its place.
func TestSevenMistakes(t *testing.T) {
	got := runIn(t, `garment = "Slipway coat"
units = "in"
wearer = "aduld"
[cloth.shell]
use = "meltn"
	fibre = { wool = 80, polyamide = 30 }
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "shel"]
fastenr = "button"
[closure.run]
length = "24 in"
count = 0
clear = [ { name = "Gürtel", from = "14 in", to = "15,5 in" } ]
`, nil, "check", "-")
	if got.code != ExitInput || got.out != "" {
		t.Errorf("code %d, output %q", got.code, got.out)
	}
	rest := got.err
	for _, place := range []string{":3:10: ", ":5:7: ", ":6:10: ", ":10:18: ", ":11:1: ", ":14:9: ", ":15:54: "} {
		_, after, found := strings.Cut(rest, "<standard input>"+place)
		if !found {
			t.Fatalf("nothing, or in the wrong order, at %s\n%s", place, got.err)
		}
		rest = after
	}
	if n := strings.Count(got.err, "<standard input>:"); n != 7 {
		t.Errorf("%d mistakes told, not 7\n%s", n, got.err)
	}
}

// Quick answers carry the keys they promise, as numbers in millimetres.
func TestQuickKeys(t *testing.T) {
	for _, tc := range []struct {
		line string
		keys string
	}{
		{"buttonhole --diameter 1in --thickness 1/8in", "length_mm passing_mm ease_mm stitched_mm working"},
		{"stand --diameter 45L --construction folded --band 2in --turn-under 1/2in --cloth-thickness 2.4mm", "least_mm usual_mm full_mm band_mm extension_mm"},
		{"spacing --length 26in --first 5/8in --last 4in --count 6", "positions_mm gaps_mm spread_mm count"},
		{"spacing --length 26in --first 5/8in --last 4in --count 6 --gap-max 1in", "positions_mm gaps_mm spread_mm count clash"},
		{"strip --diameter 1in --thickness 1/8in --direction across --stand 1in --pieces 4 --length 26in --goods-width 35in", "width_mm across needed_mm"},
		{`needle --weight "18 oz/yd2" --layers 3 --thread "Tex 60"`, "nm_min nm_max nm us point thread_tex_min thread_tex_max stitch_mm"},
		{"post --pressed 5mm", "post_min_mm post_max_mm pressed_mm findings next"},
		{"zip --opening 22in --use coil-5-separating", "need_mm buy_mm shorten_mm end findings next"},
		{"loop --diameter 20mm --thickness 4mm", "girth_mm least_mm inside_mm most_mm cut_mm findings next"},
		{"thread --diameter 20mm --thickness 4mm --count 5", "used_mm hole_mm findings next"},
		{"press --cloth melton --interfacing weft-fusible-medium", "iron_c fuse_c findings next"},
		{"convert 40L", "mm in ligne"},
		{`convert "12 oz/yd2"`, "gsm oz_yd2"},
		{`convert "Tkt 75"`, "tex denier nm ne tkt cotton_tkt"},
		{`convert "90/14"`, "needle_nm needle_us blade_mm"},
	} {
		got := runIn(t, "", nil, append(split(t, tc.line), "--format", "json")...)
		var m map[string]any
		if err := json.Unmarshal([]byte(got.out), &m); err != nil {
			t.Errorf("%s: %v\n%s", tc.line, err, got.out)
			continue
		}
		for _, k := range strings.Fields(tc.keys) {
			if v, there := m[k]; !there || v == nil {
				t.Errorf("%s: no key %s\n%s", tc.line, k, got.out)
			}
		}
	}
}
