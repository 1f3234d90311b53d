package pantry

import (
	"cmp"
	"slices"
	"strings"

	"larderlamp/app/record"
)

// WithCode returns the jars with a code as somebody typed it: in small letters
// too, with or without the dash, and with the unused letters in place of the
// digits that they look like.
func (p *Pantry) WithCode(typed string) (found []*record.Jar) {
	clean := strings.NewReplacer("-", "", " ", "", "O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(typed))
	if len(clean) != record.CodeLength {
		return nil
	}
	for _, j := range p.Jars {
		if strings.Replace(j.Code(), "-", "", 1) == clean {
			found = append(found, j)
		}
	}
	slices.SortStableFunc(found, func(a, b *record.Jar) int { return cmp.Compare(a.ID, b.ID) })
	return found
}
