//go:build e2e && linux

package e2e

import (
	"fmt"

	"larderlamp/app/e2e/drive"
	"larderlamp/rules"
)

// rested is half a second after the last touch.
const rested = `performance.now() - touches.at(-1).at > 450`

// shaky touches a place, and touches it again as soon as the page has brought what an
// expression waits for. It reports whether the second touch came so soon that it must
// not count, and what it hit.
func (p guide) shaky(at drive.Place, brought string) (soon bool, hit string) {
	p.T.Helper()
	drive.Eval[bool](p.Tab, `(() => {
		if (!window.touches) {
			window.touches = [];
			addEventListener("pointerdown", e => touches.push({ at: e.timeStamp, hit: e.target.closest("button, label")?.className ?? e.target.localName }), true);
		}
		touches.length = 0;
		return true })()`)
	p.TapAt(at.X, at.Y)
	p.Wait(brought)
	p.Shake(at.X, at.Y)
	p.Wait(`touches.length === 2`)
	p.Drawn()
	return drive.Eval[bool](p.Tab, `touches[1].at - touches[0].at < 400`), drive.Eval[string](p.Tab, `touches[1].hit`)
}

// shakySweep records a jar with a shaky thumb, and one more with a steady one. It
// returns the number of the jar that comes next.
func (p guide) shakySweep() (next int) {
	p.T.Helper()
	at := func(n int) string { return fmt.Sprintf(`(%s).startsWith("%d of ")`, walkHint, n) }
	for n := 1; n < 8; n += 2 {
		p.Wait(at(n))
		p.Drawn()
		// The page goes back to its top for each jar, and there the button stays where
		// it is.
		place := drive.Eval[drive.Place](p.Tab, `(() => {
			scrollTo(0, 0);
			const r = document.querySelector("#sound").getBoundingClientRect();
			return { X: r.x + r.width / 2, Y: r.y + r.height / 2 } })()`)
		soon, hit := p.shaky(place, at(n+1))
		if !soon {
			continue // the computer was busy
		}
		if hit != "button big sound" {
			p.T.Fatalf("%s: the second touch hit %q", p.Engine, hit)
		}
		if !drive.Eval[bool](p.Tab, at(n+1)) {
			p.T.Fatalf("%s: two quick touches: got %q, want one jar recorded", p.Engine, p.Text(".walk .stand .hint"))
		}
		p.Wait(rested)
		p.TapAt(place.X, place.Y)
		p.Wait(at(n + 2))
		return n + 2
	}
	p.T.Fatalf("%s: no two touches were quick", p.Engine)
	return
}

// shakyCheck answers questions with a shaky thumb until a second touch has hit a choice
// of the question that the first one brought up. That question is then answered by a
// steady touch of the same place.
func (p guide) shakyCheck() {
	p.T.Helper()
	asks := func(q rules.Question) string {
		return fmt.Sprintf(`document.querySelector(".question h1")?.innerText === %q`, q.Ask)
	}
	for range 4 {
		food, s := p.product("peaches")
		for {
			q, more := rules.Next(s, rules.Skipped{})
			if !more {
				p.T.Fatalf("%s: no touch ever hit a choice of the next question", p.Engine)
			}
			q = food.Worded(q)
			p.Wait(asks(q))
			choice := q.Choices[len(q.Choices)-1]
			for _, c := range q.Choices {
				if v := c.Tell[0]; len(q.Signs) == 1 && v == v.Sign().Info().Sound {
					choice = c
				}
			}
			if err := s.Tell(choice.Tell...); err != nil {
				p.T.Fatal(err)
			}
			next, more := rules.Next(s, rules.Skipped{})
			if !more {
				p.T.Fatalf("%s: no touch ever hit a choice of the next question", p.Engine)
			}
			next = food.Worded(next)
			place := drive.Eval[*drive.Place](p.Tab, drive.Spot(labeled(choice.Label.String())))
			if place == nil {
				p.T.Fatalf("%s: %s does not stand still", p.Engine, choice.Label)
			}
			soon, hit := p.shaky(*place, asks(next))
			if !soon {
				break // the computer was busy: the next question may have been answered
			}
			if !drive.Eval[bool](p.Tab, asks(next)) {
				p.T.Fatalf("%s: two quick touches that hit %q: got the question %q, want %q still open", p.Engine, hit, p.Text(".question h1"), next.Ask)
			}
			if hit == "choice" || hit == "choice none" {
				p.Wait(rested)
				p.TapAt(place.X, place.Y)
				p.Wait("!(" + asks(next) + ")")
				return
			}
		}
	}
	p.T.Fatalf("%s: no two touches were quick", p.Engine)
}
