// Package sealed is a second implementation of the form in which the versions of
// records leave a phone, as testdata/exchange/README.md describes it. The pages
// have theirs in static/later/sealed.js; this one is what the tests and the load
// compare it with and seal with. The exchange itself never opens anything.
package sealed

import (
	"bytes"
	"crypto/aes"
	"crypto/cipher"
	"crypto/hkdf"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
)

// Form is the first byte of every sealed version.
const Form = 1

// label is the salt of all keys and begins what is authenticated.
const label = "larderlamp exchange 1"

const (
	nonceSize = 12
	tagSize   = 16
	// around is how much longer a sealed version is than its content, at least:
	// form, nonce, tag, and the length of the content.
	around = 1 + nonceSize + tagSize + 4
)

// Steps are the sizes that a sealed version can have, so that its size says little
// of what is in it.
var Steps = []int{1 << 10, 1 << 11, 1 << 12, 1 << 13, 1 << 14, 1 << 15, 1 << 16, 1 << 17, 1 << 18, 1 << 19, 1016 << 10}

// base64url is how bytes stand in addresses.
var base64url = base64.RawURLEncoding.Strict()

// decode returns so many bytes from exactly how they stand in addresses: by itself
// Go's decoder also passes over the ends of lines.
func decode(text string, bytes int) ([]byte, bool) {
	b, err := base64url.DecodeString(text)
	return b, err == nil && len(b) == bytes && len(text) == base64url.EncodedLen(bytes)
}

// Secret is what all phones of a household know and nobody else.
type Secret [32]byte

// NewSecret draws the secret of a new household.
func NewSecret() (s Secret) {
	rand.Read(s[:]) // never fails
	return s
}

// Keys are what a phone derives from the secret.
type Keys struct {
	Household string // names the household in addresses
	Token     string // proves to the exchange that a phone belongs to it
	seal      cipher.AEAD
	naming    []byte
}

// Keys derives the keys.
func (s Secret) Keys() (*Keys, error) {
	derive := func(use string, size int) ([]byte, error) {
		return hkdf.Key(sha256.New, s[:], []byte(label), use, size)
	}
	household, err1 := derive("household", 16)
	token, err2 := derive("token", 32)
	sealing, err3 := derive("seal", 32)
	naming, err4 := derive("name", 32)
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		return nil, fmt.Errorf("keys: %w", err)
	}
	block, err := aes.NewCipher(sealing)
	if err != nil {
		return nil, fmt.Errorf("keys: %w", err)
	}
	aead, err := cipher.NewGCM(block)
	if err != nil {
		return nil, fmt.Errorf("keys: %w", err)
	}
	return &Keys{base64url.EncodeToString(household), base64url.EncodeToString(token), aead, naming}, nil
}

// content puts a version together: its kind, a line break, and its JSON text.
func content(kind string, text []byte) []byte {
	return append(append([]byte(kind), '\n'), text...)
}

// name is the keyed hash by which the exchange knows a version.
func (k *Keys) name(content []byte) []byte {
	h := hmac.New(sha256.New, k.naming)
	h.Write(content)
	return h.Sum(nil)
}

// TooLarge is the error for a version that does not fit into the largest step.
type TooLarge struct{ Kind string }

func (e TooLarge) Error() string {
	return fmt.Sprintf("%s: the record is too large to be shared, at most %d bytes", e.Kind, Steps[len(Steps)-1]-around)
}

// Seal seals one version of a record, with a nonce of its own.
func (k *Keys) Seal(kind string, text []byte) (name string, version []byte, err error) {
	nonce := make([]byte, nonceSize)
	rand.Read(nonce)
	return k.sealWith(nonce, kind, text)
}

func (k *Keys) sealWith(nonce []byte, kind string, text []byte) (string, []byte, error) {
	body := content(kind, text)
	for _, step := range Steps {
		if len(body)+around > step {
			continue
		}
		name := k.name(body)
		padded := binary.BigEndian.AppendUint32(make([]byte, 0, step), uint32(len(body)))
		padded = append(padded, body...)
		padded = padded[:step-1-nonceSize-tagSize]
		version := append([]byte{Form}, nonce...)
		version = k.seal.Seal(version, nonce, padded, append([]byte(label), name...))
		return base64url.EncodeToString(name), version, nil
	}
	return "", nil, TooLarge{kind}
}

// Open opens a version that is known by a name. Anything but exactly what a phone of
// this household sealed under this name is an error.
func (k *Keys) Open(name string, version []byte) (kind string, text []byte, err error) {
	wrong := func(what string) (string, []byte, error) {
		return "", nil, fmt.Errorf("version %.8s: %s", name, what)
	}
	called, ok := decode(name, sha256.Size)
	if !ok {
		return wrong("it has no name of a version")
	}
	if len(version) < around {
		return wrong("it is too short")
	}
	if version[0] != Form {
		return wrong(fmt.Sprintf("it has form %d, this program knows form %d", version[0], Form))
	}
	nonce, rest := version[1:1+nonceSize], version[1+nonceSize:]
	padded, err := k.seal.Open(nil, nonce, rest, append([]byte(label), called...))
	if err != nil {
		return wrong("it was not sealed by this household under this name")
	}
	size := binary.BigEndian.Uint32(padded)
	if uint64(size) > uint64(len(padded)-4) {
		return wrong("its content is longer than itself")
	}
	body := padded[4 : 4+size]
	if len(bytes.Trim(padded[4+size:], "\x00")) > 0 {
		return wrong("something follows its content")
	}
	if !hmac.Equal(k.name(body), called) {
		return wrong("its name is that of another version")
	}
	first, text, found := bytes.Cut(body, []byte("\n"))
	if !found {
		return wrong("it does not say what kind of record it is")
	}
	return string(first), text, nil
}

// invitation begins the code that a phone joins by.
const invitation = "L1"

// Invitation is the code by which another phone joins: it stands in a picture, or
// behind the # of a link, which is never sent.
func (s Secret) Invitation() string {
	sum := sha256.Sum256(s[:])
	return invitation + base64url.EncodeToString(append(s[:], sum[:4]...))
}

// ReadInvitation reads such a code. A mistyped letter is an error.
func ReadInvitation(code string) (s Secret, err error) {
	rest, ours := bytes.CutPrefix([]byte(code), []byte(invitation))
	read, ok := decode(string(rest), len(s)+4)
	if !ours || !ok {
		return s, errors.New("this is no code to join a shelf")
	}
	if sum := sha256.Sum256(read[:len(s)]); !bytes.Equal(sum[:4], read[len(s):]) {
		return s, errors.New("a letter of the code is wrong")
	}
	return Secret(read[:len(s)]), nil
}
