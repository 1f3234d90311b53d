package app_test

import (
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/wrong"
	"larderlamp/rules"
)

// Whatever a record's references lead to, no jar whose batch is not recorded
// may be kept, and each can be checked, listed and put in a calendar.
func TestReferencesPutWrong(t *testing.T) {
	wrong.References(t, func(t testing.TB, h *wrong.Imported) {
		now := time.Now()
		for _, j := range h.Shelf.Jars {
			if v := h.Shelf.Judge(j, now); h.Shelf.Batches[j.Batch] == nil && v.Basis.Stage != record.IsGone && v.Highest != rules.Discard {
				t.Errorf("jar %s without a batch: got %v", j.ID, v.Highest)
			}
			if _, err := h.Shelf.NewCheckOf(j, now, nil); err != nil {
				t.Errorf("starting a check of jar %s: got error %v", j.ID, err)
			}
		}
		if len(tables.Jars(h.Shelf.Pantry, now, nil)) == 0 || len(tables.Checks(h.File, nil)) == 0 {
			t.Error("no tables")
		}
		if _, err := tables.Calendar(h.Shelf.Pantry, now, nil); err != nil {
			t.Error(err)
		}
	})
}
