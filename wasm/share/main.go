// Command share serves a published site together with the exchange, through which
// the phones of a household share their shelf.
//
// It exits with
//
//	0  when it was interrupted
//	1  when it failed
//	2  when the command line was wrong
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"github.com/nats-io/nats.go"

	"larderlamp/share/exchange"
	"larderlamp/share/journal"
)

const usage = `Usage: share -site FOLDER [-folder FOLDER | -nats ADDRESSES] [flags]

Serve a site that "site publish" wrote, and the exchange at which the phones of a
household share their shelf. What passes through the exchange is sealed: it knows
neither the records nor their kinds.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// usageError is an error in the command line.
type usageError struct{ error }

// run runs one command line and gives its exit code.
func run(ctx context.Context, args []string, out, errs io.Writer) int {
	flags := flag.NewFlagSet("share", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	s := settings{limits: exchange.Usual}
	flags.StringVar(&s.addr, "addr", "", "the `address` to listen on; port 0 takes a free one (default 127.0.0.1:8080, and :443 with -host)")
	flags.StringVar(&s.cert, "cert", "", "a `file` with the TLS certificate and its chain in PEM; with it everything is served over HTTPS")
	flags.StringVar(&s.key, "key", "", "the `file` with the private key of the certificate")
	flags.StringVar(&s.host, "host", "", "the `name` of this computer on the internet: its TLS certificate is fetched and renewed, from Let's Encrypt, whose terms of service you accept by this")
	flags.StringVar(&s.plain, "http", "", "with -host: the `address` at which plain http is sent on to https (default :80), or off")
	flags.StringVar(&s.acme, "acme", "", "with -host: the `URL` of the ACME directory of another certificate authority")
	flags.StringVar(&s.certificates, "certificates", "", "with -host: the `folder` in which the certificate is kept (default: certificates in the folder of the log, or with -nats larderlamp-certificates beside the site)")
	flags.StringVar(&s.site, "site", "", "the `folder` of the published site")
	flags.StringVar(&s.folder, "folder", "", "the `folder` in which the log is kept (default: larderlamp-log beside the site)")
	flags.StringVar(&s.nats, "nats", "", "the `addresses` of the servers of a NATS cluster with JetStream, with commas in between; the log is kept there")
	flags.IntVar(&s.replicas, "replicas", 3, "on how many servers of the cluster everything is kept")
	flags.Int64Var(&s.households, "households", 100, "how many households there may be")
	flags.Int64Var(&s.total, "bytes", 8<<30, "how many bytes all households may keep together")
	flags.Int64Var(&s.limits.Bytes, "household-bytes", s.limits.Bytes, "how many bytes one household may keep")
	flags.IntVar(&s.limits.Versions, "household-versions", s.limits.Versions, "how many versions one household may keep")
	flags.Float64Var(&s.limits.Rate, "rate", s.limits.Rate, "versions a second that one household may send in the long run")
	flags.IntVar(&s.limits.Burst, "burst", s.limits.Burst, "versions that one household may send at once")
	flags.IntVar(&s.limits.Listeners, "phones", s.limits.Listeners, "how many phones may wait for news at a time")
	flags.Float64Var(&s.limits.Founding, "founding", s.limits.Founding, "new households a second, of everybody together")
	flags.DurationVar(&s.patience, "patience", 3*time.Second, "how `long` the log may take for one answer before the exchange says that it cannot reach it")
	flags.IntVar(&s.connections, "connections", 50_000, "how many connections may be open at a time")
	err := flags.Parse(args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprint(out, usage, "\n")
		flags.SetOutput(out)
		flags.PrintDefaults()
		return 0
	}
	switch {
	case err != nil:
		err = usageError{err}
	case flags.NArg() > 0:
		err = usageError{fmt.Errorf("%q is no flag", flags.Arg(0))}
	default:
		err = s.serve(ctx, out, errs)
	}
	if err == nil {
		return 0
	}
	fmt.Fprintf(errs, "share: %v\n", err)
	if _, wrong := errors.AsType[usageError](err); wrong {
		fmt.Fprintln(errs, "See: share -h")
		return 2
	}
	return 1
}

// settings are what the command line says.
type settings struct {
	addr, cert, key, site, folder, nats string
	host, plain, acme, certificates     string
	replicas, connections               int
	households, total                   int64
	patience                            time.Duration
	limits                              exchange.Limits
}

// check rejects settings that make no sense, and fills in what depends on others.
func (s *settings) check() error {
	if s.site == "" {
		return usageError{errors.New("-site: say where the published site is")}
	}
	if s.folder != "" && s.nats != "" {
		return usageError{errors.New("-folder and -nats: the log is in one of them")}
	}
	if (s.cert == "") != (s.key == "") {
		return usageError{errors.New("-cert and -key are needed together")}
	}
	if s.folder == "" && s.nats == "" {
		s.folder = filepath.Join(filepath.Dir(filepath.Clean(s.site)), "larderlamp-log")
	}
	if err := s.checkHost(); err != nil {
		return err
	}
	if s.addr == "" {
		s.addr = "127.0.0.1:8080"
	}
	if _, _, err := net.SplitHostPort(s.addr); err != nil {
		return usageError{err}
	}
	for name, n := range map[string]int64{
		"replicas": int64(s.replicas), "connections": int64(s.connections), "households": s.households, "bytes": s.total,
		"household-bytes": s.limits.Bytes, "household-versions": int64(s.limits.Versions), "phones": int64(s.limits.Listeners), "burst": int64(s.limits.Burst),
	} {
		if n < 1 {
			return usageError{fmt.Errorf("-%s %d: want 1 or more", name, n)}
		}
	}
	if s.patience <= 0 {
		return usageError{fmt.Errorf("-patience %v: want more than nothing", s.patience)}
	}
	if s.limits.Rate <= 0 || s.limits.Founding <= 0 {
		return usageError{errors.New("-rate and -founding: want more than nothing")}
	}
	return nil
}

// spare is how much of the disk stays free: a log that fills it could not be read
// any longer either.
const spare = 64 << 20

// open opens the log. The channel tells when it cannot go on.
func (s *settings) open(ctx context.Context) (j *journal.Journal, broken <-chan error, end func(), err error) {
	set := journal.Settings{
		Households: s.households, Bytes: s.total, Largest: exchange.Largest, Replicas: 1, Patience: s.patience, Spare: spare,
	}
	within, done := context.WithTimeout(ctx, time.Minute)
	defer done()
	var conn *nats.Conn
	stopped := make(chan error, 1)
	if s.nats != "" {
		if conn, err = journal.Connect(within, s.nats); err != nil {
			return nil, nil, nil, err
		}
		set.Replicas, end = s.replicas, conn.Close
	} else {
		embedded, err := journal.Embed(s.folder)
		if err != nil {
			return nil, nil, nil, err
		}
		conn, end, set.Room, set.Alone = embedded.Conn, embedded.Close, embedded.Room, true
	}
	if j, err = journal.Open(within, conn, set); err != nil {
		end()
		return nil, nil, nil, err
	}
	if s.nats == "" {
		go func() {
			look := time.NewTicker(time.Second)
			defer look.Stop()
			if watch(ctx, j.Silent, look.C) {
				stopped <- fmt.Errorf("the log in %s stores nothing any more, as after its disk was full; everything that was stored is there when share is started again", s.folder)
			}
		}()
	}
	return j, stopped, end, nil
}

// A log that has stored nothing for this long, and after this many writes, is given up.
const (
	givenUp      = 30 * time.Second
	givenUpAfter = 3
)

// watch waits until the log within the program is to be given up, or the program
// ends.
func watch(ctx context.Context, silent func() (int, time.Time), look <-chan time.Time) bool {
	for {
		select {
		case <-ctx.Done():
			return false
		case now := <-look:
			if writes, since := silent(); writes >= givenUpAfter && now.Sub(since) >= givenUp {
				return true
			}
		}
	}
}

// serve serves until it is interrupted.
func (s *settings) serve(ctx context.Context, out, errs io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	site, err := openSite(s.site)
	if err != nil {
		return usageError{err}
	}
	j, broken, end, err := s.open(ctx)
	if err != nil {
		return err
	}
	defer end()
	ending := make(chan struct{})
	x, err := exchange.New(j, s.limits, ending)
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", s.addr)
	if err != nil {
		return err
	}
	server := &http.Server{
		Handler:           site.with(x),
		ReadHeaderTimeout: 10 * time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    1 << 14,
		ErrorLog:          log.New(io.Discard, "", 0), // it would name addresses
	}
	listener = &bounded{Listener: listener, free: make(chan struct{}, s.connections)}
	failed := make(chan error, 2)
	if s.host != "" {
		a := s.authority(errs)
		server.TLSConfig = a.config()
		if s.plain != off {
			plain, err := net.Listen("tcp", s.plain)
			if err != nil {
				listener.Close()
				return fmt.Errorf("-http: %w", err)
			}
			plainly, done := context.WithCancel(ctx)
			defer done()
			go func() {
				err := a.redirect(plainly, &bounded{Listener: plain, free: make(chan struct{}, 1000)})
				if plainly.Err() == nil {
					failed <- fmt.Errorf("-http: %w", err)
				}
			}()
		}
		go a.fetch()
	}
	s.welcome(out, listener.Addr(), site.prefix)
	go func() {
		if s.cert != "" || s.host != "" {
			failed <- server.ServeTLS(listener, s.cert, s.key)
		} else {
			failed <- server.Serve(listener)
		}
	}()
	select {
	case err = <-failed:
	case err = <-broken:
	case <-ctx.Done():
	}
	close(ending)
	grace, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	return errors.Join(err, server.Shutdown(grace))
}
