package hosting

import (
	"bytes"
	"context"
	"errors"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"
)

// Direct is a listener for Server without TLS that answers plain requests itself:
// a GET for a file of the site as nearly every client sends it when it has nothing
// yet. The server of net/http starts a goroutine, sets seven deadlines and sorts
// the headers for each answer, and that takes longer than the answer.
//
// Whatever is not plain is handed over to the server, with the connection and
// everything that follows on it: conditions and ranges, other methods, addresses
// without a file, headers that arrive in pieces or are malformed. Both give the same
// answers, and a test compares them.
type Direct struct {
	net.Listener
	site     *Site
	limits   Limits
	accepted chan accepted

	mu     sync.Mutex
	open   map[net.Conn]bool // the connections that are not handed over
	closed chan struct{}
	ended  sync.WaitGroup // one for each of open
}

type accepted struct {
	conn net.Conn
	err  error
}

// NewDirect returns a listener that answers with a site.
func NewDirect(l net.Listener, s *Site, limits Limits) *Direct {
	d := &Direct{Listener: l, site: s, limits: limits, accepted: make(chan accepted), open: map[net.Conn]bool{}, closed: make(chan struct{})}
	go d.listen()
	return d
}

func (d *Direct) listen() {
	for {
		c, err := d.Listener.Accept()
		if err == nil {
			if d.hold(c) {
				go d.answer(c)
			}
			continue
		}
		// The server decides whether to call Accept again, and waits before it does.
		if !d.deliver(accepted{err: err}) || errors.Is(err, net.ErrClosed) {
			return
		}
	}
}

// deliver returns a connection or an error to the server, unless that has closed.
func (d *Direct) deliver(a accepted) bool {
	select {
	case d.accepted <- a:
		return true
	case <-d.closed:
		return false
	}
}

// Accept implements net.Listener.
func (d *Direct) Accept() (net.Conn, error) {
	select {
	case a := <-d.accepted:
		return a.conn, a.err
	case <-d.closed:
		return nil, net.ErrClosed
	}
}

// Close implements net.Listener. An answer that is under way is sent to its end.
func (d *Direct) Close() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	select {
	case <-d.closed:
		return net.ErrClosed
	default:
	}
	close(d.closed)
	for c := range d.open {
		c.SetReadDeadline(time.Now()) // no longer waits for a request
	}
	return d.Listener.Close()
}

// Wait waits, after Close, until the last answer is sent or the context ends.
func (d *Direct) Wait(ctx context.Context) error {
	sent := make(chan struct{})
	go func() {
		d.ended.Wait()
		close(sent)
	}()
	select {
	case <-sent:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// hold records a connection, or closes it when it comes too late.
func (d *Direct) hold(c net.Conn) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	select {
	case <-d.closed:
		c.Close()
		return false
	default:
	}
	d.open[c] = true
	d.ended.Add(1)
	return true
}

// forget forgets a connection that is closed or handed over.
func (d *Direct) forget(c net.Conn) {
	d.mu.Lock()
	defer d.mu.Unlock()
	delete(d.open, c)
	d.ended.Done()
}

// mostHead is how long the head of a plain request may be.
const mostHead = 4 << 10

// answer answers the plain requests of a connection until one comes that is not.
func (d *Direct) answer(c net.Conn) {
	p := plainConn{Conn: c, direct: d}
	left := p.serve()
	if left != nil {
		c.SetDeadline(time.Time{})
		if d.deliver(accepted{conn: &handedOver{Conn: c, first: left}}) {
			d.forget(c)
			return
		}
	}
	c.Close()
	d.forget(c)
}

// plainConn is a connection that has had plain requests only.
type plainConn struct {
	net.Conn
	direct         *Direct
	reading, write deadline
	second         int64 // for which head ends with the date
	date           []byte
	head           []byte
	both           [2][]byte
	buffers        net.Buffers
}

// deadline is a deadline that is renewed only when an eighth of its time has passed:
// a client may be dropped that much too early, and the others are answered sooner.
type deadline struct{ set time.Time }

func (d *deadline) passed(now time.Time, limit time.Duration) bool {
	if now.Sub(d.set) < limit/8 {
		return false
	}
	d.set = now
	return true
}

// serve returns what was read and not answered, which is never nil, or nil when the
// connection has come to its end.
func (p *plainConn) serve() []byte {
	d := p.direct
	space := make([]byte, mostHead)
	in := space[:0]
	limit := d.limits.Header // for the first request, then for the next
	for {
		if len(in) == 0 {
			now := time.Now()
			if p.reading.passed(now, limit) {
				if !d.setWait(p.Conn, now.Add(limit)) {
					return nil
				}
			}
			n, err := p.Read(space)
			if n == 0 && err != nil {
				return nil
			}
			in = space[:n]
		}
		end := bytes.Index(in, []byte("\r\n\r\n"))
		if end < 0 {
			return in
		}
		sent := d.site.plain(in[:end+2])
		if sent == nil {
			return in
		}
		if !p.send(sent) {
			return nil
		}
		in = in[end+4:]
		if limit != d.limits.Idle {
			limit, p.reading = d.limits.Idle, deadline{}
		}
	}
}

// setWait sets how long a connection waits for a request, and reports whether it
// should wait at all.
func (d *Direct) setWait(c net.Conn, until time.Time) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	select {
	case <-d.closed:
		return false
	default:
		c.SetReadDeadline(until) // as in pacedWriter.wait
		return true
	}
}

// send sends an answer, its head together with the beginning of its body.
func (p *plainConn) send(sent *representation) bool {
	now := time.Now()
	if s := now.Unix(); s != p.second {
		p.second = s
		p.date = now.UTC().AppendFormat(p.date[:0], http.TimeFormat)
	}
	p.head = append(append(append(p.head[:0], sent.head...), p.date...), "\r\n\r\n"...)
	body := sent.body
	first := body[:min(piece, len(body))]
	p.both = [2][]byte{p.head, first}
	p.buffers = p.both[:]
	limit := p.direct.limits.Read
	if p.write.passed(now, limit) {
		p.SetWriteDeadline(now.Add(limit))
	}
	if _, err := p.buffers.WriteTo(p.Conn); err != nil {
		return false
	}
	for body = body[len(first):]; len(body) > 0; body = body[min(piece, len(body)):] {
		if now = time.Now(); p.write.passed(now, limit) {
			p.SetWriteDeadline(now.Add(limit))
		}
		if _, err := p.Write(body[:min(piece, len(body))]); err != nil {
			return false
		}
	}
	return true
}

// handedOver is a connection from which something was already read.
type handedOver struct {
	net.Conn
	first []byte
}

// Read implements net.Conn.
func (c *handedOver) Read(p []byte) (int, error) {
	if len(c.first) == 0 {
		return c.Conn.Read(p)
	}
	n := copy(p, c.first)
	if c.first = c.first[n:]; len(c.first) == 0 {
		c.first = nil
	}
	return n, nil
}

// plain returns the answer to a plain request, and nil for any other. It takes the
// head without its last empty line. It understands less than net/http and is
// stricter, so that anything ambiguous is handed over.
func (s *Site) plain(head []byte) *representation {
	first, lines, _ := bytes.Cut(head, []byte("\r\n"))
	target, ok := bytes.CutPrefix(first, []byte("GET "))
	if !ok {
		return nil
	}
	target, ok = bytes.CutSuffix(target, []byte(" HTTP/1.1"))
	if !ok || len(target) < len(s.prefix) || string(target[:len(s.prefix)]) != s.prefix {
		return nil
	}
	f := s.files[string(target[len(s.prefix):])]
	if f == nil {
		return nil
	}
	var accept []byte
	hosts, accepts := 0, 0
	for len(lines) > 0 {
		var line []byte
		line, lines, _ = bytes.Cut(lines, []byte("\r\n"))
		name, value, ok := bytes.Cut(line, []byte(":"))
		if !ok || !all(name, &inNames) || !all(value, &inValues) {
			return nil
		}
		value = bytes.Trim(value, " \t")
		switch {
		case is(name, "host"):
			if hosts++; len(value) == 0 || !all(value, &inHosts) {
				return nil
			}
		case is(name, "accept-encoding"):
			accepts++
			accept = value
		case is(name, "connection"):
			if !is(value, "keep-alive") {
				return nil
			}
		case !changesNothing(name):
			return nil
		}
	}
	if hosts != 1 || accepts > 1 {
		return nil
	}
	return f.choose(string(accept))
}

// changesNothing reports whether a header is one of those that browsers send and that
// no answer depends on.
func changesNothing(name []byte) bool {
	for _, h := range harmless {
		if is(name, h) {
			return true
		}
	}
	return len(name) > 4 && is(name[:4], "sec-")
}

var harmless = []string{"user-agent", "accept", "accept-language", "referer", "origin", "cookie", "pragma", "cache-control", "dnt", "priority", "upgrade-insecure-requests", "purpose"}

// is reports whether a text is another, whatever its case.
func is(text []byte, lower string) bool {
	return len(text) == len(lower) && strings.EqualFold(string(text), lower)
}

// The characters that a name, a value and a host may have in a plain request.
var (
	inNames  = chars(func(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' || '0' <= c && c <= '9' || c == '-' })
	inValues = chars(func(c byte) bool { return ' ' <= c && c <= '~' || c == '\t' })
	inHosts  = chars(func(c byte) bool {
		return 'a' <= c|0x20 && c|0x20 <= 'z' || '0' <= c && c <= '9' || strings.IndexByte(".-:[]", c) >= 0
	})
)

func chars(in func(byte) bool) (set [256]bool) {
	for c := range set {
		set[c] = in(byte(c))
	}
	return set
}

// all reports whether a text has only characters of a set.
func all(text []byte, set *[256]bool) bool {
	for _, c := range text {
		if !set[c] {
			return false
		}
	}
	return true
}
