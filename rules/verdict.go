package rules

import "fmt"

// Verdict is the advice about a jar, ordered from mild to strict.
// The zero value is no verdict at all, so that a forgotten field is noticed.
type Verdict uint8

const (
	// Keep: sealed, sound, fully looked at, with a tested process behind it.
	Keep Verdict = iota + 1
	// UseSoon: safe to use as the advice says and within its time, not to be stored on.
	UseSoon
	// Discard: do not taste it, throw it away safely.
	Discard
)

// Verdicts lists every verdict from the mildest to the strictest.
var Verdicts = [...]Verdict{Keep, UseSoon, Discard}

var verdictIDs = [...]string{Keep: "keep", UseSoon: "use-soon", Discard: "discard"}
var verdictWords = [...]Text{Keep: "Keep", UseSoon: "Use soon", Discard: "Discard safely"}

// ID is the stable name used in files.
func (v Verdict) ID() string {
	if int(v) < len(verdictIDs) {
		return verdictIDs[v]
	}
	return ""
}

// Text is the verdict in words, as shown on a screen.
func (v Verdict) Text() Text {
	if v >= Keep && v <= Discard {
		return verdictWords[v]
	}
	return ""
}

// String is the verdict in English, for errors and the command.
func (v Verdict) String() string {
	if v >= Keep && v <= Discard {
		return verdictWords[v].String()
	}
	return fmt.Sprintf("Verdict(%d)", uint8(v))
}

// ParseVerdict reads a verdict's stable name.
func ParseVerdict(id string) (Verdict, error) {
	for _, v := range Verdicts {
		if v.ID() == id {
			return v, nil
		}
	}
	return 0, fmt.Errorf("verdict %q: use keep, use-soon or discard", id)
}
