//go:build e2e && linux

package drive

import (
	"context"
	"encoding/json"
	"fmt"
	"sync"

	"github.com/coder/websocket"
)

// wire sends commands to a browser and hears what it says by itself. DevTools
// and WebDriver BiDi number their messages alike.
type wire struct {
	socket *websocket.Conn
	hear   func(message)
	mu     sync.Mutex
	last   int
	waits  map[int]chan message
	closed error
}

type message struct {
	ID        int             `json:"id,omitempty"`
	SessionID string          `json:"sessionId,omitempty"`
	Method    string          `json:"method,omitempty"`
	Params    json.RawMessage `json:"params,omitempty"`
	Result    json.RawMessage `json:"result,omitempty"`
	Error     json.RawMessage `json:"error,omitempty"`
	Message   string          `json:"message,omitempty"`
}

func dial(address string, hear func(message)) (*wire, error) {
	ctx, cancel := context.WithTimeout(context.Background(), Patience)
	defer cancel()
	socket, _, err := websocket.Dial(ctx, address, nil)
	if err != nil {
		return nil, err
	}
	socket.SetReadLimit(-1)
	w := &wire{socket: socket, hear: hear, waits: map[int]chan message{}}
	go w.read()
	return w, nil
}

func (w *wire) read() {
	for {
		_, text, err := w.socket.Read(context.Background())
		var m message
		if err == nil {
			err = json.Unmarshal(text, &m)
		}
		w.mu.Lock()
		if err != nil {
			w.closed = errClosed
			for _, wait := range w.waits {
				close(wait)
			}
			w.waits = nil
			w.mu.Unlock()
			return
		}
		wait := w.waits[m.ID]
		delete(w.waits, m.ID)
		w.mu.Unlock()
		if wait != nil {
			wait <- m
		} else if m.Method != "" {
			w.hear(m)
		}
	}
}

// call sends a command and waits for its result.
func (w *wire) call(session, method string, params, result any) error {
	answer, err := w.send(session, method, params)
	if err != nil {
		return err
	}
	return answer(result)
}

// send sends a command, and gives what waits for its result. A browser follows
// commands in the order in which they were sent.
func (w *wire) send(session, method string, params any) (answer func(result any) error, err error) {
	if params == nil {
		params = struct{}{}
	}
	body, err := json.Marshal(params)
	if err != nil {
		return nil, err
	}
	wait := make(chan message, 1)
	w.mu.Lock()
	if w.closed != nil {
		w.mu.Unlock()
		return nil, w.closed
	}
	w.last++
	m := message{ID: w.last, SessionID: session, Method: method, Params: body}
	w.waits[m.ID] = wait
	w.mu.Unlock()
	text, err := json.Marshal(m)
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(context.Background(), Patience)
	if err := w.socket.Write(ctx, websocket.MessageText, text); err != nil {
		cancel()
		return nil, err
	}
	return func(result any) error {
		defer cancel()
		select {
		case <-ctx.Done():
			return fmt.Errorf("%s: %w", method, ctx.Err())
		case answer, ok := <-wait:
			switch {
			case !ok:
				return errClosed
			case answer.Error != nil:
				return fmt.Errorf("%s: %s %s", method, answer.Error, answer.Message)
			case result == nil:
				return nil
			}
			return json.Unmarshal(answer.Result, result)
		}
	}, nil
}

func (w *wire) close() { w.socket.CloseNow() }
