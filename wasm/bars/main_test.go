package main

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
)

// measured has every bar at its limit, and each value beside peers of 100.
func measured(t *testing.T) map[string]float64 {
	t.Helper()
	found := map[string]float64{}
	for _, b := range bars {
		if b.peer != "" {
			found[b.peer] = 100
		}
	}
	for _, b := range bars {
		for _, name := range b.values {
			found[name] = within(found, b)
		}
	}
	return found
}

// within is the value that is just at the limit of a bar.
func within(found map[string]float64, b bar) float64 {
	switch {
	case b.peer == "":
		return b.limit
	case b.none:
		return found[b.peer]
	case b.faster:
		return found[b.peer] / b.limit * (1 - 1e-12) // rounding must not put it over the limit
	}
	return found[b.peer] * b.limit
}

// Each bar holds at its limit and fails above it, except for those that have no
// limit or have never been met; one that was not measured fails.
func TestBars(t *testing.T) {
	at := measured(t)
	for _, b := range bars {
		if b.peer != "" && slices.Contains(b.values, b.peer) {
			t.Errorf("%s: got compared with itself", b.what)
		}
		for _, c := range []struct {
			what   string
			value  float64
			result string
			holds  bool
		}{
			{"at the limit", within(at, b) * (1 - 1e-9), "pass", true},
			{"over it", within(at, b)*1.01 + 1e-6, "over", b.never},
		} {
			if b.none {
				c.result, c.holds = "none", true
			}
			found := maps.Clone(at)
			found[b.values[len(b.values)-1]] = c.value // the worst of several counts
			var out strings.Builder
			err := b.print(&out, found)
			if (err == nil) != c.holds {
				t.Errorf("%s %s: got %v", b.what, c.what, err)
			}
			if line := strings.TrimSpace(out.String()); !strings.HasPrefix(line, b.what) || !strings.HasSuffix(line, c.result) {
				t.Errorf("%s %s: got the line %q, want it to end in %s", b.what, c.what, line, c.result)
			}
		}
		for _, name := range append([]string{b.peer}, b.values...) {
			if name == "" {
				continue
			}
			found := maps.Clone(at)
			delete(found, name)
			var out strings.Builder
			if err := b.print(&out, found); err == nil || err.Error() != name+" was not measured" {
				t.Errorf("%s without %s: got %v", b.what, name, err)
			}
			if !strings.HasSuffix(out.String(), "not measured\n") {
				t.Errorf("%s without %s: got the line %q", b.what, name, out.String())
			}
		}
	}
}

const output = `goos: linux
BenchmarkEvaluate/sound-2         	 9 	       150.5 ns/op	       0 B/op	       1 allocs/op
BenchmarkEvaluate/bulging 	 9 	       160 ns/op	       0 allocs/op
BenchmarkStart/full-speed 	 9	        120 cold-ms	 100 cold-bare-ms
 3000 1100 900 1.000 build/bare.wasm
 4000 1500 1117 1.241 build/app.wasm
 4000 1500 600 0.700 build/scan.wasm
--- PASS: TestProveTree (1.50s)
--- PASS: TestSomeProof (2s)
--- PASS: TestAxe (30.00s)
--- FAIL: TestEveryPage (1.00s)
--- PASS: TestEveryPage (1.00s)
`

// The output of benchmarks, of `site size` and of tests is read by name and unit.
func TestRead(t *testing.T) {
	found, err := read(strings.NewReader(output))
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{
		"BenchmarkEvaluate/sound ns/op": 150.5, "BenchmarkEvaluate/sound ms": 150.5e-6, "BenchmarkEvaluate/sound B/op": 0, "BenchmarkEvaluate/sound allocs/op": 1,
		"BenchmarkEvaluate/bulging ns/op": 160, "BenchmarkEvaluate/bulging ms": 160e-6, "BenchmarkEvaluate/bulging allocs/op": 0,
		"BenchmarkStart/full-speed cold-ms": 120, "BenchmarkStart/full-speed cold-bare-ms": 100,
		"bare kB": 0.9, "programs kB": 1.117,
		"proof s": 3.5, "TestProveTree failures": 0, "TestSomeProof failures": 0, "TestAxe failures": 0, "TestEveryPage failures": 1,
	}
	if !maps.Equal(found, want) {
		t.Errorf("got %v, want %v", found, want)
	}
	if found, err := read(strings.NewReader("--- FAIL: TestProveTree (1.00s)\n")); err != nil || !math.IsInf(found["proof s"], 1) {
		t.Errorf("a proof that failed: got %v s, %v, want no end", found["proof s"], err)
	}
	for text, want := range map[string]string{
		"BenchmarkEvaluate 9 fast ns/op": "BenchmarkEvaluate: ",
		"--- PASS: TestProve (shorts)":   "TestProve: ",
	} {
		if _, err := read(strings.NewReader(text)); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
	}
}

// The table has a line for every bar that is asked for, and the error names those
// that do not hold.
func TestRun(t *testing.T) {
	var text strings.Builder
	for name, value := range measured(t) {
		name, unit, _ := strings.Cut(name, " ")
		switch {
		case unit == "failures":
			fmt.Fprintf(&text, "--- PASS: %s (1.00s)\n", name)
		case name == "proof":
			fmt.Fprintf(&text, "--- PASS: TestProve (%fs)\n", value)
		case unit != "ms" || !strings.HasPrefix(name, "BenchmarkReference") && !strings.HasPrefix(name, "BenchmarkNext"):
			fmt.Fprintf(&text, "%s 1 %.12f %s\n", name, value*(1-1e-9), unit)
		}
	}
	ms := "BenchmarkNext/first 1 1e6 ns/op\nBenchmarkNext/contents 1 1e6 ns/op\nBenchmarkReference/in_the_browser 1 1e6 ns/op\n"
	var out strings.Builder
	if err := run("", strings.NewReader(text.String()+ms), &out); err != nil {
		t.Errorf("all at their limits: got %v\n%s", err, out.String())
	}
	if lines := strings.Count(out.String(), "\n"); lines != len(bars)+1 {
		t.Errorf("got %d lines, want one for each of %d bars and the heading", lines, len(bars))
	}
	out.Reset()
	over := "BenchmarkServe/page 1 200 us 100 us-best\nBenchmarkServe/style 1 100 us 100 us-best\nBenchmarkServe/plain-style 1 100 us 100 us-best\n"
	err := run("BenchmarkServe", strings.NewReader(over), &out)
	if want := "a page from the server, times as fast: the bar is not held\nthe compressed program from the server: BenchmarkServe/program us was not measured"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	want := 1 // the heading
	for _, b := range bars {
		if strings.HasPrefix(b.values[0], "BenchmarkServe") {
			want++
		}
	}
	if lines := strings.Count(out.String(), "\n"); lines != want {
		t.Errorf("got %d lines, want %d:\n%s", lines, want, out.String())
	}
	if err := run("", strings.NewReader("BenchmarkEvaluate 9 fast ns/op"), &out); err == nil {
		t.Error("what cannot be read: got no error")
	}
}
