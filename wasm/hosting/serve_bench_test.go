//go:build e2e

package hosting

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// plainFolder and plainHeaders are variables of the environment that make this
// test a plain file server of Go, in a process of its own as the other servers
// are: the folder that it serves, and the headers that it sends, as JSON.
const plainFolder, plainHeaders = "PLAIN_FOLDER", "PLAIN_HEADERS"

func TestMain(m *testing.M) {
	if dir := os.Getenv(plainFolder); dir != "" {
		if err := plain(dir); err != nil {
			fmt.Fprintln(os.Stderr, "plain:", err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

func plain(dir string) error {
	var headers map[string]string
	if err := json.Unmarshal([]byte(os.Getenv(plainHeaders)), &headers); err != nil {
		return err
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	fmt.Printf("it is at http://%s/\n", listener.Addr())
	files := http.FileServer(http.Dir(dir))
	return http.Serve(listener, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range headers {
			w.Header().Set(name, value)
		}
		files.ServeHTTP(w, r)
	}))
}

// began starts a command, waits until it says all of some words, and returns what
// stands between the first of them and the next slash or the end of the line.
func began(b *testing.B, cmd *exec.Cmd, words ...string) string {
	b.Helper()
	cmd.Stderr = os.Stderr
	said, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
	found := ""
	for lines := bufio.NewScanner(said); lines.Scan(); {
		if _, after, ok := strings.Cut(lines.Text(), words[0]); ok {
			if found == "" {
				found, _, _ = strings.Cut(after, "/")
			}
			if words = words[1:]; len(words) == 0 {
				return found
			}
		}
	}
	b.Fatalf("%s has ended before it said %q", cmd.Path, words)
	return ""
}

// BenchmarkServe measures how long an answer of `site serve` takes compared with those
// of Go's plain file server and of nginx, which are given the very bytes and the
// headers that the site sends: a page, a style sheet and the program, each as it
// comes and compressed. Each server is a process of its own, with as many threads
// or workers as there are processors. Eight connections that stay open ask as fast
// as they are answered, one server after the other in every round; the medians of
// the rounds are reported and judged by the bars. It uses the command $SITE with
// the programs in $PROGRAMS.
func BenchmarkServe(b *testing.B) {
	ours := "http://" + began(b, exec.Command(os.Getenv("SITE"), "serve", "-addr", "127.0.0.1:0", "-programs", os.Getenv("PROGRAMS")), "http://", "Compressed copies are ready")
	files := []struct {
		name, path, coding string
		length             int
	}{
		{name: "page", path: "/check", coding: "br"},
		{name: "style", path: styleFile, coding: "br"},
		{name: "plain-style", path: styleFile, coding: identity},
		{name: "program", path: programFile, coding: "br"},
	}
	dir := b.TempDir()
	headers := map[string]string{}
	var settings strings.Builder
	for i := range files {
		f := &files[i]
		request, err := http.NewRequest(http.MethodGet, ours+f.path, nil)
		if err != nil {
			b.Fatal(err)
		}
		request.Header.Set("Accept-Encoding", f.coding)
		answer, err := http.DefaultClient.Do(request)
		if err != nil {
			b.Fatal(err)
		}
		body, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil {
			b.Fatal(err)
		}
		if got := cmp.Or(answer.Header.Get("Content-Encoding"), identity); answer.StatusCode != http.StatusOK || got != f.coding {
			b.Fatalf("%s: status %d, coding %s", f.path, answer.StatusCode, got)
		}
		f.length = len(body)
		if err := os.WriteFile(filepath.Join(dir, f.name), body, 0o644); err != nil {
			b.Fatal(err)
		}
		if i > 0 {
			continue
		}
		for name := range answer.Header {
			// These are about one file, and every server sends its own.
			if !slices.Contains([]string{"Date", "Content-Type", "Content-Length", "Content-Encoding", "Etag", "Last-Modified", "Accept-Ranges"}, name) {
				headers[name] = answer.Header.Get(name)
				fmt.Fprintf(&settings, "add_header %s %q;\n", name, headers[name])
			}
		}
	}
	if len(headers) < 7 {
		b.Fatalf("got only the headers %v", headers)
	}
	text, err := json.Marshal(headers)
	if err != nil {
		b.Fatal(err)
	}
	plain := exec.Command(os.Args[0])
	plain.Env = append(os.Environ(), plainFolder+"="+dir, plainHeaders+"="+string(text))
	servers := []struct{ name, at string }{
		{"", ours}, {"-go", "http://" + began(b, plain, "http://")}, {"-nginx", nginx(b, dir, "", settings.String())},
	}

	for _, f := range files {
		b.Run(f.name, func(b *testing.B) {
			var took [3][]float64
			for b.Loop() {
				for i, server := range servers {
					target := server.at + "/" + f.name
					if i == 0 {
						target = server.at + f.path
					}
					took[i] = append(took[i], ask(b, target, f.coding, f.length))
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
// for a tenth of a second, and returns the microseconds an answer.
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
				return n, fmt.Errorf("got the answer %q", line)
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
			return n, fmt.Errorf("got %d bytes, want %d", got, length)
		}
		if _, err := in.Discard(length); err != nil {
			return n, err
		}
	}
	return n, nil
}
