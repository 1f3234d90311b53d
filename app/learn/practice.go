package learn

import (
	"encoding/json"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/house"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/practice"
	"larderlamp/rules/prose"
)

// ladderKey is where the browser keeps how far the learner has progressed.
const ladderKey = "larderlamp-practice"

// PracticePage gives jars to judge, one pair after the other: those of the
// learner's own series, or those of a set that a class shares.
type PracticePage struct {
	app.Compo
	House *house.House

	ctx    app.Context // context of the page: it outlives its buttons
	ladder *practice.Ladder
	deck   practice.Deck   // narrowed as the address says
	set    []practice.Item // shared, or nil
	name   prose.Text      // name of the set
	at     int             // items of the set that were answered
	marks  practice.Tally  // result of the set
	fault  prose.Text      // what was wrong with the address or the file

	item     *practice.Item // the item on the screen, or nil
	pair     bool           // both jars are asked about
	said     [2]rules.Verdict
	touched  int        // the sign that was touched, -1 for none
	zone     *draw.Zone // part of the picture that was touched last
	jar      int        // the jar whose picture was touched
	answered bool
	missing  prose.Text // what still has to be answered
}

// epoch is the day that days are counted from.
var epoch = time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)

// today is the number of the day by the device's own clock.
func today() int {
	now := time.Now()
	return int(time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC).Sub(epoch) / (24 * time.Hour))
}

func (p *PracticePage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/practice") {
		return
	}
	*p = PracticePage{Compo: p.Compo, House: p.House, ctx: ctx, ladder: loadLadder()}
	q := ui.Asked(ctx)
	if id, ok := rules.SignByID(q.Get("sign")); ok && !id.Fact() && id != rules.SignOpened {
		p.deck.Signs = []rules.SignID{id}
	}
	p.deck.Product, _ = rules.ProductByID(q.Get("product"))
	if q.Get("set") != "" {
		p.openSet(q.Get("set"), q.Get("n"), q.Get("food"), q.Get("sign"))
	}
	go func() {
		// The first pair takes several times as long as the next: the browser
		// compiles what it needs. So it is made while the page is being read.
		time.Sleep(100 * time.Millisecond)
		practice.Deck{}.Item(0)
	}()
}

// openSet takes a set from the address.
func (p *PracticePage) openSet(seed, n, food, sign string) {
	s, err := strconv.ParseUint(seed, 10, 64)
	if err != nil {
		p.fault = "The number of the set in the address is not a number."
		return
	}
	size, err := strconv.Atoi(n)
	if err != nil || size < 1 || size > practice.MostItems {
		size = 20
	}
	deck := narrowed(s, food, sign)
	p.set = make([]practice.Item, 0, size)
	for i := range size {
		if it, ok := deck.Item(i); ok {
			p.set = append(p.set, it)
		}
	}
	p.name = ui.Say("Set %d", s)
}

// openFile takes a set from a file.
func (p *PracticePage) openFile() {
	const most = 1 << 20 // bytes
	failed := func(text string) { p.fault = prose.Upper(ui.Say("%s.", text)) }
	ui.OnPromise(p.ctx, ui.Device().Call("choose", ".json,application/json", most), func(v app.Value) {
		if !v.Truthy() {
			return
		}
		_, items, err := practice.ParseSet([]byte(v.Index(1).String()))
		if err != nil {
			failed(err.Error())
			return
		}
		p.set, p.name, p.at, p.marks, p.fault = items, prose.Own(v.Index(0).String()), 0, practice.Tally{}, ""
		ui.Focus(p.ctx, "title")
	}, failed)
}

// loadLadder reads how far the learner has progressed, or starts over.
func loadLadder() *practice.Ladder {
	if text, ok := ui.DeviceItem(ladderKey); ok && text != "" {
		if l, err := practice.ParseLadder([]byte(text)); err == nil {
			return l
		}
	}
	return practice.NewLadder(uint64(time.Now().UnixNano()))
}

func saveLadder(l *practice.Ladder) {
	if text, err := json.Marshal(l); err == nil && app.IsClient {
		ui.SetDeviceItem(ladderKey, string(text))
	}
}

// next puts the next item on the screen, or ends the set.
func (p *PracticePage) next() {
	var it practice.Item
	ok := true
	switch {
	case p.set == nil:
		it, ok = p.ladder.Next(p.deck, today())
	case p.at < len(p.set):
		it = p.set[p.at]
	default:
		ok = false
	}
	p.item = nil
	if ok {
		p.item = &it
	}
	// Two of three items are twins: one sign apart is what has to be learned.
	number := p.ladder.Turn
	if p.set != nil {
		number = p.at
	}
	p.pair = number%3 != 2
	p.said, p.touched, p.zone, p.answered, p.missing = [2]rules.Verdict{}, -1, nil, false, ""
	ui.Focus(p.ctx, "title")
}

// asked is how many jars are asked about.
func (p *PracticePage) asked() int {
	if p.pair {
		return 2
	}
	return 1
}

// answer grades what was said, saves it, and shows the trace.
func (p *PracticePage) answer() {
	p.missing = ""
	for i := range p.asked() {
		if p.said[i] == 0 {
			p.missing = "Give a verdict for each jar."
		}
	}
	if p.missing == "" && p.touched < 0 {
		p.missing = "Choose the sign that decides, on the picture or in the list."
	}
	if p.missing != "" {
		return
	}
	a := p.given()
	marks := a.Marks(p.item)
	for i, said := range p.said {
		if said != 0 {
			p.marks.Add(p.item.Jars[i].Verdict, marks[i])
		}
	}
	p.ladder.Record(p.item, a, today())
	saveLadder(p.ladder)
	p.at++
	p.answered = true
	ui.Focus(p.ctx, "title")
}

// given is the answer as it stands.
func (p *PracticePage) given() practice.Answer {
	return practice.Answer{Said: p.said, Touched: rules.SignID(p.touched)}
}

func (p *PracticePage) Render() app.UI {
	switch {
	case p.ladder == nil:
		return ui.Frame("/learn", ui.Title("Practice"), ui.Txt("p", "lead", "Opening the guide…"))
	case p.item != nil && p.answered:
		return ui.Frame("/learn", p.feedback())
	case p.item != nil:
		return ui.Frame("/learn", p.question())
	case p.set != nil && p.at > 0:
		return ui.Frame("/learn", p.ended())
	}
	return ui.Frame("/learn", p.start())
}

// start is the page before the first item.
func (p *PracticePage) start() app.UI {
	lead := prose.Text("Pairs of jars, one sign apart. Say what you would do with each, and touch the sign that decides. The rules answer, with their sources.")
	switch {
	case p.set != nil:
		lead = ui.Say("%s: %s. Everybody who opens it gets the same jars in the same order.", p.name, ui.Count(len(p.set), "item", "items"))
	case p.deck.Signs != nil:
		lead = ui.Say("Only pairs that differ in this sign: %s.", p.deck.Signs[0].Info().Name)
	case p.deck.Product != nil:
		lead = ui.Say("Only this food: %s.", p.deck.Product.Name)
	}
	return ui.El("div", "",
		ui.Title("Practice"),
		ui.Live("", ui.Only(p.fault != "", func() app.UI { return ui.Txt("p", "notice", p.fault) })),
		ui.Txt("p", "lead", lead),
		ui.El("p", "go",
			ui.Action("button big", "Start", p.next),
			ui.Action("button plain", "Open a set from a file", p.openFile),
			ui.Anchor("button plain", "/signs", "Look at the signs first"),
		),
		p.progress(),
	)
}

// stop goes back to the page before the first item.
func (p *PracticePage) stop() {
	p.item = nil
	if p.set != nil && p.at == 0 {
		p.marks = practice.Tally{}
	}
	ui.Focus(p.ctx, "title")
}

// turn distinguishes items for the elements that are in the same place.
func (p *PracticePage) turn() int { return p.ladder.Turn*2 + p.at }
