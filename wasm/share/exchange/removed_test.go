package exchange

import (
	"bytes"
	"context"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"larderlamp/share/sealed"
)

// deaf is a log that tells of no removal until it is asked to.
type deaf struct {
	*memory
	tell func(string)
}

func (d *deaf) WhenRemoved(f func(string)) error {
	d.tell = f
	return nil
}

// Of a household that is removed, also by another exchange, nothing stays behind: not
// what is stored while it is removed, nor what is stored before this exchange is told.
func TestNothingStaysBehind(t *testing.T) {
	keys, err := sealed.NewSecret().Keys()
	if err != nil {
		t.Fatal(err)
	}
	home := "/exchange/1/" + keys.Household
	for what, while := range map[string]func(d *deaf, put func() int){
		"removed while it is stored": func(d *deaf, put func() int) {
			d.putting = func() {
				d.Remove(t.Context(), keys.Household)
				d.tell(keys.Household)
			}
			if code := put(); code != http.StatusNotFound {
				t.Errorf("stored while it is removed: got status %d, want %d", code, http.StatusNotFound)
			}
		},
		"told after it was stored": func(d *deaf, put func() int) {
			d.Remove(t.Context(), keys.Household)
			if code := put(); code != http.StatusCreated {
				t.Errorf("before it is told: got status %d, want %d", code, http.StatusCreated)
			}
			d.tell(keys.Household)
		},
	} {
		d := &deaf{memory: &memory{digests: map[string][]byte{}}}
		x, err := New(d, Usual, make(chan struct{}))
		if err != nil {
			t.Fatal(err)
		}
		ask := func(path string, body []byte) int {
			r := httptest.NewRequest("PUT", path, bytes.NewReader(body))
			r.Header.Set("Authorization", "Bearer "+keys.Token)
			w := httptest.NewRecorder()
			x.ServeHTTP(w, r)
			return w.Code
		}
		put := func() int {
			name, version, err := keys.Seal("jars", []byte("{}"))
			if err != nil {
				t.Fatal(err)
			}
			return ask(home+"/versions/"+name, version)
		}
		ask(home, nil)
		if code := put(); code != http.StatusCreated { // the exchange knows the household
			t.Fatalf("got status %d", code)
		}
		for _, v := range d.of(keys.Household) {
			d.Forget(t.Context(), keys.Household, []uint64{v.Number})
		}
		while(d, put)
		within, done := context.WithTimeout(t.Context(), time.Minute)
		for len(d.of(keys.Household)) > 0 {
			if within.Err() != nil {
				t.Fatalf("%s: %d versions stay behind", what, len(d.of(keys.Household)))
			}
			time.Sleep(time.Millisecond)
		}
		done()
	}
}
