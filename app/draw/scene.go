package draw

import "larderlamp/rules"

const niche = "M8 394V92C8 38 44 6 92 6H188C236 6 272 38 272 92V394Z"

// scene draws the niche in the cellar wall, the lamp behind the jar and the shelf.
func (v *view) scene(p *pen) {
	p.putf(`<path class="niche" fill="%s" d="%s"/><path fill="url(#%s-lamp)" d="%[2]s"/>`, cellar, niche, p.prefix)
	p.putf(`<g clip-path="url(#%s-niche)">`, p.prefix)
	place, told := v.known(rules.SignPlace)
	switch {
	case !told:
	case place == rules.PlaceDark:
		p.putf(`<path fill="none" stroke="#4a5142" stroke-width="2" opacity=".8" d="M8 130H60M8 186H58M8 242H58M8 298H58M222 130H272M222 186H272M222 242H272M222 298H272M34 130V186M46 186V242M30 242V298M44 298V334M248 130V186M236 186V242M250 242V298M238 298V334M52 78L20 62M78 48L60 22M228 78L260 62M202 48L220 22"/>`)
	case place == rules.PlaceLight:
		p.putf(`<g fill="#ffe9a6"><path opacity=".42" d="M40 52L280 250V380L20 76ZM52 36L280 110V190L50 58Z"/><path opacity=".5" d="M30 70L120 394H50L8 90Z"/></g>`)
		p.putf(`<circle cx="44" cy="56" r="24" fill="#fff3bf" stroke="%s" stroke-width="2"/>`, cellar)
		p.inked(0xfff3bf, 4, "M76 66L90 71M70 82L80 93M52 90L55 104M30 90L26 104M78 46L92 42M68 28L77 18M14 74L4 82")
	case place == rules.PlaceHeater:
		p.putf(`<path fill="none" stroke="%s" stroke-width="30" d="M250-4V392"/><path fill="none" stroke="#7d3a2a" stroke-width="24" d="M250-4V392"/><path fill="none" stroke="%s" stroke-width="7" opacity=".85" d="M244-4V392"/>`, cellar, ember.mix(lamp, 35))
		p.putf(`<path fill="none" stroke="%s" stroke-width="8" d="M234 108H266M234 290H266"/>`, cellar.mix(paper, 25))
		p.inked(ember.mix(lamp, 40), 3, "M228 150q-10 8 0 18t0 18t0 18M228 222q-10 8 0 18t0 18t0 18")
	}
	p.putf(`<path fill="#6a4b2c" d="M8 336Q140 330 272 336V354H8Z"/><path fill="#4c3520" d="M8 353H272V394H8Z"/><path fill="none" stroke="#8a6540" stroke-width="2" d="M8 354H272M20 343Q90 338 130 343M160 346Q210 341 262 345"/>`)
	p.putf(`<ellipse cx="140" cy="347" rx="92" ry="8" fill="%s" opacity=".55"/>`, cellar)
	if place == rules.PlaceFire && told {
		p.put(`<g fill="none" stroke="#8d8a80" stroke-width="13" stroke-linecap="round" opacity=".75"><path d="M34 232C14 206 56 186 34 156S48 104 32 84M246 232C266 206 224 186 246 156S232 104 248 84"/></g>`)
		p.flames(ember, "M10 348C0 310 22 300 20 262C38 276 36 296 42 304C48 290 44 276 50 266C66 300 76 316 66 348ZM214 348C204 316 214 300 230 266C236 276 232 290 238 304C244 296 242 276 260 262C258 300 280 310 270 348Z")
		p.flames(lamp, "M22 348C18 326 30 322 30 300C42 316 38 324 44 328C48 318 48 312 50 308C58 324 60 336 56 348ZM224 348C220 336 222 324 230 308C232 312 232 318 236 328C242 324 238 316 250 300C250 322 262 326 258 348Z")
	}
	p.put(`</g>`)
	edge := ""
	if !told {
		edge = ` stroke-dasharray="2 6" stroke-linecap="round"`
	}
	p.putf(`<path fill="none" stroke="#8c8560" stroke-width="3"%s d="%s"/>`, edge, niche)
	v.thermometer(p)
}

func (p *pen) flames(c colour, d string) {
	p.putf(`<path fill="%s" stroke="%s" stroke-width="2" d="%s"/>`, c, cellar, d)
}

// thermometer hangs on the wall once somebody has said how warm it was.
func (v *view) thermometer(p *pen) {
	heat, told := v.known(rules.SignHeat)
	if !told {
		return
	}
	top := map[rules.Value]int{rules.HeatCool: 288, rules.HeatWarm: 258, rules.HeatHot: 226, rules.HeatExtreme: 198}[heat]
	p.putf(`<path fill="#26332b" stroke="#d8cfb2" stroke-width="2" d="M25 190C25 180 41 180 41 190V304C50 315 44 331 33 331C22 331 16 315 25 304Z"/><path stroke="#d8cfb2" stroke-width="2" d="M44 212h6M44 242h6M44 272h6"/>`)
	fluid := colour(0x7fb0b4)
	if heat != rules.HeatCool {
		fluid = ember.mix(lamp, map[rules.Value]int{rules.HeatWarm: 70, rules.HeatHot: 30}[heat])
	}
	p.putf(`<path fill="none" stroke="%s" stroke-width="9" stroke-linecap="round" d="M33 316V%d"/><circle cx="33" cy="317" r="9" fill="%[1]s"/>`, fluid, top)
	if heat == rules.HeatExtreme {
		p.shape(ember, "M33 160L38 174L52 170L45 182L56 190L42 194L33 206L25 194L10 190L21 182L14 170L28 174Z")
	}
}

// flood is the dirty water in front of everything.
func (v *view) flood(p *pen) {
	if !v.is(rules.WetFlood) {
		return
	}
	const water = 0x6d7358
	p.putf(`<g clip-path="url(#%s-niche)"><path fill="#%06x" opacity=".72" d="M0 236q18-14 36 0t36 0t36 0t36 0t36 0t36 0t36 0t36 0V400H0Z"/>`, p.prefix, water)
	p.inked(0xd5d9bd, 3, "M0 236q18-14 36 0t36 0t36 0t36 0t36 0t36 0t36 0t36 0")
	p.line(0xb7bc9c, 3, "M20 270q14-10 28 0t28 0M160 286q14-10 28 0t28 0M40 320q14-10 28 0t28 0M180 330q14-10 28 0t28 0M90 356q14-10 28 0t28 0")
	p.shape(0x4a3a22, "M232 224L262 218L264 226L234 232ZM18 228L30 222L36 230L24 234Z")
	p.put(`</g>`)
}

// tag hangs from the neck. It carries the verdict's mark once there is one.
func (v *view) tag(p *pen) {
	p.line(paper, 2, "M196 112C214 112 224 124 236 142")
	p.shape(paper, "M224 148L238 136L254 144L262 196L224 203L216 158Z")
	p.putf(`<circle cx="237" cy="146" r="3" fill="%s"/>`, cellar)
	if v.jar.Verdict != 0 {
		p.putf(`<svg x="222" y="156" width="34" height="34" viewBox="0 0 24 24">%s</svg>`, marks[v.jar.Verdict])
		return
	}
	// One written line for each pair of entries of the record.
	for i := 0; i+1 < len(recordSigns); i += 2 {
		dash := ""
		for _, id := range recordSigns[i : i+2] {
			if v.jar.Situation.Open(id) {
				dash = ` stroke-dasharray="1 5"`
			}
		}
		p.putf(`<path fill="none" stroke="%s" stroke-width="3" stroke-linecap="round"%s d="M%d %dl27-5"/>`, cellar, dash, 225+i/3, 166+i*5)
	}
}
