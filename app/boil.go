package app

import (
	"fmt"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules/process"
)

// boilLine gives the minutes of boiling before serving for the household's
// altitude, which can be set on the spot.
type boilLine struct {
	app.Compo
	House *household
}

// altitudes are the upper edges of the altitude bands offered, in feet.
var altitudes = []int{999, 1999, 2999, 3999, 4999, 5999, 6999, 7999, 8999, 9999}

func (b *boilLine) Render() app.UI {
	return el("div", "boil", el("p", "", txt("strong", "", boilWords(b.House))), altitudeMenu(b.House))
}

// boilWords say for how long it is boiled before it is served.
func boilWords(h *household) string {
	if feet := h.altitudeFeet(); feet > 0 {
		return say("Before you eat it, boil the food for %d minutes.", process.BoilMinutes(process.Feet(feet)))
	}
	return "Before you eat it, boil the food for 10 minutes. Add 1 minute for each 1,000 ft (305 m) above sea level."
}

// altitudeMenu asks for the household's altitude, which is asked only once.
func altitudeMenu(h *household) app.UI {
	feet := h.altitudeFeet()
	options := each(len(altitudes), func(i int) app.UI {
		return option(fmt.Sprint(altitudes[i]), say("below %d,000 ft (%d m)", i+1, (i+1)*3048/10), feet == altitudes[i])
	})
	return field("Your altitude", elem("select", "").On("change", func(ctx app.Context, e app.Event) {
		h.setAltitude(ctx, picked(ctx))
	}).Body(append([]app.UI{option("0", "choose", feet == 0)}, options...)...))
}
