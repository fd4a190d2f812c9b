package work

import (
	"path/filepath"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
)

// The working says the sums with their figures, in the words a person would
// check them by, and names what was not given.
func TestWorking(t *testing.T) {
	g := trial.Load(t, filepath.Join("..", "..", "testdata", "plan", "test-coat.toml"))
	p := rules.Plan(g)
	var all []string
	byTopic := map[string]string{}
	for _, s := range Working(p, 0) {
		if s.Says == "" || s.Topic == "" {
			t.Errorf("an empty step: %+v", s)
		}
		line := s.Topic + ": " + s.Says
		if s.Default != "" {
			line += " (" + s.Default + ")"
		}
		all = append(all, line)
		byTopic[s.Topic] += line + "\n"
	}
	k := &p.Closures[0]
	for topic, want := range map[string][]string{
		TopicLayers: {"shell", "2.4 mm ± 0.2", "weft is an estimate, 70 g/m² ÷ 0.39 g/cm³", "set interfacing.weft.thickness", "the button is set on the same layers"},
		// Extension Bulletin 576, 1965: diameter + thickness, + 1/8 in on bulky cloth.
		TopicHole:  {"diameter 1 in + thickness 1/8 in = 1 1/8 in", "+ 1/8 in for bulk", "1 1/4 in to cut", "set closure.front.hole_length"},
		TopicPlace: {"from 1/8 in beyond the centre line", "to 1 1/8 in inside it"},
		// Trade pattern makers: the full stand is the button's own width.
		TopicStand:  {"button 1 in across", "three quarters = 3/4 in", "all of it = 1 in", k.Stand.Have.Text(p.Garment.Units)},
		TopicBand:   {"extension 3 in − turn-under 1/2 in − 2 folds × 2.4 mm of cloth", "two thirds", k.Stand.Band.Text(p.Garment.Units)},
		TopicStrip:  {"+ 1/4 in = ", "at least", "set closure.front.stand.strip", k.Support.Strip.Text(p.Garment.Units)},
		TopicGoods:  {"goods 60 in wide", "side by side", k.Support.Cloth.TextLeast(p.Garment.Units)},
		TopicNeedle: {"heavy coating: ", "÷ blade", "0.24 to 0.40 is good", k.Needle.NM.String(), "set closure.front.needle"},
		TopicThread: {"Tex 40 to 90", k.Thread.Tex.Text(), "set closure.front.thread"},
		TopicStitch: {"stitches an inch", "set closure.front.stitch"},
		// R. Carr, Couture, as quoted: D + 1/4 in below the neck edge.
		TopicFirst:  {"button 1 in across + 1/4 in = 1 1/4 in", "set closure.front.run.first"},
		TopicLast:   {"4 in", "above the hem", "set closure.front.run.last"},
		TopicGaps:   {"S: (19 in − 1 1/4 in) ÷ 4 gaps = 4 7/16 in if exactly even", "L: (20 in − 1 1/4 in) ÷ 4 gaps = 4 11/16 in", "marked to 1/8 in", "set closure.front.run.step"},
		TopicSewing: {"thread shank", "backing button of 20 ligne", "set closure.front.backing"},
		TopicUsed:   {"a hole of 1 1/4 in takes", "15 % for waste"},
	} {
		for _, w := range want {
			if !strings.Contains(byTopic[topic], w) {
				t.Errorf("the working of %q lacks %q:\n%s", topic, w, byTopic[topic])
			}
		}
	}
	if t.Failed() {
		t.Log(strings.Join(all, "\n"))
	}
	for _, s := range Working(p, 1) {
		if s.Topic == TopicGoods && !strings.Contains(s.Says, "4 patches") {
			t.Errorf("one fastener alone takes patches: %s", s.Says)
		}
	}
}
