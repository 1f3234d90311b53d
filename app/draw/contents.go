package draw

import (
	"fmt"

	"larderlamp/rules"
)

// liquid draws clarity and bubbles.
func (v *view) liquid(p *pen, level int, tint colour) {
	cloud, told := v.known(rules.SignCloud)
	if !told {
		return
	}
	switch cloud {
	case rules.CloudClear:
		p.line(paper, 2, fmt.Sprintf("M198 %dV%dM204 %dV%d", level+14, level+40, level+22, level+34))
	case rules.CloudSettled:
		p.shape(0xf2ead2, "M62 300Q80 292 98 299T134 296T170 299T218 295V345H62Z")
		p.putf(`<path fill="none" stroke="#b7a982" stroke-width="3" stroke-linecap="round" d="%s"/>`, points(21, 26, 74, 304, 132, 28))
	case rules.CloudHazy:
		p.fill(0xefe6cc, 66, fmt.Sprintf("M60 %dH220V345H60Z", level))
		p.putf(`<path fill="none" stroke="%s" stroke-width="16" stroke-linecap="round" opacity=".3" d="M78 %dq30 16 62 0t66 2M74 %dq30 16 62 0t66 2M78 %dq30 16 62 0t66 2"/>`, paper, level+40, level+84, level+126)
	case rules.CloudMurky:
		murk := tint.mix(0x6b6a4a, 70)
		p.fill(murk, 84, fmt.Sprintf("M60 %dH220V345H60Z", level))
		p.putf(`<g fill="none" stroke-linecap="round"><path stroke="%s" stroke-width="10" opacity=".55" d="M76 206C104 184 136 226 170 204S214 190 214 190M66 268C100 244 124 290 160 266S204 262 214 256M80 318C110 300 150 328 200 308"/>`, cellar)
		p.putf(`<path stroke="%s" stroke-width="4" d="M70 190C98 168 128 212 162 188S200 180 212 172M70 250C96 232 122 270 156 248S196 246 212 236M72 302C104 284 140 314 206 290"/></g>`, murk.mix(paper, 48))
	}
}

// bubbles draws gas: caught and still, or rising in strings under a froth.
func (v *view) bubbles(p *pen, level int) {
	bubble := func(x, y, r int) {
		p.putf(`<circle cx="%d" cy="%d" r="%d" fill="%s" fill-opacity=".45" stroke="%s" stroke-width="2"/><path fill="none" stroke="%s" stroke-width="2" d="M%d %dq1-%d %d-%d"/>`,
			x, y, r, paper, cellar, paper, x-r/2, y, r/2, r/2, r/2)
	}
	switch {
	case v.is(rules.BubblesStill):
		for _, b := range [...][3]int{{78, 216, 6}, {203, 240, 7}, {86, 284, 5}, {196, 300, 6}, {150, 270, 5}} {
			if b[1] > level+8 {
				bubble(b[0], b[1], b[2])
			}
		}
	case v.is(rules.BubblesRising):
		p.putf(`<path fill="none" stroke="%s" stroke-width="2" stroke-dasharray="2 5" opacity=".9" d="M100 330V%[2]dM142 334V%[2]dM182 328V%[2]d"/>`, paper, level+10)
		for i, x := range [...]int{100, 142, 182} {
			for k, y := 0, 322-i*7; y > level+12; k, y = k+1, y-22 {
				bubble(x+jitter(31+i, k, 5), y, 3+min(k, 4))
			}
		}
		w := half(level)
		for x, k := 140-w+6, 0; x < 140+w; x, k = x+13, k+1 {
			bubble(x, level-3+jitter(37, k, 4), 7+jitter(38, k, 2))
		}
	}
}

// deposits draws crystals, with their sharp facets, and specks, without hair.
func (v *view) deposits(p *pen, tones [3]colour) {
	switch {
	case v.is(rules.DepositCrystals):
		for i, c := range [...][2]int{{86, 326}, {108, 330}, {131, 324}, {157, 330}, {180, 325}, {199, 328}, {95, 276}, {183, 262}, {140, 288}} {
			p.putf(`<g transform="translate(%d %d) rotate(%d)"><path fill="%s" stroke="%s" d="M-6 6L-3-14L2-19L7-12L6 6L1 9Z"/><path fill="none" stroke="%s" d="M-3-14L1-9L7-12M1-9V9"/></g>`,
				c[0], c[1], jitter(41, i, 38), ice, cellar, cellar.mix(ice, 45))
		}
		p.inked(0xffffff, 1, "M112 296v14M105 303h14M176 284v12M170 290h12M78 300v10M73 305h10")
	case v.is(rules.DepositSpecks):
		d := points(43, 20, 76, 176, 128, 120) + points(44, 18, 76, 306, 128, 24)
		p.putf(`<g fill="none" stroke-linecap="square"><path stroke="%s" stroke-width="7" d="%s"/><path stroke="#f7efc8" stroke-width="4" d="%[2]s"/></g>`, cellar, d)
	}
}

// body draws slime and sag over the food.
func (v *view) body(p *pen, tones [3]colour, level int) {
	switch {
	case v.is(rules.BodySoft):
		p.putf(`<path fill="none" stroke="%s" stroke-width="3" stroke-linecap="round" opacity=".6" d="M76 %[2]dq64 34 128 0M76 %[3]dq64 34 128 0M76 %[4]dq64 30 128 0"/>`, tones[0].mix(cellar, 60), 212, 254, 294)
	case v.is(rules.BodySlimy):
		mush := tones[0].mix(slime, 45)
		p.shape(mush, "M60 290C76 270 90 300 106 282C122 268 134 298 152 284C168 272 182 300 220 278V345H60Z")
		p.putf(`<g fill="none" stroke-linecap="round"><path stroke="%s" stroke-width="9" d="M84 %[2]dC80 220 94 236 88 286M116 %[2]dC122 210 108 240 116 284M150 %[2]dC144 224 158 244 152 286M188 %[2]dC194 220 180 250 190 288"/>`, cellar, max(level, 150))
		p.putf(`<path stroke="%s" stroke-width="6" d="M84 %[2]dC80 220 94 236 88 286M116 %[2]dC122 210 108 240 116 284M150 %[2]dC144 224 158 244 152 286M188 %[2]dC194 220 180 250 190 288"/>`, slime, max(level, 150))
		p.putf(`<path stroke="%s" stroke-width="12" d="M88 236h0M114 252h0M151 230h0M186 258h0"/><path stroke="#fff" stroke-width="2" opacity=".8" d="M84 196q0 20 3 34M115 200q1 20-3 40M149 200q0 16 2 24M190 204q0 20-4 44M96 304q14-8 26 0M150 308q14-8 30 0"/></g>`, slime)
	}
}

// surfaceOf draws the surface of the liquid and what lies on it.
func (v *view) surfaceOf(p *pen, level int, told bool, liquid colour) {
	w := half(level)
	edge := ""
	if !told {
		edge = ` stroke-dasharray="3 4"`
	}
	p.putf(`<ellipse cx="140" cy="%d" rx="%d" ry="8" fill="%s" fill-opacity=".6" stroke="%s" stroke-width="2"%s/>`, level, w, liquid.mix(paper, 35), liquid.mix(paper, 70), edge)
	if v.is(rules.LevelDropped) {
		// The tide mark: dried residue where the liquid stood, and runs below it.
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
		for row := range 3 {
			for x, k := 140-w+8+row*7, 0; x < 140+w-row*7; x, k = x+14, k+1 {
				p.putf(`<circle cx="%d" cy="%d" r="%d" fill="%s" stroke="%s" stroke-width="2"/>`, x, level-row*11+jitter(53, k+row*9, 3), 8+jitter(54, k+row*5, 2), paper, cellar)
			}
		}
	case v.is(rules.FilmClean):
		p.line(paper, 3, fmt.Sprintf("M%d %dq22 5 40 5", 140-w+14, level))
	}
	if v.is(rules.MouldSeen) {
		p.tuft(104, level-1, 19, 0xe9e8de, 0xffffff)
		p.tuft(175, level, 17, 0x3c4a3c, 0x8fa59a)
		p.tuft(140, level+2, 24, 0x4f8f86, 0xcfe6d8)
	}
}

// skin is the wrinkled film of something growing on a surface.
func (p *pen) skin(y, w int) {
	p.shape(0xcfcdb2, fmt.Sprintf("M%d %dq14-14 28-4t28-3t26 1t26 0t%d 4q4 12-8 12q-8 14-18 2q-10 20-22 4q-12 12-24 0q-12 18-24 2q-10 12-20 0q-14 8-22-2Z", 140-w-4, y, 2*w-104))
	p.line(0x77765c, 2, fmt.Sprintf("M%d %dq16-8 26 2t28-2t30 3t26-2M%d %dq20 8 34 0t40 1", 140-w+8, y, 140-w+20, y+7))
	p.putf(`<path fill="none" stroke="#f4f2e2" stroke-width="7" stroke-linecap="round" d="M%d %dh4M138 %dh6M%d %dh3"/>`, 140-w/2, y-3, y+3, 140+w/2, y-2)
}

// rays are sixteen directions, ten units long.
var rays = [16][2]int{{10, 0}, {9, -4}, {7, -7}, {4, -9}, {0, -10}, {-4, -9}, {-7, -7}, {-9, -4}, {-10, 0}, {-9, 4}, {-7, 7}, {-4, 9}, {0, 10}, {4, 9}, {7, 7}, {9, 4}}

// tuft is a ball of mould: a dark felt, hair all round and a spore on every hair.
func (p *pen) tuft(x, y, r int, felt, hair colour) {
	var hairs, spores []byte
	for i, d := range rays {
		n := r + jitter(x, i, r/5)
		hairs = fmt.Appendf(hairs, "M%d %dq%d %d %d %d", x, y, d[0]*n/20+jitter(y, i, 3), d[1]*n/20, d[0]*n/10, d[1]*n/10)
		spores = fmt.Appendf(spores, "M%d %dh0", x+d[0]*n/10, y+d[1]*n/10)
	}
	p.putf(`<g fill="none" stroke-linecap="round"><circle cx="%d" cy="%d" r="%d" fill="%s" opacity=".6"/>`, x, y, r*8/10, felt)
	p.putf(`<path stroke="%s" stroke-width="4" d="%s"/><path stroke="%s" stroke-width="2" d="%[2]s"/>`, cellar, hairs, hair)
	p.putf(`<path stroke="%s" stroke-width="6" d="%s"/><path stroke="%s" stroke-width="4" d="%[2]s"/>`, cellar, spores, felt)
	p.putf(`<circle cx="%d" cy="%d" r="%d" fill="%s"/></g>`, x, y, r*45/100, felt)
}
