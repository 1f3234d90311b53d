package app

import (
	"encoding/json"
	"errors"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// What a device offers goes through static/device.js. Outside a browser none of
// it is there.

// device is the helper, or nothing.
func device() app.Value { return app.Window().Get("larderDevice") }

// deviceItem reads a small setting of the browser; ok is false when there is no
// browser.
func deviceItem(key string) (value string, ok bool) {
	if !app.IsClient || !device().Truthy() {
		return "", false
	}
	return device().Call("item", key).String(), true
}

func setDeviceItem(key, value string) { device().Call("setItem", key, value) }

// spoken gives the texts of the language the site is published in; nil is
// English.
func spoken() (texts map[string]string) {
	if given := app.Window().Get("larderTexts"); given.Truthy() {
		// What cannot be read stays English.
		_ = json.Unmarshal([]byte(app.Window().Get("JSON").Call("stringify", given).String()), &texts)
	}
	return texts
}

// measured marks a moment in the browser's own record of times, for the
// measurements of `make bench`.
func measured(what string) {
	if app.IsClient {
		app.Window().Get("performance").Call("mark", what)
	}
}

// promised calls back on the page with what a promise comes to, or with what
// went wrong.
func promised(ctx app.Context, promise app.Value, done func(app.Value), failed func(string)) {
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

// awaited waits for a promise. It must not be called on the UI goroutine, nor
// from a callback of the browser.
func awaited(promise app.Value) (app.Value, error) {
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
		ended <- result{err: errors.New(args[0].Get("message").String())}
		return nil
	})
	defer good.Release()
	defer bad.Release()
	promise.Call("then", good, bad)
	r := <-ended
	return r.v, r.err
}

// saveFile offers a text as a file to keep.
func saveFile(name, kind, text string) { device().Call("save", name, kind, text) }

// canShare tells whether the device can share a file of the kind.
func canShare(name, kind string) bool {
	return app.IsClient && device().Truthy() && device().Call("canShare", name, kind).Bool()
}
