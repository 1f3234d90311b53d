package hosting

import (
	"io"
	"log"
	"net/http"
	"sync"
	"time"
)

// Limits is how long a client may keep a connection without doing its part.
type Limits struct {
	Header time.Duration // for the head of a request
	Body   time.Duration // for the whole of a request
	Read   time.Duration // for reading the next 64 kB of an answer
	Idle   time.Duration // between two requests
}

// Patient are limits that a phone in a cellar can meet, but a client that only holds
// connections open cannot.
var Patient = Limits{Header: 10 * time.Second, Body: 20 * time.Second, Read: 30 * time.Second, Idle: time.Minute}

// Server returns a server that answers with h and closes the connection of a
// client that exceeds a limit. A slow client that keeps reading is never cut off,
// however long its download takes.
func Server(h http.Handler, limits Limits, complaints *log.Logger) *http.Server {
	return &http.Server{
		Handler:           paced(h, limits.Read),
		ReadHeaderTimeout: limits.Header,
		ReadTimeout:       limits.Body,
		IdleTimeout:       limits.Idle,
		MaxHeaderBytes:    1 << 16,
		ErrorLog:          complaints,
		HTTP2:             &http.HTTP2Config{WriteByteTimeout: limits.Read, SendPingTimeout: limits.Idle, PingTimeout: limits.Header},
	}
}

// paced limits how long every piece of an answer waits for its reader.
func paced(h http.Handler, limit time.Duration) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		p := &pacedWriter{w, http.NewResponseController(w), limit}
		p.wait()
		h.ServeHTTP(p, r)
	})
}

// pacedWriter restarts the clock with every piece that it writes.
type pacedWriter struct {
	http.ResponseWriter
	control *http.ResponseController
	limit   time.Duration
}

const piece = 64 << 10

var pieces = sync.Pool{New: func() any { return new([piece]byte) }}

// wait cannot fail with the connections that net/http makes; without a deadline
// the answer is still right.
func (p *pacedWriter) wait() { p.control.SetWriteDeadline(time.Now().Add(p.limit)) }

func (p *pacedWriter) Write(body []byte) (n int, err error) {
	for len(body) > piece && err == nil {
		var wrote int
		wrote, err = p.ResponseWriter.Write(body[:piece])
		n, body = n+wrote, body[wrote:]
		p.wait()
	}
	if err == nil {
		var wrote int
		wrote, err = p.ResponseWriter.Write(body)
		n += wrote
	}
	return n, err
}

// ReadFrom copies what http.ServeContent sends.
func (p *pacedWriter) ReadFrom(from io.Reader) (int64, error) {
	buffer := pieces.Get().(*[piece]byte)
	defer pieces.Put(buffer)
	return io.CopyBuffer(pacedPiece{p}, from, buffer[:])
}

// pacedPiece writes one piece and starts the clock for the next.
type pacedPiece struct{ p *pacedWriter }

func (p pacedPiece) Write(body []byte) (int, error) {
	n, err := p.p.ResponseWriter.Write(body)
	p.p.wait()
	return n, err
}
