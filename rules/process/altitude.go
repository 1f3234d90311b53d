package process

// Feet is an altitude above sea level in whole feet; a fraction of a foot
// counts as the next foot up, so that no band edge is rounded away.
type Feet int

// FeetFromMeters converts whole meters, rounding up: 305 m are 1,001 ft and
// belong to the band above 1,000 ft.
func FeetFromMeters(m int) Feet {
	const perTenKilometers = 3048 // 1 ft is 0.3048 m exactly
	f := m * 10000 / perTenKilometers
	if f*perTenKilometers < m*10000 {
		f++
	}
	return Feet(f)
}

// Bands are the bands of altitude that a person is asked for, each named by its
// highest foot: below 1,000 ft, below 2,000 ft and so on.
var Bands = []Feet{999, 1999, 2999, 3999, 4999, 5999, 6999, 7999, 8999, 9999}

// BandUpTo returns every foot of the band that is named by its highest.
func BandUpTo(feet Feet) Range { return Between(int(feet-feet%1000), int(feet)) }

// Meters are the whole meters in an altitude, rounded toward the sea.
func (f Feet) Meters() int { return int(f) * 3048 / 10000 }

// BoilMinutes is how long to boil home-canned food before serving it, as an
// extra and never as a rescue: 10 minutes below 1,000 ft and one minute more
// for each further 1,000 ft, at and above each thousand: 11 minutes at 1,000 ft
// and 15 at 5,000 ft. Later wordings leave open which side of a thousand an edge
// belongs to; the text of 1994 does not.
//
// Source: US Department of Agriculture, AIB 539, 1994 text, For safety's sake
// (read in a copy); National Center for Home Food Preservation, For Safety's
// Sake; US National Agricultural Library, home canning exhibit (both read).
func BoilMinutes(at Feet) int { return 10 + max(0, int(at)/1000) }
