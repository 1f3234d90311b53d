package hosting

import (
	"bufio"
	"bytes"
	"cmp"
	"crypto/tls"
	"fmt"
	"io"
	"log"
	"mime"
	"mime/multipart"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"
)

// An interrupted download can be resumed at any point, in the encoding that it
// started in.
func TestRanges(t *testing.T) {
	s := assemble(t, "")
	s.Compress(Quick)
	for _, encoding := range []string{"identity", "gzip", "br"} {
		whole, body := do(t, s, http.MethodGet, "/wasm/app.wasm", "Accept-Encoding", encoding)
		if got := cmp.Or(whole.Header.Get("Content-Encoding"), "identity"); got != encoding || whole.Header.Get("Accept-Ranges") != "bytes" {
			t.Fatalf("%s: got encoding %q, ranges %q", encoding, got, whole.Header.Get("Accept-Ranges"))
		}
		tag := whole.Header.Get("ETag")
		for cut := 0; cut < len(body); cut += max(1, len(body)/50) {
			rest, part := do(t, s, http.MethodGet, "/wasm/app.wasm", "Accept-Encoding", encoding, "Range", fmt.Sprintf("bytes=%d-", cut), "If-Range", tag)
			want := fmt.Sprintf("bytes %d-%d/%d", cut, len(body)-1, len(body))
			if rest.StatusCode != http.StatusPartialContent || !bytes.Equal(part, body[cut:]) || rest.Header.Get("Content-Range") != want || rest.Header.Get("Content-Encoding") != whole.Header.Get("Content-Encoding") {
				t.Fatalf("%s from byte %d: got status %d, %d bytes, %q", encoding, cut, rest.StatusCode, len(part), rest.Header.Get("Content-Range"))
			}
		}
		// The rest of another encoding would damage the file.
		if other, part := do(t, s, http.MethodGet, "/wasm/app.wasm", "Accept-Encoding", encoding, "Range", "bytes=5-", "If-Range", `"another"`); other.StatusCode != http.StatusOK || !bytes.Equal(part, body) {
			t.Errorf("%s continued with another tag: status %d, %d bytes", encoding, other.StatusCode, len(part))
		}
		if beyond, _ := do(t, s, http.MethodGet, "/wasm/app.wasm", "Accept-Encoding", encoding, "Range", fmt.Sprintf("bytes=%d-", len(body))); beyond.StatusCode != http.StatusRequestedRangeNotSatisfiable || beyond.Header.Get("Content-Encoding") != "" {
			t.Errorf("%s beyond the end: status %d, encoding %q", encoding, beyond.StatusCode, beyond.Header.Get("Content-Encoding"))
		}
	}

	two, body := do(t, s, http.MethodGet, "/wasm/app.wasm", "Range", "bytes=0-3,-4")
	_, how, err := mime.ParseMediaType(two.Header.Get("Content-Type"))
	if err != nil {
		t.Fatal(err)
	}
	parts := multipart.NewReader(bytes.NewReader(body), how["boundary"])
	for _, want := range []string{"\x00asm", "lamp"} {
		part, err := parts.NextPart()
		if err != nil {
			t.Fatal(err)
		}
		if got, err := io.ReadAll(part); err != nil || string(got) != want {
			t.Errorf("a part is %q, want %q (%v)", got, want, err)
		}
	}
}

func TestConditions(t *testing.T) {
	s := assemble(t, "")
	s.Compress(Quick)
	tags := map[string]bool{}
	for _, encoding := range []string{"identity", "gzip", "br"} {
		got, _ := do(t, s, http.MethodGet, "/", "Accept-Encoding", encoding)
		tag := got.Header.Get("ETag")
		if tags[tag] || !strings.HasPrefix(tag, `"`) {
			t.Errorf("%s: got the tag %s, which is weak or belongs to another encoding", encoding, tag)
		}
		tags[tag] = true
		for _, c := range []struct {
			name, value string
			status      int
		}{
			{"If-None-Match", tag, http.StatusNotModified},
			{"If-None-Match", "W/" + tag, http.StatusNotModified}, // compared weakly: a proxy may have weakened it
			{"If-None-Match", `"a", ` + tag, http.StatusNotModified},
			{"If-None-Match", "*", http.StatusNotModified},
			{"If-None-Match", `"a"`, http.StatusOK},
			{"If-None-Match", `"a` + tag[1:], http.StatusOK},
			{"If-None-Match", strings.Trim(tag, `"`), http.StatusOK},
			{"If-Match", tag, http.StatusOK},
			{"If-Match", "*", http.StatusOK},
			{"If-Match", `"a"`, http.StatusPreconditionFailed},
			{"If-Match", "W/" + tag, http.StatusPreconditionFailed},
		} {
			for _, method := range []string{http.MethodGet, http.MethodHead} {
				got, body := do(t, s, method, "/", "Accept-Encoding", encoding, c.name, c.value)
				if got.StatusCode != c.status || (len(body) > 0) != (method == http.MethodGet && c.status == http.StatusOK) {
					t.Errorf("%s %s with %s: %s: status %d, want %d, %d bytes", method, encoding, c.name, c.value, got.StatusCode, c.status, len(body))
				}
				if got.Header.Get("X-Content-Type-Options") != "nosniff" || got.Header.Get("Vary") != "Accept-Encoding" {
					t.Errorf("%s with %s: %s lacks headers", method, c.name, c.value)
				}
			}
		}
	}
}

// served serves a site as `site serve` does, with or without TLS, on a listener
// that a test may wrap.
func served(t testing.TB, s *Site, limits Limits, secure bool, wrap ...func(net.Listener) net.Listener) *httptest.Server {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	for _, w := range wrap {
		server.Listener = w(server.Listener)
	}
	server.Config = Server(s, limits, log.New(io.Discard, "", 0))
	if !secure {
		server.Listener = NewDirect(server.Listener, s, limits)
	}
	t.Cleanup(server.Close)
	return server
}

// heldListener knows which of its connections are not closed yet.
type heldListener struct {
	net.Listener
	held *sync.Map // by the address of the other side
}

func (l heldListener) Accept() (net.Conn, error) {
	c, err := l.Listener.Accept()
	if err != nil {
		return nil, err
	}
	l.held.Store(c.RemoteAddr().String(), true)
	return heldConn{c, l.held}, nil
}

type heldConn struct {
	net.Conn
	held *sync.Map
}

func (c heldConn) Close() error {
	c.held.Store(c.RemoteAddr().String(), false)
	return c.Conn.Close()
}

// brief are limits for a test: what is closed is closed soon.
var brief = Limits{Header: 200 * time.Millisecond, Body: 200 * time.Millisecond, Read: 200 * time.Millisecond, Idle: 200 * time.Millisecond}

// closes fails unless the server closes a connection on which nothing is read
// or sent any longer.
func closes(t *testing.T, what string, open func(net.Addr) bool, c net.Conn) {
	t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if !open(c.LocalAddr()) {
			return
		}
	}
	t.Errorf("%s: the connection is still open", what)
}

// No client can hold a connection without doing its part.
func TestStuckClientsAreLetGo(t *testing.T) {
	s := assemble(t, "")
	big := s.add("/big", "application/octet-stream", make([]byte, 64<<20)) // more than any buffer on the way
	for _, secure := range []bool{false, true} {
		var held sync.Map
		open := func(a net.Addr) bool {
			held, seen := held.Load(a.String())
			return !seen || held == true
		}
		server := served(t, s, brief, secure, func(l net.Listener) net.Listener { return heldListener{l, &held} })
		if secure {
			server.StartTLS()
		} else {
			server.Start()
		}
		dial := func(what string) net.Conn {
			c, err := net.Dial("tcp", server.Listener.Addr().String())
			if err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			t.Cleanup(func() { c.Close() })
			if !secure || what == "no word" {
				return c
			}
			tc := tls.Client(c, &tls.Config{InsecureSkipVerify: true})
			if err := tc.Handshake(); err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			return tc
		}
		for what, says := range map[string]string{
			"no word":                       "",
			"half a head":                   "GET / HTTP/1.1\r\nHost: a\r\nX-Half:",
			"a head and no body":            "POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 100\r\n\r\n",
			"a GET and no body":             "GET / HTTP/1.1\r\nHost: a\r\nContent-Length: 100000\r\n\r\n",
			"a body in pieces with no end":  "POST / HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: chunked\r\n\r\n5\r\nhello\r\n",
			"a request, and then nothing":   "GET / HTTP/1.1\r\nHost: a\r\n\r\n",
			"a request, and then half one":  "GET / HTTP/1.1\r\nHost: a\r\n\r\nGET / HTTP/1.1\r\n",
			"a condition, and then nothing": "GET / HTTP/1.1\r\nHost: a\r\nIf-None-Match: *\r\n\r\n",
			"never reads":                   "GET /big HTTP/1.1\r\nHost: a\r\n\r\n",
			"asks for much and never reads": strings.Repeat("GET /big HTTP/1.1\r\nHost: a\r\n\r\n", 50),
			"never reads a part":            "GET /big HTTP/1.1\r\nHost: a\r\nRange: bytes=1-\r\n\r\n",
		} {
			c := dial(what)
			io.WriteString(c, says) // a slow computer may say it when it is let go already
			closes(t, fmt.Sprintf("%s, TLS %v", what, secure), open, c)
			c.Close()
		}
		server.Close()
	}

	// A client that keeps reading gets everything, even if it takes many times the
	// limit. The limit leaves room for a busy computer.
	slow := brief
	slow.Read = time.Second
	server := served(t, s, slow, false)
	server.Start()
	c, err := net.Dial("tcp", server.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if _, err := io.WriteString(c, "GET /big HTTP/1.1\r\nHost: a\r\n\r\n"); err != nil {
		t.Fatal(err)
	}
	begun := time.Now()
	answer, err := http.ReadResponse(bufio.NewReaderSize(c, 1<<20), nil)
	if err != nil {
		t.Fatal(err)
	}
	got := int64(0)
	for err == nil && got < int64(len(big.body)) {
		var n int64
		n, err = io.CopyN(io.Discard, answer.Body, 4<<20)
		got += n
		time.Sleep(slow.Read / 4)
	}
	if err != nil || got != int64(len(big.body)) {
		t.Errorf("a slow reader: got %d of %d bytes: %v", got, len(big.body), err)
	}
	if took := time.Since(begun); took < 3*slow.Read {
		t.Fatalf("the slow reader was not slow: %v", took)
	}
}

// Answers of every length around the buffers on the way come whole and in their
// order, also when all are asked for at once, by plain requests and by others.
func TestAnswersOfEveryLength(t *testing.T) {
	s := assemble(t, "")
	for name, methods := range map[string][]string{"plain": {http.MethodGet}, "mixed": {http.MethodGet, http.MethodHead}} {
		t.Run(name, func(t *testing.T) {
			var asks strings.Builder
			type answer struct {
				method string
				body   []byte
			}
			var want []answer
			for _, around := range []int{0, mostHead / 2, mostHead - 700, mostHead, 2 * mostHead, piece, 3 * piece} {
				for n := max(0, around-40); n <= around+40; n++ {
					path := fmt.Sprintf("/%d", n)
					if s.files[path] == nil {
						s.add(path, "application/octet-stream", bytes.Repeat([]byte(fmt.Sprintf("%07d,", n)), n/8+1)[:n])
					}
					for _, method := range methods {
						fmt.Fprintf(&asks, "%s %s HTTP/1.1\r\nHost: a\r\n\r\n", method, path)
						want = append(want, answer{method, s.files[path].body})
					}
				}
			}
			if len(methods) > 1 {
				asks.WriteString("GET /absent HTTP/1.1\r\nHost: a\r\n\r\n")
				want = append(want, answer{http.MethodGet, s.files["/404.html"].body})
			}
			server := served(t, s, Patient, false)
			server.Start()
			c, err := net.Dial("tcp", server.Listener.Addr().String())
			if err != nil {
				t.Fatal(err)
			}
			defer c.Close()
			c.SetDeadline(time.Now().Add(time.Minute))
			go io.WriteString(c, asks.String())
			in := bufio.NewReader(c)
			for i, want := range want {
				answer, err := http.ReadResponse(in, &http.Request{Method: want.method})
				if err != nil {
					t.Fatalf("answer %d: %v", i, err)
				}
				got, err := io.ReadAll(answer.Body)
				if want.method == http.MethodHead && len(got) > 0 || want.method == http.MethodGet && !bytes.Equal(got, want.body) || err != nil {
					t.Fatalf("answer %d, %s: %d bytes, want %d (%v)", i, want.method, len(got), len(want.body), err)
				}
				if length := answer.Header.Get("Content-Length"); length != fmt.Sprint(len(want.body)) {
					t.Errorf("answer %d: a length of %s, want %d", i, length, len(want.body))
				}
			}
		})
	}
}

func TestHTTP2(t *testing.T) {
	s := assemble(t, "")
	s.add("/big", "application/octet-stream", make([]byte, 8<<20))
	server := served(t, s, brief, true)
	server.EnableHTTP2 = true
	server.StartTLS()
	client := server.Client()
	answer, err := client.Get(server.URL + "/")
	if err != nil {
		t.Fatal(err)
	}
	io.Copy(io.Discard, answer.Body)
	answer.Body.Close()
	if answer.ProtoMajor != 2 || answer.StatusCode != http.StatusOK {
		t.Errorf("%s, status %d", answer.Proto, answer.StatusCode)
	}
	// A stream that nobody reads stops after a while, as HTTP/2 reports.
	stuck, err := client.Get(server.URL + "/big")
	if err != nil {
		t.Fatal(err)
	}
	time.Sleep(5 * brief.Read)
	if n, err := io.Copy(io.Discard, stuck.Body); err == nil {
		t.Errorf("got all %d bytes of a stream that was not read", n)
	}
	stuck.Body.Close()
	// Other streams go on.
	if answer, err = client.Get(server.URL + "/"); err != nil || answer.StatusCode != http.StatusOK {
		t.Errorf("after a stuck stream: got %v", err)
	}
}
