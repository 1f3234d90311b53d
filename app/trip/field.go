package trip

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// number is a labeled field for a whole number.
func (p *Page) number(label prose.Text, v *int, low, high int, then func()) app.UI {
	return ui.Field(label, ui.Input("number", fmt.Sprint(*v), "").Attr("min", low).Attr("max", high).Attr("inputmode", "numeric").
		On("change", func(ctx app.Context, _ app.Event) {
			n, err := strconv.Atoi(strings.TrimSpace(ui.Typed(ctx)))
			if err != nil || n < low || n > high {
				p.errors = []prose.Text{ui.Say("%s: “%s” is not a whole number from %d to %d.", label, ui.Typed(ctx), low, high)}
				return
			}
			p.errors = nil
			*v = n
			if then != nil {
				then()
			}
		}, app.EventScope(label, p.turn)))
}

// scaled is a labeled field for a number that is kept in a smaller unit.
func (p *Page) scaled(label prose.Text, v *int, unit float64) app.UI {
	shown := strconv.FormatFloat(float64(int(float64(*v)/unit*10+0.5))/10, 'f', -1, 64)
	return ui.Field(label, ui.Input("number", shown, "").Attr("min", 0).Attr("step", "any").Attr("inputmode", "decimal").
		On("change", func(ctx app.Context, _ app.Event) {
			n, err := strconv.ParseFloat(strings.Replace(ui.Typed(ctx), ",", ".", 1), 64)
			if err != nil || !(n >= 0 && n <= 1000) {
				p.errors = []prose.Text{ui.Say("%s: “%s” is not a number from 0 to 1000.", label, ui.Typed(ctx))}
				return
			}
			p.errors = nil
			*v = int(n*unit + 0.5)
		}, app.EventScope(label, p.turn)))
}

// weight is a labeled field for a weight, kept in grams.
func (p *Page) weight(label prose.Text, v *int) app.UI {
	if p.House.Settings.Fahrenheit {
		return p.scaled(ui.Say("%s (lb)", label), v, house.Pound)
	}
	return p.scaled(ui.Say("%s (kg)", label), v, 1000)
}

// volume is a labeled field for a volume, kept in milliliters.
func (p *Page) volume(label prose.Text, v *int) app.UI {
	if p.House.Settings.Fahrenheit {
		return p.scaled(ui.Say("%s (quarts)", label), v, record.Quart)
	}
	return p.scaled(ui.Say("%s (liters)", label), v, 1000)
}

// cooler is a labeled field for the size of a cooler, in whole liters or quarts. It is
// counted in liters; quarts are kept too, or 28 of them would come back as 27.
func (p *Page) cooler(label prose.Text) app.UI {
	t := p.edit
	if !p.House.Settings.Fahrenheit {
		return p.number(ui.Say("%s (liters)", label), &t.Liters, 3, 300, func() { t.Quarts = 0 })
	}
	quarts := t.InQuarts()
	return p.number(ui.Say("%s (quarts)", label), &quarts, 4, 317, func() { t.SetQuarts(quarts) })
}

// degree is a labeled field for a temperature, kept in tenths of a degree
// Celsius.
func (p *Page) degree(label prose.Text, v *int) app.UI {
	return p.House.DegreeField(label, v, p.turn, func(wrong prose.Text) {
		p.errors = nil
		if wrong != "" {
			p.errors = []prose.Text{wrong}
		}
	})
}
