package exchange

import (
	"errors"
	"net/http"

	"larderlamp/share/store"
)

// refusal is why a request was not met: a word for the program, and a sentence for
// people.
type refusal struct {
	status    int
	Word      string `json:"refused"`
	Say       string `json:"say"`
	TryLater  bool   `json:"try_later,omitempty"`
	StartOver bool   `json:"start_over,omitempty"`
}

var (
	noAddress     = refusal{status: 404, Word: "no-address", Say: "There is nothing at this address of the exchange."}
	noMethod      = refusal{status: 405, Word: "no-method", Say: "This cannot be done at this address of the exchange."}
	noToken       = refusal{status: 401, Word: "no-token", Say: "The request does not say which household it belongs to."}
	wrongToken    = refusal{status: 403, Word: "wrong-token", Say: "The token is not that of this household."}
	noHousehold   = refusal{status: 404, Word: "no-household", Say: "This shelf is not shared here, or not any more."}
	noPlace       = refusal{status: 400, Word: "no-place", Say: "The request does not say after which version. Ask from the beginning.", StartOver: true}
	placeGone     = refusal{status: 410, Word: "place-gone", Say: "The exchange was put back to an earlier day. Ask from the beginning, and send your records again.", StartOver: true}
	tooLarge      = refusal{status: 413, Word: "too-large", Say: "The record is too large to be shared. It stays on this phone."}
	notSealed     = refusal{status: 400, Word: "not-sealed", Say: "This is no sealed version of a record."}
	householdFull = refusal{status: 507, Word: "household-full", Say: "The household has no more room at the exchange. Everything stays on this phone. Share the shelf anew to begin with what is on it today."}
	exchangeFull  = refusal{status: 507, Word: "exchange-full", Say: "The exchange has no more room. Everything stays on this phone.", TryLater: true}
	noMoreHomes   = refusal{status: 507, Word: "no-more-households", Say: "The exchange has no room for another household."}
	fast          = refusal{status: 429, Word: "too-fast", Say: "The exchange is asked too much at the moment.", TryLater: true}
	tooMany       = refusal{status: 503, Word: "too-many-phones", Say: "Too many phones wait for news at this exchange.", TryLater: true}
	notNow        = refusal{status: 503, Word: "not-now", Say: "The exchange cannot reach its log. Everything stays on this phone and is sent later.", TryLater: true}
)

func refuse(w http.ResponseWriter, r refusal) {
	if r.TryLater {
		w.Header().Set("Retry-After", "2")
	}
	answer(w, r.status, r)
}

func tooFast(w http.ResponseWriter) { refuse(w, fast) }

// fault says what is wrong with the journal. What it says in its own words may
// name a household, and is kept back.
func fault(w http.ResponseWriter, err error) {
	switch {
	case errors.Is(err, store.ErrUnknown):
		refuse(w, noHousehold)
	case errors.Is(err, store.ErrNoMore):
		refuse(w, noMoreHomes)
	case errors.Is(err, store.ErrFull):
		refuse(w, exchangeFull)
	default:
		refuse(w, notNow)
	}
}
