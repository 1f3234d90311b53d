package office

import (
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/wrong"
)

// Whatever a record's references lead to, nothing that reads it ends the
// program.
func TestReferencesPutWrong(t *testing.T) {
	wrong.References(t, func(t testing.TB, h *wrong.Imported) {
		wrong.Drawn(t, "backups", func() app.Composer { return &KeepingPage{House: h.House, ready: true} })
		if !h.Rare { // labels take long to draw
			return
		}
		all := map[string]bool{"": true}
		for _, id := range wrong.IDs(h.Shelf.Batches) {
			all[id] = true
		}
		wrong.Drawn(t, "labels", func() app.Composer { return &LabelsPage{House: h.House, ready: true, chosen: all, start: 1} })
		for _, id := range append(wrong.IDs(h.Shelf.Jars), "") {
			wrong.Drawn(t, "the label of jar "+id, func() app.Composer { return &LabelsPage{House: h.House, ready: true, jar: id, start: 1} })
		}
	})
}
