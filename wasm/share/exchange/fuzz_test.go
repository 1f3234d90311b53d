package exchange

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"larderlamp/share/sealed"
)

// Every request of any kind is answered in JSON, with a reason when it is refused,
// and changes nothing in a household whose token it does not have.
func FuzzRequest(f *testing.F) {
	j := &memory{digests: map[string][]byte{}}
	limits := Usual
	limits.Founding, limits.Rate, limits.Burst = 1e9, 1e9, 1e9
	ended := make(chan struct{})
	close(ended) // a request for news gets what there is
	x, err := New(j, limits, ended)
	if err != nil {
		f.Fatal(err)
	}
	var ours sealed.Secret
	keys, err := ours.Keys()
	if err != nil {
		f.Fatal(err)
	}
	stranger, err := sealed.Secret{1}.Keys()
	if err != nil {
		f.Fatal(err)
	}
	name, version, err := keys.Seal("jars", []byte("{}"))
	if err != nil {
		f.Fatal(err)
	}
	ask := func(method, path, token string, body []byte) *httptest.ResponseRecorder {
		to, err := url.ParseRequestURI(path)
		if err != nil {
			return nil
		}
		r := httptest.NewRequest("GET", "/", bytes.NewReader(body))
		r.Method, r.URL, r.RequestURI = method, to, path
		r.Header.Set("Authorization", token)
		w := httptest.NewRecorder()
		x.ServeHTTP(w, r)
		return w
	}
	home := "/exchange/1/" + keys.Household
	if w := ask("PUT", home, "Bearer "+keys.Token, nil); w.Code != http.StatusCreated {
		f.Fatal(w)
	}
	if w := ask("PUT", home+"/versions/"+name, "Bearer "+keys.Token, version); w.Code != http.StatusCreated {
		f.Fatal(w)
	}
	for _, method := range []string{"GET", "PUT", "DELETE", "POST", "HEAD", ""} {
		for _, path := range []string{"/exchange/1", home, home + "/versions", home + "/versions?after=1.1", home + "/versions/" + name, home + "/news", home + "//versions", "/exchange/1/../1", "/exchange/1/%2a/versions"} {
			f.Add(method, path, "Bearer "+stranger.Token, version)
			f.Add(method, path, "", []byte("x"))
		}
	}
	f.Add("PUT", "/exchange/1/"+stranger.Household, "Bearer "+stranger.Token, []byte(nil))
	f.Add("PUT", "/exchange/1/"+stranger.Household+"/versions/"+name, "Bearer "+stranger.Token, version)
	f.Fuzz(func(t *testing.T, method, path, token string, body []byte) {
		if strings.Contains(token, keys.Token) || !strings.HasPrefix(path, "/") {
			return
		}
		w := ask(method, path, token, body)
		if w == nil {
			return
		}
		if w.Code >= 500 && w.Code != http.StatusInsufficientStorage {
			t.Errorf("%s %s: %d %s", method, path, w.Code, w.Body)
		}
		if text := w.Body.Bytes(); len(text) > 0 && w.Header().Get("Content-Type") != "text/event-stream" {
			var said refusal
			if err := json.Unmarshal(text, &said); err != nil {
				t.Errorf("%s %s: %d %s", method, path, w.Code, text)
			}
			if w.Code >= 400 && (said.Word == "" || said.Say == "") {
				t.Errorf("%s %s: no reason is given: %d %s", method, path, w.Code, text)
			}
		}
		if count, _, err := j.Count(t.Context(), keys.Household); count != 1 || err != nil {
			t.Fatalf("%s %s: the household has %d versions, %v", method, path, count, err)
		}
		if _, err := j.Digest(t.Context(), keys.Household); err != nil {
			t.Fatalf("%s %s: the household: %v", method, path, err)
		}
	})
}
