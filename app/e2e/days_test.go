//go:build e2e && linux

package e2e

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/demo"
	"larderlamp/app/e2e/drive"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/rules"
)

// neverLookedAt makes a number of jars that were carefully recorded and that nobody
// has looked at since: every one would be sound. They are of as many batches as the
// made-up household has in two places, and nobody has said what the places are
// like. With one jar more that its record condemns, if it is wanted.
func neverLookedAt(t testing.TB, now time.Time, jars int, condemned bool) (records []record.Record) {
	t.Helper()
	all, err := demo.Records(now)
	if err != nil {
		t.Fatal(err)
	}
	p := pantry.New()
	for _, r := range all {
		switch r := r.(type) {
		case *record.Place:
			if r.What != record.Fridge {
				r.Wet, r.Light, r.Air = "", "", nil
			}
		case *record.Jar:
			r.Events = slices.DeleteFunc(r.Events, func(e record.Event) bool { return e.What != record.Stored && e.What != record.Moved })
		case *record.Sweep, *record.Trip, *record.Check, *record.Photo:
			continue
		}
		p.Put(r)
	}
	used := map[string]bool{}
	take := func(j *record.Jar) {
		records = append(records, j)
		if !used[j.Batch] {
			used[j.Batch] = true
			records = append(records, p.Batches[j.Batch])
		}
		for _, stay := range j.Standing().Stays {
			if place := p.Places[stay.Place]; place != nil && !used[place.ID] {
				used[place.ID] = true
				records = append(records, place)
			}
		}
	}
	var sound []*record.Jar
	rank := map[*record.Jar]int{} // within its batch
	among := map[string]bool{}    // places
	for _, b := range p.BatchOrder() {
		n := 0
		for _, j := range p.OfBatch(b.ID) {
			place := p.Places[j.Standing().Place]
			if place == nil || place.What != record.Shelf || len(j.Standing().Stays) > 1 {
				continue
			}
			if among[place.ID] = true; len(among) > 2 {
				delete(among, place.ID)
				continue
			}
			switch pr := p.Prospect(j, now); {
			case pr.Condemned && condemned:
				condemned = false
				take(j)
			case !pr.Condemned && !pr.Hopeless() && pr.Highest == rules.Keep:
				rank[j] = n
				n++
				sound = append(sound, j)
			}
		}
	}
	slices.SortStableFunc(sound, func(a, b *record.Jar) int { return cmp.Compare(rank[a], rank[b]) })
	if len(sound) < jars || condemned {
		t.Fatalf("got only %d sound jars, or none condemned: %v", len(sound), condemned)
	}
	for _, j := range sound[:jars] {
		take(j)
	}
	return records
}

// counted is a tab whose touches are counted.
type counted struct {
	guide
	touches int
}

func (p *counted) touch(selector, text string) {
	p.T.Helper()
	p.Touch(selector, text)
	p.touches++
}

// bar fails when more touches were needed than the bar allows, and starts counting again.
func (p *counted) bar(most int, what string) {
	p.T.Helper()
	p.T.Logf("%s: %s: %d touches, at most %d", p.Engine, what, p.touches, most)
	if p.touches > most {
		p.T.Errorf("%s: %s: got %d touches, want at most %d", p.Engine, what, p.touches, most)
	}
	p.touches = 0
}

// moved runs an action, and waits until another card of the walk is shown.
func (p *counted) moved(do func()) {
	p.T.Helper()
	const at = `location.pathname + (document.querySelector(".walk .stand .hint")?.innerText ?? "") + document.querySelector("h1")?.innerText`
	was := drive.Eval[string](p.Tab, at)
	do()
	p.Wait(fmt.Sprintf(`(%s) !== %q`, at, was))
	p.Running()
	p.Drawn()
}

// daysOfAShelf is what the days bring once a shelf is recorded: the walk round
// it. Touches are counted against the bars.
func daysOfAShelf(t *testing.T, b *drive.Browser) {
	// Each further jar takes one touch, which TestSweepOf300Jars shows.
	const sound = 12
	stocked := func(jars int) *counted {
		p := &counted{guide: guide{b.Open(t, serve(t, "").url(""), drive.Phone)}}
		p.Visit("/shelf")
		p.Wait(`!!document.querySelector("main h1") && !document.querySelector("main").innerText.includes("Opening what is kept")`)
		put(p.Tab, neverLookedAt(t, time.Now(), jars, true))
		return p
	}
	stocked(sound + 1).sweep(sound)
	trip := stocked(60)
	trip.trip()
	trip.stepsBack()
}

// stepsBack goes back through the questions of a check as a phone does: nothing
// that was answered is forgotten by it, until another answer is given.
func (p *counted) stepsBack() {
	t := p.T
	t.Helper()
	p.Visit("/learn")
	p.Visit("/check") // a step that no touch has made is left out on the way back
	food, situation := p.product("peaches")
	var asks []string
	for range 3 {
		q, more := rules.Next(situation, rules.Skipped{})
		if !more {
			t.Fatal("got a check of fewer than three questions")
		}
		q = food.Worded(q)
		p.Wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText === %q`, q.Ask))
		asks = append(asks, q.Ask.String())
		if len(asks) == 3 {
			break
		}
		c := q.Choices[len(q.Choices)-1]
		for _, other := range q.Choices {
			if len(q.Signs) == 1 && slices.Contains(other.Tell, other.Tell[0].Sign().Info().Sound) {
				c = other
			}
		}
		p.touched(c.Label.String())
		if err := situation.Tell(c.Tell...); err != nil {
			t.Fatal(err)
		}
	}
	answers := func() int {
		p.Wait(`!window.larderWriting`)
		return drive.Eval[int](p.Tab, `(async () => {
			const db = await new Promise((ok, bad) => { const r = indexedDB.open("larderlamp"); r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
			const row = await new Promise((ok, bad) => { const r = db.transaction("checks").objectStore("checks").get(new URLSearchParams(location.hash.slice(1)).get("id")); r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
			db.close();
			return new Set(JSON.parse(row).answers.map(a => a.question + a.at)).size })()`)
	}
	kept := answers()
	shows := func(n int) {
		t.Helper()
		p.Wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText === %q`, asks[n]))
	}
	// Next without a choice says what is missing.
	p.Walk(`e.classList.contains("next")`)
	p.Press(drive.Enter)
	p.says("Nothing is chosen yet.")
	for n := 1; n >= 0; n-- {
		p.Back()
		shows(n)
	}
	if n := answers(); n != kept || kept != 2 {
		t.Errorf("%s: got %d answers after two steps back, want the %d from before", p.Engine, n, kept)
	}
	drive.Eval[bool](p.Tab, `(history.forward(), true)`)
	shows(1)
	drive.Eval[bool](p.Tab, `(history.forward(), true)`)
	shows(2)
	// The button of the page takes the answer back, and the step after it leads on.
	p.Touch("button", "Back")
	shows(1)
	if n := answers(); n != 1 {
		t.Errorf("%s: got %d answers after one was undone", p.Engine, n)
	}
	p.Back()
	shows(0)
	p.Back()
	p.Wait(`location.pathname === "/learn"`)
	p.Running() // Firefox complains of a page that is left while it loads
	// The first page leads back to the check that was left.
	p.Visit("/")
	p.Touch(".day-line", "Go on with the check: ")
	p.Wait(`location.pathname === "/check" && !!document.querySelector(".question h1")`)
}

// trip plans a trip from a shelf that was recorded and never looked at, looks at
// the jars of the plan, and packs them.
func (p *counted) trip() {
	t := p.T
	t.Helper()
	p.Visit("/")
	p.touch("nav a", "Trip")
	p.touch("button", "Plan a trip")
	p.touch("button", "Work it out")
	p.Wait(`!!document.querySelector(".trip-days")`)
	p.bar(6, "a trip planned from a recorded shelf")
	says := p.Text("main")
	for _, want := range []string{" meals from your jars.", "until then nobody may eat them", "Look at it before you pack it.", "Packing list"} {
		if !strings.Contains(says, want) {
			t.Errorf("%s: want %q in the plan, got %.600s", p.Engine, want, says)
		}
	}
	if strings.Contains(says, "We pack these jars") || strings.Contains(says, " safe to ") {
		t.Errorf("%s: got jars packed or called safe that nobody has looked at", p.Engine)
	}
	covered := p.Text(".trip-sum .lead")
	p.moved(func() { p.touch("button", "Look at these") })
	for n := 0; p.Has(".walk"); n++ {
		if n > 30 {
			t.Fatalf("the looks never end: %s", p.Text("main"))
		}
		p.moved(func() { p.Tap(`document.querySelector(".hands .sound")`); p.touches++ })
	}
	p.moved(func() { p.touch("button", "Back to the trip") })
	p.touch("button", "We pack these jars")
	p.says("Packed. The plan is kept")
	t.Logf("%s: looked at and packed: %d touches more", p.Engine, p.touches)
	if now := p.Text(".trip-sum .lead"); now != covered {
		t.Errorf("%s: got %[3]q after the looks, want %[2]q as before them", p.Engine, covered, now)
	}
	// A look before a trip does not count as a sweep.
	p.Turn("/sweep")
	p.says("A sweep is due.")
}

// sweep walks around a number of sound jars, a find, and a jar that its record
// condemns.
func (p *counted) sweep(sound int) {
	t := p.T
	t.Helper()
	p.Visit("/")
	p.touch("nav a", "Sweep")
	p.touch("button", fmt.Sprintf("Begin: %d jars", sound+2))
	p.Wait(`!!document.querySelector(".walk")`)
	found, out := false, false
	for n := 0; !strings.Contains(p.Text("h1"), "Every jar was looked at"); n++ {
		if n > sound+10 {
			t.Fatalf("the walk never ends: %s", p.Text("main"))
		}
		switch {
		case p.Has(".walk.out"):
			// A jar that its record condemns is never sound, by finger or by key.
			out = true
			if says := p.Text(".hand-jar"); !strings.Contains(says, "Take it out") || p.Has("#sound") || p.Has(".glance") {
				t.Errorf("%s: a condemned jar: got %s", p.Engine, says)
			}
			where := p.Text(".walk .stand .hint")
			p.Press("s")
			p.Drawn()
			if now := p.Text(".walk .stand .hint"); now != where {
				t.Errorf("%s: the key s worked for a condemned jar: %s, then %s", p.Engine, where, now)
			}
			p.moved(func() { p.Tap(`document.querySelector("#out")`) })
		case p.Has(".place-lines"):
			p.moved(func() { p.touch(".hands button", "never above") })
		case !found && p.Has("#sound"):
			found = true
			// A find leads to its verdict, and one touch leads back.
			p.moved(func() { p.Touch("button.glance", "It does not give") })
			p.Wait(`!!document.querySelector(".answer.verdict-discard")`)
			before := p.touches
			p.touches = 0
			p.moved(func() { p.touch("button", "Taken out: go on") })
			p.Wait(`location.pathname === "/sweep" && !!document.querySelector(".walk")`)
			p.bar(1, "from the verdict of a find back to the walk")
			p.touches = before
			// So does one that is not finished.
			p.moved(func() { p.Touch("button", "Something else is odd") })
			p.Wait(`!!document.querySelector(".question")`)
			p.moved(func() { p.Touch("a", "Go on with the sweep") })
			p.Wait(`location.pathname === "/sweep" && !!document.querySelector(".walk")`)
		default:
			p.Wait(`!!document.querySelector("#sound")`)
			p.moved(func() {
				p.Tap(`document.querySelector("#sound")`)
				p.touches++
			})
		}
	}
	if !found || !out {
		t.Errorf("%s: got %v found and %v taken out", p.Engine, found, out)
	}
	p.touch("button", "End the sweep")
	p.Wait(`!!document.querySelector(".report")`)
	p.bar(sound+5, fmt.Sprintf("a sweep of %d sound jars", sound))
	if says := p.Text(".felt"); !strings.Contains(says, fmt.Sprintf("%d jars: %d fine, 1 with a failed seal, 1 to discard because of their record.", sound+2, sound)) || !strings.Contains(says, "The next sweep is due") {
		t.Errorf("%s: got at the end: %s", p.Engine, says)
	}
	// The next begins without a reload, and the header goes on with it.
	p.Touch("nav a", "Sweep")
	p.Wait(`location.search === "" && document.querySelector("h1").innerText === "The sweep"`)
	p.Touch("label", "Only jars that are due")
	p.Touch("button", "Begin:")
	p.Wait(`!!document.querySelector(".walk")`)
	p.Touch("nav a", "Shelf")
	p.Wait(`location.pathname === "/shelf"`)
	p.Touch("nav a", "Sweep")
	p.Wait(`location.pathname === "/sweep" && !!document.querySelector(".walk")`)
	// One in which no jar was looked at does not count.
	p.Touch("button", "End the sweep here")
	p.Wait(`document.querySelector("h1").innerText === "The sweep"`)
	p.says("No jar was looked at, so this sweep does not count.")
	p.Wait(`document.querySelectorAll('.links-only a').length === 1`)
}
