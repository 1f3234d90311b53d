package hosting

// Weight is how many bytes an edition costs a device.
type Weight struct {
	Compressed int // sent by a host with brotli
	Plain      int // sent by a host that compresses nothing
	Stored     int // on the device
}

// Weigh weighs what a first visit to a page fetches, page and worker together, and
// what is stored then.
func (s *Site) Weigh(page string) (w Weight) {
	for _, f := range s.visit(page, false) {
		w.Compressed += min(len(f.body), len(Brotli(f.body, Best)))
	}
	for _, f := range s.visit(page, true) {
		w.Plain += len(f.body)
	}
	for _, f := range s.inBundle() {
		w.Stored += len(f.body)
	}
	for _, p := range []string{programFile, scriptFile, styleFile} {
		w.Stored += len(s.files[p].body)
	}
	return w
}

// visit lists what a first visit to a page fetches, from a host that compresses
// or from a plain one.
func (s *Site) visit(page string, plain bool) (files []*file) {
	for _, p := range []string{page, programFile, bundleFile, scriptFile, styleFile, workerFile, "/manifest.webmanifest", "/static/icons/mark.svg"} {
		f := s.files[p]
		if copied := s.packedCopy(f); plain && copied != nil {
			f = copied
		}
		files = append(files, f)
	}
	return files
}
