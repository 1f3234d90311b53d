package rules

// QuestionByID fits the form of that id to a situation, whether or not it is
// its turn.
func QuestionByID(id string, s *Situation) (Question, bool) {
	for i := range forms {
		if forms[i].id == id {
			if q, ok := forms[i].fit(s, func(SignID) bool { return true }); ok {
				return q, true
			}
		}
	}
	return Question{}, false
}

// Shorts lists the rules that have a short sentence of their own.
func Shorts() (ids []string) {
	for id := range shorts {
		ids = append(ids, id)
	}
	return ids
}

// Forms returns the id of every question about several signs, how to look, and what
// is asked.
func Forms() (fs [][3]string) {
	for i := range forms {
		if f := &forms[i]; f.notices != nil {
			fs = append(fs, [3]string{f.id, f.how.String(), f.ask.String()})
		}
	}
	return fs
}

// Pages lists the sources that have a page, and those that are there twice if they have two.
func Pages() (ids []string) {
	for id := range pages {
		ids = append(ids, id)
	}
	for id := range copies {
		ids = append(ids, id)
	}
	return ids
}
