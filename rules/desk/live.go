package desk

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"

	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules/live"
)

func liveCommand() *command {
	return &command{
		name: "live", args: "FILE",
		does:  "a page on this computer: the piece drawn, what to settle, changed by hand",
		about: "Opens a page in the browser that shows the pieces, what to settle and what to sample. A value that is typed or a fastener that is moved is planned at once, and written into the file only when it is kept; what another editor saves is shown within a second. The page is on this computer alone, at an address that is printed and that nobody else knows. End it with Ctrl-C.",
		examples: []string{
			"live coat.toml",
			"live coat.toml --no-open",
		},
		flags: []flag{
			{name: "no-open", kind: boolFlag, doc: "print the address, and open no browser"},
			variantFlag(), catalogFlag(), oneUnitFlag(),
		},
		action: serve,
	}
}

func serve(in *call) error {
	names, err := in.oneFile()
	if err != nil {
		return err
	}
	if names[0] == "-" {
		return usagef("live watches and writes a file, and the standard input is none").write("%s live coat.toml", Program)
	}
	return in.table(names[0], !in.on("no-open"))
}

// table serves the page of a file until it is ended. Where it is served
// already, that is told, and opened.
func (in *call) table(name string, opens bool) error {
	var shown []string
	if in.on("one-unit") {
		shown = append(shown, "one unit")
	}
	kept := keptAddress(name, shown...)
	if host, secret := kept.known(); host != "" && live.Answers(host, secret) {
		address := live.Address(host, secret, in.text("variant"))
		fmt.Fprintf(in.out, "%s is at the table already, at\n  %s\n", text.Safe(name), address)
		if opens {
			open(address)
		}
		return nil
	}
	l, secret, err := kept.listen()
	if err != nil {
		return &unusable{"no page can be served on this computer", err}
	}
	defer l.Close()
	o := in.options()
	s, err := live.New(live.Options{File: name, Reading: o, Secret: secret}, l)
	if err != nil {
		return err
	}
	defer s.Close()
	kept.keep(l.Addr().String(), s.Secret())
	watched := make(chan error, 1)
	go func() { watched <- s.Watch() }()
	fmt.Fprintf(in.out, "%s is at\n  %s\nEnd it with Ctrl-C.\n", text.Safe(name), s.Address())
	if opens {
		open(s.Address())
	}
	served := make(chan error, 1)
	go func() { served <- s.Serve(l) }()
	select {
	case err = <-served:
	case err = <-watched:
		if err != nil {
			err = fmt.Errorf("the file cannot be watched: %w", err)
		}
	}
	return &unusable{"the page ended", err}
}

// addressFile is where the address of a file's page is kept, so that a page
// that is still open goes on when the program is started again. It is for
// nobody else to read.
type addressFile string

// keptAddress is the place for the address of a file, or of it in one unit, ""
// where there is none.
func keptAddress(file string, shown ...string) addressFile {
	dir, err := os.UserCacheDir()
	full, wrong := filepath.Abs(file)
	if err != nil || wrong != nil {
		return ""
	}
	sum := sha256.Sum256([]byte(full + "\x00" + strings.Join(shown, "\x00")))
	return addressFile(filepath.Join(dir, Program, "live-"+hex.EncodeToString(sum[:8])))
}

// known is the address that is kept, "" where there is none.
func (a addressFile) known() (host, secret string) {
	if a == "" {
		return "", ""
	}
	data, err := source.ReadFile(string(a))
	if err != nil {
		return "", ""
	}
	host, secret, ok := strings.Cut(strings.TrimSpace(string(data)), " ")
	port, own := strings.CutPrefix(host, "127.0.0.1:")
	if _, err := strconv.ParseUint(port, 10, 16); err != nil || !ok || !own || !wholeSecret().MatchString(secret) {
		return "", ""
	}
	return host, secret
}

// wholeSecret is what crypto/rand.Text gives.
var wholeSecret = pattern(`^[A-Z2-7]{26,64}$`)

// listen listens at the address that the file's page had before, or else at
// any.
func (a addressFile) listen() (l net.Listener, secret string, err error) {
	if host, old := a.known(); host != "" {
		if l, err := net.Listen("tcp", host); err == nil {
			return l, old, nil
		}
	}
	l, err = net.Listen("tcp", "127.0.0.1:0")
	return l, "", err
}

// keep keeps an address; where that cannot be done the next one is another.
func (a addressFile) keep(host, secret string) {
	if a == "" || os.MkdirAll(filepath.Dir(string(a)), 0o700) != nil {
		return
	}
	os.Remove(string(a)) // a link, or a file that others can read
	if f, err := os.OpenFile(string(a), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600); err == nil {
		fmt.Fprintln(f, host, secret)
		f.Close()
	}
}

// open opens an address in the browser; where that fails the address stands
// on the screen.
func open(address string) {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	if cmd := exec.Command(name, args...); cmd.Start() == nil {
		go cmd.Wait()
	}
}
