package check

import (
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/session"
	"larderlamp/app/wrong"
)

// Whatever a record's references lead to, nothing that reads it ends the
// program.
func TestReferencesPutWrong(t *testing.T) {
	wrong.References(t, func(t testing.TB, h *wrong.Imported) {
		for _, c := range h.Checks {
			wrong.Drawn(t, "check "+c.ID, func() app.Composer { return &Page{House: h.House, session: session.Resume(*c), id: c.ID} })
		}
		wrong.Drawn(t, "earlier checks", func() app.Composer {
			p := &HistoryPage{House: h.House, loaded: true}
			for _, c := range h.Checks {
				p.checks = append(p.checks, *c)
			}
			return p
		})
	})
}
