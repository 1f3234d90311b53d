package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"net"
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

	"larderlamp/share/journal"
	"larderlamp/share/phone"
	"larderlamp/share/sealed"
)

// home is a household under load: one phone writes, another waits for news.
type home interface {
	put(n int) error
	got() <-chan int // the numbers of what arrives
}

// peer is something that the load is measured at: its households, and its server.
type peer struct {
	name   string
	open   func(b *testing.B, households int) ([]home, *process)
	homes  []home
	server *process
	// Of each round: versions in a second, the median of the seconds to the other phone,
	// and the seconds of processor time of the server for a version.
	rates, times, work []float64
}

// The load, compared with bare JetStream, and with the least that makes JetStream
// reachable for pages: the same bytes and as many households, each version stored on
// the disk before it is acknowledged, and received by a listener.
//
//	go test -run '^$' -bench Load -benchtime 1x
func BenchmarkLoad(b *testing.B) {
	for _, households := range []int{10, 1000, 10_000} {
		b.Run(strconv.Itoa(households), func(b *testing.B) {
			for b.Loop() {
				var memory float64
				ours := &peer{name: "", open: func(b *testing.B, n int) (homes []home, p *process) {
					homes, p, memory = shared(b, n)
					return homes, p
				}}
				fronted, bare := &peer{name: "front-", open: fronted}, &peer{name: "bare-", open: bare}
				peers := []*peer{ours, bare, fronted}
				compare(b, peers, households)
				for _, p := range peers {
					b.ReportMetric(1e6/middle(p.rates), p.name+"us/version")
					b.ReportMetric(middle(p.rates), p.name+"versions/s")
					b.ReportMetric(middle(p.times)*1000, p.name+"ms-to-phone")
					b.ReportMetric(middle(p.work)*1e6, p.name+"server-us")
				}
				for _, p := range peers[1:] {
					b.ReportMetric(ratio(ours.rates, p.rates), p.name+"rate-ratio")
					b.ReportMetric(ratio(ours.times, p.times), p.name+"time-ratio")
				}
				b.ReportMetric(memory/1024, "KiB/phone")
			}
		})
	}
}

// compare measures the peers in turns, where a process may have so many connections,
// and otherwise one after the other.
func compare(b *testing.B, peers []*peer, households int) {
	b.Helper()
	const rounds = 15
	turns := [][]*peer{peers}
	if households*len(peers) > 10_000 {
		turns = nil
		for _, p := range peers {
			turns = append(turns, []*peer{p})
		}
	}
	for _, now := range turns {
		for _, p := range now {
			p.homes, p.server = p.open(b, households)
		}
		for round := range rounds {
			for _, p := range now {
				p.measure(b, 10_000*(1+round))
			}
		}
		for _, p := range now {
			p.server.kill()
			p.homes = nil
		}
	}
}

// ratio gives the median of the ratios of what was measured one after the other.
func ratio(ours, theirs []float64) float64 {
	ratios := make([]float64, len(ours))
	for i := range ours {
		ratios[i] = ours[i] / theirs[i]
	}
	return middle(ratios)
}

// middle gives the median.
func middle(list []float64) float64 {
	list = slices.Sorted(slices.Values(list))
	return list[len(list)/2]
}

// measure sends versions one after the other and takes the time to the other phone,
// then as many as go from sixteen writers at a time. The numbers of the versions
// begin with first.
func (p *peer) measure(b *testing.B, first int) {
	b.Helper()
	homes := p.homes
	var times []float64
	for n := range 100 {
		h := homes[n*7919%len(homes)]
		before := time.Now()
		if err := h.put(first + n); err != nil {
			b.Fatal(err)
		}
		for m := range h.got() {
			if m == first+n {
				break
			}
		}
		times = append(times, time.Since(before).Seconds())
	}
	p.times = append(p.times, middle(times))
	const writers, each = 16, 100
	var all sync.WaitGroup
	worked := processorTime(b, p.server)
	before := time.Now()
	failed := make(chan error, writers)
	for w := range writers {
		all.Go(func() {
			for n := range each {
				// No two writers share a household, except with ten households.
				h := homes[(w+writers*n)%len(homes)]
				if err := h.put(first + 1000 + w*each + n); err != nil {
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
		for range n {
			<-h.got()
		}
	}
	p.rates = append(p.rates, writers*each/time.Since(before).Seconds())
	p.work = append(p.work, (processorTime(b, p.server)-worked)/(writers*each))
}

// processorTime reads how many seconds of processor time a process has used.
func processorTime(b *testing.B, p *process) float64 {
	b.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", p.cmd.Process.Pid))
	if err != nil {
		b.Fatal(err)
	}
	// Its name, in parentheses, may hold spaces. The times are in hundredths of a second.
	fields := strings.Fields(string(text[bytes.LastIndexByte(text, ')')+1:]))
	var ticks float64
	for _, field := range fields[11:13] {
		n, err := strconv.ParseFloat(field, 64)
		if err != nil {
			b.Fatal(err)
		}
		ticks += n
	}
	return ticks / 100
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
// waits there takes.
func shared(b *testing.B, households int) ([]home, *process, float64) {
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
	return homes, c.process, (residents(b, c.process) - before) / float64(households)
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
	arrived chan int
}

func (h *bareHome) put(n int) error {
	_, err := h.js.Publish(context.Background(), h.subject, padded(n))
	return err
}

func (h *bareHome) got() <-chan int { return h.arrived }

// bare gives as many households at a server of NATS that does nothing else: each
// has a connection and an ordered consumer of its own.
func bare(b *testing.B, households int) ([]home, *process) {
	b.Helper()
	n := &node{Name: "bare", Dir: filepath.Join(b.TempDir(), "log"), Port: freePorts(b, 1)[0]}
	text, err := json.Marshal(n)
	if err != nil {
		b.Fatal(err)
	}
	server := spawn(b, "server", string(text))
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
	homes := make([]home, households)
	each(b, households, func(i int) error {
		h := &bareHome{fmt.Sprint("bare.", i), js, make(chan int, 1000)}
		homes[i] = h
		own, err := nats.Connect(address, nats.ErrorHandler(func(*nats.Conn, *nats.Subscription, error) {})) // it begins again by itself
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
	return homes, server
}

// padded gives as many bytes as a sealed version has: the number, and what fills it
// up to the first size.
func padded(n int) []byte {
	t := load(n)
	return append(t, bytes.Repeat([]byte{' '}, sealed.Steps[0]-len(t))...)
}

// front is the least that makes JetStream reachable for pages: a server of NATS within
// the program, one address to publish at and one to listen at. It knows no households,
// checks nothing and leaves nothing out.
func front(folder string) error {
	e, err := journal.Embed(folder)
	if err != nil {
		return err
	}
	js, err := jetstream.New(e.Conn)
	if err != nil {
		return err
	}
	if _, err := js.CreateStream(context.Background(), jetstream.StreamConfig{Name: "BARE", Subjects: []string{"bare.*"}}); err != nil {
		return err
	}
	old, err := e.Conn.JetStream()
	if err != nil {
		return err
	}
	http.HandleFunc("PUT /{home}", func(w http.ResponseWriter, r *http.Request) {
		body, err := io.ReadAll(r.Body)
		if err == nil {
			_, err = js.Publish(r.Context(), "bare."+r.PathValue("home"), body)
		}
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
		}
	})
	http.HandleFunc("GET /{home}", func(w http.ResponseWriter, r *http.Request) {
		messages := make(chan *nats.Msg, 100)
		sub, err := old.Subscribe("bare."+r.PathValue("home"), func(m *nats.Msg) { messages <- m }, nats.OrderedConsumer())
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		defer sub.Unsubscribe()
		w.Header().Set("Content-Type", "text/event-stream")
		for {
			http.NewResponseController(w).Flush()
			select {
			case <-r.Context().Done():
				return
			case m := <-messages:
				fmt.Fprintf(w, "data: %s\n\n", base64.StdEncoding.EncodeToString(m.Data))
			}
		}
	})
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	fmt.Println(listener.Addr())
	return http.Serve(listener, nil)
}

type frontedHome struct {
	address string
	client  *http.Client
	arrived chan int
}

func (h *frontedHome) put(n int) error {
	r, err := http.NewRequest("PUT", h.address, bytes.NewReader(padded(n)))
	if err != nil {
		return err
	}
	answer, err := h.client.Do(r)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	if _, err := io.Copy(io.Discard, answer.Body); err != nil {
		return err
	}
	if answer.StatusCode != http.StatusOK {
		return fmt.Errorf("status %s", answer.Status)
	}
	return nil
}

func (h *frontedHome) got() <-chan int { return h.arrived }

// listen waits for what arrives.
func (h *frontedHome) listen(answer *http.Response) {
	defer answer.Body.Close()
	lines := bufio.NewScanner(answer.Body)
	for lines.Scan() {
		if text, found := strings.CutPrefix(lines.Text(), "data: "); found {
			data, err := base64.StdEncoding.DecodeString(text)
			if err != nil {
				return
			}
			h.arrived <- loaded(data)
		}
	}
}

// fronted gives as many households at the least front.
func fronted(b *testing.B, households int) ([]home, *process) {
	b.Helper()
	server := spawn(b, "front", filepath.Join(b.TempDir(), "log"))
	line, err := server.out.ReadString('\n')
	if err != nil {
		b.Fatalf("the front ended: %v\n%s", server.wait(), server.errs)
	}
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 64}}
	homes := make([]home, households)
	each(b, households, func(i int) error {
		h := &frontedHome{fmt.Sprintf("http://%s/%d", strings.TrimSpace(line), i), client, make(chan int, 1000)}
		homes[i] = h
		r, err := http.NewRequestWithContext(b.Context(), "GET", h.address, nil)
		if err != nil {
			return err
		}
		answer, err := client.Do(r)
		if err != nil {
			return err
		}
		go h.listen(answer)
		return nil
	})
	return homes, server
}
