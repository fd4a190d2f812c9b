package live

import (
	"encoding/base64"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"placketeer/rules/trial"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// sister is a coat as the interview writes it, of invented answers.
const sister = `garment = "Pea coat for my sister"  # you said: pea coat for my sister
units   = "in"

[sizes]
names = ["S", "M", "L"]

[machine]
use = "domestic"
buttonhole_max = "24 mm"  # you said: 24 mm, 5 mm
foot_lift = "5 mm"  # you said: 24 mm, 5 mm

[cloth.shell]
use = "melton"  # you said: 22 oz/yd2 melton
weight = "746 g/m2"  # you said: 22 oz/yd2 melton

[interfacing.stay]
use = "hair-canvas"  # you said: hair canvas

[[closure]]
name  = "front"
where = "front"
hole  = "machine"  # you said: machine
over  = ["shell", "stay", "shell"]  # the layers a hole or fastener goes through, outside first

[closure.notion]
diameter = "1 1/8 in"
thickness = "6 mm ± 1.5 mm" # an estimate: measure yours

[closure.stand]
construction = "faced"  # you said: faced

[closure.run]
length = { S = "25 in", M = "26 in", L = "27 in" }  # you said: S 25 in, M 26 in, L 27 in
count  = 5  # you said: 5
`

// picture keeps what is seen, for somebody to look at.
func (v *visitor) picture(name string) {
	v.Helper()
	shot, err := chromedp.Run(v.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		v.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(v.ArtifactDir(), name+".png"), shot, 0o644); err != nil {
		v.Fatal(err)
	}
}

// Somebody who has answered the interview goes by the page alone: measures,
// chooses a button that the machine can sew, keeps it, and comes away with a
// guide, a checklist and a spec of what is seen. At the width of a phone, with
// the keyboard alone.
func TestToTheCloth(t *testing.T) {
	v := visit(t)
	tb := lay(t, "pea-coat.toml", sister)
	go tb.s.Watch()
	v.does("open", chromedp.EmulateViewport(390, 844), chromedp.Navigate(tb.s.Address()))
	v.sees("the verdict", verdict+` === "conflict" && document.body.dataset.shown`)
	v.picture("first")

	// Tab comes to everything in the order in which it stands, and only to what
	// is seen.
	order := runs[string](v, "the order", `(() => {
		const all = [...document.querySelectorAll("a[href], button, input, select, summary, [tabindex='0']")].filter((e) => e.checkVisibility() && !e.disabled && e.tabIndex >= 0);
		return all.map((e) => e.className === "skip" ? "skip" : e.id || e.dataset.key || e.dataset.row && "place " + e.dataset.row || e.textContent.trim().slice(0, 30)).join("|");
	})()`)
	for _, want := range []string{"skip", "closure.front.use", "closure.front.run.count", "choices", "S", "picture", "place 1", "place 5", "of", "sheets", "Marking guide", "Try"} {
		at := strings.Index(order, want)
		if at < 0 {
			t.Fatalf("%s is not reached: %s", want, order)
		}
		_, order, _ = strings.Cut(order, want)
	}
	tabbed := runs[string](v, "tab", `document.body.focus(), document.activeElement.tagName`)
	for range 2 {
		v.does("tab", chromedp.KeyEvent(kb.Tab))
	}
	if got := runs[string](v, "tab", `document.activeElement.dataset.key || document.activeElement.outerHTML`); got != "closure.front.use" {
		t.Errorf("after %s, Tab Tab comes to %s", tabbed, got)
	}

	// What to measure first has its field.
	v.sees("what to measure", `document.querySelector("form.measure")`)
	key := runs[string](v, "the key", `document.querySelector("form.measure").dataset.key`)
	if strings.HasSuffix(key, ".use") {
		t.Errorf("a measure goes to %s", key)
	}
	v.does("measure", chromedp.Focus(`form.measure input`), chromedp.SendKeys(`form.measure input`, "2.5 mm"), chromedp.KeyEvent(kb.Enter))
	v.sees("measured", holds("#lines", `thickness = "2.5 mm"`)+` && !document.querySelector("#trying").hidden`)
	v.sees("the focus is at what is tried", `document.activeElement.id === "trying-head"`)

	// The best that fit, one of them, with all before it still tried.
	v.sees("the best", `document.querySelector("#choices").options.length > 3`)
	name := runs[string](v, "choose", `(() => { const s = document.querySelector("#choices"); s.selectedIndex = 1; s.dispatchEvent(new Event("change", {bubbles: true})); return s.value; })()`)
	v.sees("chosen", fmt.Sprintf(`document.querySelector('[data-key="closure.front.use"]').value === %q && `, name)+verdict+` !== "conflict" && document.querySelector("#screen").getAttribute("aria-busy") === "false"`)
	v.sees("before and after", `document.querySelector("#picture .was") && !document.querySelector("#legend").hidden`)
	if wide := runs[int](v, "the width", `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("%d px wide", wide)
	}
	v.picture("tried")

	// What is printed is what is seen, before it is kept too.
	v.sees("the spec to print", fmt.Sprintf(`document.querySelector("#paper").textContent.includes(%q)`, name))
	fetched := func(paper string) (kind, saved, body string) {
		out := runs[[]string](v, paper, fmt.Sprintf(`(async () => {
			const a = document.querySelector('a[data-print=%q]'), r = await fetch(a.href), b = new Uint8Array(await r.arrayBuffer());
			let s = ""; for (let i = 0; i < b.length; i += 8192) s += String.fromCharCode(...b.subarray(i, i + 8192));
			return [String(r.status) + " " + r.headers.get("Content-Type"), r.headers.get("Content-Disposition"), btoa(s)];
		})()`, paper), chromedp.EvalAwaitPromise)
		return out[0], out[1], decoded(t, out[2])
	}
	kind, saved, guide := fetched("guide.pdf")
	if kind != "200 application/pdf" || saved != `inline; filename="pea-coat-guide.pdf"` || !strings.HasPrefix(guide, "%PDF-") {
		t.Fatalf("%s; %s; %.20q", kind, saved, guide)
	}
	if words := inPDF(t, guide); !strings.Contains(words, "Pea coat for my sister") || !strings.Contains(words, "100 %") {
		t.Errorf("the guide: %s", words)
	}
	if _, _, strips := fetched("strips.pdf"); !strings.HasPrefix(strips, "%PDF-") || strips == guide {
		t.Errorf("the strips: %.20q", strips)
	}

	// Kept, by keyboard; then each page opened as a person opens it.
	v.does("keep", chromedp.Focus("#keep"), chromedp.KeyEvent(kb.Enter))
	v.sees("kept", `document.querySelector("#trying").hidden && !document.querySelector("#undo").hidden`)
	if got := tb.text(); !strings.Contains(got, name) || !strings.Contains(got, "# you said: 22 oz/yd2 melton") {
		t.Error(got)
	}
	v.picture("kept")
	for paper, has := range map[string]string{"checklist.html": "sample hole", "spec.html": name} {
		href := runs[string](v, paper, fmt.Sprintf(`document.querySelector('a[data-print=%q]').href`, paper))
		v.does(paper, chromedp.Navigate(href))
		v.sees(paper, fmt.Sprintf(`document.body.innerText.includes(%q)`, has))
		if got := runs[string](v, paper, `getComputedStyle(document.body).fontFamily`); !strings.Contains(got, "system-ui") {
			t.Errorf("%s has no style: %s", paper, got)
		}
		v.picture(paper)
		v.does("back", chromedp.NavigateBack())
		v.sees("back", `document.body.dataset.shown`)
	}

	// Another program leaves the file half written, and then whole: the page says
	// so, and no longer.
	whole := tb.text()
	for _, c := range []struct{ text, sees string }{
		{whole + "\ncount = \n", `!document.querySelector("#banner").hidden && ` + holds("#banner", "cannot be planned")},
		{whole, `document.querySelector("#banner").hidden`},
	} {
		if err := os.WriteFile(tb.file, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		v.sees("what became of it", c.sees)
	}
	v.quiet()
}

// quiet holds the console to what is meant to be there.
func (v *visitor) quiet() {
	v.Helper()
	v.lock.Lock()
	defer v.lock.Unlock()
	for _, said := range v.said {
		if !strings.Contains(said, "ERR_") && !strings.Contains(said, "status of 422") && !strings.Contains(said, "status of 409") {
			v.Errorf("on the console: %s", said)
		}
	}
}

func decoded(t *testing.T, s string) string {
	t.Helper()
	data, err := base64.StdEncoding.DecodeString(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// inPDF is the text of a PDF, as poppler reads it.
func inPDF(t *testing.T, data string) string {
	t.Helper()
	file := filepath.Join(t.ArtifactDir(), "guide.pdf")
	if err := os.WriteFile(file, []byte(data), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(trial.Program(t, "pdftotext", "poppler-utils"), file, "-").CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return string(out)
}
