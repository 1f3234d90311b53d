package pantry

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"

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

// file is the form of a backup on paper, so to speak. Its JSON Schema is
// testdata/backup.schema.json.
type file struct {
	Format   string            `json:"format"`
	Version  int               `json:"version"`
	Written  time.Time         `json:"written"`
	Edition  string            `json:"edition"` // of the rules
	Settings json.RawMessage   `json:"settings"`
	Places   []json.RawMessage `json:"places"`
	Batches  []json.RawMessage `json:"batches"`
	Jars     []json.RawMessage `json:"jars"`
	Checks   []json.RawMessage `json:"checks"`
	Photos   []json.RawMessage `json:"photos"`
	Sweeps   []json.RawMessage `json:"sweeps"`
	Trips    []json.RawMessage `json:"trips"`
}

// list gives the records of a kind.
func (f *file) list(k Kind) *[]json.RawMessage {
	return map[Kind]*[]json.RawMessage{Places: &f.Places, Batches: &f.Batches, Jars: &f.Jars, Checks: &f.Checks, Photos: &f.Photos, Sweeps: &f.Sweeps, Trips: &f.Trips}[k]
}

// WriteBackup writes a backup. The same pantry always gives the same bytes.
func WriteBackup(b Backup) ([]byte, error) {
	f := file{Format: Format, Version: FileVersion, Written: b.Written.UTC().Truncate(time.Second), Edition: b.Edition}
	var err error
	if f.Settings, err = b.Settings.Encode(); err != nil {
		return nil, err
	}
	for _, k := range Kinds {
		*f.list(k) = []json.RawMessage{}
	}
	records := slices.Clone(b.Records)
	order.By(records, func(x, y *Record) bool { return (*x).Key() < (*y).Key() })
	for _, r := range records {
		text, err := r.Encode()
		if err != nil {
			return nil, err
		}
		list := f.list(r.Kind())
		*list = append(*list, text)
	}
	return json.MarshalIndent(&f, "", " ")
}

// ReadBackup reads a backup, and every record in it, or tells what is wrong by
// record and field. Nothing of a file with a fault is taken.
func ReadBackup(text []byte) (*Backup, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	var f file
	if err := decode(text, &f); err != nil {
		syntax, bad := errors.AsType[*json.SyntaxError](err)
		switch {
		case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
			return nil, fmt.Errorf("the file is cut off at byte %d", len(text))
		case bad:
			return nil, fmt.Errorf("the file is not a backup of this program: byte %d: %w", syntax.Offset, err)
		}
		return nil, fmt.Errorf("the file is not a backup of this program: %w", err)
	}
	switch {
	case f.Format != Format:
		return nil, fmt.Errorf("the file is not a backup of this program: format %q, want %q", f.Format, Format)
	case f.Version > FileVersion || f.Version < 2:
		return nil, fmt.Errorf("the backup has version %d, this program reads 2 to %d; a newer edition may read it", f.Version, FileVersion)
	case !name(f.Edition):
		return nil, fmt.Errorf("the edition %q is not a name", f.Edition)
	}
	b := &Backup{Written: f.Written.UTC(), Edition: f.Edition}
	at := faults{record: "the file"}
	at.time("written", b.Written)
	err := at.err()
	if err != nil {
		return nil, err
	}
	if b.Settings, err = DecodeSettings(f.Settings); err != nil {
		return nil, err
	}
	var wrong []error
	for _, k := range Kinds {
		seen := map[string]int{}
		for i, text := range *f.list(k) {
			if len(b.Records) == mostRecords {
				return nil, fmt.Errorf("more than %d records", mostRecords)
			}
			r, err := Decode(k, text)
			if err == nil {
				err = r.head().replaced(r)
				if at, twice := seen[r.Key()]; twice {
					err = fmt.Errorf("id %s is also that of number %d", r.Key(), at)
				}
				seen[r.Key()] = i + 1
			}
			if err != nil {
				wrong = append(wrong, fmt.Errorf("%s, number %d: %w", k, i+1, err))
				if len(wrong) == 20 {
					return nil, errors.Join(append(wrong, errors.New("and perhaps more"))...)
				}
				continue
			}
			b.Records = append(b.Records, r)
		}
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	return b, nil
}

// Plan is what taking in a backup would change.
type Plan struct {
	Added, Changed, Same map[Kind]int
	Aside                map[Kind]int // records of which two versions were made apart
	Writes               []Record     // all that has to be written, or nothing
}

// PlanMerge puts a backup together with what is here. find gives the record of
// a kind and id that is here, or nil.
func PlanMerge(b *Backup, find func(Kind, string) (Record, error)) (*Plan, error) {
	p := &Plan{Added: map[Kind]int{}, Changed: map[Kind]int{}, Same: map[Kind]int{}, Aside: map[Kind]int{}}
	for _, r := range b.Records {
		k := r.Kind()
		here, err := find(k, r.Key())
		if err != nil {
			return nil, err
		}
		if here == nil {
			p.Added[k]++
			p.Writes = append(p.Writes, r)
			continue
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
			continue
		}
		p.Changed[k]++
		if len(merged.head().Aside) > len(here.head().Aside) {
			p.Aside[k]++
		}
		p.Writes = append(p.Writes, merged)
	}
	return p, nil
}
