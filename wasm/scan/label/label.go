// Package label finds the code of a label in a picture.
package label

import (
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// Read returns the text of the code in a picture of width times height pixels, four
// bytes each (red, green, blue, and one that does not matter), or "" when none is
// found.
//
// The library loses about one code in seventy, always the same ones: it looks for
// the small square in the corner among modules that happen to look like it. In a
// picture that is turned by a quarter it looks elsewhere and finds nearly all of
// those, and one that holds nothing but the code is read without that square.
func Read(rgba []byte, width, height int) string {
	gray := luminance(rgba)
	if text := find(gray, width, height, nil); text != "" {
		return text
	}
	if text := find(rotated(gray, width, height), height, width, nil); text != "" {
		return text
	}
	return find(gray, width, height, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true})
}

func find(gray []byte, width, height int, hints map[gozxing.DecodeHintType]any) string {
	source, err := gozxing.NewPlanarYUVLuminanceSource(gray, width, height, 0, 0, width, height, false)
	if err != nil {
		return ""
	}
	bitmap, err := gozxing.NewBinaryBitmap(gozxing.NewHybridBinarizer(source))
	if err != nil {
		return ""
	}
	found, err := qrcode.NewQRCodeReader().Decode(bitmap, hints)
	if err != nil {
		return ""
	}
	return found.GetText()
}

// luminance makes the picture gray, one byte per pixel.
func luminance(rgba []byte) []byte {
	gray := make([]byte, len(rgba)/4)
	for i := range gray {
		p := rgba[4*i : 4*i+4]
		gray[i] = byte((299*int(p[0]) + 587*int(p[1]) + 114*int(p[2])) / 1000)
	}
	return gray
}

// rotated returns the picture turned clockwise by a quarter; it is height pixels wide.
func rotated(gray []byte, width, height int) []byte {
	out := make([]byte, len(gray))
	for y := range height {
		for x := range width {
			out[x*height+height-1-y] = gray[y*width+x]
		}
	}
	return out
}
