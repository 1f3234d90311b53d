//go:build js && wasm

package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"syscall/js"
	"time"

	"larderlamp/rules/prose"

	"github.com/hack-pad/go-indexeddb/idb"
)

// The databases of this site: the household's own, and the one of the made-up
// household for trying things out. They are never mixed.
const (
	databaseName = "larderlamp"
	demoName     = "larderlamp-demo"
)

// patience is how long the browser may take to open the database before the
// page goes on without it. A browser that hangs must not keep a person from
// checking a jar.
const patience = 15 * time.Second

// Open returns the store of this page: IndexedDB, or memory where the browser
// refuses it, with the reason. The demo household has a store of its own.
func Open(ctx context.Context, demo bool) (Store, Status) {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	name := databaseName
	if demo {
		name = demoName
	}
	db, err := OpenIndexedDB(ctx, name, Steps)
	if err == nil {
		return db, Status{Durable: true}
	}
	js.Global().Get("console").Call("warn", "storage: "+err.Error())
	var why prose.Text = "This browser does not let the page keep anything (a private window, blocked storage, or no room)."
	switch {
	case ctx.Err() != nil:
		why = "What is kept here cannot be opened. Close every other tab of this guide, which may be an older edition, and load this page again."
	case errors.Is(err, ErrNewer):
		why = "A newer edition was used in this browser. Load this page again."
	}
	return NewMemory(), Status{Message: prose.Say("%s The check works, but it is gone when the page is closed.", why)}
}

// IndexedDB keeps rows in the browser's IndexedDB: one object store for each
// kind, the JSON text as the value, the id as the key.
type IndexedDB struct {
	name  string
	steps []Step

	mu     sync.Mutex
	db     *idb.Database // nil while there is no connection
	closed bool          // the program has closed the store
}

// OpenIndexedDB opens a database and brings it up to the schema.
func OpenIndexedDB(ctx context.Context, name string, steps []Step) (*IndexedDB, error) {
	s := &IndexedDB{name: name, steps: steps}
	db, err := s.connect(ctx)
	if err != nil {
		return nil, err
	}
	s.db = db
	return s, nil
}

// errCutOff means that the system has closed the connection: opening it again may
// help. errVersion means that what is stored has a later version.
var (
	errCutOff  error = &fault{"cut off", "The browser has cut this page off from what is kept here. Load this page again; if that does not help, start the browser again."}
	errVersion error = &fault{"of a later version", "A newer edition was used in this browser. Load this page again."}
)

// Write implements Store. All requests are made before anything is awaited: a
// transaction ends by itself as soon as the program waits for anything else.
func (s *IndexedDB) Write(ctx context.Context, changes []Change) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := check(changes); err != nil {
		return err
	}
	if len(changes) == 0 {
		return nil
	}
	return s.connected(ctx, "write", func(db *idb.Database) error { return write(ctx, db, kinds(Steps), changes) })
}

func write(ctx context.Context, db *idb.Database, kinds []string, changes []Change) error {
	// Strict: an answer that was acknowledged is on the disk.
	txn, err := db.TransactionWithOptions(idb.TransactionOptions{Mode: idb.TransactionReadWrite, Durability: idb.DurabilityStrict}, kinds[0], kinds[1:]...)
	if err != nil {
		return wrap("write", err)
	}
	for _, c := range changes {
		store, err := txn.ObjectStore(string(c.Row.Kind))
		if err == nil && c.Delete {
			_, err = store.Delete(js.ValueOf(c.Row.ID))
		} else if err == nil {
			_, err = store.PutKey(js.ValueOf(c.Row.ID), js.ValueOf(string(c.Row.JSON)))
		}
		if err != nil {
			return errors.Join(wrap("write "+string(c.Row.Kind)+" "+c.Row.ID, err), txn.Abort())
		}
	}
	return wrap("write", txn.Await(ctx))
}

// WriteAll implements Store. The rows wait outside the program, whose memory never
// shrinks, and are then written in one transaction.
func (s *IndexedDB) WriteAll(ctx context.Context, fill func(put func(Change) error) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	stage := js.Global().Get("larderStore").Call("stage", s.name)
	err := fill(func(c Change) error {
		if err := check([]Change{c}); err != nil {
			return err
		}
		text := js.Undefined()
		if !c.Delete {
			text = js.ValueOf(string(c.Row.JSON))
		}
		stage.Call("put", string(c.Row.Kind), c.Row.ID, text)
		return nil
	})
	if err != nil {
		return err
	}
	return s.connected(ctx, "write", func(*idb.Database) error {
		_, err := await(ctx, stage.Call("write"))
		return wrap("write", err)
	})
}

// Get implements Store.
func (s *IndexedDB) Get(ctx context.Context, kind Kind, id string) (row Row, err error) {
	if err := ctx.Err(); err != nil {
		return Row{}, err
	}
	if !known(kind) {
		return Row{}, unknownKind(kind)
	}
	err = s.connected(ctx, "get", func(db *idb.Database) (err error) {
		row, err = get(ctx, db, kind, id)
		return err
	})
	return row, err
}

func get(ctx context.Context, db *idb.Database, kind Kind, id string) (Row, error) {
	txn, err := db.Transaction(idb.TransactionReadOnly, string(kind))
	if err != nil {
		return Row{}, wrap("get", err)
	}
	store, err := txn.ObjectStore(string(kind))
	if err != nil {
		return Row{}, wrap("get", err)
	}
	request, err := store.Get(js.ValueOf(id))
	if err != nil {
		return Row{}, wrap("get", err)
	}
	v, err := request.Await(ctx)
	if err != nil {
		return Row{}, wrap("get", err)
	}
	if ctx.Err() != nil {
		return Row{}, ctx.Err()
	}
	if v.Type() != js.TypeString {
		return Row{}, ErrNotFound
	}
	return Row{kind, id, []byte(v.String())}, nil
}

// List implements Store. It goes through the helper: the library can only read
// row by row, which takes many times as long.
func (s *IndexedDB) List(ctx context.Context, kind Kind, o ListOptions) (rows []Row, err error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if !known(kind) {
		return nil, unknownKind(kind)
	}
	limit := o.Limit
	if limit <= 0 {
		limit = 1<<31 - 1
	}
	var lists js.Value
	err = s.connected(ctx, "list", func(*idb.Database) (err error) {
		lists, err = await(ctx, js.Global().Get("larderStore").Call("rows", s.name, string(kind), o.Newest, o.After, limit))
		return wrap("list", err)
	})
	if err != nil {
		return nil, err
	}
	if lists.Index(0).String() == "" {
		return nil, nil
	}
	ids, texts := strings.Split(lists.Index(0).String(), "\n"), strings.Split(lists.Index(1).String(), "\n")
	if len(ids) != len(texts) {
		return nil, fmt.Errorf("store: list %s: %d ids for %d rows", kind, len(ids), len(texts))
	}
	for i := range ids {
		rows = append(rows, Row{kind, ids[i], []byte(texts[i])})
	}
	return rows, nil
}

// Lock implements Store.
func (s *IndexedDB) Lock(ctx context.Context) func() {
	done, err := await(ctx, js.Global().Get("larderStore").Call("alone", s.name))
	if err != nil {
		return func() {}
	}
	return func() { done.Invoke() }
}

// Close implements Store.
func (s *IndexedDB) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = true
	if s.db == nil {
		return nil
	}
	return wrap("close", s.db.Close())
}

// await waits for a promise. It must not be called from a callback of the
// browser, which would block the program.
func await(ctx context.Context, promise js.Value) (v js.Value, err error) {
	type result struct {
		v   js.Value
		err error
	}
	ended := make(chan result, 1)
	var good, bad js.Func
	release := func() { good.Release(); bad.Release() }
	good = js.FuncOf(func(_ js.Value, args []js.Value) any {
		release()
		ended <- result{v: args[0]}
		return nil
	})
	bad = js.FuncOf(func(_ js.Value, args []js.Value) any {
		release()
		ended <- result{err: js.Error{Value: args[0]}}
		return nil
	})
	promise.Call("then", good, bad)
	select {
	case r := <-ended:
		return r.v, r.err
	case <-ctx.Done():
		return js.Undefined(), ctx.Err()
	}
}

// rescue turns an exception that the browser throws into an error.
func rescue(doing string, err *error) {
	switch r := recover().(type) {
	case nil:
	case js.Error:
		*err = wrap(doing, r)
	case error:
		*err = wrap(doing, r)
	default:
		panic(r)
	}
}

// wrap says what was being done and gives the browser's errors our names.
func wrap(doing string, err error) error {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	name := ""
	if thrown, ok := errors.AsType[js.Error](err); ok && thrown.Value.Type() == js.TypeObject {
		name = thrown.Value.Get("name").String()
	}
	for _, known := range []struct {
		names []string
		err   error
	}{
		{[]string{"QuotaExceededError"}, ErrFull},
		{[]string{"VersionError"}, errVersion},
		{[]string{"InvalidStateError", "AbortError", "UnknownError", "TransactionInactiveError", "NotFoundError"}, errCutOff},
		{[]string{"SecurityError", "NotAllowedError"}, ErrRefused},
	} {
		for _, n := range known.names {
			if name == n || errors.Is(err, idb.NewDOMException(n)) {
				return fmt.Errorf("store: %s: %w (%v)", doing, known.err, err)
			}
		}
	}
	return fmt.Errorf("store: %s: %w", doing, err)
}
