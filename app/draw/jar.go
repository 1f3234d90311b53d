package draw

import (
	"strings"

	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Picture is a jar to be drawn.
type Picture struct {
	Food      Food
	Situation rules.Situation // a value is shown once it is the only one left for its sign
	Verdict   rules.Verdict   // shown on the tag; 0 for none
}

// Options says how a jar is drawn.
type Options struct {
	// Prefix starts every id, so that pictures on one page do not collide. Only
	// its ASCII letters, digits, - and _ are used.
	Prefix string
	// Interactive adds the touch areas of [Zones]. The picture is then a group
	// of buttons rather than one image.
	Interactive bool
	// In is the language in which the picture is described.
	In prose.Language
	// Plain leaves out the nails and the tag, for thumbnails.
	Plain bool
}

// view is a jar while it is drawn.
type view struct {
	jar   *Picture
	style *style
}

func (v *view) known(id rules.SignID) (rules.Value, bool) { return v.jar.Situation.Known(id) }

func (v *view) is(value rules.Value) bool { return v.jar.Situation.Is(value) }

// open reports whether the jar is drawn without its lid on: it was opened, or
// something was reported that is seen or smelled only in an open jar. A jar that
// has been cold since it was made, or was never sealed, has its lid on until that
// happens.
func (v *view) open() bool {
	s := &v.jar.Situation
	if s.Possible(rules.OpenedNo) || s.Possible(rules.OpenedFrozen) {
		return false
	}
	looked := !s.Untouched(rules.SignSmell) || !s.Untouched(rules.SignFilm) || !s.Untouched(rules.SignUnderlid)
	return looked || !s.Possible(rules.OpenedChilled) && !s.Possible(rules.OpenedThawed) && !s.Possible(rules.OpenedBottle)
}

// reachable reports whether the sign can already be looked at on this jar.
func (v *view) reachable(id rules.SignID) bool {
	s := &v.jar.Situation
	switch {
	case rules.Signs[id].Chapter != rules.ChapterOpening || id == rules.SignOpened:
		return true
	case id == rules.SignRelease:
		return v.open() && (s.Possible(rules.OpenedNow) || s.Possible(rules.OpenedBefore))
	}
	return !s.Possible(rules.OpenedNo) && !s.Possible(rules.OpenedFrozen)
}

// firm reports whether the food was found to hold together as usual.
func (v *view) firm() bool { return v.is(rules.BodyUsual) }

// edge is the outline of a piece: dotted while nobody has looked at it.
func (v *view) edge() string {
	if v.jar.Situation.Open(rules.SignBody) {
		return ` stroke-dasharray="2 3"`
	}
	return ""
}

// SVG draws the jar on a sheet of 280 x 400 units. The page decides its size.
func (j Picture) SVG(opts Options) string {
	v := &view{jar: &j, style: &styles[Plain]}
	if int(j.Food) < NumFoods {
		v.style = &styles[j.Food]
	}
	p := &pen{markup: make([]byte, 0, 12<<10), prefix: idPrefix(opts.Prefix), in: opts.In}
	role := "img"
	if opts.Interactive {
		role = "group"
	}
	p.putf(`<svg xmlns="http://www.w3.org/2000/svg" class="jar" viewBox="0 0 280 400" stroke-linejoin="round" role="%s" aria-labelledby="%s-t" aria-describedby="%[2]s-d">`, role, p.prefix)
	p.putf(`<title id="%s-t">%s</title><desc id="%[1]s-d">%[3]s</desc>`, p.prefix, p.said(prose.Say("Jar of %s", v.style.name)), p.said(j.describe()))
	v.defs(p)
	if v.is(rules.MoldSeen) || v.is(rules.UnderlidFuzzy) {
		p.mold()
	}
	_, liquid, _ := v.colors()
	v.scene(p)
	v.filling(p)
	v.glass(p, liquid)
	v.lid(p, liquid)
	if !opts.Plain {
		v.tag(p)
	}
	v.flood(p)
	if !opts.Plain {
		v.nails(p)
	}
	if opts.Interactive {
		v.zones(p)
	}
	p.put(`</svg>`)
	return string(p.markup)
}

// defs holds the light, the metal and the clips.
func (v *view) defs(p *pen) {
	p.putf(`<defs><radialGradient id="%s-lamp" gradientUnits="userSpaceOnUse" cx="140" cy="214" r="210"><stop stop-color="#ffe9ae"/><stop offset=".22" stop-color="%s"/><stop offset=".48" stop-color="#9c6222"/><stop offset=".76" stop-color="#3a3420"/><stop offset="1" stop-color="%s"/></radialGradient>`, p.prefix, lamp, cellar)
	p.putf(`<radialGradient id="%s-glow"><stop stop-color="#fff0bd" stop-opacity=".72"/><stop offset=".35" stop-color="#ffd981" stop-opacity=".4"/><stop offset="1" stop-color="%s" stop-opacity="0"/></radialGradient>`, p.prefix, lamp)
	p.putf(`<linearGradient id="%s-tin"><stop stop-color="#6f5426"/><stop offset=".3" stop-color="#e3c47c"/><stop offset=".55" stop-color="%s"/><stop offset="1" stop-color="#5d451f"/></linearGradient>`, p.prefix, brass)
	p.putf(`<clipPath id="%s-in"><path d="%s"/></clipPath><clipPath id="%[1]s-niche"><path d="%[3]s"/></clipPath></defs>`, p.prefix, inside, niche)
}

// describe says in words what was reported about how the jar looks.
func (j *Picture) describe() prose.Text {
	var said []prose.Text
	seen := map[rules.SignID]bool{}
	for i := range Zones {
		for _, id := range Zones[i].Signs {
			if v, ok := j.Situation.Known(id); ok && !seen[id] && Zones[i].ID != "label" {
				said = append(said, prose.Say("%s: %s.", rules.Signs[id].Name, v.Info().Label))
			}
			seen[id] = true
		}
	}
	if len(said) == 0 {
		return "Nothing has been reported yet."
	}
	return prose.List(said, " ")
}

// idPrefix keeps only the characters that are safe in an id.
func idPrefix(s string) string {
	safe := strings.Map(func(r rune) rune {
		if r == '-' || r == '_' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' {
			return r
		}
		return -1
	}, s)
	if safe == "" {
		return "jar"
	}
	return safe
}
