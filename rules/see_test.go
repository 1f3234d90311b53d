package rules_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
)

// phrases are what people type when they see something odd, and the values meant.
func phrases(t *testing.T) (typed map[string][]string) {
	t.Helper()
	text, err := os.ReadFile("../testdata/search/signs.tsv")
	if err != nil {
		t.Fatal(err)
	}
	typed = map[string][]string{}
	for n, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		f := strings.Split(line, "\t")
		if len(f) != 3 {
			t.Fatalf("signs.tsv:%d: got %d columns, want 3", n+1, len(f))
		}
		typed[f[0]] = strings.Fields(f[1])
	}
	if len(typed) < 200 {
		t.Fatalf("got only %d phrases", len(typed))
	}
	return typed
}

func spelled(v rules.Value) string { return v.Sign().ID() + "=" + v.ID() }

// When people describe in their own words what looks odd, it is nearly always among
// the first four hits; a danger always is.
func TestSee(t *testing.T) {
	found, asked := 0, 0
	for typed, meant := range phrases(t) {
		if meant[0] == "-" {
			continue
		}
		asked++
		var got []string
		for _, v := range rules.See(typed, nil, 4) {
			got = append(got, spelled(v))
		}
		hit := false
		for _, m := range meant {
			if _, ok := valueNamed(m); !ok {
				t.Errorf("%q: there is no value %s", typed, m)
			}
			hit = hit || slices.Contains(got, m)
		}
		if hit {
			found++
			continue
		}
		t.Logf("%q means %v, found are %v", typed, meant, got)
		if v, _ := valueNamed(meant[0]); v.Shows() != rules.NoFault {
			t.Errorf("%q: want the danger %v, got %v", typed, meant, got)
		}
	}
	t.Logf("%d of %d", found, asked)
	if found*100 < asked*97 {
		t.Errorf("got %d of %d found, want 97 of 100", found, asked)
	}
}

func valueNamed(name string) (rules.Value, bool) {
	sign, value, _ := strings.Cut(name, "=")
	id, ok := rules.SignByID(sign)
	if !ok {
		return 0, false
	}
	for _, v := range id.Info().Values {
		if v.ID == value {
			return v.Value, true
		}
	}
	return 0, false
}

// withFault lists the values that alone are proof of a fault, in sign order.
func withFault(f rules.Fault) (vs []rules.Value) {
	for i := range rules.Signs {
		for _, v := range rules.Signs[i].Values {
			if v.Value.Shows() == f {
				vs = append(vs, v.Value)
			}
		}
	}
	return
}

// Every value that alone is proof of a fault is found by its own label, and the
// search gives the same for the same words, in whatever order and case.
func TestSeeEveryDanger(t *testing.T) {
	for _, fault := range []rules.Fault{rules.Spoilage, rules.LostSeal, rules.Accident} {
		for _, v := range withFault(fault) {
			query := v.Sign().Info().Name + " " + v.Info().Label
			if !slices.Contains(rules.See(query.String(), nil, 12), v) {
				t.Errorf("%q: got no %s", query, spelled(v))
			}
		}
	}
	for typed := range phrases(t) {
		words := strings.Fields(typed)
		slices.Reverse(words)
		once, again := rules.See(typed, nil, 6), rules.See(strings.ToUpper(strings.Join(words, " ")), nil, 6)
		if !slices.Equal(once, again) {
			t.Errorf("%q: got %v, and in another order %v", typed, once, again)
		}
	}
	for _, nothing := range []string{"", "   ", "the", "?!", "xyzzyplugh"} {
		if got := rules.See(nothing, nil, 6); len(got) > 0 {
			t.Errorf("%q: got %v, want nothing", nothing, got)
		}
	}
}
