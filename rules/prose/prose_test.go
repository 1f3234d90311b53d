package prose_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"larderlamp/rules/prose"
)

// loud is a made-up language: it puts everything between marks, has other words for
// some texts, and no singular form.
type loud map[string]string

func (l loud) Whole(english string) string {
	if theirs, ok := l[english]; ok {
		return theirs
	}
	return "<" + english + ">"
}

func (l loud) Form(n int, one, several string) string { return l.Whole(several) }

func (l loud) Inside(text string) string { return text }

// What can be said, in English and in another language.
func TestIn(t *testing.T) {
	l := loud{"%d of %s": "<von %[2]s %[1]d>", "%d %s": "<%[2]s: %[1]d>", ", ": "; "}
	for _, c := range []struct {
		text          prose.Text
		english, said string
	}{
		{"", "", ""},
		{"Keep", "Keep", "<Keep>"},
		{prose.Own("Grandma: Storage"), "Grandma: Storage", "Grandma: Storage"},
		{prose.Own(""), "", ""},
		{prose.Say("%d of %s", 2, prose.Text("jars")), "2 of jars", "<von <jars> 2>"},
		{prose.Say("%d of %s", 2, "jars"), "2 of jars", "<von jars 2>"},
		{prose.Say("%.1f %%", 12.34), "12.3 %", "<12.3 %>"},
		{prose.Say("%5d|%q", int64(7), "a\x01b"), "    7|\"a\\x01b\"", "<    7|\"a\\x01b\">"},
		{prose.Say("%v", errors.New("no")), "no", "<no>"},
		{prose.Count(1, "jar", "jars"), "1 jar", "<<jars>: 1>"},
		{prose.Count(0, "jar", "jars"), "0 jars", "<<jars>: 0>"},
		{prose.Count(12, "jar", "jars"), "12 jars", "<<jars>: 12>"},
		{prose.Agree(1, "%s needs a lid", "%s need a lid", prose.Count(1, "jar", "jars")), "1 jar needs a lid", "<<<jars>: 1> need a lid>"},
		{prose.Agree(1, "Is the jar sealed?", "Are all %d jars sealed?", 1), "Is the jar sealed?", "<Are all 1 jars sealed?>"},
		{prose.Agree(3, "Is the jar sealed?", "Are all %d jars sealed?", 3), "Are all 3 jars sealed?", "<Are all 3 jars sealed?>"},
		{prose.List([]prose.Text{"a", prose.Own("b"), "c"}, ", "), "a, b, c", "<a>; b; <c>"},
		{prose.List([]prose.Text{"a"}, ", "), "a", "<a>"},
		{prose.List(nil, ", "), "", ""},
		{prose.Upper("über"), "Über", "<über>"},
		{prose.Lower("Éclairs"), "éclairs", "<Éclairs>"},
		{prose.Lower(""), "", ""},
		{prose.Head("Beans, green: raw"), "Beans", "<Beans"},
		{prose.First("It leaks. Throw it out."), "It leaks.", "<It leaks."},
		{prose.Say("%s: %s", prose.Lower("Lid"), prose.Say("(%s)", prose.Own("x:y"))), "lid: (x:y)", "<<Lid>: <(x:y)>>"},
	} {
		if got := c.text.String(); got != c.english {
			t.Errorf("in English: got %q, want %q", got, c.english)
		}
		if got := c.text.In(l); got != c.said {
			t.Errorf("in another language: got %q, want %q", got, c.said)
		}
		if text, err := c.text.MarshalText(); err != nil || string(text) != c.english {
			t.Errorf("in a file: got %q, %v, want %q", text, err, c.english)
		}
	}
}

// The same texts made twice are the same, and others are not: they can be compared
// and be keys of maps.
func TestTextsCompare(t *testing.T) {
	made := func(n int) prose.Text { return prose.Say("%d of %s", n, "a") }
	if a, b := made(2), made(2); a != b {
		t.Error("the same text differs")
	}
	different := map[prose.Text]bool{}
	for _, text := range []prose.Text{"a", prose.Own("a"), prose.Upper("a"), prose.Lower("a"), prose.Say("a"), prose.Say("%s", "a"), prose.Say("%s", prose.Text("a")), prose.Say("%s%s", "a", "b"), prose.Say("%s%s", "ab", ""), prose.Say("%d", 1), prose.Say("%d", 1.0), prose.Say("%s", "1")} {
		if different[text] {
			t.Errorf("%q: got the same text, want a different one", text)
		}
		different[text] = true
	}
}

// fault is an error with a text of its own.
type fault struct{ error }

func (fault) Text() prose.Text { return "it is broken" }

// plainFault is one that says itself to a person.
type plainFault struct{ error }

func (plainFault) Plain() prose.Text { return "Load this page again." }

// Errors are shown in the reader's language as far as they have a text in it.
func TestErrors(t *testing.T) {
	inner := fault{errors.New("it is broken")}
	for _, c := range []struct {
		err           error
		english, said string
	}{
		{errors.New("EOF"), "EOF.", "<EOF.>"},
		{inner, "it is broken.", "<<it is broken>.>"},
		{fmt.Errorf("jar 7: %w", inner), "jar 7: it is broken.", "<<jar 7: <it is broken>>.>"},
		{errors.Join(inner, errors.New("EOF")), "it is broken\nEOF.", "<<it is broken><\n>EOF.>"},
		{fmt.Errorf("store: %w", plainFault{errors.New("quota")}), "Load this page again.", "<Load this page again.>"},
		{prose.Errorf("%d lines are too many", 7), "7 lines are too many.", "<<7 lines are too many>.>"},
	} {
		if got := prose.Plain(c.err).String(); got != c.english {
			t.Errorf("%v in English: got %q, want %q", c.err, got, c.english)
		}
		if got := prose.Plain(c.err).In(loud{}); got != c.said {
			t.Errorf("%v in another language: got %q, want %q", c.err, got, c.said)
		}
		if _, plain := c.err.(plainFault); !plain && !strings.Contains(c.err.Error(), "store") && c.err.Error()+"." != c.english {
			t.Errorf("%v is %q to a person", c.err, c.english)
		}
	}
}

// Words that are filled in come out unchanged.
func FuzzOwn(f *testing.F) {
	f.Add("Grandma: Storage", "%d", 3)
	f.Add("\x01s3:abc", "\x01", -1)
	f.Add("12:34", "t5:", 0)
	f.Fuzz(func(t *testing.T, a, b string, n int) {
		want := fmt.Sprintf("%s|%d|%s", a, n, b)
		if got := prose.Say("%s|%d|%s", a, n, prose.Own(b)).String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
		if got := prose.List([]prose.Text{prose.Own(a), prose.Own(b)}, "|").In(loud{"|": "|"}); got != a+"|"+b && a != "" && b != "" {
			t.Errorf("got %q, want %q", got, a+"|"+b)
		}
	})
}
