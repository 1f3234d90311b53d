package jars

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/seeds"
)

func TestCheckJudgesOneJarAndMany(t *testing.T) {
	var out bytes.Buffer
	if err := Judge("in", []byte(`{"id":"a","product":"green-beans","signs":{"lid":"bulging"}}`), false, nil, &out); err != nil {
		t.Fatal(err)
	}
	var one jarOutcome
	if err := json.Unmarshal(out.Bytes(), &one); err != nil {
		t.Fatal(err)
	}
	if one.ID != "a" || one.Verdict != "discard" || !one.Settled || !one.DoNotOpen || one.Reasons[0].Rule != "outside.lid.bulging" || len(one.Reasons[0].Cites) == 0 || len(one.Advice) == 0 {
		t.Errorf("got %+v, want a discard by the bulging lid, with sources and advice", one)
	}
	out.Reset()
	if err := Judge("in", []byte(`[{"id":"a","product":"strawberry-jam"},{"id":"b","signs":{"smell":"off"},"numbers":{"age_days":[300,420]}}]`), true, nil, &out); err != nil {
		t.Fatal(err)
	}
	var many []jarOutcome
	if err := json.Unmarshal(out.Bytes(), &many); err != nil {
		t.Fatal(err)
	}
	if len(many) != 2 || many[0].Lowest != "keep" || many[0].Verdict != "discard" || many[0].Settled || many[0].Ask != "look" || many[1].Verdict != "discard" || many[1].DoNotOpen {
		t.Errorf("got %+v, want one that asks for a look and one that is not to be opened", many)
	}
}

// Every fault is named with its record and field and the nearest valid names,
// all of them at once, and nothing is printed.
func TestCheckNamesEveryFault(t *testing.T) {
	for text, wants := range map[string][]string{
		`{"product":"grean-beans"}`:                                                            {"jar 1: product: no product \"grean-beans\"", "green-beans"},
		`[{"id":"x","signs":{"lidd":"down"}}]`:                                                 {`jar 1 ("x"): signs: lidd: no such sign`, "did you mean lid"},
		`{"signs":{"lid":"bulgin"}}`:                                                           {"signs: lid: no value \"bulgin\"", "bulging"},
		`{"signs":{"lid":[]}}`:                                                                 {"lid: no value given"},
		`{"signs":{"lid":null}}`:                                                               {"lid: null is not a value"},
		`{"signs":{"lid":3}}`:                                                                  {"signs: lid:"},
		`{"signs":{"lid":"down","lid":"flat"}}`:                                                {"lid: stands here twice"},
		`{"id":"a","id":"b"}`:                                                                  {"id: stands here twice"},
		`{"signs":{"opened":"closed","smell":"off"}}`:                                          {"opened: [off] contradicts [closed]"},
		`{"signs":{"backing":"tested"}}`:                                                       {"backing: no such sign"},
		`{"numbers":{"age_day":3}}`:                                                            {"numbers: age_day: no such number", "age_days"},
		`{"numbers":{"age_days":-1}}`:                                                          {"age_days: -1 is below zero"},
		`{"numbers":{"age_days":[9,3]}}`:                                                       {"below the first"},
		`{"numbers":{"age_days":2.5}}`:                                                         {"want a whole number"},
		`{"numbers":{"age_days":[1,2,3]}}`:                                                     {"want a whole number"},
		`{"numbers":{"age_days":3},"signs":{"age":"older"}}`:                                   {"contradicts"},
		`{"product":"zucchini"}`:                                                               {`product: no product "zucchini": that is a name of summer-squash`},
		`{"product":"chicken-gravy-pie"}`:                                                      {"does not cover"},
		`{"signs":{"Inside of the lid":"x"}}`:                                                  {"no such sign"},
		`{"signs":{"lid":"dented or"}}`:                                                        {"did you mean dented (Dented"},
		`{"process":{"minutes":9}}`:                                                            {"process: the product has to be named"},
		`{"product":"peaches","process":{"minutes":[9,3]}}`:                                    {"process: minutes: the second number, 3, is below the first, 9"},
		`{"product":"peaches","process":{"minutes":1001}}`:                                     {"process: minutes: 1001 is not between 0 and 1000"},
		`{"product":"peaches","process":{"minutes":2.5}}`:                                      {"process: minutes: want a number in steps of 1, have 2.5"},
		`{"product":"peaches","process":{"jar":"gallon"}}`:                                     {`process: jar: no value "gallon"`, "half-gallon"},
		`{"product":"peaches","process":{"pack":[]}}`:                                          {"process: pack: no value given"},
		`{"product":"peaches","process":{"vented":"yes"}}`:                                     {"process: vented: want true or false"},
		`{"product":"peaches","process":{"vented":null}}`:                                      {"process: vented: want true or false"},
		`{"product":"peaches","process":{"table":"apples"}}`:                                   {`process: table: peaches has no table "apples"`, "peaches/halved or sliced"},
		`{"product":"carrots","process":{"form":"mashed"}}`:                                    {`process: form: "mashed" is a form of 0 tables of carrots`},
		`{"product":"butter","process":{"table":"butter"}}`:                                    {"process: table: the published tables held here have no entry for butter"},
		`{"product":"peaches","process":{"metod":"oven"}}`:                                     {"process: metod: no such field", "method"},
		`{"product":"peaches","process":{"method":"canner"}}`:                                  {`process: method: no value "canner"`, "pressure-canner"},
		`{"product":"peaches","process":{"pressure_psi":11,"pressure_tenths_psi":110}}`:        {"process: pressure_tenths_psi: pressure_psi says it already"},
		`{"product":"peaches","signs":{"method":"oven"},"process":{"method":"boiling-water"}}`: {"process: method: method:", "contradicts"},
		`{"product":"peaches","signs":{"process":"met"},"process":{"method":"boiling-water","minutes":5,"jar":"quart","pack":"raw","altitude_feet":0}}`: {"process: the figures come to", "leave out the one that is wrong"},
		`{"color":"red"}`:                         {"color: no such field"},
		`[{"id":"a"},{"id":"a"}]`:                 {"jar 2 (\"a\"): id: already used by jar 1"},
		`[{"product":"x1"},{"signs":{"y2":"z"}}]`: {"jar 1: product", "jar 2: signs: y2"},
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
		err := Judge("in", []byte(text), false, nil, &out)
		if err == nil {
			t.Errorf("%.80s: got it judged, want an error", text)
			continue
		}
		for _, want := range wants {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%.80s: got the error %q, want %q in it", text, err, want)
			}
		}
		if out.Len() > 0 {
			t.Errorf("%.80s: got %q printed, want nothing", text, out.String())
		}
	}
}

// A jar with the figures of its process is judged as a batch of the shelf with
// the same figures is, over foods, jars, packs, minutes, pressures and altitudes.
func TestCheckJudgesTheProcessAsTheShelfDoes(t *testing.T) {
	told := map[string]int{}
	for _, product := range []string{"green-beans", "peaches", "tomato-juice", "strawberry-jam", "chicken", "dill-pickles", "butter", "carrots"} {
		for _, method := range []string{"pressure-canner", "boiling-water", "oven"} {
			for _, jar := range []string{"pint", "quart", "half-gallon"} {
				for _, minutes := range []int{9, 10, 24, 25, 29, 30, 75, 90} {
					for _, feet := range []int{1000, 1001, 6001} {
						b, err := record.NewBatch(product, time.Now())
						if err != nil {
							t.Fatal(err)
						}
						psi := 110
						b.Method, b.Size, b.Pack, b.Gauge, b.Vented = method, jar, "raw", "dial", "yes"
						b.Minutes, b.TenthsPSI, b.Feet, b.ReadsHigh = &minutes, &psi, &feet, new(int)
						text := fmt.Sprintf(`{"product":%q,"process":{"method":%q,"minutes":%d,"pressure_tenths_psi":110,"gauge":"dial","gauge_reads_high_psi":0,"jar":%q,"pack":"raw","altitude_feet":%d,"vented":true}}`,
							product, method, minutes, jar, feet)
						jars, _, faults := readJars([]byte(text))
						if len(faults) > 0 {
							t.Fatalf("%s: %v", text, faults)
						}
						want := b.Process(nil)
						if got := jars[0].process; !slices.Equal(got.Possible, printedProcess(&want).Possible) {
							t.Fatalf("%s: got %v, want %v as on the shelf", text, got.Possible, printedProcess(&want).Possible)
						}
						var shelf rules.Situation = jars[0].situation
						shelf.Forget(rules.SignProcess)
						b.Tell(&shelf, nil)
						if v, known := shelf.Known(rules.SignProcess); known {
							told[v.ID()]++
							if !jars[0].situation.Is(v) {
								t.Fatalf("%s: want %s as on the shelf", text, v.ID())
							}
						} else if !jars[0].situation.Open(rules.SignProcess) {
							t.Fatalf("%s: the shelf leaves it open", text)
						}
					}
				}
			}
		}
	}
	if told["met"] == 0 || told["short"] == 0 {
		t.Errorf("got %v, want met and short", told)
	}
}

// What is left out of a process is unknown, a range is as good as its worse end,
// and what somebody found in current guidance confirms a remembered row only.
func TestCheckProcessRangesAndUnknowns(t *testing.T) {
	for _, c := range []struct {
		process  string
		possible string
		tells    string // of the sign process
	}{
		{`"minutes":25`, "met", "met"},
		{`"minutes":24`, "short", "short"},
		{`"minutes":[24,25]`, "met short", ""},
		{`"minutes":[25,40]`, "met", "met"},
		{`"minutes":25,"confirmed":true`, "met", "met"},
		{`"minutes":[24,25],"confirmed":true`, "met short", ""},
		{`"minutes":24,"confirmed":true`, "short", "short"},
	} {
		text := `{"product":"green-beans","process":{"method":"pressure-canner","pressure_psi":11,"gauge":"dial","gauge_reads_high":0,"jar":"quart","pack":"raw","altitude_feet":800,"vented":true,` + c.process + `}}`
		jars, _, faults := readJars([]byte(text))
		if len(faults) > 0 {
			t.Fatalf("%s: %v", text, faults)
		}
		if got := strings.Join(jars[0].process.Possible, " "); got != c.possible {
			t.Errorf("%s: got %s, want %s", c.process, got, c.possible)
		}
		v, known := jars[0].situation.Known(rules.SignProcess)
		if known != (c.tells != "") || known && v.ID() != c.tells {
			t.Errorf("%s: got the sign %v, want %q", c.process, v.ID(), c.tells)
		}
	}
	whole := map[string]any{"method": "pressure-canner", "minutes": 25, "pressure_psi": 11, "gauge": "dial", "gauge_reads_high_psi": 0, "jar": "quart", "pack": "raw", "altitude_feet": 800, "vented": true}
	for left := range whole {
		part := maps.Clone(whole)
		delete(part, left)
		text, _ := json.Marshal(map[string]any{"product": "green-beans", "process": part})
		jars, _, faults := readJars(text)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		// Both packs have the same time, and 11 pounds are enough by either gauge.
		settled := left == "pack" || left == "gauge"
		if got := jars[0].process; (len(got.Possible) == 1) != settled || !slices.Contains(got.Possible, "met") {
			t.Errorf("without %s: got %v", left, got.Possible)
		}
	}
}

// Every id, label and other name is listed, and what is listed is taken.
func TestLists(t *testing.T) {
	var out bytes.Buffer
	if err := List("products", true, nil, &out); err != nil {
		t.Fatal(err)
	}
	var products []listedProduct
	if err := json.Unmarshal(out.Bytes(), &products); err != nil || len(products) != len(rules.Catalog) {
		t.Fatalf("got %d products, %v", len(products), err)
	}
	for i, p := range products {
		if w := &rules.Catalog[i]; p.ID != w.ID || !slices.Equal(p.Also, w.Also) || (p.Condition != nil) != (w.Condition != nil) {
			t.Errorf("%s: got it listed as %+v", w.ID, p)
		}
		for _, table := range p.Tables {
			text := fmt.Sprintf(`{"product":%q,"process":{"table":%q}}`, p.ID, table)
			if _, _, faults := readJars([]byte(text)); len(faults) > 0 {
				t.Errorf("%s: %v", text, faults)
			}
		}
	}
	out.Reset()
	if err := List("signs", true, nil, &out); err != nil {
		t.Fatal(err)
	}
	var signs []listedSign
	if err := json.Unmarshal(out.Bytes(), &signs); err != nil || len(signs) != rules.NumSigns-1 {
		t.Fatalf("got %d signs, %v", len(signs), err)
	}
	for _, s := range signs {
		for _, v := range s.Values {
			text := fmt.Sprintf(`{"signs":{%q:%q}}`, s.ID, v.ID)
			if _, _, faults := readJars([]byte(text)); len(faults) > 0 {
				t.Errorf("%s: %v", text, faults)
			}
		}
	}
	for _, what := range []string{"products", "signs"} {
		var lines bytes.Buffer
		if err := List(what, false, nil, &lines); err != nil || strings.Count(lines.String(), "\n") < 30 {
			t.Errorf("%s: %v, %d bytes", what, err, lines.Len())
		}
	}
	if err := List("jars", false, nil, &out); err == nil {
		t.Error("got a list of jars, want an error")
	}
}

// The advice is printed in words: every step of what is to be done, with the
// minutes of boiling for the altitude of the process.
func TestCheckPrintsTheAdvice(t *testing.T) {
	jars, _, faults := readJars([]byte(`{"product":"green-beans","signs":{"lid":"bulging"}}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	o := jars[0].outcome(false, nil)
	want := rules.AdviceFor(jars[0].situation)
	if len(o.Advice) != len(want) || len(want) == 0 {
		t.Fatalf("got %d pieces of advice, want %d", len(o.Advice), len(want))
	}
	for i, a := range o.Advice {
		if a.ID != want[i].ID || a.Title != want[i].Title || len(a.Steps) < len(want[i].Steps) || a.Title == "" {
			t.Errorf("got %+v, want %s", a, want[i].ID)
		}
	}
	boil := rules.Advice{ID: "x", Boil: true}
	j := jarStatement{altitude: process.Exactly(5000)}
	if a := j.advice(&boil, nil); !strings.Contains(a.Steps[0].String(), "15 minutes at your altitude") {
		t.Errorf("got %q, want 15 minutes at the altitude", a.Steps)
	}
	if a := (&jarStatement{}).advice(&boil, nil); !strings.Contains(a.Steps[0].String(), "1 minute more for each 1,000 ft") {
		t.Errorf("got %q, want a minute more for each 1,000 ft", a.Steps)
	}
}

// An outcome never contradicts the edition's evaluator on what it prints: the
// verdict is the highest, and a settled jar has one.
func TestCheckExplain(t *testing.T) {
	var out bytes.Buffer
	if err := Judge("in", []byte(`{"product":"green-beans","signs":{"lid":"flat","age":"24-hours"}}`), true, nil, &out); err != nil {
		t.Fatal(err)
	}
	var one jarOutcome
	if err := json.Unmarshal(out.Bytes(), &one); err != nil {
		t.Fatal(err)
	}
	if len(one.Changes) == 0 || one.Verdict != one.Highest {
		t.Errorf("got %+v, want changes, and the strictest verdict", one)
	}
}

// Either all jars are judged, in their order and by the highest verdict that is
// possible, or nothing is printed and every line of the error names the jar. No
// character of an error or an outcome steers a terminal.
func FuzzCheck(f *testing.F) {
	seeds.Add(f, "check")
	f.Fuzz(func(t *testing.T, text []byte) {
		var out bytes.Buffer
		err := Judge("in", text, true, nil, &out)
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
				t.Errorf("got the error %v and %q printed, want nothing printed", err, out.String())
			}
		}
		if i := strings.IndexFunc(said, func(r rune) bool { return r != '\n' && !unicode.IsGraphic(r) }); i >= 0 {
			t.Errorf("got a character that cannot be printed at %d of %q", i, said)
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
			t.Fatalf("got %d outcomes for %d jars, %v", len(outcomes), len(jars), err)
		}
		for i, o := range outcomes {
			if o.ID != jars[i].id || o.Verdict != o.Highest || o.Settled != (o.Lowest == o.Highest) {
				t.Errorf("jar %d, %q: got %+v", i+1, jars[i].id, o)
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
		if err := Judge("in", text, false, nil, &out); err != nil {
			b.Fatal(err)
		}
	}
}
