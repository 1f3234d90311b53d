package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"html"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"larderlamp/app"
	"larderlamp/app/ui"
	"larderlamp/rules"
)

// fakePrograms returns a folder with what passes for the program.
func fakePrograms(t *testing.T, size int) string {
	t.Helper()
	return filepath.Dir(fakeProgram(t, size))
}

// fakeProgram writes a file that passes for a WebAssembly program.
func fakeProgram(t *testing.T, size int) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "app.wasm")
	body := fakeBytes(size)
	for _, name := range []string{name, filepath.Join(filepath.Dir(name), scannerFile)} {
		if err := os.WriteFile(name, body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return name
}

func TestPortTaken(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	var out, errs bytes.Buffer
	code := run(t.Context(), []string{"serve", "-programs", fakePrograms(t, 100), "-addr", taken.Addr().String()}, &out, &errs)
	_, port, _ := net.SplitHostPort(taken.Addr().String())
	if code != 1 || !strings.Contains(errs.String(), "port "+port+" is taken; try: site serve -addr 127.0.0.1:") {
		t.Errorf("got exit code %d and %q", code, errs.String())
	}
}

// TestServeUntilInterrupted serves the real pages under a folder and stops.
func TestServeUntilInterrupted(t *testing.T) {
	serveAll(t, http.DefaultClient, "http", 1)
}

// With a certificate the same is served over HTTPS, by HTTP/2.
func TestServeWithACertificate(t *testing.T) {
	// The test server of the standard library has a certificate to lend.
	lender := httptest.NewTLSServer(nil)
	pair := lender.TLS.Certificates[0]
	trusted := x509.NewCertPool()
	trusted.AddCert(lender.Certificate())
	lender.Close()
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: trusted}, ForceAttemptHTTP2: true}}
	key, err := x509.MarshalPKCS8PrivateKey(pair.PrivateKey)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	write := func(name, kind string, body []byte) string {
		at := filepath.Join(dir, name)
		if err := os.WriteFile(at, pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: body}), 0o600); err != nil {
			t.Fatal(err)
		}
		return at
	}
	serveAll(t, client, "https", 2, "-cert", write("cert.pem", "CERTIFICATE", pair.Certificate[0]), "-key", write("key.pem", "PRIVATE KEY", key))
}

// serveAll serves the real pages, with more arguments, asks for each, and
// interrupts the server.
func serveAll(t *testing.T, client *http.Client, scheme string, version int, more ...string) {
	t.Helper()
	ctx, interrupt := context.WithCancel(t.Context())
	defer interrupt()
	out, says := io.Pipe()
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, append([]string{"serve", "-addr", "127.0.0.1:0", "-prefix", "/sub", "-programs", fakePrograms(t, 100)}, more...), says, says)
		says.Close()
	}()
	lines := bufio.NewReader(out)
	first, err := lines.ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	go io.Copy(io.Discard, lines)
	at := strings.TrimSuffix(strings.TrimSpace(strings.TrimPrefix(first, ui.Name+" is at ")), "/")
	if !strings.HasPrefix(at, scheme+"://127.0.0.1:") {
		t.Fatalf("got the address %s", at)
	}
	for _, p := range app.Pages() {
		answer, err := client.Get(at + p)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil || answer.StatusCode != http.StatusOK || answer.ProtoMajor != version || !bytes.Contains(body, []byte("<h1")) {
			t.Errorf("%s%s: status %d by %s, %d bytes without a heading, %v", at, p, answer.StatusCode, answer.Proto, len(body), err)
		}
	}
	interrupt()
	if got := <-code; got != 0 {
		t.Errorf("got exit code %d after an interrupt", got)
	}
}

// TestPublishTheRealPages publishes every page twice, under a folder, and looks
// for anything that differs or leaves the folder.
func TestPublishTheRealPages(t *testing.T) {
	programs := fakePrograms(t, 100)
	publishers := map[string]bool{}
	for _, s := range rules.Sources() {
		for _, address := range []string{s.Page(), s.Site()} {
			publishers[address] = address != ""
		}
	}
	var sites [2]string
	for i := range sites {
		sites[i] = filepath.Join(t.TempDir(), "site")
		var out, errs bytes.Buffer
		if code := run(t.Context(), []string{"publish", "-prefix", "/sub", "-programs", programs, sites[i]}, &out, &errs); code != 0 {
			t.Fatalf("got exit code %d: %s", code, errs.String())
		}
	}
	for _, p := range append(app.Pages(), "/404.html") {
		name := filepath.Join(p, "index.html")
		if filepath.Ext(p) != "" {
			name = p
		}
		one, err := os.ReadFile(filepath.Join(sites[0], name))
		if err != nil {
			t.Fatal(err)
		}
		two, err := os.ReadFile(filepath.Join(sites[1], name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(one, two) {
			t.Errorf("%s: got different bytes when published again", p)
		}
		// Before any script runs, only the notice is in Spanish.
		_, notice, _ := strings.Cut(string(one), `id="unready"`)
		english, spanish, _ := strings.Cut(notice, `<div lang="es">`)
		if !strings.Contains(spanish, "Ningún educador en seguridad alimentaria") || strings.Contains(english, "educator") {
			t.Errorf("%s: want the notice in Spanish, and no other, to say that nobody has reviewed it", p)
		}
		for _, attribute := range []string{`href="`, `src="`, `srcset="`, `action="`} {
			for _, rest := range strings.Split(string(one), attribute)[1:] {
				address, more, _ := strings.Cut(rest, `"`)
				// The rule book says where a source is found: only somebody who follows
				// the link goes there, and without being told where from.
				if p == "/rules" && publishers[html.UnescapeString(address)] && strings.HasPrefix(more, ` rel="noreferrer"`) {
					continue
				}
				if !strings.HasPrefix(address, "/sub/") && !strings.HasPrefix(address, "#") && address != "?" {
					t.Errorf("%s: %s%s leaves the folder", p, attribute, address)
				}
			}
		}
	}
}
