package app

import (
	"context"
	"errors"
	"strconv"
	"sync"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/app/store"
)

// household is what this device keeps: the checks and the settings. It is
// opened by the first page that needs it, never at start.
type household struct {
	store    store.Store
	status   store.Status
	settings pantry.Settings
	opening  bool
	waiting  []func(app.Context)
	trouble  string // what went wrong last, in plain words
	saved    bool   // something has been saved since the page was opened

	queue sync.Mutex // keeps writes in the order they were made
	left  []func(context.Context) error
	busy  bool
}

// open opens the store once and then calls ready on the UI goroutine.
func (h *household) open(ctx app.Context, ready func(app.Context)) {
	if h.store != nil {
		ready(ctx)
		return
	}
	h.waiting = append(h.waiting, ready)
	if h.opening {
		return
	}
	h.opening = true
	ctx.Async(func() {
		s, status := store.Open(context.Background())
		settings, err := loadSettings(s)
		ctx.Dispatch(func(ctx app.Context) {
			h.store, h.status, h.settings, h.opening = s, status, settings, false
			if err != nil {
				h.trouble = "Your settings could not be read: " + plain(err)
			}
			for _, f := range h.waiting {
				f(ctx)
			}
			h.waiting = nil
		})
	})
}

func loadSettings(s store.Store) (pantry.Settings, error) {
	row, err := s.Get(context.Background(), store.KindSettings, pantry.SettingsID)
	if errors.Is(err, store.ErrNotFound) {
		return pantry.Settings{Version: pantry.Version}, nil
	}
	if err != nil {
		return pantry.Settings{}, err
	}
	return pantry.DecodeSettings(row.JSON)
}

// write does a write after all earlier ones, and says so when it fails.
func (h *household) write(ctx app.Context, do func(context.Context) error) {
	h.queue.Lock()
	defer h.queue.Unlock()
	h.left = append(h.left, do)
	if h.busy {
		return
	}
	h.busy = true
	ctx.Async(func() {
		for {
			h.queue.Lock()
			if len(h.left) == 0 {
				h.busy = false
				h.queue.Unlock()
				return
			}
			next := h.left[0]
			h.left = h.left[1:]
			h.queue.Unlock()
			err := next(context.Background())
			ctx.Dispatch(func(app.Context) {
				h.saved = err == nil
				if err != nil {
					h.trouble = "This could not be saved: " + plain(err) + " The check goes on without it."
				}
			})
		}
	})
}

// settled calls f once everything written before is done.
func (h *household) settled(ctx app.Context, f func(app.Context)) {
	h.write(ctx, func(context.Context) error {
		ctx.Dispatch(f)
		return nil
	})
}

// save keeps a check as it is now.
func (h *household) save(ctx app.Context, c pantry.Check) {
	h.open(ctx, func(ctx app.Context) {
		row, err := c.Encode()
		if err != nil {
			h.trouble = "This could not be saved: " + err.Error()
			return
		}
		h.write(ctx, func(ctx context.Context) error {
			return h.store.Write(ctx, []store.Change{{Row: store.Row{Kind: store.KindChecks, ID: c.ID, JSON: row}}})
		})
	})
}

// find fetches a check; the session is nil when this device does not have it.
func (h *household) find(ctx app.Context, id string, found func(app.Context, *session)) {
	ctx.Async(func() {
		row, err := h.store.Get(context.Background(), store.KindChecks, id)
		var c pantry.Check
		if err == nil {
			c, err = pantry.DecodeCheck(row.JSON)
		}
		ctx.Dispatch(func(ctx app.Context) {
			if err != nil {
				if !errors.Is(err, store.ErrNotFound) {
					h.trouble = "This check could not be read: " + plain(err)
				}
				found(ctx, nil)
				return
			}
			found(ctx, resume(c))
		})
	})
}

// list fetches checks that are not deleted, newest first, older than the one
// with the id given; more tells whether there are older ones still.
func (h *household) list(ctx app.Context, after string, limit int, found func(app.Context, []pantry.Check, bool)) {
	ctx.Async(func() {
		var checks []pantry.Check
		var unread int
		more := true
		for more && len(checks) < limit {
			rows, err := h.store.List(context.Background(), store.KindChecks, store.ListOptions{Newest: true, After: after, Limit: limit})
			if err != nil {
				ctx.Dispatch(func(app.Context) { h.trouble = "The checks could not be read: " + plain(err) })
				break
			}
			more = len(rows) == limit
			for _, row := range rows {
				after = row.ID
				c, err := pantry.DecodeCheck(row.JSON)
				switch {
				case err != nil:
					unread++
				case c.Deleted == nil:
					checks = append(checks, c)
				}
			}
		}
		ctx.Dispatch(func(ctx app.Context) {
			if unread > 0 {
				h.trouble = strconv.Itoa(unread) + " checks could not be read. They are left as they are."
			}
			found(ctx, checks, more)
		})
	})
}

// plain says what went wrong in words for a person.
func plain(err error) string {
	var p interface{ Plain() string }
	if errors.As(err, &p) {
		return p.Plain()
	}
	return err.Error() + "."
}

// savedWords says where the check is kept.
func (h *household) savedWords() string {
	switch {
	case h.store == nil || !h.saved:
		return ""
	case !h.status.Durable:
		return "Kept only while this page is open"
	}
	return "Saved on this device"
}

// notices says plainly what is wrong with keeping records, if anything is.
func (h *household) notices() app.UI {
	return live("",
		only(h.store != nil && !h.status.Durable, func() app.UI { return txt("p", "notice", h.status.Message) }),
		only(h.trouble != "", func() app.UI { return txt("p", "notice", h.trouble) }),
	)
}

// altitudeFeet is the household's altitude, or 0 when it has not been given.
func (h *household) altitudeFeet() int {
	if h.settings.AltitudeFeet == nil {
		return 0
	}
	return *h.settings.AltitudeFeet
}

// setAltitude keeps the altitude, given in feet; "0" forgets it.
func (h *household) setAltitude(ctx app.Context, feet string) {
	n, err := strconv.Atoi(feet)
	if err != nil {
		return
	}
	h.settings.AltitudeFeet = &n
	if n == 0 {
		h.settings.AltitudeFeet = nil
	}
	h.saveSettings(ctx)
}

func (h *household) saveSettings(ctx app.Context) {
	h.open(ctx, func(ctx app.Context) {
		h.settings.Changed = time.Now().UTC()
		h.settings.Revision++
		row, err := h.settings.Encode()
		if err != nil {
			h.trouble = "Your settings could not be saved: " + err.Error()
			return
		}
		h.write(ctx, func(ctx context.Context) error {
			return h.store.Write(ctx, []store.Change{{Row: store.Row{Kind: store.KindSettings, ID: pantry.SettingsID, JSON: row}}})
		})
	})
}
