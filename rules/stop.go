package rules

import "slices"

// Fault is what a sign can be proof of by itself.
type Fault uint8

// The faults. Values with one of them mean discard, whatever else is known.
const (
	NoFault  Fault = iota
	Spoilage       // something grew in the jar
	LostSeal       // air could get in
	Accident       // glass, flood or fire: nothing to do with how it was canned
)

// StopSign is a sign that alone means discard, for the page that must work
// before, or without, the program.
type StopSign struct {
	Proofs []Proof
	Short  Text // as one of a list of things
	Do     Text
}

// Proof is a value that alone is proof of a fault.
type Proof struct {
	Value Value
	Fault Fault
}

// Shows is the fault that the value alone is proof of, as StopSigns says.
func (v Value) Shows() Fault { return faultOf[v] }

// faultOf indexes the proofs.
var faultOf = provenFaults()

// provenFaults stays a function of its own: see prepared.
//
//go:noinline
func provenFaults() (of [NumValues]Fault) {
	for i := range StopSigns {
		for _, p := range StopSigns[i].Proofs {
			of[p.Value] = p.Fault
		}
	}
	return
}

// Cites names the sources of the sign: those of every rule that discards a jar
// that shows one of its values.
func (s *StopSign) Cites() (cs []Cite) {
	for p := range Parts {
		for i := range Parts[p].Rules {
			r := &Parts[p].Rules[i]
			if r.Kind != Restriction || r.Then != Discard {
				continue
			}
			for _, c := range r.When {
				if slices.Contains(c, s.Proofs[0].Value) {
					cs = append(cs, r.Cites...)
				}
			}
		}
	}
	return
}

// StopSigns lists them in the order they are looked for. It is the one list of what
// alone means discard: TestProveStopSigns holds it to the rules.
var StopSigns = []StopSign{
	{[]Proof{{LidBulged, Spoilage}}, "a bulging lid", "The lid bulges or is swollen."},
	{[]Proof{{SeepWet, LostSeal}, {SeepStreak, LostSeal}, {LevelDropped, LostSeal}}, "a leak", "It leaks, has a dried streak below the lid, or its level has dropped."},
	{[]Proof{{PressGives, LostSeal}, {LidFlat, LostSeal}, {LiftOff, LostSeal}, {ReleaseNone, LostSeal}, {FrozenThawed, LostSeal}}, "a seal lost in storage", "The lid gives when pressed, or comes off: it has lost its seal in storage."},
	{[]Proof{{GlassCracked, Accident}}, "cracked glass", "The glass is cracked or chipped."},
	{[]Proof{{MoldSeen, Spoilage}, {UnderlidFuzzy, Spoilage}}, "mold", "There is mold, anything fuzzy, in any color."},
	{[]Proof{{BubblesRising, Spoilage}, {FilmFoam, Spoilage}}, "rising bubbles", "Bubbles rise, or it foams."},
	{[]Proof{{CloudMurky, Spoilage}, {BodySlimy, Spoilage}, {TopFilm, Spoilage}, {FilmFilm, Spoilage}}, "murky or slimy food, or a film", "The liquid is murky, the food slimy, or a film lies on top."},
	{[]Proof{{ReleaseSpurt, Spoilage}, {ReleaseHiss, Spoilage}}, "spurting", "It spurts or hisses outward when opened."},
	{[]Proof{{SmellOff, Spoilage}, {OdorOff, LostSeal}}, "an off smell", "It smells off, open or closed."},
	{[]Proof{{RustThrough, LostSeal}, {UnderlidPitted, LostSeal}}, "rust through the lid", "The lid is rusted or eaten through."},
	{[]Proof{{ColorOdd, Spoilage}}, "an unnatural color", "The food has a color it should not have."},
	{[]Proof{{IllSeen, Spoilage}}, "someone ill who ate from it", "Someone who ate from it sees double, has drooping eyelids, or trouble swallowing or speaking."},
	{[]Proof{{WetFlood, Accident}, {PlaceFire, Accident}}, "a flood or fire", "Flood water touched it, or it stood near a fire."},
}
