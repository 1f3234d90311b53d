package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
)

// The test program is also the command and a server of a cluster, so that both run
// as programs of their own, which can be killed.
func TestMain(m *testing.M) {
	switch os.Getenv("SHARE_TEST_AS") {
	case "command":
		main()
	case "server":
		if err := serveCluster(os.Args[1]); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	case "front":
		if err := front(os.Args[1]); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	default:
		os.Exit(m.Run())
	}
}

// serveCluster runs one server of NATS with the options given as JSON.
func serveCluster(text string) error {
	var node node
	if err := json.Unmarshal([]byte(text), &node); err != nil {
		return err
	}
	routes := make([]string, len(node.Routes))
	for i, port := range node.Routes {
		routes[i] = fmt.Sprintf("nats://127.0.0.1:%d", port)
	}
	o := &server.Options{
		ServerName: node.Name, Host: "127.0.0.1", Port: node.Port, JetStream: true, StoreDir: node.Dir, NoLog: true, NoSigs: true,
	}
	if len(routes) > 0 {
		// What the servers would tell each other of their addresses goes nowhere: there
		// is no way between them but the wires that can be cut.
		o.Cluster = server.ClusterOpts{Name: "club", Host: "127.0.0.1", Port: node.Cluster, Advertise: "127.0.0.1:1", PoolSize: -1}
		o.Routes = server.RoutesFromStr(strings.Join(routes, ","))
	} else {
		o.SyncAlways, o.MaxConn = true, 1<<20 // as the one within the command
	}
	s, err := server.NewServer(o)
	if err != nil {
		return err
	}
	s.Start()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	<-ctx.Done()
	s.Shutdown()
	s.WaitForShutdown()
	return nil
}

// node is a server of a cluster.
type node struct {
	Name          string
	Dir           string
	Port, Cluster int
	Routes        []int
	run           *process
}

// process is this test program, running as something else.
type process struct {
	cmd  *exec.Cmd
	errs *bytes.Buffer
	out  *bufio.Reader
	over chan error
}

func spawn(t testing.TB, as string, args ...string) *process {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	p := &process{cmd: exec.Command(self, args...), errs: &bytes.Buffer{}, over: make(chan error, 1)}
	p.cmd.Env = append(os.Environ(), "SHARE_TEST_AS="+as)
	p.cmd.Stderr = p.errs
	out, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	p.cmd.Stdout, p.out = w, bufio.NewReader(out)
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	w.Close()
	go func() { p.over <- p.cmd.Wait() }()
	t.Cleanup(func() {
		p.kill()
		out.Close()
	})
	return p
}

// kill ends it as a loss of power would.
func (p *process) kill() {
	p.cmd.Process.Signal(syscall.SIGCONT) // of one that has ended there is nothing to kill
	p.cmd.Process.Kill()
	p.wait()
}

// wait waits for its end.
func (p *process) wait() error {
	err := <-p.over
	p.over <- err
	return err
}

// command is the command, running.
type command struct {
	*process
	base string
}

// start starts the command and waits until it says its address.
func start(t testing.TB, args ...string) *command {
	t.Helper()
	// The tests must not depend on how fast a computer is.
	args = append([]string{"-addr", "127.0.0.1:0", "-patience", "1m"}, args...)
	c := &command{process: spawn(t, "command", args...)}
	line, err := c.out.ReadString('\n')
	if err != nil {
		t.Fatalf("the command ended: %v\n%s", c.wait(), c.errs)
	}
	_, rest, _ := strings.Cut(line, " at ")
	c.base, _, _ = strings.Cut(rest, "/ ")
	go io.Copy(io.Discard, c.out)
	return c
}

// published gives a folder with what passes for a published site.
func published(t testing.TB) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "site")
	for name, text := range map[string]string{
		"_headers":             "/*\n  Content-Security-Policy: default-src 'self'\n  Cache-Control: no-cache\n/manifest.webmanifest\n  Content-Type: application/manifest+json\n",
		"nginx.conf":           "secret",
		".larderlamp-site":     "index.html\n",
		"index.html":           "<!doctype html><title>Larderlamp</title>",
		"404.html":             "<!doctype html><title>Not found</title>",
		"check/index.html":     "<!doctype html><title>Check</title>",
		"manifest.webmanifest": "{}",
		"wasm/app.wasm":        "\x00asm",
		"wasm/app.wasm.br":     "packed",
	} {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// freePorts gives ports that nobody listens on. They are none of those that a
// system gives out by itself, or another test could be given one before it is used.
func freePorts(t testing.TB, n int) (ports []int) {
	t.Helper()
	for range 1000 {
		if len(ports) == n {
			return ports
		}
		port := 20_000 + rand.IntN(10_000)
		l, err := net.Listen("tcp", fmt.Sprint("127.0.0.1:", port))
		if err != nil {
			continue
		}
		defer l.Close()
		ports = append(ports, port)
	}
	t.Fatal("there are no free ports")
	return nil
}

// eventually waits until a condition holds, and fails after several minutes: a slow
// computer needs time, but a fault lasts forever.
func eventually(t testing.TB, what string, f func() error) {
	t.Helper()
	var err error
	for end := time.Now().Add(2 * time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if err = f(); err == nil {
			return
		}
	}
	t.Fatalf("%s: %v", what, err)
}
