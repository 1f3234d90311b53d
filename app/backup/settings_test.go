package backup_test

import (
	"testing"

	"larderlamp/app/backup"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/rules"
)

// A batch without an altitude of its own is judged the same on another device as on the
// one that wrote the file, and reading the file twice changes nothing the second time.
func TestBatchesOfAFileKeepTheirAltitude(t *testing.T) {
	low, high := 999, 5999
	food, _ := rules.ProductByID("peaches")
	for _, here := range []record.Settings{{}, {AltitudeFeet: &low}, {AltitudeFeet: &high}} {
		for _, file := range []record.Settings{{}, {AltitudeFeet: &low}, {AltitudeFeet: &high}} {
			b := testkit.ByTheBook(t, food)
			b.Feet = nil
			before := b.Process(file.AltitudeFeet).Possible
			text, err := b.Encode()
			if err != nil {
				t.Fatal(err)
			}
			read, err := record.Decode(record.Batches, text)
			if err != nil {
				t.Fatal(err)
			}
			took := read.(*record.Batch)
			bound := took.Bind(&file, &here, testkit.Evening)
			if got := took.Process(here.AltitudeFeet).Possible; file.AltitudeFeet != nil && got != before {
				t.Errorf("from %v to %v: got %s, before it was %s", file.AltitudeFeet, here.AltitudeFeet, got, before)
			}
			if !bound {
				continue
			}
			stored, err := took.Encode()
			if err != nil {
				t.Fatal(err)
			}
			there, err := record.Decode(record.Batches, stored)
			if err != nil {
				t.Fatal(err)
			}
			again, err := record.Decode(record.Batches, text)
			if err != nil {
				t.Fatal(err)
			}
			plan := backup.NewPlan()
			if write, err := plan.Take(again, there); err != nil || write != nil {
				t.Errorf("the same file again: got writes %v, %v; want none", write, err)
			}
		}
	}
}
