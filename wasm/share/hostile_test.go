package main

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/share/exchange"
	"larderlamp/share/phone"
	"larderlamp/share/sealed"
)

// liar sits in front of a working exchange and answers as it likes: with another
// household's versions, with old answers, in another order, cut off, with changed
// bytes, with other names, with a web page, or with nothing.
type liar struct {
	ideal
	r      *rand.Rand
	honest bool
	others []phone.Sent // of another household
	seen   []phone.Sent
}

func (l *liar) RoundTrip(r *http.Request) (*http.Response, error) {
	answer, err := l.ideal.RoundTrip(r)
	if err != nil || l.honest || r.Method != "GET" {
		return answer, err
	}
	say := func(status int, kind, body string) *http.Response {
		return &http.Response{StatusCode: status, Header: http.Header{"Content-Type": {kind}}, ContentLength: int64(len(body)), Body: io.NopCloser(strings.NewReader(body))}
	}
	switch l.r.IntN(4) {
	case 0:
		if l.r.IntN(2) == 0 {
			return say(200, "text/html", "<!doctype html><title>Welcome to our hotel</title>"), nil
		}
		return say(200, "application/json", []string{"{}", "[]", "null", `{"versions":null}`, `{"versions":[{}]}`, `{"versions":[{"place":7}]}`, `{"versions":`}[l.r.IntN(7)]), nil
	case 1:
		return answer, nil
	}
	var got struct {
		Versions []phone.Sent `json:"versions"`
	}
	if err := json.NewDecoder(answer.Body).Decode(&got); err != nil {
		return nil, err
	}
	l.seen = append(l.seen, got.Versions...)
	list := got.Versions
	pick := func(from []phone.Sent) phone.Sent { return from[l.r.IntN(len(from))] }
	for range 1 + l.r.IntN(3) {
		list = append(list, pick(l.others))
		if len(l.seen) > 0 {
			list = append(list, pick(l.seen))
			changed := pick(l.seen)
			changed.Sealed = bytes.Clone(changed.Sealed)
			changed.Sealed[l.r.IntN(len(changed.Sealed))] ^= byte(1 + l.r.IntN(255))
			swapped := pick(l.seen)
			swapped.Name = pick(l.others).Name
			short := pick(l.seen)
			short.Sealed = short.Sealed[:l.r.IntN(len(short.Sealed))]
			list = append(list, changed, swapped, short)
		}
	}
	l.r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	list = list[:l.r.IntN(len(list)+1)]
	body, err := json.Marshal(map[string]any{"versions": list})
	return say(200, "application/json", string(body)), err
}

// A lying exchange can withhold or repeat versions. It cannot add anything to a
// shelf that the household did not make, or remove anything, and once an honest
// exchange replaces it, all phones agree.
func TestHostileExchange(t *testing.T) {
	t.Parallel()
	other, err := sealed.NewSecret().Keys()
	if err != nil {
		t.Fatal(err)
	}
	var others []phone.Sent
	for i := range 5 {
		name, version, err := other.Seal("places", fmt.Appendf(nil, `{"name":"theirs %d"}`, i))
		if err != nil {
			t.Fatal(err)
		}
		others = append(others, phone.Sent{Place: fmt.Sprint(900+i, ".1"), Name: name, Sealed: version})
	}
	wrong := 0
	for seed := range uint64(number(t, "DRAWS", 100)) {
		r := rand.New(rand.NewPCG(seed, 7))
		l := &liar{r: r, others: others}
		s := newShelf(t, r, "http://exchange", l)
		s.join()
		s.join()
		for range 80 {
			s.step(t.Context())
		}
		for n, p := range s.phones {
			for key := range p.Disk.Shelf {
				if s.made[key] == nil {
					t.Fatalf("seed %d: phone %d: got %s, which nobody made", seed, n+1, key)
				}
			}
			wrong += p.Disk.Wrong
			p.Disk.Wrong = 0
		}
		l.honest = true
		for _, p := range s.phones {
			p.Disk.Place = "" // as after joining again: what was withheld comes now
		}
		s.agree()
	}
	if wrong < 100 {
		t.Errorf("got only %d versions that did not open, want at least 100", wrong)
	}
}

// asks sends a request that is not a phone's.
func asks(t *testing.T, method, url, token string, body io.Reader) (int, string) {
	t.Helper()
	r, err := http.NewRequest(method, url, body)
	if err != nil {
		t.Fatal(err)
	}
	if token != "" {
		r.Header.Set("Authorization", "Bearer "+token)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return 0, err.Error()
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		return 0, err.Error()
	}
	return answer.StatusCode, string(text)
}

// Requests that guess, flood, send too much or send what does not open are refused
// with a reason, and the household goes on as if nothing had happened.
func TestHostileClients(t *testing.T) {
	t.Parallel()
	c := start(t, "-site", published(t), "-folder", t.TempDir(), "-households", "2", "-founding", "100")
	s := newShelf(t, rand.New(rand.NewPCG(8, 8)), c.base, http.DefaultTransport)
	s.join()
	s.change(0)
	s.agree()
	keys, err := s.secret.Keys()
	if err != nil {
		t.Fatal(err)
	}
	stranger, err := sealed.NewSecret().Keys()
	if err != nil {
		t.Fatal(err)
	}
	home := c.base + "/exchange/1/" + keys.Household
	name, version, err := keys.Seal("jars", []byte("{}"))
	if err != nil {
		t.Fatal(err)
	}
	theirName, theirVersion, err := stranger.Seal("jars", []byte("{}"))
	if err != nil {
		t.Fatal(err)
	}
	put := home + "/versions/" + name
	guess := []byte(keys.Token)
	if guess[20] == 'A' {
		guess[20] = 'B'
	} else {
		guess[20] = 'A'
	}
	for _, w := range []struct {
		what, method, url, token string
		body                     []byte
		status                   int
		word                     string
	}{
		{"no token", "PUT", put, "", version, 401, "no-token"},
		{"half a token", "PUT", put, keys.Token[:21], version, 401, "no-token"},
		{"a guess", "PUT", put, string(guess), version, 403, "wrong-token"},
		{"a stranger's token", "GET", home + "/versions", stranger.Token, nil, 403, "wrong-token"},
		{"a stranger's token", "GET", home + "/news", stranger.Token, nil, 403, "wrong-token"},
		{"a stranger's token", "DELETE", home, stranger.Token, nil, 403, "wrong-token"},
		{"taking a household over", "PUT", home, stranger.Token, nil, 403, "wrong-token"},
		{"a household that is not there", "GET", c.base + "/exchange/1/" + stranger.Household + "/versions", stranger.Token, nil, 404, "no-household"},
		{"all households", "GET", c.base + "/exchange/1/*/versions", keys.Token, nil, 404, "no-address"},
		{"all households", "GET", c.base + "/exchange/1/%3E/versions", keys.Token, nil, 404, "no-address"},
		{"all names", "PUT", home + "/versions/*", keys.Token, version, 404, "no-address"},
		{"a name with a dot", "PUT", home + "/versions/a.b", keys.Token, version, 404, "no-address"},
		{"a name with other last bits", "PUT", home + "/versions/" + strings.Repeat("A", 42) + "_", keys.Token, version, 404, "no-address"},
		{"outside", "GET", home + "/../../../_headers", keys.Token, nil, 404, "no-address"},
		{"nothing there", "GET", c.base + "/exchange/2", "", nil, 404, "no-address"},
		{"no method for it", "POST", put, keys.Token, version, 405, "no-method"},
		{"no method for it", "DELETE", put, keys.Token, nil, 405, "no-method"},
		{"nothing", "PUT", put, keys.Token, nil, 400, "not-sealed"},
		{"between two sizes", "PUT", put, keys.Token, version[:1000], 400, "not-sealed"},
		{"another form", "PUT", put, keys.Token, make([]byte, 1024), 400, "not-sealed"},
		{"a record in the clear", "PUT", put, keys.Token, []byte(`{"version":1}`), 400, "not-sealed"},
		{"too much", "PUT", put, keys.Token, make([]byte, exchange.Largest+1), 413, "too-large"},
		{"after nothing", "GET", home + "/versions?after=x", keys.Token, nil, 400, "no-place"},
		{"after the end", "GET", home + "/versions?after=99.1", keys.Token, nil, 410, "place-gone"},
		{"after what is too far", "GET", home + "/versions?after=18446744073709551615.1", keys.Token, nil, 400, "no-place"},
		{"after another time", "GET", home + "/versions?after=1.1", keys.Token, nil, 410, "place-gone"},
		{"a second household", "PUT", c.base + "/exchange/1/" + stranger.Household, stranger.Token, nil, 201, "founded"},
		{"it once more", "PUT", c.base + "/exchange/1/" + stranger.Household, stranger.Token, nil, 200, "founded"},
		{"a household too many", "PUT", c.base + "/exchange/1/" + strings.Repeat("A", 22), stranger.Token, nil, 507, "no-more-households"},
		{"a stranger's place", "GET", c.base + "/exchange/1/" + stranger.Household + "/versions?after=" + s.phones[0].Disk.Place, stranger.Token, nil, 410, "place-gone"},
	} {
		status, text := asks(t, w.method, w.url, w.token, bytes.NewReader(w.body))
		if status != w.status || !strings.Contains(text, `"`+w.word+`"`) {
			t.Errorf("%s, %s: got %d %s, want %d %s", w.what, w.method, status, text, w.status, w.word)
		}
		for _, private := range []string{keys.Token, keys.Household, "nats", "HOUSEHOLDS", "VERSIONS"} {
			if strings.Contains(text, private) {
				t.Errorf("%s: got an answer that reveals %q: %s", w.what, private, text)
			}
		}
	}

	// A gigabyte, announced or not, is refused without being read.
	for _, announced := range []bool{true, false} {
		zeros := &endless{left: 1 << 30}
		r, err := http.NewRequest("PUT", put, zeros)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Authorization", "Bearer "+keys.Token)
		if announced {
			r.ContentLength = zeros.left
		}
		answer, err := http.DefaultClient.Do(r)
		if err == nil { // it may as well hang up
			if answer.Body.Close(); answer.StatusCode != 413 {
				t.Errorf("a gigabyte: got status %d", answer.StatusCode)
			}
		}
		if took := 1<<30 - zeros.left; took > 64<<20 {
			t.Errorf("a gigabyte: got %d bytes accepted", took)
		}
	}

	// Endless headers, and input that is not HTTP, have no effect.
	for _, raw := range []string{
		"GET /exchange/1 HTTP/1.1\r\nHost: x\r\nX: " + strings.Repeat("x", 1<<17) + "\r\n\r\n",
		"\x16\x03\x01\x02\x00\x01\x00", "GET\r\n\r\n", "CONNECT / HTTP/1.1\r\n\r\n",
	} {
		conn, err := net.Dial("tcp", strings.TrimPrefix(c.base, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		conn.SetDeadline(time.Now().Add(time.Minute))
		io.WriteString(conn, raw) // it may hang up before all is sent
		if line, err := bufio.NewReader(conn).ReadString('\n'); err == nil && !strings.Contains(line, " 4") {
			t.Errorf("%.20q: got the answer %q", raw, line)
		}
		conn.Close()
	}

	// A member whose versions do not open spoils nothing for the others.
	for i := range 3 {
		junk := bytes.Clone(theirVersion)
		junk[500+i] ^= 1
		called := base64.RawURLEncoding.EncodeToString(bytes.Repeat([]byte{byte(i)}, 32))
		if status, text := asks(t, "PUT", home+"/versions/"+called, keys.Token, bytes.NewReader(junk)); status != 201 {
			t.Errorf("%d %s", status, text)
		}
	}
	if status, text := asks(t, "PUT", home+"/versions/"+theirName, keys.Token, bytes.NewReader(theirVersion)); status != 201 {
		t.Errorf("%d %s", status, text)
	}
	s.change(1)
	for _, p := range s.phones {
		if _, err := p.Send(t.Context()); err != nil {
			t.Fatal(err)
		}
		if err := p.Catch(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	for n, p := range s.phones {
		if p.Disk.Wrong != 4 {
			t.Errorf("phone %d: got %d versions that do not open, want 4", n+1, p.Disk.Wrong)
		}
		p.Disk.Wrong = 0
	}
	s.agree()
}

// endless is a body of zeros.
type endless struct{ left int64 }

func (e *endless) Read(p []byte) (int, error) {
	n := min(int64(len(p)), e.left)
	e.left -= n
	if n == 0 {
		return 0, io.EOF
	}
	clear(p[:n])
	return int(n), nil
}

// Each limit has its own refusal, keeps what is stored, and does not affect any
// other household.
func TestLimits(t *testing.T) {
	t.Parallel()
	flood := func(t *testing.T, base string, secret sealed.Secret) (stored int, word string) {
		t.Helper()
		p, err := phone.New(secret, base, http.DefaultClient)
		if err != nil {
			t.Fatal(err)
		}
		if err := p.Found(t.Context()); err != nil {
			t.Fatal(err)
		}
		keys, err := secret.Keys()
		if err != nil {
			t.Fatal(err)
		}
		for {
			name, version, err := keys.Seal("jars", fmt.Appendf(nil, `{"id":"%d"}`, stored))
			if err != nil {
				t.Fatal(err)
			}
			if _, err := p.Put(t.Context(), name, version); err != nil {
				r, ok := err.(*phone.Refused)
				if !ok {
					t.Fatal(err)
				}
				list, err := everything(t, p)
				if err != nil || len(list) != stored {
					t.Errorf("got %d versions, %v; want %d", len(list), err, stored)
				}
				return stored, r.Word
			}
			stored++
			if stored == 1 { // the same again takes no room
				for range 3 {
					if _, err := p.Put(t.Context(), name, version); err != nil {
						t.Error(err)
					}
				}
			}
		}
	}
	for _, w := range []struct {
		flags    string
		versions []int // of each of two households; -1 is any number
		word     string
	}{
		{"-household-versions 5", []int{5, 5}, "household-full"},
		{"-household-bytes 7500", []int{7, 7}, "household-full"},
		{"-bytes 20000", []int{-1, 0}, "exchange-full"},
		{"-rate 0.000001 -burst 6", []int{3, 3}, "too-fast"},
	} {
		c := start(t, append([]string{"-site", published(t), "-folder", t.TempDir()}, strings.Fields(w.flags)...)...)
		for i, want := range w.versions {
			stored, word := flood(t, c.base, sealed.NewSecret())
			if word != w.word || want >= 0 && stored != want || want < 0 && stored == 0 {
				t.Errorf("%s: household %d: got %d versions, then %s; want %d, %s", w.flags, i+1, stored, word, want, w.word)
			}
		}
	}

	// A limited number of phones may wait, and another one when one leaves.
	c := start(t, "-site", published(t), "-folder", t.TempDir(), "-phones", "2")
	s := newShelf(t, rand.New(rand.NewPCG(9, 9)), c.base, http.DefaultTransport)
	s.change(0)
	if _, err := s.phones[0].Send(t.Context()); err != nil {
		t.Fatal(err)
	}
	hold, waiting, over := make(chan bool), make(chan bool), make(chan error)
	listen := func() {
		over <- s.phones[0].Listen(t.Context(), func(phone.Sent) bool {
			waiting <- true
			return <-hold
		})
	}
	for range 2 {
		go listen()
		<-waiting
	}
	go listen()
	if err := <-over; err == nil || !strings.Contains(err.Error(), "503") {
		t.Errorf("one phone too many: got %v", err)
	}
	hold <- false
	if err := <-over; err != nil {
		t.Error(err)
	}
	eventually(t, "nobody takes the place that is free", func() error {
		go listen()
		select {
		case <-waiting:
			return nil
		case err := <-over:
			return err
		}
	})
	for range 2 {
		hold <- false
		<-over
	}
}

// The sizes that phones seal to are those that the exchange takes.
func TestSizes(t *testing.T) {
	t.Parallel()
	if !slices.Equal(exchange.Sizes, sealed.Steps) {
		t.Errorf("got the sizes %d in the exchange, want %d as on the phones", exchange.Sizes, sealed.Steps)
	}
}
