package backup

import (
	"bytes"
	"strings"

	"larderlamp/rules/prose"
)

// NotBackup says that a file is not a backup, and what it seems to be instead.
type NotBackup struct {
	seems string
	err   error
}

// Error implements error.
func (e *NotBackup) Error() string {
	return "the file is not a backup of this program: " + e.err.Error()
}

// Unwrap returns the first fault, with its position.
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

// seemsWords tell a person what the file is, and what to do.
var seemsWords = map[string]prose.Text{
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
func (e *NotBackup) Plain() prose.Text { return seemsWords[e.seems] }

// seems guesses from its first bytes what a file is.
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
