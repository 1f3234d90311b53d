package house

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/store"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules/process"
)

// House is what this device keeps: the checks and the settings. It is
// opened by the first page that needs it, never at start, and it goes on
// writing when that page is left.
//
// Contexts passed to it must be those of a page, not of a button: what is
// dispatched for an element that is gone is dropped.
type House struct {
	titles   map[string]string // of the tab, by path
	begin    sync.Once
	begun    bool          // the store is open, or being opened
	ready    chan struct{} // closed once store, status and settings are there
	store    store.Store
	status   store.Status
	Private  string // "yes": what is kept is gone when this window is closed; "no"; or "" where nobody knows
	Settings record.Settings
	Demo     bool // the made-up household is shown
	Shelf    *Shelf
	Deleted  []record.Record // last, can be brought back

	mu      sync.Mutex
	trouble string   // what went wrong last, in plain words
	told    bool     // the trouble has been shown
	passing bool     // the trouble is over once everything is saved
	saved   bool     // everything asked for so far has been written
	unsaved []*write // that failed, the oldest first
	queue   []*write
	asked   int           // counts the writes asked for, here and in other tabs
	writing chan struct{} // closed when the queue is empty; nil while nothing is written

	at       string              // path of the page that is shown
	Screen   screen              // the page that is shown, when it holds something of what is kept
	page     app.Context         // that is shown
	shown    bool                // one is
	moved    bool                // and it is not the one that the browser opened
	back     bool                // the next page is come back to
	replaced string              // address that the page has given itself
	todo     []func(app.Context) // what waits for the UI goroutine
}

// New opens nothing yet. Which household is shown is known from the first draw on:
// a notice that came later would push a button under a finger.
func New(titles map[string]string) *House {
	return &House{titles: titles, ready: make(chan struct{}), Demo: demoChosen()}
}

// demoKey is where the browser keeps that the made-up household is shown.
const demoKey = "larderlamp-demo"

// demoChosen tells whether the made-up household is to be shown. A browser
// that keeps nothing shows the person's own.
func demoChosen() bool {
	v, ok := ui.DeviceItem(demoKey)
	return ok && v == "on"
}

// ShowDemo turns to the made-up household, which is filled on the way, and
// hideDemo back, once everything is written. The page is loaded afresh so that
// nothing of the other is left in memory.
func (h *House) ShowDemo() { h.turnTo("on", "/keeping?demo=fill") }

func (h *House) HideDemo() { h.turnTo("", "/shelf") }

func (h *House) turnTo(demo, path string) {
	h.mu.Lock()
	page := h.page
	h.mu.Unlock()
	h.Settled(page, func(app.Context) {
		ui.SetDeviceItem(demoKey, demo)
		app.Window().Get("location").Call("assign", ui.Link(path))
	})
}

// open opens the store once and then calls f on the UI goroutine.
func (h *House) open(ctx app.Context, f func(app.Context)) {
	h.begin.Do(func() {
		h.begun = true
		go func() {
			answered := make(chan struct{})
			go func() {
				private := privateWindow()
				h.mu.Lock()
				h.Private = private
				h.mu.Unlock()
				close(answered)
				h.onPage(func(app.Context) {})
			}()
			s, status := store.Open(context.Background(), h.Demo)
			h.store, h.status = telling{s}, status
			select {
			case <-answered:
			case <-time.After(time.Second): // a browser that does not say, or says it later
			}
			settings, err := loadSettings(h.store)
			if err != nil {
				h.Complain(ui.Say("Your settings could not be read: %s", ui.Plain(err)))
			}
			h.Settings = settings
			close(h.ready)
		}()
	})
	go func() {
		<-h.ready
		ctx.Dispatch(f)
	}()
}

// opened tells whether store, status and settings are there.
func (h *House) opened() bool {
	select {
	case <-h.ready:
		return true
	default:
		return false
	}
}

func loadSettings(s store.Store) (record.Settings, error) {
	// Until it is said otherwise the unit is that of the reader's country.
	fresh := record.Settings{Version: record.Version, Fahrenheit: app.Window().Get("larderFahrenheit").Truthy()}
	row, err := s.Get(context.Background(), store.KindSettings, record.SettingsID)
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

// write is something to be written. One of records is on the page before it is on
// the device. When it fails it is done again before the next write, and until then
// it is put together with whatever is read: nothing that was said is forgotten as
// long as the page is open. One that makes something new is taken back instead: its
// form is still there, and makes it anew when it is sent again.
type write struct {
	ids  []string                    // of the records, of which a person is told as saved
	do   func(context.Context) error // nil when the records can't be written at all
	show func()                      // puts the records into what is in memory; may be nil
	undo func()                      // takes them out of it, when the write is not to be done again; may be nil
	done func()                      // what follows once it is done, and everything before it; may be nil
	fail func()                      // what follows when it is not; may be nil
}

// within tells whether a later write has everything of this one.
func (w *write) within(later *write) bool {
	for _, id := range w.ids {
		if !slices.Contains(later.ids, id) {
			return false
		}
	}
	return true
}

// Complain keeps what went wrong, for the next time the page is drawn.
func (h *House) Complain(text string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.trouble, h.told, h.passing = text, false, false
}

// refuse says why a record can't be written. Until it is, the page does not say
// that it is saved, whatever else is written.
func (h *House) refuse(err error, id string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.trouble, h.told, h.passing = ui.Say("This could not be saved: %s", ui.Plain(err)), false, false
	h.failed(&write{ids: []string{id}})
}

// failed notes a write of records that failed. The lock is held.
func (h *House) failed(w *write) {
	h.succeeded(w) // what it has of earlier ones is not needed twice
	h.unsaved = append(h.unsaved, w)
}

// succeeded forgets the failed writes of which a later one has everything. The
// lock is held.
func (h *House) succeeded(w *write) {
	h.unsaved = slices.DeleteFunc(h.unsaved, func(u *write) bool { return u.within(w) })
}

// IsUnsaved tells whether the last write of a record failed.
func (h *House) IsUnsaved(id string) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	return slices.ContainsFunc(h.unsaved, func(u *write) bool { return slices.Contains(u.ids, id) })
}

// waiting lists the failed writes that can be done again.
func (h *House) waiting() (ws []*write) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, u := range h.unsaved {
		if u.do != nil {
			ws = append(ws, u)
		}
	}
	return
}

// again does the failed writes again, up to the first that still fails.
func (h *House) again(ctx context.Context) {
	for _, w := range h.waiting() {
		if w.do(ctx) != nil {
			return
		}
		h.mu.Lock()
		h.unsaved = slices.DeleteFunc(h.unsaved, func(u *write) bool { return u == w })
		h.mu.Unlock()
	}
}

// write does a write after all earlier ones, and says so when it fails. It goes
// on when the page that asked for it has been left.
func (h *House) write(ctx app.Context, do func(context.Context) error) {
	h.ask(ctx, &write{do: do})
}

// ask does a write after all earlier ones.
func (h *House) ask(ctx app.Context, w *write) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.queue = append(h.queue, w)
	h.asked++
	h.saved = false // not yet
	if h.writing != nil {
		return
	}
	h.writing = make(chan struct{})
	app.Window().Set("larderWriting", true)
	h.open(ctx, nil)
	go func() {
		<-h.ready
		for {
			h.mu.Lock()
			if len(h.queue) == 0 {
				close(h.writing)
				h.writing = nil
				app.Window().Set("larderWriting", false)
				h.mu.Unlock()
				return
			}
			next := h.queue[0]
			h.queue = h.queue[1:]
			h.mu.Unlock()
			h.carryOut(context.Background(), next)
			h.onPage(func(app.Context) {})
		}
	}()
}

// carryOut does a write, and before it those that failed.
func (h *House) carryOut(ctx context.Context, w *write) {
	done := h.store.Alone(ctx)
	over := false
	slow := time.AfterFunc(mostWait, func() {
		h.mu.Lock()
		if !over {
			h.trouble, h.told, h.passing = "This is not saved yet: the browser has not answered for ten seconds. Keep this page open.", false, true
		}
		h.mu.Unlock()
		h.onPage(func(app.Context) {})
	})
	h.again(ctx)
	err := w.do(ctx)
	slow.Stop()
	done()
	h.mu.Lock()
	defer h.mu.Unlock()
	over = true
	switch {
	case err == nil:
		h.succeeded(w)
	case w.undo != nil:
		h.todo = append(h.todo, func(app.Context) { w.undo() })
		h.trouble, h.told, h.passing = ui.Say("This could not be saved: %s", ui.Plain(err)), false, true
	case len(w.ids) > 0:
		h.failed(w)
		h.trouble, h.told, h.passing = ui.Say("This could not be saved: %s It stays on this page, and is saved as soon as saving works again.", ui.Plain(err)), false, true
	default:
		h.trouble, h.told, h.passing = ui.Say("This could not be saved: %s What you see still works, but only until the page is closed.", ui.Plain(err)), false, false
	}
	if len(h.unsaved) == 0 && err == nil && h.passing {
		h.trouble, h.passing = "", false
	}
	h.saved = err == nil && len(h.queue) == 0 && len(h.unsaved) == 0
	// Nothing is said to be done while something before it is not.
	if good := err == nil && len(h.unsaved) == 0; good && w.done != nil {
		w.done()
	} else if !good && w.fail != nil {
		h.todo = append(h.todo, func(app.Context) { w.fail() })
	}
}

// mostWait is how long a reader waits for what is being written before it. A
// write that hangs holds nobody for longer.
const mostWait = 10 * time.Second

// written waits until the store is open and everything is written that was asked
// for before, so that a page that is opened at once reads what the page before
// it has saved. It must not be called on the UI goroutine.
func (h *House) written() {
	<-h.ready
	h.mu.Lock()
	writing := h.writing
	h.mu.Unlock()
	if writing != nil {
		select {
		case <-writing:
		case <-time.After(mostWait):
		}
	}
}

// AtWork tells whether something is being written, or was, and the page that
// waits for it is about to hear: only a write that failed lets it go on.
func (h *House) AtWork() bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.writing != nil || h.saved && len(h.unsaved) == 0
}

// put keeps a record under its kind and id.
func (h *House) put(ctx app.Context, kind store.Kind, id string, record interface{ Encode() ([]byte, error) }) {
	row, err := record.Encode()
	if err != nil {
		h.refuse(err, id)
		return
	}
	h.ask(ctx, &write{ids: []string{id}, do: func(ctx context.Context) error {
		return h.store.Write(ctx, []store.Change{{Row: store.Row{Kind: kind, ID: id, JSON: row}}})
	}})
}

// Save keeps a check as it is now, and notes it with its jar, both or neither.
// What another tab has said in the same check meanwhile is put together with it.
func (h *House) Save(ctx app.Context, c *record.Check) {
	text, err := c.Encode()
	if err != nil {
		h.refuse(err, c.ID)
		return
	}
	jar, seen := c.Jar, *c
	seen.Answers = slices.Clone(c.Answers) // the session goes on with its own
	show := func() { h.know(jar, func(j *record.Jar) { j.Take(&seen) }) }
	show()
	h.ask(ctx, &write{ids: []string{c.ID}, show: show, do: func(ctx context.Context) error {
		joined, err := h.join(ctx, &seen)
		if err != nil {
			return err
		}
		if joined {
			if text, err = seen.Encode(); err != nil {
				return err
			}
			h.onPage(func(ctx app.Context) {
				show()
				if h.Screen != nil {
					h.Screen.Renew(ctx, func(ctx app.Context) { ctx.Update() })
				}
			})
		}
		changes := []store.Change{{Row: store.Row{Kind: store.KindChecks, ID: seen.ID, JSON: text}}}
		if jar != "" {
			row, err := h.store.Get(ctx, store.KindJars, jar)
			if err == nil {
				j, err := record.DecodeJar(row.JSON)
				if err != nil {
					return err
				}
				j.Take(&seen)
				if row.JSON, err = j.Encode(); err != nil {
					return err
				}
				changes = append(changes, store.Change{Row: row})
			} else if !errors.Is(err, store.ErrNotFound) {
				return err
			}
		}
		return h.store.Write(ctx, changes)
	}})
}

// join puts into a check what is stored of it and was not read, and tells whether
// there was anything.
func (h *House) join(ctx context.Context, c *record.Check) (bool, error) {
	row, err := h.store.Get(ctx, store.KindChecks, c.ID)
	if errors.Is(err, store.ErrNotFound) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	there, err := record.DecodeCheck(row.JSON)
	if err != nil {
		return false, err
	}
	joined, err := c.Join(&there)
	if err != nil || !joined {
		return false, err
	}
	s := session.Resume(*c)
	s.Judge(time.Now())
	*c = s.Check
	return true, nil
}

// mostUnanswered is how many checks are looked through for those without an answer.
const mostUnanswered = 30

// DropUnanswered takes away earlier checks of the same food in which nothing was
// ever said: a link to a food that is opened three times leaves one check.
func (h *House) DropUnanswered(ctx app.Context, begun *record.Check) {
	id, product := begun.ID, begun.Product
	h.write(ctx, func(c context.Context) error {
		rows, err := h.store.List(c, store.KindChecks, store.ListOptions{Newest: true, Limit: mostUnanswered})
		if err != nil {
			return err
		}
		var changes []store.Change
		for _, row := range rows {
			other, err := record.DecodeCheck(row.JSON)
			if err == nil && other.ID != id && other.Product == product && other.Jar == "" && other.Label == "" && len(other.Answers) == 0 && !other.Gone() {
				changes = append(changes, store.Change{Row: row, Delete: true})
			}
		}
		if len(changes) == 0 {
			return nil
		}
		return h.store.Write(c, changes)
	})
}

// know changes a jar in memory as it is about to be changed in the store, so that
// the pages of the shelf show at once what a check has found.
func (h *House) know(jar string, change func(*record.Jar)) {
	if h.Shelf == nil {
		return
	}
	if j := h.Shelf.Jars[jar]; j != nil {
		change(j)
		h.Shelf.Put(j)
		h.Shelf.stale()
	}
}

// Picture keeps a photo and notes it with its jar, both or neither.
func (h *House) Picture(ctx app.Context, photo *record.Photo, done func()) {
	text, err := photo.Encode()
	if err != nil {
		h.Complain(ui.Say("The photo could not be saved: %s", ui.Plain(err)))
		return
	}
	h.write(ctx, func(c context.Context) error {
		row, err := h.store.Get(c, store.KindJars, photo.Jar)
		if err != nil {
			return err
		}
		j, err := record.DecodeJar(row.JSON)
		if err != nil {
			return err
		}
		e, err := j.Add(record.Pictured, photo.At)
		if err != nil {
			return err
		}
		e.Photo, e.Check = photo.ID, photo.Check
		if row.JSON, err = j.Encode(); err != nil {
			return err
		}
		if err := h.store.Write(c, []store.Change{{Row: store.Row{Kind: store.KindPhotos, ID: photo.ID, JSON: text}}, {Row: row}}); err != nil {
			return err
		}
		h.onPage(func(app.Context) {
			h.know(photo.Jar, func(j *record.Jar) { j.Events = append(j.Events, *e) })
			done()
		})
		return nil
	})
}

// Settled calls f once everything written before is done.
func (h *House) Settled(ctx app.Context, f func(app.Context)) {
	h.write(ctx, func(context.Context) error {
		ctx.Dispatch(f)
		return nil
	})
}

// Find fetches a check; the session is nil when this device does not have it.
func (h *House) Find(ctx app.Context, id string, found func(app.Context, *session.Session)) {
	h.open(ctx, nil)
	go func() {
		h.written()
		var s *session.Session
		row, err := h.store.Get(context.Background(), store.KindChecks, id)
		if err == nil {
			var c record.Check
			if c, err = record.DecodeCheck(row.JSON); err == nil {
				s = session.Resume(c)
			}
		}
		if err != nil && !errors.Is(err, store.ErrNotFound) {
			h.Complain(ui.Say("This check could not be read: %s", ui.Plain(err)))
		}
		ctx.Dispatch(func(ctx app.Context) { found(ctx, s) })
	}()
}

// List fetches checks that are not deleted, newest first, older than the one
// with the id given; more tells whether there are older ones still.
func (h *House) List(ctx app.Context, after string, limit int, found func(app.Context, []record.Check, bool)) {
	h.open(ctx, nil)
	go func() {
		h.written()
		var checks []record.Check
		unread, more := 0, true
		for more && len(checks) < limit {
			rows, err := h.store.List(context.Background(), store.KindChecks, store.ListOptions{Newest: true, After: after, Limit: limit})
			if err != nil {
				h.Complain(ui.Say("The checks could not be read: %s", ui.Plain(err)))
				break
			}
			more = len(rows) == limit
			for _, row := range rows {
				after = row.ID
				switch c, err := record.DecodeCheck(row.JSON); {
				case err != nil:
					unread++
				case c.Deleted == nil:
					checks = append(checks, c)
				}
			}
		}
		if unread > 0 {
			h.Complain(ui.Count(unread, "check could not be read. It is left as it is.", "checks could not be read. They are left as they are."))
		}
		ctx.Dispatch(func(ctx app.Context) {
			found(ctx, checks, more)
			ctx.Defer(func(app.Context) { h.settle() })
		})
	}()
}

// SavedWords says where the check is kept.
func (h *House) SavedWords() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	switch {
	case !h.opened() || !h.saved || len(h.unsaved) > 0:
		return ""
	case !h.status.Durable:
		return "Kept only while this page is open"
	case h.Private == "yes":
		return "Saved until this private window is closed"
	}
	return "Saved on this device"
}

// Notices says plainly what is wrong with keeping records, if anything is.
func (h *House) Notices() app.UI {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.told = true
	return ui.Live("",
		ui.Only(h.Demo, func() app.UI {
			return ui.El("p", "notice demo",
				ui.El("span", "", ui.Txt("strong", "", "This is a made-up household. "), ui.El("span", "rest", ui.Prose("Your own jars are where you left them."))),
				ui.Action("button plain", "Back to my own", h.HideDemo),
			)
		}),
		ui.Only(h.opened() && !h.status.Durable, func() app.UI { return ui.Txt("p", "notice", h.status.Message) }),
		ui.Only(h.trouble != "", func() app.UI { return ui.Txt("p", "notice", h.trouble) }),
	)
}

// SavedLimit says until when what was saved is kept, where the browser does not
// tell whether this is a private window.
func (h *House) SavedLimit() string {
	if h.SavedWords() == "" || !h.status.Durable || h.Private != "" {
		return ""
	}
	return "In a private window: until it is closed."
}

// privateWindow tells whether what is kept is gone when the window is closed.
func privateWindow() string {
	if !app.IsClient || !ui.Device().Truthy() {
		return ""
	}
	private, err := ui.Awaited(ui.Device().Call("isPrivate"))
	if err != nil {
		return ""
	}
	return private.String()
}

// AltitudeFeet is the household's altitude, or 0 when it has not been given.
func (h *House) AltitudeFeet() int {
	if !h.opened() || h.Settings.AltitudeFeet == nil {
		return 0
	}
	return *h.Settings.AltitudeFeet
}

// SetAltitude keeps the altitude, given in feet; "0" forgets it.
func (h *House) SetAltitude(ctx app.Context, feet string) {
	n, err := strconv.Atoi(feet)
	if err != nil {
		return
	}
	h.open(ctx, func(ctx app.Context) {
		old := h.Settings.AltitudeFeet
		change := func() {
			h.KeepSettings(ctx, func(s *record.Settings) {
				s.AltitudeFeet = &n
				if n == 0 {
					s.AltitudeFeet = nil
				}
			})
		}
		if old == nil || *old == n {
			change()
			return
		}
		// Whoever moves house judges nothing anew that was canned before.
		h.Shelved(ctx, func(ctx app.Context) {
			if bound := h.Shelf.Unbound(*old, time.Now()); len(bound) > 0 {
				h.Commit(ctx, bound...)
			}
			change()
		})
	})
}

// LastPlace is where the jars of the batch that was recorded last were put; the first
// place when there is none.
func (h *House) LastPlace() string {
	var last *record.Jar
	for _, j := range h.Shelf.Jars {
		if last == nil || j.ID > last.ID {
			last = j
		}
	}
	if last != nil && len(last.Events) > 0 && last.Events[0].What == record.Stored {
		if place := h.Shelf.Places[last.Events[0].Place]; place != nil {
			return place.ID
		}
	}
	for _, place := range h.Shelf.PlaceOrder() {
		if place.What == record.Shelf {
			return place.ID
		}
	}
	return NewPlace
}

// Degrees writes a temperature, given in tenths of a degree Celsius, in the
// household's unit.
func (h *House) Degrees(tenths int) string {
	if h.Settings.Fahrenheit {
		return fmt.Sprintf("%.0f °F", float64(tenths)*0.18+32)
	}
	return ui.Decimal(tenths, 10) + " °C"
}

// Check begins a check of a jar with what the shelf knows already answered, and
// goes to it once it is on the device. The context is that of a page.
func (h *House) Check(ctx app.Context, j *record.Jar) {
	c, err := h.Shelf.NewCheckOf(j, time.Now())
	if err != nil {
		h.Complain(ui.Plain(err))
		return
	}
	h.Keep(ctx, func() { ctx.Navigate(ui.Link("/check#id=" + c.ID)) }, c)
}

// Tenths reads a temperature in the household's unit into tenths of a degree
// Celsius. A half is rounded up: warmer is the stricter side.
func (h *House) Tenths(text string) (int, bool) {
	n := Whole(strings.TrimSpace(text), 10)
	if !n.Known {
		return 0, false
	}
	if !h.Settings.Fahrenheit {
		return n.Low, true
	}
	// (F - 32) / 1.8 in tenths: 10 F is 180 steps of a tenth of a tenth.
	v := (n.Low - 320) * 5
	q := v / 9
	if v > 0 && v%9 != 0 {
		q++
	}
	return q, true
}

// Whole reads a number with at most one decimal, in units of 1/scale. What is
// not such a number is not known.
func Whole(text string, scale int) process.Range {
	n, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	n *= float64(scale)
	// A decimal such as 11.3 is not exact in binary: the nearest whole number is
	// meant, if it is that near.
	if err != nil || math.Abs(n) > 10000 || !(math.Abs(n-math.Round(n)) <= 1e-6) {
		return process.Range{}
	}
	return process.Exactly(int(math.Round(n)))
}

// newPlace is the choice of a place that is not recorded yet.
const NewPlace = "new"

// Sweeping tells whether a sweep is under way and is the one with the id.
func (h *House) Sweeping(id string) bool {
	if h.Shelf == nil {
		return false
	}
	s := walk.Running(h.Shelf.Pantry)
	return s != nil && s.ID == id
}

// pound is in grams.
const Pound = 453.59237

// Grams writes a weight.
func (h *House) Grams(g int) string {
	if h.Settings.Fahrenheit {
		return fmt.Sprintf("%.0f lb", float64(g)/Pound)
	}
	return fmt.Sprintf("%.1f kg", float64(g)/1000)
}
