package journal

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
)

// Embedded is a server inside this program. Nothing else can connect to it.
type Embedded struct {
	folder string
	server *server.Server
	lock   *os.File
	Conn   *nats.Conn
}

// Embed starts a server that keeps its files in a folder. What it acknowledges as
// stored is on the disk, so that it survives a power failure.
func Embed(folder string) (*Embedded, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, fmt.Errorf("the folder of the log: %w", err)
	}
	// Two servers in one folder would overwrite each other's files.
	held, err := lock(filepath.Join(folder, "lock"))
	if err != nil {
		return nil, fmt.Errorf("the folder %s of the log is in use by another program: %w", folder, err)
	}
	e := &Embedded{folder: folder, lock: held}
	if err := e.start(); err != nil {
		e.Close()
		return nil, err
	}
	return e, nil
}

func (e *Embedded) start() error {
	s, err := server.NewServer(&server.Options{
		ServerName: "larderlamp",
		DontListen: true,
		JetStream:  true,
		StoreDir:   filepath.Clean(e.folder),
		SyncAlways: true,
		// Versions are never held in memory, and the disk is bounded by the streams.
		JetStreamMaxMemory: 1 << 20,
		JetStreamMaxStore:  1 << 50,
		MaxPayload:         2 << 20,
		NoSigs:             true,
		NoLog:              true,
	})
	if err != nil {
		return fmt.Errorf("start the log in %s: %w", e.folder, err)
	}
	e.server = s
	s.Start()
	if !s.ReadyForConnections(time.Minute) || s.JetStreamConfig() == nil {
		return fmt.Errorf("the log in %s does not start: is the folder writable, and is there room on its disk?", e.folder)
	}
	e.Conn, err = nats.Connect("", nats.InProcessServer(s), nats.Name("share"), nats.MaxReconnects(-1), quiet)
	if err != nil {
		return fmt.Errorf("start the log in %s: %w", e.folder, err)
	}
	return nil
}

// Room tells how many bytes are free on the disk.
func (e *Embedded) Room() (int64, error) { return room(e.folder) }

// Close ends the server when everything it was told is written.
func (e *Embedded) Close() {
	if e.Conn != nil {
		e.Conn.Close()
	}
	if e.server != nil {
		e.server.Shutdown()
		e.server.WaitForShutdown()
	}
	e.lock.Close() // which lets go of it
}

// quiet keeps anything that would name a household out of the output.
var quiet = nats.ErrorHandler(func(*nats.Conn, *nats.Subscription, error) {})

// Connect connects to the servers of a cluster, one after the other until one
// answers, and again whenever that one is lost.
func Connect(ctx context.Context, addresses string) (*nats.Conn, error) {
	for {
		conn, err := nats.Connect(addresses, nats.Name("share"), nats.MaxReconnects(-1),
			nats.ReconnectWait(200*time.Millisecond), nats.Timeout(3*time.Second), nats.PingInterval(2*time.Second), nats.MaxPingsOutstanding(2),
			// What cannot be sent now is refused, and the phone sends it again.
			nats.ReconnectBufSize(-1), quiet)
		if err == nil {
			return conn, nil
		}
		select {
		case <-ctx.Done():
			return nil, fmt.Errorf("connect to %s: %w", addresses, err)
		case <-time.After(200 * time.Millisecond): // they may just be starting
		}
	}
}
