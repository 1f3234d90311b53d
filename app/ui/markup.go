package ui

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules/prose"
)

// The few kinds of markup that the screens are made of. They are functions, not
// chains of calls at each place, and all of them go through app.Elem: every
// other kind of element brings a hundred methods of its own into the page
// program, and written out the chains are a fifth of it.

// El is an element with children; children that are nil are left out.
func El(tag, class string, body ...app.UI) app.UI {
	return Elem(tag, class).Body(body...)
}

// Once is El for what one touch brings up where it was made, such as the next
// question: there a touch that comes too early to have read it does nothing. See
// static/repeat.js.
func Once(tag, class string, body ...app.UI) app.UI {
	return Elem(tag, class).Attr("data-once", true).Body(body...)
}

// Again is a button in Once that may be touched quickly all the same, because it
// only takes back.
func Again(button app.HTMLElem) app.UI { return button.Attr("data-again", true) }

// Elem is an element to be given attributes and handlers.
func Elem(tag, class string) app.HTMLElem {
	e := app.Elem(tag)
	if class != "" {
		e = e.Class(class)
	}
	return e
}

// Say is a text with arguments filled in.
func Say(format prose.Text, args ...any) prose.Text { return prose.Say(format, args...) }

// Prose is text without an element of its own.
func Prose(t prose.Text) app.UI { return app.Text(Local(t)) }

// Txt is an element that holds only text.
func Txt(tag, class string, text prose.Text) app.UI { return El(tag, class, Prose(text)) }

// Title is the heading of a page or a step, to which the focus moves.
func Title(text prose.Text) app.UI {
	return app.Elem("h1").ID("title").TabIndex(-1).Text(Local(text))
}

// Live is a region whose changes are read out.
func Live(class string, body ...app.UI) app.UI {
	return Elem("div", class).Aria("live", "polite").Body(body...)
}

// Faults reads out what is wrong with a form, if anything is.
func Faults(lines []prose.Text) app.UI {
	return Live("", Only(len(lines) > 0, func() app.UI { return El("ul", "notice", Texts(lines)...) }))
}

// Each makes one child for each index below n.
func Each(n int, child func(i int) app.UI) []app.UI {
	ui := make([]app.UI, n)
	for i := range ui {
		ui[i] = child(i)
	}
	return ui
}

// Texts makes a list item of each text.
func Texts(lines []prose.Text) []app.UI {
	return Each(len(lines), func(i int) app.UI { return Txt("li", "", lines[i]) })
}

// Only makes a child if the condition is true.
func Only(condition bool, child func() app.UI) app.UI {
	if !condition {
		return nil
	}
	return child()
}

// Fold is a part that is closed until it is opened.
func Fold(class string, summary prose.Text, body ...app.UI) app.UI {
	return El("details", class, append([]app.UI{Txt("summary", "", summary)}, body...)...)
}

// Anchor is a link to a page of ours.
func Anchor(class, path string, text prose.Text) app.UI { return ToPage(class, path).Text(Local(text)) }

// ToPage is a link to a page of ours, to be filled.
func ToPage(class, path string) app.HTMLElem {
	return Elem("a", class).Attr("href", Link(path))
}

// Action is a button. The scope distinguishes buttons that are in the same
// place for different things.
func Action(class string, text prose.Text, do func(), scope ...any) app.HTMLElem {
	return Named(class, text, "", do, append(scope, text)...)
}

// Named is a button whose text makes sense only beside what it belongs to; its
// label is complete.
func Named(class string, text, label prose.Text, do func(), scope ...any) app.HTMLElem {
	b := Elem("button", class).Attr("type", "button")
	if label != "" {
		b = b.Aria("label", Local(label))
	}
	return b.Text(Local(text)).On("click", func(app.Context, app.Event) { do() }, app.EventScope(scope...))
}

// Input is a control to type in.
func Input(kind, value string, placeholder prose.Text) app.HTMLElem {
	return Elem("input", "").Attr("type", kind).Attr("value", value).Attr("placeholder", Local(placeholder))
}

// Radio is one button of a group in which one can be chosen.
func Radio(group, value string, chosen bool) app.HTMLElem {
	return Elem("input", "").Attr("type", "radio").Attr("name", group).Attr("value", value).Attr("checked", chosen)
}

// nothing represents the empty value of a menu, which go-app drops: the browser
// would use the text as the value.
const nothing = "-"

// Option is one line of a menu; read the choice with Picked.
func Option(value string, text prose.Text, chosen bool) app.UI {
	if value == "" {
		value = nothing
	}
	return Elem("option", "").Attr("value", value).Attr("selected", chosen).Text(Local(text))
}

// Field is a labeled control.
func Field(label prose.Text, control app.UI) app.UI {
	return El("label", "field", Txt("span", "", label), control)
}

// Choice is a line of a menu: its value and its text.
type Choice struct {
	Value string
	Text  prose.Text
}

// Line is a line of a menu.
func Line(value string, text prose.Text) Choice { return Choice{value, text} }

// Menu is a labeled menu. The scope makes it a fresh control when its subject
// changes.
func Menu(scope any, label prose.Text, chosen string, set func(string), choices ...Choice) app.UI {
	return Field(label, Elem("select", "").On("change", func(ctx app.Context, e app.Event) { set(Picked(ctx)) }, app.EventScope(label, scope)).
		Body(Each(len(choices), func(i int) app.UI {
			return Option(choices[i].Value, choices[i].Text, choices[i].Value == chosen)
		})...))
}

// Tick is a labeled checkbox.
func Tick(scope any, label prose.Text, on bool, set func(bool)) app.UI {
	return El("label", "choice small",
		Elem("input", "").Attr("type", "checkbox").Attr("checked", on).On("change", func(ctx app.Context, e app.Event) {
			set(ctx.JSSrc().Get("checked").Bool())
		}, app.EventScope(label, scope)),
		Txt("span", "", label),
	)
}

// Typed is the text in the control an event came from.
func Typed(ctx app.Context) string { return ctx.JSSrc().Get("value").String() }

// Picked is the value chosen in the menu an event came from.
func Picked(ctx app.Context) string {
	if v := Typed(ctx); v != nothing {
		return v
	}
	return ""
}

// Count writes a number with its noun.
func Count(n int, one, many prose.Text) prose.Text { return prose.Count(n, one, many) }

// prefix is the folder the site is published under, such as "/larder", or "".
var Prefix string

// Link is the address of a page below the folder the site is published under.
func Link(path string) string { return Prefix + path }

// Table is the table behind a chart.
func Table(head []prose.Text, rows int, row func(i int) []prose.Text) app.UI {
	cells := func(tag string, texts []prose.Text) []app.UI {
		return Each(len(texts), func(i int) app.UI { return Txt(tag, "", texts[i]) })
	}
	return Elem("div", "table-box").Role("region").Aria("label", Local(Say("%s and numbers", head[0]))).TabIndex(0).Body(El("table", "",
		El("thead", "", El("tr", "", cells("th", head)...)),
		El("tbody", "", Each(rows, func(i int) app.UI { return El("tr", "", cells("td", row(i))...) })...),
	))
}
