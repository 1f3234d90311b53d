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

// apart are the files that are fetched by themselves: by every page, or for the worker.
var apart = []string{programFile, scriptFile, styleFile, bundleFile, workerFile}

// inBundle lists the files that belong into the bundle: pages before other files, and
// small ones first, because gzip only finds what is common within 32 kB.
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
	var all [][3]string // address, media type and text of each
	for _, f := range s.inBundle() {
		if !utf8.Valid(f.body) {
			return nil, fmt.Errorf("bundle: %s is no text", f.path)
		}
		all = append(all, [...]string{s.prefix + f.path, f.kind, string(f.body)})
		addresses = append(addresses, s.prefix+f.path)
	}
	var body bytes.Buffer
	w := json.NewEncoder(&body)
	w.SetEscapeHTML(false) // which would make every tag longer
	if err := w.Encode(all); err != nil {
		return nil, fmt.Errorf("bundle: %w", err)
	}
	s.addPacked(bundleFile, "application/json", body.Bytes())
	return addresses, nil
}
