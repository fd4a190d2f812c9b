// Package live is the page at the table: the piece drawn, what to settle and
// what it takes, planned anew as a value or the file changes. It answers
// requests from this computer alone; the file stays the truth.
package live

import (
	"bufio"
	"bytes"
	"cmp"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"io"
	"log"
	"net"
	"net/http"
	"net/url"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"time"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/sheet"

	"github.com/fsnotify/fsnotify"
)

//go:embed page.html style.css script.js
var files embed.FS

// Options say what is shown.
type Options struct {
	File    string
	Reading catalog.Options // how the file is read
	Secret  string          // of an address that was given out before; "" makes a new one
}

// Server holds one garment file and plans it for the page.
type Server struct {
	file    string
	reading catalog.Options
	variant string // that the page begins with
	secret  string
	host    string // 127.0.0.1:port
	page    *template.Template

	lock  sync.Mutex
	read  map[string]bool // the files that the garment was made from when it was last read
	now   *state
	undo  []byte        // the text before the last thing that was written
	wrote string        // the version that it was written as
	news  chan struct{} // closed when now changes

	listening chan struct{} // a place for each page that hears of changes

	done chan struct{}
	once sync.Once
}

// state is the file, or one of its variants, as it was last read.
type state struct {
	version  string
	text     []byte
	g        *catalog.Garment
	plan     *rules.Planned
	err      error             // why it cannot be planned; g is then the last that could
	variants map[string]*state // of the file: those that were asked for
	before   map[string]*state // and as they were while the file was another
}

// Limits of a request: ours.
const (
	mostBody = 64 << 10
	mostWith = 64
)

// New reads the file, and prepares to serve it on a listener of 127.0.0.1. The
// error is that of reading the file.
func New(o Options, l net.Listener) (*Server, error) {
	s := &Server{
		file: o.File, reading: o.Reading, secret: cmp.Or(o.Secret, rand.Text()), host: l.Addr().String(),
		news: make(chan struct{}), listening: make(chan struct{}, mostListen), done: make(chan struct{}),
	}
	s.reading.ReadFile = nil
	s.variant, s.reading.Variant = s.reading.Variant, ""
	var err error
	if s.page, err = template.New("page.html").Funcs(template.FuncMap{"safe": text.Safe, "picture": func(s string) template.HTML { return template.HTML(s) }}).ParseFS(files, "page.html"); err != nil {
		return nil, err
	}
	if s.now = s.look(nil); s.now.err != nil {
		return nil, s.now.err
	}
	if _, err := s.now.as(s.variant); err != nil {
		return nil, err
	}
	return s, nil
}

// Address is where the page is: with the secret, without which nothing is
// answered.
func (s *Server) Address() string { return Address(s.host, s.secret, s.variant) }

// Secret is what stands in the address.
func (s *Server) Secret() string { return s.secret }

// Close ends all that waits.
func (s *Server) Close() { s.once.Do(func() { close(s.done) }) }

// patience is how long a visitor is waited for that sends no request.
var patience = 5 * time.Second

// Serve answers on a listener until it fails or is closed.
func (s *Server) Serve(l net.Listener) error {
	return (&http.Server{
		Handler: s, ReadHeaderTimeout: patience, ReadTimeout: 2 * patience, WriteTimeout: 6 * patience,
		IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10, ErrorLog: log.New(io.Discard, "", 0),
	}).Serve(newDoor(l))
}

// look reads the file, and what it is made from, and plans it.
func (s *Server) look(last *state) *state {
	st := &state{}
	sum := sha256.New()
	s.read = map[string]bool{}
	data, err := source.ReadFile(s.file)
	if err == nil {
		st.text = data
		fmt.Fprintf(sum, "%d ", len(data))
		sum.Write(data)
		o := s.reading
		o.ReadFile = func(name string) ([]byte, error) {
			part, err := source.ReadFile(name)
			s.read[name] = true
			fmt.Fprintf(sum, "%q %d %v ", name, len(part), err)
			sum.Write(part)
			return part, err
		}
		if st.g, err = catalog.Read(s.file, data, o); err == nil {
			err = rules.SettledFaults(st.g)
		}
	}
	if err != nil { // what is wrong may be in another file
		fmt.Fprintf(sum, "%v", err)
	}
	st.version = hex.EncodeToString(sum.Sum(nil)[:12])
	st.variants = map[string]*state{}
	if last != nil {
		st.before = last.variants
	}
	switch {
	case last != nil && last.version == st.version:
		return last
	case err == nil:
		st.plan = checked(st.g, search.CheckOptions{Fixes: true})
		return st
	}
	st.err, st.g = err, nil
	if last != nil {
		st.g, st.plan = last.g, last.plan
	}
	return st
}

// current is the file, or one of its variants, as it was last read; the error
// is a *catalog.VariantError where it has none of that name.
func (s *Server) current(variant string) (*state, error) {
	s.lock.Lock()
	defer s.lock.Unlock()
	return s.now.as(variant)
}

// as is a variant of the file, planned when it is first asked for; "" is the
// file itself. A variant that cannot be planned any more is as it was before.
func (st *state) as(variant string) (*state, error) {
	if variant == "" || st.g == nil {
		return st, nil
	}
	if v := st.variants[variant]; v != nil {
		return v, nil
	}
	v := &state{version: st.version, text: st.text, err: st.err}
	last := st.before[variant]
	g, err := st.g.AsVariant(variant)
	var none *catalog.VariantError
	switch {
	case errors.As(err, &none):
		return nil, err
	case err == nil:
		v.g, v.plan = g, checked(g, search.CheckOptions{Fixes: true})
	case last != nil:
		v.err, v.g, v.plan = err, last.g, last.plan
	default:
		return nil, err
	}
	st.variants[variant] = v
	return v, nil
}

// Refresh reads the file again, and tells the pages where it has changed.
func (s *Server) Refresh() {
	s.lock.Lock()
	defer s.lock.Unlock()
	s.refresh()
}

func (s *Server) refresh() {
	st := s.look(s.now)
	if st == s.now {
		return
	}
	s.now = st
	close(s.news)
	s.news = make(chan struct{})
}

// Watch reads the file again whenever it, or a file that it is made from,
// changes, until Close. An editor may put a new file in the place of the old
// one, so the folders are watched.
func (s *Server) Watch() error {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return err
	}
	defer w.Close()
	// A folder that went and came back is another one, and a file may come to
	// be made from others.
	look := func() error {
		s.lock.Lock()
		dirs := map[string]bool{}
		for f := range s.read {
			dirs[filepath.Dir(f)] = true
		}
		s.lock.Unlock()
		for d := range dirs {
			w.Add(d)
		}
		return w.Add(filepath.Dir(s.file))
	}
	if err := look(); err != nil {
		return err
	}
	// Several events come of one save.
	pause := time.NewTimer(time.Hour)
	for {
		select {
		case <-s.done:
			return nil
		case _, ok := <-w.Events:
			if !ok {
				return nil
			}
			pause.Reset(50 * time.Millisecond)
		case err, ok := <-w.Errors:
			if !ok {
				return nil
			}
			if errors.Is(err, fsnotify.ErrEventOverflow) {
				pause.Reset(50 * time.Millisecond)
			}
		case <-pause.C:
			s.Refresh()
			if look() != nil { // the folder is gone, and may come back
				pause.Reset(500 * time.Millisecond)
			}
		}
	}
}

// ServeHTTP answers the page, and nobody else: the host must be the one that
// was listened on, the secret stands in the path, and what changes anything
// must come from the page itself.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
	secret, path, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	known := r.Method == http.MethodGet && secret == knownPath && path == ""
	origin := r.Header.Get("Origin")
	from := r.Header.Get("Sec-Fetch-Site")
	switch {
	case r.Host != s.host:
		http.Error(w, "not this host", http.StatusMisdirectedRequest)
		return
	case origin != "" && origin != "http://"+s.host,
		from != "" && from != "same-origin" && from != "none":
		http.Error(w, "not from this page", http.StatusForbidden)
		return
	case known:
		io.WriteString(w, proofOf(s.secret, r.URL.RawQuery))
		return
	case subtle.ConstantTimeCompare([]byte(secret), []byte(s.secret)) != 1:
		http.Error(w, "there is nothing here", http.StatusNotFound)
		return
	case r.Method == http.MethodPost && (origin == "" || r.Header.Get("Content-Type") != "application/json"):
		http.Error(w, "not from this page", http.StatusForbidden)
		return
	}
	r.Body = http.MaxBytesReader(w, r.Body, mostBody)
	get, post := r.Method == http.MethodGet, r.Method == http.MethodPost
	switch {
	case get && path == "":
		s.answerPage(w, r.URL.Query().Get("variant"))
	case get && (path == "style.css" || path == "script.js"):
		data, _ := files.ReadFile(path)
		kind := "text/css; charset=utf-8"
		if path == "script.js" {
			kind = "text/javascript; charset=utf-8"
		}
		h.Set("Content-Type", kind)
		w.Write(data)
	case get && path == "paper.css":
		h.Set("Content-Type", "text/css; charset=utf-8")
		io.WriteString(w, s.paper().style)
	case get && path == "events":
		s.events(w, r)
	case post && path == "choices":
		s.answer(w, r, s.choices)
	case get && strings.HasPrefix(path, "print/"):
		s.print(w, r, strings.TrimPrefix(path, "print/"))
	case post && path == "view":
		s.answer(w, r, s.view)
	case post && path == "paper":
		s.answer(w, r, func(q *request) (any, error) { return s.paperOf(q) })
	case post && path == "keep":
		s.answer(w, r, s.keep)
	case post && path == "undo":
		s.answer(w, r, s.takeBack)
	case post && path == "settle":
		s.answer(w, r, s.settle)
	default:
		http.Error(w, "there is nothing here", http.StatusNotFound)
	}
}

// knownPath is where a program that knows the secret can ask whether this
// one does, without telling it.
const knownPath = "known"

// proofOf is the answer to a question that only who knows the secret can give.
func proofOf(secret, question string) string {
	m := hmac.New(sha256.New, []byte(secret))
	io.WriteString(m, question)
	return hex.EncodeToString(m.Sum(nil))
}

// Answers says whether a page with that secret is served at a host, which is
// an address and port of this computer. The secret is not sent there.
func Answers(host, secret string) bool {
	question := rand.Text()
	const patience = 2 * time.Second
	c, err := net.DialTimeout("tcp", host, patience)
	if err != nil {
		return false
	}
	defer c.Close()
	c.SetDeadline(time.Now().Add(patience))
	// One line is asked, and the answer read: a whole client would add 230 kB to
	// the program.
	fmt.Fprintf(c, "GET /%s?%s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n\r\n", knownPath, question, host)
	a, err := http.ReadResponse(bufio.NewReader(io.LimitReader(c, 16<<10)), nil)
	if err != nil {
		return false
	}
	defer a.Body.Close()
	got, err := io.ReadAll(io.LimitReader(a.Body, 1<<10))
	return err == nil && hmac.Equal(got, []byte(proofOf(secret, question)))
}

// Address is where the page of a host and a secret is, which begins with a
// variant of the file; "" is the file itself.
func Address(host, secret, variant string) string {
	address := "http://" + host + "/" + secret + "/"
	if variant != "" {
		address += "?" + url.Values{"variant": {variant}}.Encode()
	}
	return address
}

// request is what the page asks.
type request struct {
	Version string   `json:"version"` // of the file that the page shows
	Variant string   `json:"variant"` // of the file that is shown and written; "" is the file itself
	With    []string `json:"with"`    // what is being tried
	Add     []string `json:"add"`     // a change that was offered, tried on top of that
	Move    *move    `json:"move"`    // a fastener moved by hand, tried too
	Opening string   `json:"opening"` // which is drawn
	Closure string   `json:"closure"` // whose values stand above
	Size    string   `json:"size"`
	Set     *field   `json:"set"`   // a value typed above, tried too
	Quick   bool     `json:"quick"` // without the changes that settle things: while a hand is still at work
	Rule    string   `json:"rule"`
	Because string   `json:"because"`
}

// answer reads a request, and writes what comes of it as JSON.
func (s *Server) answer(w http.ResponseWriter, r *http.Request, of func(*request) (any, error)) {
	var q request
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	if err := d.Decode(&q); err != nil || len(q.With)+len(q.Add) > mostWith {
		http.Error(w, "the request cannot be read", http.StatusBadRequest)
		return
	}
	out, err := of(&q)
	code := http.StatusOK
	var stale changed
	switch {
	case errors.As(err, &stale):
		code, out = http.StatusConflict, map[string]string{"says": stale.Error()}
	case err != nil:
		code, out = http.StatusUnprocessableEntity, map[string]string{"says": plain(err)}
	}
	writeJSON(w, code, out)
}

// writeJSON answers with JSON.
func writeJSON(w http.ResponseWriter, code int, out any) {
	data, err := text.JSON(out)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(code)
	w.Write(data)
}

// plain is an error in one line for the page.
func plain(err error) string {
	var wrong source.Problems
	if errors.As(err, &wrong) && len(wrong) > 0 {
		p := wrong[0]
		says := p.Message
		if p.Instead != "" {
			says += "; write " + p.Instead
		}
		return text.Safe(says)
	}
	return text.Safe(err.Error())
}

// answerPage writes the page; the script fills it.
func (s *Server) answerPage(w http.ResponseWriter, variant string) {
	first, err := s.view(&request{Variant: variant})
	var st *state
	if err == nil {
		st, err = s.current(first.(*View).Variant)
	}
	if err != nil {
		http.Error(w, plain(err), http.StatusInternalServerError)
		return
	}
	var b bytes.Buffer
	if err := s.page.Execute(&b, struct {
		*View
		Right *shownScreen
		File  string
	}{first.(*View), screenOf(sheet.ScreenOf(st.plan, sheet.Options{}), st.plan), filepath.Base(s.file)}); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	b.WriteTo(w)
}

// events tells the page whenever the file has changed, and now and then that
// the program is still there.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	out, ok := w.(http.Flusher)
	if !ok {
		http.Error(w, "no events", http.StatusInternalServerError)
		return
	}
	select {
	case s.listening <- struct{}{}:
		defer func() { <-s.listening }()
	default:
		http.Error(w, fullEvents, http.StatusServiceUnavailable)
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	line := http.NewResponseController(w)
	beat := time.NewTicker(10 * time.Second)
	defer beat.Stop()
	for {
		s.lock.Lock()
		st, news := s.now, s.news
		s.lock.Unlock()
		line.SetWriteDeadline(time.Now().Add(patience)) // who reads nothing is not waited for
		fmt.Fprintf(w, "retry: 500\ndata: %s\n\n", st.version)
		out.Flush()
		select {
		case <-news:
		case <-beat.C:
		case <-s.done:
			return
		case <-r.Context().Done():
			return
		}
	}
}

// changed says that the file is no longer the one that the page shows.
type changed struct{}

func (changed) Error() string {
	return "the file was changed by another program while you worked: look at it again, your changes are kept on the page"
}

// unwritten says why nothing was written, and what to do.
func unwritten(err error) error {
	after := "; what you try stays on the page"
	if errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) {
		after = "; make room on it, and keep it again: what you try stays on the page"
	}
	says := plain(err)
	if no := syscall.Errno(0); errors.As(err, &no) { // the file is named at the top of the page
		says = source.Reason("write", err)
	}
	return fmt.Errorf("nothing was written, and the file is as it was: %s%s", says, after)
}

// write puts a text in the place of the file, where it still is the one that
// the page shows, and remembers what was there.
func (s *Server) write(st *state, data []byte) error {
	s.lock.Lock()
	defer s.lock.Unlock()
	if now, err := source.ReadFile(s.file); err != nil {
		return err
	} else if !bytes.Equal(now, st.text) {
		s.refresh()
		return changed{}
	}
	n, err := catalog.Read(s.file, data, s.reading)
	if err == nil {
		err = rules.SettledFaults(n)
	}
	if err != nil {
		return err
	}
	for _, name := range n.Variants() {
		if _, was := st.g.AsVariant(name); was != nil {
			continue
		}
		if _, err := n.AsVariant(name); err != nil {
			return fmt.Errorf("nothing was written: the variant %s could not be planned then: %s", name, plain(err))
		}
	}
	if err := st.g.Save(data); errors.Is(err, catalog.ErrChanged) {
		s.refresh()
		return changed{}
	} else if err != nil {
		return unwritten(err)
	}
	s.undo = st.text
	s.refresh()
	s.wrote = s.now.version
	return nil
}
