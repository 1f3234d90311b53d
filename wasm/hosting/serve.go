package hosting

import (
	"bytes"
	"maps"
	"net/http"
	"strings"
	"time"
)

// ServeHTTP answers with the files of the site. An address without a file is
// answered with the shell and status 404, as static hosts do with 404.html.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	for _, f := range s.headers() {
		h.Set(f.name, f.value)
	}

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
	if f := s.files[p]; f != nil {
		f.serve(w, r)
	} else {
		s.files["/404.html"].serveInstead(w, r)
	}
}

// representation chooses what to send. It answers and returns nil if the client
// takes none.
func (f *file) representation(w http.ResponseWriter, r *http.Request) *representation {
	sent := f.choose(strings.Join(r.Header["Accept-Encoding"], ","))
	if sent == nil {
		w.Header().Set("Vary", "Accept-Encoding")
		http.Error(w, "there is no copy of this file in an encoding that is accepted", http.StatusNotAcceptable)
	}
	return sent
}

// serve answers with a file, or a part of it, or says that it has not changed.
func (f *file) serve(w http.ResponseWriter, r *http.Request) {
	if sent := f.representation(w, r); sent != nil {
		maps.Copy(w.Header(), sent.fields)
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(sent.body))
	}
}

// serveInstead answers with a file in the place of one that is not there.
func (f *file) serveInstead(w http.ResponseWriter, r *http.Request) {
	if sent := f.representation(w, r); sent != nil {
		h := w.Header()
		maps.Copy(h, sent.fields)
		h.Del("Etag") // that of the page, which is not asked for
		h.Del("Accept-Ranges")
		w.WriteHeader(http.StatusNotFound)
		if r.Method != http.MethodHead {
			w.Write(sent.body) // a client that has gone away cannot be told
		}
	}
}
