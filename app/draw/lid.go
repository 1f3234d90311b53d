package draw

import "larderlamp/rules"

// kind is what closes a jar, as far as the picture shows it.
type kind uint8

const (
	newLid  kind = iota // flat metal, new
	usedLid             // flat metal, used before
	capLid              // a cap that screws on
	glassLid
	clothLid // paper or cloth, with or without wax under it
)

// closure is the closure that was reported, or the one that follows from what
// was seen. A metal oddity is drawn on metal, whatever else was reported.
func (v *view) closure() kind {
	shape, told := v.known(rules.SignLid)
	odd := told && shape != rules.LidDown && shape != rules.LidNone || v.is(rules.PressGives)
	noMetal := v.is(rules.ClosureClamp) || v.is(rules.ClosureWax) || v.is(rules.LidNone) || v.is(rules.PressNone)
	switch {
	case noMetal && !odd && (v.is(rules.ClosureWax) || v.is(rules.LiftNone) && !v.is(rules.ClosureClamp)):
		return clothLid
	case noMetal && !odd:
		return glassLid
	case v.is(rules.ClosureCap) || v.is(rules.LiftNone):
		return capLid
	case v.is(rules.ClosureUsed):
		return usedLid
	}
	return newLid
}

// lid draws the lid where it is: on the jar, slipping, held up or put aside.
func (v *view) lid(p *pen, liquid color) {
	defer v.odor(p)
	if v.open() {
		v.openLid(p, liquid)
		return
	}
	loose := v.is(rules.LiftOff) || v.is(rules.FrozenCold) || v.is(rules.FrozenThawed)
	if loose {
		p.mouth()
	}
	if v.is(rules.FrozenCold) {
		p.shape(ice, "M92 92L96 72L118 64L134 70L158 62L180 72L188 92Q140 106 92 92Z")
		p.line(0xffffff, 2, "M104 90L112 74M130 92L138 74M164 90L160 72")
	}
	if loose {
		p.put(`<g transform="translate(12 -20) rotate(11 140 80)">`)
	} else {
		p.put(`<g>`)
	}
	v.closedLid(p)
	if v.is(rules.OpenedBottle) {
		// A jar that was never sealed has a cork.
		p.inked(0xc89b66, 3, "M116 34H164L158 84H122Z")
		p.line(0x8a6238, 2, "M128 46h6M144 56h6M132 66h5")
	}
	p.put(`</g>`)
	if v.is(rules.LiftOff) {
		// When it is lifted by its edge, the lid comes off the jar.
		p.inked(paper, 3, "M60 66C54 54 56 44 64 34M58 42L65 32L72 42M222 60C228 52 228 42 222 34")
	}
	if v.is(rules.PressGives) {
		p.shape(0xe8b98c, "M128 4C126 24 124 40 128 56C131 68 149 68 152 56C156 40 154 24 152 4Z")
		p.line(cellar, 2, "M132 54C134 48 146 48 148 54M130 30q10 4 20 0")
		p.inked(paper, 3, "M110 56q-7-8-2-18M96 58q-12-12-3-30M170 56q7-8 2-18M184 58q12-12 3-30")
	}
}

// closedLid is the lid seen slightly from above.
func (v *view) closedLid(p *pen) {
	shape, told := v.known(rules.SignLid)
	kind := v.closure()
	switch {
	case kind == clothLid:
		v.cloth(p, told)
	case kind == glassLid:
		v.glassLid(p, told)
	case !told:
		p.putf(`<path fill="%s" fill-opacity=".35" stroke="%s" stroke-width="2" stroke-dasharray="2 5" stroke-linecap="round" d="M76 76C80 58 200 58 204 76V90C196 108 84 108 76 90ZM76 76C84 94 196 94 204 76"/>`, ghost, paper)
	default:
		p.putf(`<path fill="url(#%s-tin)" stroke="%s" stroke-width="2" d="M75 76V90C82 108 198 108 205 90V76Z"/>`, p.prefix, cellar)
		p.putf(`<ellipse cx="140" cy="76" rx="65" ry="15" fill="%s" stroke="%s" stroke-width="2"/>`, brass.mix(paper, 30), cellar)
	}
	switch {
	case !told || kind >= glassLid:
	case kind == capLid && shape == rules.LidDown:
		// Only the button in the middle goes down.
		p.line(brass.mix(cellar, 35), 2, "M90 76C96 67 184 67 190 76C184 86 96 86 90 76Z")
		p.shape(brass.mix(cellar, 62), "M116 76C118 70 162 70 164 76C162 83 118 83 116 76Z")
		p.fill(brass.mix(paper, 55), 95, "M124 79C130 76 150 76 156 79C150 82 130 82 124 79Z")
	case shape == rules.LidDown || shape == rules.LidDented:
		// A dish: the near wall is lit, the far wall is in shadow.
		p.putf(`<path fill="%s" d="M86 76C92 65 188 65 194 76C188 88 92 88 86 76Z"/>`, brass.mix(cellar, 62))
		p.putf(`<path fill="%s" d="M90 79C104 71 176 71 190 79C180 88 100 88 90 79Z"/>`, brass.mix(cellar, 30))
		p.putf(`<path fill="%s" d="M112 82C124 77 156 77 168 82C160 86 120 86 112 82Z"/>`, brass.mix(paper, 55))
		if shape == rules.LidDented {
			// A dent: the near edge is pushed in, and a crease runs from it.
			p.shape(brass.mix(cellar, 72), "M136 91L154 73L164 94L158 104L142 105Z")
			p.shape(brass.mix(paper, 62), "M154 73L186 87L182 100L158 104L164 94Z")
			p.line(cellar, 2, "M154 73L138 66L112 70M154 73L176 65M164 94L186 87")
		}
	case shape == rules.LidFlat:
		p.line(brass.mix(cellar, 35), 2, "M88 76C94 66 186 66 192 76C186 86 94 86 88 76Z")
		p.fill(paper, 80, "M100 82L126 67H140L112 84ZM124 85L152 66H158L132 85Z")
	case shape == rules.LidBulged:
		p.put(`<g class="pops">`)
		p.putf(`<path fill="url(#%s-tin)" stroke="%s" stroke-width="2" d="M78 77C84 56 108 36 140 36S196 56 202 77C190 91 90 91 78 77Z"/>`, p.prefix, cellar)
		p.fill(paper, 75, "M96 66C102 54 116 46 130 43C119 50 110 59 106 70Z")
		p.line(brass.mix(cellar, 45), 2, "M87 72c17 12 89 12 106 0M108 47c14 7 50 7 64 0")
		p.inked(paper, 3, "M140 26V13M102 36l-8-11M178 36l8-11M74 58l-12-6M206 58l12-6")
		p.put(`</g>`)
	}
	v.closureMarks(p, kind, told)
	switch {
	case v.is(rules.RustSpots) && kind == glassLid:
		// On a glass lid, the wire rusts.
		p.putf(`<path fill="none" stroke="%s" stroke-width="9" stroke-linecap="round" d="M70 112h0M76 92h1M108 66h1M166 62h2M202 92h1M210 116h0"/>`, rust)
	case v.is(rules.RustSpots):
		p.putf(`<g fill="none" stroke="%s" stroke-linecap="round"><path stroke-width="11" d="M92 91h1M118 68h2M150 84h4M178 97h2M194 80h0"/><path stroke-width="8" d="M106 82h2M134 100h1M164 68h2M120 97h0M84 80h0M190 92h0"/><path stroke="#5f2410" stroke-width="3" d="M92 92h0M119 68h0M152 85h0M179 97h0M165 68h0"/></g>`, rust)
	case v.is(rules.RustThrough):
		p.fill(rust, 95, "M80 82C88 70 110 72 124 64C140 66 152 76 170 66C186 66 200 74 204 84C204 96 196 104 188 110C178 104 170 108 160 112C148 104 134 114 120 106C106 112 92 106 80 98Z")
		p.putf(`<g fill="%s" stroke="#f0a35a" stroke-width="2"><path d="M96 76L112 71L120 78L110 86L98 85ZM140 70L152 68L160 76L150 84L138 80ZM172 84L186 76L194 86L184 95L174 94ZM122 92L136 90L138 100L126 104Z"/></g>`, cellar)
		p.putf(`<path fill="none" stroke="%s" stroke-width="4" stroke-linecap="round" d="M92 108V122M160 114V134M186 110V128"/>`, rust)
	}
}

// closureMarks draws the details that distinguish metal closures.
func (v *view) closureMarks(p *pen, k kind, told bool) {
	ink, dash := brass.mix(cellar, 62), ""
	if !told {
		ink, dash = paper, ` stroke-dasharray="1 4"`
	}
	switch k {
	case capLid:
		// The ribs on the skirt, where a hand grips it.
		p.putf(`<path fill="none" stroke="%s" stroke-width="3"%s d="M80 83V95M89 87V99M99 89V102M110 91V103M122 92V104M134 92V105M146 92V105M158 92V104M170 91V103M181 89V102M191 87V99M200 83V95"/>`, ink, dash)
	case usedLid:
		// Scratches, a worn edge, and the bite of the opener that once pried it off.
		p.putf(`<path fill="none" stroke="%s" stroke-width="2"%s d="M84 74L112 88M92 69L104 75M160 69L150 87M170 70L164 80M80 90l9 4m7 2l16 3m9 1l20 1m9-1l12-1"/>`, ink, dash)
		p.shape(brass.mix(paper, 45), "M168 104L174 90C180 86 190 86 196 90L198 98Q186 103 168 104Z")
		p.shape(cellar, "M174 102L179 94Q186 91 191 94L193 98Q186 101 174 102Z")
	}
}

// glassLid is a lid of glass on a rubber ring, held by a wire.
func (v *view) glassLid(p *pen, told bool) {
	const (
		dome = "M80 88C78 72 96 60 140 60C184 60 202 72 200 88C190 97 90 97 80 88Z"
		wire = "M72 126C62 112 64 94 82 82C104 68 118 53 140 53C162 53 176 68 198 82C216 94 218 112 208 126L200 122M80 122L72 126"
	)
	if !told {
		p.putf(`<path fill="%s" fill-opacity=".35" stroke="%s" stroke-width="2" stroke-dasharray="2 5" stroke-linecap="round" d="%s"/><path fill="none" stroke="%[2]s" stroke-width="3" stroke-dasharray="2 5" stroke-linecap="round" d="%[4]s"/>`, ghost, paper, dome, wire)
		return
	}
	p.shape(0xb4482f, "M78 86V95C88 109 192 109 202 95V86C190 97 90 97 78 86Z")
	p.putf(`<path fill="#c3d6c6" fill-opacity=".9" stroke="%s" stroke-width="2" d="%s"/>`, cellar, dome)
	p.fill(0x7d9a88, 75, "M86 84C98 76 182 76 194 84C180 92 100 92 86 84Z")
	p.putf(`<path fill="none" stroke="#fff" stroke-width="4" stroke-linecap="round" d="M92 76C98 70 106 67 116 66M98 82h6"/><ellipse cx="140" cy="66" rx="20" ry="5" fill="#e2eee2" stroke="%s" stroke-width="2"/>`, cellar)
	p.inked(0xc6c4b6, 3, wire)
}

// cloth is a cover tied over the mouth.
func (v *view) cloth(p *pen, told bool) {
	const cover = "M86 72C96 60 184 60 194 72C199 80 199 87 197 93L210 122Q200 114 190 123Q178 117 166 126Q153 118 140 127Q127 118 114 126Q102 117 90 123Q80 114 70 122L83 93C81 87 81 80 86 72Z"
	if !told {
		p.putf(`<path fill="%s" fill-opacity=".35" stroke="%s" stroke-width="2" stroke-dasharray="2 5" stroke-linecap="round" d="%s"/>`, ghost, paper, cover)
		return
	}
	p.shape(0xe3d6b4, cover)
	p.line(0xb09a6a, 2, "M88 104L80 116M102 106L97 116M120 108L117 120M140 109V121M160 108L163 120M178 106L183 116M192 104L200 116M94 74Q140 64 186 74M90 84Q100 79 112 80M190 84Q180 79 168 80")
	p.inked(0x9c5a34, 3, "M83 94Q140 110 197 94M140 102C128 92 118 96 122 104C126 110 136 106 140 102C152 92 162 96 158 104C154 110 144 106 140 102M138 104L130 118M142 104L152 117")
}

// odor is the bad smell of a jar, which comes out from under its lid.
func (v *view) odor(p *pen) {
	if !v.is(rules.OdorOff) {
		return
	}
	const wisps = "M78 96C66 86 62 108 50 98S36 90 30 100S22 110 16 104M76 116C64 108 60 128 48 120S34 114 28 124M202 96C214 86 218 108 230 98S244 90 250 100S258 110 264 104M204 116C216 108 220 128 232 120"
	p.inked(slime.mix(0x9bb03a, 60), 5, wisps)
	if !v.is(rules.SmellOff) {
		p.flies([2]int{42, 68}, [2]int{236, 62})
	}
}

// mouth is the open top of the jar.
func (p *pen) mouth() {
	p.putf(`<ellipse cx="140" cy="91" rx="58" ry="12" fill="%s" stroke="#cfd8c8" stroke-width="3"/>`, cellar)
}

// openLid shows the underside of the lid, and what came out when the jar was
// opened.
func (v *view) openLid(p *pen, liquid color) {
	p.mouth()
	switch {
	case v.is(rules.OpenedBefore):
		// A spoon is in the jar and the lid leans at its foot.
		p.putf(`<path fill="none" stroke="%s" stroke-width="9" stroke-linecap="round" d="M126 98L98 40"/><path fill="none" stroke="#d9d6c4" stroke-width="5" stroke-linecap="round" d="M126 98L98 40"/>`, cellar)
		p.shape(0xd9d6c4, "M96 46C82 44 72 26 78 14C86 4 102 14 106 30C107 40 102 46 96 46Z")
		p.line(0x8f8c7c, 2, "M84 18C82 26 88 36 96 40")
		p.put(`<g transform="translate(238 302) rotate(80) scale(.72 1.2)">`)
	case v.is(rules.ReleaseNone):
		p.put(`<g transform="translate(160 64) rotate(-13)">`)
	case v.is(rules.ReleaseSpurt):
		p.put(`<g transform="translate(206 32) rotate(28) scale(.8)">`)
	default:
		p.put(`<g transform="translate(142 40) rotate(-6)">`)
	}
	v.underside(p)
	p.put(`</g>`)
	v.release(p, liquid)
	if v.is(rules.SmellOff) {
		bad := slime.mix(0x9bb03a, 60)
		p.inked(bad, 5, "M46 128C34 114 58 104 46 88S58 62 46 46M68 116C58 104 78 94 68 80S78 58 70 46M234 128C222 114 246 104 234 88S246 62 234 46M212 116C202 104 222 94 212 80S220 60 214 50")
		p.flies([2]int{40, 40}, [2]int{238, 34})
	}
}

// underside is the lid from below, with its ring of sealing compound.
func (v *view) underside(p *pen) {
	if shape, _ := v.known(rules.SignLid); shape == rules.LidBulged {
		p.shape(brass, "M-60-8C-52-44 52-44 60-8Z")
	}
	state, told := v.known(rules.SignUnderlid)
	k := v.closure()
	switch {
	case !told:
		p.putf(`<ellipse rx="65" ry="25" fill="%s" fill-opacity=".5" stroke="%s" stroke-width="2" stroke-dasharray="2 5" stroke-linecap="round"/>`, ghost, paper)
	case k == glassLid:
		p.putf(`<ellipse rx="62" ry="25" fill="#c3d6c6" stroke="%s" stroke-width="2"/><ellipse rx="56" ry="21" fill="none" stroke="#b4482f" stroke-width="8"/>`, cellar)
	case k == clothLid:
		p.shape(0xe3d6b4, "M-62 2C-66-14-40-26-18-22C2-30 30-26 44-20C62-16 66 4 60 12C44 24 30 20 14 26C-8 20-24 28-40 22C-54 22-60 14-62 2Z")
	default:
		p.putf(`<path fill="%s" stroke="%s" stroke-width="2" d="M-65 0C-65-34 65-34 65 0V-6C62-38-62-38-65-6Z"/>`, brass, cellar)
		p.putf(`<ellipse rx="65" ry="25" fill="#efe3c2" stroke="%s" stroke-width="2"/><ellipse rx="56" ry="20" fill="none" stroke="#a2543c" stroke-width="5"/>`, cellar)
	}
	if shape, _ := v.known(rules.SignLid); shape == rules.LidDown && told {
		p.line(0xb9a67a, 2, "M-30 6C-14 13 14 13 30 6M-34-5C-16-13 16-13 34-5")
	}
	switch shape, _ := v.known(rules.SignLid); {
	case shape == rules.LidDented:
		p.line(cellar, 2, "M22-20L34-4L60 4M34-4L26 22")
	case k == capLid:
		p.line(brass.mix(cellar, 62), 3, "M-58-14v-6M-44-20v-6M-26-24v-6M26-24v-6M44-20v-6M58-14v-6")
	case k == usedLid:
		p.line(cellar, 2, "M-50 4L-30 10M-46-2L-34 2M36 8L50-4")
	}
	// What the lid showed while it was on stays visible.
	if v.is(rules.PressGives) {
		p.inked(paper, 2, "M-71-9q-6 9 0 18M-78-14q-9 14 0 28M71-9q6 9 0 18M78-14q9 14 0 28")
	}
	if v.is(rules.LiftOff) {
		p.inked(paper, 2, "M-40 25l-5 9M-14 29l-2 10M14 29l2 10M40 25l5 9")
	}
	switch {
	case v.is(rules.RustSpots):
		p.putf(`<path fill="none" stroke="%s" stroke-width="7" stroke-linecap="round" d="M-60-12h0M-24-25h0M20-26h3M56-12h0M62 6h0M-52 16h0"/>`, rust)
	case v.is(rules.RustThrough):
		p.fill(rust, 95, "M-64-4C-60-24-30-28-6-26C10-30 40-26 62-10C66 8 50 14 40 8C24 16 10 4-4 10C-20 4-34 16-46 8C-56 10-64 6-64-4Z")
		p.putf(`<path fill="%s" stroke="#f0a35a" stroke-width="2" d="M-40-12L-24-16L-18-6L-32 2ZM4-14L22-16L26-4L10 0ZM40-10L54-8L50 4L40 2Z"/>`, cellar)
	}
	switch state {
	case rules.UnderlidClean:
		p.fill(0xffffff, 80, "M-34 8L-10-12H2L-22 12ZM-14 13L12-13H18L-6 14Z")
	case rules.UnderlidDark:
		if told {
			p.fill(0x33271f, 88, "M-40 2C-42-10-24-14-10-12C4-18 30-14 40-4C42 8 24 12 10 10C-6 16-34 14-40 2Z")
			p.line(0x7a6a55, 2, "M-26 0C-18-6-6-4 4-7M-10 6C4 2 16 6 28-1")
		}
	case rules.UnderlidPitted:
		p.putf(`<path fill="none" stroke="%s" stroke-width="3" stroke-dasharray="1 4" stroke-linecap="round" d="M-44 4C-20-16 24-18 46 0C20 18-24 16-44 4Z"/>`, rust)
		p.putf(`<path fill="%s" stroke="%s" stroke-width="3" d="M-34-2L-24-9L-13-4L-16 5L-28 7ZM-4-11L8-14L14-5L4 0L-5-3ZM20 3L32-2L39 5L30 12L20 10ZM-6 8L3 6L6 13L-3 15Z"/>`, cellar, rust)
		p.putf(`<path fill="none" stroke="%s" stroke-width="4" stroke-linecap="round" d="M-24-1h2M5-7h2M29 5h2"/>`, lamp)
	case rules.UnderlidFuzzy:
		p.tuft(-28, 2, 62, 0x3f867c, 0xdff0e6)
		p.tuft(30, 0, 60, 0x39443c, 0xa9baae)
		p.tuft(1, 2, 66, 0xd0cfc2, 0xffffff)
	}
}

// release draws what was felt and heard when the jar was opened.
func (v *view) release(p *pen, liquid color) {
	switch {
	case v.is(rules.ReleaseIn):
		p.shape(paper, "M36 60C70 54 98 60 108 78L117 73L112 98L91 87L99 82C90 70 66 64 36 60ZM244 60C210 54 182 60 172 78L163 73L168 98L189 87L181 82C190 70 214 64 244 60Z")
	case v.is(rules.ReleaseNone):
		p.inked(paper, 3, "M78 66q-10 4-14-2M74 80q-14 6-22-2M232 44q8 0 10 8M236 60q8 4 7 14")
	case v.is(rules.ReleaseHiss):
		p.inked(paper, 3, "M80 84L50 72M78 90H44M80 96L50 106M200 84L230 72M202 90H236M200 96L230 106M108 80L96 66M172 80L184 66")
		p.shape(paper, "M48 64C44 54 30 54 28 63C18 62 14 72 22 77C12 80 12 92 22 94C16 104 24 114 33 109C38 118 50 114 49 104C42 100 40 94 43 88C38 82 40 74 46 74ZM232 64C236 54 250 54 252 63C262 62 266 72 258 77C268 80 268 92 258 94C264 104 256 114 247 109C242 118 230 114 231 104C238 100 240 94 237 88C242 82 240 74 234 74Z")
	case v.is(rules.ReleaseSpurt):
		jet := liquid.mix(paper, 30)
		p.shape(jet, "M92 98C92 84 82 76 70 78C56 80 46 74 50 64C54 56 64 58 68 64C84 60 96 66 102 76C102 58 96 46 84 38C74 32 72 20 82 16C92 14 96 24 94 30C108 38 116 50 120 66C122 44 126 28 138 14C144 6 156 10 154 20C152 28 146 30 144 34C138 46 138 56 140 68C146 56 156 48 168 48C178 46 184 56 178 63C172 68 166 64 162 64C156 68 152 74 152 82C162 76 176 72 188 76C200 80 198 94 188 94C184 94 182 92 179 90Q160 104 92 98Z")
		p.shape(jet, "M84 88C70 104 60 122 56 148C50 176 66 182 70 162C74 140 82 134 90 124C92 134 102 132 101 118C102 108 104 104 110 100Z")
		p.putf(`<g fill="none" stroke-linecap="round"><path stroke="%s" stroke-width="13" d="M58 36h0M112 18h0M34 82h0M218 88h0M170 26h0M60 198h0"/><path stroke="%s" stroke-width="9" d="M58 36h0M112 18h0M34 82h0M218 88h0M170 26h0M60 198h0"/>`, cellar, jet)
		p.put(`<path stroke="#fff" stroke-width="3" d="M98 42q10 8 14 22M140 22q-8 16-9 36M160 82q14-6 26-1M62 152q2-14 14-26"/></g>`)
	}
}

// flies are the flies that a bad smell attracts: one drawing used for all.
func (p *pen) flies(places ...[2]int) {
	p.putf(`<defs><g id="%s-y"><path fill="%s" stroke="%s" d="M-1-2C-10-12-16-6-4 0ZM1-2C10-12 16-6 4 0Z"/><ellipse rx="4" ry="6" cy="2" fill="#4a5648" stroke="%[2]s"/><path fill="none" stroke="%[2]s" stroke-dasharray="2 3" d="M4 10q10 6 14-2"/></g></defs>`, p.prefix, paper, cellar)
	for _, at := range places {
		p.putf(`<use href="#%s-y" transform="translate(%d %d) scale(2)"/>`, p.prefix, at[0], at[1])
	}
}
