package draw

import "larderlamp/rules"

// Zone is a part of the picture that can be touched to report on it.
type Zone struct {
	ID    string
	Label string // what the part is, for a screen reader
	Signs []rules.SignID
	area  string // path of the touch area, on the 280 x 400 sheet
}

var recordSigns = []rules.SignID{
	rules.SignStanding, rules.SignMethod, rules.SignProcess, rules.SignAcid,
	rules.SignExtras, rules.SignClosure, rules.SignSiblings, rules.SignAge,
}

// Zones lists the parts from the lid down. Every touch area is at least 48
// units on the narrow side of a sheet 280 units wide.
var Zones = []Zone{
	{"lid", "Lid", []rules.SignID{rules.SignOpened, rules.SignLid, rules.SignPress, rules.SignLift, rules.SignRust, rules.SignRelease, rules.SignUnderlid},
		"M56 14H224V90H56Z"},
	{"rim", "Rim and neck: leaks and streaks", []rules.SignID{rules.SignSeep},
		"M38 90H90V142H38ZM190 90H242V134H214V142H190Z"},
	{"headspace", "Space under the lid", []rules.SignID{rules.SignMould, rules.SignTop, rules.SignLevel, rules.SignSmell, rules.SignFilm},
		"M90 90H190V152H90Z"},
	{"liquid", "Liquid", []rules.SignID{rules.SignCloud, rules.SignBubbles},
		"M66 152H214V212H66Z"},
	{"food", "Food", []rules.SignID{rules.SignColour, rules.SignBody},
		"M66 212H214V284H66Z"},
	{"bottom", "Bottom of the jar", []rules.SignID{rules.SignDeposit, rules.SignCloud},
		"M66 284H214V342H66Z"},
	{"glass", "Glass", []rules.SignID{rules.SignGlass},
		"M214 210H272V342H214ZM8 142H66V190H8Z"},
	{"label", "Tag: how it was canned", recordSigns,
		"M214 134H272V210H214Z"},
	{"place", "Shelf: where it stood", []rules.SignID{rules.SignHeat, rules.SignFrozen, rules.SignWet, rules.SignPlace},
		"M8 342H272V394H8ZM8 190H66V342H8Z"},
}

// zones lays the touch areas over the picture.
func (v *view) zones(p *pen) {
	for i := range Zones {
		z := &Zones[i]
		p.putf(`<g class="zone" data-zone="%s" tabindex="0" role="button" aria-label="%s"><path fill="none" pointer-events="all" d="%s"/></g>`, z.ID, z.Label, z.area)
	}
}

// nails draws one nail in the edge of the shelf for every sign that can be
// looked at: an empty hole while nobody has, a brass head where it was found
// sound, a square of paper where something was reported.
func (v *view) nails(p *pen) {
	var holes, heads, notes []byte
	x, gap := 22, 0
	seen := map[rules.SignID]bool{}
	for i := range Zones {
		if Zones[i].ID == "label" {
			continue
		}
		for _, id := range Zones[i].Signs {
			opening := rules.Signs[id].Chapter == rules.ChapterOpening && id != rules.SignOpened
			if seen[id] || opening && !v.open() {
				continue
			}
			seen[id] = true
			x += gap
			gap = 10
			switch value, told := v.known(id); {
			case !told:
				holes = appendMove(holes, x)
			case value == rules.Signs[id].Sound:
				heads = appendMove(heads, x)
			default:
				notes = appendMove(notes, x)
			}
		}
		x++
	}
	p.putf(`<g fill="none"><path stroke="#8a6540" stroke-width="8" stroke-linecap="round" d="%s"/><path stroke="%s" stroke-width="5" stroke-linecap="round" d="%[1]s"/>`, holes, cellar)
	p.putf(`<path stroke="%s" stroke-width="8" stroke-linecap="round" d="%s"/><path stroke="%s" stroke-width="3" stroke-linecap="round" transform="translate(-1 -1)" d="%[2]s"/>`, lamp, heads, paper)
	p.putf(`<path stroke="%s" stroke-width="7" stroke-linecap="square" d="%s"/></g>`, paper, notes)
}
