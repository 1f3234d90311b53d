package check

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
)

// questionForm asks one question with radio buttons. Touching a choice gives
// the answer; with the keyboard, arrows only mark a choice and Enter gives it.
// A key makes every question a separate form, so that no mark of the last one
// stays behind.
type questionForm struct {
	app.Compo
	Key      string
	Question rules.Question
	Rules    []*rules.Rule
	Answer   func(rules.Choice)
	All      func([]rules.Value) // called with several choices that are true at once
	DontKnow func()
	Back     func() // nil when there is nothing to go back to
	Forward  func() // gives an undone answer again; nil when there is none
	Eaten    func() // shows what to do for someone who has eaten from the jar

	chosen  string
	several bool            // more than one choice is being marked
	marked  map[string]bool // the choices marked
	pointed bool            // the choices were last used by finger or mouse
	empty   bool            // Next was touched without a choice
}

func (f *questionForm) CompoID() string { return f.Key }

func (f *questionForm) Render() app.UI {
	q := f.Question
	return ui.Elem("form", "card question").On("submit", f.onSubmit).Body(
		ui.El("fieldset", "",
			ui.El("legend", "", ui.Title(q.Ask)),
			ui.Only(q.How != "", func() app.UI { return ui.Txt("p", "how", q.How) }),
			ui.Elem("div", f.columns()).
				On("pointerdown", f.points(true)).On("pointercancel", f.points(false)).On("keydown", f.points(false)).
				Body(ui.Each(len(q.Choices), func(i int) app.UI {
					if f.several {
						return f.mark(q.Choices[i])
					}
					return f.choice(q.Choices[i])
				})...),
		),
		ui.Only(q.Several && len(q.Choices) > 2 && !f.several, func() app.UI {
			return ui.El("p", "more-than-one", ui.Action("quiet", "I see more than one of these", func() { f.several, f.marked = true, map[string]bool{} }, f.Key))
		}),
		ui.Live("", ui.Only(f.empty, func() app.UI {
			return ui.Txt("p", "notice", "Nothing is chosen yet. Touch what you see, or say “I don't know”.")
		})),
		ui.El("p", "row reach",
			ui.Elem("button", "button next").Attr("type", "submit").Text(ui.Local("Next")),
			ui.Only(f.Back != nil, func() app.UI { return ui.Again(ui.Action("button plain", "Back", f.Back, f.Key)) }),
			ui.Only(f.Forward != nil, func() app.UI { return ui.Action("button plain", "Forward", f.Forward, f.Key) }),
			ui.Action("button plain", "I don't know", f.DontKnow, f.Key),
			ui.Action("button plain ate", "Someone ate it", f.Eaten, f.Key),
		),
		ui.Fold("why", "Why this is asked",
			ui.Txt("p", "", q.Why),
			ui.Only(len(f.Rules) > 0, func() app.UI { return ui.Txt("p", "", "It decides between these rules:") }),
			ui.El("ul", "", ui.Each(len(f.Rules), func(i int) app.UI { return ui.El("li", "", parts.RuleLink(f.Rules[i], f.Rules[i].Say)) })...),
		),
	)
}

// columns puts many short answers, such as a number of days, in two columns.
func (f *questionForm) columns() string {
	long := func(c rules.Choice) bool { return len(c.Label) > mostShort }
	if len(f.Question.Choices) < 6 || slices.ContainsFunc(f.Question.Choices, long) {
		return "choices"
	}
	return "choices pairs"
}

// mostShort is how many letters an answer may have to share a row with another.
const mostShort = 16

// mark is for a question where several choices can be true. The choice for a
// sound jar is left out.
func (f *questionForm) mark(c rules.Choice) app.UI {
	if c.Tell[0] == c.Tell[0].Sign().Info().Sound {
		return nil
	}
	return ui.Tick(f.Key+c.ID, c.Label, f.marked[c.ID], func(on bool) { f.marked[c.ID] = on })
}

// points records whether the choices are used by finger or mouse, or by keys.
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
	return ui.El("label", class,
		// The browser alone keeps the mark: set from here, it would lag behind
		// fast keys and pull them back.
		ui.Radio("choice", c.ID, false).
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
		ui.Txt("span", "", c.Label),
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
