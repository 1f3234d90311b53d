package house

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/share"
	"larderlamp/app/store"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// sharing is what a house needs for a shelf that is shared with other phones.
// Nothing is requested or sent until somebody has switched sharing on.
type sharing struct {
	below  store.Store   // the store of this device, below the one that notes changes
	wake   chan struct{} // something waits to be sent
	doing  *rounds       // nil while no rounds run
	alone  bool          // this tab is the one that does the rounds
	status share.Status  // as it was last read
	met    time.Time     // when everything was last in sync
	fault  prose.Text    // problem with the exchange, in plain words, or ""
}

func newSharing() sharing { return sharing{wake: make(chan struct{}, 1)} }

// sendSoon says that there may be something to send.
func (s *sharing) sendSoon() {
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// Sharing is how this device stands with the household it shares its shelf with.
type Sharing struct {
	share.Status
	Met   time.Time  // when everything was last in sync; zero if it never was
	Fault prose.Text // why it is not in sync now, in plain words, or ""
}

// sharedKey is where the browser keeps that the shelf is shared: a device that
// shares nothing need not open the records to find out.
const sharedKey = "larderlamp-shared"

// IsSharing reports whether this device shares its shelf.
func (h *House) IsSharing() bool {
	v, ok := ui.DeviceItem(sharedKey)
	return ok && v == "on" && !h.Demo
}

// ShareAgain resumes sharing where it was switched on.
func (h *House) ShareAgain() {
	if app.IsClient && ui.Device().Truthy() && h.IsSharing() {
		h.share()
	}
}

// rounds are the rounds that run until they are stopped or end by themselves.
type rounds struct{ stop context.CancelFunc }

// share starts rounds with the exchange, off the UI goroutine.
func (h *House) share() {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.doing != nil {
		return
	}
	ctx, stop := context.WithCancel(context.Background())
	doing := &rounds{stop}
	h.doing = doing
	h.Open()
	go func() {
		<-h.Opened()
		h.rounds(ctx)
		h.mu.Lock()
		defer h.mu.Unlock()
		if h.doing == doing {
			h.doing = nil
		}
	}()
}

// unshare ends the rounds.
func (h *House) unshare() {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.doing != nil {
		h.doing.stop()
		h.doing = nil
	}
}

// loaded returns the browser's code for the exchange: see
// static/later/exchange.js.
func loaded() (app.Value, error) {
	v, err := ui.Await(ui.Device().Call("exchange"))
	if err != nil {
		return nil, &share.Refusal{Word: "not-loaded"}
	}
	return v, nil
}

// rounds does rounds until ctx ends, on one page of the site at a time.
func (h *House) rounds(ctx context.Context) {
	exchange, err := loaded()
	if err != nil {
		h.say(ctx, ui.Plain(err))
		return
	}
	mine := make(chan struct{})
	over := make(chan struct{})
	defer close(over)
	var work app.Func
	work = app.FuncOf(func(app.Value, []app.Value) any {
		close(mine)
		go func() {
			<-over
			work.Release()
		}()
		return keptWhen(over) // at once, if the page has stopped by then
	})
	ui.Device().Call("tell", standingAsked)
	exchange.Call("alone", work)
	select {
	case <-mine:
	case <-ctx.Done():
		return
	}
	h.setAlone(true)
	defer h.setAlone(false)
	wait := least
	for ctx.Err() == nil {
		status, err := share.Read(ctx, h.below)
		if err != nil || status.Household == nil || status.Ended {
			h.show(status, "")
			h.tellStanding()
			return
		}
		err = h.round(ctx, exchange, status)
		if err == nil {
			wait = least
			continue
		}
		if refusal, ok := errors.AsType[*share.Refusal](err); ok {
			wait = max(wait, refusal.After)
		}
		h.say(ctx, ui.Plain(err))
		h.tellStanding()
		select {
		case <-ctx.Done():
		case <-time.After(wait):
		}
		wait = min(2*wait, most)
	}
}

// How long a device waits before it asks an exchange again that did not answer.
const (
	least = time.Second
	most  = time.Minute
)

// keptWhen returns a promise that resolves when over is closed.
func keptWhen(over <-chan struct{}) app.Value {
	do := app.FuncOf(func(_ app.Value, args []app.Value) any {
		done := args[0]
		go func() {
			<-over
			done.Invoke()
		}()
		return nil
	})
	defer do.Release()
	return app.Window().Get("Promise").New(do)
}

// round syncs with the others once, and waits until there is something new.
func (h *House) round(ctx context.Context, exchange app.Value, status share.Status) error {
	at, err := wayTo(exchange, status.Secret)
	if err != nil {
		return err
	}
	if status.Old != "" {
		old, err := wayTo(exchange, status.Old)
		if err == nil {
			err = share.Forget(ctx, h.below, old)
		}
		if err != nil {
			return err
		}
	}
	r := share.Round{Store: h.below, Exchange: at, Edition: rules.Edition, Now: time.Now, Came: func() {
		h.Changed()
		app.Window().Get("larderFresh").Call("again")
	}}
	left, err := r.Do(ctx)
	if err != nil {
		return err
	}
	if left == 0 {
		h.mu.Lock()
		h.met = time.Now()
		h.mu.Unlock()
	}
	if status, err = share.Read(ctx, h.below); err != nil {
		return err
	}
	h.show(status, "")
	h.tellStanding()
	waiting, stop := context.WithCancel(ctx)
	defer stop()
	go func() {
		select {
		case <-h.wake:
			// Usually several things are written one after the other.
			select {
			case <-time.After(50 * time.Millisecond):
			case <-waiting.Done():
			}
			stop()
		case <-waiting.Done():
		}
	}()
	return r.Wait(waiting)
}

// show lets the page say how the household stands, and what is in the way, if
// anything.
func (h *House) show(status share.Status, fault prose.Text) {
	h.mu.Lock()
	h.status, h.fault = status, fault
	h.mu.Unlock()
	h.onPage(func(app.Context) {})
}

func (h *House) say(ctx context.Context, fault prose.Text) {
	status, err := share.Read(ctx, h.below)
	if err != nil {
		return
	}
	h.show(status, fault)
}

// SharingNow is how this device stands, as far as it is known.
func (h *House) SharingNow() Sharing {
	h.mu.Lock()
	defer h.mu.Unlock()
	return Sharing{h.status, h.met, h.fault}
}

func (h *House) setAlone(alone bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.alone = alone
}

// standing is how the phone stands with the exchange, as one tab tells the others.
type standing struct {
	Met   time.Time
	Fault prose.Text
}

// tellStanding tells the other tabs how the phone stands with the exchange, if this tab
// is the one that knows.
func (h *House) tellStanding() {
	h.mu.Lock()
	alone := h.alone
	told, err := json.Marshal(standing{h.met, h.fault})
	h.mu.Unlock()
	if alone && err == nil {
		ui.Device().Call("tell", standingTold+string(told))
	}
}

// hearStanding shows how the phone stands with the exchange, as another tab tells.
func (h *House) hearStanding(told string) {
	var s standing
	if err := json.Unmarshal([]byte(told), &s); err != nil || !h.IsSharing() {
		return
	}
	h.mu.Lock()
	alone := h.alone
	if !alone {
		h.met = s.Met
	}
	h.mu.Unlock()
	if alone {
		return
	}
	h.Open()
	go func() {
		<-h.Opened()
		h.say(context.Background(), s.Fault)
	}()
}

// hearOfSharing shows what another tab has changed about the sharing, and shares too
// if it began there.
func (h *House) hearOfSharing() {
	if h.Demo || !h.IsSharing() && h.SharingNow().Household == nil {
		return
	}
	h.ShareAgain()
	h.sendSoon()
	h.Open()
	go func() {
		<-h.Opened()
		h.say(context.Background(), h.SharingNow().Fault)
	}()
}
