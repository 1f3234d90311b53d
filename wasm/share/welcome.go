package main

import (
	"fmt"
	"io"
	"net"
	"os"
	"strings"

	"rsc.io/qr"
)

// welcome prints where the site is, and how phones come to share a shelf there. The
// code to join is made by the first phone: whoever has it can read the shelf, so the
// exchange must never know it.
func (s *settings) welcome(out io.Writer, addr net.Addr, prefix string) {
	base := s.base(addr) + prefix + "/"
	fmt.Fprintf(out, "Larderlamp is at %s and its shelves can be shared there.\n", base)
	fmt.Fprintf(out, "To begin, open %sshare on the first phone and touch \"Share this shelf\":\n", base)
	fmt.Fprintln(out, "that phone makes the code with which the others join. Only the phones know it.")
	switch {
	case s.host != "":
		if isTerminal(out) {
			fmt.Fprint(out, picture(base+"share"))
		}
	case s.cert == "":
		fmt.Fprintln(out, "A phone shares only over https, or on this computer itself: the README says how to get there.")
	}
	fmt.Fprintln(out, "Stop it with Ctrl-C.")
}

// base is the address of the host as people open it.
func (s *settings) base(addr net.Addr) string {
	if s.host != "" {
		return "https://" + s.host
	}
	scheme := "http"
	if s.cert != "" {
		scheme = "https"
	}
	host, port, err := net.SplitHostPort(addr.String())
	if ip := net.ParseIP(host); err == nil && ip.IsUnspecified() { // it listens on every address
		host = "localhost"
		if name, err := os.Hostname(); err == nil && scheme == "https" {
			host = name
		}
		return scheme + "://" + net.JoinHostPort(host, port)
	}
	return scheme + "://" + addr.String()
}

// isTerminal reports whether a person reads what is written.
func isTerminal(out io.Writer) bool {
	f, ok := out.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// picture draws an address as a QR code of half blocks, black on white whatever the
// colors of the terminal.
func picture(address string) string {
	code, err := qr.Encode(address, qr.L)
	if err != nil {
		return "" // it is too long; the address stands there in letters
	}
	const margin = 2
	var b strings.Builder
	for y := -margin; y < code.Size+margin; y += 2 {
		b.WriteString("\x1b[30;107m")
		for x := -margin; x < code.Size+margin; x++ {
			switch upper, lower := code.Black(x, y), code.Black(x, y+1); {
			case upper && lower:
				b.WriteString("█")
			case upper:
				b.WriteString("▀")
			case lower:
				b.WriteString("▄")
			default:
				b.WriteString(" ")
			}
		}
		b.WriteString("\x1b[0m\n")
	}
	return b.String()
}
