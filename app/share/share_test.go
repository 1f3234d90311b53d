package share

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/app/testkit"
)

var noon = time.Date(2026, 9, 1, 12, 0, 0, 0, time.UTC)

// meeting is an exchange in memory. Any answer may get lost if r is set, whether
// or not the request was carried out.
type meeting struct {
	founded bool
	life    int // grows when the exchange is reset to an earlier day
	log     []Version
	names   map[string]uint64
	page    int // how many versions are in one answer
	large   int // texts longer than this are refused, when it is set
}

func newMeeting() *meeting { return &meeting{names: map[string]uint64{}, page: 3} }

// door is one device's connection to the meeting.
type door struct {
	*meeting
	r      *rand.Rand // nothing gets lost without it
	onSend func()     // called when something is sent; may be nil
}

var errLost = errors.New("the connection was lost")

func (d *door) lost() error {
	if d.r != nil && d.r.IntN(6) == 0 {
		return errLost
	}
	return nil
}

var noHousehold = &Refusal{Word: "no-household"}

func (d *door) Found(context.Context) error {
	if err := d.lost(); err != nil {
		return err
	}
	d.founded = true
	return d.lost()
}

func (d *door) Remove(context.Context) error {
	d.founded, d.log, d.names = false, nil, map[string]uint64{}
	return nil
}

func (d *door) Send(_ context.Context, kind, text string) (string, uint64, error) {
	if d.onSend != nil {
		d.onSend()
	}
	if err := d.lost(); err != nil {
		return "", 0, err
	}
	if !d.founded {
		return "", 0, noHousehold
	}
	if d.large > 0 && len(text) > d.large {
		return "", 0, &Refusal{Word: "too-large"}
	}
	name := kind + "\n" + text
	if _, ok := d.names[name]; !ok {
		n := uint64(len(d.log) + 1)
		d.names[name] = n
		d.log = append(d.log, Version{Place: fmt.Sprintf("%d.%d", n, d.life), Name: name, Kind: kind, Text: text})
	}
	return name, d.names[name], d.lost()
}

func (d *door) List(_ context.Context, place string) ([]Version, error) {
	if err := d.lost(); err != nil {
		return nil, err
	}
	if !d.founded {
		return nil, noHousehold
	}
	n := int(number(place))
	if place != "" && (n > len(d.log) || d.log[n-1].Place != place) {
		return nil, &Refusal{Word: "place-gone", StartOver: true}
	}
	list := d.log[n:]
	if len(list) > d.page {
		list = list[:d.page]
	}
	return slices.Clone(list), d.lost()
}

func (d *door) Wait(context.Context, string) error { return nil }

// back resets the meeting to an earlier day.
func (m *meeting) back(r *rand.Rand) {
	m.life++
	m.log = m.log[:r.IntN(len(m.log)+1)]
	m.names = map[string]uint64{}
	for i, v := range m.log {
		m.names[v.Name] = uint64(i + 1)
	}
}

// flaky is a store whose writes sometimes fail.
type flaky struct {
	*store.Memory
	r *rand.Rand // none fails without it
}

var errDisk = errors.New("the disk failed")

func (f *flaky) Write(ctx context.Context, changes []store.Change) error {
	if f.r != nil && f.r.IntN(8) == 0 {
		return errDisk
	}
	return f.Memory.Write(ctx, changes)
}

func (f *flaky) WriteAll(ctx context.Context, fill func(func(store.Change) error) error) error {
	if f.r != nil && f.r.IntN(8) == 0 {
		return errDisk
	}
	return f.Memory.WriteAll(ctx, fill)
}

// device is one phone in a test.
type device struct {
	*flaky
	*Round
	door *door
	came int
}

func newDevice(m *meeting) *device {
	d := &device{flaky: &flaky{Memory: store.NewMemory()}, door: &door{meeting: m}}
	d.Round = &Round{Store: d.flaky, Exchange: d.door, Edition: "1", Now: func() time.Time { return noon }, Came: func() { d.came++ }}
	return d
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// keep writes a record as the ledger does, and reports whether it is on the
// disk.
func (d *device) keep(t *testing.T, r record.Record) []byte {
	t.Helper()
	text, err := r.Encode()
	must(t, err)
	err = Noted{Store: d.flaky}.Write(t.Context(), []store.Change{{Row: store.Row{Kind: store.Kind(r.Kind()), ID: r.Key(), JSON: text}}})
	if errors.Is(err, errDisk) {
		return nil
	}
	must(t, err)
	return text
}

// shelf reads everything that is on a device, by key.
func (d *device) shelf(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, kind := range record.Kinds {
		rows, err := d.Memory.List(t.Context(), store.Kind(kind), store.ListOptions{})
		must(t, err)
		for _, at := range rows {
			all[key(at.Kind, at.ID)] = string(at.JSON)
		}
	}
	return all
}

// rounds does rounds until nothing is left to send.
func (d *device) rounds(t *testing.T) {
	t.Helper()
	for range 50 {
		left, err := d.Do(t.Context())
		must(t, err)
		if left == 0 {
			return
		}
	}
	t.Fatal("something still has to be sent after 50 rounds")
}

// Whatever devices do, in any order, and whatever gets lost on the way or fails on
// a disk: once all have met, they have the same shelf, and it is the merge of
// every version anybody ever made. Resetting the exchange to an earlier day
// changes none of this.
func TestAllShelvesMeet(t *testing.T) {
	for seed := range uint64(120) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			r := rand.New(rand.NewPCG(seed, 1))
			m := newMeeting()
			devices := []*device{newDevice(m), newDevice(m), newDevice(m)}
			made := map[string][]string{}
			change := func(d *device) {
				now := noon.Add(time.Duration(r.IntN(1000)) * time.Minute)
				keys := slices.Sorted(maps.Keys(d.shelf(t)))
				var rec record.Record
				if len(keys) == 0 || r.IntN(5) == 0 {
					rec = testkit.Draw(t, r, now)
				} else {
					kind, id := split(keys[r.IntN(len(keys))])
					at, err := d.Memory.Get(t.Context(), kind, id)
					must(t, err)
					rec, err = record.Decode(record.Kind(kind), at.JSON)
					must(t, err)
					testkit.Edit(t, rec, r, now)
				}
				if text := d.keep(t, rec); text != nil {
					k := key(store.Kind(rec.Kind()), rec.Key())
					made[k] = append(made[k], string(text))
				}
			}
			for _, d := range devices {
				for range r.IntN(4) {
					change(d) // before it joins
				}
			}
			must(t, Start(t.Context(), devices[0], devices[0].door, "secret", "a", "Kitchen", noon))
			must(t, Join(t.Context(), devices[1], devices[1].door, "secret", "b", "Cellar", noon))
			must(t, Join(t.Context(), devices[2], devices[2].door, "secret", "c", "", noon))
			for _, d := range devices {
				d.door.r, d.flaky.r = r, r
			}
			for range 40 {
				d := devices[r.IntN(len(devices))]
				switch n := r.IntN(12); {
				case n < 6:
					change(d)
				case n == 6 && seed%3 == 0:
					m.back(r)
				default:
					if _, err := d.Do(t.Context()); err != nil && !errors.Is(err, errLost) && !errors.Is(err, errDisk) {
						t.Fatal(err)
					}
				}
			}
			for _, d := range devices {
				d.door.r, d.flaky.r = nil, nil
			}
			for range 3 {
				for _, d := range devices {
					d.rounds(t)
				}
			}
			want := map[string]string{}
			for k, texts := range made {
				kind, _ := split(k)
				var all record.Record
				for _, text := range texts {
					v, err := record.Decode(record.Kind(kind), []byte(text))
					must(t, err)
					if all == nil {
						all = v
					} else {
						all, err = record.Merge(all, v)
						must(t, err)
					}
				}
				text, err := all.Encode()
				must(t, err)
				want[k] = string(text)
			}
			for i, d := range devices {
				if got := d.shelf(t); !maps.Equal(got, want) {
					t.Fatalf("device %d: got %d records, want %d: %v, want %v", i, len(got), len(want), got, want)
				}
				st, err := Read(t.Context(), d)
				must(t, err)
				if st.Left != 0 || st.Wrong != 0 || len(st.Phones) != 3 || len(st.TooLarge) != 0 {
					t.Errorf("device %d: got %d left, %d wrong, phones %v", i, st.Left, st.Wrong, st.Phones)
				}
			}
		})
	}
}

// A device that shares nothing marks nothing, and neither does one that has
// left.
func TestNothingIsNotedUnlessShared(t *testing.T) {
	m := newMeeting()
	d := newDevice(m)
	kept := func() {
		p, err := record.NewPlace("Cellar", noon)
		must(t, err)
		d.keep(t, p)
	}
	noted := func() int {
		rows, err := d.List(t.Context(), store.KindShared, store.ListOptions{})
		must(t, err)
		return len(rows)
	}
	kept()
	if n := noted(); n != 0 {
		t.Errorf("got %d rows before anything is shared, want none", n)
	}
	must(t, Start(t.Context(), d, d.door, "secret", "a", "Kitchen", noon))
	kept()
	if n := noted(); n != 3 { // the household, and what was there before and after
		t.Errorf("%d rows, want 3", n)
	}
	d.rounds(t)
	must(t, Leave(t.Context(), d, d.door, noon.Add(time.Hour)))
	kept()
	if n := noted(); n != 0 {
		t.Errorf("got %d rows after leaving, want none", n)
	}
	if _, err := d.Do(t.Context()); !errors.Is(err, errOff) {
		t.Errorf("a round after leaving: got %v", err)
	}
	if len(d.shelf(t)) != 3 {
		t.Error("leaving removed something from the device")
	}
	// The others see that it has left.
	other := newDevice(m)
	must(t, Join(t.Context(), other, other.door, "secret", "b", "Cellar", noon))
	other.rounds(t)
	st, err := Read(t.Context(), other)
	must(t, err)
	if i := slices.IndexFunc(st.Phones, func(p Phone) bool { return p.ID == "a" }); i < 0 || !st.Phones[i].Left {
		t.Errorf("got phones %+v", st.Phones)
	}
}

// After a phone was lost the old household is removed, and what is written after
// that goes only to the new one.
func TestALostPhoneGetsNothingMore(t *testing.T) {
	old, anew := newMeeting(), newMeeting()
	a, lost := newDevice(old), newDevice(old)
	must(t, Start(t.Context(), a, a.door, "old", "a", "Kitchen", noon))
	must(t, Join(t.Context(), lost, lost.door, "old", "b", "Lost", noon))
	p, err := record.NewPlace("Cellar", noon)
	must(t, err)
	a.keep(t, p)
	a.rounds(t)
	lost.rounds(t)

	a.door = &door{meeting: anew}
	a.Exchange = a.door
	must(t, Lost(t.Context(), a, a.door, "new"))
	st, err := Read(t.Context(), a)
	must(t, err)
	if st.Old != "old" || st.Secret != "new" || st.Left != 1 {
		t.Errorf("after the loss: got %+v", st)
	}
	must(t, Forget(t.Context(), a, &door{meeting: old}))
	p.Notes = "later"
	p.Touch(noon)
	a.keep(t, p)
	a.rounds(t)
	if len(anew.log) < 2 {
		t.Errorf("the new household: got %d versions", len(anew.log))
	}
	if _, err := lost.Do(t.Context()); !refused(err, "no-household") {
		t.Errorf("the lost phone: got %v", err)
	}
	st, err = Read(t.Context(), lost)
	must(t, err)
	if !st.Ended {
		t.Error("the lost phone does not say that it is over")
	}
	if _, err := lost.Do(t.Context()); !errors.Is(err, errOff) {
		t.Errorf("the lost phone asks again: got %v", err)
	}
	if st, err = Read(t.Context(), a); err != nil || st.Old != "" || len(st.Phones) != 1 {
		t.Errorf("got %+v %v", st, err)
	}
}

// What no phone of the household sealed, and what no edition can read, is counted
// and changes nothing; a later edition gets everything again.
func TestWhatIsNoRecord(t *testing.T) {
	m := newMeeting()
	d := newDevice(m)
	must(t, Start(t.Context(), d, d.door, "secret", "a", "Kitchen", noon))
	p, err := record.NewPlace("Cellar", noon)
	must(t, err)
	text, err := p.Encode()
	must(t, err)
	for i, v := range []Version{{Wrong: true}, {Kind: "places", Text: "{"}, {Kind: "settings", Text: "{}"}, {Kind: "gadgets", Text: string(text)}, {Kind: KindPhone, Text: "[]"}, {Kind: "places", Text: string(text)}} {
		v.Place, v.Name = fmt.Sprintf("%d.0", i+1), fmt.Sprint(i)
		m.log = append(m.log, v)
	}
	d.rounds(t)
	st, err := Read(t.Context(), d)
	must(t, err)
	if st.Wrong != 5 || len(d.shelf(t)) != 1 || d.came == 0 {
		t.Errorf("got %d wrong, %d records, came %d times", st.Wrong, len(d.shelf(t)), d.came)
	}
	d.Edition = "2"
	place := st.Place
	m.log[3].Kind, m.log[3].Text = "places", string(text)
	d.rounds(t)
	if st, err = Read(t.Context(), d); err != nil || st.Wrong != 4 || number(st.Place) < number(place) {
		t.Errorf("a later edition: got %d wrong at %s, %v", st.Wrong, st.Place, err)
	}
}

// A record that is too large stays on this phone and is listed; the others are
// still sent, and it is tried again when it has changed.
func TestTooLarge(t *testing.T) {
	m := newMeeting()
	m.large = 1000
	d := newDevice(m)
	must(t, Start(t.Context(), d, d.door, "secret", "a", "Kitchen", noon))
	batch, err := record.NewBatch("peaches", noon)
	must(t, err)
	batch.Notes = string(slices.Repeat([]byte("a"), 1000))
	p, err := record.NewPlace("Cellar", noon)
	must(t, err)
	d.keep(t, batch)
	d.keep(t, p)
	d.rounds(t)
	st, err := Read(t.Context(), d)
	must(t, err)
	if want := key(store.Kind(record.Batches), batch.ID); !slices.Equal(st.TooLarge, []string{want}) || st.Left != 0 {
		t.Errorf("too large: %v, want %s; %d left", st.TooLarge, want, st.Left)
	}
	batch.Notes = "short"
	batch.Touch(noon)
	d.keep(t, batch)
	d.rounds(t)
	if st, err = Read(t.Context(), d); err != nil || len(st.TooLarge) != 0 {
		t.Errorf("too large: got %v, %v", st.TooLarge, err)
	}
}

// A check in which nothing has been said is not sent; what was deleted for good is
// forgotten.
func TestUnansweredChecksStay(t *testing.T) {
	m := newMeeting()
	d := newDevice(m)
	must(t, Start(t.Context(), d, d.door, "secret", "a", "Kitchen", noon))
	c, err := record.NewCheck("green-beans", noon)
	must(t, err)
	c.Edition, c.Lowest, c.Highest = "2026.1", "keep", "discard"
	d.keep(t, &c)
	if _, err := d.Do(t.Context()); err != nil {
		t.Fatal(err)
	}
	if len(m.log) != 1 || m.log[0].Kind != KindPhone {
		t.Errorf("got sent %v", m.log)
	}
	must(t, Noted{Store: d}.Write(t.Context(), []store.Change{{Row: store.Row{Kind: store.Kind(record.Checks), ID: c.ID}, Delete: true}}))
	st, err := Read(t.Context(), d)
	must(t, err)
	if st.Left != 0 {
		t.Errorf("got %d left", st.Left)
	}
}

// A phone says once a day that it is there, and at once that it has a new name.
func TestSeen(t *testing.T) {
	m := newMeeting()
	d := newDevice(m)
	now := noon
	d.Now = func() time.Time { return now }
	must(t, Start(t.Context(), d, d.door, "secret", "a", "Kitchen", now))
	for _, c := range []struct {
		after time.Duration
		name  string
		want  int
	}{{0, "Kitchen", 1}, {seenEvery - time.Second, "Kitchen", 1}, {seenEvery, "Kitchen", 2}, {seenEvery + time.Second, " Cellar ", 3}} {
		now = noon.Add(c.after)
		must(t, Rename(t.Context(), d, c.name))
		d.rounds(t)
		if len(m.log) != c.want {
			t.Errorf("after %v: %d versions, want %d", c.after, len(m.log), c.want)
		}
	}
	st, err := Read(t.Context(), d)
	must(t, err)
	if len(st.Phones) != 1 || st.Phones[0].Name != "Cellar" || !st.Phones[0].Seen.Equal(now) {
		t.Errorf("got %+v", st.Phones)
	}
}

// Someone who joins sees what the shelf has and what this device would give.
func TestCounts(t *testing.T) {
	m := newMeeting()
	a, b := newDevice(m), newDevice(m)
	must(t, Start(t.Context(), a, a.door, "secret", "a", "Kitchen", noon))
	for i := range 5 {
		p, err := record.NewPlace("Cellar", noon)
		must(t, err)
		a.keep(t, p)
		if i == 0 {
			a.rounds(t)
			p.Delete(noon)
			a.keep(t, p)
		}
	}
	a.rounds(t)
	there, err := There(t.Context(), b.door)
	must(t, err)
	here, err := Here(t.Context(), a)
	must(t, err)
	if there[record.Places] != 4 || here[record.Places] != 4 || len(there) != 1 {
		t.Errorf("there %v, here %v, want 4 places", there, here)
	}
	if n, err := There(t.Context(), &door{meeting: newMeeting()}); !refused(err, "no-household") {
		t.Errorf("a shelf that is not shared: got %v, %v", n, err)
	}
}

// A batch that relies on the altitude of its phone takes it along: another phone,
// with a lower one, must not judge it by that. One that has its own keeps it.
func TestBatchesTakeTheirAltitudeAlong(t *testing.T) {
	m := newMeeting()
	a, b := newDevice(m), newDevice(m)
	for d, feet := range map[*device]int{a: 6000, b: 300} {
		settings := record.Settings{Version: record.Version, AltitudeFeet: &feet}
		text, err := settings.Encode()
		must(t, err)
		must(t, d.Memory.Write(t.Context(), []store.Change{{Row: store.Row{Kind: store.KindSettings, ID: record.SettingsID, JSON: text}}}))
	}
	relies, err := record.NewBatch("peaches", noon)
	must(t, err)
	own, err := record.NewBatch("peaches", noon)
	must(t, err)
	low := 500
	own.Feet = &low
	a.keep(t, relies)
	a.keep(t, own)
	must(t, Start(t.Context(), a, a.door, "secret", "a", "Kitchen", noon))
	must(t, Join(t.Context(), b, b.door, "secret", "b", "Cellar", noon))
	a.rounds(t)
	b.rounds(t)
	a.rounds(t)
	for name, d := range map[string]*device{"a": a, "b": b} {
		for batch, want := range map[*record.Batch]int{relies: 6000, own: 500} {
			at, err := d.Memory.Get(t.Context(), store.Kind(record.Batches), batch.ID)
			must(t, err)
			got, err := record.Decode(record.Batches, at.JSON)
			must(t, err)
			if feet := got.(*record.Batch).Feet; feet == nil || *feet != want {
				t.Errorf("on %s: got an altitude of %v, want %d", name, feet, want)
			}
		}
	}
}

// names lists the phones that a device sees in its household.
func (d *device) names(t *testing.T) (names []string) {
	t.Helper()
	st, err := Read(t.Context(), d)
	must(t, err)
	for _, p := range st.Phones {
		if !p.Left {
			names = append(names, p.Name)
		}
	}
	slices.Sort(names)
	return names
}

// What a phone says last counts for the others, however quickly it follows what the
// phone said before, and also when its clock was set back in between.
func TestLastWordsCount(t *testing.T) {
	for _, passes := range []time.Duration{-time.Hour, -time.Second, 0, time.Millisecond, time.Second, time.Hour} {
		t.Run(passes.String(), func(t *testing.T) {
			m := newMeeting()
			a, b := newDevice(m), newDevice(m)
			now := noon
			b.Round.Now = func() time.Time { return now }
			sees := func(want ...string) {
				t.Helper()
				b.rounds(t)
				a.rounds(t)
				if got := a.names(t); !slices.Equal(got, want) {
					t.Errorf("got the phones %q, want %q", got, want)
				}
			}
			must(t, Start(t.Context(), a, a.door, "secret", "a", "Kitchen", now))
			a.rounds(t)
			must(t, Join(t.Context(), b, b.door, "secret", "b", "Cellar", now))
			sees("Cellar", "Kitchen")
			now = now.Add(passes)
			must(t, Rename(t.Context(), b, "Attic"))
			sees("Attic", "Kitchen")
			now = now.Add(passes)
			must(t, Leave(t.Context(), b, b.door, now))
			a.rounds(t)
			if got := a.names(t); !slices.Equal(got, []string{"Kitchen"}) {
				t.Errorf("after one has left: got the phones %q, want Kitchen only", got)
			}
		})
	}
}

// A phone that was seen today says nothing more today, whatever its clock does.
func TestGreetsOnceADay(t *testing.T) {
	m := newMeeting()
	a := newDevice(m)
	now := noon
	a.Round.Now = func() time.Time { return now }
	must(t, Start(t.Context(), a, a.door, "secret", "a", "Kitchen", now))
	for _, c := range []struct {
		after time.Duration
		want  int
	}{{0, 1}, {seenEvery - time.Second, 1}, {seenEvery, 2}, {seenEvery - time.Hour, 2}, {2*seenEvery - time.Second, 2}, {2 * seenEvery, 3}} {
		now = noon.Add(c.after)
		a.rounds(t)
		if got := len(m.log); got != c.want {
			t.Errorf("after %v: got %d greetings, want %d", c.after, got, c.want)
		}
	}
}

// Two pages of a phone that speak in the same second: the one that leaves is right,
// in either order.
func TestLeavingCounts(t *testing.T) {
	here, left := Phone{ID: "a", Seen: noon}, Phone{ID: "a", Seen: noon, Left: true}
	later := Phone{ID: "a", Seen: noon.Add(time.Second)}
	for _, c := range []struct {
		p, q Phone
		want bool
	}{{left, here, true}, {here, left, false}, {here, here, false}, {left, left, false}, {later, left, true}, {left, later, false}} {
		if got := c.p.replaces(&c.q); got != c.want {
			t.Errorf("%+v after %+v: got %v, want %v", c.p, c.q, got, c.want)
		}
	}
}

// What is written on this device wakes what sends it, if the shelf is shared; what
// failed to be written does not.
func TestWritesWake(t *testing.T) {
	d := newDevice(newMeeting())
	woken := 0
	n := Noted{Store: d, Wake: func() { woken++ }}
	place, err := record.NewPlace("Cellar", noon)
	must(t, err)
	text, err := place.Encode()
	must(t, err)
	changes := []store.Change{{Row: store.Row{Kind: store.Kind(record.Places), ID: place.ID, JSON: text}}}
	all := func(put func(store.Change) error) error { return put(changes[0]) }
	must(t, n.Write(t.Context(), changes))
	must(t, n.WriteAll(t.Context(), all))
	if woken > 0 {
		t.Errorf("woken %d times before anything is shared", woken)
	}
	must(t, Start(t.Context(), d, d.door, "secret", "a", "Kitchen", noon))
	must(t, n.Write(t.Context(), changes))
	must(t, n.WriteAll(t.Context(), all))
	if woken != 2 {
		t.Errorf("got woken %d times by two writes, want 2", woken)
	}
	failed := errors.New("no")
	if err := n.WriteAll(t.Context(), func(func(store.Change) error) error { return failed }); !errors.Is(err, failed) || woken != 2 {
		t.Errorf("a write that failed: got %v, woken %d times", err, woken)
	}
}

// Batches that a form writes again, without an altitude, while others are being sent
// are not sent without it either.
func TestNoBatchIsSentWithoutItsAltitude(t *testing.T) {
	m := newMeeting()
	a := newDevice(m)
	feet := 6000
	settings := record.Settings{Version: record.Version, AltitudeFeet: &feet}
	text, err := settings.Encode()
	must(t, err)
	must(t, a.Memory.Write(t.Context(), []store.Change{{Row: store.Row{Kind: store.KindSettings, ID: record.SettingsID, JSON: text}}}))
	var batches []*record.Batch
	for range 3 {
		b, err := record.NewBatch("peaches", noon)
		must(t, err)
		a.keep(t, b)
		batches = append(batches, b)
	}
	must(t, Start(t.Context(), a, a.door, "secret", "a", "Kitchen", noon))
	sent := 0
	a.door.onSend = func() {
		if sent++; sent > 3 {
			return
		}
		for _, b := range batches {
			b.Notes = fmt.Sprint("as the form has it ", sent)
			b.Touch(noon)
			a.keep(t, b)
		}
	}
	a.rounds(t)
	seen := 0
	for _, v := range m.log {
		if v.Kind != string(record.Batches) {
			continue
		}
		seen++
		b, err := record.Decode(record.Batches, []byte(v.Text))
		must(t, err)
		if got := b.(*record.Batch).Feet; got == nil || *got != feet {
			t.Errorf("sent with an altitude of %v: %s", got, v.Text)
		}
	}
	if seen < len(batches) {
		t.Errorf("got %d versions of batches, want %d and more", seen, len(batches))
	}
}
