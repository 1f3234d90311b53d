package record_test

import (
	"maps"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/testkit"
)

func TestRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		c := testkit.SampleCheck(t, r)
		text, err := c.Encode()
		if err != nil {
			t.Fatal(err)
		}
		back, err := record.DecodeCheck(text)
		if err != nil {
			t.Fatal(err)
		}
		if c.ID != back.ID || c.Version != back.Version || c.Revision != back.Revision || !c.Changed.Equal(back.Changed) || (c.Deleted == nil) != (back.Deleted == nil) {
			t.Fatalf("%+v came back as %+v", c.Head, back.Head)
		}
		c.Head, back.Head = record.Head{}, record.Head{}
		if !reflect.DeepEqual(c, back) {
			t.Fatalf("%+v came back as %+v", c, back)
		}
	}
}

// A fault in any field is refused with the name of the field.
func TestFaultsNameTheField(t *testing.T) {
	for field, spoil := range map[string]func(*record.Check){
		"version":  func(c *record.Check) { c.Version = record.Version + 1 },
		"id":       func(c *record.Check) { c.ID = "0190" },
		"label":    func(c *record.Check) { c.Label = strings.Repeat("x", record.MostLabel+1) },
		"product":  func(c *record.Check) { c.Product = "Green Beans" },
		"edition":  func(c *record.Check) { c.Edition = "" },
		"begun":    func(c *record.Check) { c.Begun = time.Time{} },
		"changed":  func(c *record.Check) { c.Changed = c.Begun.Add(-49 * time.Hour) },
		"revision": func(c *record.Check) { c.Revision = -1 },
		"lowest":   func(c *record.Check) { c.Lowest = "fine" },
		"highest":  func(c *record.Check) { c.Lowest, c.Highest = "discard", "keep" },
		"answers": func(c *record.Check) {
			c.Answers = []record.Answer{{Sign: "lid", Values: nil, Question: "lid"}}
		},
	} {
		c := testkit.SampleCheck(t, rand.New(rand.NewPCG(7, 8)))
		spoil(&c)
		_, err := c.Encode()
		if err == nil || !strings.Contains(err.Error(), ": "+field+": ") || !strings.Contains(err.Error(), c.ID) {
			t.Errorf("%s: got %v", field, err)
		}
	}
}

func TestUnreadableRecordsAreRefused(t *testing.T) {
	c := testkit.SampleCheck(t, rand.New(rand.NewPCG(9, 10)))
	good, err := c.Encode()
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"empty":         "",
		"cut off":       string(good[:len(good)/2]),
		"unknown field": strings.Replace(string(good), `"id"`, `"color":"red","id"`, 1),
		"two records":   string(good) + string(good),
		"wrong type":    strings.Replace(string(good), `"revision":`, `"revision":"x`, 1),
		"null":          "null",
		"list":          "[]",
	} {
		if _, err := record.DecodeCheck([]byte(text)); err == nil {
			t.Errorf("%s was read", name)
		}
	}
}

// A label may be at most 120 characters, and none of them may reverse the
// direction of the text or control a terminal.
func TestLabels(t *testing.T) {
	c := testkit.SampleCheck(t, rand.New(rand.NewPCG(11, 12)))
	for label, ok := range map[string]bool{
		"  cellar  ": true, strings.Repeat("ü", record.MostLabel): true, strings.Repeat("ü", record.MostLabel+1): false,
		"<script>alert(1)</script>": true, "a\u202eb": false, "a\u2066b": false, "a\x00b": false, "a\nb": false, "a\u2028b": false, "\xff": false,
	} {
		if err := c.SetLabel(label); (err == nil) != ok {
			t.Errorf("%q: got %v", label, err)
		}
	}
	if err := c.SetLabel("  cellar  "); err != nil || c.Label != "cellar" {
		t.Errorf("got %q, %v", c.Label, err)
	}
}

// Ids sort in the order in which checks were begun.
func TestIDsSortByTime(t *testing.T) {
	last := ""
	for range 1000 {
		c, err := record.NewCheck("beets", testkit.Noon)
		if err != nil {
			t.Fatal(err)
		}
		if c.ID <= last {
			t.Fatalf("got the id %s after %s, want a later one", c.ID, last)
		}
		last = c.ID
	}
}

func TestSettings(t *testing.T) {
	for feet, ok := range map[int]bool{-1501: false, -1500: true, 0: true, record.MostAltitude: true, record.MostAltitude + 1: false} {
		s := record.Settings{Version: record.Version, AltitudeFeet: &feet, Changed: testkit.Noon}
		text, err := s.Encode()
		if (err == nil) != ok {
			t.Errorf("%d ft: got error %v", feet, err)
			continue
		}
		if back, err := record.DecodeSettings(text); ok && (err != nil || *back.AltitudeFeet != feet) {
			t.Errorf("%d ft came back as %+v, %v", feet, back, err)
		}
	}
	if _, err := record.DecodeSettings([]byte(`{"version":3}`)); err == nil {
		t.Error("settings of another version were read")
	}
}

// Two tabs that answer one check at the same time lose no answer, whichever
// writes last; what one has already read from the other changes nothing.
func TestJoin(t *testing.T) {
	at := func(minutes int) time.Time { return testkit.Noon.Add(time.Duration(minutes) * time.Minute) }
	answer := func(c *record.Check, minutes int, sign, value string) {
		c.Answers = append(c.Answers, record.Answer{Sign: sign, Values: []string{value}, Question: sign, At: at(minutes)})
		c.Touch(at(minutes))
	}
	begun, err := record.NewCheck("peaches", testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	begun.Edition, begun.Lowest, begun.Highest = "2026.1", "keep", "discard"
	answer(&begun, 1, "lid", "down")
	text := testkit.Encoded(t, &begun)
	read := func() *record.Check {
		c, err := record.DecodeCheck(text)
		if err != nil {
			t.Fatal(err)
		}
		return &c
	}
	one, two := read(), read()
	answer(one, 2, "seep", "wet")
	answer(one, 5, "press", "gives")
	two.Answers = nil // it replaces the first with another answer
	answer(two, 3, "lid", "bulging")
	answer(two, 4, "press", "firm")
	testkit.Encoded(t, one)
	testkit.Encoded(t, two)
	want := map[string]string{"lid": "bulging", "seep": "wet", "press": "gives"}
	for _, pair := range [][2]*record.Check{{one, two}, {two, one}} {
		mine, err := record.DecodeCheck(testkit.Encoded(t, pair[0]))
		if err != nil {
			t.Fatal(err)
		}
		if joined, err := mine.Join(pair[1]); err != nil || !joined {
			t.Fatalf("got %t, %v, want a join", joined, err)
		}
		got := map[string]string{}
		for _, a := range mine.Answers {
			got[a.Sign] = a.Values[0]
		}
		if len(mine.Answers) != len(want) || !maps.Equal(got, want) {
			t.Errorf("got answers %v", mine.Answers)
		}
		mine.Touch(at(6))
		after := testkit.Encoded(t, &mine)
		for _, old := range pair {
			if joined, err := mine.Join(old); err != nil || joined {
				t.Errorf("joined with what it already holds: got %v, %v", joined, err)
			}
			if merged, err := record.Merge(&mine, old); err != nil || string(testkit.Encoded(t, merged)) != string(after) {
				t.Errorf("a merge with a version it replaced changed it: %v", err)
			}
		}
	}
	if joined, err := one.Join(read()); err != nil || joined {
		t.Errorf("joined with the version it started from: got %v, %v", joined, err)
	}
	if _, err := one.Join(&record.Check{}); err == nil {
		t.Error("a different check was joined")
	}
}

// A damaged record may say several things at once, none of which is possible:
// then everything that was said stays, and nothing is concluded from it.
func TestSeveralLooksOfWhichNoneIsPossible(t *testing.T) {
	c, err := record.NewCheck("peaches", testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	c.Answers = []record.Answer{
		{Sign: "opened", Values: []string{"closed"}, Question: "opened", At: testkit.Noon},
		{Sign: "release", Values: []string{"no-vacuum", "spurted"}, All: true, Question: "release", At: testkit.Noon},
	}
	seen := c.Seen()
	if last := seen[len(seen)-1]; last.Sign != "release" || len(last.Values) != 2 || last.Values[0] != "no-vacuum" || last.Values[1] != "spurted" {
		t.Errorf("got %v, want both values of release", seen)
	}
}
