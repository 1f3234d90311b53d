//go:build e2e && linux

package drive

import (
	"context"
	"errors"
	"fmt"
	"math"
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
		at, err := Evaluate[*Place](p, Spot(element))
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
// there, stands still and lies under nothing else, and the page is at rest: a finger
// waits for that too. It gives the middle of the element, or null when it has not
// come to rest for a second. A page that draws all the time is touched while it does.
// The next touch is then compared with the element; see Struck.
func Spot(element string) string {
	return fmt.Sprintf(`new Promise((done, fail) => {
		const find = () => (%s), busy = performance.now() + 300, late = busy + 700;
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
			if (at && was && at.X === was.X && at.Y === was.Y && (atRest() || performance.now() > busy)) {
				aimAt(find);
				const over = document.elementFromPoint(at.X, at.Y);
				if (over && aimed.mine(over)) { done(at); return }
				err = new Error("it lies under " + over?.outerHTML.slice(0, 150));
			}
			if (performance.now() > late) { if (err) fail(err); else done(null); return }
			was = at;
			requestAnimationFrame(look);
		};
		look();
	})`, element)
}

// Struck is JavaScript that gives what was hit instead of the element that was
// aimed at; "" when it was hit, or when the page has been left since.
const Struck = `window.aimed?.struck ?? ""`

// Aiming is JavaScript for every page, before its own scripts: aimAt(find) says what
// the next touch is meant for, and aimed.struck is a promise of what it has hit
// instead, or "" as soon as the click has come that a touch becomes.
const Aiming = `(() => {
	const name = e => e?.outerHTML?.slice(0, 150) ?? String(e);
	const { setTimeout } = window;
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
		if (aim.mine(event.target)) {
			aim.hit = true;
			setTimeout(aim.done, 300, ""); // not everything that is touched is clicked
		} else {
			aim.done("aimed at " + aim.name + ", hit " + name(event.target));
		}
	}, true);
	addEventListener("click", event => {
		if (event.isTrusted && window.aimed?.hit) aimed.done("");
	}, true);
})();
`

// Resting is JavaScript for every page, before its own scripts: atRest tells whether
// nothing is under way that will draw, and drawn promises true when everything is
// drawn that the page was told before. The program draws in ticks, for which it sets
// timers, and waits for its store; nothing else that is quick is waited for.
const Resting = `(() => {
	const { setTimeout, clearTimeout } = window;
	const timers = new Map(); // the time of each
	window.setTimeout = (act, delay, ...given) => {
		const id = setTimeout((...given) => {
			timers.delete(id);
			act(...given);
		}, delay, ...given);
		timers.set(id, performance.now() + (Number(delay) || 0));
		return id;
	};
	window.clearTimeout = id => {
		timers.delete(id);
		clearTimeout(id);
	};
	let asked = 0; // of the store, and not answered yet
	const follow = (kind, call, ends) => {
		const was = kind?.prototype[call];
		if (!was) return;
		kind.prototype[call] = function (...given) {
			const what = was.apply(this, given);
			let waits = true;
			const end = () => {
				if (waits) asked--;
				waits = false;
			};
			asked++;
			for (const type of ends) what.addEventListener(type, end);
			return what;
		};
	};
	follow(window.IDBFactory, "open", ["success", "error", "blocked"]);
	follow(window.IDBDatabase, "transaction", ["complete", "abort"]);
	window.atRest = () => {
		const soon = performance.now() + 100;
		return asked === 0 && ![...timers.values()].some(at => at < soon);
	};
	window.drawn = () => new Promise(done => {
		const late = performance.now() + 1000;
		const look = () => {
			if (performance.now() > late) {
				done(true);
			} else if (!atRest()) {
				setTimeout(look, 1);
			} else {
				// A tab that stands behind another may draw no frames at all.
				const hidden = setTimeout(done, 500, true);
				requestAnimationFrame(() => requestAnimationFrame(() => {
					clearTimeout(hidden);
					if (atRest()) done(true); else look();
				}));
			}
		};
		look();
	});
})();
`

// Thumb touches. A touch of about the same place that comes sooner than a person sees
// what the last one has brought is taken for a tremble: see static/repeat.js.
type Thumb struct {
	was   Place
	ready time.Time // to touch the same place again
}

// How far from the last touch and how long after it the next one is no repetition,
// with room for what the engines add.
const (
	apart = 40                     // px
	pause = 420 * time.Millisecond // from the end of the last touch
)

// Meant is JavaScript that has the next touch counted, however soon it comes: a key
// stands between it and the last one. Waiting would take minutes in all.
const Meant = `dispatchEvent(new KeyboardEvent("keydown"))`

// Touch touches a place. It first says by meant that it is no tremble, where that is
// in doubt.
func (t *Thumb) Touch(at Place, meant, touch func() error) error {
	if math.Hypot(at.X-t.was.X, at.Y-t.was.Y) < apart && time.Now().Before(t.ready) {
		if err := meant(); err != nil {
			return err
		}
	}
	return t.shake(at, touch)
}

// shake touches a place, however soon after the last touch.
func (t *Thumb) shake(at Place, touch func() error) error {
	err := touch()
	t.was, t.ready = at, time.Now().Add(pause)
	return err
}

// TapAt touches a place on the screen.
func (p *Tab) TapAt(x, y float64) {
	p.T.Helper()
	meant := func() error {
		_, err := Evaluate[bool](p, Meant)
		return err
	}
	p.must(p.thumb.Touch(Place{x, y}, meant, func() error { return p.point(x, y) }), "touch")
}

// Shake touches a place on the screen at once, however soon after the last touch.
func (p *Tab) Shake(x, y float64) {
	p.T.Helper()
	p.must(p.thumb.shake(Place{x, y}, func() error { return p.point(x, y) }), "touch")
}

// point uses a finger or the mouse.
func (p *Tab) point(x, y float64) error {
	if p.Screen.Touch {
		return p.page.touch(x, y)
	}
	return p.page.click(x, y)
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
