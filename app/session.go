package app

import (
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// session is a check while it is being made: the record of what was said, and
// what the rules make of it. It holds no verdict of its own.
type session struct {
	check   record.Check
	product *rules.Product
	// taken back answers, so that going back loses nothing.
	undone [][]record.Answer
	// The question chosen last, and for what: choosing one is the dearest thing
	// that a check does, and a screen asks for it several times.
	chosen struct {
		situation rules.Situation
		skipped   rules.Skipped
		question  rules.Question
		more      bool
	}
}

// newSession begins a check of a product.
func newSession(product *rules.Product, now time.Time) (*session, error) {
	check, err := record.NewCheck(product.ID, now)
	if err != nil {
		return nil, err
	}
	s := &session{check: check, product: product}
	s.judge(now)
	return s, nil
}

// resume takes up a saved check. A check of a product that is no longer in the
// catalogue is judged as a jar of unknown contents.
func resume(check record.Check) *session {
	product, ok := rules.ProductByID(check.Product)
	if !ok {
		product, _ = rules.ProductByID("unknown-contents")
	}
	return &session{check: check, product: product}
}

// same tells whether two sessions are the same check with the same answers.
func (s *session) same(other *session) bool {
	mine, err := s.check.Encode()
	theirs, bad := other.check.Encode()
	return err == nil && bad == nil && string(mine) == string(theirs)
}

// with is the check with what is stored of it besides: what could not be saved
// stays.
func (s *session) with(stored *session) *session {
	c := s.check
	c.Answers = slices.Clone(c.Answers)
	if joined, err := c.Join(&stored.check); err != nil || !joined {
		return s
	}
	both := resume(c)
	both.judge(time.Now())
	return both
}

// sitting is for how long a check goes on, over midnight too.
const sitting = 12 * time.Hour

// holds tells whether a verdict of the check is today's too: a jar that was to be
// discarded still is, anything milder only as long as the check goes on or when it
// was begun today. One from a clock that was wrong is of no day.
func (s *session) holds(v rules.Verdict, now time.Time) bool {
	begun := s.check.Begun
	if v == rules.Discard {
		return true
	}
	if now.Before(begun) {
		return begun.Sub(now) < sitting
	}
	return record.DayOf(begun.In(now.Location())) == record.DayOf(now) || now.Sub(begun) < sitting
}

// situation is what is known of the jar: the catalogue and every answer.
func (s *session) situation() rules.Situation { return s.check.Situation(s.product) }

// worries are what the person said first of what is odd.
func (s *session) worries() (vs []rules.Value) {
	for _, a := range s.check.Answers {
		id, ok := rules.SignByID(a.Sign)
		if !ok || a.Question == record.FromShelf {
			continue
		}
		info := id.Info()
		for _, v := range info.Values {
			if slices.Contains(a.Values, v.ID) {
				vs = append(vs, v.Value)
			}
		}
		if len(vs) > 0 && info.Sound != 0 && !slices.Contains(vs, info.Sound) {
			return vs
		}
		vs = nil
	}
	return nil
}

// unknown lists the signs of the record that were answered with "don't know":
// they count as the strictest, and are worth finding out.
func (s *session) unknown() (ids []rules.SignID) {
	for _, a := range s.check.Answers {
		if id, ok := rules.SignByID(a.Question); ok && a.Sign == record.Unanswered {
			ids = append(ids, id)
		}
	}
	return
}

// skipped is what was answered with "don't know".
func (s *session) skipped() (k rules.Skipped) {
	for _, a := range s.check.Answers {
		if a.Sign == record.Unanswered {
			k = k.WithQuestion(a.Question)
		}
		if id, ok := rules.SignByID(a.Sign); ok && len(a.Values) == len(id.Info().Values) {
			k = k.With(id)
		}
	}
	return
}

// next is the question to ask now.
func (s *session) next() (rules.Question, bool) {
	situation, skipped := s.situation(), s.skipped()
	if n := &s.chosen; n.situation != situation || n.skipped != skipped {
		n.situation, n.skipped = situation, skipped
		n.question, n.more = rules.Next(situation, skipped)
	}
	return s.product.Worded(s.chosen.question), s.chosen.more
}

// sayAll records that the jar shows several values of one sign at once.
func (s *session) sayAll(question string, now time.Time, values ...rules.Value) {
	s.say(question, now, values...)
	s.check.Answers[len(s.check.Answers)-1].All = true
	s.judge(now)
}

// say records an answer: the values still possible for one or more signs. An
// answer that narrows what was said before stands beside it, so that going back
// finds the earlier one; any other replaces it. What the answer makes
// impossible is opened again.
func (s *session) say(question string, now time.Time, values ...rules.Value) {
	var order []rules.SignID
	told := map[rules.SignID][]string{}
	for _, v := range values {
		if told[v.Sign()] == nil {
			order = append(order, v.Sign())
		}
		told[v.Sign()] = append(told[v.Sign()], v.ID())
	}
	situation := s.situation()
	for _, id := range order {
		if len(told[id]) < len(id.Info().Values) && !narrows(&situation, id, values) {
			s.drop(id)
		}
	}
	if s.opensJar(values) {
		s.drop(rules.SignOpened)
	}
	if slices.Contains(values, rules.OpenedNo) || slices.Contains(values, rules.OpenedFrozen) {
		s.check.Answers = slices.DeleteFunc(s.check.Answers, func(a record.Answer) bool {
			id, ok := rules.SignByID(a.Sign)
			return ok && id.Info().Chapter >= rules.ChapterOpening
		})
	}
	if slices.Contains(values, rules.OpenedChilled) || slices.Contains(values, rules.OpenedThawed) {
		s.drop(rules.SignRelease)
	}
	if slices.Contains(values, rules.OpenedNow) {
		s.check.Answers = slices.DeleteFunc(s.check.Answers, func(a record.Answer) bool {
			id, ok := rules.SignByID(a.Sign)
			return ok && id.Info().Chapter == rules.ChapterOpened
		})
	}
	for _, id := range order {
		s.check.Answers = append(s.check.Answers, record.Answer{Sign: id.ID(), Values: told[id], Question: question, At: now.UTC()})
	}
	s.undone = nil
	s.judge(now)
}

// narrows tells whether the values of a sign are all still possible.
func narrows(s *rules.Situation, id rules.SignID, values []rules.Value) bool {
	for _, v := range values {
		if v.Sign() == id && !s.Possible(v) {
			return false
		}
	}
	return true
}

// opensJar tells whether the values say that the jar is not closed although it
// was said to be.
func (s *session) opensJar(values []rules.Value) bool {
	situation := s.situation()
	situation.Forget(rules.SignOpened)
	if situation.Tell(values...) != nil {
		return false
	}
	was := s.situation()
	return situation[rules.SignOpened]&was[rules.SignOpened] == 0
}

// dontKnow records that a question cannot be answered. For signs of the record
// that means the record says nothing; for all others every value stays possible.
// The signs of a question about several are then asked for one by one.
func (s *session) dontKnow(q rules.Question, now time.Time) {
	if len(q.Signs) > 1 {
		s.check.Answers = append(s.check.Answers, record.Answer{Sign: record.Unanswered, Values: []string{q.ID}, Question: q.ID, At: now.UTC()})
		s.undone = nil
		s.judge(now)
		return
	}
	var values []rules.Value
	situation := s.situation()
	for _, id := range q.Signs {
		if u := id.Info().Untold; u != 0 && situation.Possible(u) {
			values = append(values, u)
			continue
		}
		for _, v := range id.Info().Values {
			values = append(values, v.Value)
		}
	}
	s.say(q.ID, now, values...)
	if len(values) == 1 {
		s.check.Answers = append(s.check.Answers, record.Answer{Sign: record.Unanswered, Values: []string{q.ID}, Question: q.ID, At: now.UTC()})
	}
}

// drop forgets what was said of the signs.
func (s *session) drop(ids ...rules.SignID) {
	s.check.Answers = slices.DeleteFunc(s.check.Answers, func(a record.Answer) bool {
		id, ok := rules.SignByID(a.Sign)
		if a.Sign == record.Unanswered {
			id, ok = rules.SignByID(a.Question)
		}
		return ok && slices.Contains(ids, id)
	})
}

// forget takes back what was said of the signs.
func (s *session) forget(now time.Time, ids ...rules.SignID) {
	s.drop(ids...)
	s.undone = nil
	s.judge(now)
}

// canGoBack tells whether there is an answer of the person to take back.
func (s *session) canGoBack() bool {
	n := len(s.check.Answers)
	return n > 0 && s.check.Answers[n-1].Question != record.FromShelf
}

// given counts the answers of the person; those to one question are one.
func (s *session) given() (n int) {
	answers := s.check.Answers
	for i := range answers {
		a := &answers[i]
		if a.Question != record.FromShelf && (i == 0 || a.Question != answers[i-1].Question || !a.At.Equal(answers[i-1].At)) {
			n++
		}
	}
	return
}

// upTo is the check as it was after so many answers. The check itself stays as it
// is.
func (s *session) upTo(n int, now time.Time) *session {
	earlier := *s
	earlier.check.Answers, earlier.check.Past, earlier.undone = slices.Clone(s.check.Answers), slices.Clone(s.check.Past), slices.Clone(s.undone)
	for earlier.given() > n && earlier.canGoBack() {
		earlier.back(now)
	}
	return &earlier
}

// back takes back the last answer. again gives it back.
func (s *session) back(now time.Time) {
	answers := s.check.Answers
	if !s.canGoBack() {
		return
	}
	last := answers[len(answers)-1]
	from := len(answers) - 1
	for from > 0 && answers[from-1].Question == last.Question && answers[from-1].At.Equal(last.At) {
		from--
	}
	s.undone = append(s.undone, slices.Clone(answers[from:]))
	s.check.Answers = answers[:from:from]
	s.judge(now)
}

func (s *session) again(now time.Time) {
	if len(s.undone) == 0 {
		return
	}
	last := s.undone[len(s.undone)-1]
	s.undone = s.undone[:len(s.undone)-1]
	s.check.Answers = append(s.check.Answers, last...)
	s.judge(now)
}

// name gives the jar the person's own words.
func (s *session) name(label string, now time.Time) error {
	if err := s.check.SetLabel(label); err != nil {
		return err
	}
	s.judge(now)
	return nil
}

// throw notes that the jar was thrown out on a day, or with "" that it was not.
func (s *session) throw(day record.Day, now time.Time) {
	s.check.Thrown = day
	s.judge(now)
}

// judge notes in the record what the rules say now, so that a later edition
// can show a changed verdict.
func (s *session) judge(now time.Time) {
	o := rules.Judge(s.situation())
	_, more := s.next()
	s.check.Edition = rules.Edition
	s.check.Lowest, s.check.Highest = o.Lowest.ID(), o.Highest.ID()
	s.check.Finished = !more
	s.check.Touch(now)
}

// unopened tells whether the answer is to leave the jar closed: it is to be
// discarded and nobody has said that it is open.
func unopened(s *rules.Situation, o *rules.Outcome) bool {
	return o.Lowest == rules.Discard && s.Possible(rules.OpenedNo)
}
