package hosting

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
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

// window lets a repetition be found in all of a program, and is the largest that
// every browser reads (RFC 7932: 16 MB): the usual 4 MB make it 2 % larger.
const window = 24

// Brotli compresses a body.
func Brotli(body []byte, quality int) []byte {
	var b bytes.Buffer
	w := brotli.NewWriterOptions(&b, brotli.WriterOptions{Quality: quality, LGWin: window})
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

// representation is a file in one content coding. Its entity tag names its
// bytes, and so differs from coding to coding: a download that was cut short is
// only ever continued with bytes of the same coding.
type representation struct {
	body   []byte
	coding string      // "identity" for the file as it is
	fields http.Header // of an answer with all of it
	head   []byte      // the same as it is sent, up to the date
}

// represent makes the representation of a file in a coding, with what every answer
// of the site carries.
func (s *Site) represent(f *file, body []byte, coding string) *representation {
	digest := sha256.Sum256(body)
	fields := s.fields()
	fields.Set("Vary", "Accept-Encoding") // what is sent depends on what the client can unpack
	fields.Set("Content-Type", f.kind)
	fields.Set("Content-Length", strconv.Itoa(len(body)))
	fields.Set("Etag", `"`+hex.EncodeToString(digest[:16])+`"`)
	fields.Set("Accept-Ranges", "bytes")
	if coding != identity {
		fields.Set("Content-Encoding", coding)
	}
	var head bytes.Buffer
	head.WriteString("HTTP/1.1 200 OK\r\n")
	fields.Write(&head) // a buffer takes everything
	head.WriteString("Date: ")
	return &representation{body: body, coding: coding, fields: fields, head: head.Bytes()}
}

const identity = "identity"

// packed holds the compressed copies of a file, once they are made.
type packed struct {
	br, gz atomic.Pointer[representation]
}

// Compress makes compressed copies of every file that gains by it, small ones
// first. The site may be served in the meantime; until its copy is there, a file
// is sent as it is.
func (s *Site) Compress(quality int) {
	files := s.sorted()
	slices.SortStableFunc(files, func(a, b *file) int { return cmp.Compare(len(a.body), len(b.body)) })
	for _, f := range files {
		if end := path.Ext(f.path); end == ".png" || end == packedEnd {
			continue
		}
		br := s.brotli(f.body, quality)
		if len(br) < len(f.body) {
			f.packed.br.Store(s.represent(f, br, "br"))
		}
		var gz []byte
		if copied := s.packedCopy(f); copied != nil {
			gz = copied.body
		} else {
			gz = s.gzip(f.body)
		}
		if len(gz) < len(f.body) {
			f.packed.gz.Store(s.represent(f, gz, "gzip"))
		}
	}
}

func (s *Site) brotli(body []byte, quality int) []byte {
	return s.kept.copy(body, "br", quality, func() []byte { return Brotli(body, quality) })
}

func (s *Site) gzip(body []byte) []byte {
	return s.kept.copy(body, "gz", gzip.BestCompression, func() []byte { return Gzip(body) })
}

// choose returns the representation that a client prefers by its Accept-Encoding,
// the smallest of several that it likes as well. It is nil if the client takes
// none of them.
func (f *file) choose(accept string) *representation {
	if accept == "" {
		return f.plain
	}
	var best *representation
	liked := 0.0
	for _, r := range []*representation{f.packed.br.Load(), f.packed.gz.Load(), f.plain} {
		if r == nil {
			continue
		}
		if q := weight(accept, r.coding); q > liked || q > 0 && q == liked && len(r.body) < len(best.body) {
			best, liked = r, q
		}
	}
	return best
}

// unnamed is the weight of the uncompressed file when a client's Accept-Encoding
// does not mention it: less than any coding that it names (RFC 9110, section
// 12.5.3: acceptable, without a weight).
const unnamed = 0.0001

// weight is how much a client prefers a coding by its Accept-Encoding, from 0 (not
// at all) to 1. "*" stands for the codings that are not named. A weight that
// cannot be read counts as 0.
func weight(accept, coding string) float64 {
	weight := 0.0
	if coding == identity {
		weight = unnamed
	}
	for part := range strings.SplitSeq(accept, ",") {
		name, rest, weighted := strings.Cut(part, ";")
		name = strings.ToLower(strings.TrimSpace(name))
		if name == "x-gzip" {
			name = "gzip" // an old name for it: RFC 9110, section 8.4.1.3
		}
		if name != coding && name != "*" {
			continue
		}
		q := 1.0
		if weighted {
			q = 0
			rest = strings.TrimSpace(rest)
			if len(rest) > 2 && strings.EqualFold(rest[:2], "q=") {
				if v, err := strconv.ParseFloat(rest[2:], 64); err == nil && 0 <= v && v <= 1 {
					q = v
				}
			}
		}
		if name == coding {
			return q
		}
		weight = q
	}
	return weight
}
