package live

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"placketeer/rules/trial"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	cdplog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// axe is where the accessibility checker axe-core lies, which CI fetches.
const axe = "AXE_CORE"

// visitor is somebody before the page, in Debian's Chromium.
type visitor struct {
	*testing.T
	ctx context.Context

	lock sync.Mutex
	said []string // on the console
}

func visit(t *testing.T) *visitor {
	t.Helper()
	path := trial.Program(t, "chromium", "chromium")
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.NoFirstRun, chromedp.DisableGPU,
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true), chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND , EXCLUDE 127.0.0.1"),
		chromedp.UserDataDir(t.TempDir()), chromedp.WSURLReadTimeout(time.Minute),
	)
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), opts...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	v := &visitor{T: t, ctx: ctx}
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("chromium does not start: %v", err)
	}
	if err := chromedp.Listen(ctx, func(ev any) {
		v.lock.Lock()
		defer v.lock.Unlock()
		switch ev := ev.(type) {
		case *runtime.EventConsoleAPICalled:
			v.said = append(v.said, fmt.Sprint("console: ", ev.Type))
		case *runtime.EventExceptionThrown:
			v.said = append(v.said, "exception: "+ev.ExceptionDetails.Text)
		case *cdplog.EventEntryAdded:
			v.said = append(v.said, string(ev.Entry.Level)+": "+ev.Entry.Text)
		}
	}); err != nil {
		t.Fatal(err)
	}
	for _, on := range []func() error{
		func() error { _, err := chromedp.Call(ctx, cdplog.Enable, cdp.Empty{}); return err },
		func() error { _, err := chromedp.Call(ctx, runtime.Enable, cdp.Empty{}); return err },
		func() error {
			_, err := chromedp.Call(ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
			return err
		},
	} {
		if err := on(); err != nil {
			t.Fatal(err)
		}
	}
	return v
}

// runs runs a script on the page and returns what it gives.
func runs[T any](v *visitor, what, js string, opts ...chromedp.EvaluateOption) T {
	v.Helper()
	out, err := chromedp.Run(v.ctx, chromedp.Evaluate[T](js, opts...))
	if err != nil {
		v.Fatalf("%s: %v; the console: %q", what, err, v.said)
	}
	return out
}

// does runs what a person does.
func (v *visitor) does(what string, actions ...chromedp.Action[chromedp.Void]) {
	v.Helper()
	if err := chromedp.Do(v.ctx, actions...); err != nil {
		v.Fatalf("%s: %v; the console: %q", what, err, v.said)
	}
}

// sees waits until an expression holds on the page.
func (v *visitor) sees(what, js string) {
	v.Helper()
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if runs[bool](v, what, "Boolean("+js+")") {
			return
		}
		if time.Now().After(end) {
			text := runs[string](v, what, "document.body.innerText")
			v.Fatalf("never seen: %s (%s); the console: %q\n%s", what, js, v.said, text)
		}
	}
}

// empty empties a field, as a person does before typing.
func empty(selector string) chromedp.Action[chromedp.Void] {
	js := fmt.Sprintf(`document.querySelector(%q).focus(), document.querySelector(%q).select(), 0`, selector, selector)
	return func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		_, err := chromedp.Evaluate[int](js)(ctx, t)
		return chromedp.Void{}, err
	}
}

const verdict = `document.querySelector("#verdict strong").textContent`

func holds(selector, text string) string {
	return fmt.Sprintf(`document.querySelector(%q)?.textContent.includes(%q)`, selector, text)
}

// The whole way by the page alone: open it, try a change, see the conflict go,
// keep it, move a fastener with the keyboard and by hand, settle, see another
// editor's save, and the program stop and come back.
func TestAtTheTable(t *testing.T) {
	v := visit(t)
	tb := lay(t, "coat.toml", coat)
	go tb.s.Watch()
	v.does("open", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(tb.s.Address()))
	v.sees("the verdict", verdict+` === "conflict"`)
	v.sees("the fields", `document.querySelectorAll("#fields input").length >= 5`)

	// A value typed above: planned at every key, nothing written.
	needle := `[data-try*="closure.front.needle=100/16"]`
	v.does("try", chromedp.Click(needle))
	v.sees("no conflict", verdict+` !== "conflict"`)
	v.sees("the line", holds("#lines", `needle = "100/16"`))
	if tb.text() != coat {
		t.Fatal("written before it was kept")
	}
	v.does("keep", chromedp.Click("#keep"))
	v.sees("kept", `document.querySelector("#trying").hidden && !document.querySelector("#undo").hidden`)
	if got := tb.text(); !strings.Contains(got, `needle = "100/16"`) || !strings.Contains(got, "# the boatswain's") {
		t.Fatal(got)
	}

	// By keyboard alone: the third fastener one mark down, then kept.
	v.does("to the fastener", chromedp.Focus(`.handle[data-row="3"]`), chromedp.KeyEvent(kb.ArrowDown))
	v.sees("moved", holds("#lines", "anchor"))
	v.sees("what it costs", holds("#effect", "moved"))
	v.sees("the focus stays", `document.activeElement.dataset.row === "3"`)
	v.does("drop", chromedp.Focus("#drop"), chromedp.KeyEvent(kb.Enter))
	v.sees("dropped", `document.querySelector("#trying").hidden`)

	// By hand: the first one pulled down.
	type point struct{ X, Y float64 }
	box := runs[point](v, "where it is", `(() => { const r = document.querySelector('.handle[data-row="1"] .place').getBoundingClientRect(); return {X: r.x + r.width / 2, Y: r.y + r.height / 2}; })()`)
	v.does("pull",
		chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, box.X, box.Y, chromedp.ButtonLeft, chromedp.ClickCount(1)),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, box.X, box.Y+12, chromedp.ButtonLeft),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, box.X, box.Y+25, chromedp.ButtonLeft),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, box.X, box.Y+25, chromedp.ButtonLeft, chromedp.ClickCount(1)))
	v.sees("pulled", holds("#lines", "first = "))

	// A typed value that is none is told beside its field.
	v.does("type", chromedp.Click("#drop"))
	v.sees("dropped again", `document.querySelector("#trying").hidden`)
	first := `#fields input[data-key="closure.front.run.first"]`
	v.does("type", empty(first), chromedp.SendKeys(first, "far"))
	v.sees("told", fmt.Sprintf(`document.querySelector(%q).parentElement.querySelector(".wrong").textContent.includes("number")`, first))
	v.does("type", empty(first), chromedp.SendKeys(first, "38 mm"))
	v.sees("planned", holds("#lines", `first = "38 mm"`))

	// Another editor saves meanwhile: it asks, and neither is lost.
	theirs := strings.Replace(tb.text(), "count = 5", "count = 6", 1)
	if err := os.WriteFile(tb.file, []byte(theirs), 0o644); err != nil {
		t.Fatal(err)
	}
	v.sees("asked", holds("#banner", "changed by another program"))
	runs[any](v, "both", `document.querySelector("#banner button").click(), 0`)
	v.sees("both", `document.querySelector('#fields input[data-key="closure.front.run.count"]').value === "6" && `+holds("#lines", `first = "38 mm"`))
	v.does("keep both", chromedp.Click("#keep"))
	v.sees("kept both", `document.querySelector("#trying").hidden`)
	if got := tb.text(); !strings.Contains(got, "count = 6") || !strings.Contains(got, `first = "38 mm"`) {
		t.Fatal(got)
	}

	// What a sample has answered, with a reason.
	runs[any](v, "settle", `(() => { const f = document.querySelector('form.settle[data-rule="stack-bulky"]'); f.closest("details").open = true; f.elements.because.value = "sewn, no skipped stitch"; f.requestSubmit(); })(), 0`)
	v.sees("settled", holds("#screen", "sewn, no skipped stitch"))

	// The sizes, and what is printed.
	runs[any](v, "size", `[...document.querySelectorAll("#sizes button")].find((b) => b.textContent === "M").click(), 0`)
	v.sees("size", `document.querySelector('#sizes button[aria-pressed="true"]').textContent === "M"`)
	v.sees("its papers", `document.querySelector("#of").value === "M" && document.querySelector('a[data-print="guide.pdf"]').href.includes("size=M")`)
	v.sees("the spec to print", holds("#paper", "Places of the fasteners"))

	// The program stops: the page says so; it comes back: the page goes on.
	tb.web.CloseClientConnections()
	tb.s.Close()
	tb.web.Close()
	v.sees("stopped", holds("#banner", "The program has stopped"))
	l, err := net.Listen("tcp", tb.s.host)
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(Options{File: tb.file, Secret: tb.s.Secret()}, l)
	if err != nil {
		t.Fatal(err)
	}
	web := httptest.NewUnstartedServer(s)
	web.Listener.Close()
	web.Listener = l
	web.Start()
	t.Cleanup(func() { s.Close(); web.CloseClientConnections(); web.Close() })
	v.sees("back", `!document.body.classList.contains("stopped")`)

	v.quiet()
}

// Variants are chosen on the page, by keyboard: what is tried and what was typed
// stays, what is kept is written where the page said it would be, and nowhere
// else.
func TestVariantsOnThePage(t *testing.T) {
	v := visit(t)
	tb := lay(t, "coat.toml", varied)
	v.does("open", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(tb.s.Address()))
	v.sees("the choice", `!document.querySelector(".variants").hidden && document.querySelector("#variant").value === ""`)
	v.sees("the fields", `document.querySelectorAll("#fields input").length >= 5`)
	first, last := `#fields input[data-key="closure.front.run.first"]`, `#fields input[data-key="closure.front.run.last"]`
	// One value that is planned, one that cannot be read, a reason half typed, and the
	// choice at once, before the page has rested.
	runs[any](v, "reason", `(() => { const f = document.querySelector('form.settle[data-rule="stack-bulky"]'); f.closest("details").open = true; f.elements.because.value = "sewn twi"; })(), 0`)
	v.does("type", empty(last), chromedp.SendKeys(last, "low"))
	v.sees("told", fmt.Sprintf(`document.querySelector(%q).parentElement.querySelector(".wrong").textContent.includes("number")`, last))
	v.does("type", empty(first), chromedp.SendKeys(first, "1 1/2 in"), chromedp.Focus("#variant"), chromedp.KeyEvent(kb.ArrowDown))
	v.sees("the variant", `document.querySelector("#variant").value === "light" && document.querySelector("#belongs").textContent.includes("this variant alone") && document.querySelector("#into").textContent.includes("[variant.light]")`)
	v.sees("what was typed", holds("#lines", `1 1/2 in`)+fmt.Sprintf(` && document.querySelector(%q).value === "low" && document.querySelector(%q).getAttribute("aria-invalid") === "true"`, last, last))
	v.sees("the reason", `document.querySelector('form.settle[data-rule="stack-bulky"]').elements.because.value === "sewn twi"`)
	v.sees("the focus", `document.activeElement.id === "variant"`)
	v.sees("the papers", `document.querySelector('a[data-print="guide.pdf"]').href.includes("variant=light")`)
	said := runs[string](v, "the line", `document.querySelector("#lines").textContent`)
	if tb.text() != varied {
		t.Fatal("written before it was kept")
	}
	v.does("keep", chromedp.Focus("#keep"), chromedp.KeyEvent(kb.Enter))
	v.sees("kept", `document.querySelector("#trying").hidden && !document.querySelector("#undo").hidden`)
	own, table, _ := strings.Cut(tb.text(), "[variant.light]")
	table, other, _ := strings.Cut(table, "[variant.dark]")
	if !strings.HasPrefix(varied, own) || !strings.HasSuffix(varied, other) || !strings.Contains(table, said) {
		t.Errorf("said %q: %s", said, tb.text())
	}
	// The address says which, so that the page may be loaded again.
	v.does("again", chromedp.Reload())
	v.sees("again", `document.body.dataset.shown && document.querySelector("#variant").value === "light"`)
	v.sees("typed and tried there alone", fmt.Sprintf(`document.querySelector(%q).value === "1 1/2 in"`, first))
	runs[any](v, "itself", `(() => { const s = document.querySelector("#variant"); s.value = ""; s.dispatchEvent(new Event("change")); })(), 0`)
	v.sees("the file itself", fmt.Sprintf(`document.querySelector(%q).value === "1 1/4 in"`, first))
	// The variant that is shown goes out of the file.
	runs[any](v, "dark", `(() => { const s = document.querySelector("#variant"); s.value = "dark"; s.dispatchEvent(new Event("change")); })(), 0`)
	v.sees("six", `document.querySelector('.handle[data-row="6"]')`)
	go tb.s.Watch()
	time.Sleep(100 * time.Millisecond) // till the folder is watched
	if err := os.WriteFile(tb.file, []byte(coat), 0o644); err != nil {
		t.Fatal(err)
	}
	v.sees("gone", holds("#banner", "What you see is the file itself")+` && document.querySelector(".variants").hidden`)
	v.quiet()
}

// A page that may not listen says so, works, and listens once it may.
func TestDeafPage(t *testing.T) {
	v := visit(t)
	tb := lay(t, "coat.toml", coat)
	go tb.s.Watch()
	var hear []*http.Response
	for range mostListen {
		a, err := http.Get(tb.s.Address() + "events")
		if err != nil {
			t.Fatal(err)
		}
		defer a.Body.Close()
		hear = append(hear, a)
	}
	v.does("open", chromedp.EmulateViewport(390, 900), chromedp.Navigate(tb.s.Address()))
	v.sees("told", holds("#banner", "windows show this page already")+` && !document.body.classList.contains("stopped")`)
	v.does("try", chromedp.Click(`[data-try*="closure.front.needle=100/16"]`))
	v.sees("it works", holds("#lines", `needle = "100/16"`))
	// What another program saved meanwhile is not written over.
	if err := os.WriteFile(tb.file, []byte(strings.Replace(coat, "count = 5", "count = 6", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	v.does("keep", chromedp.Click("#keep"))
	v.sees("asked", holds("#banner", "changed by another program"))
	for _, a := range hear {
		a.Body.Close()
	}
	v.sees("it hears", `document.querySelector('#fields input[data-key="closure.front.run.count"]').value === "6" || `+holds("#banner", "Nothing of either is lost"))
}

// A change that is offered is tried on top of what is tried already.
func TestTriedOnTop(t *testing.T) {
	v := visit(t)
	tb := lay(t, "coat.toml", coat)
	v.does("open", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(tb.s.Address()))
	first := `#fields input[data-key="closure.front.run.first"]`
	v.sees("the fields", fmt.Sprintf(`document.querySelector(%q)`, first))
	v.does("type", empty(first), chromedp.SendKeys(first, "38 mm"))
	v.sees("planned", holds("#lines", `38 mm`)+` && document.querySelector("#screen").getAttribute("aria-busy") === "false"`)
	v.does("try", chromedp.Click(`[data-try*="closure.front.needle=100/16"]`))
	v.sees("both", holds("#lines", `38 mm`)+" && "+holds("#lines", `100/16`))
	v.quiet()
}

// What an earlier letter said is withdrawn where the whole cannot be read: "1" of
// "1x" is not what was meant, and is not kept.
func TestHalfTyped(t *testing.T) {
	v := visit(t)
	tb := lay(t, "coat.toml", coat)
	v.does("open", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(tb.s.Address()))
	first, last := `#fields input[data-key="closure.front.run.first"]`, `#fields input[data-key="closure.front.run.last"]`
	v.sees("the fields", fmt.Sprintf(`document.querySelector(%q)`, last))
	v.does("type", empty(first), chromedp.SendKeys(first, "38 mm"))
	v.sees("tried", holds("#lines", `first = "38 mm"`))
	v.does("type", empty(last), chromedp.SendKeys(last, "1"))
	v.sees("tried too", holds("#lines", `last = `))
	v.does("type", chromedp.SendKeys(last, "x"))
	v.sees("withdrawn", `!`+holds("#lines", `last = `)+" && "+holds("#lines", `first = "38 mm"`))
	v.does("away", chromedp.Focus("#drop"))
	v.sees("still told", fmt.Sprintf(`document.querySelector(%q).value === "1x" && document.querySelector(%q).parentElement.querySelector(".wrong").textContent !== ""`, last, last))
	v.does("type", empty(last), chromedp.SendKeys(last, "5 1/2 in"))
	v.sees("tried at last", holds("#lines", `last = `)+fmt.Sprintf(` && document.querySelector(%q).parentElement.querySelector(".wrong").textContent === ""`, last))
	v.does("away", chromedp.Focus("#keep"), chromedp.KeyEvent(kb.Enter))
	v.sees("kept", `document.querySelector("#trying").hidden`)
	if got := tb.text(); !strings.Contains(got, `first = "38 mm"`) || !strings.Contains(got, `last = "5 1/2 in"`) {
		t.Error(got)
	}
}

// At every width, light and dark: nothing is wider than the window, everything
// is reached, and axe-core finds nothing to object to.
func TestPageForEveryone(t *testing.T) {
	v := visit(t)
	checker := os.Getenv(axe)
	var js []byte
	if checker != "" {
		var err error
		if js, err = os.ReadFile(checker); err != nil {
			t.Fatal(err)
		}
	} else if os.Getenv("CI") == "true" {
		t.Fatalf("%s does not say where axe-core lies", axe)
	}
	for _, file := range []string{"watch-coat.toml", "varied.toml", "squall-jacket-ready.toml", "duffel-coat-ready.toml", "bridge-coat-ready.toml"} {
		data, err := []byte(varied), error(nil)
		if file != "varied.toml" {
			data, err = os.ReadFile(filepath.Join("../../testdata/garments", file))
		}
		if err != nil {
			t.Fatal(err)
		}
		tb := layBeside(t, file, string(data))
		for _, width := range []int64{390, 1280} {
			for _, scheme := range []string{"light", "dark"} {
				name := fmt.Sprintf("%s-%d-%s", strings.TrimSuffix(file, ".toml"), width, scheme)
				if _, err := chromedp.Call(v.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
					Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
				}); err != nil {
					t.Fatal(err)
				}
				v.does(name, chromedp.EmulateViewport(width, 900), chromedp.Navigate(tb.s.Address()))
				v.sees(name, `document.body.dataset.shown`)
				wide := runs[string](v, name, `document.documentElement.scrollWidth > innerWidth ? [...document.querySelectorAll("*")].filter((e) => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest("#picture")).map((e) => e.tagName + "." + e.className).slice(0, 5).join(" ") || "page" : ""`)
				if wide != "" {
					t.Errorf("%s: wider than the window: %s", name, wide)
				}
				axe := func(name string) {
					if js == nil {
						return
					}
					runs[any](v, name, string(js)+";0")
					found := runs[string](v, name, `axe.run(document, {resultTypes: ["violations"]}).then((r) => r.violations.map((x) => x.id + ": " + x.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(" | ")).join("\n"))`, chromedp.EvalAwaitPromise)
					if found != "" {
						t.Errorf("%s: %s", name, found)
					}
				}
				axe(name)
				// With everything open, a fastener moved far, a value that cannot be read, and
				// a banner.
				runs[any](v, name, `(() => { for (const d of document.querySelectorAll("details")) d.open = true; })(), 0`)
				if handle := `.handle[data-row="2"]`; runs[bool](v, name, fmt.Sprintf(`Boolean(document.querySelector(%q))`, handle)) {
					v.does(name, chromedp.Focus(handle), chromedp.KeyEvent(kb.PageDown))
					v.sees(name, `!document.querySelector("#trying").hidden`)
				}
				input := `#fields label:nth-child(2) input`
				v.does(name, empty(input), chromedp.SendKeys(input, "x"))
				v.sees(name, fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-invalid") === "true" && document.querySelector("#screen").getAttribute("aria-busy") === "false"`, input))
				runs[any](v, name, `(() => { const b = document.querySelector("#banner"); b.hidden = false; b.textContent = "The file was changed. "; const x = document.createElement("button"); x.textContent = "Drop my changes"; b.append(x); for (const d of document.querySelectorAll("details")) d.open = true; })(), 0`)
				axe(name + ", tried")
				shot, err := chromedp.Run(v.ctx, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(filepath.Join(t.ArtifactDir(), name+".png"), shot, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// layBeside serves a demo with the catalogues that it names.
func layBeside(t *testing.T, name, text string) *table {
	t.Helper()
	dir := t.TempDir()
	for _, c := range []string{"tarn-quay-notions.toml", "tarn-quay-closings.toml"} {
		data, err := os.ReadFile(filepath.Join("../../testdata/garments", c))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, c), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return layIn(t, dir, name, text)
}
