package desk

import (
	"fmt"
	"net"
	"net/http"
	"os/exec"
	"runtime"
	"time"

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
			catalogFlag(),
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
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return &unusable{"no page can be served on this computer", err}
	}
	defer l.Close()
	o := in.options()
	o.ReadFile = nil
	s, err := live.New(live.Options{File: names[0], Reading: o}, l)
	if err != nil {
		return err
	}
	defer s.Close()
	watched := make(chan error, 1)
	go func() { watched <- s.Watch() }()
	fmt.Fprintf(in.out, "%s is at\n  %s\nEnd it with Ctrl-C.\n", text.Safe(names[0]), s.Address())
	if !in.on("no-open") {
		open(s.Address())
	}
	srv := &http.Server{
		Handler: s, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second,
		WriteTimeout: 30 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10,
	}
	served := make(chan error, 1)
	go func() { served <- srv.Serve(l) }()
	select {
	case err = <-served:
	case err = <-watched:
		if err != nil {
			err = fmt.Errorf("the file cannot be watched: %w", err)
		}
	}
	return &unusable{"the page ended", err}
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
