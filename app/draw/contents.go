package draw

import (
	"fmt"

	"larderlamp/rules"
)

// liquid draws clarity and bubbles.
func (v *view) liquid(p *pen, level int, tint color) {
	cloud, told := v.known(rules.SignCloud)
	if !told {
		return
	}
	switch cloud {
	case rules.CloudSettled:
		p.shape(0xf2ead2, "M62 300Q80 292 98 299T134 296T170 299T218 295V345H62Z")
		p.putf(`<path fill="none" stroke="#b7a982" stroke-width="3" stroke-linecap="round" d="%s"/>`, points(21, 26, 74, 304, 132, 28))
	case rules.CloudHazy:
		milk := color(0xefe6cc)
		if c, told := v.known(rules.SignColor); told && c != rules.ColorUsual {
			milk = milk.mix(tint, 45)
		}
		p.fill(milk, 74, fmt.Sprintf("M60 %dH220V345H60Z", level))
		p.putf(`<ellipse cx="140" cy="%d" rx="96" ry="%d" fill="url(#%s-glow)"/>`, (level+345)/2, (345-level)/2, p.prefix)
	case rules.CloudMurky:
		murk := tint.mix(0x5f6038, 74)
		p.fill(murk, 88, fmt.Sprintf("M60 %dH220V345H60Z", level))
		p.fill(murk.mix(cellar, 60), 70, "M62 176C84 160 92 182 112 172C134 160 144 184 128 198C112 212 84 206 62 214ZM218 216C196 204 188 226 166 218C142 210 132 236 150 248C170 260 196 244 218 256ZM66 262C88 248 118 258 116 278C112 298 84 290 66 304ZM140 300C160 286 196 292 204 312C188 336 136 330 140 300Z")
		p.putf(`<path fill="none" stroke="%s" stroke-width="3" stroke-linecap="round" d="M84 206C92 220 76 232 88 248S78 278 92 292M108 202C116 216 102 226 112 244S104 262 112 270M128 196C136 212 122 222 132 238S126 270 138 284S130 310 138 322M170 250C178 262 164 272 174 290M192 252C202 266 186 276 198 296S190 318 198 330M156 222C150 206 162 196 154 180M180 216C174 200 188 190 180 172"/>`, murk.mix(paper, 55))
		p.putf(`<path fill="none" stroke="%s" stroke-width="4" stroke-linecap="round" d="%s"/>`, murk.mix(cellar, 75), points(23, 22, 74, 170, 132, 160))
	}
}

// bubbles draws gas: trapped and still, or rising in streams under foam.
func (v *view) bubbles(p *pen, level int) {
	gas := lamp.mix(paper, 62)
	switch {
	case v.is(rules.BubblesStill):
		var large, small []byte
		for i, b := range [...][2]int{{80, 222}, {199, 246}, {94, 306}, {186, 312}, {146, 262}, {84, 172}, {194, 186}} {
			if b[1] < level+14 {
				continue
			}
			if i%2 == 0 {
				large = fmt.Appendf(large, "M%d %dh0", b[0], b[1])
			} else {
				small = fmt.Appendf(small, "M%d %dh0", b[0], b[1])
			}
		}
		p.balls(9, gas, large)
		p.balls(6, gas, small)
	case v.is(rules.BubblesRising):
		p.putf(`<path fill="none" stroke="%s" stroke-width="3" stroke-dasharray="1 6" stroke-linecap="round" d="M92 332V%[2]dM140 336V%[2]dM188 332V%[2]d"/>`, paper, level+10)
		var sizes [3][]byte
		for i, x := range [...]int{92, 140, 188} {
			for k, y := 0, 326-i%2*12; y > level+14; k, y = k+1, y-25 {
				size := min(2, k/2)
				sizes[size] = fmt.Appendf(sizes[size], "M%d %dh0", x+jitter(31+i, k, 6), y)
			}
		}
		w := half(level)
		for x, k := 140-w+7, 0; x < 140+w-4; x, k = x+14, k+1 {
			sizes[k%3] = fmt.Appendf(sizes[k%3], "M%d %dh0", x, level-5+jitter(37, k, 5))
			sizes[2-k%3] = fmt.Appendf(sizes[2-k%3], "M%d %dh0", x+5, level+4+jitter(38, k, 4))
		}
		for i, r := range [...]int{4, 6, 8} {
			p.balls(r, gas, sizes[i])
		}
	}
}

// balls draws strokes of zero length as a dark ring, a pale ball and a
// highlight.
func (p *pen) balls(r int, c color, d []byte) {
	if len(d) > 0 {
		p.putf(`<g fill="none" stroke-linecap="round"><path stroke="%s" stroke-width="%d" d="%s"/><path stroke="%s" stroke-width="%d" d="%[3]s"/><path stroke="#fff" stroke-width="%[6]d" transform="translate(-%[6]d -%[6]d)" d="%[3]s"/></g>`,
			cellar, 2*r+3, d, c, 2*r, max(2, r/2))
	}
}

// deposits draws crystals with sharp facets, seeds from the recipe, and specks; none of them has
// hair.
func (v *view) deposits(p *pen, tones [3]color) {
	switch {
	case v.is(rules.DepositCrystals):
		p.putf(`<defs><g id="%s-c"><path fill="%s" stroke="%s" d="M-6 6L-3-14L2-19L7-12L6 6L1 9Z"/><path fill="none" stroke="%s" d="M-3-14L1-9L7-12M1-9V9"/></g></defs>`,
			p.prefix, ice, cellar, cellar.mix(ice, 45))
		for i, c := range [...][2]int{{86, 326}, {108, 330}, {131, 324}, {157, 330}, {180, 325}, {199, 328}, {95, 276}, {183, 262}, {140, 288}} {
			p.putf(`<use href="#%s-c" transform="translate(%d %d) rotate(%d)"/>`, p.prefix, c[0], c[1], jitter(41, i, 38))
		}
		p.inked(0xffffff, 1, "M112 296v14M105 303h14M176 284v12M170 290h12M78 300v10M73 305h10")
	case v.is(rules.DepositRecipe):
		// Round seeds lie on the bottom.
		var d []byte
		for i := range 24 {
			d = fmt.Appendf(d, "M%d %dh1", 80+int(noise(47, i)%120), 322+int(noise(48, i)%12))
		}
		p.putf(`<g fill="none" stroke-linecap="round"><path stroke="%s" stroke-width="8" d="%s"/><path stroke="#c98f2b" stroke-width="5" d="%[2]s"/></g>`, cellar, d)
	case v.is(rules.DepositSpecks):
		// Hard chips lie at every angle, most of them near the bottom.
		var d []byte
		for i := range 46 {
			y := 332 - int(noise(44, i)%150)*int(noise(45, i)%150)/150
			d = fmt.Appendf(d, "M%d %dl%d %d", 78+int(noise(43, i)%122), y, jitter(46, i, 4), jitter(47, i, 3))
		}
		p.putf(`<g fill="none"><path stroke="%s" stroke-width="7" stroke-linecap="square" d="%s"/><path stroke="#f9f3d6" stroke-width="4" stroke-linecap="square" d="%[2]s"/></g>`, cellar, d)
	}
}

// body draws slime and sag over the food.
func (v *view) body(p *pen, tones [3]color, level int) {
	switch {
	case v.is(rules.BodyUnset):
		// Waves run through food that should be set.
		p.putf(`<path fill="none" stroke="%s" stroke-width="4" stroke-linecap="round" opacity=".75" transform="rotate(-9 140 %d)" d="M78 %dq15-11 30 0t30 0t30 0t30 0M92 %dq13-9 26 0t26 0t26 0M84 %dq15-11 30 0t30 0t30 0"/>`, tones[0].mix(paper, 58), level, level+34, level+58, level+84)
	case v.is(rules.BodySoft):
		if v.massive() {
			// Food that should hold its shape has slumped to a mound, surrounded by thin
			// liquid.
			y := level + (insideBottom-level)/3
			p.fill(tones[0].mix(paper, 62), 78, fmt.Sprintf("M60 %[1]dH220V%[3]dC204 %[3]d 200 %[2]d 168 %[2]dC150 %[2]d 150 %[4]d 126 %[4]dC96 %[4]d 96 %[3]d 60 %[3]dZ", level, y, y+64, y+14))
			p.line(tones[0].mix(cellar, 60), 2, fmt.Sprintf("M60 %[2]dC96 %[2]d 96 %[3]d 126 %[3]dC150 %[3]d 150 %[1]d 168 %[1]dC200 %[1]d 204 %[2]d 220 %[2]dM112 %[4]dq14-10 30-6", y, y+64, y+14, y+34))
			break
		}
		if v.is(rules.CloudHazy) || v.is(rules.CloudMurky) {
			// Soft edges disappear in a cloud; drooping lines do not.
			p.putf(`<path fill="none" stroke="%s" stroke-width="3" stroke-linecap="round" stroke-dasharray="9 7" opacity=".6" d="M78 206q14 20 32 2t32 4t32-4t28 6M76 248q16 22 34 2t34 4t30-2t30 4M78 290q14 20 32 2t32 4t32-4t28 4"/>`, cellar)
		}
		d := points(45, 16, 80, max(level+20, 180), 120, 60)
		p.putf(`<path fill="none" stroke="%s" stroke-width="4" stroke-linecap="round" opacity=".8" d="%s"/>`, tones[2].mix(paper, 40), d)
	case v.is(rules.BodySlimy):
		// Ropes of slime hang from the surface, webbed together, into a mush.
		p.shape(tones[0].mix(slime, 50), "M60 306C76 290 90 312 106 300C122 290 134 312 152 302C168 292 182 312 220 298V345H60Z")
		y := max(level, 140) + 4
		p.putf(`<path fill="%s" fill-opacity=".88" stroke="%s" stroke-width="2" d="M60 %dH220V%dC206 %[5]d 206 %[6]d 202 268C200 286 186 286 184 268C182 240 184 %[6]d 172 %[5]dC162 %[5]d 162 %[6]d 160 244C158 258 148 258 146 244C144 226 146 %[6]d 136 %[5]dC124 %[5]d 124 230 122 288C120 306 106 306 104 288C102 250 104 %[6]d 96 %[5]dC88 %[5]d 90 %[6]d 88 232C86 246 76 246 74 232C73 216 72 %[5]d 60 %[5]dZ"/>`,
			slime, cellar, y, y+16, y+22, y+44)
		p.line(0xffffff, 3, fmt.Sprintf("M190 262q2 10 4 10M110 280q1 12 5 12M150 238q1 8 4 8M78 226q1 8 4 8M72 %[1]dq24 8 50 2t70-2M84 318q14-8 26 0M150 322q14-8 30 0", y+8))
		p.line(slime.mix(cellar, 45), 2, fmt.Sprintf("M88 %[1]dq9 14 16 0M122 %[1]dq12 18 24 0M160 %[1]dq12 18 24 0", y+52))
	}
}

// surfaceOf draws the surface of the liquid and what lies on it.
func (v *view) surfaceOf(p *pen, level int, told bool, liquid color) {
	w := half(level)
	edge := ""
	if !told {
		edge = ` stroke-dasharray="3 4"`
	}
	if v.is(rules.BodyUnset) {
		// It runs: the surface slants, and leaves a coat where it was.
		p.putf(`<path fill="url(#%s-lamp)" d="M60 %dL140 %dL60 %dZ"/>`, p.prefix, level-6, level, level+13)
		p.fill(liquid, 96, fmt.Sprintf("M140 %dL220 %dV%d", level, level-13, level+5))
		p.fill(liquid.mix(cellar, 25), 80, fmt.Sprintf("M60 %dH84C84 %d 82 %d 78 %dC76 %[2]d 74 %[2]d 72 %[4]dL60 %[4]dZ", level-16, level-6, level+4, level+12))
		edge += fmt.Sprintf(` transform="rotate(-9 140 %d)"`, level)
		w += 2
	}
	p.putf(`<ellipse cx="140" cy="%d" rx="%d" ry="8" fill="%s" fill-opacity=".6" stroke="%s" stroke-width="2"%s/>`, level, w, liquid.mix(paper, 35), liquid.mix(paper, 70), edge)
	if v.is(rules.LevelDropped) {
		// The tide mark: dried residue where the liquid was, and drips below it.
		stain := liquid.mix(0x3a2412, 62)
		p.putf(`<g fill="none" stroke="%s" stroke-linecap="round"><path stroke-width="6" d="M76 138Q108 150 140 147T204 138"/><path stroke-width="4" d="M86 146V168M104 148V160M126 150V176M150 149V162M170 148V180M192 144V164"/></g>`, stain)
		p.inked(paper, 3, "M222 140V182M214 172L222 184L230 172")
	}
	v.bubbles(p, level)
	switch {
	case v.is(rules.TopFat):
		p.shape(0xf7e7b4, fmt.Sprintf("M%d %dC110 %d 170 %d %d %dV%dC190 %d 176 %d 160 %dC140 %d 124 %d 108 %dC94 %d 84 %d %d %dZ",
			140-w-6, level-12, level-20, level-20, 140+w+6, level-12, level+16, level+24, level+14, level+20, level+26, level+14, level+21, level+26, level+18, 140-w-6, level+20))
		p.line(0xc9ac66, 2, fmt.Sprintf("M%d %dq30 7 60 2t54 1M112 %dl8 9l-4 8M168 %dl-6 8", 140-w+6, level-4, level-2, level))
	case v.is(rules.TopFoam):
		p.crust(level, w, liquid)
	case v.is(rules.TopFilm):
		p.skin(level, w)
	case v.is(rules.TopFloat):
		p.line(liquid.mix(paper, 60), 2, fmt.Sprintf("M92 %dq10-6 20 0M150 %dq10-6 20 0", level-12, level-11))
	}
	switch {
	case v.is(rules.FilmFilm):
		p.skin(level-4, w)
		p.inked(0xd8d6bd, 3, fmt.Sprintf("M%d %dq20-10 40 0t40-2t34 2", 140-w+8, level-18))
	case v.is(rules.FilmFoam):
		var large, small []byte
		for row := range 3 {
			for x, k := 140-w+8+row*7, row; x < 140+w-row*7; x, k = x+14, k+1 {
				ball := fmt.Appendf(nil, "M%d %dh0", x, level-row*11+jitter(53, k+row*9, 3))
				if k%2 == 0 {
					large = append(large, ball...)
				} else {
					small = append(small, ball...)
				}
			}
		}
		p.balls(9, paper, large)
		p.balls(7, paper, small)
	case v.is(rules.FilmClean):
		p.line(paper, 3, fmt.Sprintf("M%d %dq22 5 40 5", 140-w+14, level))
	}
	if v.is(rules.MoldSeen) {
		p.tuft(98, level-2, 90, 0xd9d8cc, 0xffffff)
		p.tuft(182, level-1, 88, 0x39443c, 0x9db0a4)
		p.tuft(140, level+3, 116, 0x3f867c, 0xd5ebdd)
		p.tuft(88, level+40, 50, 0x3f867c, 0xd5ebdd)
		p.tuft(190, level+58, 54, 0xd9d8cc, 0xffffff)
	}
}

// crust is foam that dried on the food: thin, flat and full of small holes,
// with cracks and a rim that clings to the glass.
func (p *pen) crust(y, w int, liquid color) {
	dried := liquid.mix(0xf4e6c8, 78)
	p.shape(dried, fmt.Sprintf("M%d %dC%d %d %d %d %d %dL%d %dC%d %d %d %d %d %dZ",
		140-w-4, y-10, 140-w/2, y-3, 140+w/2, y-3, 140+w+4, y-10, 140+w+4, y+2, 140+w/2, y+15, 140-w/2, y+15, 140-w-4, y+2))
	p.putf(`<path fill="none" stroke="%s" stroke-width="4" stroke-linecap="round" d="%s"/>`, dried.mix(cellar, 42), points(35, 34, 140-w+6, y-2, 2*w-12, 9))
	p.line(cellar, 2, fmt.Sprintf("M%d %dl7 5l-3 6M%d %dl-5 4l5 6", 140-w/3, y-4, 140+w/3, y-4))
}

// skin is the wrinkled film of something growing on a surface.
func (p *pen) skin(y, w int) {
	p.shape(0xcfcdb2, fmt.Sprintf("M%d %dq14-14 28-4t28-3t26 1t26 0t%d 4q4 12-8 12q-8 14-18 2q-10 20-22 4q-12 12-24 0q-12 18-24 2q-10 12-20 0q-14 8-22-2Z", 140-w-4, y, 2*w-104))
	p.line(0x77765c, 2, fmt.Sprintf("M%d %dq16-8 26 2t28-2t30 3t26-2M%d %dq20 8 34 0t40 1", 140-w+8, y, 140-w+20, y+7))
	p.putf(`<path fill="none" stroke="#f4f2e2" stroke-width="7" stroke-linecap="round" d="M%d %dh4M138 %dh6M%d %dh3"/>`, 140-w/2, y-3, y+3, 140+w/2, y-2)
}

// mold defines a ball of mold of radius 24 for [pen.tuft]: woolly all around,
// with a felt of spores on it. The wool is a broad ring that its dashes cut
// into hair; it takes the color of the use element, and the felt takes its
// fill.
func (p *pen) mold() {
	const rings = `<circle cx="-12" cy="5" r="13"/><circle cx="12" cy="5" r="13"/><circle cy="-5" r="14"/>`
	p.putf(`<defs><g id="%s-m"><g fill="none" stroke="%s" stroke-width="15" opacity=".5">%s</g><g fill="none" stroke="currentColor" stroke-width="20" stroke-dasharray="1 4">%[3]s</g><g fill="currentColor" stroke="currentColor" stroke-width="13" stroke-dasharray="1 1">%[3]s</g>`, p.prefix, cellar, rings)
	p.putf(`<path d="M-20 5C-20-5-12-7-8-9C0-14 10-12 14-6C22-4 22 6 16 9C8 13 4 7-2 10C-10 15-19 13-20 5Z"/><path fill="none" stroke="%s" stroke-width="2" stroke-linecap="round" d="%s"/></g></defs>`, cellar, points(97, 16, -18, -9, 36, 20))
}

// tuft places a ball of mold; size is in hundredths.
func (p *pen) tuft(x, y, size int, felt, wool color) {
	p.putf(`<use href="#%s-m" fill="%s" color="%s" transform="translate(%d %d) scale(%d.%02d)"/>`, p.prefix, felt, wool, x, y, size/100, size%100)
}
