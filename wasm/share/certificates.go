package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"golang.org/x/crypto/acme"
	"golang.org/x/crypto/acme/autocert"
)

// off is the address at which nothing is served.
const off = "off"

// checkHost checks what is said about a name on the internet, and fills in what is
// not said.
func (s *settings) checkHost() error {
	if s.host == "" {
		if s.acme+s.certificates+s.plain != "" {
			return usageError{errors.New("-acme, -certificates and -http: they need -host")}
		}
		return nil
	}
	if s.cert != "" {
		return usageError{errors.New("-host and -cert: the certificate is fetched or given")}
	}
	if !strings.Contains(s.host, ".") || strings.ContainsAny(s.host, ":/, ") || net.ParseIP(s.host) != nil {
		return usageError{fmt.Errorf("-host %s: want a name such as jars.example.org, without https:// and without a port", s.host)}
	}
	if s.addr == "" {
		s.addr = ":443"
	}
	switch s.plain {
	case "":
		s.plain = ":80"
	case off:
	default:
		if _, _, err := net.SplitHostPort(s.plain); err != nil {
			return usageError{fmt.Errorf("-http: %w", err)}
		}
	}
	if s.acme == "" {
		s.acme = autocert.DefaultACMEDirectory
	}
	if s.certificates == "" {
		s.certificates = filepath.Join(s.folder, "certificates")
		if s.nats != "" {
			s.certificates = filepath.Join(filepath.Dir(filepath.Clean(s.site)), "larderlamp-certificates")
		}
	}
	return nil
}

// authority fetches the certificate of a name and renews it.
type authority struct {
	autocert.Manager
	name string
	errs io.Writer

	mu   sync.Mutex
	said time.Time // when an error was printed last
}

// authority gives what fetches the certificate.
func (s *settings) authority(errs io.Writer) *authority {
	return &authority{name: s.host, errs: errs, Manager: autocert.Manager{
		Prompt:     autocert.AcceptTOS,
		Cache:      autocert.DirCache(s.certificates),
		HostPolicy: autocert.HostWhitelist(s.host),
		Client:     &acme.Client{DirectoryURL: s.acme},
	}}
}

// config is what connections are served with.
func (a *authority) config() *tls.Config {
	c := a.TLSConfig()
	c.GetCertificate = func(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
		cert, err := a.GetCertificate(hello)
		// Other names are asked for by programs that search the internet.
		if strings.EqualFold(hello.ServerName, a.name) {
			a.say(err)
		}
		return cert, err
	}
	return c
}

// fetch fetches the certificate before anybody asks for it, so that an error is seen
// when the command is started.
func (a *authority) fetch() {
	_, err := a.GetCertificate(&tls.ClientHelloInfo{ServerName: a.name, CipherSuites: []uint16{tls.TLS_ECDHE_ECDSA_WITH_AES_128_GCM_SHA256}})
	a.say(err)
}

// quiet is how long an error is not printed again: whoever opens the site causes it.
const quiet = 10 * time.Minute

// say prints an error, if there is one, and none was printed just now.
func (a *authority) say(err error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if err != nil && time.Since(a.said) > quiet {
		a.said = time.Now()
		fmt.Fprintf(a.errs, "share: there is no certificate for %s yet: %v\nThe name must lead to this computer, and its port 443 or 80 must be reachable from the internet.\n", a.name, err)
	}
}

// redirect answers plain http: it sends everybody to https, and answers whoever gives
// out the certificate. It serves until the context is done.
func (a *authority) redirect(ctx context.Context, listener net.Listener) error {
	server := &http.Server{
		Handler:           a.HTTPHandler(nil),
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       20 * time.Second,
		WriteTimeout:      20 * time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    1 << 14,
		ErrorLog:          log.New(io.Discard, "", 0), // it would name addresses
	}
	defer context.AfterFunc(ctx, func() { server.Close() })()
	return server.Serve(listener)
}
