// Package sheet reads and writes tables as comma-separated text (RFC 4180).
//
// # Promises
//
// What was written is read back exactly, whatever is in a cell; only line ends
// within it become \n. A cell that a spreadsheet would take for a formula is
// written with an apostrophe before it, which reading removes again. A table
// that is read has as many cells in every line as its heading, or reading it
// fails with the line.
package sheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"larderlamp/rules/prose"
)

// Limits restrict what is read.
type Limits struct{ Rows, Columns, Cell int }

// Row is one line of a table; a cell may itself hold line ends.
type Row struct {
	Line  int // where it begins, the heading being line 1
	Cells []string
}

// Table is a heading and its rows.
type Table struct {
	Header []string
	Rows   []Row
}

// Write writes a table, with CRLF line ends.
func Write(header []string, rows [][]string) []byte {
	text := line(nil, header)
	for _, row := range rows {
		text = line(text, row)
	}
	return text
}

// line writes one line. This takes a few lines of code, while the standard
// library's writer, made for streams, would be a noticeable part of a page
// program.
func line(text []byte, cells []string) []byte {
	for i, c := range cells {
		if i > 0 {
			text = append(text, ',')
		}
		c = guard(lineEnds(c))
		if len(cells) > 1 && c == "" || c != "" && !strings.ContainsAny(c, ",;\t\"\n\ufeff") && c == strings.TrimSpace(c) {
			text = append(text, c...)
			continue
		}
		c = strings.ReplaceAll(c, "\"", "\"\"")
		text = append(text, '"')
		text = append(text, strings.ReplaceAll(c, "\n", "\r\n")...)
		text = append(text, '"')
	}
	return append(text, "\r\n"...)
}

// lineEnds writes every line end as \n.
func lineEnds(c string) string {
	return strings.ReplaceAll(strings.ReplaceAll(c, "\r\n", "\n"), "\r", "\n")
}

// risky reports whether a spreadsheet would calculate the cell. Numbers are no
// exception: a number with a sign is guarded too.
func risky(c string) bool {
	return c != "" && strings.ContainsRune("=+-@\t\r\n", rune(c[0]))
}

// guard puts an apostrophe before a risky cell, and before one that would be
// taken for a guarded one.
func guard(c string) string {
	if risky(c) || c != "" && c[0] == '\'' {
		return "'" + c
	}
	return c
}

// unguard removes the apostrophe of guard.
func unguard(c string) string {
	if rest, ok := strings.CutPrefix(c, "'"); ok && (risky(rest) || rest != "" && rest[0] == '\'') {
		return rest
	}
	return c
}

// Read reads a table separated by commas, semicolons or tabs, as its heading
// shows. Errors name the line.
func Read(text []byte, limits Limits) (Table, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if !utf8.Valid(text) {
		line := 1 + bytes.Count(text[:invalid(text)], []byte("\n"))
		return Table{}, prose.Errorf("line %d: not readable text; save the file as UTF-8", line)
	}
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma = separator(text)
	r.FieldsPerRecord = -1
	r.ReuseRecord = true
	r.TrimLeadingSpace = r.Comma != '\t'
	var t Table
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		line := 0
		if len(cells) > 0 {
			line, _ = r.FieldPos(0)
		}
		bad, parse := errors.AsType[*csv.ParseError](err)
		switch {
		case parse:
			return Table{}, fmt.Errorf("line %d: %w", bad.Line, bad.Err)
		case err != nil:
			return Table{}, err
		case len(cells) > limits.Columns:
			return Table{}, prose.Errorf("line %d: %d columns, at most %d", line, len(cells), limits.Columns)
		case len(t.Rows) == limits.Rows:
			return Table{}, prose.Errorf("line %d: more than %d rows", line, limits.Rows)
		}
		own := make([]string, len(cells))
		empty := true
		for i, c := range cells {
			if len(c) > limits.Cell {
				return Table{}, prose.Errorf("line %d: column %d has %d bytes, at most %d", line, i+1, len(c), limits.Cell)
			}
			own[i] = unguard(c)
			empty = empty && strings.TrimSpace(c) == ""
		}
		switch {
		case empty && t.Header == nil:
			return Table{}, prose.Errorf("line %d: the heading is empty", line)
		case t.Header == nil:
			t.Header = own
		case empty && len(own) < len(t.Header):
			// a line of nothing but separators or spaces
		case len(own) != len(t.Header):
			return Table{}, prose.Errorf("line %d: %d columns, the heading has %d", line, len(own), len(t.Header))
		default:
			t.Rows = append(t.Rows, Row{line, own})
		}
	}
	if t.Header == nil {
		return Table{}, prose.Errorf("the table is empty")
	}
	return t, nil
}

// invalid is where the text stops being valid UTF-8.
func invalid(text []byte) int {
	at := 0
	for at < len(text) {
		r, n := utf8.DecodeRune(text[at:])
		if r == utf8.RuneError && n <= 1 {
			break
		}
		at += n
	}
	return at
}

// separator is the most frequent character in the first line, outside quotes.
func separator(text []byte) rune {
	n := map[rune]int{}
	quoted := false
	for _, r := range string(text[:min(len(text), 1<<16)]) {
		if r == '"' {
			quoted = !quoted
		}
		if r == '\n' && !quoted {
			break
		}
		if !quoted {
			n[r]++
		}
	}
	best := ','
	for _, r := range []rune{';', '\t'} {
		if n[r] > n[best] {
			best = r
		}
	}
	return best
}

// Columns finds the known columns in a heading, by name or by another name,
// ignoring case. It returns the place of each and the names that are not known.
// A column that appears twice is an error.
func Columns(header []string, known map[string][]string) (at map[string]int, unknown []string, err error) {
	names := map[string]string{}
	for name, others := range known {
		names[name] = name
		for _, o := range others {
			names[o] = name
		}
	}
	at = map[string]int{}
	for i, h := range header {
		clean := strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(h, "_", " "))), " ")
		name, ok := names[clean]
		if !ok {
			unknown = append(unknown, h)
			continue
		}
		if first, twice := at[name]; twice {
			return nil, nil, prose.Errorf("line 1: columns %d and %d are both the %s", first+1, i+1, name)
		}
		at[name] = i
	}
	return at, unknown, nil
}
