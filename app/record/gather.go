package record

import (
	"bytes"
	"cmp"
	"fmt"
	"reflect"
	"slices"

	"larderlamp/rules"
)

// Gather adds to a check what was answered in versions of it that were made at the
// same time on other devices, and reports whether that changed it: a merge sets such
// versions aside, and nobody looks into those of a check. The version with the
// strictest verdict goes first, because of two answers that contradict one another
// the first counts; of two about one sign the worse counts, because neither person
// saw what the other saw; one who did not know adds nothing. Every device that gathers
// the same versions makes the same check of them. The verdict is not renewed.
func (c *Check) Gather() (gathered bool, err error) {
	if len(c.Aside) == 0 || c.IsDeleted() {
		return false, nil
	}
	own, err := c.body()
	if err != nil {
		return false, err
	}
	all := *c
	all.Past = append(slices.Clone(c.Past), named(own))
	versions := []Check{*c}
	for _, text := range c.Aside {
		other, err := DecodeCheck(text)
		if err != nil {
			return false, err
		}
		all.Past = append(all.Past, named(text))
		if !other.IsDeleted() {
			versions = append(versions, other)
		}
	}
	slices.SortStableFunc(versions, func(a, b Check) int {
		return cmp.Or(cmp.Compare(b.lowest(), a.lowest()), cmp.Compare(b.Revision, a.Revision))
	})
	all.Answers = slices.Clone(versions[0].Answers)
	for _, v := range versions {
		for _, a := range v.Answers {
			all.add(a)
		}
		all.Label, all.Thrown = cmp.Or(all.Label, v.Label), cmp.Or(all.Thrown, v.Thrown)
		all.Revision = max(all.Revision, v.Revision)
		if v.Changed.After(all.Changed) {
			all.Changed = v.Changed
		}
	}
	if reflect.DeepEqual(all.Answers, c.Answers) && all.Label == c.Label && all.Thrown == c.Thrown {
		return false, nil
	}
	all.Aside = nil
	all.Revision++
	all.tidy()
	*c = all
	return true, nil
}

// lowest is the mildest verdict that was still possible when it was written.
func (c *Check) lowest() rules.Verdict {
	v, _ := rules.ParseVerdict(c.Lowest) // Validate has read it
	return v
}

// add adds an answer that somebody else gave at the same time. It is dated after the
// others, so that they stay in this order.
func (c *Check) add(a Answer) {
	i := slices.IndexFunc(c.Answers, a.same)
	if i < 0 {
		if n := len(c.Answers); n > 0 && a.At.Before(c.Answers[n-1].At) {
			a.At = c.Answers[n-1].At
		}
		c.Answers = append(c.Answers, a)
		return
	}
	b := c.Answers[i]
	// An answer that leaves more open than the other adds nothing to it.
	within := func(a, b Answer) bool {
		return !b.All && !slices.ContainsFunc(a.Values, func(v string) bool { return !slices.Contains(b.Values, v) })
	}
	switch {
	case within(b, a):
		return
	case within(a, b):
		b.Values, b.All = a.Values, a.All
	default:
		b.Values, b.All = slices.Compact(slices.Sorted(slices.Values(slices.Concat(b.Values, a.Values)))), true
	}
	c.Answers[i] = b
}

// same reports whether another answer is about the same.
func (a Answer) same(b Answer) bool {
	return sameSign(a.Sign, b.Sign) && (a.Sign != Unanswered || a.Question == b.Question)
}

// AddGathered is AddCheck for a check in which several people have answered at the
// same time: it counts more than what each of them has added, and what was undone
// stays so. It reports whether it changed the jar.
func (j *Jar) AddGathered(c *Check) bool {
	i := slices.IndexFunc(j.Events, func(e Event) bool { return e.ID == c.ID })
	if i < 0 {
		return false // the jar may come later, with what the others have added
	}
	was := j.Events[i]
	if was.Revision > int(c.Revision) && reflect.DeepEqual(was.Seen, c.Seen()) {
		return false
	}
	j.AddCheck(c)
	j.Events[i].Undone = j.Events[i].Undone || was.Undone
	j.Events[i].Revision = max(was.Revision, int(c.Revision)) + 1
	return true
}

// sameSign reports whether two names are of one sign, which may have had
// another name in an earlier edition.
func sameSign(a, b string) bool {
	x, known := rules.SignByID(a)
	y, too := rules.SignByID(b)
	return a == b || known && too && x == y
}

// Join adds what another tab has written to the same check by then, and reports
// whether there was anything: no answer may be lost, least of all one that shows
// a danger. Of two answers about one sign the later one counts.
func (c *Check) Join(other *Check) (joined bool, err error) {
	if c.ID != other.ID {
		return false, fmt.Errorf("check %s: cannot be joined with %s", c.ID, other.ID)
	}
	mine, err := c.body()
	if err != nil {
		return false, err
	}
	theirs, err := other.body()
	if err != nil {
		return false, err
	}
	if bytes.Equal(mine, theirs) || slices.Contains(c.Past, named(theirs)) {
		return false, nil
	}
	for _, a := range other.Answers {
		if slices.ContainsFunc(c.Answers, func(b Answer) bool { return a.same(b) && !b.At.Before(a.At) }) {
			continue
		}
		c.Answers = append(slices.DeleteFunc(slices.Clone(c.Answers), a.same), a)
	}
	slices.SortStableFunc(c.Answers, func(a, b Answer) int { return a.At.Compare(b.At) })
	if c.Label == "" {
		c.Label = other.Label
	}
	if c.Thrown == "" {
		c.Thrown = other.Thrown
	}
	c.Past = append(append(c.Past, other.Past...), named(theirs))
	c.Revision = max(c.Revision, other.Revision)
	c.tidy()
	return true, nil
}
