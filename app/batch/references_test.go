package batch

import (
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/wrong"
)

// Whatever a record's references lead to, nothing that reads it ends the
// program.
func TestReferencesPutWrong(t *testing.T) {
	wrong.References(t, func(t testing.TB, h *wrong.Imported) {
		wrong.Drawn(t, "a new batch", func() app.Composer { return &Page{House: h.House, ready: true} })
		for _, id := range append(wrong.IDs(h.Shelf.Batches), "") {
			wrong.Drawn(t, "batch "+id, func() app.Composer { return &Page{House: h.House, ready: true, id: id} })
		}
	})
}
