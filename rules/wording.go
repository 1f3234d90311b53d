package rules

// Wording asks for a sign in other words when all that is still possible of
// another sign is among When.
type Wording struct {
	When     []Value
	Ask, How Text         // empty to leave that of the sign
	Labels   []ValueLabel // in place of the labels of the sign
	Hide     []Value      // not offered
}

// ValueLabel is the label of a value.
type ValueLabel struct {
	Value Value
	Label Text
}

// fits reports whether the wording is for the situation.
func (w *Wording) fits(s *Situation) bool {
	id := w.When[0].Sign()
	return s[id]&^setOf(w.When) == 0
}
