package phone

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
)

// Listen waits for news and calls f with each version, until the connection ends
// or f says so. Up to where the phone has got is for f to note.
func (p *Phone) Listen(ctx context.Context, f func(Sent) bool) error {
	answer, err := p.send(ctx, "GET", "/news?after="+p.Disk.Place, nil)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK || answer.Header.Get("Content-Type") != "text/event-stream" {
		return fmt.Errorf("status %d: no news", answer.StatusCode)
	}
	lines := bufio.NewScanner(answer.Body)
	lines.Buffer(nil, most)
	event := ""
	for lines.Scan() {
		name, value, _ := strings.Cut(lines.Text(), ": ")
		switch name {
		case "event":
			event = value
		case "data":
			if event == "removed" {
				return &Refused{Status: http.StatusNotFound, Word: "no-household"}
			}
			var v Sent
			if err := json.Unmarshal([]byte(value), &v); err != nil {
				return fmt.Errorf("no news of an exchange: %w", err)
			}
			if !f(v) {
				return nil
			}
		}
	}
	return lines.Err()
}
