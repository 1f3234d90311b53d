package draw

import (
	"fmt"

	"larderlamp/rules"
)

const (
	outside = "M82 88V106C82 121 62 124 62 152V320C62 338 74 344 140 345C206 344 218 337 218 319V152C218 125 198 120 198 105V88"
	threads = "M83 99Q138 113 197 97M83 107Q138 121 197 105"
)

// glass draws the jar itself, and what is on it.
func (v *view) glass(p *pen, liquid color) {
	if _, told := v.known(rules.SignGlass); told {
		p.putf(`<path fill="none" stroke="%s" stroke-width="7" d="%s"/>`, cellar, outside)
		p.putf(`<path fill="none" stroke="#cfd8c8" stroke-width="3" d="%s"/>`, outside)
		p.putf(`<path fill="none" stroke="#cfd8c8" stroke-width="2" opacity=".7" d="%s"/>`, threads)
		p.putf(`<path fill="none" stroke="#fff" stroke-linecap="round" stroke-width="5" opacity=".55" d="M74 168C71 200 72 240 73 282M75 298V306M92 124C86 130 80 136 77 144"/><path fill="none" stroke="#fff" stroke-linecap="round" stroke-width="3" opacity=".4" d="M207 176V262"/>`)
	} else {
		p.putf(`<path fill="none" stroke="%s" stroke-width="2" stroke-dasharray="2 5" stroke-linecap="round" d="%s"/>`, paper, outside+threads)
	}
	if v.is(rules.GlassCracked) {
		// Where the chip is missing, the wall behind shows between broken edges.
		p.putf(`<path fill="url(#%s-lamp)" d="M54 118L84 124L76 143L87 153L73 167L79 182L54 178Z"/>`, p.prefix)
		p.line(cellar, 6, "M66 119L84 124L76 143L87 153L73 167L79 182L62 184")
		p.line(0xcfd8c8, 3, "M66 119L84 124L76 143L87 153L73 167L79 182L62 184")
		crack := "M77 144L104 158L96 182L130 196L122 226L162 242L156 268L188 290M96 182L74 204L80 236L68 250M130 196L156 184L172 192M122 226L102 250L112 278M162 242L184 232L200 240"
		p.inked(0xffffff, 2, crack)
		p.putf(`<path fill="#dfe8e0" stroke="%s" stroke-width="2" d="M46 352L31 334L26 354ZM56 360L50 350L42 362Z"/>`, cellar)
	}
	v.seep(p, liquid)
	v.weather(p)
}

// seep draws what came out under the lid.
func (v *view) seep(p *pen, liquid color) {
	switch {
	case v.is(rules.SeepFirstDay):
		// A checked cloth has wiped the neck; only a faint smear is left.
		p.putf(`<path fill="none" stroke="%s" stroke-width="6" stroke-linecap="round" opacity=".5" d="M94 118q24 10 52 4M88 132q30 8 60-2"/>`, liquid.mix(paper, 55))
		p.shape(paper, "M92 90C78 82 58 84 50 94C38 102 42 118 36 132C28 150 40 164 54 154C66 164 78 154 75 138C88 130 97 112 92 90Z")
		p.line(0x5d8a8a, 3, "M86 102Q66 98 45 110M78 126Q60 120 39 132M74 88Q76 120 64 154M59 88Q58 120 48 152")
	case v.is(rules.SeepStreak):
		// Dull, ragged and dark: dried on, without a drop or a gleam.
		crust := liquid.mix(0x24120a, 76)
		p.putf(`<path fill="%s" stroke="%s" stroke-width="2" d="M84 88L124 94L122 112L126 122L121 138L117 146L113 132L115 118L110 110L106 116L109 134L103 150L106 172L101 194L104 214L98 246L93 256L90 240L93 216L88 196L92 170L87 152L90 134L82 142L80 160L74 176L76 196L71 206L68 188L70 164L68 150L78 126L86 112Z"/>`, crust, crust.mix(paper, 55))
		p.putf(`<path fill="none" stroke="%s" stroke-width="3" stroke-dasharray="2 6 5 7" d="M96 100L98 160L95 240M116 100V134M76 150L73 190"/>`, crust.mix(lamp, 40))
	case v.is(rules.SeepWet):
		wet := liquid.mix(lamp, 15)
		d := "M96 90C94 108 84 116 80 150C76 190 84 220 78 268M110 92C112 112 112 124 108 150M88 92C80 108 68 128 68 160V208"
		p.putf(`<path fill="%s" stroke="%s" stroke-width="2" d="M24 350C34 336 66 342 82 344C112 342 132 352 116 360C92 368 30 366 24 350Z"/>`, wet, cellar)
		p.putf(`<g fill="none" stroke-linecap="round"><path stroke="%s" stroke-width="12" d="%s"/><path stroke="%s" stroke-width="8" d="%[2]s"/></g>`, cellar, d, wet)
		for _, x := range [...][2]int{{78, 268}, {108, 152}, {68, 210}, {72, 312}} {
			p.shape(wet, fmt.Sprintf("M%d %dc-9 15-12 20-11 26c1 7 6 10 11 10c6 0 10-4 11-10c0-7-3-12-11-26Z", x[0], x[1]-6))
		}
		p.line(0xffffff, 3, "M73 286q-3 5-1 9M103 170q-3 5-1 9M62 226q-2 5-1 9M67 330q-3 5-1 9M94 98q-3 10-6 16M40 352q20-5 36-2")
	}
}

// weather draws frost, damp and flood.
func (v *view) weather(p *pen) {
	const fern = "M66 338C76 306 78 286 74 258M75 310l-9-8M76 306l12-10M77 292l-9-8M77 288l11-10M76 274l-7-7M76 270l9-8M110 340C106 322 108 312 116 300M108 322l-9-7M109 318l9 2M214 336C206 306 204 288 208 262M206 308l9-8M205 304l-12-9M204 290l9-8M204 286l-11-9M170 341C174 324 172 316 166 306M172 324l9-7M172 320l-10 1"
	frozen, _ := v.known(rules.SignFrozen)
	frosted := frozen == rules.FrozenHeld || frozen == rules.FrozenCold
	if frosted || v.is(rules.OpenedFrozen) {
		p.fill(ice, 40, "M69 282C84 276 92 306 112 318S168 320 178 312S196 280 211 276V318C211 331 201 336 140 337C79 336 69 331 69 318Z")
		p.putf(`<path fill="none" stroke="%s" stroke-width="5" stroke-linecap="round" opacity=".7" d="%s"/><path fill="none" stroke="#fff" stroke-width="2" stroke-linecap="round" d="%[2]s"/>`, cellar, fern)
	}
	var flakes [][2]int
	if frosted {
		flakes = append(flakes, [2]int{36, 160}, [2]int{246, 262})
	}
	if v.is(rules.OpenedFrozen) {
		flakes = append(flakes, [2]int{244, 236}, [2]int{250, 306}, [2]int{62, 46})
	}
	if frozen == rules.FrozenCold {
		p.putf(`<path fill="%s" opacity=".6" d="%s"/>`, ice, inside)
		p.line(0xffffff, 3, "M70 150L100 178L92 232L70 252M100 178L146 164L208 182M146 164L160 222L132 262L92 232M160 222L208 240M132 262L140 300L100 330M140 300L190 330M208 290L172 262L160 222")
		p.shape(0xeef5f4, "M12 354C20 338 44 336 62 342C84 350 110 350 140 350S196 350 218 342C236 336 260 338 268 354Q204 362 140 359T12 354Z")
	}
	if frozen == rules.FrozenThawed || v.is(rules.OpenedThawed) {
		flakes = append(flakes, [2]int{246, 250})
		p.putf(`<path fill="#a9cdd4" stroke="%s" stroke-width="2" d="M18 356C40 340 90 350 140 348C190 350 244 340 262 356C250 374 196 366 176 372C150 366 100 378 70 368C44 372 24 368 18 356Z"/>`, cellar)
		for i, x := range [...]int{70, 98, 186, 210} {
			y := 262 + jitter(61, i, 26)
			p.drop(x, y)
			p.line(0xffffff, 2, fmt.Sprintf("M%d %dv7M%d %dv-22", x-4, y+17, x, y-4))
		}
	}
	if len(flakes) > 0 {
		p.flakes(flakes)
	}
	switch {
	case v.is(rules.WetDamp):
		d := points(71, 36, 66, 150, 148, 180) + "M90 250h0M190 234h0M160 302h0M118 212h0"
		p.putf(`<g fill="none" stroke-linecap="round" opacity=".8"><path stroke="%s" stroke-width="9" opacity=".35" d="%s"/><path stroke="#bcd3d2" stroke-width="7" opacity=".8" d="%[2]s"/><path stroke="#fff" stroke-width="2" transform="translate(-1 -2)" d="%[2]s"/>`, cellar, d)
		p.put(`<path stroke="#d6e6e2" stroke-width="3" opacity=".5" d="M90 196v50M190 166v64M160 252v46M118 172v36"/></g>`)
	}
}

// drop is a drop of water that hangs from a point.
func (p *pen) drop(x, y int) {
	p.shape(0xa9cdd4, fmt.Sprintf("M%d %dc-7 13-9 17-9 21c0 6 4 9 9 9c5 0 9-3 9-9c0-5-3-9-9-21Z", x, y))
}

// flakes draws snow crystals, one drawing used for all.
func (p *pen) flakes(places [][2]int) {
	const six = `<path d="M0-14V14M14 0H-14M-10-10L10 10M10-10L-10 10M-4-13L0-9L4-13M-4 13L0 9L4 13M-13-4L-9 0L-13 4M13-4L9 0L13 4"/>`
	p.putf(`<defs><g id="%s-k" fill="none" stroke-linecap="round"><g stroke="%s" stroke-width="5">%s</g><g stroke="#fff" stroke-width="2">%[3]s</g></g></defs>`, p.prefix, cellar, six)
	for _, at := range places {
		p.putf(`<use href="#%s-k" transform="translate(%d %d) rotate(%d)"/>`, p.prefix, at[0], at[1], at[1]%45)
	}
}
