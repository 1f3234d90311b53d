package main

import (
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"syscall"
	"time"

	"larderlamp/wasm/hosting"
)

var serve = command{
	name:  "serve",
	args:  "[-addr HOST:PORT] [-cert FILE -key FILE] [-prefix /FOLDER] [-programs DIR] [-texts FILE] [-contact WHERE] [-patience LONG] [-kept DIR]",
	about: "Serve the site, by default to this computer only, until interrupted.",
	run:   runServe,
}

func runServe(ctx context.Context, flags *flag.FlagSet, args []string, out io.Writer) error {
	addr := flags.String("addr", "127.0.0.1:8080", "the `address` to listen on; port 0 takes a free one")
	cert := flags.String("cert", "", "a `file` with the TLS certificate and its chain in PEM; with it the site is served over HTTPS and HTTP/2")
	key := flags.String("key", "", "the `file` with the private key of the certificate")
	kept := keptFlag(flags)
	from := sourceFlags(flags)
	if err := parse(flags, args, 0); err != nil {
		return err
	}
	if _, _, err := net.SplitHostPort(*addr); err != nil {
		return usageError{err}
	}
	var pair []tls.Certificate
	if *cert != "" || *key != "" {
		if *cert == "" || *key == "" {
			return usageError{errors.New("-cert and -key are needed together")}
		}
		loaded, err := tls.LoadX509KeyPair(*cert, *key)
		if err != nil {
			return usageError{fmt.Errorf("certificate %s with key %s: %w", *cert, *key, err)}
		}
		pair = append(pair, loaded)
	}
	from.kept = hosting.Kept(*kept)
	site, err := from.assemble()
	if err != nil {
		return err
	}
	listener, err := listen(*addr)
	if err != nil {
		return err
	}
	scheme := "http"
	if pair != nil {
		scheme = "https"
	}
	fmt.Fprintf(out, "Larderlamp is at %s://%s%s/\nStop it with Ctrl-C.\n", scheme, listener.Addr(), site.Prefix())
	go func() {
		site.Compress(hosting.Quick)
		fmt.Fprintln(out, "Compressed copies are ready.")
	}()

	server := hosting.Server(site, hosting.Patient, nil)
	var direct *hosting.Direct
	if pair == nil {
		direct = hosting.NewDirect(listener, site, hosting.Patient)
	}
	stopped := make(chan error, 1)
	go func() {
		<-ctx.Done()
		grace, cancel := context.WithTimeout(context.Background(), 5*time.Second)
		defer cancel()
		err := server.Shutdown(grace)
		if direct != nil {
			err = errors.Join(err, direct.Wait(grace))
		}
		stopped <- err
	}()
	if pair != nil {
		server.TLSConfig = &tls.Config{Certificates: pair}
		err = server.ServeTLS(listener, "", "")
	} else {
		err = server.Serve(direct)
	}
	if !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return <-stopped
}

// listen opens an address. When its port is taken the error suggests the next
// free one.
func listen(addr string) (net.Listener, error) {
	listener, err := net.Listen("tcp", addr)
	if !errors.Is(err, syscall.EADDRINUSE) {
		return listener, err
	}
	host, name, splitErr := net.SplitHostPort(addr)
	port, portErr := strconv.Atoi(name)
	if splitErr != nil || portErr != nil {
		return nil, err
	}
	for next := port + 1; next <= min(port+100, 65535); next++ {
		free := net.JoinHostPort(host, strconv.Itoa(next))
		if probe, probeErr := net.Listen("tcp", free); probeErr == nil {
			probe.Close()
			return nil, fmt.Errorf("port %d is taken; try: site serve -addr %s", port, free)
		}
	}
	return nil, fmt.Errorf("port %d is taken: %w", port, err)
}
