package hosting

import (
	"fmt"
	"net/http"
	"path"
	"strings"
)

// header is one field that every answer carries.
type header struct{ name, value string }

// headers are what every answer carries, whoever serves the site. The policy of
// the site stands in each page too, but only a header can forbid frames.
func (s *Site) headers() []header {
	return []header{
		{"Content-Security-Policy", s.policy + "; frame-ancestors 'none'"},
		{"X-Content-Type-Options", "nosniff"},
		{"Referrer-Policy", "no-referrer"},
		{"Permissions-Policy", "camera=(self), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()"},
		{"Cross-Origin-Opener-Policy", "same-origin"},
		{"Cross-Origin-Resource-Policy", "same-origin"},
		// Addresses stay the same from edition to edition. Browsers have to ask
		// whether a file has changed, or they would mix two editions.
		{"Cache-Control", "no-cache"},
	}
}

// fields are the headers in the form in which an answer holds them.
func (s *Site) fields() http.Header {
	fields := http.Header{}
	for _, h := range s.headers() {
		fields.Set(h.name, h.value)
	}
	return fields
}

// The files that tell a host which headers to send.
const (
	headersFile = "_headers"
	nginxFile   = "nginx.conf"
)

// hostHeaders is the file that many hosts of plain files read at the root of
// what they publish: a path, and below it, indented, the headers for it.
func (s *Site) hostHeaders() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "%s/*\n", s.prefix)
	for _, h := range s.headers() {
		fmt.Fprintf(&b, "  %s: %s\n", h.name, h.value)
	}
	fmt.Fprintf(&b, "%s/manifest.webmanifest\n  Content-Type: %s\n", s.prefix, manifestKind)
	return []byte(b.String())
}

// nginxSettings are what an nginx has to be told in the server block (or a
// location) that serves the folder.
func (s *Site) nginxSettings() []byte {
	var b strings.Builder
	b.WriteString("# Include this file in the server or location block that serves this folder.\n")
	for _, h := range s.headers() {
		fmt.Fprintf(&b, "add_header %s %q always;\n", h.name, h.value)
	}
	b.WriteString("types {\n")
	known := map[string]bool{}
	for _, f := range s.sorted() {
		kind, _, _ := strings.Cut(f.kind, ";")
		if extension := strings.TrimPrefix(path.Ext(f.name()), "."); !known[extension] {
			known[extension] = true
			fmt.Fprintf(&b, "\t%s %s;\n", kind, extension)
		}
	}
	fmt.Fprintf(&b, `}
charset utf-8;
charset_types text/css text/javascript text/plain;
index index.html;
absolute_redirect off;
error_page 404 %[1]s/404.html;
# Whoever takes it gets the compressed copy that lies beside the program.
gzip_static on;
# These two are for whoever runs the host.
location = %[1]s/%[2]s { return 404; }
location = %[1]s/%[3]s { return 404; }
`, s.prefix, headersFile, nginxFile)
	return []byte(b.String())
}
