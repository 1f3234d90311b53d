package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// updateNotice offers a new edition of the guide once it has been stored whole.
// It never takes over by itself: an update can change advice.
type updateNotice struct {
	app.Compo
	waiting bool
	stop    func()
}

func (n *updateNotice) OnMount(ctx app.Context) {
	look := func() {
		if u := app.Window().Get("larderUpdate"); u.Truthy() {
			n.waiting = u.Get("waiting").Bool()
		}
	}
	look()
	heard := app.FuncOf(func(app.Value, []app.Value) any {
		ctx.Dispatch(func(app.Context) { look() })
		return nil
	})
	document := app.Window().Get("document")
	document.Call("addEventListener", "larder-update", heard)
	n.stop = func() {
		document.Call("removeEventListener", "larder-update", heard)
		heard.Release()
	}
}

func (n *updateNotice) OnDismount() {
	if n.stop != nil {
		n.stop()
	}
}

func (n *updateNotice) Render() app.UI {
	return live("", only(n.waiting, func() app.UI {
		return el("p", "notice",
			app.Text("A new edition of this guide is ready. Advice may have changed; your checks stay. "),
			action("button plain", "Use it now", func() { app.Window().Get("larderUpdate").Call("take") }),
		)
	}))
}
