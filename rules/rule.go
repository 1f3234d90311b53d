package rules

import "larderlamp/rules/prose"

// Kind is what a rule does to the verdict.
type Kind uint8

const (
	// Support is published guidance that lets a jar be kept or used soon.
	Support Kind = iota + 1
	// PlainSupport supports food that is plainly acid: no process is needed
	// against botulism. It makes [BackingPlain].
	PlainSupport
	// ColdSupport supports food that has been cold since the day it was made, and that
	// is acid, was never canned, or was canned by a published recipe: its days count,
	// not its process. It makes [BackingTested].
	ColdSupport
	// Restriction makes the advice at least as strict as its verdict.
	Restriction
	// Lack says in words why support is missing. It leaves the verdict alone:
	// without support a jar is discarded anyway.
	Lack
	// Note explains a harmless look-alike or a fact. It leaves the verdict alone.
	Note
)

var kindWords = [...]Text{Support: "support", PlainSupport: "plain support", ColdSupport: "cold support", Restriction: "restriction", Lack: "missing support", Note: "note"}

// Text is the kind in words.
func (k Kind) Text() Text { return kindWords[k] }

// String is it in English.
func (k Kind) String() string { return k.Text().String() }

// Supports reports whether rules of the kind let a jar be kept or used soon.
func (k Kind) Supports() bool { return k <= ColdSupport }

// Backs returns the value of [SignBacking] that a matching rule gives, unless a rule
// that gives a stronger one matches too.
func (r *Rule) Backs() Value {
	switch {
	case r.Kind == ColdSupport, r.Kind == Support && r.Then == Keep:
		return BackingTested
	case r.Kind == PlainSupport:
		return BackingPlain
	}
	return BackingOther
}

// When is a list of conditions that must all hold. Each condition lists values
// of one sign; it holds when the jar shows one of them.
type When [][]Value

// Rule is one piece of guidance.
type Rule struct {
	ID    string // chapter.subject.detail, the anchor in the rule book
	Kind  Kind
	When  When
	Then  Verdict // 0 for Lack and Note
	Say   Text    // the reason, in plain words
	Cites []Cite
}

// Part is a sub-decision: the rules of one piece of a chapter.
type Part struct {
	ID      string
	Name    Text
	Chapter Chapter
	Rules   []Rule
}

// The parts, in the order they are evaluated. Those with support come first,
// because the later parts use the backing.
const (
	PartRecord = iota
	PartCold
	PartBatch
	PartSeal
	PartOutside
	PartLiquid
	PartColor
	PartAging
	PartDeposit
	PartStorage
	PartOpening
	PartOpened
	PartSour
	PartWarmth

	NumParts = iota

	// supportParts is how many parts hold support: they come first.
	supportParts = PartCold + 1
)

// Parts holds every rule.
var Parts = [NumParts]Part{
	PartRecord:  {"record", "The record", ChapterRecord, recordRules},
	PartCold:    {"cold", "Cold since it was made", ChapterRecord, coldRules},
	PartBatch:   {"batch", "The closure and the batch", ChapterRecord, batchRules},
	PartSeal:    {"seal", "The seal", ChapterOutside, sealRules},
	PartOutside: {"outside", "The outside", ChapterOutside, outsideRules},
	PartLiquid:  {"liquid", "The liquid", ChapterGlass, liquidRules},
	PartColor:   {"color", "The color", ChapterGlass, colorRules},
	PartAging:   {"aging", "Heat and age", ChapterGlass, agingRules},
	PartDeposit: {"deposit", "Mold, crystals and what lies on top", ChapterGlass, depositRules},
	PartStorage: {"storage", "Storage", ChapterStorage, storageRules},
	PartOpening: {"opening", "Opening", ChapterOpening, openingRules},
	PartOpened:  {"opened", "After opening", ChapterOpened, openedRules},
	PartSour:    {"sour", "Days that rest on acid", ChapterOpened, sourRules},
	PartWarmth:  {"warmth", "Hours in the warm", ChapterOpened, warmthRules},
}

// Heading names the part within its chapter.
func (p *Part) Heading() Text {
	if p.Name == p.Chapter.Text() {
		return p.Name
	}
	return prose.Say("%s: %s", p.Chapter, p.Name)
}

// Inputs lists the signs the part depends on, in sign order.
func (p *Part) Inputs() []SignID {
	var used [NumSigns]bool
	for i := range p.Rules {
		for _, c := range p.Rules[i].When {
			used[c[0].Sign()] = true
		}
	}
	var ids []SignID
	for i, u := range used {
		if u {
			ids = append(ids, SignID(i))
		}
	}
	return ids
}

// RuleByID finds a rule by its stable name.
func RuleByID(id string) (*Rule, bool) {
	id = CurrentID(id)
	for p := range Parts {
		for i := range Parts[p].Rules {
			if Parts[p].Rules[i].ID == id {
				return &Parts[p].Rules[i], true
			}
		}
	}
	return nil, false
}

// RulesOn lists the rules that depend on a sign, in the order of the parts.
func RulesOn(id SignID) (rs []*Rule) {
	for p := range Parts {
		for i := range Parts[p].Rules {
			r := &Parts[p].Rules[i]
			for _, c := range r.When {
				if c[0].Sign() == id {
					rs = append(rs, r)
					break
				}
			}
		}
	}
	return
}
