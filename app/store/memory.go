package store

import (
	"bytes"
	"context"
	"maps"
	"slices"
	"sync"
)

// Memory keeps rows for as long as the program runs. It is used when the
// browser refuses to store anything.
type Memory struct {
	mu     sync.Mutex
	rows   map[Kind]map[string][]byte
	closed bool
}

// NewMemory makes an empty store.
func NewMemory() *Memory { return &Memory{rows: map[Kind]map[string][]byte{}} }

func (m *Memory) begin(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if m.closed {
		return ErrClosed
	}
	return nil
}

// Write implements Store.
func (m *Memory) Write(ctx context.Context, changes []Change) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.begin(ctx); err != nil {
		return err
	}
	if err := check(changes); err != nil {
		return err
	}
	for _, c := range changes {
		rows := m.rows[c.Row.Kind]
		if rows == nil {
			rows = map[string][]byte{}
			m.rows[c.Row.Kind] = rows
		}
		if c.Delete {
			delete(rows, c.Row.ID)
		} else {
			rows[c.Row.ID] = bytes.Clone(c.Row.JSON)
		}
	}
	return nil
}

// WriteAll implements Store.
func (m *Memory) WriteAll(ctx context.Context, fill func(put func(Change) error) error) error {
	var changes []Change
	err := fill(func(c Change) error {
		c.Row.JSON = bytes.Clone(c.Row.JSON)
		changes = append(changes, c)
		return check([]Change{c})
	})
	if err != nil {
		return err
	}
	return m.Write(ctx, changes)
}

// Get implements Store.
func (m *Memory) Get(ctx context.Context, kind Kind, id string) (Row, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.begin(ctx); err != nil {
		return Row{}, err
	}
	if !known(kind) {
		return Row{}, unknownKind(kind)
	}
	text, ok := m.rows[kind][id]
	if !ok {
		return Row{}, ErrNotFound
	}
	return Row{kind, id, bytes.Clone(text)}, nil
}

// List implements Store.
func (m *Memory) List(ctx context.Context, kind Kind, o ListOptions) ([]Row, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.begin(ctx); err != nil {
		return nil, err
	}
	if !known(kind) {
		return nil, unknownKind(kind)
	}
	ids := slices.Sorted(maps.Keys(m.rows[kind]))
	if o.Newest {
		slices.Reverse(ids)
	}
	var rows []Row
	for _, id := range ids {
		if o.After != "" && (id == o.After || o.Newest != (id < o.After)) {
			continue
		}
		if o.Limit > 0 && len(rows) == o.Limit {
			break
		}
		rows = append(rows, Row{kind, id, bytes.Clone(m.rows[kind][id])})
	}
	return rows, nil
}

// Lock implements Store: nobody else uses this memory.
func (m *Memory) Lock(context.Context) func() { return func() {} }

// Close implements Store.
func (m *Memory) Close() error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.closed = true
	return nil
}
