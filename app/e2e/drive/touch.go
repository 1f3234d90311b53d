//go:build e2e && linux

package drive

import (
	"context"
	"errors"
	"fmt"
	"time"
)

// Touch touches the first element of a kind that holds a text, with a finger or
// on a desktop with the mouse.
func (p *Tab) Touch(selector, text string) {
	p.T.Helper()
	p.Tap(Saying(selector, text))
}

// Tap touches the element of a JavaScript expression, with a finger or on a
// desktop with the mouse, and fails the test when something else is hit.
func (p *Tab) Tap(element string) {
	p.T.Helper()
	deadline := time.Now().Add(Patience)
	for {
		// The page may still be drawing and scrolling.
		at, err := Evaluate[*Place](p, Spot(element, 30))
		if err == nil && at != nil {
			p.TapAt(at.X, at.Y)
			p.struck(element)
			return
		}
		if time.Now().After(deadline) {
			says, _ := Evaluate[string](p, `document.body.innerText`)
			p.T.Fatalf("%s: waited in vain for %s to stand still (%v); the page says: %.600s", p.Engine, element, err, says)
		}
	}
}

// struck fails the test unless the last touch has hit what was aimed at.
func (p *Tab) struck(element string) {
	p.T.Helper()
	miss, err := Evaluate[string](p, Struck)
	if errors.Is(err, context.DeadlineExceeded) {
		p.T.Fatalf("%s: %s was touched, and nothing was hit", p.Engine, element)
	}
	if err == nil && miss != "" { // another error is of a page that was left by the touch
		p.T.Fatalf("%s: %s was touched: %s", p.Engine, element, miss)
	}
}

// Place is a place on the screen.
type Place struct{ X, Y float64 }

// Spot is JavaScript that waits in the page until the element of an expression is
// there, stands still and lies under nothing else: a finger waits for that too. It
// gives the middle of the element, or null when it has not come to rest for a second.
// The next touch is then compared with the element; see Struck. Between two
// looks it waits for the pause, in milliseconds, and one frame.
func Spot(element string, pause int) string {
	return fmt.Sprintf(`new Promise((done, fail) => {
		const find = () => (%s), late = performance.now() + 1000;
		const middle = () => {
			const e = find();
			if (!e) return null;
			e.scrollIntoView({ block: "center", behavior: "instant" });
			const r = e.getBoundingClientRect();
			return { X: r.x + r.width / 2, Y: r.y + r.height / 2 };
		};
		let was = null;
		const look = () => {
			let at = null, err = null;
			try { at = middle() } catch (e) { err = e }
			if (at && was && at.X === was.X && at.Y === was.Y) {
				aimAt(find);
				const over = document.elementFromPoint(at.X, at.Y);
				if (over && aimed.mine(over)) { done(at); return }
				err = new Error("it lies under " + over?.outerHTML.slice(0, 150));
			}
			if (performance.now() > late) { if (err) fail(err); else done(null); return }
			was = at;
			if (%[2]d) setTimeout(() => requestAnimationFrame(look), %[2]d); else requestAnimationFrame(look);
		};
		look();
	})`, element, pause)
}

// Struck is JavaScript that gives what was hit instead of the element that was
// aimed at; "" when it was hit, or when the page has been left since.
const Struck = `window.aimed?.struck ?? ""`

// Aiming is JavaScript for every page, before its own scripts: aimAt(find) says what
// the next touch is meant for, and aimed.struck is a promise of what it has hit
// instead, or "".
const Aiming = `(() => {
	const name = e => e?.outerHTML?.slice(0, 150) ?? String(e);
	window.aimAt = find => {
		const was = find();
		const aim = { name: name(was), mine: hit => {
			let now = null;
			try { now = find() } catch { } // it is gone
			return [was, now].some(e => e && (e.contains(hit) || hit.closest?.("label")?.control === e));
		} };
		aim.struck = new Promise(done => { aim.done = done });
		window.aimed = aim;
	};
	addEventListener("pointerdown", event => {
		const aim = window.aimed;
		if (!aim || !event.isTrusted) return;
		aim.done(aim.mine(event.target) ? "" : "aimed at " + aim.name + ", hit " + name(event.target));
	}, true);
})();
`

// TapAt touches a place on the screen.
func (p *Tab) TapAt(x, y float64) {
	p.T.Helper()
	if p.Screen.Touch {
		p.must(p.page.touch(x, y), "touch")
	} else {
		p.must(p.page.click(x, y), "click")
	}
}

// TapZone touches a part of the jar's picture, somewhere inside its outline.
func (p *Tab) TapZone(zone string) {
	p.T.Helper()
	p.Wait(fmt.Sprintf(`!!document.querySelector('[data-zone=%q]')`, zone))
	at := Eval[Place](p, fmt.Sprintf(`(() => {
		const zone = document.querySelector('[data-zone=%q]');
		zone.scrollIntoView({block: "center", behavior: "instant"});
		const r = zone.getBoundingClientRect();
		for (let y = r.y + 8; y < r.bottom; y += 8) for (let x = r.x + 8; x < r.right; x += 8)
			if (document.elementFromPoint(x, y)?.closest("[data-zone]") === zone) return {X: x, Y: y};
		throw new Error("the part cannot be touched");
	})()`, zone))
	p.TapAt(at.X, at.Y)
}
