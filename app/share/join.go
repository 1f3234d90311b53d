package share

import (
	"context"
	"strings"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

// Status is what a device knows about the household it shares its shelf with.
type Status struct {
	*Household          // nil when it shares nothing
	Phones     []Phone  // phones of the household, those seen last first
	Left       int      // records that are still to be sent
	TooLarge   []string // records that stay on this phone, as kind/id
}

// Read reads the status.
func Read(ctx context.Context, s store.Store) (st Status, err error) {
	if st.Household, err = readHousehold(ctx, s); err != nil || st.Household == nil {
		return st, err
	}
	if st.Phones, err = readPhones(ctx, s); err != nil {
		return st, err
	}
	waiting, err := readUnmet(ctx, s)
	for key, u := range waiting {
		if u.TooLarge {
			st.TooLarge = append(st.TooLarge, key)
		} else {
			st.Left++
		}
	}
	return st, err
}

// Start creates a household on this device; others may join its shelf.
func Start(ctx context.Context, s store.Store, e Exchange, secret, phone, name string, now time.Time) error {
	if err := e.Found(ctx); err != nil {
		return err
	}
	return enter(ctx, s, Household{Secret: secret, Phone: phone, Name: name, Joined: now.UTC()})
}

// Join joins a household that already exists.
func Join(ctx context.Context, s store.Store, e Exchange, secret, phone, name string, now time.Time) error {
	if _, err := e.List(ctx, ""); err != nil {
		return err
	}
	return enter(ctx, s, Household{Secret: secret, Phone: phone, Name: name, Joined: now.UTC()})
}

// enter starts sharing, with everything that is here.
func enter(ctx context.Context, s store.Store, h Household) error {
	done := s.Lock(ctx)
	defer done()
	earlier, err := s.List(ctx, store.KindShared, store.ListOptions{})
	if err != nil {
		return err
	}
	return s.WriteAll(ctx, func(put func(store.Change) error) error {
		for _, at := range earlier {
			if err := put(store.Change{Row: at, Delete: true}); err != nil {
				return err
			}
		}
		if err := put(row(householdID, h)); err != nil {
			return err
		}
		return everything(ctx, s, put)
	})
}

// Lost shares the shelf under a new secret, because a phone that has the old one
// was lost. The exchange forgets the old household; the other phones join again.
func Lost(ctx context.Context, s store.Store, e Exchange, secret string) error {
	h, err := readHousehold(ctx, s)
	if err != nil {
		return err
	}
	if h == nil {
		return errOff
	}
	if err := e.Found(ctx); err != nil {
		return err
	}
	return enter(ctx, s, Household{Secret: secret, Phone: h.Phone, Name: h.Name, Joined: h.Joined, Old: h.Secret})
}

// Forget removes the household of the earlier secret, and records that it is
// gone.
func Forget(ctx context.Context, s store.Store, old Exchange) error {
	if err := old.Remove(ctx); err != nil && !refused(err, "no-household") {
		return err
	}
	done := s.Lock(ctx)
	defer done()
	h, err := readHousehold(ctx, s)
	if err != nil || h == nil {
		return err
	}
	h.Old = ""
	return s.Write(ctx, []store.Change{row(householdID, h)})
}

// Leave ends sharing on this device. Everything stays on it. The others are told
// when the exchange can be reached.
func Leave(ctx context.Context, s store.Store, e Exchange, now time.Time) error {
	h, err := readHousehold(ctx, s)
	if err != nil || h == nil {
		return err
	}
	p, err := readPhone(ctx, s, h.Phone)
	if err != nil {
		return err
	}
	bye := row("", Phone{ID: h.Phone, Name: h.Name, Seen: p.next(now), Left: true})
	_, _, unsent := e.Send(ctx, KindPhone, string(bye.Row.JSON))
	done := s.Lock(ctx)
	defer done()
	rows, err := s.List(ctx, store.KindShared, store.ListOptions{})
	if err != nil {
		return err
	}
	var changes []store.Change
	for _, at := range rows {
		changes = append(changes, store.Change{Row: at, Delete: true})
	}
	if err := s.Write(ctx, changes); err != nil {
		return err
	}
	return unsent
}

// Rename gives this phone another name, and the others are told.
func Rename(ctx context.Context, s store.Store, name string) error {
	done := s.Lock(ctx)
	defer done()
	h, err := readHousehold(ctx, s)
	if err != nil {
		return err
	}
	if h == nil {
		return errOff
	}
	h.Name = strings.TrimSpace(name)
	return s.Write(ctx, []store.Change{row(householdID, h)})
}

// Count is how many things of each kind there are.
type Count map[record.Kind]int

// Here counts what this device would give.
func Here(ctx context.Context, s store.Store) (Count, error) {
	n := Count{}
	for _, kind := range record.Kinds {
		rows, err := s.List(ctx, store.Kind(kind), store.ListOptions{})
		if err != nil {
			return nil, err
		}
		for _, at := range rows {
			if r, err := record.Decode(kind, at.JSON); err == nil && !r.IsDeleted() {
				n[kind]++
			}
		}
	}
	return n, nil
}

// There counts what a household would give, by the last version of each record.
// A version that can't be read is left out.
func There(ctx context.Context, e Exchange) (Count, error) {
	live := map[record.Kind]map[string]bool{}
	for place := ""; ; {
		list, err := e.List(ctx, place)
		if err != nil {
			return nil, err
		}
		if len(list) == 0 {
			break
		}
		for _, v := range list {
			place = v.Place
			if v.Wrong || !shared(store.Kind(v.Kind)) {
				continue
			}
			r, err := record.Decode(record.Kind(v.Kind), []byte(v.Text))
			if err != nil {
				continue
			}
			if live[r.Kind()] == nil {
				live[r.Kind()] = map[string]bool{}
			}
			live[r.Kind()][r.Key()] = !r.IsDeleted()
		}
	}
	n := Count{}
	for kind, records := range live {
		for _, there := range records {
			if there {
				n[kind]++
			}
		}
	}
	return n, nil
}
