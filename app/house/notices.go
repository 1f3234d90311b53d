package house

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// Notices says plainly what is wrong with saving records, if anything is.
func (h *House) Notices() app.UI {
	trouble := h.Trouble()
	return ui.Live("",
		ui.Only(h.Demo, func() app.UI {
			return ui.El("p", "notice demo",
				ui.El("span", "", ui.Txt("strong", "", "This is a made-up household. "), ui.El("span", "rest", ui.Prose("Your own jars are where you left them."))),
				ui.Action("button plain", "Back to my own", h.HideDemo),
			)
		}),
		ui.Only(h.IsOpen() && !h.Status().Durable, func() app.UI { return ui.Txt("p", "notice", h.Status().Message) }),
		ui.Only(trouble != "", func() app.UI { return ui.Txt("p", "notice", trouble) }),
	)
}

// SavedWords says where the check is saved.
func (h *House) SavedWords() prose.Text {
	switch {
	case !h.Saved():
		return ""
	case !h.Status().Durable:
		return "Kept only while this page is open"
	case h.Private == "yes":
		return "Saved until this private window is closed"
	}
	return "Saved on this device"
}

// SavedLimit says how long what was saved is kept, when the browser does not
// tell whether this is a private window.
func (h *House) SavedLimit() prose.Text {
	if h.SavedWords() == "" || !h.Status().Durable || h.Private != "" {
		return ""
	}
	return "In a private window: until it is closed."
}

// UndoDelete offers to bring back what was deleted last.
func (h *House) UndoDelete() app.UI {
	return ui.Live("", ui.Only(len(h.Deleted) > 0, func() app.UI {
		return ui.El("p", "undo", ui.Prose("Deleted. "), ui.Action("button plain", "Undo", h.Ledger.UndoDelete))
	}))
}

// DeleteButton deletes a record, which can be undone. It uses the record as it is
// stored at the moment of the touch, and calls done once that is written.
func (h *House) DeleteButton(ctx app.Context, label prose.Text, id string, stored func() record.Record, done func()) app.UI {
	return ui.Action("quiet", label, func() {
		r := stored()
		r.Delete(time.Now())
		h.Keep(ctx, func() {
			h.Deleted = []record.Record{r}
			done()
		}, r)
	}, id)
}
