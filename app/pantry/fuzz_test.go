package pantry_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"larderlamp/app/backup"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/rules"
	"larderlamp/rules/seeds"
)

// comesBack writes a backup, reads it again and takes it in twice: nothing of
// it may change on the way, and the second time there is nothing to do.
func comesBack(t *testing.T, b *backup.File) {
	t.Helper()
	text, err := backup.Write(*b)
	if err != nil {
		t.Fatalf("what was read cannot be written: %v", err)
	}
	back, err := backup.Read(text)
	if err != nil {
		t.Fatalf("what was written cannot be read: %v\n%s", err, text)
	}
	twice, err := backup.Write(*back)
	if err != nil || !bytes.Equal(text, twice) {
		t.Fatalf("written again it is different: %v\n%s\n%s", err, text, twice)
	}
	here := map[string]record.Record{}
	find := func(k record.Kind, id string) (record.Record, error) {
		if r, ok := here[string(k)+id]; ok {
			return r, nil
		}
		return nil, nil
	}
	for _, want := range []int{len(b.Records), 0} {
		plan, err := backup.PlanMerge(back, find)
		if err != nil {
			t.Fatalf("what was read cannot be taken in: %v\n%s", err, text)
		}
		if len(plan.Writes) != want {
			t.Fatalf("%d records would be written, want %d\n%s", len(plan.Writes), want, text)
		}
		for _, r := range plan.Writes {
			here[string(r.Kind())+r.Key()] = again(t, r)
		}
	}
}

// refused tells whether an error says what is wrong and where: in the file as
// such, or in which record and field.
func refused(err error) bool {
	places := []string{"the file is ", "the backup has version", "the edition ", "the file: written: ", "settings: ", "more than ", "and perhaps more"}
	for _, k := range record.Kinds {
		// Of several faults of one record the first says its number.
		places = append(places, string(k)+", number ", kindName(k)+" ")
	}
	return !slices.ContainsFunc(strings.Split(err.Error(), "\n"), func(line string) bool {
		return !slices.ContainsFunc(places, func(p string) bool { return strings.HasPrefix(line, p) })
	})
}

// kindName is what an error calls a record of a kind.
func kindName(k record.Kind) string {
	switch k {
	case record.Batches:
		return "batch"
	}
	return strings.TrimSuffix(string(k), "s")
}

// A backup is taken whole and comes back the same, or nothing of it is taken
// and the error names the record.
func FuzzReadBackup(f *testing.F) {
	seeds.Add(f, "backup")
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := backup.Read(text)
		switch {
		case err == nil:
			comesBack(t, b)
		case b != nil:
			t.Errorf("refused with %v, and yet there are %d records of it", err, len(b.Records))
		case !refused(err):
			t.Errorf("where is %q?", err)
		}
	})
}

// Readings are refused by line, or they are those of a place.
func FuzzReadLog(f *testing.F) {
	seeds.Add(f, "log", "sheet")
	f.Fuzz(func(t *testing.T, text []byte) {
		days, err := tables.ReadLog(text)
		if err != nil {
			for line := range strings.SplitSeq(err.Error(), "\n") {
				if !strings.HasPrefix(line, "line ") && line != "the table is empty" && line != "the file has no readings" {
					t.Errorf("which line is %q?", line)
				}
			}
			return
		}
		place, err := record.NewPlace("x", noon)
		if err != nil {
			t.Fatal(err)
		}
		place.Air = &record.Air{How: record.Days, Days: days}
		comesBack(t, &backup.File{Written: noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: []record.Record{place}})
	})
}

// Every line of a table is a batch that comes back the same, or says which
// column is wrong.
func FuzzReadBatches(f *testing.F) {
	seeds.Add(f, "batches", "sheet")
	// What the columns are called in the record.
	columns := append([]string{"count", "made", "standing", "lid_lot", "tenths_psi", "altitude_feet", "pack", "condition"}, tables.BatchColumns...)
	f.Fuzz(func(t *testing.T, text []byte) {
		rows, err := tables.ReadBatches(text, false, noon)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "line ") && err.Error() != "the table is empty" {
				t.Errorf("which line is %q?", err)
			}
			return
		}
		b := &backup.File{Written: noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}}
		for i, r := range rows {
			if r.Line < 2 || i > 0 && r.Line <= rows[i-1].Line {
				t.Fatalf("row %d is line %d", i+1, r.Line)
			}
			if r.Err == nil {
				b.Records = append(b.Records, r.Batch)
				continue
			}
			for line := range strings.SplitSeq(r.Err.Error(), "\n") {
				column, _, _ := strings.Cut(line, ": ")
				if !slices.Contains(columns, column) {
					t.Errorf("line %d: which column is %q?", r.Line, line)
				}
			}
		}
		comesBack(t, b)
	})
}
