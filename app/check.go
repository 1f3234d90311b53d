package app

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/record"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/locale"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
)

// checkPage is where one jar is looked at: choose the product, answer what is
// asked, read the answer.
type checkPage struct {
	app.Compo
	house *household

	ctx     app.Context // of the page: it outlives the buttons in it
	session *session
	// An earlier question is looked at again by a step back: then session is the
	// check as it was, and whole what is kept until another answer is given.
	whole   *session
	at      int            // answers at the address that is shown
	first   int            // at the one that the check was opened with
	drop    bool           // the step back that was asked for takes the answer back
	id      string         // of the check asked for in the address
	missing bool           // that check is not on this device
	find    finder         // of the product
	group   rules.Group    // of the catalogue, opened to browse
	zone    *draw.Zone     // part of the picture that is being reported on
	change  rules.SignID   // sign whose answer is being changed
	changes bool           // one is
	turn    int            // counts answers, so that each question is a fresh form
	said    string         // what the live region reads out
	worked  process.Status // what the figures entered for the process come to
	dispute bool           // the person says as published, the figures say not
	large   bool           // the picture fills a small screen
	odd     oddSearch      // what looks odd, said before it is asked for
	ate     bool           // what to do for who has eaten from it stands in place of the question
}

// OnMount marks the moment from which the program answers, for measurements.
func (p *checkPage) OnMount(app.Context) {
	measured("program")
}

func (p *checkPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/check") {
		return
	}
	p.ctx = ctx
	p.house.screen = p
	q := asked(ctx)
	id, product := q.Get("id"), q.Get("product")
	if p.session != nil && (id == p.session.check.ID || id == "" && product == p.session.product.ID) {
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
		p.house.find(ctx, id, func(ctx app.Context, s *session) {
			p.session, p.missing = s, s == nil
			p.opened()
			p.turned()
			if s != nil && s.check.Jar != "" {
				p.house.shelved(ctx, func(app.Context) {}) // of the sweep it leads back to, and of the day it was canned
			}
		})
	case product != "":
		if found, ok := rules.ProductByID(product); ok {
			p.begin(found)
		}
	case q.Get("odd") != "":
		p.odd.open = true
		focus(ctx, "title")
	case early.Truthy():
		p.early(early)
	}
}

// renew implements screen: what another tab has said of the jar is taken up.
func (p *checkPage) renew(ctx app.Context, done func(app.Context)) {
	was := p.kept()
	if was == nil {
		done(ctx)
		return
	}
	p.house.find(ctx, was.check.ID, func(ctx app.Context, s *session) {
		if s != nil && p.kept() == was && !s.same(was) {
			if p.house.isUnsaved(was.check.ID) {
				s = was.with(s)
			}
			p.session, p.whole = s, nil
			p.turned()
		}
		done(ctx)
	})
}

// early goes on from what was typed and opened before the program had loaded.
func (p *checkPage) early(said app.Value) {
	p.find.query, p.group = said.Get("query").String(), rules.Group(said.Get("group").String())
	if said.Get("typing").Bool() {
		focus(p.ctx, "product")
	}
}

func (p *checkPage) reset() {
	*p = checkPage{Compo: p.Compo, house: p.house, ctx: p.ctx}
}

// begin starts a check of a product and puts its address in the address bar,
// so that a reload comes back to it.
func (p *checkPage) begin(product *rules.Product) { p.beginAs(product, "") }

// beginAs is begin for a food that the person calls by a name of their own.
func (p *checkPage) beginAs(product *rules.Product, own string) {
	s, err := newSession(product, time.Now())
	if err == nil {
		err = s.name(own, time.Now())
	}
	if err != nil {
		p.house.complain(upperFirst(err.Error()) + ".")
		return
	}
	for _, v := range p.odd.seen {
		s.say(v.Sign().ID(), time.Now(), v)
	}
	p.reset()
	p.session = s
	p.opened()
	p.after()
	p.house.dropUnanswered(p.ctx, &s.check)
}

func (p *checkPage) Render() app.UI {
	switch {
	case app.IsServer:
		// What is in the jar can be said before the program has loaded, to
		// static/early.js, and is taken from there.
		return frame("/check", eaten(false), p.picker())
	case p.missing:
		return frame("/check",
			title("This check is not on this device"),
			txt("p", "", "Checks are kept in the browser they were made in. It may have been made elsewhere, or deleted for good."),
			el("p", "", anchor("button", "/check", "Check a jar")))
	case p.session == nil && p.id != "":
		return frame("/check", title("Check a jar"), txt("p", "", "Looking for this check on your device…"))
	case p.session == nil:
		return frame("/check", p.house.notices(), eaten(false), p.picker())
	}
	return frame("/check", p.house.notices(), p.jar(), p.backToWalk())
}

// jar is the check itself: picture on one side, question or answer on the other.
func (p *checkPage) jar() app.UI {
	s := p.session
	situation := s.situation()
	trace := rules.ExplainUnknown(situation, p.session.unknown()...)
	q, more := s.next()
	if p.ate {
		return p.atePanel()
	}
	if p.odd.open {
		return p.oddPanel()
	}
	if p.zone == nil && !p.changes && !more {
		return p.answer(&situation, &trace)
	}
	return el("div", "check",
		p.look(&situation, 0, el("div", "", p.session.named(), p.oddButton("quiet"))),
		el("div", "tell",
			p.aboutWorry(),
			p.step(&situation, q, more),
			soFar(&trace),
			p.answers(),
			p.tools(),
		),
		live("unseen-live", prose(p.said)),
	)
}

// look is the picture of the jar with its name, and what is said of it there.
func (p *checkPage) look(situation *rules.Situation, verdict rules.Verdict, beside app.UI) app.UI {
	s := p.session
	class := "look"
	if p.large {
		class = "look large"
	}
	return el("div", class,
		elem("div", "jar-box").On("click", p.onPicture).On("keydown", p.onPictureKey).Body(
			app.Raw(jarPicture(s.product, *situation, verdict, draw.Options{Prefix: "check", Interactive: true})),
		),
		el("div", "beside",
			beside,
			txt("p", "hint", "Tap where you see something odd."),
		),
	)
}

// named is what is in the jar, and the person's own words for it.
func (s *session) named() app.UI {
	return el("div", "",
		txt("p", "jar-name", s.product.Name),
		only(s.check.Label != "", func() app.UI { return txt("p", "jar-label", s.check.Label) }))
}

// step is what the person sees next: the part of the jar that was touched, an
// answer to change, or the question.
func (p *checkPage) step(situation *rules.Situation, q rules.Question, more bool) app.UI {
	switch {
	case p.zone != nil:
		return p.zonePanel(situation)
	case p.changes:
		open := *situation
		open.Forget(p.change)
		return p.form(p.session.product.Worded(rules.SignQuestion(p.change, &open)), p.turned)
	case p.session.canGoBack():
		return p.form(q, p.back)
	}
	return p.form(q, nil)
}

// again begins a fresh check of the same jar.
func (p *checkPage) again() app.UI {
	jar := p.session.check.Jar
	if jar != "" {
		return anchor("button", "/jar?id="+jar, "The jar, as it is now")
	}
	return action("button", "Check it again", func() { p.begin(p.session.product) }, p.session.check.ID)
}

// backToShelf leads from the answer to what has to be noted of the jar.
func (p *checkPage) backToShelf(s *rules.Situation, t *rules.Trace) app.UI {
	jar := "/jar?id=" + p.session.check.Jar
	switch {
	case p.house.sweeping(p.session.check.Sweep):
		return nil // what is done with it is asked beside the way back to the walk
	case p.session.check.Jar == "":
		return p.unrecorded(s, t)
	case t.Highest == rules.Discard && t.Settled():
		return el("p", "row", anchor("button", jar+"&do=discarded", "Discard it, and note it"), anchor("button plain", jar, "Back to the jar"))
	case s.Is(rules.OpenedNow):
		return el("p", "row", anchor("button", jar+"&do=opened", "It is open: note where it goes"), anchor("button plain", jar, "Back to the jar"))
	}
	return el("p", "row", anchor("button", jar, "Back to the jar"))
}

// backToWalk leads from a check that a sweep led to back to the walk, from every
// place on the page, whether the check is finished or not.
func (p *checkPage) backToWalk() app.UI {
	c := &p.session.check
	if !p.house.sweeping(c.Sweep) {
		return nil
	}
	text := "Go on with the sweep"
	if walk.Running(p.house.shelf.Pantry).Trip != "" {
		text = "Go on with the looks for the trip"
	}
	j := p.house.shelf.Jars[c.Jar]
	if j != nil && j.Standing().Stage != record.IsGone && p.house.shelf.Judge(j, time.Now()).Lowest == rules.Discard {
		return el("div", "hands pair",
			action("button big", "Taken out: go on", p.takeOut, c.ID, "out"),
			anchor("button plain", "/sweep", text))
	}
	return el("div", "hands", anchor("button plain", "/sweep", text))
}

// takeOut notes that the jar was taken from the shelf, and goes on with the sweep.
func (p *checkPage) takeOut() {
	s, j := p.house.shelf, p.house.shelf.Jars[p.session.check.Jar]
	if err := walk.New(s.Pantry, s.Sweeps[p.session.check.Sweep], time.Now()).TakeOut([]*record.Jar{j}, time.Now()); err != nil {
		p.house.complain(plain(err))
		return
	}
	p.house.keep(p.ctx, func() { p.ctx.Navigate(link("/sweep")) }, j)
}

// form asks one question.
func (p *checkPage) form(q rules.Question, back func()) app.UI {
	form := &questionForm{
		Key:      fmt.Sprintf("%s-%s-%d", p.session.check.ID, q.ID, p.turn),
		Question: q,
		Rules:    q.Separates(p.session.situation()),
		Answer: func(c rules.Choice) {
			// A disagreement is asked about, never settled in silence.
			if slices.Contains(c.Tell, rules.ProcessMet) && processed.RulesOut(p.worked) {
				p.dispute = true
				focus(p.ctx, "title")
				return
			}
			p.session.say(q.ID, time.Now(), c.Tell...)
			p.after()
		},
		All: func(values []rules.Value) {
			p.session.sayAll(q.ID, time.Now(), values...)
			p.after()
		},
		DontKnow: func() {
			p.session.dontKnow(q, time.Now())
			p.after()
		},
		Back:  back,
		Eaten: p.eatenFrom,
	}
	if len(p.session.undone) > 0 {
		form.Forward = func() {
			if p.whole != nil {
				app.Window().Get("history").Call("forward")
				return
			}
			p.session.again(time.Now())
			p.after()
		}
	}
	if q.ID != rules.SignProcess.ID() {
		return form
	}
	answer := func(v rules.Value) {
		p.session.say(q.ID, time.Now(), v)
		p.after()
	}
	var top app.UI = form
	if p.dispute {
		top = el("section", "card",
			title("You say it was done as the recipe says. Your numbers say it was not."),
			txt("p", "", say("By the published table your numbers come to: %s. Look at both again. Which food, pack, jar and altitude does your recipe mean? Which of the two is right?", p.worked.String())),
			el("p", "row",
				action("button", "My numbers: it was not done as the recipe says", func() { answer(rules.ProcessShort) }),
				action("button plain", "I typed the numbers wrong", func() { p.turned() }),
				action("button plain", "My current published recipe is for exactly this, and I followed it", func() { answer(rules.ProcessMet) }),
				p.ateButton(),
			),
		)
	}
	situation := p.session.situation()
	return el("div", "", top, &processForm{
		Product: p.session.product,
		Method:  methodOf(&situation),
		House:   p.house,
		Answer:  answer,
		Worked:  func(s process.Status) { p.worked = s },
	})
}

// after saves what was said and moves on. Every answer has an address of its own,
// so that the step back of a phone leads to the question before.
func (p *checkPage) after() {
	p.whole = nil
	p.house.save(p.ctx, &p.session.check)
	if n := p.session.given(); n > p.at {
		p.at = n
		p.house.pushAddress(p.address())
	} else if n < p.at {
		p.at, p.first = n, min(n, p.first)
		p.house.replaceAddress(p.address())
	}
	p.turned()
}

// address is where the check is found, with how many answers were given.
func (p *checkPage) address() string {
	return link(fmt.Sprintf("/check#id=%s&n=%d", p.session.check.ID, p.at))
}

// opened notes where a check that is opened stands.
func (p *checkPage) opened() {
	if p.session != nil {
		p.at = p.session.given()
		p.first, p.whole = p.at, nil
		p.house.replaceAddress(p.address())
	}
}

// kept is the check as it is kept.
func (p *checkPage) kept() *session {
	if p.whole != nil {
		return p.whole
	}
	return p.session
}

// stepTo shows the check as it was after so many answers. Nothing is forgotten
// until another answer is given: who steps back to leave the page changes nothing.
func (p *checkPage) stepTo(n int) {
	whole := p.kept()
	p.at = n
	if p.drop {
		p.drop, p.session = false, whole
		whole.back(time.Now())
		p.after()
		return
	}
	p.session, p.whole = whole, nil
	if n < whole.given() {
		p.session, p.whole = whole.upTo(n, time.Now()), whole
	}
	p.turned()
}

// back takes the last answer back, by a step back where the answer was given on
// this page, so that the next step back leads on from there.
func (p *checkPage) back() {
	if p.at > p.first {
		p.drop = p.whole == nil
		app.Window().Get("history").Call("back")
		return
	}
	p.session.back(time.Now())
	p.after()
}

// turned leaves whatever was open, makes the next form a fresh one, reads the
// answer out and moves the focus to the new heading.
func (p *checkPage) turned() {
	p.turn++
	p.changes, p.zone, p.large, p.ate, p.said = false, nil, false, false, ""
	p.worked, p.dispute = 0, false
	focus(p.ctx, "title")
	if p.session == nil {
		return
	}
	p.ctx.Page().SetTitle(say("%s · %s", p.session.product.Name, Name))
	if _, more := p.session.next(); !more {
		o := rules.Judge(p.session.situation())
		if !p.session.holds(o.Highest, time.Now()) {
			return
		}
		p.said = say("Answer: %s.", o.Highest.String())
	}
}

// soFar shows what is still possible while questions are asked.
func soFar(t *rules.Trace) app.UI {
	if t.Settled() {
		return el("p", "so-far", prose("So far: "), verdictWord(t.Lowest))
	}
	return el("p", "so-far",
		prose("It can still be: "), verdictWord(t.Lowest), prose(" to "), verdictWord(t.Highest),
		txt("small", "", "If you stop now, go by the stricter one."),
	)
}

// wide is the width in pixels from which picture and question stand side by
// side; the style sheet has the same figure.
const wide = 782

// onPicture opens the part of the jar that was touched. On a small screen the
// first touch makes the picture large enough for a thumb.
func (p *checkPage) onPicture(ctx app.Context, e app.Event) {
	if width, _ := app.Window().Size(); width < wide && !p.large && e.Get("type").String() == "click" {
		p.large = true
		return
	}
	hit := e.Get("target").Call("closest", "[data-zone]")
	if !hit.Truthy() {
		ctx.PreventUpdate()
		return
	}
	id := hit.Call("getAttribute", "data-zone").String()
	for i := range draw.Zones {
		if draw.Zones[i].ID == id {
			p.zone, p.changes, p.large = &draw.Zones[i], false, false
		}
	}
	focus(p.ctx, "title")
}

func (p *checkPage) onPictureKey(ctx app.Context, e app.Event) {
	if k := e.Get("key").String(); k == "Enter" || k == " " {
		e.PreventDefault()
		p.onPicture(ctx, e)
		return
	}
	ctx.PreventUpdate()
}

// zonePanel lists the signs of the touched part as radio groups.
func (p *checkPage) zonePanel(situation *rules.Situation) app.UI {
	return el("section", "card zone-panel",
		title(p.zone.Label),
		el("div", "", each(len(p.zone.Signs), func(i int) app.UI { return p.signGroup(p.zone.Signs[i], situation) })...),
		el("p", "row reach", action("button", "Done", p.turned), p.ateButton()),
	)
}

// signGroup is one sign as a labelled radio group; what is chosen counts at once.
func (p *checkPage) signGroup(id rules.SignID, situation *rules.Situation) app.UI {
	info := id.Info()
	known, isKnown := situation.Known(id)
	open := *situation
	open.Forget(id)
	asked := p.session.product.Worded(rules.SignQuestion(id, &open))
	save := func() {
		p.said, p.whole = "", nil
		p.house.save(p.ctx, &p.session.check)
		situation := p.session.situation()
		if o := rules.Judge(situation); o.Lowest == rules.Discard {
			p.turned() // nothing that is left to report can matter
		}
	}
	return el("fieldset", "sign",
		txt("legend", "", asked.Ask),
		el("div", "", each(len(info.Values), func(i int) app.UI {
			v := info.Values[i]
			label, fits := p.session.product.Words(asked, v)
			if !fits {
				return nil
			}
			return el("label", "choice small",
				radio("sign-"+info.ID, v.ID, isKnown && known == v.Value).
					On("change", func(ctx app.Context, e app.Event) {
						p.session.say(info.ID, time.Now(), v.Value)
						save()
					}, app.EventScope(p.session.check.ID, v.ID, info.ID)),
				txt("span", "", label),
			)
		})...),
		only(!situation.Untouched(id), func() app.UI {
			return action("quiet", "Undo", func() {
				p.session.forget(time.Now(), id)
				save()
			}, p.session.check.ID, info.ID)
		}),
	)
}

// answers lists what was said, each with a way to change it.
func (p *checkPage) answers() app.UI {
	var said []record.Answer
	for i, a := range p.session.check.Answers {
		later := func(b record.Answer) bool { return b.Sign == a.Sign }
		if a.Sign != record.Unanswered && !slices.ContainsFunc(p.session.check.Answers[i+1:], later) {
			said = append(said, a)
		}
	}
	if len(said) == 0 {
		return nil
	}
	return fold("said", say("What you said (%v)", len(said)), el("ul", "", each(len(said), func(i int) app.UI {
		id, ok := rules.SignByID(said[i].Sign)
		if !ok {
			return txt("li", "", said[i].Sign)
		}
		name := id.Info().Name
		return el("li", "",
			el("span", "", txt("strong", "", name+": "), prose(saidWords(id, said[i].Values))),
			named("quiet", "Change", say("Change: %s", name), func() {
				p.turned()
				p.change, p.changes = id, true
			}, name),
		)
	})...))
}

// saidWords writes the values that an answer left possible.
func saidWords(id rules.SignID, values []string) string {
	if len(values) == len(id.Info().Values) {
		return "don't know"
	}
	var words []string
	for _, v := range id.Info().Values {
		if slices.Contains(values, v.ID) {
			words = append(words, v.Label)
		}
	}
	return locale.List(words, ", or: ")
}

// tools are the ways out of a check, none of which loses anything.
func (p *checkPage) tools() app.UI {
	s := p.session
	label := input("text", s.check.Label, "for example: cellar, left, 2nd shelf").Attr("maxlength", record.MostLabel).On("change", func(ctx app.Context, e app.Event) {
		kept := p.kept()
		if err := kept.name(typed(ctx), time.Now()); err != nil {
			p.house.complain(plain(err))
			return
		}
		p.session.check.Label = kept.check.Label
		p.house.save(p.ctx, &kept.check)
	}, app.EventScope(s.check.ID))
	return el("div", "tools",
		field("Your words for this jar", label),
		el("p", "row",
			action("quiet", "Start again", func() { p.beginAs(s.product, s.check.Label) }, s.check.ID),
			action("quiet", "Another jar", func() {
				p.reset()
				p.house.replaceAddress(link("/check"))
				p.turned()
			}, s.check.ID),
			only(s.check.Jar != "", func() app.UI { return action("quiet", "Take a photo of the jar", p.photo, s.check.ID) }),
			txt("span", "saved", p.house.savedWords()),
			only(p.house.savedLimit() != "", func() app.UI { return txt("span", "hint", p.house.savedLimit()) }),
		),
	)
}

// photo takes a picture of the jar and keeps it with the check.
func (p *checkPage) photo() {
	jar, check := p.session.check.Jar, p.session.check.ID
	promised(p.ctx, device().Call("picture", record.MostPixels), func(v app.Value) {
		if v.String() == "" {
			return
		}
		photo, err := record.NewPhoto(jar, check, v.String(), time.Now())
		if err != nil {
			p.house.complain(plain(err))
			return
		}
		p.house.picture(p.ctx, photo, func() { p.said = "The photo is kept with the check." })
	}, func(text string) { p.house.complain(text + ".") })
}
