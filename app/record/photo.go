package record

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"time"

	"larderlamp/rules/prose"
)

// The limits of a photo.
const (
	MostPixels     = 1600    // pixels of the longer side
	mostPhotoBytes = 4 << 20 // bytes of the JPEG
)

// Photo is a picture of a jar.
type Photo struct {
	Head
	Jar   string    `json:"jar"`
	Check string    `json:"check,omitempty"`
	At    time.Time `json:"at"`
	JPEG  string    `json:"jpeg"` // base64
}

// NewPhoto keeps a JPEG of a jar.
func NewPhoto(jar, check, jpeg string, now time.Time) (*Photo, error) {
	head, err := newHead(now)
	if err != nil {
		return nil, fmt.Errorf("photo: %w", err)
	}
	return &Photo{Head: head, Jar: jar, Check: check, At: now.UTC().Truncate(time.Second), JPEG: jpeg}, nil
}

// Kind implements [Record].
func (p *Photo) Kind() Kind { return Photos }

func (p *Photo) body() ([]byte, error) { return bodyOf(p) }

// Encode implements [Record].
func (p *Photo) Encode() ([]byte, error) { return encode(p, p) }

// Validate implements [Record].
func (p *Photo) Validate() error {
	f := faults{record: "photo " + p.ID}
	p.check(&f)
	if !isID(p.Jar) {
		f.add("jar", "%q is not an id of this program", p.Jar)
	}
	if p.Check != "" && !isID(p.Check) {
		f.add("check", "%q is not an id of this program", p.Check)
	}
	f.time("at", p.At)
	switch data, err := base64.StdEncoding.DecodeString(p.JPEG); {
	case p.IsDeleted() && p.JPEG == "":
	case err != nil:
		f.add("jpeg", "%s", prose.Error(err))
	case len(data) > mostPhotoBytes:
		f.add("jpeg", "%d bytes, at most %d", len(data), mostPhotoBytes)
	case !bytes.HasPrefix(data, []byte("\xff\xd8\xff")):
		f.add("jpeg", "it is not a JPEG")
	}
	return f.err()
}
