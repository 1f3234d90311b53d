package practice

import (
	"slices"

	"larderlamp/rules"
)

// Twin is one jar of an item, every sign of it that can be observed told.
type Twin struct {
	Product   *rules.Product
	Situation rules.Situation
	Verdict   rules.Verdict
}

// judged makes a jar of a situation; ok is false while its verdict is open or
// when no jar can show it.
func judged(p *rules.Product, s rules.Situation) (j Twin, ok bool) {
	if !Shows(&s) {
		return
	}
	o := rules.Evaluate(s)
	return Twin{p, s, o.Lowest}, o.Settled()
}

// KnownSigns lists the signs of the jar that can be observed or looked up, in order.
func (j *Twin) KnownSigns() (ids []rules.SignID) {
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() && j.seen(id) {
			ids = append(ids, id)
		}
	}
	return
}

// seen reports whether the sign can be observed on the jar, and matters to its
// kind of food at all.
func (j *Twin) seen(id rules.SignID) bool {
	if id == rules.SignAcid && (j.Situation.Is(rules.ClassAcid) || j.Situation.Is(rules.ClassLow) && !j.Situation.Is(rules.KeepsThreeMonths)) {
		return false
	}
	if id == rules.SignCondition && j.Product.Condition == nil {
		return false
	}
	return !j.Situation.Open(id)
}

// Odd lists the told signs that do not show what a sound jar shows.
func (j *Twin) Odd() (ids []rules.SignID) {
	for _, id := range j.KnownSigns() {
		if !j.sound(id) {
			ids = append(ids, id)
		}
	}
	return
}

// sound reports whether the sign shows what a sound jar of this food shows. How
// it was heated is sound where a published process is heated like that.
func (j *Twin) sound(id rules.SignID) bool {
	switch {
	case id == rules.SignAcid && j.Situation.Is(rules.ClassPickled) && j.value(id) == rules.AcidHalf:
		return true
	case id == rules.SignMethod:
		return slices.Contains(methods(&j.Situation), j.value(id))
	}
	return j.value(id) == rules.Signs[id].Sound
}

func (j *Twin) value(id rules.SignID) rules.Value {
	v, _ := j.Situation.Known(id)
	return v
}

// methods lists how jars of such food are heated by published processes.
func methods(s *rules.Situation) []rules.Value {
	switch {
	case !processed(s):
		return nil
	case s.Is(rules.RoutePressure):
		return []rules.Value{rules.MethodPressure}
	case s.Is(rules.RoutePasteur):
		return []rules.Value{rules.MethodBoiling, rules.MethodSteam, rules.MethodPasteur}
	case s.Is(rules.ClassPickled):
		return []rules.Value{rules.MethodBoiling, rules.MethodSteam}
	}
	return []rules.Value{rules.MethodBoiling, rules.MethodSteam, rules.MethodPressure}
}

// Deciders lists the signs that hold the jar back from a milder verdict: the
// odd ones in the rules that decide, as the trace of the rules has it, and those
// that would give a milder verdict if they alone were another. Of the signs that
// are as on a sound jar only the age counts: a jar of today can be put right.
// [rules.SignRoute] stands for the food itself. A jar that is kept has none.
func (j *Twin) Deciders() (ids []rules.SignID) {
	if j.Verdict == rules.Keep {
		return nil
	}
	var holds [rules.NumSigns]bool
	record := false
	t := rules.Explain(j.Situation)
	for _, l := range t.Deciding {
		record = record || l.Rule.Kind != rules.Restriction
		for _, v := range l.Shown {
			switch id := v.Sign(); {
			case l.Rule.Kind.Supports():
			case v == rules.BackingOther || v == rules.BackingPlain:
				record = true
			case !id.Fact() && !j.sound(id):
				holds[id] = true
			}
		}
	}
	if record {
		j.lacking(&t, &holds)
	}
	for _, id := range j.KnownSigns() {
		holds[id] = holds[id] || (!j.sound(id) || id == rules.SignAge) && j.milder(id)
	}
	for i, h := range holds {
		if h {
			ids = append(ids, rules.SignID(i))
		}
	}
	return
}

// lacking marks what is missing in the record: the signs of every lack that
// holds, and a way of heating that no process for this food is published for.
func (j *Twin) lacking(t *rules.Trace, holds *[rules.NumSigns]bool) {
	for i := range rules.Parts[rules.PartRecord].Rules {
		r := &rules.Parts[rules.PartRecord].Rules[i]
		if r.Kind != rules.Lack || t.Certain[rules.PartRecord]>>i&1 == 0 {
			continue
		}
		for _, c := range r.When {
			if id := c[0].Sign(); id == rules.SignRoute || !id.Fact() {
				holds[id] = true
			}
		}
	}
	if processed(&j.Situation) && !j.sound(rules.SignMethod) {
		holds[rules.SignMethod] = true
	}
}

// milder reports whether the jar would have a milder verdict if this sign alone
// showed another value.
func (j *Twin) milder(id rules.SignID) bool {
	if id == rules.SignOpened || !j.seen(id) {
		return false // another state of opening changes what there is to see
	}
	return slices.ContainsFunc(id.Info().Values, func(v rules.ValueInfo) bool {
		s := j.Situation
		s.Forget(id)
		if s.Tell(v.Value) != nil {
			return false
		}
		other, ok := judged(j.Product, s)
		return ok && other.Verdict < j.Verdict
	})
}

// Fires reports whether the rule matches the jar.
func (j *Twin) Fires(r *rules.Rule) bool {
	s := j.Situation
	s[rules.SignBacking] = rules.Evaluate(s).Backing
	for _, c := range r.When {
		if !slices.ContainsFunc(c, func(v rules.Value) bool { return s.Is(v) }) {
			return false
		}
	}
	return true
}
