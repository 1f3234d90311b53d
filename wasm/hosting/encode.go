package hosting

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"

	"github.com/andybalholm/brotli"
)

// Brotli qualities: Best takes about ten times as long as Quick, and gives
// about a tenth fewer bytes.
const (
	Quick = 9
	Best  = brotli.BestCompression
)

// Brotli compresses a body.
func Brotli(body []byte, quality int) []byte {
	var b bytes.Buffer
	w := brotli.NewWriterLevel(&b, quality)
	w.Write(body) // a buffer takes everything
	w.Close()
	return b.Bytes()
}

// Gzip compresses a body as well as gzip can, the same way every time.
func Gzip(body []byte) []byte {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		panic(err) // the level is a constant of the package
	}
	w.Write(body)
	w.Close()
	return b.Bytes()
}

// packed holds the compressed copies of a file, once they are made.
type packed struct{ br, gz atomic.Pointer[[]byte] }

// Compress makes compressed copies of every file that gains by it, small ones
// first. The site may be served meanwhile; until its copy is there a file
// travels as it is.
func (s *Site) Compress(quality int) {
	files := s.sorted()
	slices.SortStableFunc(files, func(a, b *file) int { return cmp.Compare(len(a.body), len(b.body)) })
	for _, f := range files {
		if path.Ext(f.path) == ".png" {
			continue
		}
		if br := Brotli(f.body, quality); len(br) < len(f.body) {
			f.packed.br.Store(&br)
		}
		if gz := Gzip(f.body); len(gz) < len(f.body) {
			f.packed.gz.Store(&gz)
		}
	}
}

// encoded chooses the smallest copy of a file that a client takes, by its
// Accept-Encoding. The encoding is "" for the file as it is.
func (f *file) encoded(accept string) (body []byte, encoding string) {
	if br := f.packed.br.Load(); br != nil && accepts(accept, "br") {
		return *br, "br"
	}
	if gz := f.packed.gz.Load(); gz != nil && accepts(accept, "gzip") {
		return *gz, "gzip"
	}
	return f.body, ""
}

// accepts tells whether an Accept-Encoding names a coding with a weight above
// nought. "*" stands for codings that are not named.
func accepts(accept, coding string) bool {
	taken := false
	for part := range strings.SplitSeq(accept, ",") {
		name, weight, weighted := strings.Cut(part, ";")
		name = strings.ToLower(strings.TrimSpace(name))
		if name != coding && name != "*" {
			continue
		}
		taken = true
		if q, ok := strings.CutPrefix(strings.TrimSpace(weight), "q="); weighted && ok {
			v, err := strconv.ParseFloat(q, 64)
			taken = err == nil && v > 0
		}
		if name == coding {
			return taken
		}
	}
	return taken
}
