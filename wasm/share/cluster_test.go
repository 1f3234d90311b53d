package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"net/url"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"larderlamp/share/phone"
)

// cluster is three servers, each a separate process, with connections between them
// that can be cut.
type cluster struct {
	t     *testing.T
	nodes []*node
	wires map[[2]int]*wire
}

func startCluster(t *testing.T) *cluster {
	t.Helper()
	c := &cluster{t: t, wires: map[[2]int]*wire{}}
	ports := freePorts(t, 6)
	for i := range 3 {
		c.nodes = append(c.nodes, &node{Name: fmt.Sprint("server-", i+1), Dir: filepath.Join(t.TempDir(), "log"), Port: ports[i], Cluster: ports[3+i]})
	}
	for i, from := range c.nodes {
		for j, to := range c.nodes {
			if i != j {
				w := newWire(t, to.Cluster)
				c.wires[[2]int{i, j}] = w
				from.Routes = append(from.Routes, w.port)
			}
		}
	}
	for i := range c.nodes {
		c.start(i)
	}
	return c
}

func (c *cluster) start(i int) {
	c.t.Helper()
	text, err := json.Marshal(c.nodes[i])
	if err != nil {
		c.t.Fatal(err)
	}
	c.nodes[i].run = spawn(c.t, "server", string(text))
}

// cut cuts a server off from the others, or lets it be heard again.
func (c *cluster) cut(i int, cut bool) {
	for ends, w := range c.wires {
		if ends[0] == i || ends[1] == i {
			w.set(cut)
		}
	}
}

func (c *cluster) addresses() string {
	var list []string
	for _, n := range c.nodes {
		list = append(list, fmt.Sprintf("nats://127.0.0.1:%d", n.Port))
	}
	return strings.Join(list, ",")
}

// leader finds the server that leads the versions.
func (c *cluster) leader() int {
	c.t.Helper()
	found := -1
	eventually(c.t, "no leader", func() error {
		conn, err := nats.Connect(c.addresses(), nats.Timeout(time.Second))
		if err != nil {
			return err
		}
		defer conn.Close()
		js, err := jetstream.New(conn, jetstream.WithDefaultTimeout(time.Second))
		if err != nil {
			return err
		}
		s, err := js.Stream(c.t.Context(), "VERSIONS")
		if err != nil {
			return err
		}
		cl := s.CachedInfo().Cluster
		if cl == nil || cl.Leader == "" {
			return errors.New("none is named")
		}
		found = slices.IndexFunc(c.nodes, func(n *node) bool { return n.Name == cl.Leader })
		return nil
	})
	return found
}

// wire is a way to a server that can be cut.
type wire struct {
	port int
	mu   sync.Mutex
	off  bool
	open map[net.Conn]bool
}

func newWire(t *testing.T, to int) *wire {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	w := &wire{port: l.Addr().(*net.TCPAddr).Port, open: map[net.Conn]bool{}}
	go func() {
		for {
			a, err := l.Accept()
			if err != nil {
				return
			}
			go w.carry(a, to)
		}
	}()
	return w
}

func (w *wire) carry(a net.Conn, to int) {
	defer a.Close()
	b, err := net.Dial("tcp", "127.0.0.1:"+strconv.Itoa(to))
	if err != nil {
		return
	}
	defer b.Close()
	w.mu.Lock()
	off := w.off
	w.open[a], w.open[b] = true, true
	w.mu.Unlock()
	if !off {
		go func() {
			io.Copy(a, b)
			a.Close()
		}()
		io.Copy(b, a)
	}
	w.mu.Lock()
	delete(w.open, a)
	delete(w.open, b)
	w.mu.Unlock()
}

func (w *wire) set(off bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.off = off
	for c := range w.open {
		c.Close()
	}
}

// anyFront sends each request to one of several exchanges.
type anyFront struct {
	r      *rand.Rand
	fronts []*command
}

func (a *anyFront) RoundTrip(r *http.Request) (*http.Response, error) {
	to, err := url.Parse(a.fronts[a.r.IntN(len(a.fronts))].base)
	if err != nil {
		return nil, err
	}
	r = r.Clone(r.Context())
	r.URL.Host = to.Host
	return http.DefaultTransport.RoundTrip(r)
}

// everything lists the names of all versions of a household that are in the log.
func everything(t *testing.T, p *phone.Phone) (map[string]bool, error) {
	names := map[string]bool{}
	place := ""
	for {
		list, err := p.List(t.Context(), place)
		if err != nil || len(list) == 0 {
			return names, err
		}
		for _, v := range list {
			names[v.Name] = true
		}
		place = list[len(list)-1].Place
	}
}

// Three servers keep the log, and two exchanges use it. At random moments, in the
// middle of writes, the leader or a follower is killed, paused or cut off, or an
// exchange or a phone is killed. Whatever was acknowledged is there, and all phones
// end up with the same shelf.
func TestFaults(t *testing.T) {
	t.Parallel()
	c := startCluster(t)
	r := rand.New(rand.NewPCG(18, uint64(number(t, "SEED", 1))))
	args := []string{"-site", published(t), "-nats", c.addresses(), "-patience", "2s", "-rate", "100000", "-founding", "1000"}
	fronts := []*command{start(t, args...), start(t, args...)}
	s := newShelf(t, r, "http://exchange", &anyFront{r, fronts})
	s.patience = 2 * time.Second
	s.join()
	s.join()
	acknowledged := map[string]bool{}
	write := func(steps int) {
		for range steps {
			n := r.IntN(len(s.phones))
			s.change(n)
			names, _ := s.phones[n].Send(t.Context()) // what was not acknowledged is sent again
			for _, name := range names {
				acknowledged[name] = true
			}
			if r.IntN(3) == 0 {
				s.phones[r.IntN(len(s.phones))].Fetch(t.Context())
			}
		}
	}
	write(10)
	kinds := []string{"leader killed", "follower killed", "exchange killed", "phone killed", "leader cut off", "follower stopped"}
	moments := number(t, "FAULTS", 6)
	for moment := range moments {
		kind := kinds[moment%len(kinds)]
		victim := c.leader()
		if strings.HasPrefix(kind, "follower") {
			victim = (victim + 1 + r.IntN(2)) % 3
		}
		// In the middle: the fault comes while others write.
		fault := make(chan struct{})
		after := time.Duration(r.IntN(30)) * time.Millisecond
		front, ill := r.IntN(2), r.IntN(len(s.phones))
		go func() {
			defer close(fault)
			time.Sleep(after)
			switch {
			case strings.HasSuffix(kind, "cut off"):
				c.cut(victim, true)
			case strings.HasSuffix(kind, "stopped"):
				c.nodes[victim].run.cmd.Process.Signal(syscall.SIGSTOP)
			case strings.HasPrefix(kind, "exchange"):
				fronts[front].kill()
			case kind != "phone killed":
				c.nodes[victim].run.kill()
			}
		}()
		before := time.Now()
		write(8)
		<-fault
		write(4)
		switch {
		case strings.HasSuffix(kind, "cut off"):
			c.cut(victim, false)
		case strings.HasSuffix(kind, "stopped"):
			c.nodes[victim].run.cmd.Process.Signal(syscall.SIGCONT)
		case strings.HasPrefix(kind, "exchange"):
			fronts[front] = start(t, args...)
		case kind == "phone killed":
			s.phones[ill].Disk = s.saved[ill].Clone()
		default:
			c.start(victim)
		}
		// However slow it is: something gets through again before the next moment.
		for enough := len(acknowledged) + 3; len(acknowledged) < enough; {
			write(1)
		}
		t.Logf("moment %d, %s: %d acknowledged so far, after %v", moment+1, kind, len(acknowledged), time.Since(before).Round(time.Millisecond))
	}
	eventually(t, "something that was acknowledged is lost", func() error {
		there, err := everything(t, s.phones[0])
		if err != nil {
			return err
		}
		lost := 0
		for name := range acknowledged {
			if !there[name] {
				lost++
			}
		}
		if lost > 0 {
			return fmt.Errorf("got %d lost versions of %d acknowledged ones", lost, len(acknowledged))
		}
		return nil
	})
	s.join()
	s.agree()
}
