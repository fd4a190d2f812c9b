package live

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"net/http"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"

	"placketeer/rules"
	"placketeer/rules/guide"
	"placketeer/rules/sheet"
)

// What is taken away from the table is served by the page: the marking guide,
// its strips, the checklist and the spec, of the file with what is being tried.

// printPolicy holds for a page that is printed: it has a style of its own, and
// nothing else.
const printPolicy = "default-src 'none'; style-src %s; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// print answers with one of the papers. It writes nothing, so it is a plain
// address that a link or a new window opens.
func (s *Server) print(w http.ResponseWriter, r *http.Request, name string) {
	v := r.URL.Query()
	q := &request{Variant: v.Get("variant"), With: v["with"], Size: v.Get("size"), Quick: true}
	paper := v.Get("paper")
	if len(q.With) > mostWith || paper != "" && !slices.Contains(guide.Papers, paper) {
		http.Error(w, "the request cannot be read", http.StatusBadRequest)
		return
	}
	of := map[string]func(p *rules.Planned) ([]byte, error){
		"guide.pdf":      func(p *rules.Planned) ([]byte, error) { return drawn(p, q.Size, paper, "full") },
		"strips.pdf":     func(p *rules.Planned) ([]byte, error) { return drawn(p, q.Size, paper, "strip") },
		"checklist.html": func(p *rules.Planned) ([]byte, error) { return listed(p, q.Size) },
		"spec.html":      specified,
	}[name]
	if of == nil {
		http.Error(w, "there is nothing here", http.StatusNotFound)
		return
	}
	var data []byte
	var p *rules.Planned
	st, err := s.current(q.Variant)
	if err == nil {
		_, p, _, err = s.tried(st, q)
	}
	if err == nil {
		data, err = of(p)
	}
	if err != nil {
		http.Error(w, plain(err), http.StatusUnprocessableEntity)
		return
	}
	h := w.Header()
	kind := "application/pdf"
	if strings.HasSuffix(name, ".html") {
		kind = "text/html; charset=utf-8"
		h.Set("Content-Security-Policy", fmt.Sprintf(printPolicy, stylesOf(data)))
	} else {
		// The browser's own viewer of a PDF has scripts and styles.
		h.Set("Content-Security-Policy", "frame-ancestors 'none'")
	}
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", `inline; filename="`+saveName(s.file)+"-"+name+`"`)
	w.Write(data)
}

// drawn is the marking guide.
func drawn(p *rules.Planned, size, paper, layout string) ([]byte, error) {
	o := guide.Options{Layout: layout, Paper: paper, Format: "pdf"}
	if size != "" {
		o.Sizes = []string{size}
	}
	data, _, err := guide.Mark(p, o)
	return data, err
}

func listed(p *rules.Planned, size string) ([]byte, error) {
	var b bytes.Buffer
	err := sheet.Checklist(&b, p, sheet.Options{Format: "html", Size: size})
	return b.Bytes(), err
}

func specified(p *rules.Planned) ([]byte, error) {
	var b bytes.Buffer
	err := sheet.Spec(&b, []*rules.Planned{p}, sheet.Options{Format: "html"})
	return b.Bytes(), err
}

// stylesOf are the sources of the styles that a page of ours has within it, by
// what they are, so that no other style is taken.
func stylesOf(page []byte) string {
	_, rest, ok := bytes.Cut(page, []byte("<style>"))
	style, _, closed := bytes.Cut(rest, []byte("</style>"))
	if !ok || !closed {
		return "'none'"
	}
	sum := sha256.Sum256(style)
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

var notInName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[^A-Za-z0-9]+`) })

// saveName is what papers of a file are called when they are saved.
func saveName(file string) string {
	base := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	base = strings.Trim(notInName().ReplaceAllString(base, "-"), "-")
	if base == "" {
		base = "garment"
	}
	return base[:min(len(base), 60)]
}
