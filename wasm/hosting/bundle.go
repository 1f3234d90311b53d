package hosting

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"path"
	"slices"
	"unicode/utf8"
)

// bundleFile is the one file that holds everything that a device stores besides
// the program, the script and the style sheet, which a page fetches before. Pages
// have most of their markup in common: together they compress to a quarter of what
// they do one by one, and they come with one request.
const bundleFile = "/bundle.json"

// bundled is a file in the bundle. There are only texts in it.
type bundled struct{ Address, Kind, Text string }

func (b bundled) MarshalJSON() ([]byte, error) {
	return unescaped([3]string{b.Address, b.Kind, b.Text})
}

// unescaped writes JSON without the escapes for JSON inside of HTML, which would make
// every tag longer.
func unescaped(v any) ([]byte, error) {
	var b bytes.Buffer
	w := json.NewEncoder(&b)
	w.SetEscapeHTML(false)
	err := w.Encode(v)
	return b.Bytes(), err
}

// apart are the files that are fetched by themselves: by every page, or for the worker.
var apart = []string{programFile, scriptFile, styleFile, bundleFile, workerFile}

// inBundle lists the files that belong into the bundle: pages before other files, and small ones first, because gzip only finds what is common
// within 32 kB.
func (s *Site) inBundle() (files []*file) {
	for _, f := range s.sorted() {
		if !f.later && !f.unstored && !slices.Contains(apart, f.path) {
			files = append(files, f)
		}
	}
	slices.SortStableFunc(files, func(a, b *file) int {
		return cmp.Or(cmp.Compare(path.Ext(a.path), path.Ext(b.path)), cmp.Compare(len(a.body), len(b.body)))
	})
	return files
}

// addBundle adds the bundle, once all that belongs into it is there, and returns the
// addresses of that.
func (s *Site) addBundle() (addresses []string, err error) {
	var all []bundled
	for _, f := range s.inBundle() {
		if !utf8.Valid(f.body) {
			return nil, fmt.Errorf("bundle: %s is no text", f.path)
		}
		all = append(all, bundled{s.prefix + f.path, f.kind, string(f.body)})
		addresses = append(addresses, s.prefix+f.path)
	}
	body, err := unescaped(all)
	if err != nil {
		return nil, fmt.Errorf("bundle: %w", err)
	}
	s.addPacked(bundleFile, "application/json", body)
	return addresses, nil
}
