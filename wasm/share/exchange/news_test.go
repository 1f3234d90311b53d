package exchange

import (
	"bufio"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"larderlamp/share/sealed"
)

// A request for news may wait as long as it takes, far longer than a body may.
func TestNewsLasts(t *testing.T) {
	log := &memory{digests: map[string][]byte{}, news: make(chan uint64)}
	limits := Usual
	limits.Receive = 20 * time.Millisecond
	x, err := New(log, limits, make(chan struct{}))
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(x)
	t.Cleanup(server.Close) // after the answers are closed, which it waits for
	keys, err := sealed.NewSecret().Keys()
	if err != nil {
		t.Fatal(err)
	}
	home := server.URL + "/exchange/1/" + keys.Household
	ask := func(method, url string) *http.Response {
		t.Helper()
		r, err := http.NewRequestWithContext(t.Context(), method, url, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Authorization", "Bearer "+keys.Token)
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { answer.Body.Close() })
		return answer
	}
	ask("PUT", home)
	news := bufio.NewScanner(ask("GET", home+"/news").Body)
	time.Sleep(10 * limits.Receive)
	name, version, err := keys.Seal("jars", []byte("{}"))
	if err != nil {
		t.Fatal(err)
	}
	number, _, err := log.Put(t.Context(), keys.Household, name, version)
	if err != nil {
		t.Fatal(err)
	}
	select {
	case log.news <- number:
	case <-time.After(time.Minute):
		t.Fatal("got no phone waiting for news")
	}
	for news.Scan() {
		if strings.Contains(news.Text(), name) {
			return
		}
	}
	t.Errorf("the news ended: %v", news.Err())
}
