package house

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/share"
	"larderlamp/app/ui"
)

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
