package rules_test

import (
	"slices"
	"testing"

	"larderlamp/rules"
)

// The proofs cover the whole space of each part: every combination of the values
// of its inputs, once for each backing that a jar's safety can have. The other signs
// are those of a sound jar, so that the part alone decides. Nothing is sampled.

// eachSituation calls f with every combination of the part's inputs. The last input
// changes first.
func eachSituation(t testing.TB, p *rules.Part, f func(rules.Situation)) (n int) {
	inputs := told(p)
	bases := []rules.Situation{
		soundJar(t), // a tested process
		soundJar(t, rules.ClassAcid, rules.RouteBoiling, rules.StandingUnshown, rules.MethodBoiling),                    // plainly acid
		soundJar(t, rules.ClassPickled, rules.RouteBoiling, rules.StandingUnshown, rules.MethodBoiling, rules.AcidHalf), // other support
		soundJar(t, rules.ClassAcid, rules.RouteBoiling, rules.FoamsNo),                                                 // acid fruit, tested
		soundJar(t, rules.MethodNone), // no support, but that of the cold
	}
	for _, base := range bases {
		for i := range rules.Signs {
			if c := rules.Signs[i].Chapter; c >= rules.ChapterOpening && rules.SignID(i) != rules.SignOpened {
				base[i] = 1
			}
		}
		var walk func(int)
		walk = func(i int) {
			if i == len(inputs) {
				n++
				f(base)
				return
			}
			id := inputs[i]
			was := base[id]
			for bit := range id.Info().Values {
				base[id] = 1 << bit
				walk(i + 1)
			}
			base[id] = was
		}
		walk(0)
		if p == &rules.Parts[rules.PartRecord] {
			break // every record is among its combinations
		}
	}
	return n
}

// told lists the inputs of a part but for the backing, which follows from the record.
func told(p *rules.Part) []rules.SignID {
	return slices.DeleteFunc(slices.Clone(p.Inputs()), func(id rules.SignID) bool { return id == rules.SignBacking })
}

// outcomes holds the verdicts that every situation of a part allows, in the order of
// eachSituation, for proofs that compare situations with each other.
type outcomes struct {
	lowest, highest []rules.Verdict
	// apart says for each sign how far two situations are from each other that differ
	// only in it, by one value.
	apart map[rules.SignID]int
}

func outcomesOf(t testing.TB, p *rules.Part) outcomes {
	inputs := told(p)
	of := outcomes{apart: map[rules.SignID]int{}}
	apart := 1
	for _, id := range slices.Backward(inputs) {
		of.apart[id] = apart
		apart *= len(id.Info().Values)
	}
	eachSituation(t, p, func(s rules.Situation) {
		n := len(of.lowest)
		for _, id := range inputs {
			if value := n / of.apart[id] % len(id.Info().Values); s[id] != 1<<value {
				t.Fatalf("%s: situation %d has not the value %d of %s: %v", p.ID, n, value, id.ID(), describe(s))
			}
		}
		o := rules.Evaluate(s)
		of.lowest, of.highest = append(of.lowest, o.Lowest), append(of.highest, o.Highest)
	})
	return of
}

// position is which of the values of its sign a value is.
func position(v rules.Value) int {
	return slices.IndexFunc(v.Sign().Info().Values, func(is rules.ValueInfo) bool { return is.Value == v })
}

// naive decides rule by rule, as the guidance is written, without any of the
// engine's machinery. Every sign that a rule names must be known.
func naive(s rules.Situation) rules.Verdict {
	matches := func(r *rules.Rule) bool {
		for _, c := range r.When {
			v, ok := s.Known(c[0].Sign())
			if !ok || !slices.Contains(c, v) {
				return false
			}
		}
		return true
	}
	best := rules.Discard
	backing := rules.BackingOther
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			if !r.Kind.Supports() || !matches(r) {
				continue
			}
			best = min(best, r.Then)
			switch {
			case r.Then == rules.Keep || r.Kind == rules.ColdSupport:
				backing = rules.BackingTested
			case r.Kind == rules.PlainSupport && backing == rules.BackingOther:
				backing = rules.BackingPlain
			}
		}
	}
	s[rules.SignBacking] = 1 << (backing - rules.BackingTested)
	verdict := best
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			if r := &rules.Parts[p].Rules[i]; r.Kind == rules.Restriction && matches(r) {
				verdict = max(verdict, r.Then)
			}
		}
	}
	return verdict
}

// The engine gives one verdict for every fully known jar, the same one that the
// rules give when read one by one.
func TestProveTotalAndEqualToNaive(t *testing.T) {
	for p := range rules.Parts {
		part := &rules.Parts[p]
		if len(part.Inputs()) > 10 {
			t.Errorf("%s: got %d inputs, want at most 10", part.ID, len(part.Inputs()))
		}
		count := map[rules.Verdict]int{}
		n := eachSituation(t, part, func(s rules.Situation) {
			o := rules.Evaluate(s)
			if want := naive(s); o.Lowest != want || o.Highest != want {
				if count[0]++; count[0] < 4 {
					t.Errorf("%s: got %v..%v, want %v as from the rules read one by one: %v", part.ID, o.Lowest, o.Highest, want, describe(s))
				}
			}
			count[o.Lowest]++
		})
		t.Logf("%s: %d situations of %d signs: keep %d, use soon %d, discard %d", part.ID, n, len(part.Inputs()),
			count[rules.Keep], count[rules.UseSoon], count[rules.Discard])
	}
}

// No rule is dead, and none of those that decide is made redundant by all the
// others together: without it some situation comes out differently.
func TestProveEveryRuleMatters(t *testing.T) {
	for p := range rules.Parts {
		part := &rules.Parts[p]
		lives, decides := make([]bool, len(part.Rules)), make([]bool, len(part.Rules))
		eachSituation(t, part, func(s rules.Situation) {
			o := rules.Evaluate(s)
			for i := range part.Rules {
				if o.Certain[p]>>i&1 != 0 {
					lives[i] = true
					decides[i] = decides[i] || without(&o, p, i) != o.Lowest
				}
			}
		})
		for i := range part.Rules {
			r := &part.Rules[i]
			if !lives[i] {
				t.Errorf("%s never matches", r.ID)
			}
			if (r.Kind == rules.Restriction || r.Kind.Supports()) != decides[i] {
				t.Errorf("%s, a %v: got whether it alone decides somewhere: %v", r.ID, r.Kind, decides[i])
			}
		}
	}
}

// without is the verdict of a fully known jar if one rule were not there. The
// backing is left as it is.
func without(o *rules.Outcome, part, rule int) rules.Verdict {
	best, verdict := rules.Discard, rules.Keep
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			switch {
			case o.Certain[p]>>i&1 == 0 || p == part && i == rule:
			case r.Kind.Supports():
				best = min(best, r.Then)
			case r.Kind == rules.Restriction:
				verdict = max(verdict, r.Then)
			}
		}
	}
	return max(best, verdict)
}

// Where support is missing, words say why: no jar is discarded without a reason.
func TestProveMissingSupportIsNamed(t *testing.T) {
	unnamed := 0
	part := &rules.Parts[rules.PartRecord]
	var exist [rules.NumValues][rules.NumValues]bool // class and route of a food
	for i := range rules.Catalog {
		exist[rules.Catalog[i].Class][rules.Catalog[i].Route] = true
	}
	eachSituation(t, part, func(s rules.Situation) {
		o := rules.Evaluate(s)
		class, _ := s.Known(rules.SignClass)
		route, _ := s.Known(rules.SignRoute)
		if o.Support.Best != rules.Discard || !exist[class][route] {
			return
		}
		for i := range part.Rules {
			if part.Rules[i].Kind == rules.Lack && o.Certain[rules.PartRecord]>>i&1 != 0 {
				return
			}
		}
		if unnamed++; unnamed < 4 {
			t.Errorf("got no reason for a discard: %v", describe(s))
		}
	})
}

// Missing support is explained only where support is missing.
func TestProveLackNeverMeetsKeep(t *testing.T) {
	part := &rules.Parts[rules.PartRecord]
	eachSituation(t, part, func(s rules.Situation) {
		o := rules.Evaluate(s)
		for i := range part.Rules {
			if part.Rules[i].Kind == rules.Lack && o.Certain[rules.PartRecord]>>i&1 != 0 && o.Support.Best == rules.Keep {
				t.Fatalf("got %s for a jar that has support: %v", part.Rules[i].ID, describe(s))
			}
		}
	})
}

// A keep is a closed, sealed jar with a tested process behind it, in which
// nothing is odd that is not known to be harmless for its product.
func TestProveKeepIsSealedSupportedAndSound(t *testing.T) {
	must := []rules.Value{rules.OpenedNo, rules.LidDown, rules.PressFirm, rules.LiftHolds, rules.GlassSound, rules.MoldNone,
		rules.StandingPublished, rules.ProcessMet, rules.ExtrasNone, rules.ClosureLid, rules.FrozenNo, rules.WetDry, rules.PlaceDark}
	may := map[rules.Value][]rules.Value{rules.FrozenNo: {rules.FrozenHeld}}
	keeps := 0
	for p := range rules.Parts {
		eachSituation(t, &rules.Parts[p], func(s rules.Situation) {
			if o := rules.Evaluate(s); o.Lowest != rules.Keep {
				return
			}
			keeps++
			for _, v := range must {
				ok := s.Is(v)
				for _, also := range may[v] {
					ok = ok || s.Is(also)
				}
				if !ok {
					t.Fatalf("got keep without %s %s: %v", v.Sign().ID(), v.ID(), describe(s))
				}
			}
			if s.Is(rules.ClassLow) && !s.Is(rules.MethodPressure) {
				t.Fatalf("got keep for low-acid food without a pressure canner: %v", describe(s))
			}
			if s.Is(rules.AcidShort) && (s.Is(rules.ClassBorderline) || s.Is(rules.ClassPickled)) || s.Is(rules.ClassBorderline) && !s.Is(rules.AcidFull) {
				t.Fatalf("got keep without the acid that the food needs: %v", describe(s))
			}
		})
	}
	t.Logf("%d situations that are kept", keeps)
}

// Opening a single sign again makes the interval contain the verdicts of all
// its values: what is not known never makes the advice milder, and no jar is
// kept while a sign that could forbid it is unknown.
func TestProveUnknownIsSound(t *testing.T) {
	checked, exact := 0, 0
	for p := range rules.Parts {
		part := &rules.Parts[p]
		inputs, known := told(part), outcomesOf(t, part)
		n := -1
		eachSituation(t, part, func(s rules.Situation) {
			n++
			for _, id := range inputs {
				if s[id] != 1 { // once for each group of values
					continue
				}
				lowest, highest := rules.Discard, rules.Keep
				for value := range id.Info().Values {
					at := n + value*known.apart[id]
					lowest, highest = min(lowest, known.lowest[at]), max(highest, known.highest[at])
				}
				one := s
				one.Forget(id)
				o := rules.Evaluate(one)
				checked++
				if o.Lowest > lowest || o.Highest < highest {
					t.Fatalf("%s open: got %v..%v, want it to include %v..%v as with its values: %v", id.ID(), o.Lowest, o.Highest, lowest, highest, describe(s))
				}
				if o.Lowest == lowest && o.Highest == highest {
					exact++
				}
			}
		})
	}
	t.Logf("%d situations with one sign open, the interval is exact in %d (%.2f %%)", checked, exact, 100*float64(exact)/float64(checked))
}

// Adding a value to what is possible never takes a rule out of the possible
// ones nor into the certain ones. With this the interval of any partial
// situation contains that of every narrower one, down to the full ones.
func TestProveKnowledgeOnlyNarrows(t *testing.T) {
	for i := range rules.Signs {
		id := rules.SignID(i)
		if id == rules.SignBacking {
			continue
		}
		n := len(id.Info().Values)
		for _, base := range []rules.Situation{rules.NewSituation(), soundJar(t)} {
			for set := 1; set < 1<<n; set++ {
				for bit := range n {
					if set>>bit&1 != 0 {
						continue
					}
					small, large := base, base
					small[id], large[id] = rules.Set(set), rules.Set(set|1<<bit)
					a, b := rules.Evaluate(small), rules.Evaluate(large)
					for p := range rules.Parts {
						if b.Certain[p]&^a.Certain[p] != 0 || a.Possible[p]&^b.Possible[p] != 0 {
							t.Fatalf("%s widened from %b to %b: got fewer possible or more certain rules in part %s", id.ID(), set, set|1<<bit, rules.Parts[p].ID)
						}
					}
					if b.Lowest > a.Lowest || b.Highest < a.Highest {
						t.Fatalf("%s: %b: got %v..%v; the wider %b: got %v..%v, want an interval that includes the first", id.ID(), set, a.Lowest, a.Highest, set|1<<bit, b.Lowest, b.Highest)
					}
				}
			}
		}
	}
}

// What the vocabulary calls proof of a fault is exactly what alone means discard,
// whatever else is unknown, on a jar that has stood on a shelf for more than a
// day; and the list of stop signs names every one of them, and no other.
func TestProveStopSigns(t *testing.T) {
	listed := map[rules.Value]int{}
	for _, stop := range rules.StopSigns {
		for _, p := range stop.Proofs {
			listed[p.Value]++
		}
	}
	for i := range rules.Signs {
		id := rules.SignID(i)
		switch c := id.Info().Chapter; {
		case id.Fact() || c == rules.ChapterRecord || c == rules.ChapterOpened && id != rules.SignIll || id == rules.SignOpened:
			continue // none of these is seen on the jar
		}
		for _, v := range id.Info().Values {
			s := rules.NewSituation()
			state := rules.OpenedNo
			switch id.Info().Chapter {
			case rules.ChapterOpening:
				state = rules.OpenedNow
			case rules.ChapterOpened:
				state = rules.OpenedBefore
			}
			known := []rules.Value{state, v.Value}
			if id != rules.SignAge {
				known = append(known, rules.AgeYear)
			}
			if id != rules.SignFrozen {
				known = append(known, rules.FrozenNo)
			}
			if err := s.Tell(known...); err != nil {
				t.Fatal(err)
			}
			o := rules.Evaluate(s)
			if v.Value == rules.LevelHalf {
				continue // a doubt about the heating, that no other sign can lift
			}
			if alone := o.Lowest == rules.Discard; alone != (v.Value.Shows() != rules.NoFault) {
				t.Errorf("%s %s: got “alone means discard” %v, proof of a fault: %v; want both or neither", id.ID(), v.ID, alone, v.Value.Shows())
			}
			if want := v.Value.Shows() != rules.NoFault; (listed[v.Value] == 1) != want {
				t.Errorf("%s %s: got it %d times among the stop signs; proof of a fault: %v", id.ID(), v.ID, listed[v.Value], v.Value.Shows())
			}
			delete(listed, v.Value)
		}
	}
	if len(listed) > 0 {
		t.Errorf("got stop signs that are not signs of a jar: %v", listed)
	}
}

// Every value of every sign that a rule can use says what the rule takes for
// granted when it uses that value.
func TestEveryValueSaysWhatIsAssumed(t *testing.T) {
	for i := range rules.Signs {
		for _, v := range rules.Signs[i].Values {
			if v.Assumes == "" || v.Label == "" {
				t.Errorf("%s %s: got the label %q and the assumption %q, want both", rules.Signs[i].ID, v.ID, v.Label, v.Assumes)
			}
		}
		// What cannot be seen on the jar itself can be left open at the end: then
		// the answer says where to look for it.
		switch info := &rules.Signs[i]; {
		case rules.SignID(i).Fact():
		case info.Chapter == rules.ChapterRecord, info.Chapter == rules.ChapterStorage, info.Chapter == rules.ChapterOpened:
			if info.Find == "" {
				t.Errorf("%s: nothing says how to find it out", info.ID)
			}
		}
	}
}

// Every sign of a jar or its record that has an order of harm stands in worse,
// with all of its values.
func TestWorseIsComplete(t *testing.T) {
	// Their values have no order of their own: the product decides which is worse.
	unordered := map[rules.SignID]bool{rules.SignColor: true, rules.SignDeposit: true, rules.SignTop: true, rules.SignExtras: true}
	// On the first day a lost seal can be put right, and nothing else can. The
	// level of a jar that was opened earlier says nothing more, and what was never
	// sealed has no seal to lose.
	in := map[rules.Value]bool{rules.AgeDay: true, rules.OpenedBefore: true, rules.OpenedBottle: true}
	for _, values := range worse {
		for _, v := range values {
			in[v] = true
		}
	}
	for i := range rules.Signs {
		id := rules.SignID(i)
		if id.Fact() || unordered[id] {
			continue
		}
		for _, v := range id.Info().Values {
			if !in[v.Value] {
				t.Errorf("%s %s is in no order of harm", id.ID(), v.ID)
			}
		}
	}
}

// worse lists, for signs whose values have an order, the values from mild to
// strict. Moving along it never makes the advice milder.
var worse = map[string][]rules.Value{
	"lid":          {rules.LidDown, rules.LidDented, rules.LidFlat, rules.LidBulged},
	"lid shape":    {rules.LidDown, rules.LidNone, rules.LidFlat},
	"odor":         {rules.OdorNone, rules.OdorOff},
	"press":        {rules.PressFirm, rules.PressNone, rules.PressGives},
	"lift":         {rules.LiftHolds, rules.LiftNone, rules.LiftOff},
	"leak":         {rules.SeepNone, rules.SeepFirstDay, rules.SeepStreak},
	"wet leak":     {rules.SeepNone, rules.SeepFirstDay, rules.SeepWet},
	"rust":         {rules.RustNone, rules.RustSpots, rules.RustThrough},
	"glass":        {rules.GlassSound, rules.GlassCracked},
	"cloud":        {rules.CloudClear, rules.CloudHazy, rules.CloudMurky},
	"sediment":     {rules.CloudClear, rules.CloudSettled, rules.CloudMurky},
	"bubbles":      {rules.BubblesNone, rules.BubblesStill, rules.BubblesRising},
	"level":        {rules.LevelUsual, rules.LevelLow, rules.LevelHalf},
	"own level":    {rules.LevelUsual, rules.LevelOwn, rules.LevelHalf},
	"level drop":   {rules.LevelUsual, rules.LevelLow, rules.LevelDropped},
	"unset":        {rules.BodyUsual, rules.BodyUnset, rules.BodySlimy},
	"body":         {rules.BodyUsual, rules.BodySoft, rules.BodySlimy},
	"mold":         {rules.MoldNone, rules.MoldSeen},
	"heat":         {rules.HeatCool, rules.HeatWarm, rules.HeatHot, rules.HeatExtreme},
	"wet":          {rules.WetDry, rules.WetDamp, rules.WetFlood},
	"place":        {rules.PlaceDark, rules.PlaceLight, rules.PlaceFire},
	"age":          {rules.AgeYear, rules.AgeTwo, rules.AgeUnknown, rules.AgeOlder},
	"opened":       {rules.OpenedNo, rules.OpenedNow},
	"thawed":       {rules.OpenedFrozen, rules.OpenedThawed},
	"smell":        {rules.SmellUsual, rules.SmellOff},
	"film":         {rules.FilmClean, rules.FilmFilm},
	"underlid":     {rules.UnderlidClean, rules.UnderlidDark, rules.UnderlidPitted},
	"days":         {rules.DaysTwo, rules.DaysFour, rules.DaysWeek, rules.DaysTwoWeeks, rules.DaysThreeWeeks, rules.DaysMonth, rules.DaysTwoMonths, rules.DaysThreeMonths, rules.DaysSixMonths, rules.DaysLonger},
	"chill":        {rules.ChillCold, rules.ChillPaused, rules.ChillDay, rules.ChillWarm},
	"out":          {rules.OutOne, rules.OutTwo, rules.OutDay, rules.OutLonger},
	"air":          {rules.AirMild, rules.AirHot},
	"recipe":       {rules.StandingPublished, rules.StandingChanged, rules.StandingUnshown},
	"process":      {rules.ProcessMet, rules.ProcessUnvented, rules.ProcessGauge, rules.ProcessUntold, rules.ProcessShort},
	"condition":    {rules.ConditionMet, rules.ConditionNot},
	"acid":         {rules.AcidFull, rules.AcidShort},
	"vinegar acid": {rules.AcidHalf, rules.AcidShort},
	"closure":      {rules.ClosureLid, rules.ClosureUsed, rules.ClosureWax},
	"no lid":       {rules.ClosureLid, rules.ClosureCap, rules.ClosureWax},
	"glass lid":    {rules.ClosureLid, rules.ClosureClamp, rules.ClosureWax},
	"siblings":     {rules.SiblingsSound, rules.SiblingsSeal, rules.SiblingsSpoiled, rules.SiblingsIll},
	"route":        {rules.RouteBoiling, rules.RouteNone},
	"low route":    {rules.RoutePressure, rules.RouteNone},
	"acid class":   {rules.ClassAcid, rules.ClassPickled},
	"vinegar":      {rules.ClassAcid, rules.ClassBorderline},
	"pasteurized":  {rules.MethodPasteur, rules.MethodHotFill},
	"route pickle": {rules.RoutePasteur, rules.RouteBoiling, rules.RouteNone},
	"unheated":     {rules.MethodBoiling, rules.MethodHotFill},
	"unknown heat": {rules.MethodBoiling, rules.MethodUntold, rules.MethodOven},
	"low heat":     {rules.MethodPressure, rules.MethodCooker, rules.MethodNone},
	"steam":        {rules.MethodSteam, rules.MethodSteamLong, rules.MethodHotFill},
	"ill":          {rules.IllNone, rules.IllSeen},
	"frozen":       {rules.FrozenNo, rules.FrozenHeld},
	"thawed seal":  {rules.FrozenCold, rules.FrozenThawed},
	"heater":       {rules.PlaceDark, rules.PlaceHeater, rules.PlaceFire},
	"on opening":   {rules.ReleaseIn, rules.ReleaseNone},
	"hiss":         {rules.ReleaseIn, rules.ReleaseHiss},
	"spurt":        {rules.ReleaseIn, rules.ReleaseSpurt},
	"foam":         {rules.FilmClean, rules.FilmFoam},
	"fuzz":         {rules.UnderlidClean, rules.UnderlidFuzzy},
	"cold":         {rules.OpenedFrozen, rules.OpenedChilled},
	"route months": {rules.RouteBottle, rules.RouteMonths, rules.RouteNone},
}

func TestProveWorseIsNeverMilder(t *testing.T) {
	pairs := 0
	for p := range rules.Parts {
		part := &rules.Parts[p]
		inputs, known := told(part), outcomesOf(t, part)
		type order struct {
			name   string
			values []rules.Value
			at     []int // from the situation with the first value
		}
		var orders []order // that the part asks about
		for name, values := range worse {
			if len(values) < 2 || !slices.Contains(inputs, values[0].Sign()) {
				continue
			}
			o := order{name: name, values: values}
			for _, v := range values {
				o.at = append(o.at, (position(v)-position(values[0]))*known.apart[v.Sign()])
			}
			orders = append(orders, o)
		}
		n := -1
		eachSituation(t, part, func(s rules.Situation) {
			n++
			for _, o := range orders {
				if !s.Is(o.values[0]) {
					continue
				}
				// Food from the cold may never have been canned. Then it was not canned
				// wrong, and needs no published process.
				if id := o.values[0].Sign(); (id == rules.SignMethod || id == rules.SignRoute) && (s.Is(rules.OpenedChilled) || s.Is(rules.OpenedFrozen) || s.Is(rules.OpenedThawed)) {
					continue
				}
				last := rules.Keep
				for i, at := range o.at {
					pairs++
					if known.highest[n+at] < last {
						t.Fatalf("%s: got a milder verdict for %s than for the value before it, with all else as in %v", o.name, o.values[i].ID(), describe(s))
					}
					last = known.highest[n+at]
				}
			}
		})
	}
	t.Logf("%d comparisons along %d orders", pairs, len(worse))
}

// Low-acid food is never judged milder than acid food of which all else is the
// same and for which each has the process of its kind.
func TestProveLowAcidIsNeverMilder(t *testing.T) {
	for p := range rules.Parts {
		eachSituation(t, &rules.Parts[p], func(s rules.Situation) {
			if !s.Is(rules.ClassLow) || !s.Is(rules.RoutePressure) {
				return
			}
			acid := s
			acid.Forget(rules.SignClass)
			acid.Forget(rules.SignRoute)
			if err := acid.Tell(rules.ClassAcid, rules.RouteBoiling); err != nil {
				t.Fatal(err)
			}
			low, high := rules.Evaluate(s), rules.Evaluate(acid)
			if low.Highest < high.Highest {
				t.Fatalf("got %v for low-acid food and %v for acid food: %v", low.Highest, high.Highest, describe(s))
			}
		})
	}
}

// Every product's own facts can be told, and every product with a published
// process can reach keep, by the method of its process alone.
func TestProveEveryProductCanBeJudged(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		s := rules.NewSituation()
		if err := p.Tell(&s); err != nil {
			t.Errorf("%s: %v", p.ID, err)
			continue
		}
		o := rules.Evaluate(s)
		if want := p.Processed(); (o.Lowest == rules.Keep) != want {
			t.Errorf("%s: got the mildest verdict %v; published process: %v", p.ID, o.Lowest, want)
		}
		if o.Highest != rules.Discard {
			t.Errorf("%s, nothing known: got %v as the strictest verdict, want discard", p.ID, o.Highest)
		}
	}
}

// describe names what is known of a situation, for a failure.
func describe(s rules.Situation) (words []string) {
	for i := range rules.Signs {
		if v, ok := s.Known(rules.SignID(i)); ok {
			words = append(words, rules.Signs[i].ID+"="+v.ID())
		}
	}
	return
}
