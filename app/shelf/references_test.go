package shelf

import (
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/wrong"
)

// Whatever a record's references lead to, nothing that reads it ends the
// program.
func TestReferencesPutWrong(t *testing.T) {
	wrong.References(t, func(t testing.TB, h *wrong.Imported) {
		wrong.Drawn(t, "the shelf", func() app.Composer { return &Page{House: h.House, ready: true, part: -1, most: 100} })
		wrong.Drawn(t, "what there is", func() app.Composer { return &StockPage{House: h.House, ready: true} })
		wrong.Drawn(t, "places", func() app.Composer { return &PlacesPage{House: h.House, ready: true} })
		for _, id := range append(wrong.IDs(h.Shelf.Jars), "") {
			for _, doing := range []string{"", record.Opened, record.Moved, record.Discarded} {
				wrong.Drawn(t, "jar "+id+" "+doing, func() app.Composer {
					return &JarPage{House: h.House, ready: true, id: id, doing: doing, photos: map[string]*record.Photo{}}
				})
			}
		}
	})
}
