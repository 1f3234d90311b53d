package hosting

import (
	"bytes"
	"maps"
	"net/http"
	"slices"
	"strings"
	"time"
)

// ServeHTTP answers with the files of the site. An address without a file is
// answered with the shell and status 404, as static hosts do with 404.html.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	maps.Copy(h, s.sent)

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
		s.files["/404.html"].stand(w, r)
	}
}

// vary says that what is sent depends on what the client can unpack.
var vary = []string{"Accept-Encoding"}

// representation chooses what to send, and writes its headers. It answers and
// gives nil if the client takes none.
func (f *file) representation(w http.ResponseWriter, r *http.Request) *representation {
	h := w.Header()
	h["Vary"] = vary
	accept := r.Header["Accept-Encoding"]
	line := ""
	if len(accept) == 1 {
		line = accept[0]
	} else {
		line = strings.Join(accept, ",")
	}
	sent := f.choose(line)
	if sent == nil {
		http.Error(w, "there is no copy of this file in an encoding that is accepted", http.StatusNotAcceptable)
		return nil
	}
	h["Content-Type"] = f.typed
	h["Content-Length"] = sent.length
	if sent.encode != nil {
		h["Content-Encoding"] = sent.encode
	}
	return sent
}

// ranges says that a part of a file can be asked for.
var ranges = []string{"bytes"}

// conditions are the headers of a request that may not want the whole of a file.
var conditions = []string{"Range", "If-None-Match", "If-Match", "If-Modified-Since", "If-Unmodified-Since", "If-Range"}

// serve answers with a file, or a part of it, or says that it has not changed.
func (f *file) serve(w http.ResponseWriter, r *http.Request) {
	sent := f.representation(w, r)
	if sent == nil {
		return
	}
	h := w.Header()
	h["Etag"] = sent.tag
	asksFor := func(name string) bool { return r.Header[name] != nil }
	if r.Method != http.MethodGet || slices.ContainsFunc(conditions, asksFor) {
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(sent.body))
		return
	}
	// What nearly everybody asks for is sent without the detours of the rest.
	h["Accept-Ranges"] = ranges
	join(r, len(sent.body))
	w.Write(sent.body) // a client that has gone away cannot be told
}

// stand answers with a file in the place of one that is not there.
func (f *file) stand(w http.ResponseWriter, r *http.Request) {
	if sent := f.representation(w, r); sent != nil {
		w.WriteHeader(http.StatusNotFound)
		if r.Method != http.MethodHead {
			w.Write(sent.body) // a client that has gone away cannot be told
		}
	}
}
