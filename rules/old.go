package rules

import "strings"

// Names that signs, values and rules had in earlier editions, and that records,
// backups, sets to practice on and addresses may still hold. They stay readable
// for good; what is new is written with the names of today.
var (
	oldSigns = map[string]SignID{"colour": SignColor, "mould": SignMold}
	// Edition 2026.1 knew one name for all closures with a seal that cannot be seen.
	oldValues = map[string]Value{"clamp-or-cap": ClosureClamp, "grey-black": ColorDark}
	oldRules  = strings.NewReplacer("colour.", "color.", ".mould", ".mold")
)

// CurrentID returns the id that a rule of an earlier edition has today. Every
// other id stays as it is.
func CurrentID(id string) string { return oldRules.Replace(id) }
