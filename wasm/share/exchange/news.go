package exchange

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"
)

const (
	// A phone hears something at least this often, or takes the connection for lost.
	// The log is checked then too, because its own notifications may get lost.
	heartbeat = 15 * time.Second
	// How long a phone may take to read what it is sent.
	reads = 30 * time.Second
)

// news sends what is new after a place, and then each version as it comes, as
// server-sent events, until the phone goes away.
func (e *Exchange) news(m member) {
	if !m.reading.Allow() {
		tooFast(m.ResponseWriter)
		return
	}
	place, ok := e.after(m)
	if !ok {
		return
	}
	done, ok := e.known.listen(m.household)
	if !ok {
		refuse(m.ResponseWriter, tooMany)
		return
	}
	defer done()
	news, end, err := e.log.News(m.id)
	if err != nil {
		fault(m.ResponseWriter, err)
		return
	}
	defer end()

	h := m.ResponseWriter.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("X-Accel-Buffering", "no") // a proxy in between must not collect them
	control := http.NewResponseController(m.ResponseWriter)
	send := func(text string, rest ...any) bool {
		control.SetWriteDeadline(time.Now().Add(reads))
		_, err := fmt.Fprintf(m.ResponseWriter, text, rest...)
		return err == nil && control.Flush() == nil
	}
	if !send(": connected\n\n") {
		return
	}
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for told := uint64(0); ; {
		// Another server of the cluster may not have what this one was notified of.
		for wait := time.Millisecond; ; wait *= 4 {
			for {
				found, err := e.log.After(m.Context(), m.id, place, mostVersions, mostBytes)
				if err != nil {
					return // the phone comes back, and is told then what is wrong
				}
				for _, v := range found {
					body, err := json.Marshal(sent{at(v.Number, v.Stored), v.Name, v.Sealed})
					if err != nil || !send("event: version\ndata: %s\n\n", body) {
						return
					}
					place = v.Number
				}
				// Versions stored after this one are announced too.
				if len(found) == 0 || told > 0 && place >= told {
					break
				}
			}
			if place >= told || wait > time.Second {
				break
			}
			select {
			case <-m.Context().Done():
				return
			case <-time.After(wait):
			}
		}
		select {
		case <-m.Context().Done():
			return
		case <-e.ending:
			return
		case <-m.gone:
			send("event: removed\ndata: {}\n\n")
			return
		case told = <-news:
		case <-beat.C:
			if !send(": still here\n\n") {
				return
			}
		}
	}
}
