package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// compiled is a program for the browser as Go's linker writes it, with stacks to
// walk, pointers to find, and functions that defer and recover.
func compiled(t *testing.T) []byte {
	t.Helper()
	folder := t.TempDir()
	source := filepath.Join(folder, "main.go")
	if err := os.WriteFile(source, []byte(`package main

import "strings"

type tree struct{ left, right *tree }

func grow(depth int) (t *tree) {
	defer func() {
		if recover() != nil {
			t = &tree{}
		}
	}()
	if depth == 0 {
		panic("a leaf")
	}
	return &tree{grow(depth - 1), grow(depth - 1)}
}

func main() {
	println(grow(10) != nil, strings.ToUpper("done"))
}
`), 0o644); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(folder, "main.wasm")
	cmd := exec.Command("go", "build", "-o", out, source)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	program, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return program
}

func TestPacked(t *testing.T) {
	if !knownLayout(runtime.Version()) {
		t.Logf("%s lays its table out in a way that was not read: nothing is left out", runtime.Version())
	}
	program := compiled(t)
	small, err := pack(program)
	if err != nil {
		t.Fatal(err)
	}
	again, err := pack(small)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(small, again) {
		t.Error("packed again: got a different program")
	}
	before, after := mustRead(t, program), mustRead(t, small)
	if !bytes.Equal(before.before, after.before) || !bytes.Equal(before.after, after.after) {
		t.Error("something but the memory was changed")
	}
	r := &reader{b: small[len(after.before):]}
	r.take(1)
	r.unsigned()
	if pieces := r.unsigned(); r.err != nil || pieces > 1000 {
		t.Errorf("got its memory in %d pieces, want few: %v", pieces, r.err)
	}
	if !knownLayout(runtime.Version()) {
		if !bytes.Equal(before.memory, after.memory) {
			t.Error("the memory was changed")
		}
		return
	}
	table, err := findTable(after.memory)
	if err != nil {
		t.Fatal(err)
	}
	for i := range table.count {
		f := table.function(i)
		for _, at := range []int{f.at + fieldFile, f.at + fieldLine} {
			if table.number(at) != 0 {
				t.Fatalf("function %d still has lines", i)
			}
		}
	}
	old, err := findTable(before.memory)
	if err != nil {
		t.Fatal(err)
	}
	stays := map[string]string{"main.grow": "main.grow", "main.main": "main.main", "main.grow.func1": "main.grow", "runtime.gopanic": "runtime.gopanic", "strings.ToUpper": "", "unicode/utf8.EncodeRune": ""}
	for i := range table.count {
		name := old.name(old.function(i))
		if want, asked := stays[name]; asked {
			if got := table.name(table.function(i)); got != want {
				t.Errorf("%s: its name is now %q, want %q", name, got, want)
			}
			delete(stays, name)
		}
	}
	delete(stays, "unicode/utf8.EncodeRune") // it may be inlined
	if len(stays) > 0 {
		t.Errorf("the program has no %v", stays)
	}
}

// Any change to memory that the runtime needs is noticed.
func TestNothingElseIsChanged(t *testing.T) {
	if !knownLayout(runtime.Version()) {
		t.Skipf("%s lays its table out in a way that was not read: nothing is left out", runtime.Version())
	}
	m := mustRead(t, compiled(t))
	before := slices.Clone(m.memory)
	table, err := findTable(m.memory)
	if err != nil {
		t.Fatal(err)
	}
	if err := table.dropLines(); err != nil {
		t.Fatal(err)
	}
	table.dropNames()
	if err := same(before, m.memory); err != nil {
		t.Fatal(err)
	}
	f := table.function(table.count / 2)
	places := map[string]int{
		"in front of the table": table.start - 1,
		"behind the table":      table.end,
		"code of a function":    f.at,
		"arguments":             f.at + fieldArguments,
		"defer":                 f.at + fieldDefer,
		"the stack":             table.places + table.number(f.at+fieldStack),
		"the list of functions": table.functions + entrySize*7,
		"finding a function":    table.dataEnd + 30,
	}
	for i := range table.count {
		f := table.function(i)
		if table.isNeeded(f) {
			places["a name"] = table.names + table.number(f.at+fieldName)
		}
		for _, kind := range []int{0, 1, 2} { // pointers among the arguments, the locals, and objects on the stack
			if kind < f.dataKinds && table.number(f.data(kind)) != noData {
				places["pointers"] = table.data + table.number(f.data(kind)) + kind
			}
		}
		if f.placeKinds > 1 && table.number(f.place(1)) != 0 {
			places["where which pointers are alive"] = table.places + table.number(f.place(1)) + 1
		}
	}
	for what, at := range places {
		m.memory[at] ^= 2
		if same(before, m.memory) == nil {
			t.Errorf("%s: a change at %d was not noticed", what, at)
		}
		m.memory[at] ^= 2
	}
}

func mustRead(t *testing.T, program []byte) *module {
	t.Helper()
	m, err := read(program)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Memories of every mixture of short and long runs of zeros come back as they were.
func TestMemory(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		m := &module{before: []byte("\x00asm\x01\x00\x00\x00\x05\x01\x00"), after: []byte("\x00\x02\x01x"), memory: []byte{}}
		for range random.IntN(12) {
			m.memory = append(m.memory, make([]byte, random.IntN(3*shortest))...)
			for range random.IntN(300) {
				m.memory = append(m.memory, byte(random.IntN(4)))
			}
		}
		got := mustRead(t, m.write())
		want := bytes.TrimRight(m.memory, "\x00")
		if !bytes.Equal(got.memory, want) {
			t.Fatalf("%d bytes of memory: got %d different ones back", len(want), len(got.memory))
		}
		if !bytes.Equal(got.before, m.before) || !bytes.Equal(got.after, m.after) {
			t.Fatal("the other sections were changed")
		}
	}
}

func TestNotAProgram(t *testing.T) {
	head := "\x00asm\x01\x00\x00\x00"
	for program, want := range map[string]string{
		"":                            "not a WebAssembly program",
		"\x7fELF":                     "not a WebAssembly program",
		head:                          "no data section",
		head + "\x0b\x05\x01":         "ends in the middle",
		head + "\x0b\x80":             "ends in the middle",
		head + "\x0b\x03\x01\x01\x00": "kind 1",
		head + "\x0b\x03\x01\x00\x23": "instruction 0x23",
		head + "\x0b\x06\x01\x00\x41\x00\x0b\x05":   "ends in the middle",
		head + "\x0b\x08\x01\x00\x41\x7f\x0b\x02ab": "a piece of memory at -1 to 1",
		head + "\x0b\x02\x00x":                      "1 bytes behind the last piece",
		head + "\x0b\x01\x00\x0b\x01\x00":           "two data sections",
		head + "\x0b\x07\x01\x00\x41\x00\x0b\x01a":  "no table of functions",
	} {
		if want == "no table of functions" && !knownLayout(runtime.Version()) {
			continue // none is looked for
		}
		if _, err := pack([]byte(program)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got the error %v, want one that says %q", program, err, want)
		}
	}
}
