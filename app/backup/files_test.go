package backup_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"larderlamp/app/backup"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/testkit"
	"larderlamp/rules"
)

// The jars of the demo are real records: a backup of them comes back byte for
// byte, and importing it twice changes nothing.
func TestBackupComesBack(t *testing.T) {
	records := testkit.Demo(t)
	text, err := backup.Write(backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: testkit.Noon}, Records: records})
	if err != nil {
		t.Fatal(err)
	}
	b, err := backup.Read(text)
	if err != nil {
		t.Fatal(err)
	}
	second, err := backup.Write(*b)
	if err != nil || !bytes.Equal(text, second) {
		t.Fatalf("reading the backup changes it: %v", err)
	}
	here := map[string]record.Record{}
	find := func(k record.Kind, id string) (record.Record, error) {
		if r, ok := here[string(k)+id]; ok {
			return r, nil
		}
		return nil, nil
	}
	p, err := backup.PlanMerge(b, find)
	if err != nil || len(p.Writes) != len(records) || p.Added[record.Jars] == 0 {
		t.Fatalf("got %+v, %v", p, err)
	}
	for _, r := range p.Writes {
		here[string(r.Kind())+r.Key()] = r
	}
	if p, err = backup.PlanMerge(b, find); err != nil || len(p.Writes) != 0 {
		t.Fatalf("imported a second time: got %d changed records, %v; want none", len(p.Writes), err)
	}
	if p.Gone != 0 {
		t.Errorf("got %d records that were deleted here, want none", p.Gone)
	}
	// What is deleted here stays deleted, and is counted: the file does not have it back.
	deleted := 0
	for key, r := range here {
		if j, ok := testkit.ReadBack(t, r).(*record.Jar); ok && deleted < 5 {
			j.Delete(testkit.Noon.AddDate(0, 0, 1))
			here[key] = testkit.ReadBack(t, j)
			deleted++
		}
	}
	if b, err = backup.Read(text); err != nil {
		t.Fatal(err)
	}
	if p, err = backup.PlanMerge(b, find); err != nil || len(p.Writes) != 0 || p.Gone != deleted {
		t.Errorf("deleted here: got %d changed and %d deleted records, %v; want none and %d", len(p.Writes), p.Gone, err, deleted)
	}
}

// A file with a fault is refused as a whole, with a message that says where the
// fault is.
func TestBadBackupsAreRefused(t *testing.T) {
	good, err := backup.Write(backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: testkit.Noon}, Records: testkit.Demo(t)[:40]})
	if err != nil {
		t.Fatal(err)
	}
	replace := func(old, with string) string {
		s := strings.Replace(string(good), old, with, 1)
		if s == string(good) {
			t.Fatalf("%q is not in the backup", old)
		}
		return s
	}
	for name, c := range map[string]struct{ text, want string }{
		"empty":           {"", "cut off"},
		"cut off":         {string(good[:len(good)/2]), "cut off"},
		"not JSON":        {"Dear sister, ", "byte 1"},
		"another program": {replace(`"larderlamp-backup"`, `"other"`), "format"},
		"another version": {replace(`"version":3`, `"version":9`), "version 9"},
		"two backups":     {string(good) + string(good), "follows"},
		"unknown field":   {replace(`"edition"`, `"color":1,"edition"`), "color"},
		"a jar at fault":  {replace(`"number":1`, `"number":-1`), "number"},
		"a huge number":   {replace(`"number":1`, `"number":1e99`), "number"},
		"an id twice":     {replace(`"batches":[`, `"batches":[`+testkit.First(t, good, "batches")+`,`), "is also that of"},
		"deep nesting":    {replace(`"photos":[]`, `"photos":[`+strings.Repeat("[", 20000)+strings.Repeat("]", 20000)+`]`), "depth"},
		"markup is no id": {replace(`"batch":"`, `"batch":"<script>`), "batch"},
		"null for a list": {replace(`"photos":[]`, `"photos":[null]`), "photos, number 1"},
	} {
		b, err := backup.Read([]byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v", name, err)
		}
		_ = b
	}
}

// A file that is not a backup is called what it is, in words that do not
// mention bytes or characters, and the message says what to do.
func TestWrongFilesAreNamed(t *testing.T) {
	good, err := backup.Write(backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: testkit.Noon}, Records: testkit.Demo(t)[:40]})
	if err != nil {
		t.Fatal(err)
	}
	p := pantry.New()
	for _, r := range testkit.Demo(t) {
		p.Put(r)
	}
	dates, err := tables.Calendar(p, testkit.Noon, nil)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"": "empty", " \n": "empty",
		string(tables.Jars(p, testkit.Noon, nil)):       "a table",
		"product;date;jars\npeaches;1 May 2026;7\n":     "a table",
		"product\tdate\tjars\npeaches\t1 May 2026\t7\n": "a table",
		string(dates):                         "a calendar",
		"\xff\xd8\xff\xe0\x00\x10JFIF":        "a picture",
		"\x89PNG\r\n\x1a\n":                   "a picture",
		"\x00\x00\x00\x18ftypheic":            "a picture",
		"%PDF-1.7\n":                          "a document",
		"<!doctype html><p>x":                 "a document",
		"PK\x03\x04....":                      "packed",
		`{"name":"x"}`:                        "another program",
		`[1,2]`:                               "another program",
		"Dear sister, it rains.":              "not a backup",
		string(good[:len(good)/2]):            "cut off",
		"\ufeff" + string(good[:len(good)-3]): "cut off",
	} {
		_, err := backup.Read([]byte(text))
		wrong, ok := errors.AsType[*backup.NotBackup](err)
		if !ok {
			t.Errorf("got %.30q: %v", text, err)
			continue
		}
		if says := wrong.Plain(); !strings.Contains(says.String(), want) || strings.Contains(says.String(), "byte") || strings.Contains(says.String(), "character") {
			t.Errorf("got %.30q: %s", text, says)
		}
	}
}
