package practice

import (
	"fmt"

	"larderlamp/rules"
)

// Sound makes a jar of the product that is sound except for the given values. What
// they imply is told too: a broken seal shows, and a jar with a smell is open. It is
// an error when no jar can show all of it.
func Sound(p *rules.Product, odd ...rules.Value) (Twin, error) {
	s := rules.NewSituation()
	if err := p.Tell(&s); err != nil {
		return Twin{}, err
	}
	if err := s.Tell(odd...); err != nil {
		return Twin{}, err
	}
	tell := func(id rules.SignID, v rules.Value) {
		if s.Open(id) {
			_ = s.Tell(v) // it is open, and so possible
		}
	}
	if ways := methods(&s); ways != nil {
		tell(rules.SignMethod, ways[0])
	} else {
		tell(rules.SignMethod, rules.MethodUntold)
		tell(rules.SignProcess, rules.ProcessUntold)
		tell(rules.SignStanding, rules.StandingUnshown)
	}
	if !s.Possible(rules.OpenedNo) {
		tell(rules.SignOpened, rules.OpenedNow)
		tell(rules.SignOpened, rules.OpenedBefore)
	}
	if s.Is(rules.FrozenCold) || s.Is(rules.FrozenThawed) {
		tell(rules.SignLid, rules.LidFlat)
	}
	fitClosure(&s)
	rest(&s)
	j, ok := judged(p, s)
	if !ok {
		return j, fmt.Errorf("practice: no jar of %s shows this", p.ID)
	}
	return j, nil
}
