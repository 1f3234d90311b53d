package parts

import (
	"fmt"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/ui"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// boilLine shows the minutes of boiling before serving for the household's
// altitude, which can be set right there.
type boilLine struct {
	app.Compo
	House    *house.House
	Language string // so that it is drawn again in another one
}

func (b *boilLine) Render() app.UI {
	return ui.El("div", "boil", ui.El("p", "", ui.Txt("strong", "", BoilWords(b.House))), altitudeMenu(b.House))
}

// BoilWords says how long it is boiled before it is served.
func BoilWords(h *house.House) prose.Text {
	if feet := h.AltitudeFeet(); feet > 0 {
		return ui.Say("Before you eat it, boil the food for %d minutes.", process.BoilMinutes(process.Feet(feet)))
	}
	return "Before you eat it, boil the food for 10 minutes. Add 1 minute for each 1,000 ft (305 m) above sea level."
}

// BandWords names a band of altitude.
func BandWords(highest process.Feet) prose.Text {
	edge := highest + 1
	return ui.Say("below %d,000 ft (%d m)", int(edge/1000), edge.Meters())
}

// altitudeMenu asks for the household's altitude, which is asked only once.
func altitudeMenu(h *house.House) app.UI {
	feet := h.AltitudeFeet()
	options := ui.Each(len(process.Bands), func(i int) app.UI {
		at := process.Bands[i]
		return ui.Option(fmt.Sprint(int(at)), BandWords(at), feet == int(at))
	})
	return ui.Field("Your altitude", ui.Elem("select", "").On("change", func(ctx app.Context, e app.Event) {
		h.SetAltitude(ui.Picked(ctx))
	}).Body(append([]app.UI{ui.Option("0", "choose", feet == 0)}, options...)...))
}
