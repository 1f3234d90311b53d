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
func (v *view) glass(p *pen, liquid colour) {
	if _, told := v.known(rules.SignGlass); told {
		p.putf(`<path fill="none" stroke="%s" stroke-width="7" d="%s"/>`, cellar, outside)
		p.putf(`<path fill="none" stroke="#cfd8c8" stroke-width="3" d="%s"/>`, outside)
		p.putf(`<path fill="none" stroke="#cfd8c8" stroke-width="2" opacity=".7" d="%s"/>`, threads)
		p.putf(`<path fill="none" stroke="#fff" stroke-linecap="round" stroke-width="5" opacity=".55" d="M74 168C71 200 72 240 73 282M75 298V306M92 124C86 130 80 136 77 144"/><path fill="none" stroke="#fff" stroke-linecap="round" stroke-width="3" opacity=".4" d="M207 176V262"/>`)
	} else {
		p.putf(`<path fill="none" stroke="%s" stroke-width="2" stroke-dasharray="2 5" stroke-linecap="round" d="%s"/>`, paper, outside+threads)
	}
	if v.is(rules.GlassCracked) {
		p.putf(`<path fill="%s" stroke="%s" stroke-width="2" d="M221 120L196 126L203 144L193 152L207 166L203 180L222 172Z"/>`, cellar, paper)
		crack := "M203 144L176 158L184 182L150 196L158 226L118 242L124 268L92 290M184 182L206 204L200 236L212 250M150 196L124 184L108 192M158 226L178 250L168 278M118 242L96 232L80 240"
		p.inked(0xffffff, 2, crack)
		p.putf(`<path fill="#dfe8e0" stroke="%s" stroke-width="2" d="M232 352L247 336L252 354ZM222 358L228 350L234 360Z"/>`, cellar)
	}
	v.seep(p, liquid)
	v.weather(p)
}

// seep draws what came out under the lid.
func (v *view) seep(p *pen, liquid colour) {
	switch {
	case v.is(rules.SeepFirstDay):
		// A checked cloth has wiped the neck; only a faint smear is left.
		p.putf(`<path fill="none" stroke="%s" stroke-width="5" stroke-linecap="round" opacity=".45" d="M150 120q20 0 34-10M140 130q30 4 56-6"/>`, liquid.mix(paper, 55))
		p.shape(paper, "M190 92C204 84 222 86 230 96C240 104 236 120 242 132C250 148 238 160 226 152C214 160 204 152 206 138C194 130 186 112 190 92Z")
		p.line(0x5d8a8a, 3, "M196 104Q216 100 236 112M204 126Q222 120 240 132M208 90Q206 120 218 152M222 90Q222 120 232 152")
	case v.is(rules.SeepStreak):
		crust := liquid.mix(0x2c160a, 72)
		p.putf(`<g fill="none" stroke-linecap="round"><path stroke="%s" stroke-width="13" d="%s"/><path stroke="%s" stroke-width="9" d="%[2]s"/>`, paper.mix(crust, 25),
			"M176 88C178 108 194 112 193 146C192 180 196 200 194 236M164 90C166 112 166 122 163 142M187 92C196 112 208 128 208 160C208 178 206 184 207 198", crust)
		p.putf(`<path stroke="%s" stroke-width="3" stroke-dasharray="1 7" d="M176 92C178 110 193 116 192 148C191 180 195 200 193 232M208 140V190"/></g>`, crust.mix(paper, 45))
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
	switch frozen {
	case rules.FrozenHeld, rules.FrozenCold:
		p.putf(`<path fill="none" stroke="%s" stroke-width="5" stroke-linecap="round" opacity=".7" d="%s"/><path fill="none" stroke="#fff" stroke-width="2" stroke-linecap="round" d="%[2]s"/>`, cellar, fern)
	}
	switch frozen {
	case rules.FrozenHeld:
		p.flake(36, 248, 13)
		p.flake(246, 262, 15)
	case rules.FrozenCold:
		p.putf(`<path fill="%s" fill-opacity=".55" stroke="%s" stroke-width="2" d="M64 214L92 202L112 218L140 204L166 216L190 202L216 214V330Q140 352 64 330Z"/>`, ice, cellar)
		p.line(0xffffff, 2, "M92 202L100 250L74 280M140 204L132 262L160 296M190 202L182 246L206 276M100 250L132 262M182 246L160 296")
		p.shape(ice, "M60 350h18l-5 26l-4-16l-5 30ZM86 350h20l-6 18l-4-10l-4 24ZM178 350h20l-6 26l-4-16l-4 12ZM204 350h16l-5 34l-5-20Z")
		p.flake(36, 248, 13)
		p.flake(246, 262, 15)
	case rules.FrozenThawed:
		p.flake(244, 250, 11)
		p.putf(`<path fill="#a9cdd4" stroke="%s" stroke-width="2" d="M18 356C40 340 90 350 140 348C190 350 244 340 262 356C250 374 196 366 176 372C150 366 100 378 70 368C44 372 24 368 18 356Z"/>`, cellar)
		for i, x := range [...]int{70, 98, 186, 210} {
			y := 262 + jitter(61, i, 26)
			p.shape(0xa9cdd4, fmt.Sprintf("M%d %dc-7 13-9 17-9 21c0 6 4 9 9 9c5 0 9-3 9-9c0-5-3-9-9-21Z", x, y))
			p.line(0xffffff, 2, fmt.Sprintf("M%d %dv7M%d %dv-22", x-4, y+17, x, y-4))
		}
	}
	switch {
	case v.is(rules.WetDamp):
		d := points(71, 44, 66, 150, 148, 184)
		p.putf(`<g fill="none" stroke-linecap="round"><path stroke="%s" stroke-width="8" opacity=".7" d="%s"/><path stroke="#d6e6e2" stroke-width="5" d="%[2]s"/><path stroke="#fff" stroke-width="2" transform="translate(-1 -1)" d="%[2]s"/>`, cellar, d)
		p.put(`<path stroke="#d6e6e2" stroke-width="4" d="M90 206v30M190 176v44M160 262v26"/></g>`)
	}
}

// flake is a snow crystal.
func (p *pen) flake(x, y, r int) {
	arm := fmt.Sprintf("M0-%dV%dM-4-%d L0-%dL4-%dM-4 %dL0 %dL4 %d", r, r, r-1, r-5, r-1, r-1, r-5, r-1)
	for _, edge := range [...]struct {
		c colour
		w int
	}{{cellar, 5}, {0xffffff, 2}} {
		p.putf(`<g fill="none" stroke="%s" stroke-width="%d" stroke-linecap="round" transform="translate(%d %d)"><path d="%s"/><path transform="rotate(60)" d="%[5]s"/><path transform="rotate(120)" d="%[5]s"/></g>`, edge.c, edge.w, x, y, arm)
	}
}
