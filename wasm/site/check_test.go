package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"unicode"

	"larderlamp/testdata/fuzz"
)

func TestCheckJudgesOneJarAndMany(t *testing.T) {
	var out bytes.Buffer
	if err := judge("in", []byte(`{"id":"a","product":"green-beans","signs":{"lid":"bulging"}}`), false, &out); err != nil {
		t.Fatal(err)
	}
	var one jarOutcome
	if err := json.Unmarshal(out.Bytes(), &one); err != nil {
		t.Fatal(err)
	}
	if one.ID != "a" || one.Verdict != "discard" || !one.Settled || !one.DoNotOpen || one.Reasons[0].Rule != "outside.lid.bulging" || len(one.Reasons[0].Cites) == 0 || len(one.Advice) == 0 {
		t.Errorf("%+v", one)
	}
	out.Reset()
	if err := judge("in", []byte(`[{"id":"a","product":"strawberry-jam"},{"id":"b","signs":{"smell":"off"},"numbers":{"age_days":[300,420]}}]`), true, &out); err != nil {
		t.Fatal(err)
	}
	var many []jarOutcome
	if err := json.Unmarshal(out.Bytes(), &many); err != nil {
		t.Fatal(err)
	}
	if len(many) != 2 || many[0].Lowest != "keep" || many[0].Verdict != "discard" || many[0].Settled || many[0].Ask != "look" || many[1].Verdict != "discard" || many[1].DoNotOpen {
		t.Errorf("%+v", many)
	}
}

// Every fault is named with its record and field and the nearest valid names,
// all of them at once, and nothing is printed.
func TestCheckNamesEveryFault(t *testing.T) {
	for text, wants := range map[string][]string{
		`{"product":"grean-beans"}`:                          {"jar 1: product: no product \"grean-beans\"", "green-beans"},
		`[{"id":"x","signs":{"lidd":"down"}}]`:               {`jar 1 ("x"): signs: lidd: no such sign`, "did you mean lid"},
		`{"signs":{"lid":"bulgin"}}`:                         {"signs: lid: no value \"bulgin\"", "bulging"},
		`{"signs":{"lid":[]}}`:                               {"lid: no value given"},
		`{"signs":{"lid":null}}`:                             {"lid: null is not a value"},
		`{"signs":{"lid":3}}`:                                {"signs: lid:"},
		`{"signs":{"lid":"down","lid":"flat"}}`:              {"lid: stands here twice"},
		`{"id":"a","id":"b"}`:                                {"id: stands here twice"},
		`{"signs":{"opened":"closed","smell":"off"}}`:        {"opened: [off] contradicts [closed]"},
		`{"signs":{"backing":"tested"}}`:                     {"backing: no such sign"},
		`{"numbers":{"age_day":3}}`:                          {"numbers: age_day: no such number", "age_days"},
		`{"numbers":{"age_days":-1}}`:                        {"age_days: -1 is below zero"},
		`{"numbers":{"age_days":[9,3]}}`:                     {"below the first"},
		`{"numbers":{"age_days":2.5}}`:                       {"want a whole number"},
		`{"numbers":{"age_days":[1,2,3]}}`:                   {"want a whole number"},
		`{"numbers":{"age_days":3},"signs":{"age":"older"}}`: {"contradicts"},
		`{"colour":"red"}`:                                   {"colour: no such field"},
		`[{"id":"a"},{"id":"a"}]`:                            {"jar 2 (\"a\"): id: already used by jar 1"},
		`[{"product":"x1"},{"signs":{"y2":"z"}}]`:            {"jar 1: product", "jar 2: signs: y2"},
		``:                      {"empty"},
		`[1]`:                   {"jar 1: want an object"},
		`{"id":"a"`:             {"unexpected end"},
		`{"id":"a"} {"id":"b"}`: {"invalid character"},
		`[{"id":"a"}] x`:        {"invalid character"},
		`{"signs":["lid"]}`:     {"signs: want an object"},
		strings.Repeat("[", 20000) + strings.Repeat("]", 20000):   {"max depth"},
		`{"id":"` + strings.Repeat("a", 50) + `","product":true}`: {"product:"},
	} {
		var out bytes.Buffer
		err := judge("in", []byte(text), false, &out)
		if err == nil {
			t.Errorf("%.80s was judged", text)
			continue
		}
		for _, want := range wants {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%.80s: the error is %q, without %q", text, err, want)
			}
		}
		if out.Len() > 0 {
			t.Errorf("%.80s: printed %q", text, out.String())
		}
	}
}

// An outcome never contradicts the edition's evaluator on what it prints: the
// verdict is the highest, and a settled jar has one.
func TestCheckExplain(t *testing.T) {
	var out bytes.Buffer
	if err := judge("in", []byte(`{"product":"green-beans","signs":{"lid":"flat","age":"24-hours"}}`), true, &out); err != nil {
		t.Fatal(err)
	}
	var one jarOutcome
	if err := json.Unmarshal(out.Bytes(), &one); err != nil {
		t.Fatal(err)
	}
	if len(one.Changes) == 0 || one.Verdict != one.Highest {
		t.Errorf("%+v", one)
	}
}

// Either all jars are judged, in their order and by the highest verdict that is
// possible, or nothing is printed and every line of the error names the jar. No
// character of an error or an outcome steers a terminal.
func FuzzCheck(f *testing.F) {
	fuzz.Add(f, "check")
	f.Fuzz(func(t *testing.T, text []byte) {
		var out bytes.Buffer
		err := judge("in", text, true, &out)
		said := out.String()
		if err != nil {
			said = err.Error()
			for line := range strings.SplitSeq(said, "\n") {
				if !strings.HasPrefix(line, "in: ") {
					t.Errorf("%q does not name the file", line)
				} else if json.Valid(text) && !strings.HasPrefix(line, "in: jar ") {
					t.Errorf("%q does not name the jar", line)
				}
			}
			if out.Len() > 0 {
				t.Errorf("failed with %v and printed %q", err, out.String())
			}
		}
		if i := strings.IndexFunc(said, func(r rune) bool { return r != '\n' && !unicode.IsGraphic(r) }); i >= 0 {
			t.Errorf("at %d of %q", i, said)
		}
		if err != nil {
			return
		}
		jars, many, _ := readJars(text)
		var outcomes []jarOutcome
		into := any(&outcomes)
		if !many {
			outcomes = make([]jarOutcome, 1)
			into = &outcomes[0]
		}
		if err := json.Unmarshal(out.Bytes(), into); err != nil || len(outcomes) != len(jars) {
			t.Fatalf("%d outcomes for %d jars, %v", len(outcomes), len(jars), err)
		}
		for i, o := range outcomes {
			if o.ID != jars[i].id || o.Verdict != o.Highest || o.Settled != (o.Lowest == o.Highest) {
				t.Errorf("jar %d, %q: %+v", i+1, jars[i].id, o)
			}
		}
	})
}

// BenchmarkCheck judges 10,000 jars.
func BenchmarkCheck(b *testing.B) {
	var jars []string
	for i := range 10000 {
		jars = append(jars, fmt.Sprintf(`{"id":"jar-%d","product":"green-beans","signs":{"lid":"down","press":"firm","lift":"holds","cloud":"clear"},"numbers":{"age_days":%d}}`, i, i%900))
	}
	text := []byte("[" + strings.Join(jars, ",") + "]")
	for b.Loop() {
		var out bytes.Buffer
		if err := judge("in", text, false, &out); err != nil {
			b.Fatal(err)
		}
	}
}
