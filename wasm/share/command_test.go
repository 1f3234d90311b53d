package main

import (
	"context"
	"errors"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"larderlamp/share/phone"
)

// What one phone sends reaches another that waits for news, through another exchange
// of the same log too; when the household is removed, that phone is told.
func TestNews(t *testing.T) {
	t.Parallel()
	c := start(t, "-site", published(t), "-folder", t.TempDir())
	s := newShelf(t, rand.New(rand.NewPCG(1, 1)), c.base, http.DefaultTransport)
	s.join()
	sender, waiter := s.phones[0], s.phones[1]
	s.change(0) // is there before anybody waits
	if _, err := sender.Send(t.Context()); err != nil {
		t.Fatal(err)
	}
	got, over := make(chan phone.Sent), make(chan error, 1)
	go func() {
		over <- waiter.Listen(t.Context(), func(v phone.Sent) bool {
			got <- v
			return true
		})
	}()
	waiter.Receive(<-got)
	for range 50 {
		s.change(0)
		names, err := sender.Send(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for range names {
			waiter.Receive(<-got)
		}
	}
	s.agree()
	// After the phone's place, nothing comes twice.
	again := waiter.Disk.Place
	if list, err := waiter.List(t.Context(), again); len(list) > 0 || err != nil {
		t.Errorf("got %d versions again, %v", len(list), err)
	}
	if err := sender.Remove(t.Context()); err != nil {
		t.Fatal(err)
	}
	err := <-over
	if r, ok := errors.AsType[*phone.Refused](err); !ok || r.Word != "no-household" {
		t.Errorf("the waiting phone: got %v", err)
	}
	for _, err := range []error{sender.Remove(t.Context()), waiter.Catch(t.Context())} {
		if r, ok := errors.AsType[*phone.Refused](err); !ok || r.Word != "no-household" {
			t.Errorf("after the removal: got %v", err)
		}
	}
}

// A command that was killed finds everything again; one that is started from a copy
// of its folder, made on an earlier day, gets from the phones what it lacks.
func TestRestart(t *testing.T) {
	t.Parallel()
	folder, backup := filepath.Join(t.TempDir(), "log"), filepath.Join(t.TempDir(), "backup")
	c := start(t, "-site", published(t), "-folder", folder)
	s := newShelf(t, rand.New(rand.NewPCG(2, 2)), "http://exchange", &anyFront{rand.New(rand.NewPCG(3, 3)), []*command{c}})
	s.join()
	write := func() {
		for range 20 {
			n := s.r.IntN(2)
			s.change(n)
			if _, err := s.phones[n].Send(t.Context()); err != nil {
				t.Fatal(err)
			}
			if s.r.IntN(4) == 0 {
				if err := s.phones[s.r.IntN(2)].Catch(t.Context()); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	again := func(folder string) {
		c.kill()
		c = start(t, "-site", published(t), "-folder", folder)
		s.way.under = &anyFront{s.r, []*command{c}}
	}
	write()
	before, err := everything(t, s.phones[0])
	if err != nil {
		t.Fatal(err)
	}
	again(folder)
	after, err := everything(t, s.phones[0])
	if err != nil || len(after) != len(before) || len(before) == 0 {
		t.Fatalf("got %d versions after a kill, want %d as before, %v", len(after), len(before), err)
	}
	write()
	c.kill()
	if err := os.CopyFS(backup, os.DirFS(folder)); err != nil {
		t.Fatal(err)
	}
	again(folder)
	write() // is not in the copy
	s.agree()
	again(backup)
	s.join()
	s.agree()
}

// Errors in the command line are named.
func TestCommandLine(t *testing.T) {
	t.Parallel()
	site := published(t)
	held := t.TempDir()
	start(t, "-site", site, "-folder", held)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	for _, c := range []struct {
		args string
		code int
		says string
	}{
		{"-h", 0, "Usage: share"},
		{"", 2, "-site"},
		{"-site " + t.TempDir(), 2, "no published site"},
		{"-site " + site + " -addr nowhere", 2, "nowhere"},
		{"-site " + site + " more", 2, `"more" is no flag`},
		{"-site " + site + " -lots", 2, "lots"},
		{"-site " + site + " -folder a -nats b", 2, "one of them"},
		{"-site " + site + " -cert a", 2, "needed together"},
		{"-site " + site + " -host jars.example -cert a -key b", 2, "-host and -cert"},
		{"-site " + site + " -host https://jars.example", 2, "-host https://jars.example: want a name"},
		{"-site " + site + " -host 192.0.2.1", 2, "want a name"},
		{"-site " + site + " -host jars.example -http nowhere", 2, "-http"},
		{"-site " + site + " -http :80", 2, "they need -host"},
		{"-site " + site + " -households 0", 2, "-households 0"},
		{"-site " + site + " -rate 0", 2, "-rate"},
		{"-site " + site + " -folder " + held, 1, "in use"},
		{"-site " + site + " -folder " + file, 1, "folder of the log"},
		{"-site " + site + " -nats nats://127.0.0.1:1", 1, "connect to nats://127.0.0.1:1"},
	} {
		var out, errs strings.Builder
		code := run(stopped, strings.Fields(c.args), &out, &errs)
		if said := out.String() + errs.String(); code != c.code || !strings.Contains(said, c.says) {
			t.Errorf("share %s: got exit code %d and %q, want %d and %q", c.args, code, said, c.code, c.says)
		}
	}
}

// When interrupted, it releases the phones that wait for news and exits cleanly.
func TestInterrupted(t *testing.T) {
	t.Parallel()
	c := start(t, "-site", published(t), "-folder", t.TempDir())
	s := newShelf(t, rand.New(rand.NewPCG(6, 6)), c.base, http.DefaultTransport)
	s.change(0)
	if _, err := s.phones[0].Send(t.Context()); err != nil {
		t.Fatal(err)
	}
	got, over := make(chan phone.Sent), make(chan error, 1)
	go func() {
		over <- s.phones[0].Listen(t.Context(), func(v phone.Sent) bool {
			got <- v
			return true
		})
	}()
	<-got
	if err := c.cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if err := <-over; err != nil {
		t.Errorf("the waiting phone: got %v", err)
	}
	if err := c.wait(); err != nil {
		t.Errorf("%v: %s", err, c.errs)
	}
}

// A log that no longer stores anything is given up, but not for one slow moment.
func TestGivenUp(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		writes int
		long   time.Duration
		over   bool
	}{
		{0, time.Hour, false}, {2, time.Hour, false}, {3, givenUp - 1, false}, {3, givenUp, true}, {100, givenUp, true},
	} {
		look := make(chan time.Time, 1)
		look <- noon.Add(c.long)
		ctx, stop := context.WithCancel(t.Context())
		silent := func() (int, time.Time) {
			if !c.over {
				stop() // nothing more is to be seen
			}
			return c.writes, noon
		}
		if over := watch(ctx, silent, look); over != c.over {
			t.Errorf("%d writes in %v: got given up %v", c.writes, c.long, over)
		}
		stop()
	}
}

// The site is served next to the exchange as it was published.
func TestSite(t *testing.T) {
	t.Parallel()
	c := start(t, "-site", published(t), "-folder", t.TempDir())
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	for _, w := range []struct {
		method, path string
		status       int
		holds        string
	}{
		{"GET", "/", 200, "<title>Larderlamp"},
		{"GET", "/check", 200, "<title>Check"},
		{"GET", "/check/", 200, "<title>Check"},
		{"HEAD", "/", 200, ""},
		{"GET", "/wasm/app.wasm", 200, "\x00asm"},
		{"GET", "/nothing", 404, "<title>Not found"},
		{"GET", "/_headers", 404, "Not found"},
		{"GET", "/nginx.conf", 404, "Not found"},
		{"GET", "/.larderlamp-site", 404, "Not found"},
		{"GET", "/wasm/../nginx.conf", 404, "Not found"},
		{"GET", "/../../etc/passwd", 404, "Not found"},
		{"POST", "/", 405, "only GET and HEAD"},
		{"GET", "/exchange/1", 200, `"exchange":1`},
	} {
		r, err := http.NewRequest(w.method, c.base+w.path, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Accept-Encoding", "identity")
		answer, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil || answer.StatusCode != w.status || !strings.Contains(string(body), w.holds) {
			t.Errorf("%s %s: got %d %q, %v; want %d %q", w.method, w.path, answer.StatusCode, body, err, w.status, w.holds)
		}
		ours := strings.HasPrefix(w.path, "/exchange/")
		if got := answer.Header.Get("Content-Security-Policy"); (got == "default-src 'self'") == ours {
			t.Errorf("%s %s: got the policy %q", w.method, w.path, got)
		}
	}
	r, _ := http.NewRequest("GET", c.base+"/wasm/app.wasm", nil)
	r.Header.Set("Accept-Encoding", "br")
	answer, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if body, _ := io.ReadAll(answer.Body); string(body) != "packed" || answer.Header.Get("Content-Encoding") != "br" {
		t.Errorf("the packed program: %q, %v", body, answer.Header)
	}
}

// A site below a folder of its host has its exchange there too.
func TestPrefix(t *testing.T) {
	t.Parallel()
	dir := published(t)
	headers := "/larder/*\n  Cache-Control: no-cache\n"
	if err := os.WriteFile(filepath.Join(dir, "_headers"), []byte(headers), 0o644); err != nil {
		t.Fatal(err)
	}
	c := start(t, "-site", dir, "-folder", t.TempDir())
	for path, status := range map[string]int{"/larder/exchange/1": 200, "/exchange/1": 404, "/larder/check": 200, "/check": 404, "/larder": 302, "/": 302} {
		client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
		answer, err := client.Get(strings.TrimSuffix(c.base, "/larder") + path)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		if answer.StatusCode != status {
			t.Errorf("%s: got %d, want %d", path, answer.StatusCode, status)
		}
	}
	if !strings.HasSuffix(c.base, "/larder") {
		t.Errorf("got the address %s", c.base)
	}
	s := newShelf(t, rand.New(rand.NewPCG(4, 4)), c.base, http.DefaultTransport)
	s.change(0)
	s.agree()
}

// The plain site has nothing of the exchange in it: neither its command nor the
// program of its pages knows the log.
func TestPlainSiteIsFree(t *testing.T) {
	t.Parallel()
	for _, system := range []string{"", "js"} {
		list := exec.Command("go", "list", "-deps", "./wasm/site", "./wasm/hosting")
		if system != "" {
			list = exec.Command("go", "list", "-deps", "./wasm/browser")
			list.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
		}
		list.Dir = "../.."
		out, err := list.CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		if !strings.Contains(string(out), "larderlamp/app\n") {
			t.Fatalf("got something other than the site:\n%.300s", out)
		}
		for _, none := range []string{"nats", "larderlamp/share"} {
			if strings.Contains(string(out), none) {
				t.Errorf("%q is in the site", none)
			}
		}
	}
}

// What the exchange keeps of a household tells neither its secret nor its token,
// kinds, ids or words.
func TestWhatTheExchangeSees(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	c := start(t, "-site", published(t), "-folder", folder)
	s := newShelf(t, rand.New(rand.NewPCG(5, 5)), c.base, http.DefaultTransport)
	for range 60 {
		s.change(0)
	}
	s.agree()
	c.kill()
	keys, err := s.secret.Keys()
	if err != nil {
		t.Fatal(err)
	}
	secrets := []string{keys.Token, string(s.secret[:]), s.secret.Invitation(), "peaches", "green-beans", "Cellar", "revision"}
	for key := range s.made {
		kind, id, _ := strings.Cut(key, "/")
		secrets = append(secrets, id, `"`+kind+`"`, kind+"\n")
	}
	seen := ""
	err = filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		seen += path + "\n" + string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(seen, keys.Household) {
		t.Fatal("the household is not in these files: the test looks in the wrong place")
	}
	for _, word := range secrets {
		if strings.Contains(seen, word) {
			t.Errorf("got %q in the files of the exchange", word)
		}
	}
	if said := c.errs.String(); said != "" {
		t.Errorf("got %q printed", said)
	}
}
