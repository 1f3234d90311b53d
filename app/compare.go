package app

import (
	"encoding/json"
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Judge judges every jar of a pantry. static/later/rescue.js starts the program
// for this beside the page, once with the edition in use and once with the one
// that waits, to say how many jars the new edition would judge differently. It is
// given the rows and never opens the database: a new edition must not touch it
// before the person chooses that edition.
func Judge() {
	asked := app.Window().Get("larderJudge")
	defer func() {
		if r := recover(); r != nil {
			asked.Call("fail", fmt.Sprint(r))
		}
	}()
	p := pantry.New()
	rows := asked.Get("rows")
	if text := rows.Get("settings"); text.Truthy() && text.Length() > 0 {
		if s, err := record.DecodeSettings([]byte(text.Index(0).String())); err == nil {
			p.SetSettings(s)
		}
	}
	for _, kind := range []record.Kind{record.Places, record.Batches, record.Jars} {
		texts := rows.Get(string(kind))
		if !texts.Truthy() {
			continue
		}
		for i := range texts.Length() {
			// A jar that can't be read is missing from the answer, and its
			// absence shows that.
			if r, err := record.Decode(kind, []byte(texts.Index(i).String())); err == nil {
				p.Put(r)
			}
		}
	}
	var in prose.Language
	if t := ui.Spoken(); t != nil {
		in = t.Reader()
	}
	words := map[string]string{}
	for _, v := range p.JudgeAll(time.UnixMilli(int64(asked.Get("now").Float()))) {
		words[v.Jar.ID] = outcomeWords(&v).In(in)
	}
	text, err := json.Marshal(words)
	if err != nil {
		panic(err) // a map of texts
	}
	asked.Call("tell", string(text))
}

// outcomeWords describe the outcome for a jar.
func outcomeWords(v *pantry.Verdict) prose.Text {
	switch {
	case v.Settled():
		return v.Lowest.Text()
	case v.Lowest == rules.Keep && v.Highest == rules.Discard:
		return "to be looked at"
	}
	return prose.Say("%s or %s", v.Lowest, v.Highest)
}
