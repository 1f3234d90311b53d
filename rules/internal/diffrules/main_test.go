package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

const small = `{"edition":"1","signs":[
	{"id":"lid","values":["down","flat","bulging"]},{"id":"recipe","values":["published","other"]},{"id":"rust","values":["none","spots"]},{"id":"backing","values":["tested","other"]}],
	"rules":[
	{"id":"keep","kind":"support","then":"keep","when":{"recipe":["published"]}},
	{"id":"soon","kind":"support","then":"use-soon","when":{"recipe":["published","other"]}},
	{"id":"lid","kind":"restriction","then":"discard","when":{"lid":["bulging"]}},
	{"id":"rust","kind":"restriction","then":"discard","when":{"rust":["spots"],"backing":["other"]}},
	{"id":"word","kind":"note","when":{"lid":["flat"]}}]}`

func edition(t *testing.T, text string) *book {
	t.Helper()
	var b book
	if err := json.Unmarshal([]byte(text), &b); err != nil {
		t.Fatal(err)
	}
	return &b
}

func diff(t *testing.T, old, now string) string {
	t.Helper()
	var out bytes.Buffer
	if err := compare(&out, edition(t, old), edition(t, now)); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// There are only 12 situations, few enough to count by hand.
func TestCompare(t *testing.T) {
	if got := diff(t, small, small); !strings.Contains(got, "0 situations became milder") || !strings.Contains(got, "0 situations became stricter") {
		t.Errorf("the same edition twice: got %s", got)
	}
	// A flat lid is discarded too: of 4 situations with a flat lid, the one of
	// another recipe with rust was discarded before.
	stricter := strings.Replace(small, `["bulging"]`, `["bulging","flat"]`, 1)
	if got := diff(t, small, stricter); !strings.Contains(got, "0 situations became milder") || !strings.Contains(got, "3 situations became stricter") || !strings.Contains(got, "by: lid\n") || !strings.Contains(got, "lid=flat") {
		t.Errorf("stricter: got %s", got)
	}
	if got := diff(t, stricter, small); !strings.Contains(got, "3 situations became milder") || !strings.Contains(got, "0 situations became stricter") {
		t.Errorf("milder: got %s", got)
	}
	// Rust on any jar: 2 situations of the published recipe that were kept.
	rust := strings.Replace(small, `"rust":["spots"],"backing":["other"]`, `"rust":["spots"]`, 1)
	if got := diff(t, small, rust); !strings.Contains(got, "2 situations became stricter") {
		t.Errorf("rust: got %s", got)
	}
	// A value that only the new edition knows counts as a situation of both.
	more := strings.Replace(small, `"spots"]},`, `"spots","holes"]},`, 1)
	if got := diff(t, small, more); !strings.Contains(got, "0 situations became milder") {
		t.Errorf("a new value: got %s", got)
	}
	var out bytes.Buffer
	broken := strings.Replace(small, `"when":{"lid":["bulging"]}`, `"when":{"lid":["swollen"]}`, 1)
	if err := compare(&out, edition(t, small), edition(t, broken)); err == nil || !strings.Contains(err.Error(), "swollen") {
		t.Errorf("an unknown value: got the error %v", err)
	}
}
