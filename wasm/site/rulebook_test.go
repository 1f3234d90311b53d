package main

import (
	"bytes"
	"context"
	"encoding/xml"
	"html/template"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/process"
)

// The book has one anchor for every rule, number, question and piece of advice,
// names every source with how it is known, and every rule is exercised.
func TestRulebookIsComplete(t *testing.T) {
	name := filepath.Join(t.TempDir(), "book.html")
	var out, errs bytes.Buffer
	if code := run(context.Background(), []string{"rulebook", "-o", name}, &out, &errs); code != 0 {
		t.Fatalf("got exit code %d: %s", code, errs.String())
	}
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	book := string(text)
	anchor := func(id string) {
		if n := strings.Count(book, `id="`+id+`"`); n != 1 {
			t.Errorf("got %d anchors for %s", n, id)
		}
	}
	uses, err := casesByRule()
	if err != nil {
		t.Fatal(err)
	}
	for p := range rules.Parts {
		for _, r := range rules.Parts[p].Rules {
			anchor(r.ID)
			if len(uses[r.ID]) == 0 {
				t.Errorf("no case names %s", r.ID)
			}
		}
	}
	for _, b := range rules.Bands {
		anchor("number." + b.ID)
	}
	for _, a := range rules.Advices {
		anchor("advice." + a.ID)
	}
	for id := range uses {
		if _, ok := rules.RuleByID(id); !ok {
			t.Errorf("a case names %s, which is not a rule", id)
		}
	}
	for _, e := range []rules.Evidence{rules.Read, rules.Memory, rules.Practice, rules.Derived, rules.Copied} {
		if !strings.Contains(book, e.String()) {
			t.Errorf("nothing is %s", e)
		}
	}
	// Every time from memory is on the page that lists them, and no other is.
	remembered, _, _ := strings.Cut(book[strings.Index(book, `<h2 id="unread">`):], `<h2 id="copied">`)
	rows := 0
	for _, f := range process.Foods {
		for _, r := range f.Rows {
			if r.Cite.Evidence == rules.Memory {
				rows++
			}
		}
	}
	for _, f := range process.Figures(rules.Memory) {
		if !strings.Contains(remembered, template.HTMLEscapeString(f.What.String())) {
			t.Errorf("the page of what is from memory lacks: %s", f.What)
		}
		if !strings.HasPrefix(f.What.String(), "acid of ") {
			rows--
		}
	}
	if rows != 0 {
		t.Errorf("got %d rows from memory that are not listed", rows)
	}
	if strings.Contains(book, "http") || strings.Contains(book, "<script") {
		t.Error("the book refers to something outside it")
	}
	d := xml.NewDecoder(strings.NewReader(strings.TrimPrefix(book, "<!doctype html>\n")))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	var again bytes.Buffer
	if err := writeBook(&again, uses, english, nil); err != nil || again.String() != book {
		t.Errorf("written twice: got different books: %v", err)
	}
}
