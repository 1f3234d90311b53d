package exchange

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"
)

const (
	// A phone hears something at least this often, or takes the connection for lost.
	heartbeat = 15 * time.Second
	// At the first, second, fourth and so on of them, up to this one, the log is looked
	// at too: a server of a cluster may have been behind when the phone came.
	lastLook = 32
	// How long a phone may take to read what it is sent.
	reads = 30 * time.Second
)

// news sends what is new after a place, and then each version as it comes, as
// server-sent events, until the phone goes away.
func (e *Exchange) news(m member) {
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
	news, end := e.log.News(m.id)
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
	// bring sends what follows the phone's place, up to what was told.
	bring := func(told uint64) bool {
		// Another server of the cluster may not have what this one was told.
		for wait := time.Millisecond; ; wait *= 4 {
			for {
				found, err := e.log.After(m.Context(), m.id, place, mostVersions, mostBytes)
				if err != nil {
					return false // the phone comes back, and is told then what is wrong
				}
				for _, v := range found {
					body, err := json.Marshal(sent{at(v.Number, v.Stored), v.Name, v.Sealed})
					if err != nil || !send("event: version\ndata: %s\n\n", body) {
						return false
					}
					place = v.Number
				}
				// Versions stored after this one are announced too.
				if len(found) == 0 || told > 0 && place >= told {
					break
				}
			}
			if place >= told || wait > time.Second {
				return true
			}
			select {
			case <-m.Context().Done():
				return false
			case <-time.After(wait):
			}
		}
	}
	if e.log.CatchUp(m.Context()) != nil {
		return // the phone comes back, and is told then what is wrong
	}
	for told, beats := uint64(0), 0; bring(told); {
	wait:
		for {
			select {
			case <-m.Context().Done():
				return
			case <-e.ending:
				return
			case <-m.gone:
				send("event: removed\ndata: {}\n\n")
				return
			case told = <-news:
				break wait
			case <-beat.C:
				if !send(": still here\n\n") {
					return
				}
				if beats++; beats <= lastLook && beats&(beats-1) == 0 {
					break wait
				}
			}
		}
	}
}
