package app

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/rules"
	"larderlamp/rules/practice"
)

// classPage prepares a set for a class: on a big screen, as a hand-out, as flash
// cards, as a link and as a file.
type classPage struct {
	app.Compo
	house *household

	ctx      app.Context // of the page: it outlives the buttons in it
	seed     uint64
	n        int
	show     string // "", "screen", "handout", "cards" or "notes"
	food     string // id of the only product, or ""
	sign     string // id of the only sign, or ""
	items    []practice.Item
	at       int          // on the big screen
	revealed bool         // the answer of it is shown
	right    map[int]bool // what the group said of each item
	said     string
}

// classSize is how many items a set has until another number is chosen.
const classSize = 12

func (p *classPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/class") {
		return
	}
	q := ctx.Page().URL().Query()
	seed, err := strconv.ParseUint(q.Get("set"), 10, 64)
	if err != nil {
		seed = uint64(time.Now().Unix()) % 10_000
	}
	n, err := strconv.Atoi(q.Get("n"))
	if err != nil || n < 1 || n > practice.MostItems {
		n = classSize
	}
	*p = classPage{Compo: p.Compo, house: p.house, ctx: ctx, seed: seed, n: n, show: q.Get("show"), food: q.Get("food"), sign: q.Get("sign"), right: map[int]bool{}}
	p.compose()
	if p.show != "" {
		focus(ctx, "title")
	}
}

// compose takes the items of the set.
func (p *classPage) compose() {
	p.items, p.said = nil, ""
	deck := p.deck()
	for i := range p.n {
		if it, ok := deck.Item(i); ok {
			p.items = append(p.items, it)
		}
	}
}

// deck is what the items are drawn from: all jars, or those of one food or sign.
func (p *classPage) deck() practice.Deck { return narrowed(p.seed, p.food, p.sign) }

// narrowed is a deck of one food, one sign, both or neither.
func narrowed(seed uint64, food, sign string) practice.Deck {
	d := practice.Deck{Seed: seed}
	d.Product, _ = rules.ProductByID(food)
	if id, ok := rules.SignByID(sign); ok && !id.Fact() && id != rules.SignOpened {
		d.Signs = []rules.SignID{id}
	}
	return d
}

func (p *classPage) address(show string) string {
	a := fmt.Sprintf("/class?set=%d&n=%d", p.seed, p.n)
	if p.food != "" {
		a += "&food=" + p.food
	}
	if p.sign != "" {
		a += "&sign=" + p.sign
	}
	return a + "&show=" + show
}

func (p *classPage) Render() app.UI {
	switch {
	case app.IsServer:
		return frame("/learn", title("For a class"), txt("p", "lead", "Opening the guide…"))
	case p.show != "" && len(p.items) == 0:
		return frame("/learn", title("No such jars"), p.none(), el("p", "row", anchor("button", p.address(""), "Choose again")))
	case p.show == "notes":
		return frame("/learn", p.printed("Teacher's notes", "One page to lead the class, then a page for each item.", p.teacher()))
	case p.show == "screen":
		return frame("/learn", p.screen())
	case p.show == "handout":
		return frame("/learn", p.printed("Hand-out", "One page for each item. The answers come on pages of their own.", p.handout()))
	case p.show == "cards":
		return frame("/learn", p.printed("Flash cards", "Print them one-sided, cut along the solid lines and fold each card on the dotted one.", p.cards()))
	}
	return frame("/learn", p.prepare())
}

// prepare chooses a set and what to do with it.
func (p *classPage) prepare() app.UI {
	number := func(label, value string, least, most int, set func(int)) app.UI {
		return field(label, input("number", value, "").Attr("min", least).Attr("max", most).On("change", func(ctx app.Context, e app.Event) {
			if n, err := strconv.Atoi(typed(ctx)); err == nil {
				set(max(least, min(n, most)))
				p.compose()
				p.house.replaceAddress(link(p.address("")))
			}
		}, app.EventScope(label)))
	}
	origin := ""
	if app.IsClient {
		origin = app.Window().Get("location").Get("origin").String()
	}
	shared := strings.TrimSuffix(strings.Replace(p.address(""), "/class?", "/practice?", 1), "&show=")
	choose := func(set *string) func(string) {
		return func(id string) {
			*set = id
			p.compose()
			p.house.replaceAddress(link(p.address("")))
		}
	}
	foods, signs := []string{"", "any food"}, []string{"", "any sign"}
	for i := range rules.Catalogue {
		foods = append(foods, rules.Catalogue[i].ID, rules.Catalogue[i].Name)
	}
	for i := range rules.Signs {
		if len(pairsOf(rules.SignID(i))) > 0 {
			signs = append(signs, rules.Signs[i].ID, rules.Signs[i].Name)
		}
	}
	return el("div", "",
		title("For a class"),
		txt("p", "lead", "One number is one set of jars. Everybody who opens it gets the same jars in the same order, on any device, without a connection."),
		el("div", "grid",
			number("Number of the set", fmt.Sprint(p.seed), 0, 1<<31, func(n int) { p.seed = uint64(n) }),
			number("Items in it", fmt.Sprint(p.n), 1, practice.MostItems, func(n int) { p.n = n }),
			menu("class-food", "Only this food", p.food, choose(&p.food), foods...),
			menu("class-sign", "Only this sign", p.sign, choose(&p.sign), signs...),
		),
		live("", only(len(p.items) == 0, p.none)),
		el("section", "ways",
			way(p.address("screen"), "On the big screen", "One item at a time, by keyboard: space shows the answer and goes on."),
			way(p.address("handout"), "Hand-out", "Jars to judge with a pen, one page for each item; answers and sources apart."),
			way(p.address("notes"), "Teacher's notes", "What to ask, what to point at, and what tells the two jars apart."),
			way(p.address("cards"), "Flash cards", "The jar in front, verdict, reason and source behind."),
		),
		el("section", "card",
			txt("h2", "", "Share the set"),
			field("Link", elem("input", "").Attr("type", "text").Attr("readonly", true).Attr("value", origin+link(shared))),
			el("p", "row",
				anchor("button", shared, "Practice it yourself"),
				action("button plain", "Copy the link", func() { p.copy(origin + link(shared)) }),
				action("button plain", "Save as a file", p.save),
			),
			live("", only(p.said != "", func() app.UI { return txt("p", "", p.said) })),
			txt("p", "hint", say("The link gives the same jars as long as the edition of the rules is the same: %s. The file holds the jars themselves and is judged by the rules of the guide that reads it.", rules.Edition)),
		),
		notCertified(),
	)
}

// copy puts the link on the clipboard, where the browser has one.
func (p *classPage) copy(text string) {
	failed := func(string) { p.said = "The browser does not allow it. Mark the link and copy it by hand." }
	clipboard := app.Window().Get("navigator").Get("clipboard")
	if !clipboard.Truthy() {
		failed("")
		return
	}
	promised(p.ctx, clipboard.Call("writeText", text), func(app.Value) { p.said = "Copied." }, failed)
}

// save offers the set as a file.
func (p *classPage) save() {
	text, err := json.MarshalIndent(p.deck().Set(p.n), "", "\t")
	if err != nil {
		p.said = upperFirst(err.Error()) + "."
		return
	}
	saveFile(fmt.Sprintf("larderlamp-set-%d.json", p.seed), "application/json", string(text))
}

// screen shows one item large, for a room. Space or the right arrow shows the
// answer and then goes on, the left arrow goes back.
func (p *classPage) screen() app.UI {
	it := &p.items[p.at]
	return elem("section", "big-screen").On("keydown", func(ctx app.Context, e app.Event) {
		switch e.Get("key").String() {
		case " ", "ArrowRight", "PageDown":
			e.PreventDefault()
			p.forward()
		case "ArrowLeft", "PageUp":
			e.PreventDefault()
			p.backward()
		case "Home":
			e.PreventDefault()
			p.move(0, false)
		case "y", "Y":
			p.score(true)
		case "n", "N":
			p.score(false)
		case "Escape":
			ctx.Navigate(link(p.address("")))
		default:
			ctx.PreventUpdate()
		}
	}).Body(
		title(say("Set %d, item %d of %d: %s", p.seed, p.at+1, len(p.items), it.Jars[0].Product.Name)),
		el("div", "twins", each(2, func(i int) app.UI { return p.bigJar(it, i) })...),
		live("", only(p.revealed, func() app.UI {
			return el("p", "tell-apart", txt("strong", "", "What decides: "), prose(it.Sign.Info().Name+"."))
		})),
		el("p", "row noprint",
			action("button big", p.forwardWord(), p.forward, p.at, p.revealed),
			action("button plain", "Back", p.backward),
			anchor("button plain", p.address(""), "Leave"),
			only(p.revealed, func() app.UI {
				return el("span", "group-right",
					txt("span", "", "Was the group right?"),
					action("button plain", "Yes", func() { p.score(true) }, p.at),
					action("button plain", "No", func() { p.score(false) }, p.at))
			}),
			only(len(p.right) > 0, func() app.UI { return txt("strong", "score", p.scored()) }),
			txt("span", "hint", "Keys: space or → next, ← back, Y or N the group's answer, Home, Esc."),
		),
	)
}

// score notes whether the group was right about the item, once it is shown.
func (p *classPage) score(right bool) {
	if p.revealed {
		p.right[p.at] = right
	}
}

// scored is the group's score so far.
func (p *classPage) scored() string {
	n := 0
	for _, right := range p.right {
		if right {
			n++
		}
	}
	return say("Score: %d of %d", n, len(p.right))
}

// none says that nothing fits what was chosen.
func (p *classPage) none() app.UI {
	return txt("p", "notice", "No pair of jars of this food turns on this sign. Choose another food or sign.")
}

func (p *classPage) forwardWord() string {
	switch {
	case !p.revealed:
		return "Show the answer"
	case p.at == len(p.items)-1:
		return "From the start"
	}
	return "Next"
}

func (p *classPage) move(at int, revealed bool) {
	p.at, p.revealed = at, revealed
	focus(p.ctx, "title")
}

func (p *classPage) forward() {
	if !p.revealed {
		p.revealed = true // the focus stays, so that the space bar goes on working
		return
	}
	p.move((p.at+1)%len(p.items), false)
}

func (p *classPage) backward() {
	switch {
	case p.revealed:
		p.revealed = false
	case p.at > 0:
		p.move(p.at-1, true)
	}
}

func (p *classPage) bigJar(it *practice.Item, i int) app.UI {
	j := &it.Jars[i]
	class, v := "twin", rules.Verdict(0)
	if p.revealed {
		class, v = "twin answer "+verdictClass(j.Verdict), j.Verdict
	}
	point, _ := pointed(j, it.Sign)
	return el("section", class,
		el("div", "jar-box still", app.Raw(jarPicture(j.Product, j.Situation, v, draw.Options{Prefix: "b" + letters[i]}))),
		el("div", "",
			txt("h2", "", say("Jar %s", letters[i])),
			only(!p.revealed, func() app.UI { return told(j) }),
			only(p.revealed, func() app.UI { return bigAnswer(j, it.Sign, point[0].Rule) }),
		),
	)
}

// bigAnswer is the verdict of a jar for a room: what the sign showed, the reason
// in one short sentence, and who says so.
func bigAnswer(j *practice.Jar, id rules.SignID, r *rules.Rule) app.UI {
	v, _ := j.Situation.Known(id)
	return el("div", "big-answer",
		el("p", "big-verdict", verdictWord(j.Verdict)),
		el("p", "", txt("strong", "", id.Info().Name+": "), prose(v.Info().Label)),
		txt("p", "", r.Short()),
		el("p", "source", source(r.Cites[0])),
	)
}

// printed is a page to print, with what is said about printing above it.
func (p *classPage) printed(name, how string, sheets app.UI) app.UI {
	return el("div", "",
		el("div", "noprint",
			title(say("%s, set %d", name, p.seed)),
			txt("p", "", how),
			el("p", "row",
				action("button big", "Print", func() { app.Window().Call("print") }),
				anchor("button plain", p.address(""), "Back"),
			),
		),
		sheets,
	)
}

// colophon tells on paper where the sheet is from.
func (p *classPage) colophon() app.UI {
	return txt("p", "colophon", say("%s, set %d, %s, rules %s. It supports, and never replaces, your local food-safety authority and current published guidance. No certificate.", Name, p.seed, count(len(p.items), "item", "items"), rules.Edition))
}

// thumb is a small picture for paper.
func thumb(j *practice.Jar, id string) app.UI {
	return el("div", "jar-box still", app.Raw(jarPicture(j.Product, j.Situation, 0, draw.Options{Prefix: id, Plain: true})))
}

// handout has the questions first and the answers on pages of their own.
func (p *classPage) handout() app.UI {
	questions := each(len(p.items), func(i int) app.UI {
		it := &p.items[i]
		return el("section", "paper sheet-item",
			txt("h2", "", "What would you do with these jars?"),
			txt("h3", "", say("%d. %s", i+1, it.Jars[0].Product.Name)),
			el("div", "sheet-twins", each(2, func(k int) app.UI {
				return el("div", "sheet-jar", thumb(&it.Jars[k], fmt.Sprintf("p%d%s", i, letters[k])), el("div", "",
					txt("strong", "", say("Jar %s", letters[k])), notes(&it.Jars[k]),
					txt("p", "boxes", "☐ Keep   ☐ Use soon   ☐ Discard safely")))
			})...),
			txt("p", "boxes", "The sign that decides: ______________________"),
			txt("p", "boxes", "Why: ____________________________________________________________"),
			p.colophon(),
		)
	})
	answers := each(len(p.items), func(i int) app.UI {
		it := &p.items[i]
		return el("section", "sheet-answer",
			txt("h3", "", say("%d. %s: %s decides", i+1, it.Jars[0].Product.Name, lowerFirst(it.Sign.Info().Name))),
			el("div", "", each(2, func(k int) app.UI { return answerLine(&it.Jars[k], it.Sign, say("Jar %s", letters[k])) })...),
		)
	})
	return el("div", "print",
		el("div", "", questions...),
		el("div", "paper", append(append([]app.UI{txt("h2", "", "Answers")}, answers...), p.colophon())...),
	)
}

// teacher is what to say and to point at: a page to lead the class by, and one
// for each item.
func (p *classPage) teacher() app.UI {
	lead := el("section", "paper",
		txt("h2", "", "How to lead it"),
		el("ol", "", texts([]string{
			"Show an item on the big screen. Let each person choose a verdict for both jars before anybody speaks.",
			"Ask who saw the sign that decides. Let one of them point at it.",
			"Show the answer. Read the reason aloud, and who says so.",
			"Count the group's answer. A missed danger weighs more than a false alarm: talk about those first.",
			"End with this: never taste to decide. Looks, smell and a good seal cannot prove a jar safe.",
		})...),
		txt("p", "", say("Allow 3 minutes for an item: about %d minutes for this set.", 3*len(p.items))),
		p.colophon(),
	)
	items := each(len(p.items), func(i int) app.UI {
		it := &p.items[i]
		info := it.Sign.Info()
		tells := ""
		for _, pair := range pairsOf(it.Sign) {
			for k := range it.Jars {
				if it.Jars[k].Situation.Is(pair.danger) {
					tells = pair.tell
				}
			}
		}
		return el("section", "paper sheet-item",
			txt("h3", "", say("%d. %s: %s decides", i+1, it.Jars[0].Product.Name, lowerFirst(info.Name))),
			el("p", "", txt("strong", "", "Ask: "), prose(info.Ask)),
			el("p", "", txt("strong", "", "Because: "), prose(info.Why)),
			only(tells != "", func() app.UI { return el("p", "", txt("strong", "", "What tells them apart: "), prose(tells)) }),
			el("div", "sheet-twins", each(2, func(k int) app.UI {
				return el("div", "sheet-jar", thumb(&it.Jars[k], fmt.Sprintf("t%d%s", i, letters[k])), el("div", "", notes(&it.Jars[k]), answerLine(&it.Jars[k], it.Sign, say("Jar %s", letters[k]))))
			})...),
			p.colophon(),
		)
	})
	return el("div", "print", lead, el("div", "", items...))
}

// answerLine is the verdict of a jar with its first reason and source.
func answerLine(j *practice.Jar, id rules.SignID, name string) app.UI {
	l, c := because(j, id)
	return el("p", "", txt("strong", "", name+": "+j.Verdict.String()+". "), prose(l+" "), txt("small", "", c))
}

// because is why a jar has its verdict, as far as the sign bears on it, and where
// that stands.
func because(j *practice.Jar, id rules.SignID) (reason, source string) {
	point, _ := pointed(j, id)
	r := point[0].Rule
	return r.Say, say("%s (%s; rule %s)", r.Cites[0].String(), r.Cites[0].Evidence.String(), r.ID)
}

// cards has one card for each jar, to be folded in the middle.
func (p *classPage) cards() app.UI {
	return el("div", "print", el("div", "paper cards", append(each(2*len(p.items), func(i int) app.UI {
		it := &p.items[i/2]
		j := &it.Jars[i%2]
		reason, source := because(j, it.Sign)
		return el("section", "flash",
			el("div", "front", thumb(j, fmt.Sprintf("c%d", i)), el("div", "", txt("strong", "", j.Product.Name), notes(j))),
			el("div", "back "+verdictClass(j.Verdict), el("p", "", verdictWord(j.Verdict)), txt("p", "", reason), txt("p", "colophon", source),
				txt("p", "colophon", say("Set %d, card %d%s, rules %s", p.seed, i/2+1, letters[i%2], rules.Edition))),
		)
	}), p.colophon())...))
}
