package house

import (
	"fmt"
	"io"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ui"
)

// piece is how many bytes go between the program and the browser at once.
const piece = 1 << 18

// Pieces is a file that is being written, outside the program's memory.
type Pieces struct{ Parts app.Value }

// Write implements io.Writer.
func (p Pieces) Write(text []byte) (int, error) {
	bytes := app.Window().Get("Uint8Array").New(len(text))
	app.CopyBytesToJS(bytes, text)
	p.Parts.Call("add", bytes)
	return len(text), nil
}

// Chosen is a file that a person has chosen, read piece by piece.
type Chosen struct {
	File     app.Value
	at, Size int
}

// Read implements io.Reader. It must not be called on the UI goroutine.
func (c *Chosen) Read(into []byte) (int, error) {
	if c.at >= c.Size {
		return 0, io.EOF
	}
	to := min(c.Size, c.at+min(len(into), piece))
	bytes, err := ui.Await(c.File.Call("read", c.at, to))
	if err != nil {
		return 0, fmt.Errorf("the file cannot be read any more: %w", err)
	}
	n := app.CopyBytesToGo(into, bytes)
	c.at += n
	return n, nil
}
