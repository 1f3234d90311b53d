package draw

import (
	"slices"
	"strconv"

	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// area is a rectangle on the 280 x 400 sheet.
type area struct{ x, y, w, h int }

// Zone is a part of the picture that can be touched to report on it.
type Zone struct {
	ID    string
	Label prose.Text // what the part is, for a screen reader
	Signs []rules.SignID
	areas []area // where it is touched
}

var recordSigns = []rules.SignID{
	rules.SignCondition, rules.SignStanding, rules.SignMethod, rules.SignProcess, rules.SignAcid,
	rules.SignExtras, rules.SignClosure, rules.SignSiblings, rules.SignAge,
}

// Zones lists the parts from the lid down. Every touch area is at least 48
// units on its narrow side, so at least 48 pixels on a picture 280 pixels wide.
var Zones = []Zone{
	{"lid", "Lid", []rules.SignID{rules.SignOpened, rules.SignClosure, rules.SignLid, rules.SignPress, rules.SignLift, rules.SignRust, rules.SignRelease, rules.SignUnderlid},
		[]area{{56, 14, 168, 76}}},
	{"rim", "Rim and neck: leaks, streaks and smell", []rules.SignID{rules.SignSeep, rules.SignOdor},
		[]area{{38, 90, 52, 52}, {190, 90, 52, 50}}},
	{"headspace", "Space under the lid", []rules.SignID{rules.SignMold, rules.SignTop, rules.SignLevel, rules.SignSmell, rules.SignFilm},
		[]area{{90, 90, 100, 62}}},
	{"liquid", "Liquid", []rules.SignID{rules.SignCloud, rules.SignBubbles},
		[]area{{66, 152, 148, 60}}},
	{"food", "Food", []rules.SignID{rules.SignColor, rules.SignBody},
		[]area{{66, 212, 148, 72}}},
	{"bottom", "Bottom of the jar", []rules.SignID{rules.SignDeposit, rules.SignCloud},
		[]area{{66, 284, 148, 58}}},
	{"glass", "Glass", []rules.SignID{rules.SignGlass},
		[]area{{214, 210, 58, 132}, {8, 142, 58, 48}}},
	{"label", "Tag: how it was canned", recordSigns,
		[]area{{214, 140, 58, 70}}},
	{"place", "Shelf: where it stood", []rules.SignID{rules.SignHeat, rules.SignFrozen, rules.SignWet, rules.SignPlace},
		[]area{{8, 342, 264, 52}, {8, 190, 58, 152}}},
}

// The lid of a jar opened earlier leans at its foot, and is touched there too.
var (
	lidAside   = []area{Zones[0].areas[0], {214, 258, 58, 84}}
	glassAside = []area{{214, 210, 58, 48}, Zones[6].areas[1]}
)

// zones lays the touch areas over the picture.
func (v *view) zones(p *pen) {
	p.put(`<g fill="none" pointer-events="all">`)
	for i := range Zones {
		z := &Zones[i]
		areas := z.areas
		if v.is(rules.OpenedBefore) {
			switch z.ID {
			case "lid":
				areas = lidAside
			case "glass":
				areas = glassAside
			}
		}
		p.putf(`<g class="zone" data-zone="%s" tabindex="0" role="button" aria-label="%s">`, z.ID, p.said(z.Label))
		for _, a := range areas {
			p.putf(`<rect x="%d" y="%d" width="%d" height="%d" rx="8"/>`, a.x, a.y, a.w, a.h)
		}
		p.put(`</g>`)
	}
	p.put(`</g>`)
}

// nails draws one nail in the edge of the shelf for every sign that can be
// looked at: an empty hole while nobody has, a brass head where it was found
// sound, a square of paper where something was reported.
func (v *view) nails(p *pen) {
	var ids []rules.SignID
	for i := range Zones {
		if Zones[i].ID == "label" {
			continue
		}
		for _, id := range Zones[i].Signs {
			if !slices.Contains(ids, id) && v.reachable(id) {
				ids = append(ids, id)
			}
		}
	}
	var holes, heads, notes nails
	gap := 240 / len(ids)
	x := 140 - gap*(len(ids)-1)/2
	for _, id := range ids {
		switch value, told := v.known(id); {
		case !told:
			holes.add(x)
		case value == rules.Signs[id].Sound:
			heads.add(x)
		default:
			notes.add(x)
		}
		x += gap
	}
	p.putf(`<g fill="none"><path stroke="#8a6540" stroke-width="8" stroke-linecap="round" d="%s"/><path stroke="%s" stroke-width="5" stroke-linecap="round" d="%[1]s"/>`, holes.path, cellar)
	p.putf(`<path stroke="%s" stroke-width="8" stroke-linecap="round" d="%s"/><path stroke="%s" stroke-width="3" stroke-linecap="round" transform="translate(-1 -1)" d="%[2]s"/>`, lamp, heads.path, paper)
	p.putf(`<path stroke="%s" stroke-width="7" stroke-linecap="square" d="%s"/></g>`, paper, notes.path)
}

// nails is a path of points in one row. All but the first are given relative to
// the one before, which keeps the picture small.
type nails struct {
	path []byte
	last int
}

func (n *nails) add(x int) {
	if len(n.path) == 0 {
		n.path = append(strconv.AppendInt([]byte{'M'}, int64(x), 10), " 374h0"...)
	} else {
		n.path = append(strconv.AppendInt(append(n.path, 'm'), int64(x-n.last), 10), " 0h0"...)
	}
	n.last = x
}
