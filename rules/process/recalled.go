package process

import (
	"larderlamp/rules/evidence"
	"larderlamp/rules/prose"
)

// Figure is one row of the tables in words, with how it is known.
type Figure struct {
	What prose.Text // "sauerkraut, fermented, packed hot, pint jars: 10, 15, 15 and 20 minutes at a boil"
	Cite Cite
}

// Figures lists the rows that are known in a certain way, and the acid that
// foods need, in printed order: for the page that says what is from memory.
func Figures(known evidence.Mark) (all []Figure) {
	seen := map[Acid]bool{}
	for i := range Foods {
		f := &Foods[i]
		for k := range f.Rows {
			if r := &f.Rows[k]; r.Cite.Evidence == known {
				all = append(all, Figure{prose.Say("%s, %s, %s, %s: %s", f.Name, f.Form, packWords.list(uint8(r.Pack)), jarWords.list(uint8(r.Jar)), r.Process.words()), r.Cite})
			}
		}
		if c := f.Acid.Cite(); f.Acid != NoAcid && c.Evidence == known && !seen[f.Acid] {
			seen[f.Acid] = true
			all = append(all, Figure{prose.Say("acid of %s: %s", f.Name, f.Acid.Text()), c})
		}
	}
	return
}

// words says what a row asks for in every band.
func (p *Process) words() prose.Text {
	if p.Method() == BoilingWater {
		return prose.Say("%d, %d, %d and %d minutes at a boil", p.Minutes[0], p.Minutes[1], p.Minutes[2], p.Minutes[3])
	}
	var by []prose.Text
	if d := p.Dial; d[0] > 0 {
		by = append(by, prose.Say("%d, %d, %d and %d pounds by a dial gauge", d[0], d[1], d[2], d[3]))
	}
	if w := p.Weighted; w[0] > 0 && w[1] > 0 {
		by = append(by, prose.Say("%d and %d pounds by a weighted gauge", w[0], w[1]))
	} else if w[0] > 0 {
		by = append(by, prose.Say("%d pounds by a weighted gauge to 1,000 ft only", w[0]))
	}
	return prose.Say("%d minutes at %s", p.Minutes[0], prose.List(by, ", or "))
}
