package practice

import (
	"slices"

	"larderlamp/rules"
)

// Jar is one jar, every sign of it that can be observed told.
type Jar struct {
	Product   *rules.Product
	Situation rules.Situation
	Verdict   rules.Verdict
}

// judged makes a jar of a situation; ok is false while its verdict is open or
// when no jar can show it.
func judged(p *rules.Product, s rules.Situation) (j Jar, ok bool) {
	if !Shows(&s) {
		return
	}
	o := rules.Evaluate(s)
	return Jar{p, s, o.Lowest}, o.Settled()
}

// Told lists the signs of the jar that can be observed or looked up, in order.
func (j *Jar) Told() (ids []rules.SignID) {
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() && j.seen(id) {
			ids = append(ids, id)
		}
	}
	return
}

// seen tells whether the sign can be observed on the jar, and matters to its
// kind of food at all.
func (j *Jar) seen(id rules.SignID) bool {
	if id == rules.SignAcid && (j.Situation.Is(rules.ClassAcid) || j.Situation.Is(rules.ClassLow)) {
		return false
	}
	return !j.Situation.Open(id)
}

// Odd lists the told signs that do not show what a sound jar shows.
func (j *Jar) Odd() (ids []rules.SignID) {
	for _, id := range j.Told() {
		if !j.sound(id) {
			ids = append(ids, id)
		}
	}
	return
}

// sound tells whether the sign shows what a sound jar of this food shows. How
// it was heated is sound where a published process is heated like that.
func (j *Jar) sound(id rules.SignID) bool {
	if id == rules.SignMethod {
		return slices.Contains(methods(&j.Situation), j.value(id))
	}
	return j.value(id) == rules.Signs[id].Sound
}

func (j *Jar) value(id rules.SignID) rules.Value {
	v, _ := j.Situation.Known(id)
	return v
}

// methods lists how jars of such food are heated by published processes.
func methods(s *rules.Situation) []rules.Value {
	switch {
	case s.Is(rules.RouteNone):
		return nil
	case s.Is(rules.RoutePressure):
		return []rules.Value{rules.MethodPressure}
	case s.Is(rules.ClassPickled):
		return []rules.Value{rules.MethodBoiling, rules.MethodSteam}
	}
	return []rules.Value{rules.MethodBoiling, rules.MethodSteam, rules.MethodPressure}
}

// Deciders lists the signs that hold the jar back from a keep, as the trace of
// the rules has it: the odd signs in the rules that decide. [rules.SignRoute]
// stands for the food itself. A jar that is kept has none.
func (j *Jar) Deciders() (ids []rules.SignID) {
	if j.Verdict == rules.Keep {
		return nil
	}
	add := func(id rules.SignID) {
		if !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	record := false
	t := rules.Explain(j.Situation)
	for _, l := range t.Deciding {
		switch {
		case l.Rule.Kind == rules.Support:
			record = true
			continue
		case l.Rule.Kind == rules.Lack:
			record = true
		}
		for _, v := range l.Shown {
			switch id := v.Sign(); {
			case v == rules.BackingOther:
				record = true
			case !id.Fact() && !j.sound(id):
				add(id)
			}
		}
	}
	if !record {
		return
	}
	// What is missing in the record: every lack that holds here.
	for i := range rules.Parts[rules.PartRecord].Rules {
		r := &rules.Parts[rules.PartRecord].Rules[i]
		if r.Kind != rules.Lack || t.Certain[rules.PartRecord]>>i&1 == 0 {
			continue
		}
		for _, c := range r.When {
			switch id := c[0].Sign(); {
			case id == rules.SignRoute:
				add(id)
			case !id.Fact():
				add(id)
			}
		}
	}
	// Food for which the method is none of the published ones.
	if !j.sound(rules.SignMethod) && j.Verdict > rules.Keep && !j.Situation.Is(rules.RouteNone) {
		add(rules.SignMethod)
	}
	return
}

// Fires tells whether the rule matches the jar.
func (j *Jar) Fires(r *rules.Rule) bool {
	s := j.Situation
	s[rules.SignBacking] = rules.Evaluate(s).Backing
	for _, c := range r.When {
		if !slices.ContainsFunc(c, func(v rules.Value) bool { return s.Is(v) }) {
			return false
		}
	}
	return true
}

// Differ lists the signs in which two jars differ.
func Differ(a, b *Jar) (ids []rules.SignID) {
	for i := range a.Situation {
		if a.Situation[i] != b.Situation[i] {
			ids = append(ids, rules.SignID(i))
		}
	}
	return
}
