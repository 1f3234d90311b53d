package main

import (
	"bytes"
	"encoding/json"
	"testing"

	"larderlamp/wasm/notices"
)

// Everything that is shipped has its license in the file.
func TestNothingIsMissing(t *testing.T) {
	t.Chdir("../../..")
	want, err := collect()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(notices.File, want) {
		t.Error("wasm/notices/notices.json is not what is shipped; run: make build")
	}
	var all []notice
	if err := json.Unmarshal(notices.File, &all); err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for _, n := range all {
		if len(n.License) < 200 {
			t.Errorf("%s: got the license %q", n.Name, n.License)
		}
		found[n.Name] = true
	}
	for _, name := range []string{"Go", "github.com/maxence-charriere/go-app/v10", "github.com/hack-pad/go-indexeddb", "github.com/google/uuid", "rsc.io/qr"} {
		if !found[name] {
			t.Errorf("%s is shipped but missing from the file", name)
		}
	}
}
