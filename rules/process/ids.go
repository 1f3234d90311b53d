package process

// The names that files give to a pack, a gauge and the venting.
var (
	packIDs  = []string{"hot", "raw"}
	gaugeIDs = []string{"dial", "weighted"}
	ventIDs  = []string{"yes", "no"}
)

// Packs, Gauges and Vents list the single values, in the order of their bits.
var (
	Packs  = []Pack{Hot, Raw}
	Gauges = []Gauge{Dial, Weighted}
	Vents  = []Vent{Vented, Unvented}
)

// ID is the name of a single pack in files, and "" for a set of several.
func (p Pack) ID() string { return idOf(p, Packs, packIDs) }

// ID is the name of a single gauge in files, and "" for a set of several.
func (g Gauge) ID() string { return idOf(g, Gauges, gaugeIDs) }

// ID answers in files whether the canner was vented, and is "" while both are
// possible.
func (v Vent) ID() string { return idOf(v, Vents, ventIDs) }

// PackByID returns the pack that a file names; 0, which is not known, for any other text.
func PackByID(id string) Pack { return named(id, Packs, packIDs) }

// GaugeByID returns the gauge that a file names; 0, which is not known, for any other text.
func GaugeByID(id string) Gauge { return named(id, Gauges, gaugeIDs) }

// VentByID returns what a file says of the venting; 0, which is not known, for any other text.
func VentByID(id string) Vent { return named(id, Vents, ventIDs) }

// IDs lists the names of values in files.
func IDs[T interface{ ID() string }](all []T) (ids []string) {
	for _, v := range all {
		ids = append(ids, v.ID())
	}
	return
}

func idOf[T comparable](v T, all []T, ids []string) string {
	for i := range all {
		if all[i] == v {
			return ids[i]
		}
	}
	return ""
}

func named[T any](id string, all []T, ids []string) (none T) {
	for i := range ids {
		if ids[i] == id {
			return all[i]
		}
	}
	return none
}
