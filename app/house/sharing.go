package house

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"github.com/google/uuid"
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

// OnExchange runs something at the exchange off the UI goroutine, and then calls
// done on the page with what went wrong.
func (h *House) OnExchange(ctx app.Context, work func(exchange app.Value) error, done func(error)) {
	h.Open()
	go func() {
		<-h.Opened()
		exchange, err := loaded()
		if err == nil {
			err = work(exchange)
		}
		ctx.Dispatch(func(app.Context) { done(err) })
	}()
}

// ReadSharing reads how this device stands, and calls done on the page.
func (h *House) ReadSharing(ctx app.Context, done func(error)) {
	h.inBackground(ctx, func() func(app.Context) {
		status, err := share.Read(context.Background(), h.below)
		if err == nil {
			h.mu.Lock()
			h.status = status
			h.mu.Unlock()
		}
		return func(app.Context) { done(err) }
	})
}

// BeginSharing starts a household on this device, or joins the one of a code, with a
// name for this phone. It blocks, and must not be called on the goroutine that draws
// the page.
func (h *House) BeginSharing(exchange app.Value, code, name string) error {
	phone, err := uuid.NewV7()
	if err != nil {
		return err
	}
	ctx := context.Background()
	if code == "" {
		secret := exchange.Call("newSecret").String()
		at, err := wayTo(exchange, secret)
		if err == nil {
			err = share.Start(ctx, h.below, at, secret, phone.String(), name, time.Now())
		}
		return h.begun(err)
	}
	secret, at, err := invited(exchange, code)
	if err == nil {
		err = share.Join(ctx, h.below, at, secret, phone.String(), name, time.Now())
	}
	return h.begun(err)
}

// begun starts the rounds if nothing went wrong.
func (h *House) begun(err error) error {
	if err == nil {
		ui.SetDeviceItem(sharedKey, "on")
		h.share()
	}
	return err
}

// Invited counts what the household of a code would give, and what this device would.
// It blocks.
func (h *House) Invited(exchange app.Value, code string) (there, here share.Count, err error) {
	_, at, err := invited(exchange, code)
	if err != nil {
		return nil, nil, err
	}
	ctx := context.Background()
	if there, err = share.There(ctx, at); err != nil {
		return nil, nil, err
	}
	here, err = share.Here(ctx, h.below)
	return there, here, err
}

// Invitation returns the code by which another phone joins. It blocks.
func (h *House) Invitation(exchange app.Value) (string, error) {
	status, err := share.Read(context.Background(), h.below)
	if err != nil || status.Household == nil {
		return "", err
	}
	code, err := ui.Await(exchange.Call("invite", status.Secret))
	if err != nil {
		return "", err
	}
	return code.String(), nil
}

// LeaveSharing ends sharing on this device; everything on the device stays. It
// blocks.
func (h *House) LeaveSharing(exchange app.Value) error {
	h.unshare()
	ctx := context.Background()
	status, err := share.Read(ctx, h.below)
	if err != nil || status.Household == nil {
		return err
	}
	at, err := wayTo(exchange, status.Secret)
	if err == nil {
		err = share.Leave(ctx, h.below, at, time.Now())
	}
	if now, again := share.Read(ctx, h.below); again == nil && now.Household == nil {
		ui.SetDeviceItem(sharedKey, "")
		h.show(now, "")
		return nil // if the others could not be told, it makes no difference to this device
	}
	return err
}

// LosePhone shares the shelf under a new secret, because a phone that knows the
// current one was lost. It blocks.
func (h *House) LosePhone(exchange app.Value) error {
	h.unshare()
	defer h.share()
	secret := exchange.Call("newSecret").String()
	at, err := wayTo(exchange, secret)
	if err == nil {
		err = share.Lost(context.Background(), h.below, at, secret)
	}
	return err
}

// NamePhone gives this phone another name. It blocks.
func (h *House) NamePhone(name string) error {
	defer h.sendSoon()
	return share.Rename(context.Background(), h.below, name)
}

// way is the exchange as the browser reaches it: see static/later/exchange.js.
type way struct{ at app.Value }

func wayTo(exchange app.Value, secret string) (way, error) {
	at, err := ui.Await(exchange.Call("exchangeAt", ui.Prefix+"/", secret))
	return way{at}, err
}

// invited reads a code and gives its secret and the way to its household.
func invited(exchange app.Value, code string) (secret string, at way, err error) {
	v, err := ui.Await(exchange.Call("read", code))
	if err != nil {
		return "", way{}, &share.Refusal{Word: "no-code"}
	}
	at, err = wayTo(exchange, v.String())
	return v.String(), at, err
}

// answer waits for the answer of the exchange.
func answer(promise app.Value) (app.Value, error) {
	v, err := ui.Await(promise)
	if r, ok := errors.AsType[*ui.Rejection](err); ok && r.Value.Get("word").Truthy() {
		return nil, &share.Refusal{
			Word:      r.Value.Get("word").String(),
			StartOver: r.Value.Get("startOver").Bool(), After: time.Duration(r.Value.Get("after").Float() * float64(time.Second)),
		}
	}
	return v, err
}

// Found implements share.Exchange.
func (w way) Found(context.Context) error {
	_, err := answer(w.at.Call("found"))
	return err
}

// Remove implements share.Exchange.
func (w way) Remove(context.Context) error {
	_, err := answer(w.at.Call("remove"))
	return err
}

// Send implements share.Exchange.
func (w way) Send(_ context.Context, kind, text string) (string, uint64, error) {
	v, err := answer(w.at.Call("send", kind, text))
	if err != nil {
		return "", 0, err
	}
	return v.Get("name").String(), uint64(v.Get("number").Float()), nil
}

// List implements share.Exchange.
func (w way) List(_ context.Context, place string) (list []share.Version, err error) {
	v, err := answer(w.at.Call("list", place))
	if err != nil {
		return nil, err
	}
	err = json.Unmarshal([]byte(v.String()), &list)
	return list, err
}

// Wait implements share.Exchange.
func (w way) Wait(ctx context.Context, place string) error {
	stopped := app.FuncOf(func(_ app.Value, args []app.Value) any {
		stop := args[0]
		context.AfterFunc(ctx, func() { stop.Invoke() })
		return nil
	})
	defer stopped.Release()
	_, err := answer(w.at.Call("wait", place, stopped))
	return err
}
