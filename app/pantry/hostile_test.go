package pantry_test

import (
	"encoding/csv"
	"encoding/json"
	"hash/fnv"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"larderlamp/app/backup"
	"larderlamp/app/hostile"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/rules"
)

func household(t testing.TB, texts ...string) []record.Record {
	t.Helper()
	records, err := hostile.Household(noon, texts...)
	if err != nil {
		t.Fatal(err)
	}
	return records
}

// wordsOfPeople are the fields that take any words: what a person can type, and
// the name of a table, which is never shown.
var wordsOfPeople = []string{
	"batches: lid_lot", "batches: notes", "batches: recipe_from", "batches: table", "batches: title",
	"checks: label", "jars: events: words", "places: name", "places: notes", "trips: name",
}

// No text field of any record takes a character that steers what shows it, and
// the refusal names the field and the character. Every other field than those a
// person can type in refuses markup too.
func TestEveryTextFieldRefusesControl(t *testing.T) {
	whole := map[reflect.Type]bool{}
	taken := map[string]bool{}
	for _, r := range household(t, "") {
		if empty := hostile.Empty(r); len(empty) > 0 {
			t.Errorf("%s: nothing would be found in %q", r.Kind(), empty)
		}
		whole[reflect.TypeOf(r)] = true
		for _, f := range hostile.Fields(r) {
			was := f.Get()
			for _, m := range hostile.Marks {
				for _, text := range []string{m, "a" + m + "b"} {
					f.Set(text)
					field, _, _ := strings.Cut(f.Name, ": ")
					if err := r.Validate(); err == nil {
						t.Errorf("%s: %s may be %q", r.Kind(), f.Name, text)
					} else if !strings.Contains(err.Error(), strings.Trim(strconv.Quote(r.Key()), `"`)) || !strings.Contains(err.Error(), field) {
						t.Errorf("%s: %s: %q is refused with %q", r.Kind(), f.Name, text, err)
					} else if strings.ContainsAny(err.Error(), "\x00\x1b\u202e\u2066") {
						t.Errorf("%s: %s: the refusal itself misleads: %q", r.Kind(), f.Name, err)
					}
				}
			}
			f.Set(was)
		}
		for _, field := range hostile.Fill(r, hostile.Texts[0]) {
			parts := strings.Split(field, ": ")
			parts = slices.DeleteFunc(parts, func(p string) bool { return strings.Trim(p, "0123456789") == "" })
			taken[strings.Join(parts, ": ")] = true
		}
	}
	for _, k := range record.Kinds {
		if r, err := record.Decode(k, []byte("{}")); err == nil || !whole[reflect.TypeOf(r)] {
			t.Errorf("the household has no record of the kind %s", k)
		}
	}
	var got []string
	for field := range taken {
		got = append(got, field)
	}
	if slices.Sort(got); !slices.Equal(got, wordsOfPeople) {
		t.Errorf("words are taken by %q, want %q", got, wordsOfPeople)
	}
}

// Whatever a person may type comes back the same from a backup, begins no
// formula in a table, and leaves no property of a calendar.
func TestHostileWordsInFiles(t *testing.T) {
	records := household(t, hostile.Texts...)
	whole := &backup.File{Written: noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: records}
	comesBack(t, whole)
	p := pantry.New()
	for _, r := range records {
		p.Put(r)
	}
	for name, table := range map[string][]byte{"jars": tables.Jars(p, noon), "checks": tables.Checks(records)} {
		rows, err := csv.NewReader(strings.NewReader(string(table))).ReadAll()
		if err != nil || len(rows) != 1+len(hostile.Texts) {
			t.Errorf("%s: %d rows, %v", name, len(rows), err)
		}
		for _, row := range rows {
			for _, c := range row {
				if c != "" && strings.ContainsAny(c[:1], "=+-@\t\r\n") {
					t.Errorf("%s: %q begins as a formula", name, c)
				}
			}
		}
	}
	dates, err := tables.Calendar(p, noon)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.SplitSeq(strings.ReplaceAll(string(dates), "\r\n ", ""), "\r\n") {
		name, _, _ := strings.Cut(line, ":")
		name, _, _ = strings.Cut(name, ";")
		if !slices.Contains([]string{"", "BEGIN", "END", "VERSION", "PRODID", "CALSCALE", "UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "RRULE", "TRANSP"}, name) {
			t.Errorf("%q begins a property of its own", line)
		}
	}
	if n := strings.Count(string(dates), "\nBEGIN:VEVENT\r"); n != 1+len(hostile.Texts) {
		t.Errorf("%d dates for the sweep and %d batches", n, len(hostile.Texts))
	}
}

// Whatever stands in one field of a backup instead of what belongs there, the
// file is taken and comes back the same, or it is refused with the record and
// the field.
func TestEveryFieldOfABackup(t *testing.T) {
	feet, at := 800, noon
	text, err := backup.Write(backup.File{Written: noon, Edition: rules.Edition, Records: household(t, ""),
		Settings: record.Settings{Version: record.Version, Changed: noon, AltitudeFeet: &feet, SweepMonths: 3, LastBackup: &at}})
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
			comesBack(t, b)
		case b != nil || !refused(err) && !strings.Contains(err.Error(), "not a backup"):
			t.Errorf("%s: %v, refused with %q", field, b, err)
		case !strings.Contains(strings.ToLower(err.Error()), field):
			t.Errorf("%s: the refusal does not name it: %q\n%s", field, err, text)
		}
	}
	// The field is that of the record, or of the file: places, batches and so on
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
		t.Errorf("of %d files %d are taken: the test shows nothing", tried, taken)
	}
}

// A record that claims to have replaced itself could never be merged again, and
// a version set aside that is none of its record could come back as it: both are
// refused.
func TestHistoriesThatCannotBe(t *testing.T) {
	place, err := record.NewPlace("Cellar", noon)
	if err != nil {
		t.Fatal(err)
	}
	file := func() string {
		text, err := backup.Write(backup.File{Written: noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: []record.Record{place}})
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	other, err := record.NewPlace("Elsewhere", noon)
	if err != nil {
		t.Fatal(err)
	}
	place.Aside = []json.RawMessage{must(t, other)}
	if _, err := backup.Read([]byte(file())); err == nil || !strings.Contains(err.Error(), "aside: 1: it is not a version of this record") {
		t.Errorf("the version of another record: %v", err)
	}
	place.Aside = nil
	sum := fnv.New64a()
	sum.Write(must(t, place))
	place.Past = []string{strconv.FormatUint(sum.Sum64(), 36)}
	if _, err := backup.Read([]byte(file())); err == nil || !strings.Contains(err.Error(), "past: it names this version itself") {
		t.Errorf("a version that replaced itself: %v", err)
	}
}
