package backup

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"time"

	"larderlamp/app/record"
)

// Writer writes a backup record by record: a household with many photos has more
// to write than a phone can hold at once. The format is that of
// testdata/backup.schema.json.
type Writer struct {
	w    io.Writer
	kind int // index in Kinds of the open list; -1 before the first
	some bool
}

// NewWriter starts a backup; the records follow with Add.
func NewWriter(w io.Writer, b *File) (*Writer, error) {
	settings, err := b.Settings.Encode()
	if err != nil {
		return nil, err
	}
	written, err := json.Marshal(b.Written.UTC().Truncate(time.Second))
	if err != nil {
		return nil, err
	}
	edition, err := json.Marshal(b.Edition) // edition of the rules
	if err != nil {
		return nil, err
	}
	_, err = fmt.Fprintf(w, "{\"format\":%q,\"version\":%d,\"written\":%s,\"edition\":%s,\n\"settings\":%s", Format, FileVersion, written, edition, settings)
	return &Writer{w, -1, false}, err
}

// Add writes a record. Kinds must come in the order of [Kinds].
func (b *Writer) Add(r record.Record) error {
	text, err := r.Encode()
	if err != nil {
		return err
	}
	kind := slices.Index(record.Kinds, r.Kind())
	if kind < b.kind {
		return fmt.Errorf("%s %s: comes after %s", r.Kind(), r.Key(), record.Kinds[b.kind])
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

// open closes the lists before a kind and starts the list of that kind.
func (b *Writer) open(kind int) error {
	for b.kind < kind {
		end := "]"
		if b.kind < 0 {
			end = ""
		}
		b.kind++
		b.some = false
		if _, err := fmt.Fprintf(b.w, "%s,\n%q:[", end, record.Kinds[b.kind]); err != nil {
			return err
		}
	}
	return nil
}

// Close ends the backup. Without it the file is cut off, and would be refused.
func (b *Writer) Close() error {
	if err := b.open(len(record.Kinds) - 1); err != nil {
		return err
	}
	_, err := io.WriteString(b.w, "]}\n")
	return err
}

// Write writes a backup. The same pantry always gives the same bytes.
func Write(b File) ([]byte, error) {
	var file bytes.Buffer
	w, err := NewWriter(&file, &b)
	if err != nil {
		return nil, err
	}
	records := slices.Clone(b.Records)
	slices.SortStableFunc(records, func(x, y record.Record) int {
		i, j := slices.Index(record.Kinds, x.Kind()), slices.Index(record.Kinds, y.Kind())
		return cmp.Or(cmp.Compare(i, j), cmp.Compare(x.Key(), y.Key()))
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
