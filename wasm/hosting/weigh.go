package hosting

// Weight is how many bytes an edition costs a device.
type Weight struct {
	Compressed int // sent by a host with brotli
	Plain      int // sent by a host that compresses nothing
	Stored     int // on the device
}

// Weigh weighs everything that a first visit fetches, page and worker together.
func (s *Site) Weigh() (w Weight) {
	for _, f := range s.files {
		if f.later {
			continue // fetched when it is wanted
		}
		switch f.path {
		case "/404.html", "/robots.txt":
			continue // for hosts and robots
		case packedFile:
			w.Plain += len(f.body)
			continue
		case programFile:
		default:
			w.Plain += len(f.body)
		}
		w.Compressed += min(len(f.body), len(Brotli(f.body, Best)))
		w.Stored += len(f.body)
	}
	return w
}
