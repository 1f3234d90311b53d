package store_test

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"sync"
	"testing"

	"larderlamp/app/store"
	"larderlamp/rules/prose"
)

var ctx = context.Background()

// checks is a kind of the first schema.
const checks store.Kind = "checks"

func put(kind store.Kind, id, json string) store.Change {
	return store.Change{Row: store.Row{Kind: kind, ID: id, JSON: []byte(json)}}
}

func write(t *testing.T, s store.Store, changes ...store.Change) {
	t.Helper()
	if err := s.Write(ctx, changes); err != nil {
		t.Fatal(err)
	}
}

func ids(rows []store.Row) (ids []string) {
	for _, r := range rows {
		ids = append(ids, r.ID)
	}
	return
}

// suite is what every store must do.
func suite(t *testing.T, open func(*testing.T) store.Store) {
	t.Run("round trip", func(t *testing.T) {
		s := open(t)
		for i, text := range []string{`{}`, `{"a":"ü 🫙 \u2028 \" \\ <script>"}`, `{"n":1e300}`, `"` + strings.Repeat("x", 1<<20) + `"`} {
			id := fmt.Sprint("row-", i)
			write(t, s, put(checks, id, text))
			row, err := s.Get(ctx, checks, id)
			if err != nil || string(row.JSON) != text || row.ID != id || row.Kind != checks {
				t.Errorf("%.40s came back as %.40s, %v", text, row.JSON, err)
			}
		}
	})
	t.Run("replace and delete", func(t *testing.T) {
		s := open(t)
		write(t, s, put(checks, "a", `1`))
		write(t, s, put(checks, "a", `2`))
		if row, err := s.Get(ctx, checks, "a"); err != nil || string(row.JSON) != `2` {
			t.Errorf("got %s, %v", row.JSON, err)
		}
		write(t, s, store.Change{Row: store.Row{Kind: checks, ID: "a"}, Delete: true})
		if _, err := s.Get(ctx, checks, "a"); !errors.Is(err, store.ErrNotFound) {
			t.Errorf("the row is still there: got error %v", err)
		}
		write(t, s, store.Change{Row: store.Row{Kind: checks, ID: "never was"}, Delete: true})
	})
	t.Run("kinds are apart", func(t *testing.T) {
		s := open(t)
		write(t, s, put(checks, "a", `1`), put(store.KindSettings, "a", `2`))
		for kind, want := range map[store.Kind]string{checks: `1`, store.KindSettings: `2`} {
			rows, err := s.List(ctx, kind, store.ListOptions{})
			if err != nil || len(rows) != 1 || string(rows[0].JSON) != want {
				t.Errorf("%s: got %v, %v", kind, rows, err)
			}
		}
	})
	t.Run("order and paging", func(t *testing.T) {
		s := open(t)
		var all []string
		for i := range 25 {
			id := fmt.Sprintf("id-%02d", i*7%25)
			write(t, s, put(checks, id, fmt.Sprint(i)))
			all = append(all, fmt.Sprintf("id-%02d", i))
		}
		for _, newest := range []bool{false, true} {
			for _, limit := range []int{0, 1, 4, 25, 26} {
				var got []string
				after := ""
				for {
					rows, err := s.List(ctx, checks, store.ListOptions{Newest: newest, After: after, Limit: limit})
					if err != nil {
						t.Fatal(err)
					}
					if len(rows) == 0 {
						break
					}
					if limit > 0 && len(rows) > limit {
						t.Fatalf("got %d rows for a limit of %d", len(rows), limit)
					}
					got = append(got, ids(rows)...)
					after = rows[len(rows)-1].ID
				}
				want := all
				if newest {
					want = nil
					for i := range all {
						want = append(want, all[len(all)-1-i])
					}
				}
				if !reflect.DeepEqual(got, want) {
					t.Errorf("newest %v, limit %d: got %v", newest, limit, got)
				}
			}
		}
	})
	t.Run("all or nothing", func(t *testing.T) {
		s := open(t)
		write(t, s, put(checks, "kept", `1`))
		for name, bad := range map[string]store.Change{
			"unknown kind": put("jam", "x", `1`), "no id": put(checks, "", `1`), "line end": put(checks, "x", "1\n2"),
		} {
			err := s.Write(ctx, []store.Change{put(checks, "new", `1`), {Row: store.Row{Kind: checks, ID: "kept"}, Delete: true}, bad})
			if err == nil {
				t.Errorf("%s was written", name)
			}
			rows, err := s.List(ctx, checks, store.ListOptions{})
			if err != nil || !reflect.DeepEqual(ids(rows), []string{"kept"}) {
				t.Errorf("%s: got rows %v, %v left", name, ids(rows), err)
			}
		}
	})
	t.Run("unknown kind", func(t *testing.T) {
		s := open(t)
		if _, err := s.Get(ctx, "jam", "x"); err == nil || errors.Is(err, store.ErrNotFound) {
			t.Errorf("get: got error %v", err)
		}
		if _, err := s.List(ctx, "jam", store.ListOptions{}); err == nil {
			t.Error("list: no error")
		}
	})
	t.Run("canceled", func(t *testing.T) {
		s := open(t)
		gone, cancel := context.WithCancel(ctx)
		cancel()
		if err := s.Write(gone, []store.Change{put(checks, "a", `1`)}); !errors.Is(err, context.Canceled) {
			t.Errorf("write: got error %v", err)
		}
		if _, err := s.Get(gone, checks, "a"); !errors.Is(err, context.Canceled) {
			t.Errorf("get: got error %v", err)
		}
		if _, err := s.List(gone, checks, store.ListOptions{}); !errors.Is(err, context.Canceled) {
			t.Errorf("list: got error %v", err)
		}
		if rows, err := s.List(ctx, checks, store.ListOptions{}); err != nil || len(rows) != 0 {
			t.Errorf("something was written: got %v, %v", rows, err)
		}
	})
	t.Run("many writers", func(t *testing.T) {
		s := open(t)
		var wg sync.WaitGroup
		for w := range 8 {
			wg.Go(func() {
				for i := range 12 {
					if err := s.Write(ctx, []store.Change{put(checks, fmt.Sprintf("%d-%02d", w, i), `1`), put(checks, "last", fmt.Sprint(w))}); err != nil {
						t.Error(err)
					}
				}
			})
		}
		wg.Wait()
		rows, err := s.List(ctx, checks, store.ListOptions{})
		if err != nil || len(rows) != 8*12+1 {
			t.Errorf("got %d rows, %v", len(rows), err)
		}
	})
	t.Run("closed", func(t *testing.T) {
		s := open(t)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		if err := s.Write(ctx, []store.Change{put(checks, "a", `1`)}); !errors.Is(err, store.ErrClosed) {
			t.Errorf("write: got error %v", err)
		}
		if _, err := s.Get(ctx, checks, "a"); !errors.Is(err, store.ErrClosed) {
			t.Errorf("get: got error %v", err)
		}
	})
}

func TestMemory(t *testing.T) {
	suite(t, func(*testing.T) store.Store { return store.NewMemory() })
}

// Every error that a person may see says it in a sentence.
func TestPlainErrors(t *testing.T) {
	for _, err := range []error{store.ErrNotFound, store.ErrFull, store.ErrNewer, store.ErrClosed, store.ErrRefused} {
		p, ok := err.(interface{ Plain() prose.Text })
		if !ok || !strings.HasSuffix(p.Plain().String(), ".") {
			t.Errorf("%v has no plain sentence", err)
		}
	}
}
