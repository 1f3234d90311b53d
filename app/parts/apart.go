package parts

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// Apart shows the versions of a record that other devices made at the same time, and
// lets the person decide. Intro says what it is about, list shows a version, and
// decide gets the one to keep; copied copies a record of the kind with another head.
func Apart[R record.Record](r R, head *record.Head, intro prose.Text, list func(R) app.UI, copied func(R, record.Head) (R, *record.Head), decide func(R)) app.UI {
	if len(head.Aside) == 0 {
		return nil
	}
	settle := func(version R) {
		kept, h := copied(version, *head)
		h.Settle(time.Now())
		decide(kept)
	}
	return ui.El("div", "notice",
		ui.Txt("p", "", intro),
		ui.El("ul", "", ui.Each(len(head.Aside), func(i int) app.UI {
			other, err := record.Decode(r.Kind(), head.Aside[i])
			if err != nil {
				return ui.Txt("li", "", "a version that cannot be read")
			}
			return ui.El("li", "", list(other.(R)), ui.Action("button plain", "Use this version", func() { settle(other.(R)) }, head.ID, i))
		})...),
		ui.Action("button plain", "Keep what counts now", func() { settle(r) }, head.ID, "settle"),
	)
}
