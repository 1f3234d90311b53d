package practice

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"larderlamp/rules"
)

// Item is a pair of twins to practice on.
type Item struct {
	About *rules.Rule  // what it was composed for; it fires on the first jar
	Sign  rules.SignID // the only sign in which the jars differ
	Jars  [2]Twin      // the first is the one to ask about alone
}

// Deck is the row of items of one seed. The fields that are set narrow it.
type Deck struct {
	Seed    uint64
	Product *rules.Product // only this one
	Rule    *rules.Rule    // only items composed for it
	Signs   []rules.SignID // only items that turn one of these
}

// Item returns the item with that number, from 0. Numbers are independent: no
// item needs those before it. ok is false when nothing can be composed that
// fits a narrowed deck.
//
// Three items in a row have three different verdicts, and every product comes up
// once with a verdict before any comes up twice, as far as the deck allows.
func (d Deck) Item(number int) (it Item, ok bool) {
	block, place := uint64(number/3), number%3
	turns := rand.New(rand.NewPCG(d.Seed, block)).Perm(3)
	rng := rand.New(rand.NewPCG(d.Seed, uint64(number)+1<<32))
	for i := range turns {
		v := rules.Verdicts[turns[(place+i)%3]]
		for p := range d.products(v, number/3) {
			if it, ok = d.compose(rng, p, v); ok {
				return it, true
			}
		}
	}
	return
}

// products runs through the products of the deck, beginning where the number of
// the round says, in an order of its own for each verdict.
func (d Deck) products(v rules.Verdict, round int) func(func(*rules.Product) bool) {
	return func(yield func(*rules.Product) bool) {
		if d.Product != nil {
			yield(d.Product)
			return
		}
		n := len(rules.Catalog)
		order := rand.New(rand.NewPCG(d.Seed, uint64(v)<<40+uint64(round/n))).Perm(n)
		for i := range order {
			if p := &rules.Catalog[order[(round+i)%n]]; canReach(p, v) && !yield(p) {
				return
			}
		}
	}
}

// canReach reports whether a jar of the product can have the verdict, apart from
// the first day, on which almost anything can still be put right.
func canReach(p *rules.Product, v rules.Verdict) bool {
	return v == rules.Discard || p.Processed() || v == rules.UseSoon && (p.Class != rules.ClassLow || p.ForMonths())
}

// aim is a rule that can be the point of an item.
type aim struct {
	rule *rules.Rule
	// weight is how often it is tried first, beside a rule that any product can
	// be meant by.
	weight float64
}

// once keeps what is made when it is first needed. The maker is named where it
// is needed, so that a program that never does does not hold it.
type once[T any] struct {
	made  sync.Once
	value T
}

func (o *once[T]) get(make func() T) T {
	o.made.Do(func() { o.value = make() })
	return o.value
}

var (
	aims once[[rules.Discard + 1][]aim]
	bars once[[]bar]
)

// makeAims lists the rules that can decide each verdict.
func makeAims() (as [rules.Discard + 1][]aim) {
	facts := make([]rules.Situation, len(rules.Catalog))
	for i := range facts {
		facts[i] = rules.NewSituation()
		_ = rules.Catalog[i].Tell(&facts[i]) // into a fresh situation
	}
	for part := range rules.Parts {
		for i := range rules.Parts[part].Rules {
			r := &rules.Parts[part].Rules[i]
			fit := 0
			for i := range facts {
				if !slices.ContainsFunc(r.When, func(c []rules.Value) bool { return ofProduct(c) && !slices.ContainsFunc(c, facts[i].Is) }) {
					fit++
				}
			}
			a := aim{r, math.Sqrt(float64(len(facts)) / float64(max(fit, 1)))}
			switch {
			case r.Kind == rules.Note:
				as[rules.Keep] = append(as[rules.Keep], a)
				if opensJar(r) {
					as[rules.UseSoon] = append(as[rules.UseSoon], a)
				}
			case r.Kind == rules.Lack:
				as[rules.UseSoon] = append(as[rules.UseSoon], a)
				as[rules.Discard] = append(as[rules.Discard], a)
			default:
				as[r.Then] = append(as[r.Then], a)
			}
		}
	}
	return
}

// ofProduct reports whether a condition is a fact of the product.
func ofProduct(c []rules.Value) bool {
	return c[0].Sign().Fact() && c[0].Sign() != rules.SignBacking
}

// opensJar reports whether the rule is for jars that are open, which are never kept.
func opensJar(r *rules.Rule) bool {
	return slices.ContainsFunc(r.When, func(c []rules.Value) bool { return c[0].Sign() == rules.SignOpened })
}

// compose makes an item about the product whose first jar has the verdict.
func (d Deck) compose(rng *rand.Rand, p *rules.Product, v rules.Verdict) (it Item, ok bool) {
	facts := rules.NewSituation()
	if p.Tell(&facts) != nil {
		return
	}
	as := slices.DeleteFunc(slices.Clone(aims.get(makeAims)[v]), func(a aim) bool { return d.Rule != nil && d.Rule != a.rule || !d.about(a.rule) })
	// A weighted shuffle: what is peculiar to such food comes first more often
	// than what is the same for all.
	shuffled, keys := make([]int, len(as)), make([]float64, len(as))
	for i := range as {
		shuffled[i], keys[i] = i, rng.ExpFloat64()/as[i].weight
	}
	slices.SortStableFunc(shuffled, func(a, b int) int { return cmp.Compare(keys[a], keys[b]) })
	for _, i := range shuffled {
		r := as[i].rule
		// Each trial is random; a few trials find what there is.
		for range 4 {
			first, ok := d.fill(rng, p, facts, r)
			if !ok || first.Verdict != v || !first.Fires(r) {
				continue
			}
			if id, second, ok := d.turn(rng, &first, r); ok {
				it := Item{r, id, [2]Twin{first, second}}
				it.decorate(rng)
				return it, true
			}
		}
	}
	return it, false
}

// about reports whether the rule can be practiced in a deck narrowed to signs.
func (d Deck) about(r *rules.Rule) bool {
	return len(d.Signs) == 0 || slices.ContainsFunc(r.When, func(c []rules.Value) bool {
		return slices.Contains(d.Signs, c[0].Sign()) || slices.Contains(c, rules.BackingOther) && slices.ContainsFunc(d.Signs, ofRecord)
	})
}

func ofRecord(id rules.SignID) bool { return id.Info().Chapter == rules.ChapterRecord }

// pick chooses one of them.
func pick[T any](rng *rand.Rand, vs []T) T { return vs[rng.IntN(len(vs))] }

// fill makes a jar that the rule fires on and that is sound in everything else.
func (d Deck) fill(rng *rand.Rand, p *rules.Product, s rules.Situation, r *rules.Rule) (j Twin, ok bool) {
	for _, c := range r.When {
		switch id := c[0].Sign(); {
		case slices.Contains(c, rules.BackingTested):
		case slices.Contains(c, rules.BackingOther):
			spoilRecord(rng, &s)
		default:
			v := pick(rng, c)
			if sound := rules.Signs[id].Sound; slices.Contains(c, sound) && rng.IntN(4) > 0 {
				v = sound
			}
			if !id.Fact() && s.Tell(v) != nil || id.Fact() && !slices.ContainsFunc(c, s.Is) {
				return
			}
		}
	}
	// A seal that broke shows; an ice rule alone does not say how.
	if !s.Possible(rules.FrozenNo) && (s.Is(rules.FrozenCold) || s.Is(rules.FrozenThawed)) && s.Open(rules.SignLid) {
		_ = s.Tell(rules.LidFlat)
	}
	complete(rng, &s)
	return judged(p, s)
}

// spoilRecord takes the tested process away, by one thing where that is enough.
func spoilRecord(rng *rand.Rand, s *rules.Situation) {
	// A pickle is still good for something in enough vinegar.
	if s.Is(rules.ClassPickled) && s.Open(rules.SignAcid) {
		_ = s.Tell(rules.AcidHalf)
	}
	if processed(s) {
		_ = s.Tell(pick(rng, []rules.Value{rules.ProcessShort, rules.StandingChanged, rules.StandingUnshown}))
	}
}

// processed reports whether a tested process is published for the food.
func processed(s *rules.Situation) bool {
	return !s.Is(rules.RouteMonths) && !s.Is(rules.RouteBottle) && !s.Is(rules.RouteNone)
}

// fitClosure makes the closure and the tests of a seal match: without a flat metal
// lid, the tests are different.
func fitClosure(s *rules.Situation) {
	switch {
	case s.Is(rules.ClosureClamp), (s.Is(rules.LidNone) || s.Is(rules.PressNone)) && s.Possible(rules.LiftHolds) && s.Possible(rules.ClosureClamp):
		_ = s.Tell(rules.ClosureClamp, rules.LidNone, rules.PressNone)
	case s.Is(rules.ClosureWax), s.Is(rules.PressNone), s.Is(rules.LidNone):
		_ = s.Tell(rules.ClosureWax, rules.LidNone, rules.PressNone, rules.LiftNone)
	case s.Is(rules.ClosureCap), s.Is(rules.LiftNone):
		_ = s.Tell(rules.ClosureCap, rules.LiftNone)
	}
}

// complete sets every sign that is still open, as on a sound jar. Signs that
// were told keep what they were told; what that rules out is told accordingly.
func complete(rng *rand.Rand, s *rules.Situation) {
	if !s.Possible(rules.OpenedNo) && s.Open(rules.SignOpened) {
		_ = s.Tell(pick(rng, s.Values(rules.SignOpened)))
	}
	fitClosure(s)
	if s.Open(rules.SignMethod) {
		ways := methods(s)
		switch cold := s.Is(rules.OpenedChilled) || s.Is(rules.OpenedFrozen) || s.Is(rules.OpenedThawed); {
		case cold && (ways == nil || rng.IntN(2) == 0): // what is in the cold was mostly never canned
			_ = s.Tell(pick(rng, []rules.Value{rules.MethodHotFill, rules.MethodNone}))
		case ways != nil:
			_ = s.Tell(pick(rng, ways))
		default:
			_ = s.Tell(pick(rng, []rules.Value{rules.MethodPressure, rules.MethodBoiling, rules.MethodUntold}))
		}
	}
	if !processed(s) || slices.ContainsFunc(unheated, s.Is) {
		if s.Open(rules.SignProcess) {
			_ = s.Tell(rules.ProcessUntold)
		}
		if s.Open(rules.SignStanding) {
			_ = s.Tell(rules.StandingUnshown)
		}
	}
	if s.Open(rules.SignStanding) && !s.Open(rules.SignExtras) && !s.Is(rules.ExtrasNone) {
		_ = s.Tell(rules.StandingChanged)
	}
	if s.Open(rules.SignRelease) && !s.Possible(rules.OpenedNo) && !sealed(s) {
		_ = s.Tell(rules.ReleaseNone)
	}
	rest(s)
}

// rest sets what is still open, and can be observed, as on a sound jar.
func rest(s *rules.Situation) {
	if s.Possible(rules.OpenedNo) {
		_ = s.Tell(rules.OpenedNo)
	}
	for i := range rules.Signs {
		id := rules.SignID(i)
		switch {
		case id.Fact() || !s.Open(id) || id == rules.SignOpened:
		case !canShow(s, id):
		default:
			_ = s.Tell(rules.Signs[i].Sound)
		}
	}
}

// canShow reports whether the sign can be observed on the jar as it stands.
func canShow(s *rules.Situation, id rules.SignID) bool {
	one := *s
	return one.Tell(rules.Signs[id].Sound) == nil && one[rules.SignOpened] == s[rules.SignOpened]
}

// sealed reports whether no test of the seal has failed.
func sealed(s *rules.Situation) bool {
	return s.Possible(rules.LidDown) && s.Possible(rules.PressFirm) && s.Possible(rules.LiftHolds)
}

// turn looks for a twin: one sign changed to another value, with another verdict
// that this sign decides. It first tries odd signs in the rule, then other signs in
// the rule, then any.
func (d Deck) turn(rng *rand.Rand, j *Twin, r *rules.Rule) (id rules.SignID, twin Twin, ok bool) {
	var order [3][]rules.SignID
	record := slices.ContainsFunc(r.When, func(c []rules.Value) bool { return c[0].Sign() == rules.SignBacking })
	for _, id := range j.KnownSigns() {
		if id == rules.SignOpened || len(d.Signs) > 0 && !slices.Contains(d.Signs, id) {
			continue // another state of opening would change what there is to see
		}
		near := 2
		if record && ofRecord(id) || slices.ContainsFunc(r.When, func(c []rules.Value) bool { return c[0].Sign() == id }) {
			near = 1
			if !j.sound(id) {
				near = 0
			}
		}
		order[near] = append(order[near], id)
	}
	for _, ids := range order {
		for _, i := range rng.Perm(len(ids)) {
			id := ids[i]
			values := id.Info().Values
			for _, k := range rng.Perm(len(values)) {
				s := j.Situation
				s.Forget(id)
				if values[k].Value == j.value(id) || s.Tell(values[k].Value) != nil {
					continue
				}
				twin, ok := judged(j.Product, s)
				if ok && twin.Verdict != j.Verdict && slices.Contains(stricter(j, &twin).Deciders(), id) {
					return id, twin, true
				}
			}
		}
	}
	return
}

// stricter is the jar with the stricter verdict.
func stricter(a, b *Twin) *Twin {
	if b.Verdict > a.Verdict {
		return b
	}
	return a
}

// decorate adds up to two oddities that change neither verdict, so that not every
// odd thing is the deciding one.
func (it *Item) decorate(rng *rand.Rand) {
	told := it.Jars[0].KnownSigns()
	for range rng.IntN(3) {
		id := pick(rng, told)
		if c := id.Info().Chapter; id == it.Sign || id == rules.SignOpened || c == rules.ChapterRecord || !it.Jars[0].sound(id) {
			continue
		}
		v := pick(rng, id.Info().Values).Value
		var jars [2]Twin
		same := true
		for i := range jars {
			s := it.Jars[i].Situation
			s.Forget(id)
			ok := s.Tell(v) == nil
			if ok {
				jars[i], ok = judged(it.Jars[i].Product, s)
			}
			same = same && ok && jars[i].Verdict == it.Jars[i].Verdict
		}
		if same && jars[0].Fires(it.About) {
			it.Jars = jars
		}
	}
}
