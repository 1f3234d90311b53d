package draw

import "larderlamp/rules"

// lid draws the lid where it is: on the jar, slipping, held up or put aside.
func (v *view) lid(p *pen, liquid colour) {
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
	p.put(`</g>`)
	if v.is(rules.LiftOff) {
		// Lifted by its edge, the lid leaves the jar behind.
		p.inked(paper, 3, "M60 66C54 54 56 44 64 34M58 42L65 32L72 42M222 60C228 52 228 42 222 34")
	}
	if v.is(rules.PressGives) {
		p.shape(0xe8b98c, "M128 4C126 24 124 40 128 56C131 68 149 68 152 56C156 40 154 24 152 4Z")
		p.line(cellar, 2, "M132 54C134 48 146 48 148 54M130 30q10 4 20 0")
		p.inked(paper, 3, "M110 56q-7-8-2-18M96 58q-12-12-3-30M170 56q7-8 2-18M184 58q12-12 3-30")
	}
}

// closedLid is the lid seen from a little above.
func (v *view) closedLid(p *pen) {
	shape, told := v.known(rules.SignLid)
	if !told {
		p.putf(`<path fill="%s" fill-opacity=".35" stroke="%s" stroke-width="2" stroke-dasharray="2 5" stroke-linecap="round" d="M76 76C80 58 200 58 204 76V90C196 108 84 108 76 90ZM76 76C84 94 196 94 204 76"/>`, ghost, paper)
	} else {
		p.putf(`<path fill="url(#%s-tin)" stroke="%s" stroke-width="2" d="M75 76V90C82 108 198 108 205 90V76Z"/>`, p.prefix, cellar)
		p.putf(`<ellipse cx="140" cy="76" rx="65" ry="15" fill="%s" stroke="%s" stroke-width="2"/>`, brass.mix(paper, 30), cellar)
	}
	switch {
	case !told:
	case shape == rules.LidDown:
		// A dish: the near wall in the light, the far wall in shadow.
		p.putf(`<path fill="%s" d="M86 76C92 65 188 65 194 76C188 88 92 88 86 76Z"/>`, brass.mix(cellar, 62))
		p.putf(`<path fill="%s" d="M90 79C104 71 176 71 190 79C180 88 100 88 90 79Z"/>`, brass.mix(cellar, 30))
		p.putf(`<path fill="%s" d="M112 82C124 77 156 77 168 82C160 86 120 86 112 82Z"/>`, brass.mix(paper, 55))
	case shape == rules.LidFlat:
		p.line(brass.mix(cellar, 35), 2, "M88 76C94 66 186 66 192 76C186 86 94 86 88 76Z")
		p.fill(paper, 80, "M100 82L126 67H140L112 84ZM124 85L152 66H158L132 85Z")
	case shape == rules.LidBulged:
		p.putf(`<path fill="url(#%s-tin)" stroke="%s" stroke-width="2" d="M80 77C84 44 108 22 140 22C172 22 196 44 200 77C190 90 90 90 80 77Z"/>`, p.prefix, cellar)
		p.fill(paper, 75, "M98 62C102 44 116 34 130 31C118 42 110 54 106 68Z")
		p.line(brass.mix(cellar, 45), 2, "M90 70C106 80 174 80 190 70M104 42C118 50 162 50 176 42")
		p.inked(paper, 3, "M140 15V5M100 26L93 17M180 26L187 17M74 52L64 47M206 52L216 47")
	}
	switch {
	case v.is(rules.RustSpots):
		p.putf(`<g fill="none" stroke="%s" stroke-linecap="round"><path stroke-width="7" d="M92 92h0M118 67h0M152 84h3M178 97h1M196 84h0"/><path stroke-width="5" d="M104 80h1M134 100h0M166 69h1M184 76h0"/></g>`, rust)
	case v.is(rules.RustThrough):
		p.fill(rust, 95, "M80 82C88 70 110 72 124 64C140 66 152 76 170 66C186 66 200 74 204 84C204 96 196 104 188 110C178 104 170 108 160 112C148 104 134 114 120 106C106 112 92 106 80 98Z")
		p.putf(`<g fill="%s" stroke="#f0a35a" stroke-width="2"><path d="M96 76L112 71L120 78L110 86L98 85ZM140 70L152 68L160 76L150 84L138 80ZM172 84L186 76L194 86L184 95L174 94ZM122 92L136 90L138 100L126 104Z"/></g>`, cellar)
		p.putf(`<path fill="none" stroke="%s" stroke-width="4" stroke-linecap="round" d="M92 108V122M160 114V134M186 110V128"/>`, rust)
	}
}

// mouth is the open top of the jar.
func (p *pen) mouth() {
	p.putf(`<ellipse cx="140" cy="91" rx="58" ry="12" fill="%s" stroke="#cfd8c8" stroke-width="3"/>`, cellar)
}

// openLid shows the underside of the lid, and what opening the jar set free.
func (v *view) openLid(p *pen, liquid colour) {
	p.mouth()
	switch {
	case v.is(rules.OpenedBefore):
		// A spoon stands in the jar and the lid leans at its foot.
		p.putf(`<path fill="none" stroke="%s" stroke-width="9" stroke-linecap="round" d="M122 96L92 30"/><path fill="none" stroke="#d9d6c4" stroke-width="5" stroke-linecap="round" d="M122 96L92 30"/>`, cellar)
		p.shape(0xd9d6c4, "M88 34C80 30 80 16 88 12C96 10 102 22 99 30C97 35 92 36 88 34Z")
		p.put(`<g transform="translate(238 302) rotate(80) scale(.72 1.2)">`)
	case v.is(rules.ReleaseNone):
		p.put(`<g transform="translate(160 64) rotate(-13)">`)
	case v.is(rules.ReleaseSpurt):
		p.put(`<g transform="translate(192 40) rotate(24) scale(.9)">`)
	default:
		p.put(`<g transform="translate(142 40) rotate(-6)">`)
	}
	v.underside(p)
	p.put(`</g>`)
	v.release(p, liquid)
	if v.is(rules.SmellOff) {
		bad := slime.mix(0x9bb03a, 60)
		p.inked(bad, 4, "M46 128C34 114 58 104 46 88S58 62 46 46M68 116C58 104 78 94 68 80S78 58 70 46M234 128C222 114 246 104 234 88S246 62 234 46M212 116C202 104 222 94 212 80S220 60 214 50")
		p.fly(34, 36)
		p.fly(246, 30)
	}
}

// underside is the lid from below, with its ring of sealing compound.
func (v *view) underside(p *pen) {
	if shape, _ := v.known(rules.SignLid); shape == rules.LidBulged {
		p.shape(brass, "M-60-8C-52-44 52-44 60-8Z")
	}
	state, told := v.known(rules.SignUnderlid)
	if !told {
		p.putf(`<ellipse rx="65" ry="25" fill="%s" fill-opacity=".5" stroke="%s" stroke-width="2" stroke-dasharray="2 5" stroke-linecap="round"/>`, ghost, paper)
	} else {
		p.putf(`<path fill="%s" stroke="%s" stroke-width="2" d="M-65 0C-65-34 65-34 65 0V-6C62-38-62-38-65-6Z"/>`, brass, cellar)
		p.putf(`<ellipse rx="65" ry="25" fill="#efe3c2" stroke="%s" stroke-width="2"/><ellipse rx="56" ry="20" fill="none" stroke="#a2543c" stroke-width="5"/>`, cellar)
	}
	if shape, _ := v.known(rules.SignLid); shape == rules.LidDown && told {
		p.line(0xb9a67a, 2, "M-30 6C-14 13 14 13 30 6M-34-5C-16-13 16-13 34-5")
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
		p.tuft(-26, 2, 15, 0x4f8f86, 0xdff0e6)
		p.tuft(28, 0, 14, 0x3c4a3c, 0xb6c8bc)
		p.tuft(2, 5, 17, 0xdcdccf, 0xffffff)
	}
}

// release draws what was felt and heard when the jar was opened.
func (v *view) release(p *pen, liquid colour) {
	switch {
	case v.is(rules.ReleaseIn):
		p.inked(paper, 3, "M28 74C64 62 98 66 112 92M252 74C216 62 182 66 168 92M104 84L113 95L118 81M176 84L167 95L162 81")
	case v.is(rules.ReleaseNone):
		p.inked(paper, 3, "M78 66q-10 4-14-2M74 80q-14 6-22-2M232 44q8 0 10 8M236 60q8 4 7 14")
	case v.is(rules.ReleaseHiss):
		p.fill(paper, 85, "M84 88L22 62L26 76L12 80L28 88L14 98L30 100ZM196 88L258 62L254 76L268 80L252 88L266 98L250 100Z")
		p.inked(paper, 3, "M110 82L100 66M128 78L124 64M152 78L156 64M170 82L180 66")
	case v.is(rules.ReleaseSpurt):
		jet := liquid.mix(paper, 30)
		p.shape(jet, "M112 96C116 66 110 44 92 26C84 18 78 24 84 34C74 26 62 34 72 44C58 44 54 58 70 60C90 62 100 80 102 96ZM130 96C128 60 132 34 146 12C152 6 160 12 154 24C166 22 166 36 156 40C150 58 150 78 152 96ZM164 96C168 82 178 72 198 70C210 70 210 82 200 84C188 86 182 90 180 98Z")
		p.shape(jet, "M86 94C76 112 60 120 54 148C48 170 62 176 66 158C70 140 84 130 90 122C92 130 100 128 98 116L100 98Z")
		p.putf(`<g fill="none" stroke-linecap="round"><path stroke="%s" stroke-width="13" d="M52 26h0M104 14h0M40 74h0M214 96h0M128 40h0M178 20h0M44 196h0"/><path stroke="%s" stroke-width="9" d="M52 26h0M104 14h0M40 74h0M214 96h0M128 40h0M178 20h0M44 196h0"/>`, cellar, jet)
		p.put(`<path stroke="#fff" stroke-width="3" d="M80 40q12 4 20 22M142 30q-6 20-5 44M176 84q6-6 16-7M60 150q2-12 14-22"/></g>`)
	}
}

// fly is the guest that comes for a bad smell.
func (p *pen) fly(x, y int) {
	p.putf(`<g transform="translate(%d %d)"><path fill="%s" fill-opacity=".85" stroke="%s" d="M-1-2C-10-12-16-6-4 0ZM1-2C10-12 16-6 4 0Z"/><ellipse rx="4" ry="6" cy="2" fill="%[4]s" stroke="%[3]s"/><path fill="none" stroke="%[3]s" stroke-dasharray="2 3" d="M4 10q10 6 14-2"/></g>`, x, y, paper, cellar)
}
