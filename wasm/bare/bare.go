// Package bare is a go-app page with one heading and one button, and nothing
// else. The size and start time of Larderlamp are compared with it.
package bare

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Register registers the page.
func Register() {
	app.Route("/", func() app.Composer { return &page{} })
}

type page struct {
	app.Compo
	pressed int
}

// OnMount marks the moment from which the button responds.
func (p *page) OnMount(app.Context) {
	app.Window().Get("performance").Call("mark", "answerable")
}

func (p *page) Render() app.UI {
	return app.Main().Body(
		app.H1().Text("Bare"),
		app.Button().Type("button").Text("Pressed "+strconv.Itoa(p.pressed)).OnClick(func(app.Context, app.Event) { p.pressed++ }),
	)
}
