package draw

import (
	"bytes"
	"fmt"

	"larderlamp/rules"
)

// The inside of the glass, on the sheet.
const (
	insideLeft, insideRight = 69, 211
	insideTop, insideBottom = 92, 336
	inside                  = "M89 90V107C89 122 69 128 69 154V318C69 331 79 336 140 337C201 336 211 331 211 318V154C211 128 191 122 191 107V90Z"
)

// half is half the width of the inside at height y.
func half(y int) int {
	switch {
	case y <= 106:
		return 51
	case y >= 154:
		return 71
	}
	return 51 + (y-106)*20/48
}

// levels holds the height of the surface on the sheet.
var levels = map[rules.Value]int{
	rules.LevelUsual: 134, rules.LevelLow: 176, rules.LevelOwn: 226, rules.LevelHalf: 250, rules.LevelDropped: 190,
}

// surface is the height of the liquid, and whether anybody has said what it is.
func (v *view) surface() (y int, told bool) {
	if l, ok := v.known(rules.SignLevel); ok {
		return levels[l], true
	}
	return levels[rules.LevelUsual], false
}

// massive reports whether the filling is a mass rather than pieces in a liquid.
func (v *view) massive() bool { return len(v.style.layers) == 0 || v.style.thick >= 80 }

// colors returns the tones of the pieces and of the liquid after the reported
// change of color, and the tone of pieces that are above the liquid.
func (v *view) colors() (tones [3]color, liquid, above color) {
	tones, liquid = v.style.tones, v.style.liquid
	blend := func(part, wash int, to ...color) {
		if v.massive() {
			wash = part
		}
		for i := range tones {
			tones[i] = tones[i].mix(to[i%len(to)], part)
		}
		liquid = liquid.mix(to[0], wash)
	}
	c, told := v.known(rules.SignColor)
	switch {
	case !told:
		blend(72, 60, ghost)
	case c == rules.ColorGarlic:
		tones[len(tones)-1] = tones[len(tones)-1].mix(0x2f8f92, 86) // some pieces, and nothing else
	case c == rules.ColorFaded:
		blend(74, 55, 0xe9e2d0)
	case c == rules.ColorPink:
		blend(82, 55, 0xe87fa6, 0xd96a94, 0xf09ab8)
	case c == rules.ColorBlue:
		blend(86, 45, 0x2f8f92, 0x5b6bb0, 0x3f9f80)
	case c == rules.ColorBrowned:
		blend(88, 70, 0x5e3b1c, 0x6d4522, 0x4f3118)
	case c == rules.ColorDark:
		blend(92, 72, 0x3c3f40, 0x2a2d2e, 0x55585a)
	case c == rules.ColorOdd:
		blend(88, 30, 0xb7d12a, 0x8b3fb0, 0xd8e04a)
	}
	above = tones[0]
	if c == rules.ColorTop && told {
		above = tones[0].mix(0x2e1d10, 78)
	}
	return
}

// filling draws the food and its liquid, clipped to the glass.
func (v *view) filling(p *pen) {
	tones, liquid, above := v.colors()
	level, toldLevel := v.surface()
	seen := func(id rules.SignID) bool { _, ok := v.known(id); return ok }
	body, toldBody := v.known(rules.SignBody)
	top := level + 12
	if v.is(rules.LevelOwn) {
		top = levels[rules.LevelUsual] + 8 // the food fills the jar and rises above its own juice
	}
	bottom := insideBottom - 4
	if v.is(rules.ColorTop) {
		top = min(top, level-14)
		level += 26
	}
	if v.is(rules.TopFloat) {
		top, bottom = level-6, level+(insideBottom-level)*58/100
	}

	p.putf(`<g clip-path="url(#%s-in)">`, p.prefix)
	strength := 58 + v.style.thick*38/100
	if !seen(rules.SignCloud) {
		strength = strength * 62 / 100
	}
	p.fill(liquid, strength, fmt.Sprintf("M60 %dH220V345H60Z", level))
	if v.is(rules.LevelOwn) && v.massive() {
		// All liquid is in the food: a moist mass with pores, without a pool.
		p.fill(tones[0], 95, fmt.Sprintf("M60 %dV150Q78 138 98 143T140 139T182 144T220 148V%[1]dZ", level+4))
		p.putf(`<path fill="none" stroke="%s" stroke-width="5" stroke-linecap="round" opacity=".5" d="%s"/>`, tones[0].mix(cellar, 60), points(29, 18, 78, 156, 124, 62))
	}
	if len(v.style.layers) > 0 && v.style.thick < 70 && !v.is(rules.TopFloat) {
		p.fill(tones[0].mix(cellar, 55), 45, fmt.Sprintf("M60 %dH220V345H60Z", max(top, level)+6))
	}

	if v.is(rules.CloudClear) && v.style.thick < 70 {
		// The flame is seen through a clear liquid.
		p.put(`<path fill="#fff1c4" opacity=".4" d="M144 176C142 194 164 212 162 234C160 250 150 256 140 256C129 256 119 249 118 235C117 214 138 204 144 176Z"/><path fill="#fffbe8" opacity=".9" d="M143 200C142 212 153 222 151 235C150 243 146 246 140 246C133 246 128 242 128 234C128 222 140 216 143 200Z"/><path fill="none" stroke="#6b4a1c" stroke-width="3" stroke-linecap="round" opacity=".7" d="M140 252C139 247 141 243 140 238"/>`)
	}
	p.put(`<g`)
	switch {
	case !toldBody:
		p.put(` opacity=".7"`)
	case body == rules.BodySoft:
		p.putf(` transform="translate(-7 %d) scale(1.05 .84)"`, bottom*16/100)
	case body == rules.BodySlimy:
		p.putf(` opacity=".6" transform="translate(0 %d) scale(1 .66)"`, bottom*34/100)
	}
	p.put(`>`)
	for i, l := range v.style.layers {
		v.pieces(p, i, l, tones, above, top, bottom, level)
	}
	p.put(`</g>`)
	if v.massive() {
		v.mass(p, tones, above, level)
	}

	// The lamp is behind the jar; dark food lets less light through.
	shine := 95
	if v.is(rules.ColorBrowned) || v.is(rules.ColorDark) {
		shine = 40
	}
	p.putf(`<ellipse cx="140" cy="230" rx="84" ry="112" fill="url(#%s-glow)" opacity=".%d"/>`, p.prefix, shine)
	v.liquid(p, level, liquid)
	v.hatching(p, level)
	v.deposits(p, tones)
	v.body(p, tones, level)
	v.surfaceOf(p, level, toldLevel, liquid)
	p.put(`</g>`)
}

// hatchings mark a change of color with lines, so that color alone does not
// show it: the heraldic hatchings for red, blue and black, and similar ones.
// Each is the size of a tile and the lines on it.
var hatchings = map[rules.Value]struct {
	w, h  int
	lines string
}{
	rules.ColorGarlic:  {23, 19, "M4 6a3 3 0 1 0 6 0a3 3 0 1 0-6 0"},
	rules.ColorFaded:   {9, 11, "M2 3h1M7 8h1"},
	rules.ColorPink:    {9, 9, "M4 0V9"},
	rules.ColorBlue:    {9, 9, "M0 4H9"},
	rules.ColorBrowned: {10, 10, "M0 0L10 10M-1 9L1 11M9-1L11 1"},
	rules.ColorDark:    {11, 11, "M0 0L11 11M11 0L0 11"},
	rules.ColorOdd:     {16, 13, "M0 10L8 2L16 10"},
}

// hatching draws the lines for the reported color over the food.
func (v *view) hatching(p *pen, level int) {
	c, told := v.known(rules.SignColor)
	h, engraved := hatchings[c]
	if !told || !engraved {
		return
	}
	ink := cellar
	if v.is(rules.CloudMurky) {
		ink = paper
	}
	p.putf(`<pattern id="%s-h" width="%d" height="%d" patternUnits="userSpaceOnUse"><path fill="none" stroke="%s" stroke-width="2" d="%s"/></pattern>`, p.prefix, h.w, h.h, ink, h.lines)
	foot := 345
	if v.is(rules.CloudSettled) {
		foot = 297 // the sediment keeps its own color
	}
	p.putf(`<path class="engraving" fill="url(#%s-h)" opacity=".3" d="M60 %dH220V%dH60Z"/>`, p.prefix, level+12, foot)
}

// pieces packs one layer of pieces between two heights.
func (v *view) pieces(p *pen, nth int, l layer, tones [3]color, above color, top, bottom, level int) {
	type piece struct{ x, y, tone int }
	var packed []piece
	span := l.span
	if span == 0 {
		span = len(tones)
	}
	loose := max(1, l.dx/9)
	if l.texture != forms && 3*l.w < 2*l.dx {
		loose = l.dx / 3
	}
	for row, y := 0, bottom-min(l.dy, 60)/3; ; row, y = row+1, y-l.dy {
		if l.texture == sticks || (l.texture == forms && l.dy > 60) {
			if y = bottom - l.dy/2 - row*l.dy; y < top {
				break
			}
		} else if y < top+l.dy/3 {
			break
		}
		n := (insideRight - insideLeft + l.dx/2) / l.dx
		for i := range n + row%2 {
			at := row*31 + i
			packed = append(packed, piece{
				x:    140 + (2*i-n+1-row%2)*l.dx/2 + jitter(nth+1, at, loose),
				y:    y + jitter(nth+7, at, min(loose, l.dy/4)),
				tone: l.tone + int(noise(3, at)%uint32(span)),
			})
		}
	}
	const aboveTone = 3
	all := [4]color{tones[0], tones[1], tones[2], above}
	if v.is(rules.ColorTop) {
		for i := range packed {
			if packed[i].y < level+max(6, l.dy/3) || (l.dy > 60 && packed[i].y < level+50) {
				packed[i].tone = aboveTone
			}
		}
	}
	soft := v.is(rules.BodySoft)
	if l.texture == forms {
		// A soft piece has no inked edge: it melts into its neighbors.
		ink := fmt.Sprintf(`stroke="%s" stroke-width="2"`, cellar)
		if soft {
			ink = `stroke="currentColor" stroke-width="9" stroke-opacity=".45"`
		}
		p.putf(`<defs><g id="%s-f%d"><path fill="currentColor" %s%s d="%s"/>`, p.prefix, nth, ink, v.edge(), l.form.edge)
		if l.form.core != "" {
			p.putf(`<path d="%s" fill="%s" opacity=".7"/>`, l.form.core, tones[1].mix(0x6a1d12, 55))
		}
		if !soft {
			p.putf(`<path d="%s" fill="none" stroke="%s" stroke-width="2" opacity=".5"/>`, l.form.inner, cellar)
		}
		if soft {
			p.putf(`<path d="%s" fill="none" stroke="%s" stroke-width="2" stroke-dasharray="7 6" opacity=".4"/>`, l.form.edge, cellar)
		}
		if l.gleaming && v.firm() {
			p.putf(`<path d="%s" fill="none" stroke="%s" stroke-width="3" opacity=".75"/>`, l.form.gleam, paper)
		}
		p.put(`</g></defs>`)
		for i, c := range packed {
			p.putf(`<use href="#%s-f%d" color="%s" transform="translate(%d %d) rotate(%d)"/>`, p.prefix, nth, all[c.tone], c.x, c.y, jitter(11, i, l.turn))
		}
		return
	}
	var d [4][]byte
	for i, c := range packed {
		switch l.texture {
		case dots, flecks:
			d[c.tone] = fmt.Appendf(d[c.tone], "M%d %dh0", c.x, c.y)
		case sticks:
			lean := jitter(5, i, 4)
			d[c.tone] = fmt.Appendf(d[c.tone], "M%d %dq%d %d %d %d", c.x-lean, c.y-l.h/2, lean*2, l.h/2, jitter(6, i, 4), l.h)
		case strands:
			d[c.tone] = fmt.Appendf(d[c.tone], "M%d %dq%d %d %d %d", c.x-l.h/2, c.y, l.h/2, jitter(5, i, l.h/2), l.h, jitter(6, i, l.h/3))
		}
	}
	ends := "round"
	if l.texture == flecks {
		ends = "square"
	}
	p.put(`<defs>`)
	for t := range d {
		if len(d[t]) > 0 {
			// A minus separates numbers too: the largest pictures have hundreds of them.
			d[t] = bytes.ReplaceAll(d[t], []byte(" -"), []byte("-"))
			p.putf(`<path id="%s-f%d%d" d="%s"/>`, p.prefix, nth, t, d[t])
		}
	}
	p.putf(`</defs><g fill="none" stroke-linecap="%s">`, ends)
	again := func(attributes string) {
		p.putf(`<g %s>`, attributes)
		for t := range d {
			if len(d[t]) > 0 {
				p.putf(`<use href="#%s-f%d%d"/>`, p.prefix, nth, t)
			}
		}
		p.put(`</g>`)
	}
	switch {
	case l.w <= 3:
	case soft:
		again(fmt.Sprintf(`stroke="%s" stroke-width="%d" opacity=".5"`, all[l.tone], l.w+6))
	default:
		again(fmt.Sprintf(`stroke="%s" stroke-width="%d"`, cellar, l.w+2))
	}
	width := l.w - 1
	if soft && l.w > 3 {
		width = l.w * 3 / 4
	}
	for t := range d {
		if len(d[t]) > 0 {
			p.putf(`<use href="#%s-f%d%d" stroke="%s" stroke-width="%d"/>`, p.prefix, nth, t, all[t], width)
		}
	}
	if l.gleaming && v.firm() {
		again(fmt.Sprintf(`stroke="%s" stroke-width="%d" opacity=".5" transform="translate(-%d -%d)"`, paper, max(2, l.w/5), l.w/5, l.w/5))
	}
	p.put(`</g>`)
}

// mass draws food without pieces: jam, jelly, juice, sauce.
func (v *view) mass(p *pen, tones [3]color, above color, level int) {
	if v.is(rules.ColorTop) {
		p.fill(above, 92, fmt.Sprintf("M60 %dH220V%dQ180 %d 140 %dT60 %dZ", level-26, level+16, level+26, level+18, level+14))
	}
	if v.is(rules.TopFloat) {
		p.putf(`<path fill="none" stroke="%s" stroke-width="27" stroke-linecap="round" d="M92 %[2]dh0M126 %[3]dh0M160 %[2]dh0M190 %[3]dh0"/>`, cellar, level+12, level+17)
		p.putf(`<path fill="none" stroke="%s" stroke-width="23" stroke-linecap="round" d="M92 %[2]dh0M126 %[3]dh0M160 %[2]dh0M190 %[3]dh0"/>`, tones[1].mix(paper, 25), level+12, level+17)
	}
	if v.is(rules.ColorOdd) || v.is(rules.ColorBlue) {
		p.fill(tones[1], 80, "M70 190C100 176 120 206 104 226C84 236 70 222 70 212ZM150 250C176 232 214 250 208 282C180 302 148 286 150 250Z")
		p.fill(tones[2], 80, "M140 170C160 160 190 172 186 192C170 206 140 196 140 170ZM84 280C100 268 128 280 122 304C104 316 82 302 84 280Z")
	}
	if v.firm() {
		p.putf(`<path fill="none" stroke="%s" stroke-width="3" stroke-linecap="round" opacity=".35" d="M84 190C80 220 80 250 84 282M92 176C90 180 89 184 88 188"/>`, paper)
	}
}
