package exchange

import (
	"context"
	"slices"
	"sync"
	"time"

	"larderlamp/share/store"
)

// memory is a log in memory.
type memory struct {
	mu      sync.Mutex
	digests map[string][]byte
	log     []kept
	last    uint64
	removed []func(string)
	putting func() // is called before a version is stored
	news    chan uint64
}

type kept struct {
	household string
	store.Version
}

func (m *memory) Found(_ context.Context, household string, digest []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.digests[household] != nil {
		return store.ErrTaken
	}
	m.digests[household] = digest
	return nil
}

func (m *memory) Digest(_ context.Context, household string) ([]byte, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if d := m.digests[household]; d != nil {
		return d, nil
	}
	return nil, store.ErrUnknown
}

func (m *memory) Remove(_ context.Context, household string) error {
	m.mu.Lock()
	delete(m.digests, household)
	m.log = slices.DeleteFunc(m.log, func(k kept) bool { return k.household == household })
	m.mu.Unlock()
	for _, f := range m.removed {
		f(household)
	}
	return nil
}

func (m *memory) Forget(_ context.Context, household string, numbers []uint64) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.log = slices.DeleteFunc(m.log, func(k kept) bool { return k.household == household && slices.Contains(numbers, k.Number) })
	return nil
}

func (m *memory) WhenRemoved(f func(string)) error {
	m.removed = append(m.removed, f)
	return nil
}

func (m *memory) Put(_ context.Context, household, name string, version []byte) (uint64, bool, error) {
	if m.putting != nil {
		m.putting()
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, k := range m.log {
		if k.household == household && k.Name == name {
			return k.Number, false, nil
		}
	}
	m.last++
	m.log = append(m.log, kept{household, store.Version{Number: m.last, Stored: time.Now(), Name: name, Sealed: version}})
	return m.last, true, nil
}

func (m *memory) of(household string) (list []store.Version) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, k := range m.log {
		if k.household == household {
			list = append(list, k.Version)
		}
	}
	return list
}

func (m *memory) Count(_ context.Context, household string) (count int, size int64, err error) {
	list := m.of(household)
	for _, v := range list {
		size += int64(len(v.Sealed))
	}
	return len(list), size, nil
}

func (m *memory) Stored(_ context.Context, household string, number uint64) (time.Time, error) {
	for _, v := range m.of(household) {
		if v.Number == number {
			return v.Stored, nil
		}
	}
	return time.Time{}, store.ErrNotThere
}

func (m *memory) CatchUp(context.Context) error { return nil }

func (m *memory) After(_ context.Context, household string, number uint64, most, _ int) ([]store.Version, error) {
	list := slices.DeleteFunc(m.of(household), func(v store.Version) bool { return v.Number <= number })
	return list[:min(most, len(list))], nil
}

func (m *memory) News(string) (<-chan uint64, func()) { return m.news, func() {} }
