package parts

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// Apart shows the versions of a record that other devices made at the same time, and
// lets the person decide. Intro says what it is about, list shows a version, and
// decided is called once the person has chosen one.
func Apart[R record.Record](h *house.House, r R, intro prose.Text, list func(R) app.UI, decided func()) app.UI {
	aside := record.SetAside(r)
	if len(aside) == 0 {
		return nil
	}
	choose := func(version R) {
		chosen, err := record.Chosen(r, version, time.Now())
		if err != nil {
			h.Complain(ui.Plain(err))
			return
		}
		h.Commit(chosen)
		decided()
	}
	return ui.El("div", "notice",
		ui.Txt("p", "", intro),
		ui.El("ul", "", ui.Each(len(aside), func(i int) app.UI {
			other, err := record.Decode(r.Kind(), aside[i])
			if err != nil {
				return ui.Txt("li", "", "a version that cannot be read")
			}
			return ui.El("li", "", list(other.(R)), ui.Action("button plain", "Use this version", func() { choose(other.(R)) }, r.Key(), i))
		})...),
		ui.Action("button plain", "Keep what counts now", func() { choose(r) }, r.Key(), "settle"),
	)
}
