//go:build !js

package store

import "context"

// Open returns the store of this program. Outside a browser there is only
// memory.
func Open(context.Context, bool) (Store, Status) {
	return NewMemory(), Status{Message: "Outside a browser nothing is kept."}
}
