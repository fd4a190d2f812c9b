package rules

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
)

// stock is an entry of the built-in catalogue.
func stock(t *testing.T, name string) *catalog.Notion {
	t.Helper()
	c, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	n := c.Notion(name)
	if n == nil {
		t.Fatalf("the catalogue has no %s", name)
	}
	return n
}

// reports are the findings of a rule in a garment, as severities.
func reports(t *testing.T, rule, text string) []string {
	t.Helper()
	g, err := catalog.Read("test.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out := []string{}
	for _, f := range Plan(g).Findings {
		if f.Rule == rule {
			out = append(out, f.Severity.String())
		}
	}
	return out
}

// garmentOf is a garment of one closure in one cloth.
func garmentOf(cloth, closure string) string {
	return "garment = \"Slip jacket (invented)\"\nunits = \"mm\"\n[cloth.shell]\n" + cloth +
		"\n[[closure]]\nname = \"front\"\n" + closure + "\n[closure.run]\nlength = \"500 mm\"\ncount = 5\n"
}

// MIL-B-286D (23 March 1987), Buttons, Tack; and Tack, Button: buttons of 22,
// 27, 30 and 40 line; tacks of 14 line × 0.406 in and of 17 line × 0.406,
// 0.437 and 0.750 in; one line is 1/40 in (V-B-871F).
func TestPublishedTackButtons(t *testing.T) {
	c, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	lines := map[float64]bool{}
	tacks := map[string]bool{}
	for _, n := range c.Notions {
		if n.Kind == catalog.TackButton && strings.Contains(n.Source, "MIL-B-286D") {
			lines[n.Diameter.V.Lignes()] = true
			tacks[fmt.Sprintf("%g × %.3f", n.Head.V.Lignes(), n.Post.V.In())] = true
		}
	}
	if diff := cmp.Diff(map[float64]bool{22: true, 27: true, 30: true, 40: true}, lines); diff != "" {
		t.Errorf("buttons (-want +got):\n%s", diff)
	}
	want := map[string]bool{"14 × 0.406": true, "17 × 0.406": true, "17 × 0.437": true, "17 × 0.750": true}
	if diff := cmp.Diff(want, tacks); diff != "" {
		t.Errorf("tacks (-want +got):\n%s", diff)
	}
	tight := measure.Length(10 * measure.Micrometre)
	near(t, "22 line", stock(t, "tack-22-short").Diameter.V, mms(13.97), tight)
	near(t, "27 line", stock(t, "tack-27-short").Diameter.V, mms(17.145), tight)
	near(t, "prong 0.406 in", stock(t, "tack-27-short").Post.V, mms(10.31), tight)
	near(t, "prong 0.437 in", stock(t, "tack-27-medium").Post.V, mms(11.10), tight)
	near(t, "prong 0.750 in", stock(t, "tack-27-long").Post.V, mms(19.05), 0)
	// 17 mm of the trade is the military 27 line within 0.15 mm; 20 mm is
	// neither 30 nor 32 line.
	if l := stock(t, "tack-17mm-nail-8").Diameter.V; (l - 27*measure.Ligne).Abs() > mms(.15) {
		t.Errorf("17 mm is %v lignes", l.Lignes())
	}
	if l := stock(t, "tack-20mm-nail-9").Diameter.V.Lignes(); math.Abs(l-31.5) > .01 {
		t.Errorf("20 mm is %v lignes, published sum 31.50", l)
	}
	// 3.4: at least 60 lb without parting.
	if math.Abs(plan.TackPull.N()-266.89) > .01 {
		t.Errorf("60 lbf is %v N", plan.TackPull.N())
	}
	for pull, want := range map[string][]string{"266.9": {}, "90": {"note"}} {
		got := reports(t, "tack-pull", garmentOf("use = \"waxed-duck\"", "use = \"tack-17mm-nail-7\"\nover = [\"shell\", \"shell\"]\n[closure.notion]\npull = "+pull))
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("pull of %s N (-want +got):\n%s", pull, diff)
		}
	}
}

func TestPublishedPosts(t *testing.T) {
	tight := measure.Length(10 * measure.Micrometre)
	s, d := mms(4), mms(3.175)
	near(t, "rivet maker's bulletin, Semi-Tubular Rivets: 55 % of the shank", plan.SemiTubularPost(s, d, .55), mms(5.746), tight)
	near(t, "second rivet maker's answers: solid rivet, 100 % of the shank", plan.SolidPost(s, d), mms(7.175), tight)
	near(t, "fourth rivet maker: 1.1 s + 1.3 d", plan.SolidPostLong(s, d), mms(8.528), tight)
	near(t, "second rivet maker: a 1/8 in solid rivet is stack + 1/8 in", plan.SolidPost(0, inch(.125)), inch(.125), 0)
	// Third rivet maker's clinch chart, half the shank.
	for _, c := range [][2]float64{{1. / 16, 1. / 32}, {1. / 8, 1. / 16}, {5. / 32, 5. / 64}, {3. / 16, 3. / 32}, {1. / 4, 1. / 8}, {5. / 16, 5. / 32}} {
		near(t, "third rivet maker's clinch chart", plan.SemiTubularPost(0, inch(c[0]), .5), inch(c[1]), measure.Nanometre)
	}
	lo, hi, _, _ := plan.PostRange("semi-tubular", s, s, d, measure.MM)
	for _, share := range []float64{.50, .55, .70} {
		if p := plan.SemiTubularPost(s, d, share); p < lo || p > hi {
			t.Errorf("%.0f %% of the shank lies outside %s to %s", share*100, lo, hi)
		}
	}
	// The two published rules for solid rivets are both inside.
	lo, hi, _, _ = plan.PostRange("solid", s, s, d, measure.MM)
	if lo > plan.SolidPost(s, d) || hi < plan.SolidPostLong(s, d) {
		t.Errorf("solid: %s to %s leaves out a published rule", lo, hi)
	}
}

// rivetFits says whether a double-cap rivet suits a stack of that many mm: a
// post of so many mm by the rule for posts, or an entry of the catalogue by
// its grip.
func rivetFits(t *testing.T, stack float64, rivet string) bool {
	t.Helper()
	cloth := fmt.Sprintf("use = \"waxed-duck\"\nthickness = \"%g mm\"\npressed = 1", stack/2)
	text := garmentOf(cloth, "over = [\"shell\", \"shell\"]\n"+rivet)
	return len(reports(t, "hardware-post", text))+len(reports(t, "hardware-grip", text)) == 0
}

func ofPost(mm float64) string {
	return fmt.Sprintf("fastener = \"rivet\"\n[closure.notion]\ndiameter = \"9 mm\"\nkind = \"double-cap\"\npost = \"%g mm\"", mm)
}

func TestPublishedDoubleCapPosts(t *testing.T) {
	// Bag-trade guide to double-cap rivets: posts 6, 8, 10, 12 mm; the stack,
	// at most 3 mm more.
	for stack, want := range map[float64][]float64{5: {6, 8}, 3: {6}, 12.5: nil} {
		var fits []float64
		for _, p := range []float64{6, 8, 10, 12} {
			if rivetFits(t, stack, ofPost(p)) {
				fits = append(fits, p)
			}
		}
		if diff := cmp.Diff(want, fits); diff != "" {
			t.Errorf("stack %g mm (-want +got):\n%s", stack, diff)
		}
	}
	// Rivet maker's note: 1/16 to 1/8 in more than the stack, so for 6.0 mm
	// 7.59 to 9.18 mm, of the stock the 8. The catalogue has posts and no grips;
	// the guide's rule holds all of that and no more.
	for mm, want := range map[float64]bool{7.59: true, 9.17: true, 9.19: false} {
		if got := rivetFits(t, 6, ofPost(mm)); got != want {
			t.Errorf("stack 6 mm, post %g mm by the rivet maker: %v", mm, got)
		}
	}
	for name, want := range map[string]bool{"double-cap-9-8": true, "double-cap-9-10": false, "double-cap-9-12": false} {
		if n := stock(t, name); n.Grip.Min.Has() || n.Grip.Max.Has() {
			t.Errorf("%s: whose grip is that?", name)
		}
		if got := rivetFits(t, 6, fmt.Sprintf("use = %q", name)); got != want {
			t.Errorf("stack 6 mm, %s by the rivet maker: %v", name, got)
		}
	}
	// Craft page: a quarter to a third of the stem shows, so a post of 8 serves
	// 5.33 to 6.00 mm: there all three rules agree.
	for _, stack := range []float64{5.34, 6} {
		if !rivetFits(t, stack, ofPost(8)) || !rivetFits(t, stack, `use = "double-cap-9-8"`) {
			t.Errorf("a post of 8 mm must serve %g mm by all three rules", stack)
		}
	}
}

// Leather-craft page quoting a maker's list: stack a third to two thirds of
// the height; 9 serves 3 to 6 mm; for 4.0 mm 7.3, 8.3, 9 and 10.5 serve and 5
// does not.
func TestPublishedLeatherRivets(t *testing.T) {
	n := stock(t, "leather-rivet-9-9")
	near(t, "height 9, least", n.Grip.Min.V, 3*mm, 0)
	near(t, "height 9, most", n.Grip.Max.V, 6*mm, 0)
	for _, name := range []string{"leather-rivet-6-7-3", "leather-rivet-6-8-3", "leather-rivet-9-9", "leather-rivet-9-10-5"} {
		n := stock(t, name)
		near(t, name+", a third", n.Grip.Min.V, n.Post.V/3, mms(.1))
		near(t, name+", two thirds", n.Grip.Max.V, 2*n.Post.V/3, mms(.1))
		if plan.FitOf(4*mm, n.Grip.Min.V, n.Grip.Max.V) != plan.Fits {
			t.Errorf("%s must serve 4.0 mm", name)
		}
	}
	if plan.FitOf(4*mm, mms(5./3), mms(10./3)) != plan.TooThick {
		t.Error("a height of 5 mm does not serve 4.0 mm")
	}
}

// A-A-55223 (13 July 1993), Fastener, Plastic: for compressed material of
// 0.010 to 0.050 in.
func TestPublishedCompressedRange(t *testing.T) {
	for stack, want := range map[float64]plan.Fit{.60: plan.Fits, 1.50: plan.TooThick, .20: plan.TooThin, .254: plan.Fits, 1.27: plan.Fits} {
		if got := plan.FitOf(mms(stack), inch(.010), inch(.050)); got != want {
			t.Errorf("%g mm: %v, want %v", stack, got, want)
		}
	}
}

func TestPublishedHoles(t *testing.T) {
	// says is what the rule has against a hole punched for a post.
	says := func(into string, post, hole float64) []string {
		return reports(t, "hardware-hole", garmentOf("use = \"waxed-duck\"", fmt.Sprintf("fastener = \"snap\"\nover = [\"shell\", \"shell\"]\ninto = %q\npunch = \"%g mm\"\n[closure.notion]\ndiameter = \"15 mm\"\nattach = \"post\"\npost_width = \"%g mm\"", into, hole, post)))
	}
	for _, c := range []struct {
		source     string
		into       string
		post, hole float64
		want       []string
	}{
		{"US Army TM 10-8400-203-23, 21-7: the hole smaller than the barrel", "cloth", 4, 3.9, []string{}},
		{"the same, as large", "cloth", 4, 4, []string{"conflict"}},
		{"the same, larger", "cloth", 4, 4.1, []string{"conflict"}},
		{"the same, in webbing", "webbing", 4, 3.9, []string{}},
		{"the same, as large in webbing", "webbing", 4, 4, []string{"conflict"}},
		{"the same, larger in webbing", "webbing", 4, 4.1, []string{"conflict"}},
		{"second rivet maker's answers: 0.010 to 0.015 in over a shank of 1/8 in, the least", "rigid", 3.175, 3.43, []string{}},
		{"the same, the most", "rigid", 3.175, 3.555, []string{}},
		{"the same, less", "rigid", 3.175, 3.42, []string{"caution"}},
		{"fourth rivet maker: 1.15 × 3.175 is 3.651, outside the second one's", "rigid", 3.175, 3.651, []string{"caution"}},
		{"no published rule for leather was found, so none may be claimed", "leather", 4, 3, []string{"note"}},
	} {
		if diff := cmp.Diff(c.want, says(c.into, c.post, c.hole)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.source, diff)
		}
	}
	lo, hi, _ := plan.PunchRange("rigid", mms(3.175))
	near(t, "rigid, least", lo, mms(3.429), 5*measure.Micrometre)
	near(t, "rigid, most", hi, mms(3.556), 5*measure.Micrometre)
	// The same manual: at most three splits in a snap's barrel, none in an
	// eyelet with its washer.
	if plan.Splits(plan.SetBarrel) != 3 || plan.Splits(plan.SetEyelet) != 0 {
		t.Errorf("splits: snap %d, eyelet %d", plan.Splits(plan.SetBarrel), plan.Splits(plan.SetEyelet))
	}
}

func TestPublishedEdges(t *testing.T) {
	// Sewing and design professionals' standards, p. 24: half the button + 1/4 in.
	near(t, "overlap, 32 line", plan.StandUsual(32*measure.Ligne), mms(16.51), 20*measure.Micrometre)
	near(t, "overlap, 36 line snap on a police jacket's 2 1/2 in flap", plan.StandUsual(36*measure.Ligne), mms(17.78), 20*measure.Micrometre)
	button := "fastener = \"button\"\nover = [\"shell\", \"shell\"]\nedge = \"%s\"\n[closure.notion]\ndiameter = \"%s\"\nthickness = \"3 mm\""
	for _, c := range []struct {
		source, edge, diameter string
		want                   []string
	}{
		{"IASRI e-course: at least half the diameter, 9 mm", "8 mm", "18 mm", []string{"conflict"}},
		{"police directive: two snaps 1 1/2 in apart on a 2 1/2 in band lie 1/2 in from its edges; a 24 line one clears by 5.08 mm", "1/2 in", "24L", []string{}},
	} {
		if diff := cmp.Diff(c.want, reports(t, "edge-near", garmentOf("use = \"melton\"", fmt.Sprintf(button, c.edge, c.diameter)))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.source, diff)
		}
	}
}

func TestPublishedSnaps(t *testing.T) {
	// Maker's note on S-spring snaps: one set takes caps of 11 to 15 mm, another
	// of 10 mm or more.
	for _, c := range []struct {
		caps   string
		cap    float64
		speaks bool
	}{
		{`{ min = "11 mm", max = "15 mm" }`, 12, false}, {`{ min = "11 mm", max = "15 mm" }`, 16, true},
		{`{ min = "11 mm", max = "15 mm" }`, 11, false}, {`{ min = "11 mm", max = "15 mm" }`, 15, false},
		{`{ min = "10 mm" }`, 10, false}, {`{ min = "10 mm" }`, 9, true},
	} {
		got := reports(t, "snap-cap", garmentOf("use = \"waxed-duck\"", fmt.Sprintf("fastener = \"snap\"\nover = [\"shell\", \"shell\"]\n[closure.notion]\ndiameter = \"%g mm\"\nspring = \"s\"\ncaps = %s", c.cap, c.caps)))
		if (len(got) > 0) != c.speaks {
			t.Errorf("caps %s, cap %g mm: %v", c.caps, c.cap, got)
		}
	}
	hide := "use = \"leather-firm\"\nthickness = \"3 mm\"\npressed = 1"
	for _, c := range []struct {
		source, rule, cloth, closure string
		speaks                       bool
	}{
		{"leather-craft notes: 3 mm leather takes the long leg", "hardware-grip", hide, "use = \"ring-spring-15\"\nover = [\"shell\"]", true},
		{"leather-craft notes: the long leg takes 3 mm leather", "hardware-grip", hide, "use = \"ring-spring-15-long\"\nover = [\"shell\"]", false},
		{"pattern maker's guide to snaps on jersey: prongs, not one post", "snap-knit", "use = \"jersey-203\"", "use = \"plastic-snap-12-4mm\"\nover = [\"shell\", \"shell\"]", true},
		{"the same guide: prongs for jersey", "snap-knit", "use = \"jersey-203\"", "use = \"prong-snap-16\"\nover = [\"shell\", \"shell\"]", false},
		{"sewing notes: a large snap drags thin cloth", "snap-sewn-size", "use = \"quilting-cotton-105\"", "use = \"sewn-snap-30\"\nover = [\"shell\", \"shell\"]", true},
		{"sewing notes: 30 mm for heavy wool coats", "snap-sewn-size", "use = \"melton\"", "use = \"sewn-snap-30\"\nover = [\"shell\", \"shell\"]", false},
		{"US Navy aviation manual: no locking snap where quick opening is needed", "snap-locking", "use = \"waxed-duck\"", "use = \"three-way-locking\"\nover = [\"shell\", \"shell\"]\nquick_opening = true", true},
	} {
		if got := reports(t, c.rule, garmentOf(c.cloth, c.closure)); (len(got) > 0) != c.speaks {
			t.Errorf("%s: %v", c.source, got)
		}
	}
}

func TestPublishedEyelets(t *testing.T) {
	tight := measure.Length(10 * measure.Micrometre)
	// Leather-trade size list.
	near(t, "sail eyelet no. 24", stock(t, "sail-eyelet-9-5mm").Inside.V, mms(9.53), tight)
	near(t, "sail eyelet no. 18", stock(t, "sail-eyelet-5-2mm").Inside.V, mms(5.16), tight)
	near(t, "sail eyelet no. 22", stock(t, "sail-eyelet-7-9mm").Inside.V, mms(7.94), tight)
	near(t, "sail eyelet no. 26", stock(t, "sail-eyelet-11-1mm").Inside.V, mms(11.11), tight)
	near(t, "leather eyelet no. 200", stock(t, "eyelet-4mm").Inside.V, 4*mm, 0)
	near(t, "leather eyelet no. 500", stock(t, "eyelet-5-5mm").Inside.V, mms(5.5), 0)
	near(t, "leather eyelet no. 700", stock(t, "eyelet-6-5mm").Inside.V, mms(6.5), 0)
}

// The washer, the extra layer and the other notion that a rule proposes must
// clear its finding when the garment is planned again.
func TestHardwareProposalsClear(t *testing.T) {
	modules := slices.Concat(sewnRules, hardwareRules, snapRules, eyeletRules, tackRules, zipRules, loopRules)
	// No prong snap of the stock grips 4 mm, and there is nothing to add.
	hopeless := []string{"hardware-grip/bad-memory-post.toml"}
	files, clear := 0, 0
	for _, r := range modules {
		if r.Propose == nil {
			continue
		}
		bad, err := filepath.Glob(filepath.Join("..", "testdata", "rules", r.Name, "bad*.toml"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range bad {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			g, err := catalog.Read(name, text, catalog.Options{})
			if err != nil {
				t.Fatal(err)
			}
			p := Plan(g)
			x := Context{G: g, P: p, U: g.Units}
			for i := range p.Findings {
				f := &p.Findings[i]
				if f.Rule != r.Name || f.Severity < Caution {
					continue
				}
				x.C, x.K = &g.Closures[0], &p.Closures[0]
				files++
				cleared := false
				for _, ch := range r.Propose(&x, f) {
					h, err := g.Alter(ch.With...)
					if err != nil {
						t.Errorf("%s: proposes what cannot be read: %v", name, err)
						continue
					}
					q := Found(h)
					gone := !slices.ContainsFunc(q.Findings, func(o Finding) bool {
						return o.Rule == f.Rule && o.Size == f.Size && o.Severity >= Caution
					})
					cleared = cleared || gone
				}
				if cleared {
					clear++
				} else if !strings.Contains(string(text), "[closure.notion]") && !slices.ContainsFunc(hopeless, func(s string) bool { return strings.HasSuffix(filepath.ToSlash(name), s) }) {
					t.Errorf("%s: no proposal clears it: %s", name, f.Message())
				}
			}
		}
	}
	if files < 40 || clear < files*2/3 {
		t.Errorf("%d of %d findings cleared", clear, files)
	}
}

// A gap at a hole that the machine's needle cannot span is printed in a
// household machine manual: 2.5 to 4.5 mm.
func TestPublishedSwing(t *testing.T) {
	c, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	swing := c.Machine("domestic").Swing
	for gap, want := range map[float64]bool{2.5: true, 3.5: true, 4.5: true, 2.4: false, 4.6: false} {
		if got := plan.SwingReaches(swing, mms(gap)); got != want {
			t.Errorf("holes %g mm apart: %v", gap, got)
		}
	}
}

// An own catalogue beside the garment wins over the stock by name, in the
// plan too, and the garment says so.
func TestOwnCatalogueWinsInThePlan(t *testing.T) {
	name := filepath.Join("..", "testdata", "garments", "canvas-jacket-ready.toml")
	g, err := catalog.Load(name, catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	k := Plan(g).Closures[2]
	near(t, "grip of the boatyard's own snap", k.Hardware.GripMax, mms(2.6), 0)
	near(t, "grip of the built-in one", stock(t, "s-spring-12").Grip.Max.V, mms(2.5), 0)
	if !slices.ContainsFunc(g.Notes, func(s string) bool {
		return strings.Contains(s, "s-spring-12") && strings.Contains(s, "tarn-quay-notions.toml")
	}) {
		t.Errorf("nothing says whose snap it is: %q", g.Notes)
	}
}

// The demo: one nail too short, and one size up puts it right.
func TestCanvasJacket(t *testing.T) {
	for name, want := range map[string][]string{
		"canvas-jacket.toml":       {"hardware-grip front"},
		"canvas-jacket-ready.toml": {},
	} {
		g, err := catalog.Load(filepath.Join("..", "testdata", "garments", name), catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		got := []string{}
		for _, f := range Plan(g).Findings {
			if f.Severity == Conflict {
				got = append(got, f.Rule+" "+f.Closure)
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}
