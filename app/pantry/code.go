package pantry

import (
	"hash/fnv"
	"strings"

	"larderlamp/rules/order"
)

// letters are those of short codes: without I, L, O and U, which are taken for
// others when they are read or typed.
const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// codeLength is how many of them a code has: with five bits each, two of a
// thousand jars share a code once in two thousand households, and then both are
// named.
const codeLength = 6

// Code is the short code of a jar, as it stands on its label: six letters and
// digits that follow from its id and can be typed where no camera reads.
func (j *Jar) Code() string {
	h := fnv.New32a()
	h.Write([]byte(j.ID))
	sum := h.Sum32()
	sum ^= sum >> 30 // the two bits that would not be used
	var code [codeLength + 1]byte
	for i, at := range []int{0, 1, 2, 4, 5, 6} {
		code[at] = letters[sum>>(5*i)&31]
	}
	code[3] = '-'
	return string(code[:])
}

// Coded gives the jars with a code as somebody typed it: in small letters too,
// with or without the dash, and with the letters that were left out for the
// digits that they look like.
func (p *Pantry) Coded(typed string) (found []*Jar) {
	clean := strings.NewReplacer("-", "", " ", "", "O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(typed))
	if len(clean) != codeLength {
		return nil
	}
	for _, j := range p.Jars {
		if strings.Replace(j.Code(), "-", "", 1) == clean {
			found = append(found, j)
		}
	}
	order.By(found, func(a, b **Jar) bool { return (*a).ID < (*b).ID })
	return found
}
