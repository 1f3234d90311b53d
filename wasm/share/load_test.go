package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"larderlamp/share/phone"
	"larderlamp/share/sealed"
)

// home is a household under load: one phone writes, another waits for news.
type home interface {
	put(n int) error
	got() <-chan int // the numbers of what arrives
}

// The load, compared with bare JetStream: the same bytes and as many households, each
// version stored on the disk before it is acknowledged, and received by a listener.
//
//	go test -run '^$' -bench Load -benchtime 1x
func BenchmarkLoad(b *testing.B) {
	for _, households := range []int{10, 1000, 10_000} {
		b.Run(strconv.Itoa(households), func(b *testing.B) {
			for b.Loop() {
				homes, memory, end := shared(b, households)
				rate, median := measure(b, homes)
				end() // a process has only so many connections
				homes = bare(b, households)
				bareRate, bareMedian := measure(b, homes)
				b.ReportMetric(rate, "versions/s")
				b.ReportMetric(bareRate, "bare-versions/s")
				b.ReportMetric(rate/bareRate, "rate-ratio")
				b.ReportMetric(median.Seconds()*1000, "ms-to-phone")
				b.ReportMetric(bareMedian.Seconds()*1000, "bare-ms")
				b.ReportMetric(median.Seconds()/bareMedian.Seconds(), "time-ratio")
				b.ReportMetric(memory/1024, "KiB/phone")
			}
		})
	}
}

// measure sends versions one after the other and takes the time to the other phone,
// then as many as go from sixteen writers at a time.
func measure(b *testing.B, homes []home) (rate float64, median time.Duration) {
	b.Helper()
	var times []time.Duration
	for n := range 300 {
		h := homes[n*7919%len(homes)]
		before := time.Now()
		if err := h.put(n); err != nil {
			b.Fatal(err)
		}
		for m := range h.got() {
			if m == n {
				break
			}
		}
		times = append(times, time.Since(before))
	}
	slices.Sort(times)
	const writers, each = 16, 250
	var all sync.WaitGroup
	before := time.Now()
	failed := make(chan error, 2*writers)
	for w := range writers {
		all.Go(func() {
			for n := range each {
				// No two writers share a household, except with ten households.
				h := homes[(w+writers*n)%len(homes)]
				if err := h.put(1000 + w*each + n); err != nil {
					failed <- err
					return
				}
			}
		})
	}
	all.Wait()
	want := map[home]int{}
	for w := range writers {
		for n := range each {
			want[homes[(w+writers*n)%len(homes)]]++
		}
	}
	select {
	case err := <-failed:
		b.Fatal(err)
	default:
	}
	for h, n := range want {
		for n > 0 {
			if m := <-h.got(); m >= 1000 {
				n--
			}
		}
	}
	return writers * each / time.Since(before).Seconds(), times[len(times)/2]
}

// load is what is sent: a jar with its number.
func load(n int) []byte {
	return fmt.Appendf(nil, `{"number":%d,"note":%q}`, n, strings.Repeat("a jar ", 100))
}

func loaded(text []byte) int {
	var v struct{ Number int }
	if err := json.Unmarshal(text, &v); err != nil {
		return -1
	}
	return v.Number
}

type sharedHome struct {
	keys    *sealed.Keys
	p       *phone.Phone
	arrived chan int
}

func (h *sharedHome) put(n int) error {
	name, version, err := h.keys.Seal("jars", load(n))
	if err != nil {
		return err
	}
	_, err = h.p.Put(context.Background(), name, version)
	return err
}

func (h *sharedHome) got() <-chan int { return h.arrived }

// residents reads how much memory a process has.
func residents(b *testing.B, p *process) float64 {
	b.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err != nil {
		b.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(text), "VmRSS:")
	kilobytes, err := strconv.ParseFloat(strings.Fields(rest)[0], 64)
	if err != nil {
		b.Fatal(err)
	}
	return kilobytes * 1024
}

// shared gives households at the real command, and the memory that each phone that
// waits there takes. The function ends it.
func shared(b *testing.B, households int) ([]home, float64, func()) {
	b.Helper()
	many := strconv.Itoa(1 << 30)
	c := start(b, "-site", published(b), "-folder", b.TempDir(), "-households", many, "-founding", many, "-rate", many, "-burst", many,
		"-phones", many, "-connections", many)
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 64}}
	homes := make([]home, households)
	each(b, households, func(i int) error {
		secret := sealed.NewSecret()
		keys, err := secret.Keys()
		if err != nil {
			return err
		}
		p, err := phone.New(secret, c.base, client)
		if err != nil {
			return err
		}
		homes[i] = &sharedHome{keys, p, make(chan int, 1000)}
		return p.Found(context.Background())
	})
	before := residents(b, c.process)
	each(b, households, func(i int) error {
		h := homes[i].(*sharedHome)
		waiter := *h.p
		ready := make(chan error, 1)
		// The first version tells that the phone is connected.
		if err := h.put(-i - 1); err != nil {
			return err
		}
		go func() {
			err := waiter.Listen(b.Context(), func(v phone.Sent) bool {
				_, text, err := h.keys.Open(v.Name, v.Sealed)
				if err != nil {
					return false
				}
				if n := loaded(text); n < 0 {
					ready <- nil
				} else {
					h.arrived <- n
				}
				return true
			})
			ready <- err
		}()
		return <-ready
	})
	return homes, (residents(b, c.process) - before) / float64(households), c.kill
}

// each does something for every household, some at a time.
func each(b *testing.B, households int, f func(i int) error) {
	b.Helper()
	var all sync.WaitGroup
	failed := make(chan error, households)
	for w := range 16 {
		all.Go(func() {
			for i := w; i < households; i += 16 {
				if err := f(i); err != nil {
					failed <- err
					return
				}
			}
		})
	}
	all.Wait()
	select {
	case err := <-failed:
		b.Fatal(err)
	default:
	}
}

type bareHome struct {
	subject string
	js      jetstream.JetStream
	bytes   func(n int) []byte
	arrived chan int
}

func (h *bareHome) put(n int) error {
	_, err := h.js.Publish(context.Background(), h.subject, h.bytes(n))
	return err
}

func (h *bareHome) got() <-chan int { return h.arrived }

// bare gives as many households at a server of NATS that does nothing else: each
// has a connection and an ordered consumer of its own.
func bare(b *testing.B, households int) []home {
	b.Helper()
	n := &node{Name: "bare", Dir: filepath.Join(b.TempDir(), "log"), Port: freePorts(b, 1)[0]}
	text, err := json.Marshal(n)
	if err != nil {
		b.Fatal(err)
	}
	spawn(b, "server", string(text))
	address := fmt.Sprintf("nats://127.0.0.1:%d", n.Port)
	var conn *nats.Conn
	eventually(b, "the server does not start", func() error {
		conn, err = nats.Connect(address)
		return err
	})
	b.Cleanup(conn.Close)
	js, err := jetstream.New(conn)
	if err != nil {
		b.Fatal(err)
	}
	eventually(b, "no stream", func() error {
		_, err := js.CreateStream(b.Context(), jetstream.StreamConfig{Name: "BARE", Subjects: []string{"bare.*"}})
		return err
	})
	// The same number of bytes: the number and what fills it up to the first step.
	fill := bytes.Repeat([]byte{' '}, sealed.Steps[0])
	padded := func(n int) []byte {
		t := load(n)
		return append(t, fill[:len(fill)-len(t)]...)
	}
	homes := make([]home, households)
	each(b, households, func(i int) error {
		h := &bareHome{fmt.Sprint("bare.", i), js, padded, make(chan int, 1000)}
		homes[i] = h
		own, err := nats.Connect(address)
		if err != nil {
			return err
		}
		b.Cleanup(own.Close)
		old, err := own.JetStream()
		if err != nil {
			return err
		}
		_, err = old.Subscribe(h.subject, func(m *nats.Msg) { h.arrived <- loaded(m.Data) }, nats.OrderedConsumer())
		return err
	})
	return homes
}
