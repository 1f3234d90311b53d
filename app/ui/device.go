package ui

import (
	"larderlamp/rules/prose"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// What a device offers goes through static/device.js. Outside a browser none of
// it exists.

// Device is the helper, or nothing.
func Device() app.Value { return app.Window().Get("larderDevice") }

// DeviceItem reads a small setting of the browser; ok is false when there is no
// browser.
func DeviceItem(key string) (value string, ok bool) {
	if !app.IsClient || !Device().Truthy() {
		return "", false
	}
	return Device().Call("item", key).String(), true
}

func SetDeviceItem(key, value string) { Device().Call("setItem", key, value) }

// MarkTime marks a moment in the browser's own record of times, for the
// measurements of `make bench`.
func MarkTime(what string) {
	if app.IsClient {
		app.Window().Get("performance").Call("mark", what)
	}
}

// OnPromise calls back on the page with the result of a promise, or with what
// went wrong.
func OnPromise(ctx app.Context, promise app.Value, done func(app.Value), failed func(string)) {
	var good, bad app.Func
	release := func() { good.Release(); bad.Release() }
	good = app.FuncOf(func(_ app.Value, args []app.Value) any {
		v := args[0]
		ctx.Dispatch(func(app.Context) {
			release()
			done(v)
		})
		return nil
	})
	bad = app.FuncOf(func(_ app.Value, args []app.Value) any {
		text := args[0].Get("message").String()
		ctx.Dispatch(func(app.Context) {
			release()
			failed(text)
		})
		return nil
	})
	promise.Call("then", good, bad)
}

// Rejection is the reason of a rejected promise.
type Rejection struct{ Value app.Value }

func (r *Rejection) Error() string { return r.Value.Get("message").String() }

// Await waits for a promise. An error is a Rejection. It must not be called on the UI goroutine, nor
// from a callback of the browser.
func Await(promise app.Value) (app.Value, error) {
	type result struct {
		v   app.Value
		err error
	}
	ended := make(chan result, 1)
	good := app.FuncOf(func(_ app.Value, args []app.Value) any {
		ended <- result{v: args[0]}
		return nil
	})
	bad := app.FuncOf(func(_ app.Value, args []app.Value) any {
		ended <- result{err: &Rejection{args[0]}}
		return nil
	})
	defer good.Release()
	defer bad.Release()
	promise.Call("then", good, bad)
	r := <-ended
	return r.v, r.err
}

// SaveFile offers a text as a file to keep.
func SaveFile(name, kind, text string) { Device().Call("save", name, kind, text) }

// CanShare reports whether the device can share a file of the kind.
func CanShare(name, kind string) bool {
	return app.IsClient && Device().Truthy() && Device().Call("canShare", name, kind).Bool()
}

// ForgetsWords says what the browser of this device does with the data of a
// page, and what to do about it; "" for a browser that keeps the data.
func ForgetsWords() prose.Text {
	if !app.IsClient || !Device().Truthy() {
		return ""
	}
	switch Device().Call("forgets").String() {
	case "ios":
		return "An iPhone or iPad deletes what a page keeps after seven days without opening it. Put the guide on the Home Screen, and it stays. Save a backup here. Touch Share, then Add to Home Screen. Open the guide from there, and bring the backup in. The guide on the Home Screen does not see what is kept here."
	case "mac":
		return "This browser deletes what a page keeps after seven days without opening it. Add the guide to the Dock, and it stays. Save a backup here. Choose File, then Add to Dock. Open the guide from there, and bring the backup in. The guide in the Dock does not see what is kept here."
	}
	return ""
}

// PhoneKeepsTwo reports whether labels read by the camera app open in a place
// with other data than the guide on the Home Screen.
func PhoneKeepsTwo() bool { return app.IsClient && Device().Truthy() && Device().Call("apple").Bool() }
