package label_test

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"testing"

	"rsc.io/qr"

	"larderlamp/wasm/scan/label"
)

// The code of every jar is read, whatever its id is: of these 600, some are found
// only in the turned picture and some only by themselves.
func TestEveryCodeIsRead(t *testing.T) {
	for i := range 600 {
		want := fmt.Sprintf("http://127.0.0.1:38813/jar?id=0193%04x-7a1b-7%03x-8c3d-%012x", i*7919%65536, i*613%4096, i*1_000_003)
		code, err := qr.Encode(want, qr.M)
		if err != nil {
			t.Fatal(err)
		}
		picture, err := png.Decode(bytes.NewReader(code.PNG()))
		if err != nil {
			t.Fatal(err)
		}
		size := picture.Bounds().Size()
		rgba := image.NewRGBA(image.Rectangle{Max: size})
		draw.Draw(rgba, rgba.Rect, picture, image.Point{}, draw.Src)
		if got := label.Read(rgba.Pix, size.X, size.Y); got != want {
			t.Errorf("read %q, want %q", got, want)
		}
	}
}

func TestNoCodeIsRead(t *testing.T) {
	white := bytes.Repeat([]byte{255}, 4*120*80)
	if got := label.Read(white, 120, 80); got != "" {
		t.Errorf("a white picture: got %q, want nothing", got)
	}
	if got := label.Read(nil, 0, 0); got != "" {
		t.Errorf("no picture: got %q, want nothing", got)
	}
}
