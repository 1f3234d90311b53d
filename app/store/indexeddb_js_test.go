//go:build js && wasm

package store_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"syscall/js"
	"testing"

	"github.com/hack-pad/go-indexeddb/idb"

	"larderlamp/app/store"
	"larderlamp/rules/prose"
	"larderlamp/static"
)

// The helper is evaluated just as the page would load it.
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
	write(t, s, put(checks, "a", `{"n":1}`))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if row, err := open(t, name, store.Steps).Get(ctx, checks, "a"); err != nil || string(row.JSON) != `{"n":1}` {
		t.Errorf("got %s, %v", row.JSON, err)
	}
}

// Two pages open at once see each other's rows.
func TestTwoConnections(t *testing.T) {
	name := fresh(t)
	a, b := open(t, name, store.Steps), open(t, name, store.Steps)
	write(t, a, put(checks, "a", `1`))
	write(t, b, put(checks, "b", `2`))
	for _, s := range []store.Store{a, b} {
		rows, err := s.List(ctx, checks, store.ListOptions{})
		if err != nil || len(rows) != 2 {
			t.Errorf("got %v, %v", ids(rows), err)
		}
	}
}

// A later schema keeps the rows and adds the new kind. The page that still has
// the old schema open makes way and says so.
func TestUpgrade(t *testing.T) {
	name := fresh(t)
	old := open(t, name, store.Steps)
	write(t, old, put(checks, "a", `{"n":1}`))
	later := append(append([]store.Step{}, store.Steps...), store.Step{"later"})
	s := open(t, name, later)
	if row, err := s.Get(ctx, checks, "a"); err != nil || string(row.JSON) != `{"n":1}` {
		t.Errorf("the row: got %s, %v", row.JSON, err)
	}
	if err := old.Write(ctx, []store.Change{put(checks, "b", `1`)}); !errors.Is(err, store.ErrNewer) {
		t.Errorf("the old page could still write: got error %v", err)
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
			t.Errorf("%s: got an open store %v", name, s)
		}
		s, status := store.Open(ctx, false)
		if status.Durable || status.Message == "" {
			t.Errorf("%s: got %+v", name, status)
		}
		write(t, s, put(checks, "a", `1`))
	}
}

// A full disk is an error of its own, and nothing in the write stays.
func TestQuota(t *testing.T) {
	s := open(t, fresh(t), store.Steps)
	proto := js.Global().Get("IDBObjectStore").Get("prototype")
	put0 := proto.Get("put")
	defer proto.Set("put", put0)
	write(t, s, put(checks, "before", `1`))
	js.Global().Set("putBefore", put0)
	js.Global().Call("eval", `IDBObjectStore.prototype.put = function (value, key) { if (value === '"too much"') throw new DOMException("full", "QuotaExceededError"); return putBefore.call(this, value, key) }`)
	err := s.Write(ctx, []store.Change{put(checks, "small", `1`), put(checks, "large", `"too much"`)})
	if !errors.Is(err, store.ErrFull) {
		t.Errorf("got error %v", err)
	}
	rows, err := s.List(ctx, checks, store.ListOptions{})
	if err != nil || len(rows) != 1 || rows[0].ID != "before" {
		t.Errorf("rows left: got %v, %v", ids(rows), err)
	}
}

// lay makes a database of a version with some kinds, each with a row.
func lay(t *testing.T, name string, version int, have []string) {
	t.Helper()
	laid := js.Global().Call("eval", `(async (name, version, kinds) => {
		const done = r => new Promise((ok, bad) => { r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
		const request = indexedDB.open(name, version);
		request.onupgradeneeded = () => kinds.forEach(kind => request.result.createObjectStore(kind).put("1", "there"));
		(await done(request)).close();
	})`)
	var list []any
	for _, kind := range have {
		list = append(list, kind)
	}
	settled := make(chan string, 1)
	answer := func(text string) js.Func {
		return js.FuncOf(func(js.Value, []js.Value) any { settled <- text; return nil })
	}
	laid.Invoke(name, version, list).Call("then", answer(""), answer("refused"))
	if text := <-settled; text != "" {
		t.Fatal(text)
	}
}

// kinds lists every kind of the schema.
func kinds() (all []string) {
	for _, step := range store.Steps {
		for _, k := range step {
			all = append(all, string(k))
		}
	}
	return
}

// usable fails unless every kind can be written and read, and the kinds that
// existed before have kept their row.
func usable(t *testing.T, s store.Store, had []string) {
	t.Helper()
	for _, kind := range kinds() {
		write(t, s, put(store.Kind(kind), "new", `2`))
		rows, err := s.List(ctx, store.Kind(kind), store.ListOptions{})
		want := []string{"new"}
		if slices.Contains(had, kind) {
			want = append(want, "there")
		}
		if err != nil || !slices.Equal(ids(rows), want) {
			t.Errorf("%s: %v, %v, want %v", kind, ids(rows), err, want)
		}
	}
}

// Whatever is missing from the schema is added when a database is opened,
// whatever its version: on some devices a reader once created an empty database.
// Nothing that exists is lost, and the next opening finds everything.
func TestMissingIsAdded(t *testing.T) {
	all := kinds()
	for version := 1; version <= len(store.Steps)+3; version++ {
		for missing := range len(all) + 2 {
			var have []string
			for i, kind := range all {
				if i != missing && missing <= len(all) {
					have = append(have, kind)
				}
			}
			t.Run(fmt.Sprintf("version %d with %v", version, have), func(t *testing.T) {
				name := fresh(t)
				lay(t, name, version, have)
				s := open(t, name, store.Steps)
				usable(t, s, have)
				if err := s.Close(); err != nil {
					t.Fatal(err)
				}
				again := open(t, name, store.Steps)
				usable(t, again, have)
				if err := again.Close(); err != nil {
					t.Fatal(err)
				}
			})
		}
	}
}

// Two pages that find the same thing missing at the same moment both succeed,
// and a page that is open at the time continues.
func TestTwoAddWhatIsMissing(t *testing.T) {
	name := fresh(t)
	lay(t, name, 1, nil)
	var wg sync.WaitGroup
	for n := range 4 {
		wg.Go(func() {
			s, err := store.OpenIndexedDB(ctx, name, store.Steps)
			if err == nil {
				err = s.Write(ctx, []store.Change{put(checks, fmt.Sprint("page-", n), `1`)})
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	if rows, err := open(t, name, store.Steps).List(ctx, checks, store.ListOptions{}); err != nil || len(rows) != 4 {
		t.Errorf("got %v, %v", ids(rows), err)
	}
}

// A device to which something was added has a later version than the schema. The
// next step of the schema is still applied.
func TestStepAfterHealing(t *testing.T) {
	name := fresh(t)
	lay(t, name, len(store.Steps), nil)
	s := open(t, name, store.Steps)
	write(t, s, put(checks, "a", `1`))
	later := append(append([]store.Step{}, store.Steps...), store.Step{"later"})
	next := open(t, name, later)
	if row, err := next.Get(ctx, checks, "a"); err != nil || string(row.JSON) != `1` {
		t.Errorf("got %s, %v", row.JSON, err)
	}
	if err := s.Write(ctx, []store.Change{put(checks, "b", `1`)}); !errors.Is(err, store.ErrNewer) {
		t.Errorf("the old page could still write: got error %v", err)
	}
}

// A connection that the system closes is opened again, and what was being
// written or read when this was noticed still succeeds.
func TestCutOff(t *testing.T) {
	js.Global().Call("eval", `
		window.opened = [];
		window.openFirst = IDBFactory.prototype.open;
		IDBFactory.prototype.open = function (...how) {
			const request = openFirst.apply(this, how);
			request.addEventListener("success", () => opened.push(request.result));
			return request;
		};
		window.cutOff = {
			// The connection is closed, and nobody has said so.
			closed: () => opened.at(-1).close(),
			// The browser says that it is closed.
			told: () => { opened.at(-1).close(); opened.at(-1).dispatchEvent(new Event("close")) },
			...Object.fromEntries(["InvalidStateError", "UnknownError", "AbortError"].map(name => [name, () => {
				const { transaction } = IDBDatabase.prototype;
				IDBDatabase.prototype.transaction = function () {
					IDBDatabase.prototype.transaction = transaction;
					throw new DOMException("Connection to Indexed Database server lost. Refresh the page to try again", name);
				};
			}])),
		}`)
	s := open(t, fresh(t), store.Steps)
	n := 0
	for _, how := range []string{"closed", "told", "InvalidStateError", "UnknownError", "AbortError"} {
		cut := func() { js.Global().Get("cutOff").Call(how) }
		cut()
		n++
		write(t, s, put(checks, fmt.Sprint("row-", n), `1`))
		cut()
		if _, err := s.Get(ctx, checks, fmt.Sprint("row-", n)); err != nil {
			t.Errorf("%s: get: got error %v", how, err)
		}
		cut()
		if rows, err := s.List(ctx, checks, store.ListOptions{}); err != nil || len(rows) != n {
			t.Errorf("%s: list: got %v, %v", how, ids(rows), err)
		}
	}
	// When a browser never lets the page in again, the error says so, and the
	// page stops trying.
	js.Global().Call("eval", `window.transactionFirst = IDBDatabase.prototype.transaction; IDBDatabase.prototype.transaction = () => { throw new DOMException("lost", "UnknownError") }`)
	defer js.Global().Call("eval", `IDBDatabase.prototype.transaction = transactionFirst; IDBFactory.prototype.open = openFirst`)
	err := s.Write(ctx, []store.Change{put(checks, "never", `1`)})
	if p, ok := errors.AsType[interface {
		error
		Plain() prose.Text
	}](err); !ok || !strings.Contains(p.Plain().String(), "cut this page off") {
		t.Errorf("got error %v", err)
	}
}

func BenchmarkList(b *testing.B) {
	s := open(b, fresh(b), store.Steps)
	var changes []store.Change
	for i := range 10000 {
		changes = append(changes, put(checks, fmt.Sprintf("%08d", i), `{"version":1,"product":"green-beans","answers":[{"sign":"lid","values":["down"],"question":"lid"}]}`))
	}
	if err := s.Write(ctx, changes); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if rows, err := s.List(ctx, checks, store.ListOptions{}); err != nil || len(rows) != 10000 {
			b.Fatalf("got %d rows, %v, want 10000", len(rows), err)
		}
	}
}
