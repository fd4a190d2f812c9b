package sheet

import (
	"context"
	"encoding/json"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"placketeer/catalog/measure"
	"placketeer/rules"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"
)

// browser starts Debian's Chromium without a network, or skips the test.
func browser(t *testing.T) context.Context {
	t.Helper()
	path := program(t, "chromium", "chromium")
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.NoFirstRun, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND"),
		chromedp.UserDataDir(t.TempDir()), chromedp.WSURLReadTimeout(time.Minute),
	)
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), opts...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("chromium does not start: %v", err)
	}
	return ctx
}

// keep writes a picture or a print where -artifacts puts it, to be looked at.
func keep(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.ArtifactDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// Every demo's page opens in Chromium without a word on the console, says what
// the JSON says, is cut off at no width and prints on a few pages.
func TestPage(t *testing.T) {
	ctx := browser(t)
	var mu sync.Mutex
	var said []string
	hear := func(s string) {
		mu.Lock()
		defer mu.Unlock()
		said = append(said, s)
	}
	err := chromedp.Listen(ctx, func(ev any) {
		switch ev := ev.(type) {
		case *runtime.EventConsoleAPICalled:
			hear(fmt.Sprintf("console: %s", ev.Type))
		case *runtime.EventExceptionThrown:
			hear("exception: " + ev.ExceptionDetails.Text)
		case *log.EventEntryAdded:
			hear(string(ev.Entry.Level) + ": " + ev.Entry.Text)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, log.Enable, cdp.Empty{}); err != nil {
		t.Fatal(err)
	}
	focus := emulation.SetFocusEmulationEnabledParams{Enabled: true}
	if _, err := chromedp.Call(ctx, emulation.SetFocusEmulationEnabled, focus); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, runtime.Enable, cdp.Empty{}); err != nil {
		t.Fatal(err)
	}
	// A console that says nothing must be one that could.
	if err := chromedp.Do(ctx, chromedp.Navigate("data:text/html,<script>console.log('x')</script>")); err != nil {
		t.Fatal(err)
	}
	if len(said) == 0 {
		t.Fatal("the console is not heard")
	}
	for _, f := range demos(t) {
		name := strings.TrimSuffix(filepath.Base(f), ".toml")
		t.Run(name, func(t *testing.T) {
			said = nil
			p := planned(t, f)
			file := filepath.Join(t.TempDir(), name+".html")
			if err := os.WriteFile(file, []byte(specified(t, []*rules.Planned{p}, Options{Format: "html"})), 0o644); err != nil {
				t.Fatal(err)
			}
			open(t, ctx, file)
			cells(t, ctx, p)
			reachable(t, ctx)
			for _, width := range []int64{390, 1280} {
				for _, scheme := range []string{"light", "dark"} {
					shot(t, ctx, name, width, scheme)
				}
			}
			prints(t, ctx, name)
			if len(said) > 0 {
				t.Errorf("the console says: %s", strings.Join(said, "; "))
			}
		})
	}
}

// look is what a script on the page answers.
func look[T any](t *testing.T, ctx context.Context, script string) T {
	t.Helper()
	out, err := chromedp.Run(ctx, chromedp.Evaluate[T](script))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func media(t *testing.T, ctx context.Context, scheme string) {
	t.Helper()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
	if err != nil {
		t.Fatal(err)
	}
}

func open(t *testing.T, ctx context.Context, file string) {
	t.Helper()
	u := url.URL{Scheme: "file", Path: file}
	if err := chromedp.Do(ctx, chromedp.Navigate(u.String())); err != nil {
		t.Fatal(err)
	}
}

// cells compares the tables of the page with the JSON of the same plan.
func cells(t *testing.T, ctx context.Context, p *rules.Planned) {
	t.Helper()
	got := look[map[string][][]string](t, ctx, `Object.fromEntries([...document.querySelectorAll("table")].map(t => [t.id,
		[...t.rows].map(r => [...r.cells].map(c => (c.querySelector("data") || {value: c.textContent}).value))]))`)
	var all []Garment
	if err := json.Unmarshal([]byte(specified(t, []*rules.Planned{p}, Options{Format: "json"})), &all); err != nil {
		t.Fatal(err)
	}
	g := &all[0]
	for i := range g.Closures {
		c := &g.Closures[i]
		row := func(column string) string { // "" where all closures have the same
			j := slices.Index(got["g1-t-closures"][0], column)
			if j < 0 {
				return ""
			}
			return got["g1-t-closures"][i+1][j]
		}
		if row("closure") != c.Name || row("fastener") != c.Notion {
			t.Errorf("the row of %s: %v", c.Name, got["g1-t-closures"][i+1])
		}
		if stitch := row("stitch"); c.Zip == nil && stitch != "" && stitch != exact(c.StitchMM) {
			t.Errorf("the stitch of %s is %s", c.Name, stitch)
		}
		if c.Zip != nil {
			continue // it has no places
		}
		if c.Hole != nil && c.Loop == nil && row("hole") != exact(c.Hole.Length) {
			t.Errorf("the hole of %s is %s in the table, %s in the JSON", c.Name, row("hole"), exact(c.Hole.Length))
		}
		if c.Stand != nil && row("stand") != exact(*c.Stand.Have) {
			t.Errorf("the stand of %s is %s", c.Name, row("stand"))
		}
		if u := c.Support; u != nil && u.Interfacing != nil && !slices.ContainsFunc(got["g1-t-cutting"], func(r []string) bool { return r[0] == c.Name && r[3] == exact(u.Strip) }) {
			t.Errorf("the strip of %s is not cut %s wide", c.Name, exact(u.Strip))
		}
		// A row a size, or one for all of them; or one among other closures.
		rows := got[fmt.Sprintf("g1-t-places-%d", i)]
		down := func(size string) int {
			return slices.IndexFunc(rows, func(r []string) bool {
				return r[0] == "all sizes" || r[0] == "centres" || slices.Contains(strings.Split(r[0], ", "), size)
			})
		}
		if rows == nil {
			rows = got["g1-t-places-rest"]
			down = func(string) int { return slices.IndexFunc(rows, func(r []string) bool { return r[0] == c.Name }) }
		}
		if rows == nil {
			t.Errorf("no table of the places of %s", c.Name)
			continue
		}
		for _, z := range c.Sizes {
			j := down(z.Size)
			if j < 0 {
				t.Errorf("%s has no row for size %s: %v", c.Name, z.Size, rows)
				continue
			}
			var at, want []string
			n := slices.Index(rows[0], "end")
			for _, c := range rows[j][1:n] {
				if c != "" {
					at = append(at, c)
				}
			}
			for _, m := range z.Positions {
				want = append(want, exact(m))
			}
			if diff := cmp.Diff(want, at); diff != "" {
				t.Errorf("%s, size %s (-JSON +page):\n%s", c.Name, z.Size, diff)
			}
			if end := rows[j][n]; end != exact(*z.Run) {
				t.Errorf("%s, size %s ends at %s, in the JSON at %s", c.Name, z.Size, end, exact(*z.Run))
			}
		}
	}
	for i, n := range g.Buy.Notions {
		row := got["g1-t-notions"][i+1]
		if row[0] != n.Notion || row[2] != itoa(n.Garment.Needed) || row[3] != itoa(n.Garment.Pieces) {
			t.Errorf("the row of %s: %v", n.Notion, row)
		}
	}
	// What a person reads is the same length in the garment's units.
	shown := look[[][2]string](t, ctx, `[...document.querySelectorAll("table[id*=places] tr:not(.grows ~ tr) td.r data")].map(d => [d.value, d.textContent])`)
	if len(shown) == 0 {
		t.Error("no places are shown")
	}
	for _, s := range shown {
		l, err := measure.ParseLength(s[0]+" mm", measure.MM)
		if err != nil || l.ShortPlace(p.Garment.Units) != s[1]+" "+p.Garment.Units.String() {
			t.Errorf("%s mm is shown as %q", s[0], s[1])
		}
	}
}

// reachable looks at what a keyboard and a screen reader need.
func reachable(t *testing.T, ctx context.Context) {
	t.Helper()
	faults := look[[]string](t, ctx, `(() => {
		const out = [], all = s => [...document.querySelectorAll(s)];
		const ids = all("[id]").map(e => e.id);
		if (new Set(ids).size !== ids.length) out.push("an id is used twice: " + ids.filter((x, i) => ids.indexOf(x) !== i));
		for (const e of all("[aria-labelledby]")) for (const id of e.getAttribute("aria-labelledby").split(" ")) if (!document.getElementById(id)) out.push("no label " + id);
		for (const a of all("a[href^='#']")) if (!document.getElementById(a.hash.slice(1))) out.push("no place " + a.hash);
		for (const t of all("table")) {
			if (!t.caption) out.push("no caption on " + t.id);
			for (const h of t.querySelectorAll("th")) if (!h.scope) out.push("no scope in " + t.id);
			for (const r of t.tBodies[0].rows) if (r.cells.length !== t.tHead.rows[0].cells.length) out.push("a short row in " + t.id);
		}
		for (const s of all("svg")) if (!s.querySelector("title") || !s.querySelector("desc")) out.push("a picture without words");
		for (const s of all("main", "header", "nav")) if (!s) out.push("no landmark");
		if (all("main").length !== 1 || all("h1").length !== 1 || !document.documentElement.lang || !document.title) out.push("main, h1, language or title");
		if (all("script, link[rel=stylesheet], img, iframe").length) out.push("something from outside");
		document.querySelector("a.skip").focus();
		if (document.querySelector("a.skip").getBoundingClientRect().left < 0) out.push("the skip link stays hidden");
		document.activeElement.blur();
		for (const s of all(".word")) if (!s.textContent.trim()) out.push("colour alone");
		return out;
	})()`)
	for _, f := range faults {
		t.Error(f)
	}
}

// shot takes a picture of the whole page and looks for what is cut off.
func shot(t *testing.T, ctx context.Context, name string, width int64, scheme string) {
	t.Helper()
	err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 844))
	if err != nil {
		t.Fatal(err)
	}
	media(t, ctx, scheme)
	wide := look[int](t, ctx, `document.scrollingElement.scrollWidth`)
	inner := look[int](t, ctx, `innerWidth`)
	over := look[[]string](t, ctx, `[...document.querySelectorAll("main *")].filter(e => !e.closest(".scroll, svg, details") &&
		(e.getBoundingClientRect().right > innerWidth + 0.5 || e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== "inline" && e.clientWidth > 0) || e.matches(".scroll") && e.scrollWidth > e.clientWidth + 1
		).map(e => e.tagName + "." + e.className + ": " + e.textContent.slice(0, 40))`)
	// Contrast of the text and of the severities on the page, as WCAG 2 counts it.
	ratio := look[float64](t, ctx, `(() => {
		const lum = c => { const [r, g, b] = c.match(/[\d.]+/g).map(x => x / 255).map(x => x <= .03928 ? x / 12.92 : ((x + .055) / 1.055) ** 2.4); return .2126 * r + .7152 * g + .0722 * b };
		const paper = lum(getComputedStyle(document.body).backgroundColor);
		return Math.min(...[...document.querySelectorAll("main p, main td, main th, .word, .at, .facts, .sources")].map(e => lum(getComputedStyle(e).color)).map(l => (Math.max(l, paper) + .05) / (Math.min(l, paper) + .05)));
	})()`)
	png, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	keep(t, fmt.Sprintf("%s-%d-%s.png", name, width, scheme), png)
	if wide > inner || inner != int(width) {
		t.Errorf("at %d px the page is %d wide in a window of %d", width, wide, inner)
	}
	for _, o := range over {
		t.Errorf("at %d px this is cut off: %s", width, o)
	}
	if ratio < 4.5 {
		t.Errorf("in the %s scheme the contrast is %.1f, under 4.5 to 1 (WCAG 2.2, 1.4.3)", scheme, ratio)
	}
}

// prints looks that a demo prints on two pages.
func prints(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	const most = 2
	pdfinfo := program(t, "pdfinfo", "poppler-utils")
	media(t, ctx, "light")
	for _, paper := range []struct {
		name string
		w, h float64
	}{{"a4", 210 / 25.4, 297 / 25.4}, {"letter", 8.5, 11}} {
		res, err := chromedp.Call(ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: paper.w, PaperHeight: paper.h})
		if err != nil {
			t.Fatal(err)
		}
		file := keep(t, name+"-"+paper.name+".pdf", res.Data)
		out, err := exec.Command(pdfinfo, file).Output()
		if err != nil {
			t.Fatal(err)
		}
		pages := 0
		for _, l := range strings.Split(string(out), "\n") {
			if _, err := fmt.Sscanf(l, "Pages: %d", &pages); err == nil {
				break
			}
		}
		if pages < 1 || pages > most {
			t.Errorf("on %s it prints on %d pages, at most %d are meant", paper.name, pages, most)
		}
		t.Logf("%s: %d pages", paper.name, pages)
		words, err := exec.Command(program(t, "pdftotext", "poppler-utils"), file, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(words), "Places of the fasteners") {
			t.Errorf("on %s no words are read:\n%s", paper.name, words)
		}
		for _, folded := range []string{"How each number came about", "Each finding in full", "Sources", "from memory"} {
			if strings.Contains(string(words), folded) {
				t.Errorf("on %s it prints %q, which is folded away", paper.name, folded)
			}
		}
	}
}
