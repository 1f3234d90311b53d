package hosting

import (
	"encoding/hex"
	"net/http"
	"strconv"
	"strings"
)

// ServeHTTP answers with the files of the site. An address without a file is
// answered with the shell and status 404, as static hosts do with 404.html.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy+"; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Permissions-Policy", "camera=(self), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cache-Control", "no-cache")

	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "only GET and HEAD are answered", http.StatusMethodNotAllowed)
		return
	}
	p, inside := strings.CutPrefix(r.URL.Path, s.prefix)
	if !inside || p == "" || p[0] != '/' {
		if r.URL.Path == "/" || p == "" {
			http.Redirect(w, r, s.prefix+"/", http.StatusFound)
			return
		}
		http.NotFound(w, r)
		return
	}
	if f := s.files[strings.TrimSuffix(p, "/")]; f != nil && f.page && strings.HasSuffix(p, "/") {
		to := *r.URL
		to.Path, to.RawPath = s.prefix+f.path, ""
		http.Redirect(w, r, to.RequestURI(), http.StatusFound)
		return
	}
	status := http.StatusOK
	f := s.files[p]
	if f == nil {
		f, status = s.files["/404.html"], http.StatusNotFound
	}
	f.serve(w, r, status)
}

func (f *file) serve(w http.ResponseWriter, r *http.Request, status int) {
	h := w.Header()
	h.Set("Content-Type", f.kind)
	h.Set("Vary", "Accept-Encoding")
	if status == http.StatusOK {
		// Weak, because every encoding has the same tag.
		tag := `W/"` + hex.EncodeToString(f.digest[:16]) + `"`
		h.Set("ETag", tag)
		if strings.Contains(r.Header.Get("If-None-Match"), strings.TrimPrefix(tag, "W/")) {
			w.WriteHeader(http.StatusNotModified)
			return
		}
	}
	body, encoding := f.encoded(r.Header.Get("Accept-Encoding"))
	if encoding != "" {
		h.Set("Content-Encoding", encoding)
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	w.WriteHeader(status)
	if r.Method != http.MethodHead {
		w.Write(body) // a client that has gone away cannot be told
	}
}
