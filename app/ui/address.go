package ui

import (
	"maps"
	"net/url"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Asked returns what the address asks for. What is in a jar, and which check is
// meant, stand behind the #: that part is never sent to the host, in whose log it
// would stay.
func Asked(ctx app.Context) url.Values {
	u := ctx.Page().URL()
	q := u.Query()
	if more, err := url.ParseQuery(u.Fragment); err == nil {
		maps.Copy(q, more)
	}
	return q
}
