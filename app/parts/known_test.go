package parts

import (
	"testing"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
)

// A row of jars says of each jar only what is true of it: how many were looked at, and
// when, and how many never. About jars that were looked at it never says that they were
// not.
func TestRowSaysWhatIsTrueOfItsJars(t *testing.T) {
	// of are jars of one batch about whose process too little is recorded, each looked at
	// some days ago, or never.
	of := func(t *testing.T, days ...int) *pantry.Group {
		p, place, b, old := testkit.Home(t, "peaches")
		for _, j := range old {
			j.Delete(testkit.Noon)
			p.Put(j)
		}
		b.Standing = ""
		p.Put(b)
		for i, n := range days {
			j, err := record.NewJar(b.ID, i+1, testkit.Noon)
			if err != nil {
				t.Fatal(err)
			}
			e, err := j.Add(record.Stored, time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC))
			if err != nil {
				t.Fatal(err)
			}
			e.Place = place.ID
			if n >= 0 {
				testkit.Look(t, j, testkit.Noon.AddDate(0, 0, -n))
			}
			p.Put(j)
		}
		groups := p.Groups(p.JudgeAll(testkit.Noon))
		if len(groups) != 1 || len(groups[0].Jars) != len(days) || groups[0].Looks.All() != len(days) || groups[0].State != pantry.ToLook {
			t.Fatalf("got %d groups, the first %+v", len(groups), groups[0].Looks)
		}
		return groups[0]
	}
	swept := []int{0, 0, 0, 0, 0, 0, 0}
	for range 50 {
		swept = append(swept, -1)
	}
	backward := append([]int{-1}, swept...)
	for _, c := range []struct {
		days           []int
		verdict, basis string
	}{
		{[]int{-1, -1}, "Not looked at yet", "never looked at since it was recorded"},
		{[]int{0}, "Looked at, but too little is recorded", "looked at 2026-09-12"},
		{[]int{3, 0, 7}, "Looked at, but too little is recorded", "looked at 2026-09-05 or later"},
		{swept, "50 of 57 not looked at lately", "7 looked at 2026-09-12; 50 never looked at"},
		{backward, "51 of 58 not looked at lately", "7 looked at 2026-09-12; 51 never looked at"},
		{[]int{200, 250}, "Not looked at lately", "last looked at 2026-01-05 or later: too long ago to count"},
		{[]int{-1, 200, 3}, "2 of 3 not looked at lately", "1 looked at 2026-09-09; 1 last looked at 2026-02-24, too long ago to count; 1 never looked at"},
	} {
		g := of(t, c.days...)
		if got := GroupVerdict(g).String(); got != c.verdict {
			t.Errorf("looked at %v days ago: got %q, want %q", c.days, got, c.verdict)
		}
		if got := GroupBasis(g).String(); got != c.basis {
			t.Errorf("looked at %v days ago: got %q, want %q", c.days, got, c.basis)
		}
		// What is said of a jar alone.
		for i := range g.Jars {
			v := &g.Jars[i]
			looked := v.Basis.Look != nil && !v.Basis.Stale
			if got := VerdictWords(v).String(); (got == "Looked at, but too little is recorded") != looked {
				t.Errorf("jar %d, looked at lately %v: got %q", v.Jar.Number, looked, got)
			}
		}
	}
}

// A look that was not complete, and a jar on which what was seen contradicts the record,
// speak for themselves and not for the jars beside them.
func TestRowKeepsJarsApart(t *testing.T) {
	p, _, b, jars := testkit.Home(t, "peaches")
	b.Standing = ""
	p.Put(b)
	last := &jars[0].Events[len(jars[0].Events)-1]
	last.Seen = last.Seen[:1]
	p.Put(jars[0])
	groups := p.Groups(p.JudgeAll(testkit.Noon))
	if len(groups) != 1 {
		t.Fatalf("got %d groups", len(groups))
	}
	if got, want := GroupVerdict(groups[0]).String(), "Looked at, but not settled yet"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := GroupBasis(groups[0]).String(), "looked at 2026-09-05; one look was not complete"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	looks := groups[0].Looks
	looks.Disputed = 1
	groups[0].Looks = looks
	if got, want := GroupBasis(groups[0]).String(), "looked at 2026-09-05; one look was not complete; for 1 of 3, what was seen and what is recorded disagree"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
