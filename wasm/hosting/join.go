package hosting

import (
	"context"
	"net"
	"net/http"
)

// Joined is a listener for Server whose connections send the head of an answer and
// its body with one call. The server of net/http fills a buffer of 4 kB with the
// head and the begin of the body, sends it, and then sends the rest: for a file of
// some kilobytes the second call, and the client that wakes up twice, take about as
// long as all the rest.
func Joined(l net.Listener) net.Listener { return joined{l} }

type joined struct{ net.Listener }

// Accept implements net.Listener.
func (l joined) Accept() (net.Conn, error) {
	c, err := l.Listener.Accept()
	if tcp, ok := c.(*net.TCPConn); ok {
		return &joinedConn{TCPConn: tcp}, err
	}
	return c, err
}

// joinedConn is a connection that can wait for the second piece of an answer. One
// goroutine writes to it.
type joinedConn struct {
	*net.TCPConn
	waits bool   // the next piece waits for the one after it
	held  []byte // a piece that waits
	both  [2][]byte
}

// serverBuffer is how much net/http collects before it sends anything.
const serverBuffer = 4 << 10

// join tells the connection of a request that a body of so many bytes follows. One
// that fills the buffer of the server makes two pieces at least.
func join(r *http.Request, length int) {
	if c, ok := r.Context().Value(connKey{}).(*joinedConn); ok && length > serverBuffer {
		c.waits = true
	}
}

// connKey is the key of a connection in the context of its requests.
type connKey struct{}

// withConn lets the requests of a connection know it.
func withConn(ctx context.Context, c net.Conn) context.Context {
	if j, ok := c.(*joinedConn); ok {
		return context.WithValue(ctx, connKey{}, j)
	}
	return ctx
}

// Write implements net.Conn.
func (c *joinedConn) Write(p []byte) (int, error) {
	if c.waits {
		c.waits = false
		c.held = append(c.held[:0], p...)
		return len(p), nil
	}
	if len(c.held) == 0 {
		return c.TCPConn.Write(p)
	}
	c.both = [2][]byte{c.held, p}
	pieces := net.Buffers(c.both[:])
	n, err := pieces.WriteTo(c.TCPConn)
	written := max(0, int(n)-len(c.held))
	c.held, c.both = c.held[:0], [2][]byte{}
	return written, err
}
