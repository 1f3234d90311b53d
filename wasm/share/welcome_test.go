package main

import (
	"net"
	"strings"
	"testing"

	"rsc.io/qr"
)

// The command says where it is, how the code to join is made, and what a phone needs.
func TestWelcome(t *testing.T) {
	loopback := &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8080}
	for _, c := range []struct {
		s      settings
		addr   net.Addr
		prefix string
		says   []string
	}{
		{settings{}, loopback, "", []string{"at http://127.0.0.1:8080/ and", "open http://127.0.0.1:8080/share on the first phone", "only over https"}},
		{settings{}, &net.TCPAddr{IP: net.IPv6zero, Port: 8080}, "/jars", []string{"at http://localhost:8080/jars/ and", "http://localhost:8080/jars/share", "only over https"}},
		{settings{cert: "a", key: "b"}, loopback, "", []string{"at https://127.0.0.1:8080/ and", "Only the phones know it."}},
		{settings{host: "jars.example"}, &net.TCPAddr{IP: net.IPv6zero, Port: 443}, "", []string{"at https://jars.example/ and", "https://jars.example/share"}},
	} {
		var out strings.Builder
		c.s.welcome(&out, c.addr, c.prefix)
		for _, says := range c.says {
			if !strings.Contains(out.String(), says) {
				t.Errorf("%+v at %v: got %q, want %q in it", c.s, c.addr, out.String(), says)
			}
		}
		if secure := c.s.cert+c.s.host != ""; secure && strings.Contains(out.String(), "only over https") {
			t.Errorf("%+v: it asks for https, which it serves", c.s)
		}
	}
}

// Each module of the code is where it belongs, with a light margin around.
func TestPicture(t *testing.T) {
	const address = "https://jars.example/share"
	code, err := qr.Encode(address, qr.L)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]bool
	for line := range strings.Lines(picture(address)) {
		line, colored := strings.CutPrefix(strings.TrimSuffix(line, "\x1b[0m\n"), "\x1b[30;107m")
		if !colored {
			t.Fatalf("%q is not black on white", line)
		}
		var upper, lower []bool
		for _, r := range line {
			upper = append(upper, r == '█' || r == '▀')
			lower = append(lower, r == '█' || r == '▄')
		}
		rows = append(rows, upper, lower)
	}
	if len(rows) < code.Size+4 {
		t.Fatalf("got %d rows, want %d and a margin", len(rows), code.Size)
	}
	for y, row := range rows {
		if len(row) != code.Size+4 {
			t.Fatalf("row %d: got %d modules, want %d", y, len(row), code.Size+4)
		}
		for x, black := range row {
			if black != code.Black(x-2, y-2) {
				t.Fatalf("row %d, column %d: got black %t", y, x, black)
			}
		}
	}
}
