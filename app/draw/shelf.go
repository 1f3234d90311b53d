package draw

import (
	"larderlamp/rules"
)

// ShelfJar is one jar standing on a shelf.
type ShelfJar struct {
	Food    Food
	Verdict rules.Verdict
	Open    bool // not settled: drawn with a dotted edge
	Opened  bool // without its lid
	Size    int  // size, from 0 for the smallest to 3
}

// OnShelf draws a jar on its shelf. The color shows what is in it, the shape and
// color of the tag under it show the verdict, and a jar that has to be looked at
// first is dotted. The words beside the picture say the same.
func OnShelf(j ShelfJar) string {
	const board = 50
	p := &pen{}
	p.put(`<svg xmlns="http://www.w3.org/2000/svg" aria-hidden="true" viewBox="3 10 28 58">`)
	p.onShelf(6, board, &j)
	p.put(`</svg>`)
	return string(p.markup)
}

// tags are the shapes under the jars, 10 wide: an arch to keep, a flame to use
// soon, a knotted bag to discard, a ring for what is not settled.
var tags = [...]struct {
	fill color
	d    string
}{
	0:             {0xcfc6a8, "M5 0a4.5 4.5 0 1 0 .1 0ZM5 2.4a2 2 0 1 1-.1 0Z"},
	rules.Keep:    {0x8fd0cb, "M0 9V4C0 1 2 0 5 0S10 1 10 4V9Z"},
	rules.UseSoon: {0xf2b544, "M5-1C8 3 10 4 8.6 7C7 10 3 10 1.4 7C0 4 4 3 5-1Z"},
	rules.Discard: {0xf08cb6, "M3 2.6L1 0L5 1.4L9 0L7 2.6C11 5 11 9.4 5 9.4S-1 5 3 2.6Z"},
}

// onShelf draws a small jar on a board at y.
func (p *pen) onShelf(x, y int, j *ShelfJar) {
	w, h := 16, 24+4*max(0, min(j.Size, 3))
	if j.Size == 0 {
		h = 20
	}
	dash := ""
	if j.Open {
		dash = ` stroke-dasharray="2 2"`
	}
	left := x + (22-w)/2
	top := y - h
	tint := tints(j.Food)
	p.putf(`<path fill="%s" stroke="%s"%s d="M%d %dv%dq0 3 3 3h%dq3 0 3-3v%dq0-3-3-3h-%dq-3 0-3 3Z"/>`, tint, paper, dash, left, top+4, h-7, w-6, 7-h, w-6)
	p.putf(`<path fill="#fff" opacity=".35" d="M%d %dh2v%dh-2Z"/>`, left+3, top+5, h-10)
	if j.Opened {
		p.putf(`<path fill="none" stroke="%s" d="M%d %dh%d"/>`, paper, left+2, top, w-4)
	} else {
		p.putf(`<path fill="%s" d="M%d %dh%dv3h-%dZ"/>`, brass, left+1, top-2, w-2, w-2)
	}
	v := j.Verdict
	if j.Open || int(v) >= len(tags) {
		v = 0
	}
	p.putf(`<path fill="%s" transform="translate(%d %d)" d="%s"/>`, tags[v].fill, x+6, y+7, tags[v].d)
}

// tints is the color of a food seen from a distance.
func tints(f Food) color { return styles[f].tones[0] }
