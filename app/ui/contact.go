package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// ContactVariable is the name under which a page tells the program where faults are
// reported.
const ContactVariable = "LARDERLAMP_CONTACT"

// ContactAddress is where faults are reported on the site whose pages are being made: the
// https address of a page, or mailto: with an e-mail address; "" when its publisher
// has said nothing.
var ContactAddress string

// Contact says where to report a fault, or nothing where nobody has said.
func Contact() app.UI {
	address := ContactAddress
	if app.IsClient {
		address = app.Getenv(ContactVariable)
	}
	return Only(address != "", func() app.UI {
		return El("p", "contact",
			Prose("Report faults here: "),
			app.A().Href(address).Attr("translate", "no").Text(strings.TrimPrefix(address, "mailto:")))
	})
}

// Translated says of every language but English that nobody has reviewed it yet, and
// where to report a fault.
func Translated(class string) app.UI {
	return El("div", class, Txt("p", "", Unreviewed), Contact())
}
