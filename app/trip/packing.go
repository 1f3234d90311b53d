package trip

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/travel"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// prints are the ways to take the plan along.
func (p *Page) prints() app.UI {
	return ui.El("span", "row",
		ui.Action("button plain", "Print the plan", func() { app.Window().Call("print") }, p.trip.ID),
		ui.Action("button plain", "Save the card as a file", func() { ui.SaveFile("trip.html", "text/html", p.card()) }, p.trip.ID))
}

// going lists the jars that go, as packed or as planned.
func (p *Page) going() (jars []*record.Jar) {
	for _, one := range p.trip.Packed {
		if j := p.House.Shelf.Jars[one.Jar]; j != nil {
			jars = append(jars, j)
		}
	}
	if len(p.trip.Packed) == 0 {
		for _, tr := range p.journey.Jars {
			if tr.Fate == travel.Goes || tr.Fate == travel.Spare {
				jars = append(jars, tr.Jar)
			}
		}
	}
	return
}

// byPlace lists what to pack, in walking order of the places, batch by batch.
func (p *Page) byPlace() (places []prose.Text, lines map[prose.Text][]prose.Text) {
	s := p.House.Shelf
	lines = map[prose.Text][]prose.Text{}
	numbers := map[[2]string][]string{}
	var keys [][2]string
	going := p.going()
	slices.SortStableFunc(going, func(a, b *record.Jar) int { return cmp.Compare(a.Number, b.Number) })
	for _, j := range going {
		k := [2]string{j.Standing().Place, j.Batch}
		if numbers[k] == nil {
			keys = append(keys, k)
		}
		numbers[k] = append(numbers[k], strconv.Itoa(j.Number))
	}
	ids := []string{}
	for _, place := range s.PlaceOrder() {
		ids = append(ids, place.ID)
	}
	ids = append(ids, "")
	for _, id := range ids {
		for _, k := range keys {
			if k[0] != id && (id != "" || s.Places[k[0]] != nil) {
				continue
			}
			name, b := s.PlaceName(id), s.Batches[k[1]]
			if len(lines[name]) == 0 {
				places = append(places, name)
			}
			if b != nil {
				lines[name] = append(lines[name], ui.Say("%s %s, jar %s", b.Name(), b.Made.Year(), strings.Join(numbers[k], ", ")))
			}
		}
	}
	return
}

// packingList is what to take from which place, to check off by hand.
func (p *Page) packingList() app.UI {
	places, lines := p.byPlace()
	if len(places) == 0 {
		return nil
	}
	return ui.El("section", "card packing",
		ui.Txt("h2", "", "Packing list"),
		ui.El("div", "", ui.Each(len(places), func(i int) app.UI {
			return ui.El("div", "", ui.Txt("h3", "", places[i]), ui.El("ul", "to-tick", ui.Each(len(lines[places[i]]), func(k int) app.UI {
				return ui.Txt("li", "", lines[places[i]][k])
			})...))
		})...),
	)
}

// pack keeps the plan.
func (p *Page) pack() {
	if err := p.base.Pack(); err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	p.keep(p.trip, func() {
		p.open(p.trip)
		p.said = "Packed. The plan is kept on this device."
	})
}

// card is the plan as one page that needs nothing else.
func (p *Page) card() string {
	j := p.journey
	var b strings.Builder
	text := func(tag string, s prose.Text) {
		b.WriteString("<" + tag + ">" + draw.Escape(ui.Local(s)) + "</" + tag + ">\n")
	}
	b.WriteString("<!doctype html>\n<html lang=\"" + ui.ReaderTag + "\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">\n<title>" + draw.Escape(ui.Local(parts.TripName(p.trip))) + "</title>\n<style>body{font:1rem/1.45 sans-serif;max-width:44rem;margin:1rem auto;padding:0 1rem}h2{margin:1em 0 .2em}ul{margin:.2em 0}</style>\n")
	text("h1", parts.TripName(p.trip))
	text("p", ui.Say("The cooler %s.", p.holds(j)))
	lines := p.lines()
	for d := range p.trip.Days {
		text("h2", p.day(d))
		b.WriteString("<ul>\n")
		for _, v := range lines {
			if v.Day == d && v.Jar != "" {
				text("li", ui.Say("%s. %s.", record.Dishes[v.Dish].Name, p.serving(v)))
			}
		}
		b.WriteString("</ul>\n")
	}
	text("h2", "Packing list")
	places, packing := p.byPlace()
	for _, place := range places {
		text("h3", place)
		b.WriteString("<ul>\n")
		for _, line := range packing[place] {
			text("li", line)
		}
		b.WriteString("</ul>\n")
	}
	text("h2", "On the way and there")
	b.WriteString("<ul>\n")
	for _, line := range p.advice() {
		text("li", line)
	}
	b.WriteString("</ul>\n</html>\n")
	return b.String()
}
