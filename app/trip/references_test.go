package trip

import (
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/wrong"
)

// Whatever a record's references lead to, nothing that reads it ends the
// program.
func TestReferencesPutWrong(t *testing.T) {
	wrong.References(t, func(t testing.TB, h *wrong.Imported) {
		wrong.Drawn(t, "trips", func() app.Composer { return &Page{House: h.House, ready: true} })
		for id, trip := range h.Shelf.Trips {
			planned := Page{House: h.House, ready: true}
			wrong.Drawn(t, "trip "+id, func() app.Composer {
				planned.show(trip)
				p := planned
				return &p
			})
			for _, then := range []func(*Page){func(p *Page) { p.coming = map[string]string{} }, func(p *Page) { p.card() }} {
				wrong.Drawn(t, "trip "+id, func() app.Composer {
					p := planned
					then(&p)
					return &p
				})
			}
		}
	})
}
