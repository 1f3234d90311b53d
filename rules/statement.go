package rules

import (
	"fmt"
	"slices"
	"strings"
)

// Edition names this edition of the rules. A saved check keeps it, and is
// judged afresh when it differs.
const Edition = "2026.2"

// SignByID finds a sign by its stable name, or by one that an earlier edition had
// for it.
func SignByID(id string) (SignID, bool) {
	for i := range Signs {
		if Signs[i].ID == id {
			return SignID(i), true
		}
	}
	s, ok := oldSigns[id]
	return s, ok
}

// ValueByID finds a value of a sign by its stable name, or by one that an earlier
// edition had for it.
func (s SignID) ValueByID(id string) (Value, bool) {
	if v, ok := oldValues[id]; ok && v.Sign() == s {
		return v, true
	}
	for _, v := range Signs[s].Values {
		if v.ID == id {
			return v.Value, true
		}
	}
	return 0, false
}

// TellNamed narrows the situation by names: a sign and the values of it that
// are still possible. The error names the field and the nearest valid names.
func (s *Situation) TellNamed(sign string, values []string) error {
	id, ok := SignByID(sign)
	if !ok || id == SignBacking {
		return fmt.Errorf("%s: no such sign%s", sign, suggest(sign, signIDs(), signNames()))
	}
	if len(values) == 0 {
		return fmt.Errorf("%s: no value given; leave the sign out when nothing is known of it", sign)
	}
	var told []Value
	for _, name := range values {
		v, ok := id.ValueByID(name)
		if !ok {
			var all, labels []string
			for _, v := range Signs[id].Values {
				all, labels = append(all, v.ID), append(labels, v.Label.String())
			}
			return fmt.Errorf("%s: no value %q%s", sign, name, suggest(name, all, labels))
		}
		told = append(told, v)
	}
	return s.Tell(told...)
}

// TellNumber narrows the situation by a number between low and high, in the
// unit of the band of that name.
func (s *Situation) TellNumber(band string, low, high int) error {
	b, ok := BandByID(band)
	if !ok {
		var all []string
		for i := range Bands {
			all = append(all, Bands[i].ID)
		}
		return fmt.Errorf("%s: no such number%s", band, suggest(band, all, nil))
	}
	if low < 0 && !b.Cold {
		return fmt.Errorf("%s: %d is below zero", band, low)
	}
	vs, err := b.Values(low, high)
	if err != nil {
		return err
	}
	if err := s.Tell(vs...); err != nil {
		return fmt.Errorf("%s: %w", band, err)
	}
	return nil
}

func signIDs() (ids []string) {
	for i := range Signs {
		if SignID(i) != SignBacking {
			ids = append(ids, Signs[i].ID)
		}
	}
	return
}

// signNames are the headings of the signs, in the order of signIDs.
func signNames() (names []string) {
	for i := range Signs {
		if SignID(i) != SignBacking {
			names = append(names, Signs[i].Name.String())
		}
	}
	return
}

// suggest ends an error with the nearest valid names: those whose label contains the
// given words, or else those with the most similar spelling.
func suggest(name string, valid, labels []string) string {
	var near []string
	for i, label := range labels {
		if len(name) > 2 && strings.Contains(strings.ToLower(label), strings.ToLower(name)) && len(near) < 3 {
			near = append(near, fmt.Sprintf("%s (%s)", valid[i], label))
		}
	}
	for _, n := range Nearest(name, valid, 3) {
		if len(near) < 3 && !slices.ContainsFunc(near, func(said string) bool { return strings.HasPrefix(said, n+" (") }) {
			near = append(near, n)
		}
	}
	if len(near) == 0 {
		near = slices.Clone(valid)
	}
	return "; did you mean " + strings.Join(near, ", ") + "?"
}
