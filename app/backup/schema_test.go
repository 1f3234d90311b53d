//go:build !js

// A browser has no file system to read the schema from.

package backup_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"larderlamp/app/backup"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/rules"
)

// schema compiles the published schema of a backup.
func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	s, err := jsonschema.NewCompiler().Compile("../../testdata/backup.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func parse(t *testing.T, text []byte) any {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// An independent validator confirms that every backup follows the schema: the
// demo, and records of every kind that were changed, deleted and merged.
func TestBackupsFollowTheSchema(t *testing.T) {
	s, r := schema(t), rand.New(rand.NewPCG(13, 14))
	feet := 800
	at := testkit.Noon.Truncate(time.Second)
	for n := range 60 {
		records := testkit.Demo(t)
		if n > 0 {
			records = nil
			for range 5 {
				for _, rec := range testkit.EveryKind(t, r) {
					a, b := testkit.Change(t, rec, r), testkit.Change(t, rec, r)
					records = append(records, testkit.Merge(t, a, b))
				}
			}
		}
		text, err := backup.Write(backup.File{Written: testkit.Noon, Edition: rules.Edition, Records: records,
			Settings: record.Settings{Version: record.Version, Changed: testkit.Noon, AltitudeFeet: &feet, SweepMonths: 3, Fahrenheit: true, LastBackup: &at}})
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(parse(t, text)); err != nil {
			t.Fatalf("got %v", err)
		}
	}
}

// The schema is not so loose that it lets anything pass: when a required field
// is removed from a record, or an unknown one is added, both the schema and the
// reader refuse it.
func TestTheSchemaIsStrict(t *testing.T) {
	s := schema(t)
	records := testkit.EveryKind(t, rand.New(rand.NewPCG(15, 16)))
	text, err := backup.Write(backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: testkit.Noon}, Records: records})
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range record.Kinds {
		first := func(whole any) map[string]any {
			return whole.(map[string]any)[string(kind)].([]any)[0].(map[string]any)
		}
		for field := range first(parse(t, text)) {
			spoilt := parse(t, text)
			first(spoilt)[field] = map[string]any{"x": "y"}
			if s.Validate(spoilt) == nil {
				t.Errorf("%s: %s may be anything", kind, field)
			}
			back, err := json.Marshal(spoilt)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := backup.Read(back); err == nil {
				t.Errorf("%s: the reader accepts anything for %s", kind, field)
			}
		}
		spoilt := parse(t, text)
		first(spoilt)["color"] = 1
		if s.Validate(spoilt) == nil {
			t.Errorf("%s: an unknown field was accepted", kind)
		}
	}
}

// A backup of the version before has no trips, and can be read.
func TestBackupOfTheVersionBefore(t *testing.T) {
	text, err := backup.Write(backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: testkit.Noon}, Records: testkit.EveryKind(t, rand.New(rand.NewPCG(17, 18)))[:6]})
	if err != nil {
		t.Fatal(err)
	}
	old := parse(t, text).(map[string]any)
	delete(old, "trips")
	old["version"] = 2
	back, err := json.Marshal(old)
	if err != nil {
		t.Fatal(err)
	}
	b, err := backup.Read(back)
	if err != nil || len(b.Records) != 6 {
		t.Errorf("got %+v, %v", b, err)
	}
}

// A backup of an edition that wrote the fields of a trip in British spelling follows
// the schema and can be read; for one with both spellings, neither is true.
func TestBackupWithOldKeysOfTrips(t *testing.T) {
	s := schema(t)
	records := testkit.EveryKind(t, rand.New(rand.NewPCG(19, 20)))
	trip := records[6].(*record.Trip)
	trip.Liters, trip.Space = 28, 5000
	text, err := backup.Write(backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: testkit.Noon}, Records: records})
	if err != nil {
		t.Fatal(err)
	}
	for now, before := range map[string]string{`"liters":`: `"litres":`, `"most_milliliters":`: `"most_millilitres":`} {
		old := bytes.Replace(text, []byte(now), []byte(before), 1)
		if err := s.Validate(parse(t, old)); err != nil || bytes.Equal(old, text) {
			t.Errorf("%s: got %v", before, err)
		}
		b, err := backup.Read(old)
		if err != nil || b.Records[6].(*record.Trip).Liters != 28 || b.Records[6].(*record.Trip).Space != 5000 {
			t.Errorf("%s: got %+v, %v", before, b, err)
		}
		both := bytes.Replace(text, []byte(now), []byte(before+"40,"+now), 1)
		if s.Validate(parse(t, both)) == nil {
			t.Errorf("%s and the new key together pass the schema", before)
		}
		if _, err := backup.Read(both); err == nil {
			t.Errorf("%s and the new key together are accepted", before)
		}
	}
}

// static/later/rescue.js writes a backup when the program does not run, so it says
// for itself which kinds there are, in which order, and which versions.
func TestRescueWritesThisFormat(t *testing.T) {
	script, err := os.ReadFile("../../static/later/rescue.js")
	if err != nil {
		t.Fatal(err)
	}
	var quoted []string
	for _, kind := range record.Kinds {
		quoted = append(quoted, fmt.Sprintf("%q", kind))
	}
	for what, want := range map[string]string{
		"the kinds":               "const kinds = [" + strings.Join(quoted, ", ") + "];",
		"the form":                fmt.Sprintf(`{"format":%q,"version":%d,`, backup.Format, backup.FileVersion),
		"the row of the settings": fmt.Sprintf(`store("settings").get(%q)`, record.SettingsID),
		"the version of settings": fmt.Sprintf(`JSON.stringify({ version: %d,`, record.Version),
	} {
		if n := strings.Count(string(script), want); n != 1 {
			t.Errorf("%s: got %d times %s, want once", what, n, want)
		}
	}
}
