package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
	"larderlamp/rules/locale"
)

// The few shapes of markup that the screens are made of. They are functions of
// their own, not chains of calls at each place, and all of them go through
// app.Elem: every other kind of element brings a hundred methods of its own
// into the page program, and written out the chains are a fifth of it.

// el is an element with children; children that are nil are left out.
func el(tag, class string, body ...app.UI) app.UI {
	return elem(tag, class).Body(body...)
}

// elem is an element to be given attributes and handlers.
func elem(tag, class string) app.HTMLElem {
	e := app.Elem(tag)
	if class != "" {
		e = e.Class(class)
	}
	return e
}

// local is a text in the reader's language, and say one with something filled
// in. What stands in the page goes through them: see rules/locale.
func local(english string) string { return locale.Text(english) }

func say(format string, args ...any) string { return locale.Say(format, args...) }

// prose is text without an element of its own.
func prose(english string) app.UI { return app.Text(local(english)) }

// txt is an element that holds only text.
func txt(tag, class, text string) app.UI { return el(tag, class, prose(text)) }

// title is the heading of a page or a step, to which the focus moves.
func title(text string) app.UI {
	return app.Elem("h1").ID("title").TabIndex(-1).Text(local(text))
}

// live is a region whose changes are read out.
func live(class string, body ...app.UI) app.UI {
	return elem("div", class).Aria("live", "polite").Body(body...)
}

// each makes one child for each index below n.
func each(n int, child func(i int) app.UI) []app.UI {
	ui := make([]app.UI, n)
	for i := range ui {
		ui[i] = child(i)
	}
	return ui
}

// texts makes a list item of each text.
func texts(lines []string) []app.UI {
	return each(len(lines), func(i int) app.UI { return txt("li", "", lines[i]) })
}

// only makes a child if the condition holds.
func only(condition bool, child func() app.UI) app.UI {
	if !condition {
		return nil
	}
	return child()
}

// fold is a part that is closed until it is wanted.
func fold(class, summary string, body ...app.UI) app.UI {
	return el("details", class, append([]app.UI{txt("summary", "", summary)}, body...)...)
}

// anchor is a link to a page of ours.
func anchor(class, path, text string) app.UI { return toPage(class, path).Text(local(text)) }

// toPage is a link to a page of ours, to be filled.
func toPage(class, path string) app.HTMLElem {
	return elem("a", class).Attr("href", link(path))
}

// action is a button. The scope tells apart buttons that stand at the same
// place for different things.
func action(class, text string, do func(), scope ...any) app.UI {
	return named(class, text, "", do, append(scope, text)...)
}

// named is a button whose text says what it does only beside what it belongs
// to; its label says it in full.
func named(class, text, label string, do func(), scope ...any) app.UI {
	b := elem("button", class).Attr("type", "button")
	if label != "" {
		b = b.Aria("label", local(label))
	}
	return b.Text(local(text)).On("click", func(app.Context, app.Event) { do() }, app.EventScope(scope...))
}

// input is a control to type in.
func input(kind, value, placeholder string) app.HTMLElem {
	return elem("input", "").Attr("type", kind).Attr("value", value).Attr("placeholder", local(placeholder))
}

// radio is one button of a group of which one can be chosen.
func radio(group, value string, chosen bool) app.HTMLElem {
	return elem("input", "").Attr("type", "radio").Attr("name", group).Attr("value", value).Attr("checked", chosen)
}

// nothing stands for the empty value of a menu, which go-app drops: the browser
// would take the text for the value.
const nothing = "-"

// option is one line of a menu; what is chosen is read with picked.
func option(value, text string, chosen bool) app.UI {
	if value == "" {
		value = nothing
	}
	return elem("option", "").Attr("value", value).Attr("selected", chosen).Text(local(text))
}

// field is a labelled control.
func field(label string, control app.UI) app.UI {
	return el("label", "field", txt("span", "", label), control)
}

// menu is a labelled menu: values and their texts in turn. The scope makes it a
// fresh control when what it is about changes.
func menu(scope any, label, chosen string, set func(string), choices ...string) app.UI {
	return field(label, elem("select", "").On("change", func(ctx app.Context, e app.Event) { set(picked(ctx)) }, app.EventScope(label, scope)).
		Body(each(len(choices)/2, func(i int) app.UI { return option(choices[2*i], choices[2*i+1], choices[2*i] == chosen) })...))
}

// signMenu is a menu of the values of a sign; the first is for not known.
func signMenu(scope any, id rules.SignID, chosen string, set func(string)) app.UI {
	choices := []string{"", "not known"}
	for _, v := range id.Info().Values {
		choices = append(choices, v.ID, v.Label)
	}
	return menu(scope, id.Info().Name, chosen, set, choices...)
}

// tick is a labelled box to tick.
func tick(scope any, label string, on bool, set func(bool)) app.UI {
	return el("label", "choice small",
		elem("input", "").Attr("type", "checkbox").Attr("checked", on).On("change", func(ctx app.Context, e app.Event) {
			set(ctx.JSSrc().Get("checked").Bool())
		}, app.EventScope(label, scope)),
		txt("span", "", label),
	)
}

// typed is what stands in the control an event came from.
func typed(ctx app.Context) string { return ctx.JSSrc().Get("value").String() }

// picked is the value chosen in the menu an event came from.
func picked(ctx app.Context) string {
	if v := typed(ctx); v != nothing {
		return v
	}
	return ""
}

// count writes a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return say("1 %s", one)
	}
	return say("%d %s", n, many)
}
