package sweep

import (
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/wrong"
)

// Whatever a record's references lead to, nothing that reads it ends the
// program.
func TestReferencesPutWrong(t *testing.T) {
	wrong.References(t, func(t testing.TB, h *wrong.Imported) {
		wrong.Drawn(t, "the sweep", func() app.Composer {
			p := &Page{House: h.House, ready: true, except: map[string]bool{}, chosen: map[string]bool{}, passed: map[string]bool{}}
			p.look()
			return p
		})
		for _, id := range wrong.IDs(h.Shelf.Sweeps) {
			wrong.Drawn(t, "the report of sweep "+id, func() app.Composer {
				return &Page{House: h.House, ready: true, report: id, except: map[string]bool{}}
			})
		}
	})
}
