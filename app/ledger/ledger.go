package ledger

import (
	"context"
	"errors"
	"strconv"
	"sync"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/rules/prose"
)

// Ledger is what this device stores: the checks, the shelf and the settings. The
// first page that needs it opens it, never the start, and it keeps writing when
// that page is left.
type Ledger struct {
	queue
	opening  func() (store.Store, store.Status)
	once     sync.Once
	begun    bool // the store is open, or being opened
	Demo     bool // the made-up household is shown
	store    store.Store
	status   store.Status
	fresh    func() record.Settings // until something else is set
	Settings record.Settings
	Shelf    *Shelf
	Deleted  []record.Record // last, can be brought back
}

// New opens nothing yet: Open does, once, off the page's goroutine. The settings
// are the defaults until something else is set.
func New(page Page, open func() (store.Store, store.Status), fresh func() record.Settings) *Ledger {
	l := &Ledger{opening: open, fresh: fresh}
	l.queue = queue{page: page, ready: make(chan struct{}), begin: l.Open}
	l.lock = func(ctx context.Context) func() { return l.store.Lock(ctx) }
	return l
}

// InMemory is a ledger that is open, holds what is given and saves nothing: for
// drawing the screens without a browser.
func InMemory(p *pantry.Pantry) *Ledger {
	l := New(noPage{}, nil, nil)
	l.once.Do(func() {})
	close(l.ready)
	l.store, l.status = store.NewMemory(), store.Status{Durable: true}
	l.Shelf = &Shelf{Pantry: p, Loaded: true, page: noPage{}}
	return l
}

// Open starts to open the store, once.
func (l *Ledger) Open() {
	l.once.Do(func() {
		l.begun = true
		go func() {
			l.store, l.status = l.opening()
			settings, err := l.readSettings()
			if err != nil {
				l.complainOfSettings(err)
			}
			l.Settings = settings
			close(l.ready)
		}()
	})
}

// Opened is closed once store, status and settings are available.
func (l *Ledger) Opened() <-chan struct{} { return l.ready }

// IsBegun reports whether the store is open, or being opened.
func (l *Ledger) IsBegun() bool { return l.begun }

// IsOpen reports whether store, status and settings are available.
func (l *Ledger) IsOpen() bool {
	select {
	case <-l.ready:
		return true
	default:
		return false
	}
}

// Status says whether and how this device keeps records. It is known once the
// ledger is open.
func (l *Ledger) Status() store.Status { return l.status }

// Saved reports whether everything asked for so far has been written.
func (l *Ledger) Saved() bool { return l.IsOpen() && l.allSaved() }

// readSettings reads the settings; when there are none, or when they can't be read,
// it returns the defaults.
func (l *Ledger) readSettings() (record.Settings, error) {
	fresh := l.fresh()
	row, err := l.store.Get(context.Background(), store.KindSettings, record.SettingsID)
	if errors.Is(err, store.ErrNotFound) {
		return fresh, nil
	}
	if err != nil {
		return fresh, err
	}
	settings, err := record.DecodeSettings(row.JSON)
	if err != nil {
		return fresh, err
	}
	return settings, nil
}

func (l *Ledger) complainOfSettings(err error) {
	l.Complain(prose.Say("Your settings could not be read: %s", prose.Plain(err)))
}

// KeepSettings changes the settings and saves them.
func (l *Ledger) KeepSettings(change func(*record.Settings)) {
	if !l.IsOpen() {
		return
	}
	change(&l.Settings)
	l.Settings.Changed = time.Now().UTC()
	l.Settings.Revision++
	if l.Shelf != nil {
		l.Shelf.SetSettings(l.Settings)
		l.Shelf.stale()
	}
	text, err := l.Settings.Encode()
	if err != nil {
		l.refuse(err, record.SettingsID)
		return
	}
	l.ask(&write{ids: []string{record.SettingsID}, do: func(ctx context.Context) error {
		return l.store.Write(ctx, []store.Change{{Row: store.Row{Kind: store.KindSettings, ID: record.SettingsID, JSON: text}}})
	}})
}

// AltitudeFeet is the household's altitude, or 0 when it has not been given.
func (l *Ledger) AltitudeFeet() int {
	if !l.IsOpen() || l.Settings.AltitudeFeet == nil {
		return 0
	}
	return *l.Settings.AltitudeFeet
}

// SetAltitude saves the altitude, given in feet; "0" clears it.
func (l *Ledger) SetAltitude(feet string) {
	n, err := strconv.Atoi(feet)
	if err != nil {
		return
	}
	l.Open()
	go func() {
		<-l.ready
		l.page.Do(func() { l.setAltitude(n) })
	}()
}

func (l *Ledger) setAltitude(feet int) {
	old := l.Settings.AltitudeFeet
	change := func() {
		l.KeepSettings(func(s *record.Settings) {
			s.AltitudeFeet = &feet
			if feet == 0 {
				s.AltitudeFeet = nil
			}
		})
	}
	if old == nil || *old == feet {
		change()
		return
	}
	// A move to a new home does not change the judgment of what was canned
	// before.
	l.WithShelf(func() {
		if bound := l.Shelf.BatchesWithoutAltitude(*old, time.Now()); len(bound) > 0 {
			l.Commit(bound...)
		}
		change()
	})
}

// Renew reads again whatever may have changed without the page knowing, and then
// calls done on the page.
func (l *Ledger) Renew(done func()) {
	if !l.begun {
		done()
		return
	}
	if len(l.waiting()) > 0 { // there may be room now
		l.write(func(context.Context) error { return nil })
	}
	go func() {
		l.written()
		asked := l.count()
		settings, err := l.readSettings()
		if err != nil {
			l.complainOfSettings(err)
		}
		l.page.Do(func() {
			if l.count() != asked { // The settings may be among what was written in between.
				l.Renew(done)
				return
			}
			if err == nil && !l.IsUnsaved(record.SettingsID) {
				l.Settings = settings
			}
			if l.Shelf == nil {
				done()
				return
			}
			l.Shelf.Loaded = false
			l.Shelf.waiting = append(l.Shelf.waiting, done)
			l.load()
		})
	}()
}

// NewPlace is the choice of a place that is not recorded yet.
const NewPlace = "new"

// LastPlace is where the jars of the last recorded batch were put, or the first place
// when there is none.
func (l *Ledger) LastPlace() string {
	var last *record.Jar
	for _, j := range l.Shelf.Jars {
		if last == nil || j.ID > last.ID {
			last = j
		}
	}
	if last != nil && len(last.Events) > 0 && last.Events[0].What == record.Stored {
		if place := l.Shelf.Places[last.Events[0].Place]; place != nil {
			return place.ID
		}
	}
	for _, place := range l.Shelf.PlaceOrder() {
		if place.What == record.Shelf {
			return place.ID
		}
	}
	return NewPlace
}
