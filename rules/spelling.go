package rules

import (
	"cmp"
	"slices"
	"strings"
)

// tolerance is the number of wrong letters forgiven in a word of n letters.
func tolerance(n int) int {
	switch {
	case n < 4:
		return 0
	case n < 6:
		return 1
	case n < 11:
		return 2
	}
	return 3
}

// lettersOf returns a bit for each letter of a word. Each wrong letter changes
// two bits at most, which rules most pairs of words out at once.
func lettersOf(text string) (set uint32) {
	for i := range len(text) {
		set |= 1 << (text[i] & 31)
	}
	return
}

// editDistance counts the letters wrong, missing, added or swapped with their
// neighbor between two words, or gives -1 when there are more than most.
func editDistance(a, b string, most int) int {
	if len(a)-len(b) > most || len(b)-len(a) > most {
		return -1
	}
	const longest = 64
	if len(b) >= longest {
		if a == b {
			return 0
		}
		return -1
	}
	var rows [3][longest]int
	before, last, next := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		last[j] = j
	}
	for i := range len(a) {
		next[0] = i + 1
		least := next[0]
		for j := range len(b) {
			d := last[j]
			if a[i] != b[j] {
				d++
			}
			d = min(d, last[j+1]+1, next[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				d = min(d, before[j-1]+1)
			}
			next[j+1] = d
			least = min(least, d)
		}
		if least > most {
			return -1
		}
		before, last, next = last, next, before
	}
	if last[len(b)] > most {
		return -1
	}
	return last[len(b)]
}

// Nearest returns the n names most like id, for the message about a name that
// does not exist. Names with nothing in common are left out.
func Nearest(id string, among []string, n int) []string {
	type near struct {
		name string
		d    int
	}
	var nears []near
	for _, name := range among {
		d := editDistance(id, name, max(len(id), len(name))/2)
		if len(id) > 2 && strings.Contains(name, id) {
			d = 1
		}
		if d >= 0 {
			nears = append(nears, near{name, d})
		}
	}
	slices.SortStableFunc(nears, func(a, b near) int { return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.name, b.name)) })
	var names []string
	for _, x := range nears[:min(max(n, 0), len(nears))] {
		names = append(names, x.name)
	}
	return names
}
