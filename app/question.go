package app

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
)

// questionForm asks one question with radio buttons. Touching a choice gives
// the answer; with the keyboard, arrows only mark a choice and Enter gives it.
// Its key makes every question a form of its own, so that no mark of the last
// one stays behind.
type questionForm struct {
	app.Compo
	Key      string
	Question rules.Question
	Rules    []*rules.Rule
	Answer   func(rules.Choice)
	All      func([]rules.Value) // given several choices that are true at once
	DontKnow func()
	Back     func() // nil when there is nothing to go back to
	Forward  func() // gives an answer again that was taken back; nil when there is none
	Eaten    func() // somebody has eaten from the jar: what to do

	chosen  string
	several bool            // more than one choice is being marked
	marked  map[string]bool // of those
	pointed bool            // the last thing done to the choices was done by finger or mouse
	empty   bool            // Next was touched without a choice
}

func (f *questionForm) CompoID() string { return f.Key }

func (f *questionForm) Render() app.UI {
	q := f.Question
	return elem("form", "card question").On("submit", f.onSubmit).Body(
		el("fieldset", "",
			el("legend", "", title(q.Ask)),
			only(q.How != "", func() app.UI { return txt("p", "how", q.How) }),
			elem("div", f.columns()).
				On("pointerdown", f.points(true)).On("pointercancel", f.points(false)).On("keydown", f.points(false)).
				Body(each(len(q.Choices), func(i int) app.UI {
					if f.several {
						return f.mark(q.Choices[i])
					}
					return f.choice(q.Choices[i])
				})...),
		),
		only(q.Several && len(q.Choices) > 2 && !f.several, func() app.UI {
			return el("p", "more-than-one", action("quiet", "I see more than one of these", func() { f.several, f.marked = true, map[string]bool{} }, f.Key))
		}),
		live("", only(f.empty, func() app.UI {
			return txt("p", "notice", "Nothing is chosen yet. Touch what you see, or say “I don't know”.")
		})),
		el("p", "row reach",
			elem("button", "button next").Attr("type", "submit").Text(local("Next")),
			only(f.Back != nil, func() app.UI { return action("button plain", "Back", f.Back, f.Key) }),
			only(f.Forward != nil, func() app.UI { return action("button plain", "Forward", f.Forward, f.Key) }),
			action("button plain", "I don't know", f.DontKnow, f.Key),
			action("button plain ate", "Someone ate it", f.Eaten, f.Key),
		),
		fold("why", "Why this is asked",
			txt("p", "", q.Why),
			only(len(f.Rules) > 0, func() app.UI { return txt("p", "", "It decides between these rules:") }),
			el("ul", "", each(len(f.Rules), func(i int) app.UI { return el("li", "", ruleLink(f.Rules[i], f.Rules[i].Say)) })...),
		),
	)
}

// columns puts many short answers, such as a number of days, two to a row.
func (f *questionForm) columns() string {
	long := func(c rules.Choice) bool { return len(c.Label) > mostShort }
	if len(f.Question.Choices) < 6 || slices.ContainsFunc(f.Question.Choices, long) {
		return "choices"
	}
	return "choices pairs"
}

// mostShort is how many letters an answer has at most beside which another stands.
const mostShort = 16

// mark is a choice of which more than one can be true. The one that a sound jar
// shows is left out.
func (f *questionForm) mark(c rules.Choice) app.UI {
	if c.Tell[0] == c.Tell[0].Sign().Info().Sound {
		return nil
	}
	return tick(f.Key+c.ID, c.Label, f.marked[c.ID], func(on bool) { f.marked[c.ID] = on })
}

// points notes whether the choices are used by finger or mouse, or by keys.
func (f *questionForm) points(pointed bool) app.EventHandler {
	return func(ctx app.Context, _ app.Event) {
		f.pointed = pointed
		ctx.PreventUpdate()
	}
}

func (f *questionForm) choice(c rules.Choice) app.UI {
	class := "choice"
	if c.ID == "none" {
		class = "choice none"
	}
	return el("label", class,
		// The browser alone keeps the mark: set from here, it would lag behind
		// fast keys and pull them back.
		radio("choice", c.ID, false).
			On("change", func(ctx app.Context, e app.Event) { f.chosen = c.ID }, app.EventScope(f.Key, c.ID)).
			On("click", func(ctx app.Context, e app.Event) {
				// A touch gives the answer; an arrow key or a screen reader marks the
				// choice, to be given with Enter or Next. The click itself does not
				// tell which it was: one that a label passes on to its button has a
				// count in some browsers, and none in WebKit.
				if f.pointed {
					f.Answer(c)
				}
			}, app.EventScope(f.Key, c.ID)),
		txt("span", "", c.Label),
	)
}

func (f *questionForm) onSubmit(ctx app.Context, e app.Event) {
	e.PreventDefault()
	if f.several {
		var values []rules.Value
		for _, c := range f.Question.Choices {
			if f.marked[c.ID] {
				values = append(values, c.Tell[0])
			}
		}
		if f.empty = len(values) == 0; !f.empty {
			f.All(values)
		}
		return
	}
	for _, c := range f.Question.Choices {
		if c.ID == f.chosen {
			f.Answer(c)
			return
		}
	}
	f.empty = true
}
