package hosting

import (
	"bytes"
	"context"
	"errors"
	"io"
	"log"
	"math/rand/v2"
	"net"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// beside serves one site twice: by the server of net/http alone, and with the
// listener that answers plain requests itself. It returns their addresses.
func beside(t testing.TB) (s *Site, alone, direct string) {
	t.Helper()
	s = assemble(t, "/sub")
	s.Compress(Quick)
	first, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := Server(s, Patient, log.New(io.Discard, "", 0))
	go server.Serve(first)
	t.Cleanup(func() { server.Close() })
	second := served(t, s, Patient, false)
	second.Start()
	return s, first.Addr().String(), second.Listener.Addr().String()
}

var dates = regexp.MustCompile(`(?m)^Date: \w{3}, \d\d \w{3} \d{4} \d\d:\d\d:\d\d GMT\r$`)

// hears sends bytes to a server and then nothing more, and returns all that comes
// back, without the time. A server that refuses a request may close a connection
// so that what it has sent is lost, and then there is nothing to compare.
func hears(t testing.TB, at string, bytes []byte) (all []byte, whole bool) {
	t.Helper()
	c, err := net.Dial("tcp", at)
	if err != nil {
		t.Error(err)
		return nil, false
	}
	defer c.Close()
	c.SetDeadline(time.Now().Add(time.Minute))
	if _, err = c.Write(bytes); err == nil {
		err = c.(*net.TCPConn).CloseWrite()
	}
	if err == nil {
		all, err = io.ReadAll(c)
	}
	if err != nil && !errors.Is(err, syscall.ECONNRESET) && !errors.Is(err, syscall.EPIPE) && !errors.Is(err, syscall.ENOTCONN) {
		t.Errorf("%q: %v", bytes, err)
	}
	return dates.ReplaceAll(all, []byte("Date\r")), err == nil
}

// What browsers and tools send when they have nothing yet, and what comes close to
// that and is not plain.
var (
	plainAsks = []string{
		"GET /sub/ HTTP/1.1\r\nHost: a\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nhost: 127.0.0.1:8080\r\nUser-Agent: a/1 (b; c)\r\nAccept: */*\r\n\r\n",
		"GET /sub/wasm/app.wasm HTTP/1.1\r\nHost: [::1]:80\r\nConnection: Keep-Alive\r\nAccept-Encoding: gzip, deflate, br, zstd\r\nSec-Fetch-Mode: cors\r\nReferer: http://a/\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nAccept-Encoding: gzip;q=1.0, br;q=0.5\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nAccept-Encoding:\r\nAccept-Language: de\tand more \r\n\r\n",
		"GET /sub/robots.txt HTTP/1.1\r\nHost:a\r\nCache-Control: no-cache\r\nPragma: no-cache\r\nOrigin: null\r\nCookie: a=b\r\n\r\n",
	}
	otherAsks = []string{
		"", "\r\n", "GET", "GET /sub/check HTTP/1.1\r\n", "GET /sub/check HTTP/1.1\r\nHost: a\r\n",
		"GET /sub/check HTTP/1.1\r\n\r\n",
		"GET /sub/check HTTP/1.0\r\nHost: a\r\n\r\n",
		"GET  /sub/check HTTP/1.1\r\nHost: a\r\n\r\n",
		"GET /sub/check HTTP/1.1 \r\nHost: a\r\n\r\n",
		"GET /sub/check HTTP/1.1\nHost: a\n\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\nX: y\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nHost: a\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a b\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost:\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\n folded: b\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nAccept : b\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nAccept: b\x00\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\n: b\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nnothing\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nAccept-Encoding: br\r\nAccept-Encoding: gzip\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nAccept-Encoding: *;q=0\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nIf-None-Match: *\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nRange: bytes=1-2\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nExpect: 100-continue\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nUpgrade: h2c\r\nConnection: upgrade\r\n\r\n",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nContent-Length: 4\r\n\r\nbody",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: chunked\r\n\r\n4\r\nbody\r\n0\r\n\r\n",
		"GET /sub/check/ HTTP/1.1\r\nHost: a\r\n\r\n", "GET /sub/check?a=b HTTP/1.1\r\nHost: a\r\n\r\n",
		"GET /sub/%63heck HTTP/1.1\r\nHost: a\r\n\r\n", "GET /sub/static/../check HTTP/1.1\r\nHost: a\r\n\r\n",
		"GET /sub HTTP/1.1\r\nHost: a\r\n\r\n", "GET / HTTP/1.1\r\nHost: a\r\n\r\n", "GET /su HTTP/1.1\r\nHost: a\r\n\r\n", "GET /absent HTTP/1.1\r\nHost: a\r\n\r\n", "GET /sub/static HTTP/1.1\r\nHost: a\r\n\r\n",
		"GET http://a/sub/check HTTP/1.1\r\nHost: b\r\n\r\n",
		"HEAD /sub/check HTTP/1.1\r\nHost: a\r\n\r\n", "POST /sub/check HTTP/1.1\r\nHost: a\r\nContent-Length: 0\r\n\r\n", "get /sub/check HTTP/1.1\r\nHost: a\r\n\r\n",
		"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", "\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
		"GET /sub/check HTTP/1.1\r\nHost: a\r\nUser-Agent: " + strings.Repeat("a", mostHead) + "\r\n\r\n",
	}
)

// last is the request after which a server closes the connection.
const last = "GET /sub/ HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n"

// Whatever comes, alone or after plain requests, is answered byte for byte as the
// server of net/http alone answers it; and what is plain is not left to it.
func TestDirectAnswersAsTheServer(t *testing.T) {
	s, alone, direct := beside(t)
	for _, ask := range plainAsks {
		if s.plain([]byte(ask[:len(ask)-2])) == nil {
			t.Errorf("%q: want it to be plain", ask)
		}
	}
	for _, ask := range otherAsks {
		if head, _, ok := strings.Cut(ask, "\r\n\r\n"); ok && len(ask) < mostHead && s.plain([]byte(head+"\r\n")) != nil {
			t.Errorf("%q: want it not to be plain", ask)
		}
	}
	var texts [][]byte
	all := slices.Concat(plainAsks, otherAsks)
	for _, ask := range all {
		for _, before := range []string{"", plainAsks[0], strings.Join(plainAsks, "")} {
			texts = append(texts, []byte(before+ask))
		}
	}
	const odd = "\r\n :\t\x00\x7f\xffA0/."
	r := rand.New(rand.NewPCG(13, 0))
	for range 300 {
		text := []byte(plainAsks[r.IntN(len(plainAsks))] + plainAsks[r.IntN(len(plainAsks))])
		for range 1 + r.IntN(2) {
			at := r.IntN(len(text))
			switch r.IntN(4) {
			case 0:
				text[at] = odd[r.IntN(len(odd))]
			case 1:
				text = slices.Delete(text, at, at+1)
			case 2:
				text = slices.Insert(text, at, text[at])
			default:
				other := all[r.IntN(len(all))]
				text = slices.Insert(text, at, []byte(other[r.IntN(len(other)+1):])...)
			}
		}
		texts = append(texts, text)
	}
	var compared atomic.Int64
	var waits sync.WaitGroup
	turns := make(chan bool, 64) // the server waits for half a second after what it refuses
	for _, text := range texts {
		text = append(text, last...)
		turns <- true
		waits.Go(func() {
			defer func() { <-turns }()
			want, whole := hears(t, alone, text)
			got, also := hears(t, direct, text)
			if !whole || !also {
				return
			}
			compared.Add(1)
			if !bytes.Equal(got, want) {
				t.Errorf("%q: got\n%.600q\nwant, as without the listener,\n%.600q", text, got, want)
			}
		})
	}
	waits.Wait()
	if n := int(compared.Load()); n < len(texts)/2 {
		t.Errorf("got only %d of %d answers to compare", n, len(texts))
	} else {
		t.Logf("%d of %d answers were compared", n, len(texts))
	}
}

// A server that is stopped closes the connections on which nothing is asked, and
// sends an answer that is under way to its end.
func TestStoppedServerSendsTheLastAnswer(t *testing.T) {
	s := assemble(t, "")
	big := s.add("/big", "application/octet-stream", make([]byte, 64<<20)) // more than any buffer on the way
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	direct := NewDirect(l, s, Patient)
	server := Server(s, Patient, log.New(io.Discard, "", 0))
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(direct) }()
	dial := func() net.Conn {
		c, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { c.Close() })
		c.SetDeadline(time.Now().Add(time.Minute))
		return c
	}
	silent, busy := dial(), dial()
	if _, err := io.WriteString(busy, "GET /big HTTP/1.1\r\nHost: a\r\n\r\n"); err != nil {
		t.Fatal(err)
	}
	begin := make([]byte, 100)
	if _, err := io.ReadFull(busy, begin); err != nil {
		t.Fatal(err)
	}
	if err := server.Shutdown(context.Background()); err != nil {
		t.Fatal(err)
	}
	if err := <-ended; err != http.ErrServerClosed {
		t.Errorf("got %v from the server at its end", err)
	}
	short, cancel := context.WithCancel(context.Background())
	cancel()
	if direct.Wait(short) == nil {
		t.Error("the answer counts as sent although nobody has read it")
	}
	if n, err := silent.Read(begin); n != 0 || err == nil {
		t.Errorf("an idle connection: got %d bytes and %v", n, err)
	}
	rest, err := io.ReadAll(busy)
	if err != nil || len(rest) < len(big.body) {
		t.Errorf("got %d bytes of the last answer: %v", len(rest), err)
	}
	if err := direct.Wait(context.Background()); err != nil {
		t.Error(err)
	}
	if c, err := net.Dial("tcp", l.Addr().String()); err == nil {
		c.Close()
		t.Error("a stopped server accepts connections")
	}
}
