package trip

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/travel"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// What happened to a jar that was packed.
const (
	wasEaten  = "eaten"
	wasThrown = "thrown"
	isBack    = "back"
	isOpen    = "open"
)

var fates = []ui.Choice{ui.Line(wasEaten, "eaten up"), ui.Line(isBack, "came back unopened"), ui.Line(isOpen, "came back open, in the cooler"), ui.Line(wasThrown, "thrown away")}

// comeHome starts to ask what happened to the jars.
func (p *Page) comeHome() {
	p.coming = map[string]string{}
	p.reading = nil
	for _, packed := range p.trip.Packed {
		p.coming[packed.Jar] = isBack
		if packed.Open >= 0 {
			p.coming[packed.Jar] = wasEaten
		}
	}
	p.moveOn()
}

// home asks what happened to each jar.
func (p *Page) home() app.UI {
	s := p.House.Shelf
	warmest := 0
	if p.reading != nil {
		warmest = *p.reading
	}
	return ui.Once("section", "card",
		ui.Title("Home again"),
		ui.Txt("p", "", "What became of each jar? What the trip did to the jars that come back counts from now on."),
		ui.El("div", "grid", ui.Each(len(p.trip.Packed), func(i int) app.UI {
			id := p.trip.Packed[i].Jar
			j := s.Jars[id]
			if j == nil {
				return nil
			}
			return ui.Menu(p.turn, s.JarName(j), p.coming[id], func(v string) { p.coming[id] = v }, fates...)
		})...),
		ui.Tick(p.turn, "A thermometer traveled with the jars", p.reading != nil, func(on bool) {
			p.reading = nil
			if on {
				n := 250
				p.reading = &n
			}
		}),
		ui.Only(p.reading != nil, func() app.UI { return p.degree("The warmest it showed", p.reading) }),
		ui.Only(p.reading == nil, func() app.UI {
			if e, ok := p.base.Worst(); ok {
				return ui.Txt("p", "hint", ui.Say("Without one, we count the warmest that it can have been: %s at most.", p.House.Degrees(int(e.Warmest.High*10))))
			}
			return nil
		}),
		ui.Faults(p.errors),
		ui.El("p", "row",
			ui.Action("button big", "Save what became of them", func() { p.arrive() }, warmest),
			ui.Action("button plain", "Cancel", func() {
				p.coming = nil
				p.moveOn()
			}, "cancel"),
		),
	)
}

// arrive saves what happened to the jars: all of it or nothing.
func (p *Page) arrive() {
	if len(p.errors) > 0 {
		return
	}
	now, t := time.Now(), p.trip
	of := map[string]*travel.Traveler{}
	for _, tr := range p.base.Jars {
		of[tr.Jar.ID] = tr
	}
	var records []record.Record
	for _, packed := range t.Packed {
		j := p.House.Shelf.Jars[packed.Jar]
		if j == nil || j.Standing().Stage == record.IsGone {
			continue
		}
		copied := *j
		copied.Events = append([]record.Event{}, j.Events...)
		var err error
		switch p.coming[packed.Jar] {
		case wasEaten:
			_, err = copied.Add(record.Eaten, now)
		case wasThrown:
			var e *record.Event
			if e, err = copied.Add(record.Discarded, now); err == nil {
				e.Words = ui.Local(parts.TripName(t))
			}
		case isOpen:
			var e *record.Event
			if copied.Standing().Stage != record.IsOpen {
				// On the evening of the planned day; the stricter time when none
				// was planned.
				at, bad := time.ParseInLocation(record.DayLayout, string(t.From), now.Location())
				if bad != nil {
					at = now
				}
				at = at.AddDate(0, 0, max(0, packed.Open)).Add(12 * time.Hour)
				if at.After(now) {
					at = now
				}
				e, err = copied.Add(record.Opened, at)
				if err == nil {
					e.Words = ui.Local(parts.TripName(t))
				}
			}
		default:
			if tr := of[packed.Jar]; tr != nil {
				there := *tr
				there.Jar = &copied
				err = there.Return(now, "", ui.Local(ui.Say("Back from %s: %s on the way at most, counted as %.0f to %.0f days.", parts.TripName(t), p.House.Degrees(int(tr.Exposure.Warmest.High*10)), tr.Exposure.Aged.Low, tr.Exposure.Aged.High)))
				if p.reading != nil && err == nil {
					copied.Events[len(copied.Events)-1].Warmest = p.reading
				}
			}
		}
		if err != nil {
			p.errors = []prose.Text{ui.Plain(err)}
			return
		}
		records = append(records, &copied)
	}
	copied := *t
	copied.Home = &now
	copied.Touch(now)
	records = append(records, &copied)
	p.House.Keep(p.ctx, func() {
		p.open(&copied)
		p.said = ui.Say("Saved. %s a new line in the history.", ui.Count(len(records)-1, "jar has", "jars have"))
	}, records...)
}
