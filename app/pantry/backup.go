package pantry

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"larderlamp/rules/locale"
	"larderlamp/rules/order"
)

// Format names a backup file of this program.
const Format = "larderlamp-backup"

// FileVersion is the version of the form of a backup. Version 3 added the trips.
const FileVersion = 3

// The limits of a file that is read. A household keeps far less.
const (
	MostFileBytes = 1 << 30
	mostRecords   = 200000
)

// Backup is a whole pantry in one file.
type Backup struct {
	Written  time.Time
	Edition  string
	Settings Settings
	Records  []Record
}

// Writer writes a backup record by record: a household with many photos has more
// to write than a phone can hold at once. The form is that of
// testdata/backup.schema.json.
type Writer struct {
	w    io.Writer
	kind int // in Kinds, of the list that is open; -1 before the first
	some bool
}

// NewWriter begins a backup; its records are left out.
func NewWriter(w io.Writer, b *Backup) (*Writer, error) {
	settings, err := b.Settings.Encode()
	if err != nil {
		return nil, err
	}
	written, err := json.Marshal(b.Written.UTC().Truncate(time.Second))
	if err != nil {
		return nil, err
	}
	edition, err := json.Marshal(b.Edition) // of the rules
	if err != nil {
		return nil, err
	}
	_, err = fmt.Fprintf(w, "{\"format\":%q,\"version\":%d,\"written\":%s,\"edition\":%s,\n\"settings\":%s", Format, FileVersion, written, edition, settings)
	return &Writer{w, -1, false}, err
}

// Add writes a record. Kinds come in the order of [Kinds].
func (b *Writer) Add(r Record) error {
	text, err := r.Encode()
	if err != nil {
		return err
	}
	kind := slices.Index(Kinds, r.Kind())
	if kind < b.kind {
		return fmt.Errorf("%s %s: comes after %s", r.Kind(), r.Key(), Kinds[b.kind])
	}
	if err := b.open(kind); err != nil {
		return err
	}
	between := ",\n"
	if !b.some {
		between = "\n"
	}
	b.some = true
	if _, err := io.WriteString(b.w, between); err != nil {
		return err
	}
	_, err = b.w.Write(text)
	return err
}

// open ends the lists before a kind and begins its own.
func (b *Writer) open(kind int) error {
	for b.kind < kind {
		end := "]"
		if b.kind < 0 {
			end = ""
		}
		b.kind++
		b.some = false
		if _, err := fmt.Fprintf(b.w, "%s,\n%q:[", end, Kinds[b.kind]); err != nil {
			return err
		}
	}
	return nil
}

// Close ends the backup. Without it the file is cut off, and refused.
func (b *Writer) Close() error {
	if err := b.open(len(Kinds) - 1); err != nil {
		return err
	}
	_, err := io.WriteString(b.w, "]}\n")
	return err
}

// WriteBackup writes a backup. The same pantry always gives the same bytes.
func WriteBackup(b Backup) ([]byte, error) {
	var file bytes.Buffer
	w, err := NewWriter(&file, &b)
	if err != nil {
		return nil, err
	}
	records := slices.Clone(b.Records)
	order.By(records, func(x, y *Record) bool {
		i, j := slices.Index(Kinds, (*x).Kind()), slices.Index(Kinds, (*y).Kind())
		return cmp.Or(cmp.Compare(i, j), cmp.Compare((*x).Key(), (*y).Key())) < 0
	})
	for _, r := range records {
		if err := w.Add(r); err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return file.Bytes(), nil
}

// ReadBackup reads a backup, and every record in it, or tells what is wrong by
// record and field. Nothing of a file with a fault is taken.
func ReadBackup(text []byte) (*Backup, error) {
	var records []Record
	b, err := ScanBackup(bytes.NewReader(text), func(r Record) error {
		records = append(records, r)
		return nil
	})
	if err != nil {
		return nil, err
	}
	// The kinds in their order, whatever that of the file.
	order.By(records, func(x, y *Record) bool {
		return slices.Index(Kinds, (*x).Kind()) < slices.Index(Kinds, (*y).Kind())
	})
	b.Records = records
	return b, nil
}

// counted counts what is read.
type counted struct {
	r io.Reader
	n int64
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	return n, err
}

// scan is a backup that is being read.
type scan struct {
	from   *counted
	d      *json.Decoder
	backup *Backup
	each   func(Record) error
	seen   map[string]bool // fields of the file
	wrong  []error
	number int // of records
	seems  string
}

// NotBackup says that a file is no backup, and what it seems to be instead.
type NotBackup struct {
	seems string
	err   error
}

// Error implements error.
func (e *NotBackup) Error() string {
	return "the file is not a backup of this program: " + e.err.Error()
}

// Unwrap gives what was wrong first, with its place.
func (e *NotBackup) Unwrap() error { return e.err }

// What a file can seem to be.
const (
	seemsTable    = "table"
	seemsCalendar = "calendar"
	seemsPicture  = "picture"
	seemsPages    = "pages"
	seemsPacked   = "packed"
	seemsEmpty    = "empty"
	seemsJSON     = "json"
	seemsCut      = "cut"
)

// seemsWords say it to a person, and what to do.
var seemsWords = map[string]string{
	seemsTable:    "This is a table, not a backup. A table of batches goes in at “Enter many at once”; a logger's file goes to its place.",
	seemsCalendar: "This is a calendar, not a backup. Open it with the calendar of your phone or computer.",
	seemsPicture:  "This is a picture, not a backup.",
	seemsPages:    "This is a document, not a backup.",
	seemsPacked:   "This is a packed (zip) file. Unpack it first, and choose the .json file in it.",
	seemsEmpty:    "This file is empty. Copy the backup once more from where it was saved.",
	seemsJSON:     "This is a file of another program, not a backup of this guide.",
	seemsCut:      "This backup is cut off: its end is missing. Copy it once more from where it was saved.",
	"":            "This is not a backup of this guide. A backup is the .json file that “Save a backup” has written.",
}

// Plain says it in words for a person.
func (e *NotBackup) Plain() string { return locale.Text(seemsWords[e.seems]) }

// seems tells from its beginning what a file may be.
func seems(head []byte) string {
	text := strings.TrimSpace(string(bytes.TrimPrefix(head, []byte("\ufeff"))))
	line, _, _ := strings.Cut(text, "\n")
	switch {
	case text == "":
		return seemsEmpty
	case strings.HasPrefix(text, "BEGIN:VCALENDAR"):
		return seemsCalendar
	case strings.HasPrefix(text, "\xff\xd8"), strings.HasPrefix(text, "\x89PNG"), strings.HasPrefix(text, "GIF8"), strings.HasPrefix(text, "RIFF"), strings.Contains(line[:min(len(line), 12)], "ftyp"):
		return seemsPicture
	case strings.HasPrefix(text, "%PDF"), strings.HasPrefix(text, "<"):
		return seemsPages
	case strings.HasPrefix(text, "PK\x03\x04"), strings.HasPrefix(text, "\x1f\x8b"):
		return seemsPacked
	case text[0] == '{', text[0] == '[':
		return seemsJSON
	case strings.Count(line, ",") > 1, strings.Count(line, ";") > 1, strings.Count(line, "\t") > 1:
		return seemsTable
	}
	return ""
}

// errEnough ends the reading of a file with very many faults.
var errEnough = errors.New("and perhaps more")

// ScanBackup reads a backup record by record and calls each with every record, in
// the order of the file. When it gives an error, nothing may be taken of what
// each was called with.
func ScanBackup(r io.Reader, each func(Record) error) (*Backup, error) {
	from := &counted{r: r}
	buffered := bufio.NewReader(from)
	if mark, err := buffered.Peek(3); err == nil && string(mark) == "\ufeff" {
		if _, err := buffered.Discard(3); err != nil {
			return nil, err
		}
	}
	// What it is by its beginning; an error shows again when the file is read.
	head, _ := buffered.Peek(512)
	s := &scan{from: from, d: json.NewDecoder(buffered), backup: &Backup{}, each: each, seen: map[string]bool{}, seems: seems(head)}
	err := s.file()
	switch {
	case errors.Is(err, errEnough):
		return nil, errors.Join(append(s.wrong, err)...)
	case err != nil:
		return nil, err
	case len(s.wrong) > 0:
		return nil, errors.Join(s.wrong...)
	}
	return s.backup, nil
}

// unlike says that the file is no backup.
func (s *scan) unlike(err error) error {
	syntax, bad := errors.AsType[*json.SyntaxError](err)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		what := seemsCut
		if s.seems == seemsEmpty {
			what = seemsEmpty
		}
		return &NotBackup{what, fmt.Errorf("it is cut off at byte %d: %w", s.from.n, err)}
	case bad:
		return &NotBackup{s.seems, fmt.Errorf("byte %d: %w", syntax.Offset, err)}
	}
	return &NotBackup{s.seems, err}
}

// token reads one mark of punctuation.
func (s *scan) token(want json.Delim) error {
	t, err := s.d.Token()
	if err != nil {
		return s.unlike(err)
	}
	if t != want {
		return s.unlike(fmt.Errorf("byte %d: %v, want %v", s.d.InputOffset(), t, want))
	}
	return nil
}

// file reads the file field by field.
func (s *scan) file() error {
	if err := s.token('{'); err != nil {
		return err
	}
	for s.d.More() {
		t, err := s.d.Token()
		if err != nil {
			return s.unlike(err)
		}
		field, _ := t.(string)
		if s.seen[field] {
			return s.unlike(fmt.Errorf("%s: it stands there twice", strconv.Quote(field)))
		}
		s.seen[field] = true
		if slices.Contains(Kinds, Kind(field)) {
			err = s.records(Kind(field))
		} else {
			err = s.field(field)
		}
		if err != nil {
			return err
		}
	}
	if err := s.token('}'); err != nil {
		return err
	}
	if _, err := s.d.Token(); err != io.EOF {
		return s.unlike(errors.New("something follows it"))
	}
	for _, field := range []string{"format", "version", "written", "edition", "settings"} {
		if !s.seen[field] {
			return s.unlike(fmt.Errorf("it has no %s", field))
		}
	}
	return nil
}

// field reads what is not a list of records.
func (s *scan) field(field string) error {
	b := s.backup
	into := func(v any) error {
		if err := s.d.Decode(v); err != nil {
			return s.unlike(fmt.Errorf("%s: %w", field, err))
		}
		return nil
	}
	switch field {
	case "format":
		var format string
		if err := into(&format); err != nil {
			return err
		}
		if format != Format {
			return s.unlike(fmt.Errorf("format %q, want %q", format, Format))
		}
	case "version":
		var version int
		if err := into(&version); err != nil {
			return err
		}
		if version > FileVersion || version < 2 {
			return fmt.Errorf("the backup has version %d, this program reads 2 to %d; a newer edition may read it", version, FileVersion)
		}
	case "written":
		if err := into(&b.Written); err != nil {
			return err
		}
		b.Written = b.Written.UTC()
		return CheckTime("the file", "written", b.Written)
	case "edition":
		if err := into(&b.Edition); err != nil {
			return err
		}
		if !name(b.Edition) {
			return fmt.Errorf("the edition %q is not a name", b.Edition)
		}
	case "settings":
		var text json.RawMessage
		if err := into(&text); err != nil {
			return err
		}
		var err error
		b.Settings, err = DecodeSettings(text)
		return err
	default:
		return s.unlike(fmt.Errorf("there is no field %s", strconv.Quote(field)))
	}
	return nil
}

// records reads the list of a kind.
func (s *scan) records(k Kind) error {
	t, err := s.d.Token()
	if err != nil {
		return s.unlike(err)
	}
	if t == nil { // null, for none
		return nil
	}
	if t != json.Delim('[') {
		return s.unlike(fmt.Errorf("%s: %v is no list", k, t))
	}
	seen := map[string]int{}
	var text json.RawMessage // the same memory for every record
	for i := 1; s.d.More(); i++ {
		text = text[:0]
		if err := s.d.Decode(&text); err != nil {
			return s.unlike(err)
		}
		if s.number++; s.number > mostRecords {
			return fmt.Errorf("more than %d records", mostRecords)
		}
		// A record keeps the text that it was read from.
		r, err := Decode(k, bytes.Clone(text))
		if err == nil {
			err = Replaced(r)
			if at, twice := seen[r.Key()]; twice {
				err = fmt.Errorf("id %s is also that of number %d", r.Key(), at)
			}
			seen[r.Key()] = i
		}
		if err != nil {
			s.wrong = append(s.wrong, fmt.Errorf("%s, number %d: %w", k, i, err))
			if len(s.wrong) == 20 {
				return errEnough
			}
			continue
		}
		if len(s.wrong) > 0 {
			continue
		}
		if err := s.each(r); err != nil {
			return err
		}
	}
	return s.token(']')
}

// Plan is what taking in a backup would change.
type Plan struct {
	Added, Changed, Same map[Kind]int
	Aside                map[Kind]int // records of which two versions were made apart
	Writes               []Record     // all that has to be written, or nothing; see [PlanMerge]
}

// NewPlan is a plan before the first record.
func NewPlan() *Plan {
	return &Plan{Added: map[Kind]int{}, Changed: map[Kind]int{}, Same: map[Kind]int{}, Aside: map[Kind]int{}}
}

// Count is how many records would be written.
func (p *Plan) Count() (n int) {
	for _, k := range Kinds {
		n += p.Added[k] + p.Changed[k]
	}
	return
}

// Take puts a record of a backup together with the one that is here, or nil, and
// gives what has to be written, or nil.
func (p *Plan) Take(r, here Record) (Record, error) {
	k := r.Kind()
	if here == nil {
		p.Added[k]++
		return r, nil
	}
	merged, err := Merge(here, r)
	if err != nil {
		return nil, err
	}
	was, err := here.Encode()
	if err != nil {
		return nil, err
	}
	now, err := merged.Encode()
	if err != nil {
		return nil, err
	}
	if bytes.Equal(was, now) {
		p.Same[k]++
		return nil, nil
	}
	p.Changed[k]++
	if SetAside(merged) > SetAside(here) {
		p.Aside[k]++
	}
	return merged, nil
}

// PlanMerge puts a backup together with what is here. find gives the record of
// a kind and id that is here, or nil.
func PlanMerge(b *Backup, find func(Kind, string) (Record, error)) (*Plan, error) {
	p := NewPlan()
	for _, r := range b.Records {
		here, err := find(r.Kind(), r.Key())
		if err != nil {
			return nil, err
		}
		write, err := p.Take(r, here)
		if err != nil {
			return nil, err
		}
		if write != nil {
			p.Writes = append(p.Writes, write)
		}
	}
	return p, nil
}
