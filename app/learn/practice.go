package learn

import (
	"encoding/json"
	"slices"
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
)

// ladderKey is where the browser keeps how far the learner has come.
const ladderKey = "larderlamp-practice"

// PracticePage gives jars to judge, one pair after the other: those of the
// learner's own row, or those of a set that a class shares.
type PracticePage struct {
	app.Compo
	House *house.House

	ctx    app.Context // of the page: it outlives the buttons in it
	ladder *practice.Ladder
	deck   practice.Deck   // narrowed as the address says
	set    []practice.Item // shared, or nil
	name   string          // of the set
	at     int             // items of the set that were answered
	marks  practice.Tally  // of the set
	fault  string          // what was wrong with the address or the file

	item     *practice.Item // on the screen, or nil
	pair     bool           // both jars are asked about
	said     [2]rules.Verdict
	touched  int        // the sign that was touched, -1 for none
	zone     *draw.Zone // part of the picture that was touched last
	jar      int        // whose picture
	answered bool
	missing  string // what is still to be answered
}

// epoch days are counted from.
var epoch = time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)

// today is the number of the day, as the device's own clock has it.
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
		// compiles what it needs. It is made while the page is read.
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
	failed := func(text string) { p.fault = ui.UpperFirst(text) + "." }
	ui.Promised(p.ctx, ui.Device().Call("choose", ".json,application/json", most), func(v app.Value) {
		if !v.Truthy() {
			return
		}
		_, items, err := practice.ParseSet([]byte(v.Index(1).String()))
		if err != nil {
			failed(err.Error())
			return
		}
		p.set, p.name, p.at, p.marks, p.fault = items, v.Index(0).String(), 0, practice.Tally{}, ""
		ui.Focus(p.ctx, "title")
	}, failed)
}

// loadLadder reads how far the learner has come, or starts afresh.
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
	// Two of three items are twins: one sign apart is what has to be learnt.
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

// answer grades what was said, keeps it, and shows the trace.
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
	lead := "Pairs of jars, one sign apart. Say what you would do with each, and touch the sign that decides. The rules answer, with their sources."
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

// question asks about the item.
func (p *PracticePage) question() app.UI {
	heading := "Two jars, one sign apart. What would you do with each?"
	if !p.pair {
		heading = "What would you do with this jar?"
	}
	return ui.Elem("form", "practice").On("submit", func(ctx app.Context, e app.Event) {
		e.PreventDefault()
		p.answer()
	}).Body(
		p.where(),
		ui.Title(heading),
		ui.El("div", p.columns(), ui.Each(p.asked(), p.askJar)...),
		p.askSign(),
		ui.Live("", ui.Only(p.missing != "", func() app.UI { return ui.Txt("p", "notice", p.missing) })),
		ui.El("p", "row",
			ui.Elem("button", "button big").Attr("type", "submit").Text(ui.Local("Answer")),
			ui.Action("button plain", "Stop here", p.stop),
		),
	)
}

func (p *PracticePage) columns() string {
	if p.pair {
		return "twins"
	}
	return "twins alone"
}

// where says how far one is.
func (p *PracticePage) where() app.UI {
	text := ui.Say("Item %d", p.ladder.Turn+1)
	if p.set != nil {
		text = ui.Say("%s, item %d of %d", p.name, p.at+1, len(p.set))
	}
	return ui.Txt("p", "kind", text)
}

// stop goes back to the page before the first item.
func (p *PracticePage) stop() {
	p.item = nil
	if p.set != nil && p.at == 0 {
		p.marks = practice.Tally{}
	}
	ui.Focus(p.ctx, "title")
}

// turn tells items apart for the elements that stand at the same place.
func (p *PracticePage) turn() int { return p.ladder.Turn*2 + p.at }

// letters name the two jars.
var letters = [...]string{"A", "B"}

func (p *PracticePage) jarName(i int) string {
	if !p.pair {
		return p.item.Jars[0].Product.Name
	}
	return ui.Say("Jar %s", letters[i])
}

// askJar shows a jar, what is told of it, and asks for the verdict.
func (p *PracticePage) askJar(i int) app.UI {
	j := &p.item.Jars[i]
	return ui.El("section", "twin",
		ui.Elem("div", "jar-box").
			On("click", func(ctx app.Context, e app.Event) { p.touch(ctx, e, i) }, app.EventScope(p.turn(), i)).
			On("keydown", func(ctx app.Context, e app.Event) {
				if k := e.Get("key").String(); k == "Enter" || k == " " {
					e.PreventDefault()
					p.touch(ctx, e, i)
					return
				}
				ctx.PreventUpdate()
			}, app.EventScope(p.turn(), i)).
			Body(app.Raw(parts.JarPicture(j.Product, j.Situation, 0, draw.Options{Prefix: "q" + letters[i], Interactive: true}))),
		ui.Txt("h2", "", p.jarName(i)),
		ui.Only(p.pair, func() app.UI { return ui.Txt("p", "hint", j.Product.Name) }),
		told(j),
		ui.El("fieldset", "verdicts",
			ui.Txt("legend", "", ui.Say("%s: your verdict", p.jarName(i))),
			ui.El("div", "choices", ui.Each(len(rules.Verdicts), func(k int) app.UI {
				v := rules.Verdicts[k]
				return ui.El("label", "choice small",
					ui.Radio("verdict-"+letters[i], v.ID(), p.said[i] == v).
						On("change", func(app.Context, app.Event) { p.said[i] = v }, app.EventScope(p.turn(), i, v.ID())),
					parts.Mark(v), ui.Txt("span", "", v.String()))
			})...),
		),
	)
}

// told says what is known of the jar: the lines of notes in plain sight, all of
// it folded.
func told(j *practice.Jar) app.UI {
	all := j.Told()
	return ui.El("div", "told",
		notes(j),
		ui.Fold("", "All that is known", ui.El("ul", "", ui.Each(len(all), func(i int) app.UI { return noteLine(j, all[i]) })...)),
	)
}

// notes lists how a jar was heated, how old it is and whatever is not as it
// should be.
func notes(j *practice.Jar) app.UI {
	ids := j.Odd()
	for _, id := range []rules.SignID{rules.SignMethod, rules.SignAge} {
		if !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ui.El("ul", "notes", append(ui.Each(len(ids), func(i int) app.UI { return noteLine(j, ids[i]) }),
		ui.Txt("li", "rest", "Everything else as it should be."))...)
}

func noteLine(j *practice.Jar, id rules.SignID) app.UI {
	v, _ := j.Situation.Known(id)
	return ui.El("li", "", ui.Txt("strong", "", id.Info().Name+": "), ui.Prose(v.Info().Label))
}

// touch opens the part of the picture that was touched, or takes its one sign.
func (p *PracticePage) touch(ctx app.Context, e app.Event, jar int) {
	hit := e.Get("target").Call("closest", "[data-zone]")
	if !hit.Truthy() {
		ctx.PreventUpdate()
		return
	}
	id := hit.Call("getAttribute", "data-zone").String()
	for i := range draw.Zones {
		if draw.Zones[i].ID == id {
			p.zone, p.jar = &draw.Zones[i], jar
		}
	}
	signs := p.inZone()
	if len(signs) == 1 {
		p.touched = int(signs[0])
	}
	ctx.Defer(func(app.Context) {
		if e := app.Window().GetElementByID("deciding"); e.Truthy() {
			e.Call("focus")
		}
	})
}

// inZone lists the signs of the part that was touched, as far as they are told.
func (p *PracticePage) inZone() (ids []rules.SignID) {
	if p.zone == nil {
		return nil
	}
	for _, id := range p.item.Jars[p.jar].Told() {
		if slices.Contains(p.zone.Signs, id) {
			ids = append(ids, id)
		}
	}
	return
}

// askSign asks for the sign that decides: those of the part that was touched
// first, then all.
func (p *PracticePage) askSign() app.UI {
	ask := "Which one sign makes the difference?"
	if !p.pair {
		ask = "Which sign decides?"
	}
	zone := p.inZone()
	all := p.item.Jars[0].Told()
	name := func(id rules.SignID) string { return id.Info().Name }
	options := []app.UI{ui.Option("", "Choose, or touch it on the picture", p.touched < 0)}
	if !p.pair {
		options = append(options, ui.Option(strconv.Itoa(int(practice.NoSign)), "None: nothing holds this jar back", p.touched == int(practice.NoSign)))
	}
	options = append(options, ui.Option(strconv.Itoa(int(rules.SignRoute)), "The food itself", p.touched == int(rules.SignRoute)))
	for _, id := range all {
		options = append(options, ui.Option(strconv.Itoa(int(id)), name(id), p.touched == int(id)))
	}
	return ui.El("div", "card",
		ui.Field(ask, ui.Elem("select", "").ID("deciding").
			On("change", func(ctx app.Context, e app.Event) {
				n, err := strconv.Atoi(ui.Typed(ctx))
				if err != nil {
					n = -1
				}
				p.touched = n
			}, app.EventScope(p.turn())).Body(options...)),
		ui.Only(len(zone) > 1, func() app.UI {
			return ui.El("div", "", ui.Txt("p", "hint", ui.Say("%s: which sign of it?", p.zone.Label)), ui.El("p", "row", ui.Each(len(zone), func(i int) app.UI {
				class := "button plain"
				if p.touched == int(zone[i]) {
					class = "button"
				}
				return ui.Action(class, name(zone[i]), func() { p.touched = int(zone[i]) }, p.turn(), i)
			})...))
		}),
	)
}

// feedback is the trace of the rules for each jar.
func (p *PracticePage) feedback() app.UI {
	heading, note, class := "Right", "", "right"
	a := p.given()
	switch a.Worst(p.item) {
	case practice.Missed:
		heading, class = "A danger missed", "missed"
		note = "This jar had to be discarded. It comes back soon, as it is here, until you see it."
		if p.set != nil {
			note = "This jar had to be discarded. A person who eats from such a jar can be poisoned. You will see it again in your own practice."
		}
	case practice.FalseAlarm:
		heading, class = "A false alarm", "alarm"
		note = "Nobody is harmed by this. But good food is lost, and so is trust in a careful look."
	case practice.TooMild:
		heading, class = "Too mild", "alarm"
		note = "It is safe to eat soon, but not to store any longer."
	default:
		if !a.Decides(p.item) {
			heading, class = "Right verdict, another sign", "alarm"
		}
	}
	deciding := p.item.Sign.Info().Name
	if !p.pair {
		deciding = signNames(p.item.Jars[0].Deciders())
	}
	return ui.El("article", "practice",
		p.where(),
		ui.El("header", "outcome "+class, ui.Title(heading+"."), ui.Only(note != "", func() app.UI { return ui.Txt("p", "", note) })),
		ui.El("p", "tell-apart", ui.Txt("strong", "", "What decides: "), ui.Prose(deciding+".")),
		ui.El("div", "twins", ui.Each(2, p.traceJar)...),
		ui.El("p", "row",
			ui.Action("button big", "Next", p.next, p.turn()),
			ui.Anchor("button plain", "/signs?sign="+p.item.Sign.ID(), ui.Say("More on %s", ui.LowerFirst(p.item.Sign.Info().Name))),
			ui.Action("button plain", "Stop here", p.stop, p.turn()),
		),
	)
}

func signNames(ids []rules.SignID) string {
	text := ""
	for i, id := range ids {
		if i > 0 {
			text += ", "
		}
		if id == rules.SignRoute {
			text += "The food itself"
		} else {
			text += strings.TrimSuffix(id.Info().Name, "?")
		}
	}
	if text == "" {
		return "Nothing: it can be kept"
	}
	return text
}

// traceJar shows a jar with its verdict and the rules' own trace.
func (p *PracticePage) traceJar(i int) app.UI {
	j := &p.item.Jars[i]
	point, rest := pointed(j, p.item.Sign)
	name := p.jarName(0)
	v, _ := j.Situation.Known(p.item.Sign)
	switch {
	case p.pair:
		name = p.jarName(i)
	case i == 1:
		name = "One sign apart"
	}
	return ui.El("section", "twin answer "+parts.VerdictClass(j.Verdict),
		ui.El("div", "jar-box still", app.Raw(parts.JarPicture(j.Product, j.Situation, j.Verdict, draw.Options{Prefix: "f" + letters[i]}))),
		ui.Txt("h2", "", name),
		ui.El("p", "", parts.VerdictWord(j.Verdict), ui.Only(p.said[i] != 0 && p.said[i] != j.Verdict, func() app.UI {
			return ui.Txt("small", "said-so", ui.Say("You said: %s.", p.said[i].String()))
		})),
		ui.El("p", "", ui.Txt("strong", "", p.item.Sign.Info().Name+": "), ui.Prose(v.Info().Label)),
		parts.Reasons(j.Product, point),
		ui.Only(len(rest) > 0, func() app.UI {
			return ui.Fold("", ui.Count(len(rest), "more reason", "more reasons"), parts.Reasons(j.Product, rest))
		}),
		told(j),
	)
}

// bearsOn tells whether a value is of the sign, or rests on it: the tested process
// rests on the record.
func bearsOn(v rules.Value, id rules.SignID) bool {
	return v.Sign() == id || v.Sign() == rules.SignBacking && id.Info().Chapter == rules.ChapterRecord
}

// pointed parts the trace of a jar into the lines that speak of the sign, or the
// line that speaks for the verdict where none does, and all others.
func pointed(j *practice.Jar, id rules.SignID) (point, rest []rules.Line) {
	t := rules.Explain(j.Situation)
	all := append(t.Deciding, t.Also...)
	speaks := func(l *rules.Line) bool {
		return slices.ContainsFunc(l.Shown, func(v rules.Value) bool { return bearsOn(v, id) })
	}
	if !slices.ContainsFunc(all, func(l rules.Line) bool { return speaks(&l) }) {
		speaks = func(l *rules.Line) bool { return l.Rule == t.Deciding[0].Rule }
	}
	for i := range all {
		if speaks(&all[i]) {
			point = append(point, all[i])
		} else {
			rest = append(rest, all[i])
		}
	}
	return
}

// ended is the page after the last item of a set.
func (p *PracticePage) ended() app.UI {
	return ui.El("div", "",
		ui.Title(ui.Say("The end of %s", p.name)),
		tallyLines(&p.marks),
		ui.El("p", "row",
			ui.Action("button", "Go on with your own practice", func() {
				p.set = nil
				p.next()
			}),
			ui.Action("button plain", "This set again", func() {
				p.at, p.marks = 0, practice.Tally{}
				p.next()
			}),
			ui.Anchor("button plain", "/class", "Another set"),
		),
		p.progress(),
	)
}
