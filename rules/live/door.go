package live

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"sync"
	"time"
)

// How many are served at once: ours. A browser opens six lines to one address;
// with four pages that listen, two are left for what they ask.
const (
	mostOpen   = 256 // connections
	mostTurned = 32  // that are told so at once; more are only closed
	mostListen = 4   // pages that listen for changes of the file
)

// full is what is said to who comes when nobody more is let in.
var (
	fullHouse  = fmt.Sprintf("%d connections to this page are open, as many as are answered at once. Close other windows of it, wait ten seconds, and load it again.\n", mostOpen)
	fullEvents = fmt.Sprintf("%d windows show this page already. It works here too, but does not hear of it when another program changes the file, until one of them is closed.", mostListen)
)

// door is a listener that lets in so many at once, and tells the others that
// it is full.
type door struct {
	net.Listener
	in, turned chan struct{}
}

func newDoor(l net.Listener) *door {
	return &door{l, make(chan struct{}, mostOpen), make(chan struct{}, mostTurned)}
}

func (d *door) Accept() (net.Conn, error) {
	for {
		c, err := d.Listener.Accept()
		if err != nil {
			return nil, err
		}
		select {
		case d.in <- struct{}{}:
			return &guest{Conn: c, leaves: func() { <-d.in }}, nil
		default:
		}
		select {
		case d.turned <- struct{}{}:
			go func() {
				defer func() { c.Close(); <-d.turned }()
				turnAway(c)
			}()
		default:
			c.Close()
		}
	}
}

// turnAway says that it is full, and hears what was asked meanwhile: a line
// closed with that unread would be cut off before the answer is.
func turnAway(c net.Conn) {
	c.SetDeadline(time.Now().Add(time.Second))
	fmt.Fprintf(c, "HTTP/1.1 %d %s\r\nContent-Type: text/plain; charset=utf-8\r\nX-Content-Type-Options: nosniff\r\nRetry-After: 10\r\nContent-Length: %d\r\nConnection: close\r\n\r\n%s",
		http.StatusServiceUnavailable, http.StatusText(http.StatusServiceUnavailable), len(fullHouse), fullHouse)
	if half, ok := c.(interface{ CloseWrite() error }); ok {
		half.CloseWrite()
	}
	io.Copy(io.Discard, io.LimitReader(c, mostBody))
}

// guest is a connection that gives its place back when it is closed.
type guest struct {
	net.Conn
	once   sync.Once
	leaves func()
}

func (g *guest) Close() error {
	err := g.Conn.Close()
	g.once.Do(g.leaves)
	return err
}
