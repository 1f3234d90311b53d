package learn

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/practice"
	"larderlamp/rules/prose"
)

// ClassPage prepares a set for a class: for a big screen, as a handout, as flash
// cards, as a link and as a file.
type ClassPage struct {
	app.Compo
	House *house.House

	ctx      app.Context // context of the page: it outlives its buttons
	seed     uint64
	n        int
	show     string // "", "screen", "handout", "cards" or "notes"
	food     string // id of the only product, or ""
	sign     string // id of the only sign, or ""
	items    []practice.Item
	at       int          // the item on the big screen
	revealed bool         // its answer is shown
	right    map[int]bool // what the group said about each item
	said     prose.Text
}

// classSize is how many items a set has until another number is chosen.
const classSize = 12

func (p *ClassPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/class") {
		return
	}
	q := ctx.Page().URL().Query()
	seed, unset := strconv.ParseUint(q.Get("set"), 10, 64)
	if unset != nil {
		seed = uint64(time.Now().Unix()) % 10_000
	}
	n, unsized := strconv.Atoi(q.Get("n"))
	if unsized != nil || n < 1 || n > practice.MostItems {
		n = classSize
	}
	*p = ClassPage{Compo: p.Compo, House: p.House, ctx: ctx, seed: seed, n: n, show: q.Get("show"), food: q.Get("food"), sign: q.Get("sign"), right: map[int]bool{}}
	p.compose()
	if unset != nil || unsized != nil {
		// A step back and a reload have to lead to the same jars: those on paper.
		p.House.ReplaceAddress(ui.Link(p.address(p.show)))
	}
	if p.show != "" {
		ui.Focus(ctx, "title")
	}
}

// compose draws the items of the set.
func (p *ClassPage) compose() {
	p.items, p.said = nil, ""
	deck := p.deck()
	for i := range p.n {
		if it, ok := deck.Item(i); ok {
			p.items = append(p.items, it)
		}
	}
}

// deck is what the items are drawn from: all jars, or those of one food or sign.
func (p *ClassPage) deck() practice.Deck { return narrowed(p.seed, p.food, p.sign) }

// narrowed is a deck of one food, one sign, both or neither.
func narrowed(seed uint64, food, sign string) practice.Deck {
	d := practice.Deck{Seed: seed}
	d.Product, _ = rules.ProductByID(food)
	if id, ok := rules.SignByID(sign); ok && !id.Fact() && id != rules.SignOpened {
		d.Signs = []rules.SignID{id}
	}
	return d
}

func (p *ClassPage) address(show string) string {
	a := fmt.Sprintf("/class?set=%d&n=%d", p.seed, p.n)
	if p.food != "" {
		a += "&food=" + p.food
	}
	if p.sign != "" {
		a += "&sign=" + p.sign
	}
	return a + "&show=" + show
}

func (p *ClassPage) Render() app.UI {
	switch {
	case app.IsServer || p.n == 0: // nothing has been requested yet
		return ui.Frame("/learn", ui.Title("For a class"), ui.Txt("p", "lead", "Opening the guide…"))
	case p.show != "" && len(p.items) == 0:
		return ui.Frame("/learn", ui.Title("No such jars"), p.noMatch(), ui.El("p", "row", ui.Anchor("button", p.address(""), "Choose again")))
	case p.show == "notes":
		return ui.Frame("/learn", p.printed("Teacher's notes", "One page to lead the class, then a page for each item.", p.teacher()))
	case p.show == "screen":
		return ui.Frame("/learn", p.screen())
	case p.show == "handout":
		return ui.Frame("/learn", p.printed("Hand-out", "One page for each item. The answers come on pages of their own.", p.handout()))
	case p.show == "cards":
		return ui.Frame("/learn", p.printed("Flash cards", "Print on one side. Cut along the solid lines, and fold each card on the dotted one.", p.cards()))
	}
	return ui.Frame("/learn", p.prepare())
}

// prepare chooses a set and what to do with it.
func (p *ClassPage) prepare() app.UI {
	number := func(label prose.Text, value string, least, most int, set func(int)) app.UI {
		return ui.Field(label, ui.Input("number", value, "").Attr("min", least).Attr("max", most).On("change", func(ctx app.Context, e app.Event) {
			if n, err := strconv.Atoi(ui.Typed(ctx)); err == nil {
				set(max(least, min(n, most)))
				p.compose()
				p.House.ReplaceAddress(ui.Link(p.address("")))
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
			p.House.ReplaceAddress(ui.Link(p.address("")))
		}
	}
	foods, signs := []ui.Choice{ui.Line("", "any food")}, []ui.Choice{ui.Line("", "any sign")}
	for i := range rules.Catalog {
		foods = append(foods, ui.Line(rules.Catalog[i].ID, rules.Catalog[i].Name))
	}
	for i := range rules.Signs {
		if len(pairsOf(rules.SignID(i))) > 0 {
			signs = append(signs, ui.Line(rules.Signs[i].ID, rules.Signs[i].Name))
		}
	}
	return ui.El("div", "",
		ui.Title("For a class"),
		ui.Txt("p", "lead", "One number is one set of jars. Everybody who opens it gets the same jars in the same order. It works on any device, without a connection."),
		ui.El("div", "grid",
			number("Number of the set", fmt.Sprint(p.seed), 0, 1<<31, func(n int) { p.seed = uint64(n) }),
			number("Items in it", fmt.Sprint(p.n), 1, practice.MostItems, func(n int) { p.n = n }),
			ui.Menu("class-food", "Only this food", p.food, choose(&p.food), foods...),
			ui.Menu("class-sign", "Only this sign", p.sign, choose(&p.sign), signs...),
		),
		ui.Live("", ui.Only(len(p.items) == 0, p.noMatch)),
		ui.El("section", "ways",
			way(p.address("screen"), "On the big screen", "One item at a time, by keyboard: space shows the answer and goes on."),
			way(p.address("handout"), "Hand-out", "Jars to judge with a pen, one page for each item; answers and sources apart."),
			way(p.address("notes"), "Teacher's notes", "What to ask, what to point at, and what tells the two jars apart."),
			way(p.address("cards"), "Flash cards", "The jar in front, verdict, reason and source behind."),
		),
		ui.El("section", "card",
			ui.Txt("h2", "", "Share the set"),
			ui.Field("Link", ui.Elem("input", "").Attr("type", "text").Attr("readonly", true).Attr("value", origin+ui.Link(shared))),
			ui.El("p", "row",
				ui.Anchor("button", shared, "Practice it yourself"),
				ui.Action("button plain", "Copy the link", func() { p.copy(origin + ui.Link(shared)) }),
				ui.Action("button plain", "Save as a file", p.save),
			),
			ui.Live("", ui.Only(p.said != "", func() app.UI { return ui.Txt("p", "", p.said) })),
			ui.Txt("p", "hint", ui.Say("The link gives the same jars as long as the edition of the rules is the same: %s. The file holds the jars themselves and is judged by the rules of the guide that reads it.", rules.Edition)),
		),
		notCertified(),
	)
}

// copy puts the link on the clipboard, where the browser has one.
func (p *ClassPage) copy(text string) {
	failed := func(string) { p.said = "The browser does not allow it. Mark the link and copy it by hand." }
	clipboard := app.Window().Get("navigator").Get("clipboard")
	if !clipboard.Truthy() {
		failed("")
		return
	}
	ui.OnPromise(p.ctx, clipboard.Call("writeText", text), func(app.Value) { p.said = "Copied." }, failed)
}

// save offers the set as a file.
func (p *ClassPage) save() {
	text, err := json.MarshalIndent(p.deck().Set(p.n), "", "\t")
	if err != nil {
		p.said = prose.Upper(ui.Plain(err))
		return
	}
	ui.SaveFile(fmt.Sprintf("larderlamp-set-%d.json", p.seed), "application/json", string(text))
}

// screen shows one item large, for a room. Space or the right arrow shows the
// answer and then moves on, the left arrow goes back.
func (p *ClassPage) screen() app.UI {
	it := &p.items[p.at]
	return ui.Elem("section", "big-screen").On("keydown", func(ctx app.Context, e app.Event) {
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
			ctx.Navigate(ui.Link(p.address("")))
		default:
			ctx.PreventUpdate()
		}
	}).Body(
		ui.Title(ui.Say("Set %d, item %d of %d: %s", p.seed, p.at+1, len(p.items), it.Jars[0].Product.Name)),
		ui.El("div", "twins", ui.Each(2, func(i int) app.UI { return p.bigJar(it, i) })...),
		ui.Live("", ui.Only(p.revealed, func() app.UI {
			return ui.El("p", "tell-apart", ui.Txt("strong", "", "What decides: "), ui.Prose(ui.Say("%s.", it.Sign.Info().Name)))
		})),
		ui.El("p", "row noprint",
			ui.Action("button big", p.forwardWord(), p.forward, p.at, p.revealed),
			ui.Action("button plain", "Back", p.backward),
			ui.Anchor("button plain", p.address(""), "Leave"),
			ui.Only(p.revealed, func() app.UI {
				return ui.El("span", "group-right",
					ui.Txt("span", "", "Was the group right?"),
					ui.Action("button plain", "Yes", func() { p.score(true) }, p.at),
					ui.Action("button plain", "No", func() { p.score(false) }, p.at))
			}),
			ui.Only(len(p.right) > 0, func() app.UI { return ui.Txt("strong", "score", p.scored()) }),
			ui.Txt("span", "hint", "Keys: space or → next, ← back, Y or N the group's answer, Home, Esc."),
		),
	)
}

// score records whether the group was right about the item, once it is shown.
func (p *ClassPage) score(right bool) {
	if p.revealed {
		p.right[p.at] = right
	}
}

// scored is the group's score so far.
func (p *ClassPage) scored() prose.Text {
	n := 0
	for _, right := range p.right {
		if right {
			n++
		}
	}
	return ui.Say("Score: %d of %d", n, len(p.right))
}

// noMatch says that nothing matches what was chosen.
func (p *ClassPage) noMatch() app.UI {
	return ui.Txt("p", "notice", "No pair of jars of this food turns on this sign. Choose another food or sign.")
}

func (p *ClassPage) forwardWord() prose.Text {
	switch {
	case !p.revealed:
		return "Show the answer"
	case p.at == len(p.items)-1:
		return "From the start"
	}
	return "Next"
}

func (p *ClassPage) move(at int, revealed bool) {
	p.at, p.revealed = at, revealed
	ui.Focus(p.ctx, "title")
}

func (p *ClassPage) forward() {
	if !p.revealed {
		p.revealed = true // the focus stays, so that the space bar keeps working
		return
	}
	p.move((p.at+1)%len(p.items), false)
}

func (p *ClassPage) backward() {
	switch {
	case p.revealed:
		p.revealed = false
	case p.at > 0:
		p.move(p.at-1, true)
	}
}

func (p *ClassPage) bigJar(it *practice.Item, i int) app.UI {
	j := &it.Jars[i]
	class, v := "twin", rules.Verdict(0)
	if p.revealed {
		class, v = "twin answer "+parts.VerdictClass(j.Verdict), j.Verdict
	}
	point, _ := splitTrace(j, it.Sign)
	return ui.El("section", class,
		ui.El("div", "jar-box still", app.Raw(parts.JarPicture(j.Product, j.Situation, v, draw.Options{Prefix: "b" + letters[i]}))),
		ui.El("div", "",
			ui.Txt("h2", "", ui.Say("Jar %s", letters[i])),
			ui.Only(!p.revealed, func() app.UI { return told(j) }),
			ui.Only(p.revealed, func() app.UI { return bigAnswer(j, it.Sign, point[0].Rule) }),
		),
	)
}

// publisherOf names who published a source: all that can be read across a room. The
// teacher's notes and the handout say where in the source it is.
func publisherOf(s *rules.Source) string {
	if s.Publisher == "" {
		return s.Title
	}
	return s.Publisher
}

// bigAnswer is the verdict of a jar for a room: what the sign showed, the reason
// in one short sentence, and its source.
func bigAnswer(j *practice.Twin, id rules.SignID, r *rules.Rule) app.UI {
	v, _ := j.Situation.Known(id)
	return ui.El("div", "big-answer",
		ui.El("p", "big-verdict", parts.VerdictWord(j.Verdict)),
		ui.El("p", "", ui.Txt("strong", "", ui.Say("%s: ", id.Info().Name)), ui.Prose(v.Info().Label)),
		ui.Txt("p", "", r.Short()),
		ui.El("p", "source", ui.Prose("Source: "), ui.Elem("cite", "").Attr("lang", "en").Attr("translate", "no").Body(app.Text(publisherOf(r.Cites[0].Source)))),
	)
}
