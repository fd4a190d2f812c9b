// Package live is the page at the table: the piece drawn, what to settle and
// what it takes, planned anew as a value or the file changes. It answers
// requests from this computer alone; the file stays the truth.
package live

import (
	"bytes"
	"cmp"
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
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
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
	secret  string
	host    string // 127.0.0.1:port
	page    *template.Template

	lock  sync.Mutex
	read  map[string]bool // the files that the garment is made from
	now   *state
	undo  []byte        // the text before the last thing that was written
	wrote string        // the version that it was written as
	news  chan struct{} // closed when now changes

	done chan struct{}
	once sync.Once
}

// state is the file as it was last read.
type state struct {
	version string
	text    []byte
	g       *catalog.Garment
	plan    *rules.Planned
	err     error // why it cannot be planned; g is then the last that could
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
		news: make(chan struct{}), done: make(chan struct{}), read: map[string]bool{},
	}
	s.reading.ReadFile = func(name string) ([]byte, error) {
		s.read[name] = true
		return source.ReadFile(name)
	}
	var err error
	if s.page, err = template.New("page.html").Funcs(template.FuncMap{"safe": text.Safe, "picture": func(s string) template.HTML { return template.HTML(s) },
		// What is read of an entry of the catalogue has no line of its own yet.
		"typed": func(key string) bool { return !strings.HasSuffix(key, ".use") },
	}).ParseFS(files, "page.html"); err != nil {
		return nil, err
	}
	if s.now = s.look(nil); s.now.err != nil {
		return nil, s.now.err
	}
	return s, nil
}

// Address is where the page is: with the secret, without which nothing is
// answered.
func (s *Server) Address() string { return "http://" + s.host + "/" + s.secret + "/" }

// Secret is what stands in the address.
func (s *Server) Secret() string { return s.secret }

// Close ends all that waits.
func (s *Server) Close() { s.once.Do(func() { close(s.done) }) }

// look reads the file and plans it.
func (s *Server) look(last *state) *state {
	st := &state{}
	data, err := source.ReadFile(s.file)
	if err != nil {
		st.version = "unreadable: " + err.Error()
	} else {
		sum := sha256.Sum256(data)
		st.version, st.text = hex.EncodeToString(sum[:12]), data
		if last != nil && last.version == st.version && last.err == nil {
			return last
		}
		var g *catalog.Garment
		o := s.reading
		if g, err = catalog.Load(s.file, o); err == nil {
			err = rules.SettledFaults(g)
		}
		if err == nil {
			p := search.Checked(g, search.CheckOptions{Fixes: true})
			st.g, st.plan = g, p
			return st
		}
	}
	st.err = err
	if last != nil {
		st.g, st.plan = last.g, last.plan
	}
	return st
}

// current is the file as it was last read.
func (s *Server) current() *state {
	s.lock.Lock()
	defer s.lock.Unlock()
	return s.now
}

// Refresh reads the file again, and tells the pages where it has changed.
func (s *Server) Refresh() {
	s.lock.Lock()
	defer s.lock.Unlock()
	s.refresh()
}

func (s *Server) refresh() {
	st := s.look(s.now)
	if st.version == s.now.version && (st.err == nil) == (s.now.err == nil) {
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
	s.lock.Lock()
	dirs := map[string]bool{filepath.Dir(s.file): true}
	for f := range s.read {
		dirs[filepath.Dir(f)] = true
	}
	s.lock.Unlock()
	for d := range dirs {
		if err := w.Add(d); err != nil {
			return err
		}
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
		s.answerPage(w)
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
	case get && path == "choices":
		s.choices(w, r)
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

// request is what the page asks.
type request struct {
	Version string   `json:"version"` // of the file that the page shows
	With    []string `json:"with"`    // what is being tried
	Move    *move    `json:"move"`    // a fastener moved by hand, tried too
	Opening string   `json:"opening"` // which is drawn
	Closure string   `json:"closure"` // whose values stand above
	Size    string   `json:"size"`
	Set     *field   `json:"set"` // a value typed above, tried too
	Rule    string   `json:"rule"`
	Because string   `json:"because"`
}

// answer reads a request, and writes what comes of it as JSON.
func (s *Server) answer(w http.ResponseWriter, r *http.Request, of func(*request) (any, error)) {
	var q request
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	if err := d.Decode(&q); err != nil || len(q.With) > mostWith {
		http.Error(w, "the request cannot be read", http.StatusBadRequest)
		return
	}
	out, err := of(&q)
	var stale changed
	switch {
	case errors.As(err, &stale):
		w.WriteHeader(http.StatusConflict)
		out = map[string]string{"says": stale.Error()}
	case err != nil:
		w.WriteHeader(http.StatusUnprocessableEntity)
		out = map[string]string{"says": plain(err)}
	}
	data, err := text.JSON(out)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
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
func (s *Server) answerPage(w http.ResponseWriter) {
	st := s.current()
	first, err := s.view(&request{Version: st.version})
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
	w.Header().Set("Content-Type", "text/event-stream")
	http.NewResponseController(w).SetWriteDeadline(time.Time{})
	beat := time.NewTicker(10 * time.Second)
	defer beat.Stop()
	for {
		s.lock.Lock()
		st, news := s.now, s.news
		s.lock.Unlock()
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

// write puts a text in the place of the file, where it still is the one that
// the page shows, and remembers what was there.
func (s *Server) write(st *state, data []byte) error {
	s.lock.Lock()
	defer s.lock.Unlock()
	now, err := os.ReadFile(s.file)
	if err != nil {
		return err
	}
	if !bytes.Equal(now, st.text) {
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
	if err := st.g.Save(data); err != nil {
		return err
	}
	s.undo = now
	s.refresh()
	s.wrote = s.now.version
	return nil
}
