package main

import (
	"bytes"
	"context"
	"crypto"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/base64"
	"encoding/json"
	"encoding/pem"
	"errors"
	"fmt"
	"math/big"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/crypto/acme"
)

// certifier is a certificate authority as RFC 8555 describes it, with the challenge of
// RFC 8737, as far as one name needs it. It gives a certificate only to who answers at
// the address that the name leads to.
type certifier struct {
	*httptest.Server
	leads string // the address of the computer that every name leads to
	root  *x509.Certificate
	key   *ecdsa.PrivateKey

	mu     sync.Mutex
	print  string // the thumbprint of the account's key
	name   string // that is asked for
	valid  bool
	issued [][]byte
	refuse bool
}

func newCertifier(t *testing.T, leads string) *certifier {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	root := &x509.Certificate{
		SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "authority"}, IsCA: true, BasicConstraintsValid: true,
		KeyUsage: x509.KeyUsageCertSign, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().AddDate(1, 0, 0),
	}
	der, err := x509.CreateCertificate(rand.Reader, root, root, key.Public(), key)
	if err != nil {
		t.Fatal(err)
	}
	if root, err = x509.ParseCertificate(der); err != nil {
		t.Fatal(err)
	}
	c := &certifier{leads: leads, root: root, key: key}
	c.Server = httptest.NewServer(http.HandlerFunc(c.answer))
	t.Cleanup(c.Close)
	return c
}

// answer answers every request of the protocol.
func (c *certifier) answer(w http.ResponseWriter, r *http.Request) {
	c.mu.Lock()
	defer c.mu.Unlock()
	w.Header().Set("Replay-Nonce", rand.Text())
	var said struct{ Protected, Payload string }
	var payload []byte
	if r.Method == "POST" {
		if err := json.NewDecoder(r.Body).Decode(&said); err != nil {
			http.Error(w, err.Error(), http.StatusBadRequest)
			return
		}
		payload, _ = base64.RawURLEncoding.DecodeString(said.Payload) // none asks only
	}
	send := func(status int, at string, v any) {
		w.Header().Set("Location", c.URL+at)
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(status)
		json.NewEncoder(w).Encode(v)
	}
	challenge := func() map[string]any {
		return map[string]any{"type": "tls-alpn-01", "url": c.URL + "/challenge", "token": "token", "status": c.status("pending")}
	}
	order := func() map[string]any {
		o := map[string]any{
			"status": c.status("pending"), "identifiers": []any{map[string]string{"type": "dns", "value": c.name}},
			"authorizations": []string{c.URL + "/authorization"}, "finalize": c.URL + "/finalize",
		}
		if c.valid {
			o["status"] = "ready"
		}
		return o
	}
	var err error
	switch r.URL.Path {
	case "/directory":
		send(200, "", map[string]string{"newNonce": c.URL + "/nonce", "newAccount": c.URL + "/account", "newOrder": c.URL + "/order", "revokeCert": c.URL, "keyChange": c.URL})
	case "/nonce":
	case "/account":
		if c.print, err = thumbprint(said.Protected); err == nil {
			send(201, "/account", map[string]string{"status": "valid"})
		}
	case "/order":
		var asked struct{ Identifiers []struct{ Value string } }
		if err = json.Unmarshal(payload, &asked); c.refuse {
			err = errors.New("this name is refused")
		} else if err == nil && len(asked.Identifiers) == 1 {
			c.name, c.valid = asked.Identifiers[0].Value, false
			send(201, "/order/1", order())
		}
	case "/order/1":
		send(200, "", order())
	case "/authorization":
		send(200, "", map[string]any{"status": c.status("pending"), "identifier": map[string]string{"type": "dns", "value": c.name}, "challenges": []any{challenge()}})
	case "/challenge":
		if err = c.challenged(); err == nil {
			c.valid = true
			send(200, "", challenge())
		}
	case "/finalize":
		var asked struct{ CSR string }
		if err = json.Unmarshal(payload, &asked); err == nil {
			if err = c.issue(asked.CSR); err == nil {
				o := order()
				o["status"], o["certificate"] = "valid", c.URL+"/certificate"
				send(200, "/order/1", o)
			}
		}
	case "/certificate":
		w.Header().Set("Content-Type", "application/pem-certificate-chain")
		pem.Encode(w, &pem.Block{Type: "CERTIFICATE", Bytes: c.issued[len(c.issued)-1]})
	default:
		err = errors.New("no such address")
	}
	if err != nil {
		w.Header().Set("Content-Type", "application/problem+json")
		w.WriteHeader(http.StatusForbidden)
		json.NewEncoder(w).Encode(map[string]string{"type": "urn:ietf:params:acme:error:unauthorized", "detail": err.Error()})
	}
}

func (c *certifier) status(otherwise string) string {
	if c.valid {
		return "valid"
	}
	return otherwise
}

// thumbprint gives that of the key in a protected header (RFC 7638).
func thumbprint(protected string) (string, error) {
	text, err := base64.RawURLEncoding.DecodeString(protected)
	if err != nil {
		return "", err
	}
	var header struct{ JWK struct{ X, Y string } }
	if err := json.Unmarshal(text, &header); err != nil {
		return "", err
	}
	x, err := base64.RawURLEncoding.DecodeString(header.JWK.X)
	if err != nil {
		return "", err
	}
	y, err := base64.RawURLEncoding.DecodeString(header.JWK.Y)
	if err != nil {
		return "", err
	}
	key, err := ecdsa.ParseUncompressedPublicKey(elliptic.P256(), append(append([]byte{4}, x...), y...))
	if err != nil {
		return "", err
	}
	return acme.JWKThumbprint(crypto.PublicKey(key))
}

// challenged asks the computer that the name leads to for the proof that it is the one
// that asks.
func (c *certifier) challenged() error {
	conn, err := tls.Dial("tcp", c.leads, &tls.Config{ServerName: c.name, NextProtos: []string{acme.ALPNProto}, InsecureSkipVerify: true})
	if err != nil {
		return err
	}
	defer conn.Close()
	sum := sha256.Sum256([]byte("token." + c.print))
	leaf := conn.ConnectionState().PeerCertificates[0]
	for _, e := range leaf.Extensions {
		// The octets of the sum, as ASN.1.
		if e.Id.String() == "1.3.6.1.5.5.7.1.31" && bytes.Equal(e.Value, append([]byte{4, 32}, sum[:]...)) && leaf.VerifyHostname(c.name) == nil {
			return nil
		}
	}
	return errors.New("the proof is wrong")
}

// issue signs what is asked for.
func (c *certifier) issue(csr string) error {
	der, err := base64.RawURLEncoding.DecodeString(csr)
	if err != nil {
		return err
	}
	asked, err := x509.ParseCertificateRequest(der)
	if err != nil {
		return err
	}
	if !c.valid || len(asked.DNSNames) != 1 || asked.DNSNames[0] != c.name {
		return fmt.Errorf("%v was not proven", asked.DNSNames)
	}
	leaf := &x509.Certificate{
		SerialNumber: big.NewInt(int64(2 + len(c.issued))), DNSNames: asked.DNSNames, KeyUsage: x509.KeyUsageDigitalSignature,
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().AddDate(0, 3, 0),
	}
	cert, err := x509.CreateCertificate(rand.Reader, leaf, c.root, asked.PublicKey, c.key)
	if err == nil {
		c.issued = append(c.issued, cert)
	}
	return err
}

func (c *certifier) count() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.issued)
}

// With -host, the command fetches a certificate by proving that it is at that name,
// keeps it beside the log, serves that name only, and sends plain http on to https.
func TestCertificate(t *testing.T) {
	t.Parallel()
	const host = "jars.example"
	ports := freePorts(t, 2)
	secure, plain := fmt.Sprint("127.0.0.1:", ports[0]), fmt.Sprint("127.0.0.1:", ports[1])
	ca := newCertifier(t, secure)
	folder := filepath.Join(t.TempDir(), "log")
	args := []string{"-site", published(t), "-folder", folder, "-addr", secure, "-http", plain, "-host", host, "-acme", ca.URL + "/directory"}
	c := start(t, args...)
	if c.base != "https://"+host {
		t.Errorf("it says it is at %s, want https://%s", c.base, host)
	}
	roots := x509.NewCertPool()
	roots.AddCert(ca.root)
	client := func() *http.Client {
		return &http.Client{
			Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}, DisableKeepAlives: true, DialContext: func(ctx context.Context, _, to string) (net.Conn, error) {
				at := plain
				if strings.HasSuffix(to, ":443") {
					at = secure
				}
				return (&net.Dialer{}).DialContext(ctx, "tcp", at)
			}},
			CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
		}
	}()
	get := func(url string) (*http.Response, error) {
		answer, err := client.Get(url)
		if err == nil {
			answer.Body.Close()
		}
		return answer, err
	}
	for _, path := range []string{"/", "/exchange/1"} {
		if answer, err := get("https://" + host + path); err != nil || answer.StatusCode != http.StatusOK {
			t.Errorf("%s: got %v, %v, want 200", path, answer, err)
		}
	}
	if _, err := get("https://other.example/"); err == nil {
		t.Error("it serves another name")
	}
	if n := ca.count(); n != 1 {
		t.Errorf("it fetched %d certificates, want 1", n)
	}
	answer, err := get("http://" + host + "/share?x=1")
	if err != nil || answer.StatusCode != http.StatusFound || answer.Header.Get("Location") != "https://"+host+"/share?x=1" {
		t.Errorf("plain http: got %v, %v, want to be sent on to https", answer, err)
	}
	kept, err := os.ReadDir(filepath.Join(folder, "certificates"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range kept {
		info, err := file.Info()
		if err != nil || info.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s can be read by others: %v, %v", file.Name(), info.Mode(), err)
		}
	}
	// One that is started again has its certificate.
	c.kill()
	start(t, args...)
	if answer, err := get("https://" + host + "/"); err != nil || answer.StatusCode != http.StatusOK {
		t.Errorf("started again: got %v, %v, want 200", answer, err)
	}
	if n := ca.count(); n != 1 {
		t.Errorf("started again: it fetched %d certificates, want 1", n)
	}
}

// A certificate that is refused is said once, whoever asks for it.
func TestNoCertificate(t *testing.T) {
	t.Parallel()
	ca := newCertifier(t, "127.0.0.1:1")
	ca.refuse = true
	var said strings.Builder
	s := &settings{host: "jars.example", acme: ca.URL + "/directory", certificates: t.TempDir()}
	a := s.authority(&said)
	a.fetch()
	for _, name := range []string{"jars.example", "other.example"} {
		if _, err := a.config().GetCertificate(&tls.ClientHelloInfo{ServerName: name, CipherSuites: []uint16{tls.TLS_ECDHE_ECDSA_WITH_AES_128_GCM_SHA256}}); err == nil {
			t.Errorf("%s: got a certificate", name)
		}
	}
	if text := said.String(); strings.Count(text, "no certificate for jars.example") != 1 || !strings.Contains(text, "this name is refused") || strings.Contains(text, "other") {
		t.Errorf("it says %q, want once why there is none", text)
	}
}
