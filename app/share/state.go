package share

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

// The rows of store.KindShared: one for the household, one for each phone, and
// one for each record that has not come back from the log.
const (
	householdID = "household"
	phoneRows   = "phone/"
	unmetRows   = "unmet/"
)

// Household is what this device knows about the household whose shelf it
// shares.
type Household struct {
	Secret string    `json:"secret"` // 256 bits in base64url; anyone who has it can read the shelf
	Phone  string    `json:"phone"`  // id of this phone
	Name   string    `json:"name"`   // name of this phone, given by its owner
	Joined time.Time `json:"joined"`
	Place  string    `json:"place"` // position in the log up to which everything is here
	Ended  bool      `json:"ended"` // the exchange no longer has it
	// Versions that are not records of this household to the edition that read
	// them. A later edition may know them, and gets everything again.
	Wrong   int    `json:"wrong"`
	Edition string `json:"edition"`
	// The secret from before a phone was lost, until the exchange has removed that
	// household.
	Old string `json:"old,omitempty"`
}

// Phone is one phone of the household, as all of them see it.
type Phone struct {
	ID   string    `json:"id"`
	Name string    `json:"name"`
	Seen time.Time `json:"seen"`
	Left bool      `json:"left"`
}

// next returns the time for what the phone says about itself next. It is later than
// the time before, even within a second or when the clock was set back: of two
// things that a phone says, the later one counts.
func (p *Phone) next(now time.Time) time.Time {
	now = now.UTC().Truncate(time.Second)
	if !now.After(p.Seen) {
		now = p.Seen.Add(time.Second)
	}
	return now
}

// replaces reports whether p counts and not q, which the same phone said. Two pages
// of a phone may speak at the same time: then a phone that says it leaves does leave.
func (p *Phone) replaces(q *Phone) bool {
	return p.Seen.After(q.Seen) || p.Seen.Equal(q.Seen) && p.Left && !q.Left
}

// KindPhone is the kind under which phones are sealed. It is not a kind of
// record: a backup does not hold it.
const KindPhone = "phone"

// unmet is a record that has not come back from the log.
type unmet struct {
	Name     string `json:"name"`      // the name that the exchange has it under, or ""
	TooLarge bool   `json:"too_large"` // it stays on this phone
}

// key names a record among the unmet.
func key(kind store.Kind, id string) string { return string(kind) + "/" + id }

// split is the inverse of key.
func split(key string) (store.Kind, string) {
	kind, id, _ := strings.Cut(key, "/")
	return store.Kind(kind), id
}

func row(id string, v any) store.Change {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err) // it holds texts, times and numbers
	}
	return store.Change{Row: store.Row{Kind: store.KindShared, ID: id, JSON: text}}
}

func gone(id string) store.Change {
	return store.Change{Row: store.Row{Kind: store.KindShared, ID: id}, Delete: true}
}

// readHousehold reads which household this device belongs to, or nil when it
// shares nothing.
func readHousehold(ctx context.Context, s store.Store) (*Household, error) {
	r, err := s.Get(ctx, store.KindShared, householdID)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var h Household
	if err := json.Unmarshal(r.JSON, &h); err != nil {
		return nil, fmt.Errorf("shared household: %w", err)
	}
	return &h, nil
}

// readSettings reads the settings of this device; without an altitude if there are
// none.
func readSettings(ctx context.Context, s store.Store) (record.Settings, error) {
	at, err := s.Get(ctx, store.KindSettings, record.SettingsID)
	if errors.Is(err, store.ErrNotFound) {
		return record.Settings{}, nil
	}
	if err != nil {
		return record.Settings{}, err
	}
	return record.DecodeSettings(at.JSON)
}

// readPhone reads what a phone said about itself last; the zero Phone if it has said
// nothing.
func readPhone(ctx context.Context, s store.Store, id string) (p Phone, err error) {
	at, err := s.Get(ctx, store.KindShared, phoneRows+id)
	if errors.Is(err, store.ErrNotFound) {
		return p, nil
	}
	if err != nil {
		return p, err
	}
	if err := json.Unmarshal(at.JSON, &p); err != nil {
		return p, fmt.Errorf("%s: %w", at.ID, err)
	}
	return p, nil
}

// readPhones reads the phones of the household, those seen last first.
func readPhones(ctx context.Context, s store.Store) (phones []Phone, err error) {
	rows, err := s.List(ctx, store.KindShared, store.ListOptions{})
	if err != nil {
		return nil, err
	}
	for _, r := range rows {
		if !strings.HasPrefix(r.ID, phoneRows) {
			continue
		}
		var p Phone
		if err := json.Unmarshal(r.JSON, &p); err != nil {
			return nil, fmt.Errorf("%s: %w", r.ID, err)
		}
		phones = append(phones, p)
	}
	slices.SortStableFunc(phones, func(a, b Phone) int { return b.Seen.Compare(a.Seen) })
	return phones, nil
}

// readUnmet reads what has not come back from the log, by the key of the record.
func readUnmet(ctx context.Context, s store.Store) (map[string]unmet, error) {
	rows, err := s.List(ctx, store.KindShared, store.ListOptions{After: unmetRows})
	if err != nil {
		return nil, err
	}
	all := map[string]unmet{}
	for _, r := range rows {
		key, ok := strings.CutPrefix(r.ID, unmetRows)
		if !ok {
			continue
		}
		var u unmet
		if err := json.Unmarshal(r.JSON, &u); err != nil {
			return nil, fmt.Errorf("%s: %w", r.ID, err)
		}
		all[key] = u
	}
	return all, nil
}

// shared reports whether records of a kind are shared. Each phone has its own
// settings.
func shared(kind store.Kind) bool { return slices.Contains(record.Kinds, record.Kind(kind)) }
