package session

import (
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// Session is a check while it is being made: the record of what was said, and
// what the rules make of it. It holds no verdict of its own.
type Session struct {
	Check   record.Check
	Product *rules.Product
	// undone answers, so that going back loses nothing.
	Undone [][]record.Answer
	// The question last chosen, and for what: choosing one is the most
	// expensive thing that a check does, and a screen asks for it several
	// times.
	chosen struct {
		situation rules.Situation
		skipped   rules.Skipped
		question  rules.Question
		more      bool
	}
}

// New begins a check of a product.
func New(product *rules.Product, now time.Time) (*Session, error) {
	check, err := record.NewCheck(product.ID, now)
	if err != nil {
		return nil, err
	}
	s := &Session{Check: check, Product: product}
	s.Judge(now)
	return s, nil
}

// Resume continues a saved check. A check of a product that is no longer in the
// catalog is judged as a jar of unknown contents.
func Resume(check record.Check) *Session {
	product, ok := rules.ProductByID(check.Product)
	if !ok {
		product, _ = rules.ProductByID("unknown-contents")
	}
	return &Session{Check: check, Product: product}
}

// Same reports whether two sessions are the same check with the same answers.
func (s *Session) Same(other *Session) bool {
	mine, err := s.Check.Encode()
	theirs, bad := other.Check.Encode()
	return err == nil && bad == nil && string(mine) == string(theirs)
}

// With is the check merged with what is stored of it: what could not be saved
// stays.
func (s *Session) With(stored *Session) *Session {
	c := s.Check
	c.Answers = slices.Clone(c.Answers)
	if joined, err := c.Join(&stored.Check); err != nil || !joined {
		return s
	}
	both := Resume(c)
	both.Judge(time.Now())
	return both
}

// Gather adds to a check what was answered on other devices at the same time, with
// the verdict that follows, and reports whether that was anything: see
// [record.Check.Gather].
func Gather(c *record.Check) (gathered bool, err error) {
	if gathered, err = c.Gather(); gathered {
		s := Resume(*c)
		s.judge()
		*c = s.Check
	}
	return gathered, err
}

// sitting is how long a check may continue, past midnight too.
const sitting = 12 * time.Hour

// Holds reports whether a verdict of the check is also today's: a jar that was to
// be discarded still is; anything milder only while the check continues or if it
// was started today. A check from a clock that was wrong is of no day.
func (s *Session) Holds(v rules.Verdict, now time.Time) bool {
	begun := s.Check.Begun
	if v == rules.Discard {
		return true
	}
	if now.Before(begun) {
		return begun.Sub(now) < sitting
	}
	return record.DayOf(begun.In(now.Location())) == record.DayOf(now) || now.Sub(begun) < sitting
}

// Situation is what is known about the jar: the catalog and every answer.
func (s *Session) Situation() rules.Situation { return s.Check.Situation(s.Product) }

// Worries are what the person first said is odd.
func (s *Session) Worries() (vs []rules.Value) {
	for _, a := range s.Check.Answers {
		id, ok := rules.SignByID(a.Sign)
		if !ok || a.Question == record.FromShelf {
			continue
		}
		info := id.Info()
		for _, name := range a.Values {
			if v, ok := id.ValueByID(name); ok {
				vs = append(vs, v)
			}
		}
		if len(vs) > 0 && info.Sound != 0 && !slices.Contains(vs, info.Sound) {
			return vs
		}
		vs = nil
	}
	return nil
}

// Unknown lists the signs of the record that were answered with "don't know":
// they count as the strictest, and are worth finding out.
func (s *Session) Unknown() (ids []rules.SignID) {
	for _, a := range s.Check.Answers {
		if id, ok := rules.SignByID(a.Question); ok && a.Sign == record.Unanswered {
			ids = append(ids, id)
		}
	}
	return
}

// skipped is what was answered with "don't know".
func (s *Session) skipped() (k rules.Skipped) {
	for _, a := range s.Check.Answers {
		if a.Sign == record.Unanswered {
			k = k.WithQuestion(a.Question)
		}
		if id, ok := rules.SignByID(a.Sign); ok && len(a.Values) == len(id.Info().Values) {
			k = k.With(id)
		}
	}
	return
}

// Next is the question to ask now.
func (s *Session) Next() (rules.Question, bool) {
	situation, skipped := s.Situation(), s.skipped()
	if n := &s.chosen; n.situation != situation || n.skipped != skipped {
		n.situation, n.skipped = situation, skipped
		n.question, n.more = rules.Next(situation, skipped)
	}
	return s.Product.Worded(s.chosen.question), s.chosen.more
}

// SayAll records that the jar shows several values of one sign at once.
func (s *Session) SayAll(question string, now time.Time, values ...rules.Value) {
	s.Say(question, now, values...)
	s.Check.Answers[len(s.Check.Answers)-1].All = true
	s.Judge(now)
}

// Say records an answer: the values still possible for one or more signs. An
// answer that narrows what was said before is kept beside it, so that going
// back finds the earlier one; any other replaces it. What the answer makes
// impossible is opened again.
func (s *Session) Say(question string, now time.Time, values ...rules.Value) {
	var order []rules.SignID
	told := map[rules.SignID][]string{}
	for _, v := range values {
		if told[v.Sign()] == nil {
			order = append(order, v.Sign())
		}
		told[v.Sign()] = append(told[v.Sign()], v.ID())
	}
	situation := s.Situation()
	for _, id := range order {
		if len(told[id]) < len(id.Info().Values) && !narrows(&situation, id, values) {
			s.drop(id)
			s.dropImplied(id, question)
		}
	}
	if s.opensJar(values) {
		s.drop(rules.SignOpened)
	}
	if slices.Contains(values, rules.OpenedNo) || slices.Contains(values, rules.OpenedFrozen) {
		s.Check.Answers = slices.DeleteFunc(s.Check.Answers, func(a record.Answer) bool {
			id, ok := rules.SignByID(a.Sign)
			return ok && id.Info().Chapter >= rules.ChapterOpening
		})
	}
	if slices.Contains(values, rules.OpenedChilled) || slices.Contains(values, rules.OpenedThawed) {
		s.drop(rules.SignRelease)
	}
	if slices.Contains(values, rules.OpenedNow) {
		s.Check.Answers = slices.DeleteFunc(s.Check.Answers, func(a record.Answer) bool {
			id, ok := rules.SignByID(a.Sign)
			return ok && id.Info().Chapter == rules.ChapterOpened
		})
	}
	for _, id := range order {
		s.Check.Answers = append(s.Check.Answers, record.Answer{Sign: id.ID(), Values: told[id], Question: question, At: now.UTC()})
	}
	s.Undone = nil
	s.Judge(now)
}

// narrows reports whether the values of a sign are all still possible.
func narrows(s *rules.Situation, id rules.SignID, values []rules.Value) bool {
	for _, v := range values {
		if v.Sign() == id && !s.Possible(v) {
			return false
		}
	}
	return true
}

// opensJar reports whether the values say that the jar is not closed although
// it was said to be.
func (s *Session) opensJar(values []rules.Value) bool {
	situation := s.Situation()
	situation.Forget(rules.SignOpened)
	if situation.Tell(values...) != nil {
		return false
	}
	was := s.Situation()
	return situation[rules.SignOpened]&was[rules.SignOpened] == 0
}

// DontKnow records that a question cannot be answered. For signs of the record
// that means the record says nothing; for all others every value stays possible.
// If the question was about several signs, they are then asked one by one.
func (s *Session) DontKnow(q rules.Question, now time.Time) {
	if len(q.Signs) > 1 {
		s.Check.Answers = append(s.Check.Answers, record.Answer{Sign: record.Unanswered, Values: []string{q.ID}, Question: q.ID, At: now.UTC()})
		s.Undone = nil
		s.Judge(now)
		return
	}
	var values []rules.Value
	unanswered := false
	situation := s.Situation()
	for _, id := range q.Signs {
		if untold := situation.IfUnknown(id); untold != nil {
			values, unanswered = append(values, untold...), true
			continue
		}
		for _, v := range id.Info().Values {
			values = append(values, v.Value)
		}
	}
	s.Say(q.ID, now, values...)
	if unanswered {
		s.Check.Answers = append(s.Check.Answers, record.Answer{Sign: record.Unanswered, Values: []string{q.ID}, Question: q.ID, At: now.UTC()})
	}
}

// drop forgets what was said about the signs.
func (s *Session) drop(ids ...rules.SignID) {
	s.Check.Answers = slices.DeleteFunc(s.Check.Answers, func(a record.Answer) bool {
		id, ok := rules.SignByID(a.Sign)
		if a.Sign == record.Unanswered {
			id, ok = rules.SignByID(a.Question)
		}
		return ok && slices.Contains(ids, id)
	})
}

// dropImplied forgets what the last answer to the question about one sign said
// about other signs: if it turns out that the heating of a jar is known after all,
// the time may be known too.
func (s *Session) dropImplied(id rules.SignID, question string) {
	s.Check.Answers = slices.DeleteFunc(s.Check.Answers, func(a record.Answer) bool {
		return question == id.ID() && a.Question == question && a.Sign != question
	})
}

// Forget undoes what was said about the signs.
func (s *Session) Forget(now time.Time, ids ...rules.SignID) {
	s.drop(ids...)
	s.Undone = nil
	s.Judge(now)
}

// CanGoBack reports whether there is an answer of the person to undo.
func (s *Session) CanGoBack() bool {
	n := len(s.Check.Answers)
	return n > 0 && s.Check.Answers[n-1].Question != record.FromShelf
}

// Given counts the person's answers; those to one question count as one.
func (s *Session) Given() (n int) {
	answers := s.Check.Answers
	for i := range answers {
		a := &answers[i]
		if a.Question != record.FromShelf && (i == 0 || a.Question != answers[i-1].Question || !a.At.Equal(answers[i-1].At)) {
			n++
		}
	}
	return
}

// UpTo is the check as it was after so many answers. The check itself does not
// change.
func (s *Session) UpTo(n int, now time.Time) *Session {
	earlier := *s
	earlier.Check.Answers, earlier.Check.Past, earlier.Undone = slices.Clone(s.Check.Answers), slices.Clone(s.Check.Past), slices.Clone(s.Undone)
	for earlier.Given() > n && earlier.CanGoBack() {
		earlier.Back(now)
	}
	return &earlier
}

// Back undoes the last answer. again gives it again.
func (s *Session) Back(now time.Time) {
	answers := s.Check.Answers
	if !s.CanGoBack() {
		return
	}
	last := answers[len(answers)-1]
	from := len(answers) - 1
	for from > 0 && answers[from-1].Question == last.Question && answers[from-1].At.Equal(last.At) {
		from--
	}
	s.Undone = append(s.Undone, slices.Clone(answers[from:]))
	s.Check.Answers = answers[:from:from]
	s.Judge(now)
}

func (s *Session) Again(now time.Time) {
	if len(s.Undone) == 0 {
		return
	}
	last := s.Undone[len(s.Undone)-1]
	s.Undone = s.Undone[:len(s.Undone)-1]
	s.Check.Answers = append(s.Check.Answers, last...)
	s.Judge(now)
}

// Name sets the person's own words for the jar.
func (s *Session) Name(label string, now time.Time) error {
	if err := s.Check.SetLabel(label); err != nil {
		return err
	}
	s.Judge(now)
	return nil
}

// Throw records that the jar was thrown out on a day; "" means that it was not.
func (s *Session) Throw(day record.Day, now time.Time) {
	s.Check.Thrown = day
	s.Judge(now)
}

// Judge stores in the record what the rules say now, so that a later edition
// can show a changed verdict.
func (s *Session) Judge(now time.Time) {
	s.judge()
	s.Check.Touch(now)
}

func (s *Session) judge() {
	o := rules.Judge(s.Situation())
	_, more := s.Next()
	s.Check.Edition = rules.Edition
	s.Check.Lowest, s.Check.Highest = o.Lowest.ID(), o.Highest.ID()
	s.Check.Finished = !more
}
