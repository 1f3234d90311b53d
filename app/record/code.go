package record

import (
	"hash/fnv"
)

// letters are those of short codes: without I, L, O and U, which are mistaken
// for others when they are read or typed.
const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// codeLength is how many of them a code has: with five bits each, among a
// thousand jars two share a code in one of two thousand households, and then
// both are listed.
const CodeLength = 6

// Code is the short code of a jar, as it is on its label: six letters and
// digits that follow from its id and can be typed where no camera reads.
func (j *Jar) Code() string {
	h := fnv.New32a()
	h.Write([]byte(j.ID))
	sum := h.Sum32()
	sum ^= sum >> 30 // drop the two bits that would not be used
	var code [CodeLength + 1]byte
	for i, at := range []int{0, 1, 2, 4, 5, 6} {
		code[at] = letters[sum>>(5*i)&31]
	}
	code[3] = '-'
	return string(code[:])
}
