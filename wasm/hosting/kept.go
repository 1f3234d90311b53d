package hosting

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"strconv"
)

// Kept is a folder in which compressed copies stay for the next start: to make
// them takes seconds. The empty name keeps none. A copy that cannot be kept is
// made again.
type Kept string

// copy returns the kept copy of a body in a coding, or makes it. The name of its
// file says what it is a copy of, and how it was made.
func (k Kept) copy(body []byte, coding string, quality int, make func() []byte) []byte {
	if k == "" {
		return make()
	}
	of := sha256.Sum256(body)
	name := filepath.Join(string(k), hex.EncodeToString(of[:])+"-"+strconv.Itoa(quality)+"."+coding)
	if kept, err := os.ReadFile(name); err == nil {
		return kept
	}
	made := make()
	k.keep(name, made)
	return made
}

// keep writes a file whole or not at all: others may read it meanwhile.
func (k Kept) keep(name string, made []byte) {
	f, err := os.CreateTemp(string(k), "*")
	if err != nil {
		return
	}
	_, err = f.Write(made)
	if closing := f.Close(); err != nil || closing != nil || os.Rename(f.Name(), name) != nil {
		os.Remove(f.Name())
	}
}
