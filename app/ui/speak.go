package ui

import (
	"encoding/json"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/language"
	"larderlamp/rules/prose"
)

// Language is one in which the pages can be read.
type Language struct{ Tag, Name string }

// English is the name of the language that the texts are written in.
const English = "English"

// Offered are the languages that a reader can choose from, English first.
var Offered []Language

// Reader is the language of the reader: nil is English. It is set before anything
// is drawn, and when the reader chooses another.
var Reader prose.Language

// ReaderTag names the language of the reader.
var ReaderTag = "en"

// Speak sets the language of the reader; nil is English.
func Speak(t *language.Texts) {
	Reader, ReaderTag = nil, "en"
	if t != nil {
		Reader, ReaderTag = t.Reader(), t.Tag
	}
	forgetDates()
	collator = nil
}

// Heard, if it is set, is told every text that is said to the reader.
var Heard func(prose.Text)

// Local is a text in the reader's language. All texts of a page go through it.
func Local(t prose.Text) string {
	if Heard != nil {
		Heard(t)
	}
	return t.In(Reader)
}

// Spoken returns the language that the page is in; nil is English.
func Spoken() *language.Texts {
	given := app.Window().Get("larderLanguage")
	if !given.Truthy() {
		return nil
	}
	return read(given)
}

// Foods returns the names of foods in the other languages of the site, as a page in
// English has them to search by: none until they have come. They are requested when they
// are first asked for, and the page is drawn again when they are there: see static/foods.js.
func Foods() (all []*language.Texts) {
	if !app.IsClient {
		return nil
	}
	come := Device().Call("foods")
	for i := range come.Length() {
		if texts := read(come.Index(i)); texts != nil {
			all = append(all, texts)
		}
	}
	return all
}

// read reads what a page is given of a language. What can't be read stays English;
// static/chosen.js has read the texts before.
func read(given app.Value) *language.Texts {
	texts := &language.Texts{}
	if json.Unmarshal([]byte(given.String()), texts) != nil {
		return nil
	}
	return texts
}

// Languages returns the languages that a page of this site can be read in.
func Languages() []Language {
	all := []Language{{"en", English}}
	given := app.Window().Get("larderLanguages")
	if !given.Truthy() {
		return all
	}
	offered := given.Get("offered")
	for i := range offered.Length() {
		l := offered.Index(i)
		all = append(all, Language{l.Get("tag").String(), l.Get("name").String()})
	}
	return all
}

// ListenForLanguage calls back when the reader has chosen another language.
func ListenForLanguage(chosen func()) {
	if app.IsClient {
		app.Window().Set("larderSpeak", app.FuncOf(func(app.Value, []app.Value) any {
			chosen()
			return nil
		}))
	}
}

// languageButtons are the buttons that show the page in another language, each in the words
// of its own: in the header, or where that has no room for them, in the footer.
// static/chosen.js hears them, so that they work before the program.
func languageButtons() []app.UI {
	var all []app.UI
	for _, l := range Offered {
		if l.Tag != ReaderTag {
			all = append(all, Elem("button", "language").Attr("type", "button").Attr("lang", l.Tag).Attr("translate", "no").Text(l.Name))
		}
	}
	return all
}
