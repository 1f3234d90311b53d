package practice_test

import (
	"testing"

	"larderlamp/rules/practice"
)

// What was kept or sent with the names of an earlier edition is still read.
func TestOldNames(t *testing.T) {
	l, err := practice.ParseLadder([]byte(`{"version": 1, "seed": 1,
		"places": {"colour.pink-harmless": {"rung": 1}}, "signs": {"mould": {"right": 2}}, "products": {}}`))
	if err != nil {
		t.Fatal(err)
	}
	if at := l.Places["color.pink-harmless"]; len(l.Places) != 1 || at == nil || at.Rung != 1 {
		t.Errorf("got the places %v, want color.pink-harmless on rung 1", l.Places)
	}
	if len(l.Signs) != 1 || l.Signs["mold"] == nil {
		t.Errorf("got the signs %v, want mold", l.Signs)
	}
	e := practice.Entry{About: "colour.dark-harmless", Product: "carrots", Shows: map[string]string{"colour": "grey-black"}, Sign: "colour", Changed: "pink"}
	if it, err := e.Item(); err != nil || it.About.ID != "color.dark-harmless" || it.Sign.ID() != "color" {
		t.Errorf("got %v, %v, want an item about color.dark-harmless", it, err)
	}
}
