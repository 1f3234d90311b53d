// Package exchange connects the phones of a household: it accepts sealed versions
// of records, keeps them in a log, and hands them to the other phones. It can
// withhold or repeat them, but never read or forge them: see testdata/exchange.
//
// It logs nothing about who requests what, neither contents nor addresses.
package exchange

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path"
	"strconv"
	"strings"
	"time"

	"larderlamp/share/store"
)

// Edition is that of the interface, as it stands in its addresses.
const Edition = 1

// Limits are what the exchange allows. A phone is told the ones it needs to know.
type Limits struct {
	Versions  int     // of one household
	Bytes     int64   // of all versions of one household
	Rate      float64 // versions a second of one household, in the long run
	Burst     int     // versions at once
	Founding  float64 // new households a second, of everybody together
	Phones    int     // of one household that wait for news at a time
	Listeners int     // of all households together
	Taking    int     // versions that are being received at a time

	Receive time.Duration // how long the body of a request may take
}

// Household limits for a home, and for a service that many use.
var Usual = Limits{
	Versions: 50_000, Bytes: 512 << 20, Rate: 20, Burst: 2000,
	Founding: 1, Phones: 32, Listeners: 20_000, Taking: 64, Receive: 20 * time.Second,
}

// Sizes are the sizes that a sealed version can have.
var Sizes = []int{1 << 10, 1 << 11, 1 << 12, 1 << 13, 1 << 14, 1 << 15, 1 << 16, 1 << 17, 1 << 18, 1 << 19, Largest}

// Largest is the size of the largest.
const Largest = 1016 << 10

// form is the first byte of a sealed version.
const form = 1

// How much one answer holds; only its last version may go beyond that.
const (
	mostVersions = 500
	mostBytes    = 2 << 20
)

// Exchange answers requests. Any number of them may use one log.
type Exchange struct {
	log    store.Log
	limits Limits
	known  *register
	taking chan struct{} // one for each version that is being received
	ending <-chan struct{}
	routes *http.ServeMux
}

// New makes an exchange, whose answers that wait for news end with ending.
func New(log store.Log, limits Limits, ending <-chan struct{}) (*Exchange, error) {
	e := &Exchange{log, limits, newRegister(log, limits), make(chan struct{}, limits.Taking), ending, http.NewServeMux()}
	if err := log.WhenRemoved(e.known.forget); err != nil {
		return nil, err
	}
	e.routes.HandleFunc("GET /exchange/1", e.about)
	e.routes.HandleFunc("PUT /exchange/1/{household}", e.found)
	e.routes.HandleFunc("DELETE /exchange/1/{household}", e.asMember(e.remove))
	e.routes.HandleFunc("GET /exchange/1/{household}/versions", e.asMember(e.list))
	e.routes.HandleFunc("PUT /exchange/1/{household}/versions/{name}", e.asMember(e.put))
	e.routes.HandleFunc("GET /exchange/1/{household}/news", e.asMember(e.news))
	return e, nil
}

// ServeHTTP answers everything below /exchange/.
func (e *Exchange) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	// A request whose body does not arrive makes room for others. A request without
	// a body gets no deadline: its connection is read to notice when the phone goes
	// away, and a deadline would cut off the phones that wait for news.
	if r.ContentLength != 0 {
		http.NewResponseController(w).SetReadDeadline(time.Now().Add(e.limits.Receive))
	}
	// An address is accepted as it is or not at all: the routes would clean it up
	// and redirect the phone.
	if path.Clean(r.URL.Path) != r.URL.Path {
		refuse(w, noAddress)
		return
	}
	if _, pattern := e.routes.Handler(r); pattern == "" {
		methods := []string{}
		for _, m := range []string{"GET", "PUT", "DELETE"} {
			as := *r
			as.Method = m
			if _, p := e.routes.Handler(&as); p != "" {
				methods = append(methods, m)
			}
		}
		if len(methods) == 0 {
			refuse(w, noAddress)
			return
		}
		h.Set("Allow", strings.Join(methods, ", "))
		refuse(w, noMethod)
		return
	}
	e.routes.ServeHTTP(w, r)
}

// answer sends a value as JSON.
func answer(w http.ResponseWriter, status int, what any) {
	body, err := json.Marshal(what)
	if err != nil {
		refuse(w, notNow)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(append(body, '\n')) // a client that has gone away cannot be told
}

// about tells a phone that there is an exchange here, and its limits.
func (e *Exchange) about(w http.ResponseWriter, r *http.Request) {
	answer(w, http.StatusOK, map[string]any{
		"exchange": Edition, "largest": Largest, "versions": e.limits.Versions, "bytes": e.limits.Bytes,
	})
}

// isName reports whether a text is the address form of that many bytes.
func isName(s string, bytes int) bool {
	b, err := base64.RawURLEncoding.Strict().DecodeString(s)
	return err == nil && len(b) == bytes && base64.RawURLEncoding.EncodedLen(bytes) == len(s)
}

// credentials reads the household of a request, and the digest of its token. It
// answers the request, and returns false, when one of them is missing.
func credentials(w http.ResponseWriter, r *http.Request) (household string, digest []byte, ok bool) {
	household = r.PathValue("household")
	if !isName(household, 16) {
		refuse(w, noAddress)
		return "", nil, false
	}
	token, found := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	if !found || !isName(token, 32) {
		w.Header().Set("WWW-Authenticate", "Bearer")
		refuse(w, noToken)
		return "", nil, false
	}
	sum := sha256.Sum256([]byte(token))
	return household, sum[:], true
}

// member is a request by a phone of a household.
type member struct {
	http.ResponseWriter
	*http.Request
	*household
	id string
}

// asMember answers requests of those who have the household's token. What was
// stored of it is a digest, and so is what is compared.
func (e *Exchange) asMember(f func(member)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		id, digest, ok := credentials(w, r)
		if !ok {
			return
		}
		h, err := e.known.get(r.Context(), id)
		if h.opens(w, digest, err) {
			f(member{w, r, h, id})
		}
	}
}

// opens reports whether a token opens the household that was looked up, and answers
// if it does not.
func (h *household) opens(w http.ResponseWriter, digest []byte, err error) bool {
	switch {
	case err != nil:
		fault(w, err)
	case subtle.ConstantTimeCompare(h.digest, digest) != 1:
		refuse(w, wrongToken)
	default:
		return true
	}
	return false
}

// found creates a household. Creating it again with the same token changes nothing.
func (e *Exchange) found(w http.ResponseWriter, r *http.Request) {
	id, digest, ok := credentials(w, r)
	if !ok {
		return
	}
	h, err := e.known.get(r.Context(), id)
	if errors.Is(err, store.ErrUnknown) {
		if !e.known.founding.Allow() {
			tooFast(w)
			return
		}
		err = e.log.Found(r.Context(), id, digest)
		if err == nil {
			answer(w, http.StatusCreated, map[string]any{"founded": true})
			return
		}
		if errors.Is(err, store.ErrTaken) { // by another request just now
			h, err = e.known.get(r.Context(), id)
		}
	}
	if h.opens(w, digest, err) {
		answer(w, http.StatusOK, map[string]any{"founded": false})
	}
}

// remove forgets a household: the way of those who have lost a phone and share
// under another secret, and of those who stop.
func (e *Exchange) remove(m member) {
	if err := e.log.Remove(m.Context(), m.id); err != nil {
		fault(m.ResponseWriter, err)
		return
	}
	e.known.forget(m.id)
	m.WriteHeader(http.StatusNoContent)
}

// put takes one sealed version.
func (e *Exchange) put(m member) {
	name := m.PathValue("name")
	if !isName(name, sha256.Size) {
		refuse(m.ResponseWriter, noAddress)
		return
	}
	if m.ContentLength > Largest {
		refuse(m.ResponseWriter, tooLarge)
		return
	}
	if !m.writing.Allow() {
		tooFast(m.ResponseWriter)
		return
	}
	select {
	case e.taking <- struct{}{}:
		defer func() { <-e.taking }()
	default:
		tooFast(m.ResponseWriter)
		return
	}
	version, err := io.ReadAll(http.MaxBytesReader(m.ResponseWriter, m.Body, Largest))
	if _, large := errors.AsType[*http.MaxBytesError](err); large {
		refuse(m.ResponseWriter, tooLarge)
		return
	}
	// From here on, any delay is the log's.
	http.NewResponseController(m.ResponseWriter).SetReadDeadline(time.Time{})
	if err != nil || !isSealed(version) {
		refuse(m.ResponseWriter, notSealed)
		return
	}
	if !m.reserve(int64(len(version)), e.limits) {
		refuse(m.ResponseWriter, householdFull)
		return
	}
	number, fresh, err := e.log.Put(m.Context(), m.id, name, version)
	if !fresh {
		m.release(int64(len(version)))
	}
	if err != nil {
		fault(m.ResponseWriter, err)
		return
	}
	status := http.StatusOK
	if fresh {
		status = http.StatusCreated
		if !m.stored(number) {
			if err := e.log.Forget(m.Context(), m.id, []uint64{number}); err != nil {
				fault(m.ResponseWriter, err)
			} else {
				refuse(m.ResponseWriter, noHousehold)
			}
			return
		}
	}
	answer(m.ResponseWriter, status, map[string]any{"number": number})
}

// isSealed reports whether this can be a sealed version. Only a phone that has the
// key can tell whether it is one.
func isSealed(version []byte) bool {
	for _, size := range Sizes {
		if len(version) == size {
			return version[0] == form
		}
	}
	return false
}

// at is a place in the log as phones have it: its number, and when it was given
// out. A log that was put back from a backup gives its numbers out once more, and a
// phone that has been further must not skip what is there now.
func at(number uint64, stored time.Time) string {
	return fmt.Sprintf("%d.%d", number, stored.UnixNano())
}

// after finds the place that a phone which wants to read has got to; "" is the
// beginning. It answers, and returns false, when there is none or the phone reads too
// fast.
func (e *Exchange) after(m member) (uint64, bool) {
	if !m.reading.Allow() {
		tooFast(m.ResponseWriter)
		return 0, false
	}
	text := m.URL.Query().Get("after")
	if text == "" {
		return 0, true
	}
	first, _, _ := strings.Cut(text, ".")
	place, err := strconv.ParseUint(first, 10, 64)
	if err != nil || place == 0 || place > 1<<62 || len(text) > 50 {
		refuse(m.ResponseWriter, noPlace)
		return 0, false
	}
	switch stored, err := e.log.Stored(m.Context(), m.id, place); {
	case errors.Is(err, store.ErrNotThere), err == nil && at(place, stored) != text:
		refuse(m.ResponseWriter, placeGone)
		return 0, false
	case err != nil:
		fault(m.ResponseWriter, err)
		return 0, false
	}
	return place, true
}

// sent is a version as a phone gets it.
type sent struct {
	Place  string `json:"place"`
	Name   string `json:"name"`
	Sealed []byte `json:"sealed"` // in base64
}

// list sends what is new after a place, from the oldest on. A phone asks again
// until nothing more comes.
func (e *Exchange) list(m member) {
	place, ok := e.after(m)
	if !ok {
		return
	}
	if err := e.log.CatchUp(m.Context()); err != nil {
		fault(m.ResponseWriter, err)
		return
	}
	found, err := e.log.After(m.Context(), m.id, place, mostVersions, mostBytes)
	if err != nil {
		fault(m.ResponseWriter, err)
		return
	}
	list := make([]sent, len(found))
	for i, v := range found {
		list[i] = sent{at(v.Number, v.Stored), v.Name, v.Sealed}
	}
	answer(m.ResponseWriter, http.StatusOK, map[string]any{"versions": list})
}
