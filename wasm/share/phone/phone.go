// Package phone is a phone of a household as the exchange sees it, for tests and load
// measurements: it seals what was changed, sends it, and merges what it receives into
// what it has, with the merge of app/record. The pages do the same.
package phone

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"larderlamp/app/record"
	"larderlamp/share/sealed"
)

// Phone is one phone. Everything but its household and its way to the exchange is
// on its disk: a phone that is started again has it.
type Phone struct {
	keys   *sealed.Keys
	client *http.Client
	base   string // the address of the exchange
	Disk   Disk
}

// Disk is what a phone has stored.
type Disk struct {
	Shelf map[string][]byte // records as JSON, by kind and id
	// Unmet is what has not come back out of the log yet, and the name under which
	// the exchange said that it has it, or "". Only what came back is there for
	// everybody: what was taken may be lost when a log is put back from a backup.
	Unmet map[string]string
	Place string // the place up to which the phone has everything
	Wrong int    // versions that did not open
}

// Clone copies a disk.
func (d Disk) Clone() Disk {
	d.Shelf, d.Unmet = maps.Clone(d.Shelf), maps.Clone(d.Unmet)
	return d
}

// New gives a phone with an empty shelf.
func New(secret sealed.Secret, base string, client *http.Client) (*Phone, error) {
	keys, err := secret.Keys()
	if err != nil {
		return nil, err
	}
	return &Phone{keys, client, base, Disk{Shelf: map[string][]byte{}, Unmet: map[string]string{}}}, nil
}

// Refused is what the exchange answers instead of doing what it was asked.
type Refused struct {
	Status    int
	Word      string `json:"refused"`
	Say       string `json:"say"`
	StartOver bool   `json:"start_over"`
}

func (r *Refused) Error() string { return fmt.Sprintf("%d %s: %s", r.Status, r.Word, r.Say) }

// most is the longest answer that a phone reads: two megabytes of versions and one
// more, in base64.
const most = 8 << 20

// send sends a request to the household at the exchange.
func (p *Phone) send(ctx context.Context, method, path string, body []byte) (*http.Response, error) {
	r, err := http.NewRequestWithContext(ctx, method, p.base+"/exchange/1/"+p.keys.Household+path, bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	r.Header.Set("Authorization", "Bearer "+p.keys.Token)
	return p.client.Do(r)
}

// ask sends a request and reads the answer into v.
func (p *Phone) ask(ctx context.Context, method, path string, body []byte, v any) error {
	answer, err := p.send(ctx, method, path, body)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(io.LimitReader(answer.Body, most))
	if err != nil {
		return err
	}
	if answer.StatusCode/100 != 2 {
		refused := &Refused{Status: answer.StatusCode}
		if err := json.Unmarshal(text, refused); err != nil || refused.Word == "" {
			return fmt.Errorf("status %d, and not by an exchange", answer.StatusCode)
		}
		return refused
	}
	if v == nil {
		return nil
	}
	if err := json.Unmarshal(text, v); err != nil {
		return fmt.Errorf("no answer of an exchange: %w", err)
	}
	return nil
}

// Found makes the household at the exchange.
func (p *Phone) Found(ctx context.Context) error { return p.ask(ctx, "PUT", "", nil, nil) }

// Remove makes the exchange forget the household.
func (p *Phone) Remove(ctx context.Context) error { return p.ask(ctx, "DELETE", "", nil, nil) }

// key names a record on a shelf.
func key(r record.Record) string { return string(r.Kind()) + "/" + r.Key() }

// Record reads a record of the shelf.
func (p *Phone) Record(kind record.Kind, id string) (record.Record, error) {
	return record.Decode(kind, p.Disk.Shelf[string(kind)+"/"+id])
}

// Keep stores a record that was changed on this phone. It is to be sent.
func (p *Phone) Keep(r record.Record) error {
	text, err := r.Encode()
	if err != nil {
		return err
	}
	p.Disk.Shelf[key(r)], p.Disk.Unmet[key(r)] = text, ""
	return nil
}

// Seal seals a record of the shelf.
func (p *Phone) Seal(key string) (name string, version []byte, err error) {
	kind, _, _ := bytes.Cut([]byte(key), []byte("/"))
	return p.keys.Seal(string(kind), p.Disk.Shelf[key])
}

// Put sends one sealed version and gives its number in the log.
func (p *Phone) Put(ctx context.Context, name string, version []byte) (number uint64, err error) {
	var got struct{ Number uint64 }
	if err := p.ask(ctx, "PUT", "/versions/"+name, version, &got); err != nil {
		return 0, err
	}
	if got.Number == 0 {
		return 0, fmt.Errorf("version %.8s: it was given no number", name)
	}
	return got.Number, nil
}

// number is that of a place in the log.
func number(place string) (n uint64) {
	text, _, _ := strings.Cut(place, ".")
	n, _ = strconv.ParseUint(text, 10, 64) // "" is the beginning
	return n
}

// Send sends what the exchange has not said it has, and gives the names of what
// it said it has.
func (p *Phone) Send(ctx context.Context) (names []string, err error) {
	for _, key := range slices.Sorted(maps.Keys(p.Disk.Unmet)) {
		if p.Disk.Unmet[key] != "" {
			continue
		}
		name, version, err := p.Seal(key)
		if err != nil {
			return names, err
		}
		at, err := p.Put(ctx, name, version)
		if err != nil {
			return names, err
		}
		names = append(names, name)
		if at <= number(p.Disk.Place) {
			delete(p.Disk.Unmet, key) // it came out of the log before
		} else {
			p.Disk.Unmet[key] = name
		}
	}
	return names, nil
}

// Sent is a version as it comes from the exchange.
type Sent struct {
	Place  string `json:"place"`
	Name   string `json:"name"`
	Sealed []byte `json:"sealed"`
}

// List asks for what follows a place.
func (p *Phone) List(ctx context.Context, place string) ([]Sent, error) {
	var got struct {
		Versions *[]Sent `json:"versions"`
	}
	if err := p.ask(ctx, "GET", "/versions?after="+place, nil, &got); err != nil {
		return nil, err
	}
	if got.Versions == nil {
		return nil, errors.New("no answer of an exchange: it has no versions")
	}
	return *got.Versions, nil
}

// Fetch asks for what is new once. It tells whether there may be more.
func (p *Phone) Fetch(ctx context.Context) (more bool, err error) {
	list, err := p.List(ctx, p.Disk.Place)
	if r, ok := err.(*Refused); ok && r.StartOver {
		// The exchange was put back to an earlier day: it gets everything again.
		p.Disk.Place = ""
		for key := range p.Disk.Shelf {
			p.Disk.Unmet[key] = ""
		}
		return true, nil
	}
	if err != nil {
		return false, err
	}
	for _, v := range list {
		p.Receive(v)
	}
	if len(list) > 0 {
		return true, nil
	}
	for key := range p.Disk.Unmet {
		p.Disk.Unmet[key] = "" // it is not in the log any longer
	}
	return false, nil
}

// Catch fetches until nothing more is new.
func (p *Phone) Catch(ctx context.Context) error {
	for {
		if more, err := p.Fetch(ctx); err != nil || !more {
			return err
		}
	}
}

// Receive merges a version into the shelf. One that does not open, or is not a
// record, is counted and ignored: it cannot be from this household.
func (p *Phone) Receive(v Sent) {
	if err := p.merge(v); err != nil {
		p.Disk.Wrong++
	}
	p.Disk.Place = v.Place
}

func (p *Phone) merge(v Sent) error {
	kind, text, err := p.keys.Open(v.Name, v.Sealed)
	if err != nil {
		return err
	}
	theirs, err := record.Decode(record.Kind(kind), text)
	if err != nil {
		return err
	}
	if ours := p.Disk.Shelf[key(theirs)]; ours != nil {
		mine, err := record.Decode(record.Kind(kind), ours)
		if err != nil {
			return err
		}
		if theirs, err = record.Merge(mine, theirs); err != nil {
			return err
		}
	}
	merged, err := theirs.Encode()
	if err != nil {
		return err
	}
	p.Disk.Shelf[key(theirs)] = merged
	if p.Disk.Unmet[key(theirs)] == v.Name {
		delete(p.Disk.Unmet, key(theirs))
	}
	return nil
}
