//go:build e2e

package hosting

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// BenchmarkServe measures how long an answer of `site serve` takes beside those
// of Go's plain file server and of nginx, which are given the very bytes that
// the site sends: a page, a style sheet and the program, each as it comes and
// compressed. Eight connections that stay open ask as fast as they are
// answered, one server after the other in every round; the medians of the
// rounds are reported and judged by the bars. It reads the program $PROGRAM.
func BenchmarkServe(b *testing.B) {
	body, err := os.ReadFile(os.Getenv("PROGRAM"))
	if err != nil {
		b.Fatal(err)
	}
	program = body
	s := assemble(b, "")
	s.Compress(Quick)
	ours := httptest.NewUnstartedServer(nil)
	ours.Config = Server(s, Patient, log.New(io.Discard, "", 0))
	ours.Start()
	defer ours.Close()

	files := []struct{ name, path, coding string }{
		{"page", "/check", "br"},
		{"style", styleFile, "br"},
		{"plain-style", styleFile, "identity"},
		{"program", "/wasm/app.wasm", "br"},
	}
	dir := b.TempDir()
	for _, f := range files {
		file := s.files[f.path]
		if err := os.WriteFile(filepath.Join(dir, f.name), file.choose(f.coding).body, 0o644); err != nil {
			b.Fatal(err)
		}
	}
	plain := httptest.NewServer(http.FileServer(http.Dir(dir)))
	defer plain.Close()
	servers := []struct{ name, at string }{
		{"", ours.URL}, {"-go", plain.URL}, {"-nginx", nginx(b, dir, "", "")},
	}

	for _, f := range files {
		b.Run(f.name, func(b *testing.B) {
			want := len(s.files[f.path].choose(f.coding).body)
			var took [3][]float64
			for b.Loop() {
				for i, server := range servers {
					target := server.at + "/" + f.name
					if i == 0 {
						target = server.at + f.path
					}
					took[i] = append(took[i], ask(b, target, f.coding, want))
				}
			}
			best := 0.0
			for i, server := range servers {
				slices.Sort(took[i])
				us := took[i][len(took[i])/2]
				b.ReportMetric(us, "us"+server.name)
				if i > 0 && (best == 0 || us < best) {
					best = us
				}
			}
			b.ReportMetric(best, "us-best")
		})
	}
}

// ask asks for one address as fast as it is answered, over eight connections
// for a tenth of a second, and gives the microseconds an answer.
func ask(b *testing.B, target, coding string, length int) float64 {
	b.Helper()
	u, err := url.Parse(target)
	if err != nil {
		b.Fatal(err)
	}
	request := []byte("GET " + u.Path + " HTTP/1.1\r\nHost: " + u.Host + "\r\nAccept-Encoding: " + coding + "\r\n\r\n")
	begun := time.Now()
	end := begun.Add(100 * time.Millisecond)
	var all sync.WaitGroup
	counts, faults := make([]int, 8), make([]error, 8)
	for i := range counts {
		all.Go(func() { counts[i], faults[i] = asks(u.Host, request, length, end) })
	}
	all.Wait()
	took := time.Since(begun)
	n := 0
	for i := range counts {
		if faults[i] != nil {
			b.Fatalf("%s: %v", target, faults[i])
		}
		n += counts[i]
	}
	return took.Seconds() * 1e6 / float64(n)
}

// asks counts the answers on one connection. It reads no more of their heads
// than it has to, so that little but the server is measured.
func asks(host string, request []byte, length int, end time.Time) (n int, err error) {
	c, err := net.Dial("tcp", host)
	if err != nil {
		return 0, err
	}
	defer c.Close()
	in := bufio.NewReaderSize(c, 256<<10)
	for ; time.Now().Before(end); n++ {
		if _, err := c.Write(request); err != nil {
			return n, err
		}
		got := -1
		for first := true; ; first = false {
			line, err := in.ReadSlice('\n')
			if err != nil {
				return n, err
			}
			if first && !bytes.HasPrefix(line, []byte("HTTP/1.1 200 ")) {
				return n, fmt.Errorf("the answer is %q", line)
			}
			if name, value, _ := strings.Cut(string(bytes.TrimSpace(line)), ":"); strings.EqualFold(name, "Content-Length") {
				if got, err = strconv.Atoi(strings.TrimSpace(value)); err != nil {
					return n, err
				}
			} else if name == "" {
				break
			}
		}
		if got != length {
			return n, fmt.Errorf("%d bytes are sent, want %d", got, length)
		}
		if _, err := in.Discard(length); err != nil {
			return n, err
		}
	}
	return n, nil
}
