package record

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"
	"time"
)

// Settle drops the versions that were set aside: the person has decided.
func (h *Head) Settle(now time.Time) {
	for _, a := range h.Aside {
		h.Past = append(h.Past, named(a))
	}
	h.Aside = nil
	h.tidy()
	h.Touch(now)
}

// Chosen returns the version of a record that the person has decided for, as the one
// that replaces all others: r itself, or one that was set aside.
func Chosen[R Record](r, version R, now time.Time) (R, error) {
	var none R
	text, err := version.body()
	if err != nil {
		return none, err
	}
	copied, err := Decode(r.Kind(), text)
	if err != nil {
		return none, err
	}
	h := copied.head()
	*h = *r.head()
	h.Settle(now)
	return copied.(R), nil
}

// tidy sorts Past and Aside and drops duplicates.
func (h *Head) tidy() {
	slices.Sort(h.Past)
	h.Past = slices.Compact(h.Past)
	slices.SortStableFunc(h.Aside, func(a, b json.RawMessage) int { return bytes.Compare(a, b) })
	h.Aside = slices.CompactFunc(h.Aside, func(a, b json.RawMessage) bool { return bytes.Equal(a, b) })
}

// named returns the short name of a version of a record.
func named(body []byte) string {
	sum := fnv.New64a()
	sum.Write(body)
	return strconv.FormatUint(sum.Sum64(), 36)
}

// checkAside says what is wrong with a version that was set aside: it must be a
// version of this record, because a merge may bring it back. It holds no
// versions itself.
func (h *Head) checkAside(kind Kind, text []byte) error {
	r := blank(kind)
	if err := decode(text, r); err != nil {
		return err
	}
	if a := r.head(); a.ID != h.ID || len(a.Past)+len(a.Aside) > 0 {
		return errors.New("it is not a version of this record")
	}
	return r.Validate()
}

// Replaced reports a record that says it has been replaced by itself: no merge
// could accept it.
func Replaced(r Record) error {
	h := r.head()
	if len(h.Past) == 0 {
		return nil
	}
	body, err := r.body()
	if err == nil && slices.Contains(h.Past, named(body)) {
		return fmt.Errorf("%s %s: past: it names this version itself", r.Kind(), h.ID)
	}
	return err
}

// SetAside returns the versions of a record that lost in a merge, each as its text.
func SetAside(r Record) []json.RawMessage { return r.head().Aside }

// Merge merges two versions of one record, in either order. Of two that were
// changed independently the later revision wins; of equal ones, the one whose
// bytes sort last, and the other is set aside; a version that the other has
// replaced is dropped. What happened to a jar is merged event by event.
func Merge(a, b Record) (Record, error) {
	if a.Kind() != b.Kind() || a.Key() != b.Key() {
		return nil, fmt.Errorf("%s %s: cannot be merged with %s %s", a.Kind(), a.Key(), b.Kind(), b.Key())
	}
	type version struct {
		text     []byte
		revision int64
		of       Record // nil for one that had been set aside
	}
	var all []version
	past := map[string]bool{}
	for _, r := range []Record{a, b} {
		text, err := r.body()
		if err != nil {
			return nil, err
		}
		h := r.head()
		all = append(all, version{text, h.Revision, r})
		for _, aside := range h.Aside {
			var rev struct{ Revision int64 }
			if err := json.Unmarshal(aside, &rev); err != nil {
				return nil, fmt.Errorf("%s %s: a version set aside: %w", r.Kind(), r.Key(), err)
			}
			all = append(all, version{aside, rev.Revision, nil})
		}
		for _, p := range h.Past {
			past[p] = true
		}
	}
	all = slices.DeleteFunc(all, func(v version) bool { return past[named(v.text)] })
	slices.SortStableFunc(all, func(x, y version) int {
		return cmp.Or(cmp.Compare(y.revision, x.revision), bytes.Compare(y.text, x.text))
	})
	all = slices.CompactFunc(all, func(x, y version) bool { return bytes.Equal(x.text, y.text) })
	if len(all) == 0 {
		// Each says that it replaced the other: only a damaged file does this.
		return nil, fmt.Errorf("%s %s: each version claims to be later than the other", a.Kind(), a.Key())
	}
	winner, err := Decode(a.Kind(), all[0].text)
	if err != nil {
		return nil, err
	}
	h := winner.head()
	for p := range past {
		h.Past = append(h.Past, p)
	}
	for _, v := range all[1:] {
		h.Aside = append(h.Aside, v.text)
	}
	h.tidy()
	if jar, ok := winner.(*Jar); ok {
		jar.Events = mergeEvents(a.(*Jar).Events, b.(*Jar).Events)
	}
	return winner, winner.Validate()
}
