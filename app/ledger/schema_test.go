package ledger

import (
	"slices"
	"testing"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

// The schema has each kind of record once, and nothing besides but the settings
// and what is known of a shared shelf.
func TestSchemaHoldsTheKindsOfTheRecords(t *testing.T) {
	want := []store.Kind{store.KindSettings, store.KindShared}
	for _, kind := range record.Kinds {
		want = append(want, store.Kind(kind))
	}
	var got []store.Kind
	for _, step := range store.Steps {
		got = append(got, step...)
	}
	slices.Sort(want)
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("got the kinds %v in the schema, want %v", got, want)
	}
}
