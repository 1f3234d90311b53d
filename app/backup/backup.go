package backup

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
	"time"

	"larderlamp/app/record"
	"larderlamp/rules/prose"
)

// Format names a backup file of this program.
const Format = "larderlamp-backup"

// FileVersion is the version of the backup format. Version 3 added the trips.
const FileVersion = 3

// The limits on a file that is read. A household keeps far less.
const (
	MostFileBytes = 1 << 30
	mostRecords   = 200000
)

// File is a whole pantry in one file.
type File struct {
	Written  time.Time
	Edition  string
	Settings record.Settings
	Records  []record.Record
}

// Read reads a backup and every record in it, or says what is wrong by record
// and field. Nothing of a file with a fault is used.
func Read(text []byte) (*File, error) {
	var records []record.Record
	b, err := Scan(bytes.NewReader(text), func(r record.Record) error {
		records = append(records, r)
		return nil
	})
	if err != nil {
		return nil, err
	}
	// The kinds in a fixed order, whatever their order in the file.
	slices.SortStableFunc(records, func(x, y record.Record) int {
		return cmp.Compare(slices.Index(record.Kinds, x.Kind()), slices.Index(record.Kinds, y.Kind()))
	})
	b.Records = records
	return b, nil
}

// counted counts the bytes that are read.
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
	backup *File
	each   func(record.Record) error
	seen   map[string]bool // fields of the file
	wrong  []error
	number int // number of records read
	seems  string
}

// errEnough stops the reading of a file with very many faults.
var errEnough = errors.New("and perhaps more")

// Scan reads a backup record by record, in the order of the file, and calls
// each with every record. When it returns an error, nothing that each was
// called with may be used.
func Scan(r io.Reader, each func(record.Record) error) (*File, error) {
	from := &counted{r: r}
	buffered := bufio.NewReader(from)
	if mark, err := buffered.Peek(3); err == nil && string(mark) == "\ufeff" {
		if _, err := buffered.Discard(3); err != nil {
			return nil, err
		}
	}
	// The first bytes show what the file is; a read error shows again later.
	head, _ := buffered.Peek(512)
	s := &scan{from: from, d: json.NewDecoder(buffered), backup: &File{}, each: each, seen: map[string]bool{}, seems: seems(head)}
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

// notBackup reports that the file is not a backup.
func (s *scan) notBackup(err error) error {
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

// token reads one punctuation mark.
func (s *scan) token(want json.Delim) error {
	t, err := s.d.Token()
	if err != nil {
		return s.notBackup(err)
	}
	if t != want {
		return s.notBackup(fmt.Errorf("byte %d: %v, want %v", s.d.InputOffset(), t, want))
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
			return s.notBackup(err)
		}
		field, _ := t.(string)
		if s.seen[field] {
			return s.notBackup(fmt.Errorf("%s: it stands there twice", strconv.Quote(field)))
		}
		s.seen[field] = true
		if slices.Contains(record.Kinds, record.Kind(field)) {
			err = s.records(record.Kind(field))
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
		return s.notBackup(errors.New("something follows it"))
	}
	for _, field := range []string{"format", "version", "written", "edition", "settings"} {
		if !s.seen[field] {
			return s.notBackup(fmt.Errorf("it has no %s", field))
		}
	}
	return nil
}

// field reads a field that is not a list of records.
func (s *scan) field(field string) error {
	b := s.backup
	into := func(v any) error {
		if err := s.d.Decode(v); err != nil {
			return s.notBackup(fmt.Errorf("%s: %w", field, err))
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
			return s.notBackup(fmt.Errorf("format %q, want %q", format, Format))
		}
	case "version":
		var version int
		if err := into(&version); err != nil {
			return err
		}
		if version > FileVersion || version < 2 {
			return prose.Errorf("the backup has version %d, this program reads 2 to %d; a newer edition may read it", version, FileVersion)
		}
	case "written":
		if err := into(&b.Written); err != nil {
			return err
		}
		b.Written = b.Written.UTC()
		return record.CheckTime("the file", "written", b.Written)
	case "edition":
		if err := into(&b.Edition); err != nil {
			return err
		}
		if !record.IsName(b.Edition) {
			return prose.Errorf("the edition %q is not a name", b.Edition)
		}
	case "settings":
		var text json.RawMessage
		if err := into(&text); err != nil {
			return err
		}
		var err error
		b.Settings, err = record.DecodeSettings(text)
		return err
	default:
		return s.notBackup(fmt.Errorf("there is no field %s", strconv.Quote(field)))
	}
	return nil
}

// records reads the list of a kind.
func (s *scan) records(k record.Kind) error {
	t, err := s.d.Token()
	if err != nil {
		return s.notBackup(err)
	}
	if t == nil { // null, for none
		return nil
	}
	if t != json.Delim('[') {
		return s.notBackup(fmt.Errorf("%s: %v is no list", k, t))
	}
	seen := map[string]int{}
	var text json.RawMessage // the same memory for every record
	for i := 1; s.d.More(); i++ {
		text = text[:0]
		if err := s.d.Decode(&text); err != nil {
			return s.notBackup(err)
		}
		if s.number++; s.number > mostRecords {
			return prose.Errorf("more than %d records", mostRecords)
		}
		// A record keeps the text that it was read from.
		r, err := record.Decode(k, bytes.Clone(text))
		if err == nil {
			err = record.Replaced(r)
			if at, twice := seen[r.Key()]; twice {
				err = prose.Errorf("id %s is also that of number %d", r.Key(), at)
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
