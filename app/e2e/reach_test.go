//go:build e2e && linux

package e2e

import (
	"encoding/json"
	"fmt"
	"testing"

	"larderlamp/app/e2e/drive"
	"larderlamp/rules"
	"larderlamp/rules/prose"
	"larderlamp/wasm/texts"
)

// asked is a question as a person reads it.
type asked struct {
	ID, Name, Ask, How string
	Choices            []string
	Several, First     bool
}

// everyQuestion lists every question in every wording: the first one beside the name
// of every food, those on the way of a sound jar of every food, those that follow one
// thing that is odd for one food of each kind, and every sign by itself, as it is
// asked when an answer is changed.
func everyQuestion(t *testing.T, in prose.Language) (all []asked) {
	seen := map[string]bool{}
	add := func(p *rules.Product, q rules.Question, first bool) {
		a := asked{ID: q.ID, Ask: q.Ask.In(in), How: q.How.In(in), Several: q.Several, First: first}
		for _, c := range q.Choices {
			a.Choices = append(a.Choices, c.Label.In(in))
		}
		key := fmt.Sprint(a)
		if first {
			key += p.Name.String()
		}
		if !seen[key] {
			seen[key] = true
			a.Name = p.Name.In(in)
			all = append(all, a)
		}
	}
	type kind struct {
		group        rules.Group
		class, route rules.Value
	}
	kinds := map[kind]bool{}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		s := rules.NewSituation()
		if err := p.Tell(&s); err != nil {
			t.Fatal(err)
		}
		open, k := s, kind{p.Group, p.Class, p.Route}
		fresh := !kinds[k]
		kinds[k] = true
		for first := true; ; first = false {
			q, more := rules.Next(s, rules.Skipped{})
			if !more {
				break
			}
			add(p, p.Worded(q), first)
			calm := q.Choices[len(q.Choices)-1]
			for _, c := range q.Choices {
				if c.ID == "none" || len(c.Tell) == 1 && c.Tell[0] == c.Tell[0].Sign().Info().Sound {
					calm = c
				}
			}
			for _, c := range q.Choices {
				then := s
				if fresh && c.ID != calm.ID && then.Tell(c.Tell...) == nil {
					if next, more := rules.Next(then, rules.Skipped{}); more {
						add(p, p.Worded(next), false)
					}
				}
			}
			if err := s.Tell(calm.Tell...); err != nil {
				t.Fatalf("%s, question %s: %v", p.ID, q.ID, err)
			}
		}
		for i := range rules.Signs {
			if id := rules.SignID(i); !id.Fact() {
				add(p, p.Worded(rules.SignQuestion(id, &open)), false)
			}
		}
	}
	return all
}

// longer are the questions that have too many answers for one small screen: with
// them the ways out stay in reach, and the answers scroll.
var longer = map[string]bool{"batch": true, "color": true, "contents": true, "extras": true, "lid": true, "method": true, "process": true}

// On a phone the whole first question fits the first screen, whatever the food is
// called; so does every other but the longest, and beside each of them the ways back,
// not knowing and the help for who has eaten stay on the screen. All questions are put
// in turn into one that is drawn: what they measure comes from the style alone.
func TestQuestionsFitTheScreen(t *testing.T) {
	languages, err := texts.Languages()
	if err != nil {
		t.Fatal(err)
	}
	p := drive.Start(t, drive.Chromium).Open(t, serve(t, "").url(""), drive.Phone)
	questionsFit(t, p, nil)
	for _, l := range languages {
		p.Visit("/about")
		p.Tap(inLanguage(l.Texts.Tag))
		p.Wait(`document.documentElement.lang === "` + l.Texts.Tag + `"`)
		questionsFit(t, p, l.Texts.Reader())
	}
}

// questionsFit is that in a language in which the pages are; nil is English.
func questionsFit(t *testing.T, p *drive.Tab, in prose.Language) {
	t.Helper()
	all := everyQuestion(t, in)
	list, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	back := prose.Text("Back").In(in)
	p.Visit("/check?product=pears")
	p.Wait(`!!document.querySelector(".question")`)
	p.Touch(".choice", prose.Text("None of these").In(in))
	p.Wait(`!!` + drive.Saying("button", back))
	p.Drawn()
	var got []struct{ Hidden, Reach, Ways float64 }
	if err := json.Unmarshal([]byte(drive.Eval[string](p, `(() => {
		const form = document.querySelector(".question"), choices = form.querySelector(".choices"), one = choices.querySelector(".choice");
		const title = form.querySelector("h1"), name = document.querySelector(".jar-name"), reach = form.querySelector(".reach");
		const made = (tag, style) => { const e = document.createElement(tag); e.className = style; return e };
		const how = form.querySelector(".how") ?? made("p", "how"), more = made("p", "more-than-one"), button = made("button", "quiet");
		button.innerText = `+quoted(prose.Text("I see more than one of these").In(in))+`;
		more.append(button);
		const back = [...reach.children].find(e => e.innerText === `+quoted(back)+`), ways = [...reach.children].filter(e => !e.matches(".next"));
		return JSON.stringify(`+string(list)+`.map(q => {
			title.innerText = q.Ask; name.innerText = q.Name; how.innerText = q.How; back.hidden = q.First; back.style.display = q.First ? "none" : "";
			q.How ? choices.before(how) : how.remove();
			q.Several && q.Choices.length > 2 ? form.querySelector("fieldset").after(more) : more.remove();
			choices.classList.toggle("pairs", q.Choices.length > 5 && q.Choices.every(c => c.length <= 16));
			choices.replaceChildren(...q.Choices.map(c => { const e = one.cloneNode(true); e.querySelector("span").innerText = c; return e }));
			scrollTo(0, 0);
			const at = reach.getBoundingClientRect();
			return { Hidden: choices.getBoundingClientRect().bottom - at.top, Reach: at.bottom - innerHeight,
				Ways: ways.filter(e => { const r = e.getBoundingClientRect(); return r.width && r.top >= at.top && r.bottom <= innerHeight && r.left >= 0 && r.right <= innerWidth }).length };
		})) })()`)), &got); err != nil {
		t.Fatal(err)
	}
	fit := 0
	for i, g := range got {
		a := &all[i]
		ways := 3 // back, not knowing, eaten
		if a.First {
			ways = 2
		}
		if g.Reach > 0 || int(g.Ways) != ways {
			t.Errorf("%s, %s: %q: got %v ways out on the screen, want %d", a.Name, a.ID, a.Ask, g.Ways, ways)
		}
		switch {
		case g.Hidden <= 0:
			fit++
		case a.First || !longer[a.ID]:
			t.Errorf("%s, %s: got %.0f pixels of %q below the first screen: %q", a.Name, a.ID, g.Hidden, a.Ask, a.Choices)
		}
	}
	t.Logf("%d of %d wordings of questions fit one screen", fit, len(all))
}

// What to do for who has eaten from a jar is one touch away from every screen of a
// check, and the check goes on where it was.
func TestEatenIsOneTouchAway(t *testing.T) {
	p := drive.Start(t, drive.Chromium).Open(t, serve(t, "").url(""), drive.Phone)
	const (
		help = `[...document.querySelectorAll("main .ate, main details.eaten > summary")].find(e => { const r = e.getBoundingClientRect(); return r.height >= 48 && r.top >= 0 && r.bottom <= innerHeight })`
		says = `(document.querySelector(".eaten.open") ?? document.querySelector("details.eaten[open]"))?.innerText.includes("ambulance")`
	)
	seen := func(where string) {
		t.Helper()
		p.Drawn()
		drive.Eval[bool](p, `(scrollTo(0, 0), true)`)
		if !drive.Eval[bool](p, `!!(`+help+`)`) {
			t.Errorf("%s: want the help on the first screen", where)
			return
		}
		at := p.Text("h1")
		p.Tap(help)
		p.Wait(says)
		if p.Has(".eaten.open h1") {
			p.Touch("button", "Back to the check")
			p.Wait(fmt.Sprintf(`document.querySelector("h1")?.innerText === %q`, at))
		} else {
			p.Tap(`document.querySelector("details.eaten > summary")`)
			p.Drawn()
		}
	}
	p.Visit("/check")
	seen("the choice of the food")
	p.Touch("button", "Something looks odd")
	p.Wait(drive.Saying("h1", "What looks odd?") + ` !== undefined`)
	seen("what looks odd, before the food is named")
	p.Visit("/check?product=pears")
	p.Wait(`!!document.querySelector(".question")`)
	seen("the first question")
	p.Touch("button", "Something looks odd")
	p.Wait(drive.Saying("h1", "What looks odd?") + ` !== undefined`)
	seen("what looks odd")
	p.Touch("button", "None of these: back")
	p.Wait(`!!document.querySelector(".question")`)
	p.Tap(`document.querySelector(".jar-box")`)
	p.Wait(`!!document.querySelector(".look.large")`)
	p.TapZone("lid")
	p.Wait(`!!document.querySelector(".zone-panel")`)
	seen("a part of the jar")
	p.Touch("button", "Done")
	p.Wait(`!!document.querySelector(".question")`)
	p.Touch(".choice", "None of these")
	p.Wait(`!!` + drive.Saying("button", "Back"))
	seen("a later question")
	p.Touch("button", "Back")
	p.Wait(`!!` + drive.Saying("button", "Forward"))
	seen("a question gone back to")
	p.Touch(".choice", "A lid that bulges")
	p.Wait(`!!document.querySelector(".answer")`)
	seen("the answer")
}
