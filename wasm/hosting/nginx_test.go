//go:build e2e

package hosting

import (
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// nginx starts an nginx (the program $NGINX_PROGRAM) that serves a folder below a
// prefix, with more settings for its server block, and returns its address.
func nginx(t testing.TB, dir, prefix, settings string) string {
	t.Helper()
	program := os.Getenv("NGINX_PROGRAM")
	if program == "" {
		t.Fatal("NGINX_PROGRAM has to name an nginx (make fetches one)")
	}
	work := t.TempDir()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	address := listener.Addr().String()
	listener.Close()
	config := filepath.Join(work, "nginx.conf")
	text := fmt.Sprintf(`
daemon off; pid %[1]s/pid; worker_processes auto; error_log stderr crit;
events { worker_connections 512; }
http {
	access_log off; sendfile on; tcp_nopush on; keepalive_requests 100000000;
	client_body_temp_path %[1]s/a; proxy_temp_path %[1]s/b; fastcgi_temp_path %[1]s/c; uwsgi_temp_path %[1]s/d; scgi_temp_path %[1]s/e;
	server {
		listen %[2]s;
		location %[3]s/ { alias %[4]s/; }
		%[5]s
	}
}
`, work, address, prefix, dir, settings)
	if err := os.WriteFile(config, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(program, "-p", work, "-e", "stderr", "-c", config)
	run.Stderr = os.Stderr
	if os.Geteuid() == 0 {
		// Started as root it would give up its rights, and with them the folder.
		run.Args = append(run.Args, "-g", "user root;")
	}
	if err := run.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		run.Process.Signal(os.Interrupt)
		run.Wait()
	})
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if c, err := net.Dial("tcp", address); err == nil {
			c.Close()
			return "http://" + address
		}
	}
	t.Fatal("got no answer from nginx")
	return ""
}

// What is published tells an nginx to send what `site serve` sends.
func TestNginxSendsTheHeaders(t *testing.T) {
	for _, prefix := range []string{"", "/sub"} {
		s := assemble(t, prefix)
		dir := filepath.Join(t.TempDir(), "site")
		if err := s.Publish(dir, Quick); err != nil {
			t.Fatal(err)
		}
		at := nginx(t, dir, prefix, "include "+filepath.Join(dir, nginxFile)+";")
		get := func(p, accept string) *http.Response {
			r, err := http.NewRequest(http.MethodGet, at+prefix+p, nil)
			if err != nil {
				t.Fatal(err)
			}
			r.Header.Set("Accept-Encoding", accept)
			answer, err := http.DefaultClient.Do(r)
			if err != nil {
				t.Fatal(err)
			}
			answer.Body.Close()
			return answer
		}
		for p, f := range s.files {
			answer := get(p, "identity")
			if answer.StatusCode != http.StatusOK || answer.Header.Get("Content-Type") != f.kind {
				t.Errorf("%s: status %d, type %q, want %q", prefix+p, answer.StatusCode, answer.Header.Get("Content-Type"), f.kind)
			}
			for _, h := range s.headers() {
				if got := answer.Header.Values(h.name); len(got) != 1 || got[0] != h.value {
					t.Errorf("%s: %s: got %q", prefix+p, h.name, got)
				}
			}
		}
		for _, p := range []string{"/nowhere", "/check/0199", "/" + headersFile, "/" + nginxFile} {
			answer := get(p, "identity")
			if answer.StatusCode != http.StatusNotFound || answer.Header.Get("Content-Type") != "text/html; charset=utf-8" || answer.Header.Get("X-Content-Type-Options") != "nosniff" {
				t.Errorf("%s: status %d, type %q", prefix+p, answer.StatusCode, answer.Header.Get("Content-Type"))
			}
		}
		if got := get("/wasm/app.wasm", "gzip").Header.Get("Content-Encoding"); got != "gzip" {
			t.Errorf("got the program in the encoding %q", got)
		}
		if got := get("/check", "gzip").Request.URL; got.Path != prefix+"/check/" || !strings.HasPrefix(at, "http://"+got.Host) {
			t.Errorf("got a page at %s", got)
		}
	}
}
