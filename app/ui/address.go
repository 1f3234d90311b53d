package ui

import (
	"maps"
	"net/url"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Asked returns what the address asks for. The food in a jar and the id of a
// check are behind the #: that part is never sent to the host, where it would
// stay in a log.
func Asked(ctx app.Context) url.Values {
	u := ctx.Page().URL()
	q := u.Query()
	if more, err := url.ParseQuery(u.Fragment); err == nil {
		maps.Copy(q, more)
	}
	return q
}
