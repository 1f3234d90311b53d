package rules

// Skipped is the set of signs that were answered "don't know". A question about
// several signs that was answered so is in it by itself: its signs are then
// asked for one by one, so that one "don't know" does not become several.
type Skipped struct {
	signs uint64
	forms uint64
}

// With adds signs to the set.
func (k Skipped) With(ids ...SignID) Skipped {
	for _, id := range ids {
		k.signs |= 1 << id
	}
	return k
}

// WithQuestion adds the question about several signs with that id.
func (k Skipped) WithQuestion(id string) Skipped {
	for i := range forms {
		if forms[i].id == id && forms[i].notices != nil {
			k.forms |= 1 << i
		}
	}
	return k
}

// Has reports whether the sign is in the set.
func (k Skipped) Has(id SignID) bool { return k.signs>>id&1 != 0 }
