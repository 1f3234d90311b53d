package check

import (
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/session"
	"larderlamp/app/ui"
)

// after saves what was said and moves on. Every answer has an address of its own,
// so that the back button of a phone leads to the question before.
func (p *Page) after() {
	p.whole = nil
	p.House.Save(&p.session.Check)
	if n := p.session.Given(); n > p.at {
		p.at = n
		p.House.PushAddress(p.address())
	} else if n < p.at {
		p.at, p.first = n, min(n, p.first)
		p.House.ReplaceAddress(p.address())
	}
	p.moveOn()
}

// address is the address of the check, with how many answers were given.
func (p *Page) address() string {
	return ui.Link(fmt.Sprintf("/check#id=%s&n=%d", p.session.Check.ID, p.at))
}

// opened records how far a check is when it is opened.
func (p *Page) opened() {
	if p.session != nil {
		p.at = p.session.Given()
		p.first, p.whole = p.at, nil
		p.House.ReplaceAddress(p.address())
	}
}

// kept is the check as it is stored.
func (p *Page) kept() *session.Session {
	if p.whole != nil {
		return p.whole
	}
	return p.session
}

// stepTo shows the check as it was after so many answers. Nothing is forgotten
// until another answer is given: going back in order to leave the page changes
// nothing.
func (p *Page) stepTo(n int) {
	whole := p.kept()
	p.at = n
	if p.drop {
		p.drop, p.session = false, whole
		whole.Back(time.Now())
		p.after()
		return
	}
	p.session, p.whole = whole, nil
	if n < whole.Given() {
		p.session, p.whole = whole.UpTo(n, time.Now()), whole
	}
	p.moveOn()
}

// back undoes the last answer. If the answer was given on this page, it goes
// back in the browser's history, so that the next step back continues from
// there.
func (p *Page) back() {
	if p.at > p.first {
		p.drop = p.whole == nil
		app.Window().Get("history").Call("back")
		return
	}
	p.session.Back(time.Now())
	p.after()
}
