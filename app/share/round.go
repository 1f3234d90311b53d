package share

import (
	"context"
	"errors"
	"maps"
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

// Round connects one device of a household with the exchange. Only one page of
// a device does rounds at a time.
type Round struct {
	Store    store.Store // the store below Noted
	Exchange Exchange
	Edition  string // edition of the program
	Now      func() time.Time
	Came     func() // called when records came and are written

	settings record.Settings // of this device, at the beginning of the round
}

// Do gets what is new, sends what has to be sent, and gets that back. It returns
// how many records still have to be sent.
func (r *Round) Do(ctx context.Context) (left int, err error) {
	if r.settings, err = readSettings(ctx, r.Store); err != nil {
		return 0, err
	}
	if err := r.renew(ctx); err != nil {
		return 0, err
	}
	if err := r.greet(ctx); err != nil {
		return 0, err
	}
	if err := r.catch(ctx); err != nil {
		return 0, err
	}
	if err := r.bind(ctx); err != nil {
		return 0, err
	}
	if err := r.send(ctx); err != nil {
		return 0, err
	}
	if err := r.catch(ctx); err != nil {
		return 0, err
	}
	waiting, err := readUnmet(ctx, r.Store)
	for _, u := range waiting {
		if !u.TooLarge {
			left++
		}
	}
	return left, err
}

// Wait waits until something is new at the exchange.
func (r *Round) Wait(ctx context.Context) error {
	h, err := r.household(ctx)
	if err != nil {
		return err
	}
	return r.Exchange.Wait(ctx, h.Place)
}

// errOff means that this device does not share its shelf any more.
var errOff = errors.New("share: it is switched off")

func (r *Round) household(ctx context.Context) (*Household, error) {
	h, err := readHousehold(ctx, r.Store)
	if err == nil && (h == nil || h.Ended) {
		err = errOff
	}
	return h, err
}

// renew gets everything again if an earlier edition could not read all of it.
func (r *Round) renew(ctx context.Context) error {
	done := r.Store.Lock(ctx)
	defer done()
	h, err := r.household(ctx)
	if err != nil || h.Edition == r.Edition {
		return err
	}
	if h.Wrong > 0 {
		h.Place, h.Wrong = "", 0
	}
	h.Edition = r.Edition
	return r.Store.Write(ctx, []store.Change{row(householdID, h)})
}

// seenEvery is how often a phone says that it is still there: every version stays
// in the log.
const seenEvery = 24 * time.Hour

// greet tells the others, once a day, that this phone is there.
func (r *Round) greet(ctx context.Context) error {
	done := r.Store.Lock(ctx)
	defer done()
	h, err := r.household(ctx)
	if err != nil {
		return err
	}
	p, err := readPhone(ctx, r.Store, h.Phone)
	if err != nil || p.Name == h.Name && !p.Left && r.Now().Sub(p.Seen) < seenEvery {
		return err
	}
	id := phoneRows + h.Phone
	return r.Store.Write(ctx, []store.Change{
		row(id, Phone{ID: h.Phone, Name: h.Name, Seen: p.next(r.Now())}),
		row(unmetRows+id, unmet{}),
	})
}

// bind gives each batch that is about to be sent the altitude of this device, if it
// has none of its own: the other phones must not judge it by theirs.
func (r *Round) bind(ctx context.Context) error {
	done := r.Store.Lock(ctx)
	bound, err := r.bound(ctx)
	if err == nil && len(bound) > 0 {
		err = r.Store.Write(ctx, bound)
	}
	done()
	if err == nil && len(bound) > 0 && r.Came != nil {
		r.Came()
	}
	return err
}

// bound returns those batches as they are to be stored.
func (r *Round) bound(ctx context.Context) (changes []store.Change, err error) {
	waiting, err := readUnmet(ctx, r.Store)
	if err != nil {
		return nil, err
	}
	for key, u := range waiting {
		kind, id := split(key)
		if kind != store.Kind(record.Batches) || u.Name != "" {
			continue
		}
		at, err := r.Store.Get(ctx, kind, id)
		if errors.Is(err, store.ErrNotFound) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if batch := r.bindBatch(at); batch != nil {
			text, err := batch.Encode()
			if err != nil {
				return nil, err
			}
			changes = append(changes, store.Change{Row: store.Row{Kind: kind, ID: id, JSON: text}})
		}
	}
	return changes, nil
}

// bindBatch returns a batch with the altitude of this device, or nil if it has one of
// its own or the device has none. One that is damaged is sent as it is: it must not
// hold up the others.
func (r *Round) bindBatch(at store.Row) *record.Batch {
	b, err := record.Decode(record.Batches, at.JSON)
	if err != nil {
		return nil
	}
	// Nobody knows the altitude of the other phones: they count as having none.
	if batch := b.(*record.Batch); batch.Bind(&r.settings, &record.Settings{}, r.Now()) {
		return batch
	}
	return nil
}

// send sends what the exchange has not confirmed it has.
func (r *Round) send(ctx context.Context) error {
	waiting, err := readUnmet(ctx, r.Store)
	if err != nil {
		return err
	}
	for _, key := range slices.Sorted(maps.Keys(waiting)) {
		if u := waiting[key]; u.Name != "" || u.TooLarge {
			continue
		}
		if err := r.sendOne(ctx, key); err != nil {
			return err
		}
	}
	return nil
}

// sendOne sends a record as it is now.
func (r *Round) sendOne(ctx context.Context, key string) error {
	kind, text, ready, err := r.toSend(ctx, key)
	if err != nil || !ready {
		return err
	}
	name, n, err := r.Exchange.Send(ctx, kind, text)
	large := refused(err, "too-large")
	if err != nil && !large {
		return err
	}
	done := r.Store.Lock(ctx)
	defer done()
	// It may have changed while it was sent, and then still has to be sent.
	if _, now, _, err := r.toSend(ctx, key); err != nil || now != text {
		return err
	}
	h, err := r.household(ctx)
	if err != nil {
		return err
	}
	change := row(unmetRows+key, unmet{Name: name, TooLarge: large})
	if !large && n <= number(h.Place) { // it came out of the log before
		change = gone(unmetRows + key)
	}
	return r.Store.Write(ctx, []store.Change{change})
}

// toSend returns what to send for an unmet record. A check in which nothing has
// been said yet waits until something has, and a batch that was written without an
// altitude since this round began waits until the next one binds it.
func (r *Round) toSend(ctx context.Context, key string) (kind, text string, ready bool, err error) {
	k, id := split(key)
	phone := key == phoneRows+id
	if phone {
		k, id = store.KindShared, key
	}
	at, err := r.Store.Get(ctx, k, id)
	if errors.Is(err, store.ErrNotFound) {
		return "", "", false, nil
	}
	if err != nil {
		return "", "", false, err
	}
	if phone {
		return KindPhone, string(at.JSON), true, nil
	}
	if k == store.Kind(record.Checks) {
		c, err := record.DecodeCheck(at.JSON)
		if err != nil || len(c.Answers) == 0 && !c.IsDeleted() {
			return "", "", false, err
		}
	}
	if k == store.Kind(record.Batches) && r.bindBatch(at) != nil {
		return "", "", false, nil
	}
	return string(k), string(at.JSON), true, nil
}

// catch gets everything that is new.
func (r *Round) catch(ctx context.Context) error {
	for {
		h, err := r.household(ctx)
		if err != nil {
			return err
		}
		list, err := r.Exchange.List(ctx, h.Place)
		if refusal, ok := errors.AsType[*Refusal](err); ok && refusal.StartOver {
			if err := r.startOver(ctx); err != nil {
				return err
			}
			continue
		}
		if refused(err, "no-household") {
			return errors.Join(err, r.end(ctx))
		}
		if err != nil {
			return err
		}
		if len(list) == 0 {
			return r.again(ctx)
		}
		if err := r.take(ctx, list); err != nil {
			return err
		}
	}
}

// startOver gets everything again and sends everything again: the exchange was
// reset to an earlier day.
func (r *Round) startOver(ctx context.Context) error {
	done := r.Store.Lock(ctx)
	defer done()
	h, err := r.household(ctx)
	if err != nil {
		return err
	}
	phones, err := readPhones(ctx, r.Store)
	if err != nil {
		return err
	}
	h.Place = ""
	return r.Store.WriteAll(ctx, func(put func(store.Change) error) error {
		if err := put(row(householdID, h)); err != nil {
			return err
		}
		// What the phones say of themselves is sent again too: the exchange may have
		// lost it, and a phone that is switched off cannot repeat it.
		for _, p := range phones {
			if err := put(row(unmetRows+phoneRows+p.ID, unmet{})); err != nil {
				return err
			}
		}
		return everything(ctx, r.Store, put)
	})
}

// everything marks each record to be sent.
func everything(ctx context.Context, s store.Store, put func(store.Change) error) error {
	const page = 500
	for _, kind := range record.Kinds {
		for after, more := "", true; more; {
			rows, err := s.List(ctx, store.Kind(kind), store.ListOptions{After: after, Limit: page})
			if err != nil {
				return err
			}
			more = len(rows) == page
			for _, at := range rows {
				after = at.ID
				if err := put(row(unmetRows+key(at.Kind, at.ID), unmet{})); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// end records that the exchange no longer has the household.
func (r *Round) end(ctx context.Context) error {
	done := r.Store.Lock(ctx)
	defer done()
	h, err := r.household(ctx)
	if err != nil {
		return err
	}
	h.Ended = true
	return r.Store.Write(ctx, []store.Change{row(householdID, h)})
}

// again marks what was sent and did not come back although everything else has:
// it is not in the log any more.
func (r *Round) again(ctx context.Context) error {
	done := r.Store.Lock(ctx)
	defer done()
	waiting, err := readUnmet(ctx, r.Store)
	if err != nil {
		return err
	}
	var changes []store.Change
	for key, u := range waiting {
		if u.Name != "" {
			changes = append(changes, row(unmetRows+key, unmet{}))
		}
	}
	if len(changes) == 0 {
		return nil
	}
	return r.Store.Write(ctx, changes)
}
