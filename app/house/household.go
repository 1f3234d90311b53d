package house

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/share"
	"larderlamp/app/ui"
)

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
