package sealed

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
)

const vectorsFile = "../../../testdata/exchange/vectors.json"

var update = flag.Bool("update", false, "write the test vectors anew")

// vectors are what another implementation is tested against.
type vectors struct {
	Households []household `json:"households"`
	Refused    []refused   `json:"refused"`
}

type household struct {
	Secret     string    `json:"secret"` // bytes in hexadecimal, as all of the others
	Invitation string    `json:"invitation"`
	Household  string    `json:"household"`
	Token      string    `json:"token"`
	Versions   []version `json:"versions"`
}

// version is one that is sealed with the nonce that is given, which a phone never
// chooses itself.
type version struct {
	Kind   string `json:"kind"`
	Text   string `json:"text"`
	Repeat int    `json:"repeat,omitempty"` // how many times the text stands there
	Nonce  string `json:"nonce"`
	Name   string `json:"name"`
	Size   int    `json:"size"`
	Sealed string `json:"sealed,omitempty"` // of those in the smallest step
	Digest string `json:"digest"`           // SHA-256 of the sealed version
}

// refused is a version of the first household that must not open.
type refused struct {
	Why    string `json:"why"`
	Name   string `json:"name"`
	Sealed string `json:"sealed"`
}

// draft is what the vectors are made of.
func draft(t *testing.T) vectors {
	t.Helper()
	var secrets [2]Secret
	for i := range secrets[0] {
		secrets[0][i], secrets[1][i] = byte(i), byte(255-7*i)
	}
	largest := Steps[len(Steps)-1] - around - len("photos\n")
	texts := []version{
		{Kind: "jars", Text: `{"version":1,"id":"01938b5a-0000-7000-8000-000000000001","label":"Pears, 2nd shelf"}`},
		{Kind: "places", Text: `{"name":"Kellerregal über der Tür · полка · 棚 🫙"}`},
		{Kind: "checks", Text: ""},
		{Kind: "batches", Text: "x", Repeat: Steps[0] - around - len("batches\n")},
		{Kind: "batches", Text: "x", Repeat: Steps[0] - around - len("batches\n") + 1},
		{Kind: "photos", Text: "/", Repeat: largest},
	}
	var v vectors
	for n, s := range secrets {
		k, err := s.Keys()
		if err != nil {
			t.Fatal(err)
		}
		h := household{Secret: hex.EncodeToString(s[:]), Invitation: s.Invitation(), Household: k.Household, Token: k.Token}
		for i, w := range texts {
			nonce := bytes.Repeat([]byte{byte(16*n + i + 1)}, nonceSize)
			w.Nonce = hex.EncodeToString(nonce)
			name, sealed, err := k.sealWith(nonce, w.Kind, w.text())
			if err != nil {
				t.Fatal(err)
			}
			w.Name, w.Size, w.Digest = name, len(sealed), digest(sealed)
			if len(sealed) == Steps[0] {
				w.Sealed = hex.EncodeToString(sealed)
			}
			h.Versions = append(h.Versions, w)
		}
		v.Households = append(v.Households, h)
	}
	first, second := v.Households[0].Versions, v.Households[1].Versions
	sealed, err := hex.DecodeString(first[0].Sealed)
	if err != nil {
		t.Fatal(err)
	}
	put := func(why, name string, version []byte) {
		v.Refused = append(v.Refused, refused{why, name, hex.EncodeToString(version)})
	}
	changed := func(at int) []byte {
		c := bytes.Clone(sealed)
		c[at] ^= 1
		return c
	}
	put("another form", first[0].Name, changed(0))
	put("another nonce", first[0].Name, changed(1))
	put("a changed byte", first[0].Name, changed(500))
	put("a changed tag", first[0].Name, changed(len(sealed)-1))
	put("cut off", first[0].Name, sealed[:512])
	put("nothing", first[0].Name, nil)
	put("something added", first[0].Name, append(bytes.Clone(sealed), 0))
	put("the name of another version", first[1].Name, sealed)
	put("no name", "", sealed)
	put("a name with other last bits", first[0].Name[:42]+"_", sealed)
	put("a page instead", first[0].Name, []byte("<!doctype html><title>Welcome to our hotel</title><p>Please sign in to use the network."))
	other, err := hex.DecodeString(second[0].Sealed)
	if err != nil {
		t.Fatal(err)
	}
	put("another household", second[0].Name, other)
	return v
}

func (w version) text() []byte { return bytes.Repeat([]byte(w.Text), max(w.Repeat, 1)) }

func read(t *testing.T) vectors {
	t.Helper()
	text, err := os.ReadFile(vectorsFile)
	if err != nil {
		t.Fatal(err)
	}
	var v vectors
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// The vectors are what this implementation seals, and it opens them.
func TestVectors(t *testing.T) {
	drawn, err := json.MarshalIndent(draft(t), "", " ")
	if err != nil {
		t.Fatal(err)
	}
	drawn = append(drawn, '\n')
	if *update {
		if err := os.WriteFile(vectorsFile, drawn, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	stored, err := os.ReadFile(vectorsFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(stored, drawn) {
		t.Fatal("got sealed bytes that differ from the vectors: a change of the form needs a new number")
	}
	v := read(t)
	var first *Keys
	for _, h := range v.Households {
		secret, err := ReadInvitation(h.Invitation)
		if err != nil || hex.EncodeToString(secret[:]) != h.Secret {
			t.Fatalf("invitation %s: %x, %v", h.Invitation, secret, err)
		}
		k, err := secret.Keys()
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = k
		}
		for i, w := range h.Versions {
			if w.Sealed == "" {
				continue
			}
			sealed, err := hex.DecodeString(w.Sealed)
			if err != nil {
				t.Fatal(err)
			}
			kind, text, err := k.Open(w.Name, sealed)
			if err != nil || kind != w.Kind || !bytes.Equal(text, w.text()) {
				t.Errorf("version %d: %q, %q, %v", i+1, kind, text, err)
			}
		}
	}
	for _, r := range v.Refused {
		sealed, err := hex.DecodeString(r.Sealed)
		if err != nil {
			t.Fatal(err)
		}
		if kind, _, err := first.Open(r.Name, sealed); err == nil {
			t.Errorf("%s: got it opened as the kind %q, want an error", r.Why, kind)
		}
	}
}

// The script of the pages, run with the cryptography that Node has, opens what is
// in the vectors, seals the same bytes from the same nonces, and refuses what has
// to be refused.
func TestScriptOfThePages(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatalf("%v: make installs it with npm", err)
	}
	script, err := os.ReadFile("../../../static/later/sealed.js")
	if err != nil {
		t.Fatal(err)
	}
	driver, err := os.ReadFile("testdata/vectors.js")
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, "--input-type=module", "-")
	run.Env = append(os.Environ(), "VECTORS="+vectorsFile)
	run.Stdin = strings.NewReader(string(script) + "\n" + string(driver))
	out, err := run.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	v, count := read(t), 0
	for _, h := range v.Households {
		count += len(h.Versions)
	}
	if want := fmt.Sprintf("%d sealed and opened, %d refused\n", count, len(v.Refused)); string(out) != want {
		t.Errorf("got %q, want %q", out, want)
	}
}

// Every size ends in its step, and one byte more in the next; what is too large is
// refused with its kind.
func TestSteps(t *testing.T) {
	k, err := NewSecret().Keys()
	if err != nil {
		t.Fatal(err)
	}
	for i, step := range Steps {
		for _, more := range []int{0, 1} {
			size := step - around - len("jars\n") + more
			name, sealed, err := k.Seal("jars", make([]byte, size))
			if i+more == len(Steps) {
				if _, ok := errors.AsType[TooLarge](err); !ok || !strings.HasPrefix(err.Error(), "jars: ") {
					t.Errorf("%d bytes: %v", size, err)
				}
				continue
			}
			if err != nil || len(sealed) != Steps[i+more] {
				t.Errorf("%d bytes: got %d sealed, %v", size, len(sealed), err)
				continue
			}
			if _, text, err := k.Open(name, sealed); err != nil || len(text) != size {
				t.Errorf("%d bytes: got %d opened, %v", size, len(text), err)
			}
		}
	}
}

// The same version has the same name and never the same bytes twice.
func TestNamedByContent(t *testing.T) {
	k, err := NewSecret().Keys()
	if err != nil {
		t.Fatal(err)
	}
	name, one, _ := k.Seal("jars", []byte("{}"))
	again, two, _ := k.Seal("jars", []byte("{}"))
	if name != again || bytes.Equal(one, two) {
		t.Errorf("got the names %s and %s, same bytes: %v", name, again, bytes.Equal(one, two))
	}
	if other, _, _ := k.Seal("checks", []byte("{}")); other == name {
		t.Error("another kind: got the same name")
	}
	for i := range len(name) + 1 {
		for _, c := range []string{"\r", "\n", "A"} {
			if kind, _, err := k.Open(name[:i]+c+name[i:], one); err == nil {
				t.Errorf("%q after %d letters of the name: got it opened as %q", c, i, kind)
			}
		}
	}
}

// Any single wrong, missing or extra letter in a code is noticed.
func TestInvitation(t *testing.T) {
	secret := NewSecret()
	code := secret.Invitation()
	if back, err := ReadInvitation(code); err != nil || back != secret {
		t.Fatal(err)
	}
	for i := range code {
		for _, c := range []byte("A_z5") {
			if c == code[i] {
				continue
			}
			if _, err := ReadInvitation(code[:i] + string(c) + code[i+1:]); err == nil {
				t.Errorf("letter %d of the code: got %c accepted", i+1, c)
			}
		}
		if _, err := ReadInvitation(code[:i] + code[i+1:]); err == nil {
			t.Errorf("letter %d of the code missing: got it accepted", i+1)
		}
		for _, c := range []string{"A", "_", "z", "5", "\r", "\n"} {
			if _, err := ReadInvitation(code[:i] + c + code[i:]); err == nil {
				t.Errorf("%q before letter %d of the code: got it accepted", c, i+1)
			}
		}
	}
}

// Any input from outside is either refused or exactly what was sealed.
func FuzzOpen(f *testing.F) {
	var secret Secret
	k, err := secret.Keys()
	if err != nil {
		f.Fatal(err)
	}
	name, sealed, err := k.Seal("jars", []byte(`{"id":"1"}`))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(name, sealed)
	f.Add(name, sealed[:100])
	f.Add("", []byte(nil))
	f.Fuzz(func(t *testing.T, called string, version []byte) {
		kind, text, err := k.Open(called, version)
		if err == nil && (called != name || kind != "jars" || string(text) != `{"id":"1"}` || !bytes.Equal(version, sealed)) {
			// Only seeds of earlier runs, sealed by this household, get here.
			if again, _, _ := k.Seal(kind, text); again != called {
				t.Errorf("%q: got it opened as %q", called, kind)
			}
		}
	})
}

func digest(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
