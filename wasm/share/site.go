package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"
)

// site is a folder that "site publish" wrote.
type site struct {
	files  fs.FS
	prefix string        // the folder of the site on its host, such as /larder
	fields []http.Header // by file, with those of all files first
	paths  []string
}

// The files that are for the operator of the host, and are not served.
var private = map[string]bool{"_headers": true, "nginx.conf": true}

// openSite reads what the folder says about its headers and its prefix.
func openSite(folder string) (*site, error) {
	f, err := os.Open(filepath.Join(folder, "_headers"))
	if err != nil {
		return nil, fmt.Errorf("-site %s is no published site (make publish DIR=folder writes one): %w", folder, err)
	}
	defer f.Close()
	s := &site{files: os.DirFS(folder)}
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		line := lines.Text()
		if !strings.HasPrefix(line, " ") {
			s.paths, s.fields = append(s.paths, line), append(s.fields, http.Header{})
			continue
		}
		name, value, found := strings.Cut(strings.TrimSpace(line), ": ")
		if !found || len(s.fields) == 0 {
			return nil, fmt.Errorf("-site %s: _headers: %q is no header of a file", folder, line)
		}
		s.fields[len(s.fields)-1].Set(name, value)
	}
	if err := lines.Err(); err != nil {
		return nil, fmt.Errorf("-site %s: _headers: %w", folder, err)
	}
	if len(s.paths) == 0 || !strings.HasSuffix(s.paths[0], "/*") {
		return nil, fmt.Errorf("-site %s: _headers: it does not begin with the headers of all files", folder)
	}
	s.prefix = strings.TrimSuffix(s.paths[0], "/*")
	return s, nil
}

// with serves the site, and everything below /exchange/ by the exchange.
func (s *site) with(exchange http.Handler) http.Handler {
	exchange = http.StripPrefix(s.prefix, exchange)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(r.URL.Path, s.prefix+"/exchange/") {
			exchange.ServeHTTP(w, r)
			return
		}
		control := http.NewResponseController(w)
		control.SetReadDeadline(time.Now().Add(20 * time.Second))
		control.SetWriteDeadline(time.Now().Add(5 * time.Minute))
		s.ServeHTTP(w, r)
	})
}

// ServeHTTP answers with the files.
func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	for i, p := range s.paths {
		if i == 0 || p == r.URL.Path {
			for name, values := range s.fields[i] {
				w.Header()[name] = values
			}
		}
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "only GET and HEAD are answered", http.StatusMethodNotAllowed)
		return
	}
	p, inside := strings.CutPrefix(r.URL.Path, s.prefix)
	if !inside || !strings.HasPrefix(p, "/") {
		if r.URL.Path == "/" || p == "" {
			http.Redirect(w, r, s.prefix+"/", http.StatusFound)
			return
		}
		s.missing(w)
		return
	}
	name := strings.TrimPrefix(path.Clean(p), "/")
	if name == "" {
		name = "index.html"
	} else if info, err := fs.Stat(s.files, name); err == nil && info.IsDir() {
		name += "/index.html"
	}
	// A name that begins with a dot lists the files for "site publish".
	if private[name] || strings.HasPrefix(name, ".") {
		s.missing(w)
		return
	}
	// The compressed copy that is stored next to the program.
	if packed := name + ".br"; strings.Contains(r.Header.Get("Accept-Encoding"), "br") {
		if _, err := fs.Stat(s.files, packed); err == nil {
			w.Header().Set("Vary", "Accept-Encoding")
			w.Header().Set("Content-Encoding", "br")
			w.Header().Set("Content-Type", "application/wasm")
			http.ServeFileFS(w, r, s.files, packed)
			return
		}
	}
	if _, err := fs.Stat(s.files, name); errors.Is(err, fs.ErrNotExist) {
		s.missing(w)
		return
	}
	// Not by ServeFileFS, which sends index.html on to its folder.
	f, err := s.files.Open(name)
	if err != nil {
		http.Error(w, "the file cannot be read", http.StatusInternalServerError)
		return
	}
	defer f.Close()
	info, err := f.Stat()
	content, ok := f.(io.ReadSeeker)
	if err != nil || !ok {
		http.Error(w, "the file cannot be read", http.StatusInternalServerError)
		return
	}
	http.ServeContent(w, r, name, info.ModTime(), content)
}

// missing answers with the page that stands in for every address without one.
func (s *site) missing(w http.ResponseWriter) {
	page, err := fs.ReadFile(s.files, "404.html")
	if err != nil {
		http.Error(w, "there is nothing at this address", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(http.StatusNotFound)
	w.Write(page) // a client that has gone away cannot be told
}
