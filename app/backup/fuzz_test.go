package backup_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/app/backup"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/rules/seeds"
)

// refused reports whether an error says what is wrong and where: in the file
// itself, or in which record and field.
func refused(err error) bool {
	places := []string{"the file is ", "the backup has version", "the edition ", "the file: written: ", "settings: ", "more than ", "and perhaps more"}
	for _, k := range record.Kinds {
		// When a record has several faults, only the first line has its number.
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

// A backup is imported whole and comes back the same, or nothing of it is
// imported and the error names the record.
func FuzzReadBackup(f *testing.F) {
	seeds.Add(f, "backup")
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := backup.Read(text)
		switch {
		case err == nil:
			testkit.CheckRoundTrip(t, b)
		case b != nil:
			t.Errorf("refused with %v, but got %d records from it", err, len(b.Records))
		case !refused(err):
			t.Errorf("the error does not say where: %q", err)
		}
	})
}
