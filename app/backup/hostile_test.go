package backup_test

import (
	"encoding/json"
	"hash/fnv"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"larderlamp/app/backup"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/rules"
)

// Whatever a field of a backup holds in place of what belongs there, the file
// is read and comes back the same, or it is refused with the record and the
// field.
func TestEveryFieldOfABackup(t *testing.T) {
	feet, at := 800, testkit.Noon
	text, err := backup.Write(backup.File{Written: testkit.Noon, Edition: rules.Edition, Records: testkit.Hostile(t, ""),
		Settings: record.Settings{Version: record.Version, Changed: testkit.Noon, AltitudeFeet: &feet, SweepMonths: 3, LastBackup: &at}})
	if err != nil {
		t.Fatal(err)
	}
	var whole map[string]any
	if err := json.Unmarshal(text, &whole); err != nil {
		t.Fatal(err)
	}
	tried, taken := 0, 0
	try := func(field string) {
		tried++
		text, err := json.Marshal(whole)
		if err != nil {
			t.Fatal(err)
		}
		b, err := backup.Read(text)
		switch {
		case err == nil:
			taken++
			testkit.CheckRoundTrip(t, b)
		case b != nil || !refused(err) && !strings.Contains(err.Error(), "not a backup"):
			t.Errorf("%s: got %v, refused with %q", field, b, err)
		case !strings.Contains(strings.ToLower(err.Error()), field):
			t.Errorf("%s: the error does not name the field: %q\n%s", field, err, text)
		}
	}
	// The field is one of the record, or of the file: places, batches and so on
	// hold records.
	var walk func(v any, field string, set func(any))
	walk = func(v any, field string, set func(any)) {
		inside := slices.Contains(record.Kinds, record.Kind(field)) || field == "settings"
		for _, odd := range []any{nil, true, -1, 0, 1e99, 1.5, "", "x", "\u202e\x00", "2025-08-31", "0000-01-01T00:00:00+23:59", "9999-12-31T23:59:59-23:59", []any{}, []any{nil}, map[string]any{}, map[string]any{"\u202e": 1}} {
			set(odd)
			try(field)
		}
		set(v)
		switch v := v.(type) {
		case map[string]any:
			for _, name := range slices.Sorted(maps.Keys(v)) {
				inner := field
				if inside {
					inner = name
				}
				walk(v[name], inner, func(odd any) { v[name] = odd })
			}
		case []any:
			for i := range v {
				walk(v[i], field, func(odd any) { v[i] = odd })
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(whole)) {
		walk(whole[name], name, func(odd any) { whole[name] = odd })
	}
	if taken == 0 || taken > tried/2 {
		t.Errorf("of %d files %d were accepted: the test proves nothing", tried, taken)
	}
}

// A record that claims to have replaced itself could never be merged again, and
// a version set aside that does not belong to its record could come back in its
// place: both are refused.
func TestHistoriesThatCannotBe(t *testing.T) {
	place, err := record.NewPlace("Cellar", testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	file := func() string {
		text, err := backup.Write(backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: []record.Record{place}})
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	other, err := record.NewPlace("Elsewhere", testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	place.Aside = []json.RawMessage{testkit.Encoded(t, other)}
	if _, err := backup.Read([]byte(file())); err == nil || !strings.Contains(err.Error(), "aside: 1: it is not a version of this record") {
		t.Errorf("a version of another record: got error %v", err)
	}
	place.Aside = nil
	sum := fnv.New64a()
	sum.Write(testkit.Encoded(t, place))
	place.Past = []string{strconv.FormatUint(sum.Sum64(), 36)}
	if _, err := backup.Read([]byte(file())); err == nil || !strings.Contains(err.Error(), "past: it names this version itself") {
		t.Errorf("a version that replaced itself: got error %v", err)
	}
}
