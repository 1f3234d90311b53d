package check

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
	"larderlamp/rules/prose"
)

// Page is where one jar is looked at: choose the product, answer what is
// asked, read the answer.
type Page struct {
	app.Compo
	House *house.House

	ctx     app.Context // context of the page: it outlives its buttons
	session *session.Session
	// When an earlier question is looked at again by going back, session is the
	// check as it was then, and whole is the complete check, which is kept until
	// another answer is given.
	whole   *session.Session
	at      int            // number of answers at the address that is shown
	first   int            // number at the address that the check was opened with
	drop    bool           // the step back that was requested undoes the answer
	id      string         // id of the check requested in the address
	missing bool           // the check in the address is not on this device
	find    parts.Finder   // finds the product
	group   rules.Group    // group of the catalog that is open
	zone    *draw.Zone     // part of the picture that is being reported on
	change  rules.SignID   // sign whose answer is being changed
	changes bool           // an answer is being changed
	turn    int            // counts answers, so that each question gets a fresh form
	said    prose.Text     // what the live region reads out
	worked  process.Status // the judgment of the figures entered for the process
	dispute bool           // the person says as published, but the figures say not
	large   bool           // the picture fills a small screen
	odd     oddSearch      // what looks odd, said before it is asked for
	ate     bool           // help for someone who has eaten from it replaces the question
	filled  bool           // what is folded away under the list of foods is there
}

// OnMount marks when the program can answer, for measurements.
func (p *Page) OnMount(app.Context) {
	ui.MarkTime("program")
}

func (p *Page) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/check") {
		return
	}
	p.ctx = ctx
	p.House.Screen = p
	if !p.filled {
		ui.OneDrawLater(ctx, func(app.Context) { p.filled = true })
	}
	q := ui.Asked(ctx)
	id, product := q.Get("id"), q.Get("product")
	if p.session != nil && (id == p.session.Check.ID || id == "" && product == p.session.Product.ID) {
		if n, err := strconv.Atoi(q.Get("n")); err == nil {
			p.stepTo(n)
		}
		return
	}
	p.reset()
	p.id = id
	early := app.Window().Get("larderEarly")
	app.Window().Delete("larderEarly")
	switch {
	case id != "":
		p.House.Find(ctx, id, func(ctx app.Context, s *session.Session) {
			p.session, p.missing = s, s == nil
			p.opened()
			p.moveOn()
			if s != nil && s.Check.Jar != "" {
				p.House.WithShelf(ctx, func(app.Context) {}) // the shelf knows the sweep to go back to, and the day of canning
			}
		})
	case product != "":
		if found, ok := rules.ProductByID(product); ok {
			p.begin(found)
		}
	case q.Get("odd") != "":
		p.odd.open = true
		ui.Focus(ctx, "title")
	case early.Truthy():
		p.continueEarly(early)
	}
}

// Renew implements screen: it adds what another tab has said about the jar.
func (p *Page) Renew(ctx app.Context, done func(app.Context)) {
	was := p.kept()
	if was == nil {
		done(ctx)
		return
	}
	revision := was.Check.Revision
	p.House.Find(ctx, was.Check.ID, func(ctx app.Context, s *session.Session) {
		if s != nil && p.kept() == was && !s.Same(was) {
			if was.Check.Revision != revision {
				// An answer was given after this had been read, which does not have it.
				p.Renew(ctx, done)
				return
			}
			if p.House.IsUnsaved(was.Check.ID) {
				s = was.With(s)
			}
			p.session, p.whole = s, nil
			p.moveOn()
		}
		done(ctx)
	})
}

// continueEarly continues from what was typed and opened before the program had loaded.
func (p *Page) continueEarly(said app.Value) {
	p.find.Query, p.group = said.Get("query").String(), rules.Group(said.Get("group").String())
	if said.Get("typing").Bool() {
		ui.Focus(p.ctx, "product")
	}
}

func (p *Page) reset() {
	*p = Page{Compo: p.Compo, House: p.House, ctx: p.ctx}
}

// begin starts a check of a product and puts its address in the address bar,
// so that a reload comes back to it.
func (p *Page) begin(product *rules.Product) { p.beginAs(product, "") }

// beginAs is begin for a food that the person has a name of their own for.
func (p *Page) beginAs(product *rules.Product, own string) {
	s, err := session.New(product, time.Now())
	if err == nil {
		err = s.Name(own, time.Now())
	}
	if err != nil {
		p.House.Complain(prose.Upper(ui.Plain(err)))
		return
	}
	for _, v := range p.odd.seen {
		s.Say(v.Sign().ID(), time.Now(), v)
	}
	p.reset()
	p.session = s
	p.opened()
	p.after()
	p.House.DropUnanswered(&s.Check)
}

func (p *Page) Render() app.UI {
	switch {
	case app.IsServer:
		// The food can be named before the program has loaded, in
		// static/early.js, and is taken over from there.
		return ui.Frame("/check", eaten(false), p.picker())
	case p.missing:
		return ui.Frame("/check",
			ui.Title("This check is not on this device"),
			ui.Txt("p", "", "Checks are kept in the browser they were made in. It may have been made elsewhere, or deleted for good."),
			ui.El("p", "", ui.Anchor("button", "/check", "Check a jar")))
	case p.session == nil && p.id != "":
		return ui.Frame("/check", ui.Title("Check a jar"), ui.Txt("p", "", "Looking for this check on your device…"))
	case p.session == nil:
		return ui.Frame("/check", p.House.Notices(), eaten(false), p.picker())
	}
	return ui.Frame("/check", p.House.Notices(), p.jar(), p.backToWalk())
}

// jar is the check itself: the picture on one side, the question or the answer
// on the other.
func (p *Page) jar() app.UI {
	s := p.session
	situation := s.Situation()
	trace := rules.ExplainUnknown(situation, p.session.Unknown()...)
	q, more := s.Next()
	if p.ate {
		return p.atePanel()
	}
	if p.odd.open {
		return p.oddPanel()
	}
	if p.zone == nil && !p.changes && !more {
		return p.answer(&situation, &trace)
	}
	return ui.Once("div", "check",
		p.look(&situation, 0, ui.El("div", "", parts.Named(p.session), p.oddButton("quiet"))),
		ui.El("div", "tell",
			p.aboutWorry(),
			p.step(&situation, q, more),
			soFar(&trace),
			p.answers(),
			p.tools(),
		),
		ui.Live("unseen-live", ui.Prose(p.said)),
	)
}

// look is the picture of the jar with its name, and what is said about it
// there.
func (p *Page) look(situation *rules.Situation, verdict rules.Verdict, more app.UI) app.UI {
	s := p.session
	class := "look"
	if p.large {
		class = "look large"
	}
	return ui.El("div", class,
		ui.Elem("div", "jar-box").On("click", p.onPicture).On("keydown", p.onPictureKey).Body(
			app.Raw(parts.JarPicture(s.Product, *situation, verdict, draw.Options{Prefix: "check", Interactive: true})),
		),
		ui.El("div", "beside",
			more,
			ui.Txt("p", "hint", "Tap where you see something odd."),
		),
	)
}

// step is what the person sees next: the part of the jar that was touched, an
// answer to change, or the question.
func (p *Page) step(situation *rules.Situation, q rules.Question, more bool) app.UI {
	switch {
	case p.zone != nil:
		return p.zonePanel(situation)
	case p.changes:
		open := *situation
		open.Forget(p.change)
		return p.form(p.session.Product.Worded(rules.SignQuestion(p.change, &open)), p.moveOn)
	case p.session.CanGoBack():
		return p.form(q, p.back)
	}
	return p.form(q, nil)
}

// again starts a new check of the same jar.
func (p *Page) again() app.UI {
	jar := p.session.Check.Jar
	if jar != "" {
		return ui.Anchor("button", "/jar?id="+jar, "The jar, as it is now")
	}
	return ui.Action("button", "Check it again", func() { p.begin(p.session.Product) }, p.session.Check.ID)
}

// backToShelf leads from the answer to what has to be recorded for the jar.
func (p *Page) backToShelf(s *rules.Situation, t *rules.Trace) app.UI {
	jar := "/jar?id=" + p.session.Check.Jar
	switch {
	case p.House.Sweeping(p.session.Check.Sweep):
		return nil // this is asked beside the way back to the walk
	case p.session.Check.Jar == "":
		return p.unrecorded(s, t)
	case t.Highest == rules.Discard && t.Settled():
		return ui.El("p", "row", ui.Anchor("button", jar+"&do=discarded", "Discard it, and note it"), ui.Anchor("button plain", jar, "Back to the jar"))
	case s.Is(rules.OpenedNow):
		return ui.El("p", "row", ui.Anchor("button", jar+"&do=opened", "It is open: note where it goes"), ui.Anchor("button plain", jar, "Back to the jar"))
	}
	return ui.El("p", "row", ui.Anchor("button", jar, "Back to the jar"))
}

// backToWalk leads back to the walk from a check that a sweep led to, from every
// place on the page, whether the check is finished or not.
func (p *Page) backToWalk() app.UI {
	c := &p.session.Check
	if !p.House.Sweeping(c.Sweep) {
		return nil
	}
	text := prose.Text("Go on with the sweep")
	if walk.Running(p.House.Shelf.Pantry).Trip != "" {
		text = "Go on with the looks for the trip"
	}
	j := p.House.Shelf.Jars[c.Jar]
	if j != nil && j.Standing().Stage != record.IsGone && p.House.Shelf.Judge(j, time.Now()).Lowest == rules.Discard {
		return ui.Once("div", "hands pair",
			ui.Action("button big", "Taken out: go on", p.takeOut, c.ID, "out"),
			ui.Anchor("button plain", "/sweep", text))
	}
	return ui.Once("div", "hands", ui.Anchor("button plain", "/sweep", text))
}

// takeOut records that the jar was taken from the shelf, and continues with the
// sweep.
func (p *Page) takeOut() {
	s, j := p.House.Shelf, p.House.Shelf.Jars[p.session.Check.Jar]
	if err := walk.New(s.Pantry, s.Sweeps[p.session.Check.Sweep], time.Now()).TakeOut([]*record.Jar{j}, time.Now()); err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	p.House.Keep(p.ctx, func() { p.ctx.Navigate(ui.Link("/sweep")) }, j)
}

// form asks one question.
func (p *Page) form(q rules.Question, back func()) app.UI {
	form := &questionForm{
		Key:      fmt.Sprintf("%s-%s-%d", p.session.Check.ID, q.ID, p.turn),
		Question: q,
		Rules:    q.Separates(p.session.Situation()),
		Answer: func(c rules.Choice) {
			// A contradiction is always asked about, never settled silently.
			if slices.Contains(c.Tell, rules.ProcessMet) && processed.RulesOut(p.worked) {
				p.dispute = true
				ui.Focus(p.ctx, "title")
				return
			}
			p.session.Say(q.ID, time.Now(), c.Tell...)
			p.after()
		},
		All: func(values []rules.Value) {
			p.session.SayAll(q.ID, time.Now(), values...)
			p.after()
		},
		DontKnow: func() {
			p.session.DontKnow(q, time.Now())
			p.after()
		},
		Back:  back,
		Eaten: p.eatenFrom,
	}
	if len(p.session.Undone) > 0 {
		form.Forward = func() {
			if p.whole != nil {
				app.Window().Get("history").Call("forward")
				return
			}
			p.session.Again(time.Now())
			p.after()
		}
	}
	if q.ID != rules.SignProcess.ID() {
		return form
	}
	answer := func(v rules.Value) {
		p.session.Say(q.ID, time.Now(), v)
		p.after()
	}
	var top app.UI = form
	if p.dispute {
		top = ui.El("section", "card",
			ui.Title("You say it was done as the recipe says. Your numbers say it was not."),
			ui.Txt("p", "", ui.Say("By the published table your numbers come to: %s. Look at both again. Which food, pack, jar and altitude does your recipe mean? Which of the two is right?", p.worked)),
			ui.El("p", "row",
				ui.Action("button", "My numbers: it was not done as the recipe says", func() { answer(rules.ProcessShort) }),
				ui.Action("button plain", "I typed the numbers wrong", func() { p.moveOn() }),
				ui.Action("button plain", "I followed a current published recipe that is for just this", func() { answer(rules.ProcessMet) }),
				p.ateButton(),
			),
		)
	}
	situation := p.session.Situation()
	return ui.El("div", "", top, &parts.ProcessForm{
		Product: p.session.Product,
		Method:  processed.Method(situation.Known(rules.SignMethod)),
		House:   p.House,
		Answer:  answer,
		Worked:  func(s process.Status) { p.worked = s },
	})
}

// moveOn closes whatever was open, makes a fresh form next, reads the answer
// out and moves the focus to the new heading.
func (p *Page) moveOn() {
	p.turn++
	p.changes, p.zone, p.large, p.ate, p.said = false, nil, false, false, ""
	p.worked, p.dispute = 0, false
	ui.Focus(p.ctx, "title")
	if p.session == nil {
		return
	}
	p.House.ShowTitle(p.ctx, p.session.Product.Name)
	if _, more := p.session.Next(); !more {
		o := rules.Judge(p.session.Situation())
		if !p.session.Holds(o.Highest, time.Now()) {
			return
		}
		p.said = ui.Say("Answer: %s.", o.Highest.Text())
	}
}

// soFar shows what is still possible while questions are asked.
func soFar(t *rules.Trace) app.UI {
	if t.Settled() {
		return ui.El("p", "so-far", ui.Prose("So far: "), parts.VerdictWord(t.Lowest))
	}
	return ui.El("p", "so-far",
		ui.Prose("It can still be: "), parts.VerdictWord(t.Lowest), ui.Prose(" to "), parts.VerdictWord(t.Highest),
		ui.Txt("small", "", "If you stop now, go by the stricter one."),
	)
}
