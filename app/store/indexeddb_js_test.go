//go:build js && wasm

package store_test

import (
	"errors"
	"fmt"
	"syscall/js"
	"testing"

	"github.com/hack-pad/go-indexeddb/idb"

	"larderlamp/app/store"
	"larderlamp/static"
)

// The helper is evaluated as the page would load it.
func init() {
	text, err := static.Files.ReadFile("idb.js")
	if err != nil {
		panic(err)
	}
	js.Global().Call("eval", string(text))
}

var databases int

// fresh is the name of a database of its own, deleted when the test is over.
func fresh(t testing.TB) string {
	databases++
	name := fmt.Sprintf("test-%d-%s", databases, t.Name())
	t.Cleanup(func() {
		if _, err := idb.Global().DeleteDatabase(name); err != nil {
			t.Error(err)
		}
	})
	return name
}

func open(t testing.TB, name string, steps []store.Step) *store.IndexedDB {
	t.Helper()
	s, err := store.OpenIndexedDB(ctx, name, steps)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestIndexedDB(t *testing.T) {
	suite(t, func(t *testing.T) store.Store { return open(t, fresh(t), store.Steps) })
}

// What was written is there when the database is opened again.
func TestReopen(t *testing.T) {
	name := fresh(t)
	s := open(t, name, store.Steps)
	write(t, s, put(store.KindChecks, "a", `{"n":1}`))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if row, err := open(t, name, store.Steps).Get(ctx, store.KindChecks, "a"); err != nil || string(row.JSON) != `{"n":1}` {
		t.Errorf("%s, %v", row.JSON, err)
	}
}

// Two pages at once see each other's rows.
func TestTwoConnections(t *testing.T) {
	name := fresh(t)
	a, b := open(t, name, store.Steps), open(t, name, store.Steps)
	write(t, a, put(store.KindChecks, "a", `1`))
	write(t, b, put(store.KindChecks, "b", `2`))
	for _, s := range []store.Store{a, b} {
		rows, err := s.List(ctx, store.KindChecks, store.ListOptions{})
		if err != nil || len(rows) != 2 {
			t.Errorf("%v, %v", ids(rows), err)
		}
	}
}

// A later schema keeps the rows and adds the new kind. The page that still has
// the old schema open gives way and says so.
func TestUpgrade(t *testing.T) {
	name := fresh(t)
	old := open(t, name, store.Steps)
	write(t, old, put(store.KindChecks, "a", `{"n":1}`))
	later := append(append([]store.Step{}, store.Steps...), store.Step{"later"})
	s := open(t, name, later)
	if row, err := s.Get(ctx, store.KindChecks, "a"); err != nil || string(row.JSON) != `{"n":1}` {
		t.Errorf("the row is %s, %v", row.JSON, err)
	}
	if err := old.Write(ctx, []store.Change{put(store.KindChecks, "b", `1`)}); !errors.Is(err, store.ErrClosed) {
		t.Errorf("the old page wrote: %v", err)
	}
	if _, err := store.OpenIndexedDB(ctx, name, store.Steps); err == nil {
		t.Error("a page with an older schema opened a later database")
	}
}

// A browser without the helper or without IndexedDB is refused with an error,
// not a panic, and Open falls back to memory and says why.
func TestRefusal(t *testing.T) {
	helper := js.Global().Get("larderStore")
	defer js.Global().Set("larderStore", helper)
	for name, broken := range map[string]js.Value{
		"no helper":    js.Undefined(),
		"open throws":  js.Global().Call("eval", `({factory: {open() { throw new DOMException("no", "SecurityError") }}})`),
		"open errors":  js.Global().Call("eval", `({factory: {open() { return indexedDB.open("", 0) }}})`),
		"no indexeddb": js.Global().Call("eval", `({factory: {open() { return undefined.open() }}})`),
	} {
		js.Global().Set("larderStore", broken)
		if s, err := store.OpenIndexedDB(ctx, "refused", store.Steps); err == nil {
			t.Errorf("%s: opened %v", name, s)
		}
		s, status := store.Open(ctx, false)
		if status.Durable || status.Message == "" {
			t.Errorf("%s: %+v", name, status)
		}
		write(t, s, put(store.KindChecks, "a", `1`))
	}
}

// A full disk is an error of its own, and nothing of the write stays.
func TestQuota(t *testing.T) {
	s := open(t, fresh(t), store.Steps)
	proto := js.Global().Get("IDBObjectStore").Get("prototype")
	put0 := proto.Get("put")
	defer proto.Set("put", put0)
	write(t, s, put(store.KindChecks, "before", `1`))
	js.Global().Set("putBefore", put0)
	js.Global().Call("eval", `IDBObjectStore.prototype.put = function (value, key) { if (value === '"too much"') throw new DOMException("full", "QuotaExceededError"); return putBefore.call(this, value, key) }`)
	err := s.Write(ctx, []store.Change{put(store.KindChecks, "small", `1`), put(store.KindChecks, "large", `"too much"`)})
	if !errors.Is(err, store.ErrFull) {
		t.Errorf("the error is %v", err)
	}
	rows, err := s.List(ctx, store.KindChecks, store.ListOptions{})
	if err != nil || len(rows) != 1 || rows[0].ID != "before" {
		t.Errorf("left: %v, %v", ids(rows), err)
	}
}

func BenchmarkList(b *testing.B) {
	s := open(b, fresh(b), store.Steps)
	var changes []store.Change
	for i := range 10000 {
		changes = append(changes, put(store.KindChecks, fmt.Sprintf("%08d", i), `{"version":1,"product":"green-beans","answers":[{"sign":"lid","values":["down"],"question":"lid"}]}`))
	}
	if err := s.Write(ctx, changes); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if rows, err := s.List(ctx, store.KindChecks, store.ListOptions{}); err != nil || len(rows) != 10000 {
			b.Fatal(len(rows), err)
		}
	}
}
