package draw

import (
	"fmt"

	"larderlamp/rules"
)

const niche = "M8 394V92C8 38 44 6 92 6H188C236 6 272 38 272 92V394Z"

// scene draws the niche in the cellar wall, the lamp behind the jar and the shelf.
func (v *view) scene(p *pen) {
	p.putf(`<path class="niche" fill="%s" d="%s"/><path fill="url(#%s-lamp)" d="%[2]s"/>`, cellar, niche, p.prefix)
	p.putf(`<g clip-path="url(#%s-niche)">`, p.prefix)
	place, told := v.known(rules.SignPlace)
	cold := v.coldStore(p)
	switch {
	case !told:
	case place == rules.PlaceDark && cold:
		// Only the walls of the cold store can be seen.
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
	board := [...]color{0x6a4b2c, 0x4c3520, 0x8a6540} // wood: its top, its edge, its grain
	if cold {
		board = [...]color{0x7d9ba0, 0x2e454b, 0xc4d8da}
	}
	p.putf(`<path fill="%s" d="M8 336Q140 330 272 336V354H8Z"/><path fill="%s" d="M8 353H272V394H8Z"/><path fill="none" stroke="%s" stroke-width="2" d="M8 354H272M20 343Q90 338 130 343M160 346Q210 341 262 345"/>`, board[0], board[1], board[2])
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

// coldStore draws the freezer or the refrigerator in which the jar has been
// since the day it was made, and reports whether there is one.
func (v *view) coldStore(p *pen) bool {
	where, told := v.known(rules.SignOpened)
	wall := color(0x5f93a8)
	switch {
	case !told:
		return false
	case where == rules.OpenedChilled:
		wall = 0x8fb9b6
	case where != rules.OpenedFrozen && where != rules.OpenedThawed:
		return false
	}
	p.putf(`<radialGradient id="%s-cold" gradientUnits="userSpaceOnUse" cx="140" cy="226" r="200"><stop offset=".25" stop-color="%s" stop-opacity=".1"/><stop offset=".62" stop-color="%s" stop-opacity=".85"/><stop offset="1" stop-color="%[4]s"/></radialGradient><path fill="url(#%[1]s-cold)" d="%[5]s"/>`,
		p.prefix, ice, wall, wall.mix(cellar, 35), niche)
	switch where {
	case rules.OpenedFrozen:
		// Rime lies thick on the walls, with icicles under the roof.
		p.putf(`<path fill="#e9f2f2" stroke="%s" stroke-width="2" d="M8 336V92C8 38 44 6 92 6H188C236 6 272 38 272 92V336C258 330 262 306 254 296C264 280 256 262 262 246C254 232 262 214 258 204C264 180 250 168 258 150C246 138 254 116 244 106L240 128L236 92L228 88L222 118L216 70C206 56 192 52 176 46C164 38 150 40 140 36C128 40 112 38 104 46C88 52 74 56 64 70L58 118L52 88L44 92L40 128L36 106C26 118 34 138 22 150C30 168 16 182 22 204C18 216 26 232 18 246C24 262 16 280 26 296C18 306 22 330 8 336Z"/>`, wall.mix(cellar, 40))
		p.line(wall, 2, "M14 190q8-6 8-18M16 270q8-8 6-18M266 196q-8-6-8-18M264 276q-8-8-6-18M66 46q8-12 22-16M214 46q-8-12-22-16M128 24q14-6 28 0")
	case rules.OpenedThawed:
		// The remaining rime hangs in drops, and runs down the walls.
		p.putf(`<path fill="#e9f2f2" stroke="%s" stroke-width="2" d="M8 130V92C8 38 44 6 92 6H188C236 6 272 38 272 92V130C264 124 266 104 258 96C258 76 240 64 230 52C214 46 206 34 188 32C172 26 152 34 140 28C126 34 108 26 92 32C74 34 66 46 50 52C40 64 22 76 22 96C14 104 16 124 8 130Z"/>`, wall.mix(cellar, 40))
		p.line(0xd7ebee, 3, "M20 112V170M44 66V118M242 68V104M262 112V286")
		for _, at := range [...][2]int{{20, 170}, {44, 118}, {242, 104}, {262, 286}} {
			p.drop(at[0], at[1])
		}
	case rules.OpenedChilled:
		// A wire rack, a cool lamp in the roof, and some eggs.
		p.shape(0xf4fbfa, "M106 8H174V18C174 28 164 32 140 32C116 32 106 28 106 18Z")
		p.line(0xf4fbfa, 3, "M92 26L76 38M108 40L100 54M140 42V54M172 40L180 54M188 26L204 38")
		p.inked(0xe6f0ee, 3, "M8 118H272M8 132H272M24 118V132M48 118V132M232 118V132M256 118V132")
		p.shape(0xf3e3c8, "M222 330C216 316 222 302 230 302C238 302 244 316 238 330ZM256 330C250 316 256 302 264 302C272 302 278 316 272 330Z")
		p.shape(0xe2b98c, "M239 332C233 318 239 304 247 304C255 304 261 318 255 332Z")
		p.shape(0x7d9ba0, "M214 324H272V340H214Z")
		p.line(cellar, 2, "M230 324V340M247 324V340M263 324V340")
	}
	return true
}

func (p *pen) flames(c color, d string) {
	p.putf(`<path fill="%s" stroke="%s" stroke-width="2" d="%s"/>`, c, cellar, d)
}

// thermometer is on the wall once somebody has said how warm it was.
func (v *view) thermometer(p *pen) {
	heat, told := v.known(rules.SignHeat)
	if !told {
		return
	}
	top := map[rules.Value]int{rules.HeatCool: 288, rules.HeatWarm: 258, rules.HeatHot: 226, rules.HeatExtreme: 198}[heat]
	p.putf(`<path fill="#26332b" stroke="#d8cfb2" stroke-width="2" d="M25 190C25 180 41 180 41 190V304C50 315 44 331 33 331C22 331 16 315 25 304Z"/><path stroke="#d8cfb2" stroke-width="2" d="M44 212h6M44 242h6M44 272h6"/>`)
	fluid := color(0x7fb0b4)
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
	// One written line for each pair of entries of the record, and one for the
	// date.
	ink := func(attributes, d string) {
		p.putf(`<path fill="none" stroke="%s" stroke-width="3" stroke-linecap="round"%s d="%s"/>`, cellar, attributes, d)
	}
	last := len(recordSigns) - 1
	for i := 0; i < last; i += 2 {
		dash := ""
		for _, id := range recordSigns[i:min(i+2, last)] {
			if v.jar.Situation.Open(id) {
				dash = ` stroke-dasharray="1 5"`
			}
		}
		ink(dash, fmt.Sprintf("M%d %dl27-5", 225+i/3, 162+i*4))
	}
	switch age, told := v.known(recordSigns[last]); {
	case !told:
		ink(` stroke-dasharray="1 5"`, "M231 195l22-4")
	case age == rules.AgeUnknown:
		ink("", "M240 188c0-4 8-5 8-1c0 3-4 3-4 5m0 5h0")
	default:
		ink("", "M232 195l5-1m5-1l4-1m5-1l3-1")
	}
}
