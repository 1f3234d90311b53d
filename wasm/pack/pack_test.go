package main

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
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
	program := compiled(t)
	small, err := pack(program)
	if err != nil {
		t.Fatal(err)
	}
	before, after := mustRead(t, program), mustRead(t, small)
	r := &reader{b: after.find(dataSection).body}
	if pieces := r.unsigned(); r.err != nil || pieces > 1000 {
		t.Errorf("got its memory in %d pieces, want few: %v", pieces, r.err)
	}
	if !knownLayout(runtime.Version()) {
		t.Logf("%s lays its table out in a way that was not read: nothing is left out", runtime.Version())
		if !bytes.Equal(before.memory, after.memory) {
			t.Error("the memory was changed")
		}
		return
	}
	if again, err := pack(program); err != nil || !bytes.Equal(small, again) {
		t.Errorf("packed twice: got different programs: %v", err)
	}
	if share := float64(text(small)) / float64(len(small)); share > mostText+0.001 {
		t.Errorf("%.3f of it look like text, want at most %.3f", share, mostText)
	}
	if end := &after.sections[len(after.sections)-1]; bytes.HasPrefix(end.body, []byte("\x05zeros")) {
		after.sections = after.sections[:len(after.sections)-1]
	}
	if got := len(after.write()); got > len(program)*3/4 {
		t.Errorf("got %d bytes of %d, want at most three quarters", got, len(program))
	}
	if err := before.shorten(); err != nil { // TestDirectPrograms looks at its code
		t.Fatal(err)
	}
	added := false
	for i, s := range after.sections {
		if s.kind == startSection {
			after.sections, added = slices.Delete(after.sections, i, i+1), true
			break
		}
	}
	if !added || len(before.sections) != len(after.sections) {
		t.Fatal("got other sections, want one more, which has a function run at the start")
	}
	for i, want := range before.sections {
		got := after.sections[i]
		switch want.kind {
		case typeSection, functionSection, codeSection:
			_, was, _ := before.counted(want.kind)
			if _, is, _ := after.counted(want.kind); !bytes.HasPrefix(is, was) {
				t.Errorf("section %d of kind %d: what was in it was changed", i, want.kind)
			}
		case dataSection:
		default:
			if got.kind != want.kind || !bytes.Equal(got.body, want.body) {
				t.Errorf("section %d of kind %d was changed", i, want.kind)
			}
		}
	}

	memory := started(t, small)
	room, err := before.room()
	if err != nil || len(memory) != room {
		t.Errorf("got a memory of %d bytes, want %d: %v", len(memory), room, err)
	}
	if slices.Max(memory[len(before.memory):]) > 0 {
		t.Error("memory that is to be 0 is not")
	}
	memory = memory[:len(before.memory)]
	if err := same(before.memory, memory); err != nil {
		t.Error(err)
	}
	table, err := findTable(memory)
	if err != nil {
		t.Fatal(err)
	}
	old, err := findTable(before.memory)
	if err != nil {
		t.Fatal(err)
	}
	stays := map[string]string{"main.grow": "main.grow", "main.main": "main.main", "main.grow.func1": "main.grow", "runtime.gopanic": "runtime.gopanic", "strings.ToUpper": "", "unicode/utf8.EncodeRune": ""}
	for i := range table.count {
		f := table.function(i)
		for _, at := range []int{f.at + fieldFile, f.at + fieldLine} {
			if table.number(at) != 0 {
				t.Fatalf("function %d still has lines", i)
			}
		}
		name := old.name(old.function(i))
		if want, asked := stays[name]; asked {
			if got := table.name(f); got != want {
				t.Errorf("%s: its name is now %q, want %q", name, got, want)
			}
			delete(stays, name)
		}
	}
	delete(stays, "unicode/utf8.EncodeRune") // it may be inlined
	if len(stays) > 0 {
		t.Errorf("the program has no %v", stays)
	}
	if _, err := pack(small); err == nil || !strings.Contains(err.Error(), "start section") {
		t.Errorf("packed again: got the error %v, want one of the start section", err)
	}
}

// started is the memory of a program when a real engine has started it: before any of
// its own functions runs.
func started(t *testing.T, program []byte) []byte {
	t.Helper()
	ctx := t.Context()
	engine := wazero.NewRuntimeWithConfig(ctx, wazero.NewRuntimeConfigInterpreter())
	t.Cleanup(func() { engine.Close(ctx) })
	module, err := engine.CompileModule(ctx, program)
	if err != nil {
		t.Fatal(err)
	}
	imports := map[string]wazero.HostModuleBuilder{}
	for _, f := range module.ImportedFunctions() {
		from, name, _ := f.Import()
		if imports[from] == nil {
			imports[from] = engine.NewHostModuleBuilder(from)
		}
		called := func(context.Context, []uint64) { t.Errorf("%s was called", name) }
		imports[from].NewFunctionBuilder().WithGoFunction(api.GoFunc(called), f.ParamTypes(), f.ResultTypes()).Export(name)
	}
	for _, b := range imports {
		if _, err := b.Instantiate(ctx); err != nil {
			t.Fatal(err)
		}
	}
	instance, err := engine.InstantiateModule(ctx, module, wazero.NewModuleConfig().WithStartFunctions())
	if err != nil {
		t.Fatal(err)
	}
	memory := instance.Memory()
	b, ok := memory.Read(0, memory.Size())
	if !ok {
		t.Fatal("its memory cannot be read")
	}
	return slices.Clone(b)
}

// A program that looks like text gets zeros behind it, and no other.
func TestWithZeros(t *testing.T) {
	plain := []byte(header + "\x0b\x01\x00")
	if got := withZeros(plain); !bytes.Equal(got, plain) {
		t.Errorf("got %q, want it as it was", got)
	}
	written := slices.Concat([]byte(header+"\x00\xb8\x17\x01x"), bytes.Repeat([]byte("né"), 1000)[:2998], plain[len(header):])
	got := withZeros(written)
	if share := float64(text(got)) / float64(len(got)); share > mostText+0.001 || share < mostText-0.01 {
		t.Errorf("%.3f of it look like text, want %.3f", share, mostText)
	}
	if m := mustRead(t, got); !bytes.HasPrefix(got, written) || len(m.sections) != 3 || strings.TrimRight(string(m.sections[2].body), "\x00") != "\x05zeros" {
		t.Errorf("got %d sections, want the two of before and one of zeros", len(m.sections))
	}
	for b, want := range map[string]int{"": 0, "a\x00b": 2, "né": 3, "\xff\xfe": 0, "\xc3a": 1, "€": 3} {
		if got := text([]byte(b)); got != want {
			t.Errorf("%q: got %d bytes of text, want %d", b, got, want)
		}
	}
}

// Any change to memory that the runtime needs is noticed.
func TestNothingElseIsChanged(t *testing.T) {
	if !knownLayout(runtime.Version()) {
		t.Skipf("%s lays its table out in a way that was not read: nothing is left out", runtime.Version())
	}
	m := mustRead(t, compiled(t))
	before := m.image()
	table, err := findTable(m.memory)
	if err != nil {
		t.Fatal(err)
	}
	after, err := m.compact(table)
	if err != nil {
		t.Fatal(err)
	}
	if table, err = findTable(after); err != nil {
		t.Fatal(err)
	}
	if err := same(before, after); err != nil {
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
		"the end of that list":  table.functions + entrySize*table.count,
		"finding a function":    table.dataEnd + 30,
	}
	for i := range table.count {
		f := table.function(i)
		if table.isNeeded(f) {
			places["a name"] = table.names + table.number(f.at+fieldName)
		}
		for kind := range f.dataKinds {
			if at := table.number(f.data(kind)); at != noData {
				places[fmt.Sprintf("data of kind %d", kind)] = table.data + at
				places[fmt.Sprintf("where data of kind %d are", kind)] = f.data(kind)
			}
		}
		if f.placeKinds > 1 && table.number(f.place(1)) != 0 {
			places["where which pointers are alive"] = table.places + table.number(f.place(1)) + 1
		}
	}
	for what, at := range places {
		after[at] ^= 2
		if same(before, after) == nil {
			t.Errorf("%s: a change at %d was not noticed", what, at)
		}
		after[at] ^= 2
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
		m := &module{sections: []section{{5, []byte{0}}, {kind: dataSection}, {0, []byte("\x01x")}}, memory: []byte{}}
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
		got.find(dataSection).body = nil
		if got, want := fmt.Sprint(got.sections), fmt.Sprint(m.sections); got != want {
			t.Fatalf("got the sections %s, want %s", got, want)
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
		head + "\x08\x01\x00\x0b\x01\x00":           "start section",
	} {
		if (want == "no table of functions" || want == "start section") && !knownLayout(runtime.Version()) {
			continue // neither is looked for
		}
		if _, err := pack([]byte(program)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got the error %v, want one that says %q", program, err, want)
		}
	}
}
