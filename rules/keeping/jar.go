package keeping

import (
	"errors"
	"fmt"
	"math"
)

// Fill says how readily heat moves inside a jar.
type Fill uint8

// The kinds of filling.
const (
	Liquid Fill = iota // juice, broth
	Pieces             // pieces in liquid
	Thick              // jam, purée, packed meat
)

// Medium is what surrounds a jar.
type Medium uint8

// The media.
const (
	StillAir Medium = iota
	Water           // or ice in water
)

// What a jar is made of. All from memory: textbook figures of heat transfer and
// the properties of glass, water and food (after Y. Choi and M. R. Okos, 1986,
// for the conductivity of wet food).
var (
	// airFilm and waterFilm carry heat between glass and medium, in W/(m²·K):
	// natural convection and, in air, radiation.
	airFilm, waterFilm = Range{5, 12}, Range{100, 500}
	// heatOfFood is the heat capacity of a filled milliliter, in J/(ml·K): from
	// jam and a tenth of headspace to water.
	heatOfFood = Range{3.0, 4.2}
	// heatOfGlass is the heat capacity of the glass around one milliliter, in
	// J/(ml·K): 0.4 to 0.9 g of it at 0.84 J/(g·K).
	heatOfGlass = Range{0.34, 0.76}
	// slender is the height of a jar over its width. Ours.
	slender = Range{1, 2}
)

const (
	glassWall   = 400    // W/(m²·K): 2.5 mm of soda-lime glass at 1 W/(m·K), from memory
	diffusivity = 1.4e-7 // m²/s of wet food, from memory: about that of water
	rootOfJ0    = 2.4048 // first root of the Bessel function J0: Abramowitz and Stegun, table 9.5
)

// inside is how much of the time of pure conduction a filling takes: none where
// the liquid stirs itself well, up to all of it. Derived, not measured.
var inside = [...]Range{Liquid: {0, 0.3}, Pieces: {0, 1}, Thick: {0.5, 1}}

// TimeConstant is how long, in hours, the mean temperature of a jar of so many
// milliliters takes to come within 37 % (1/e) of a new surrounding temperature.
// The middle of a thick filling lags behind the mean.
//
// Derived: heat capacity over surface and heat transfer, m·c/(h·A), plus the
// first term of conduction in a long cylinder, R²/(2.4048²·a), for the inside.
// The base of a jar may or may not give heat off. It fails for a volume outside
// 50 to 10,000 ml and for unknown kinds.
func TimeConstant(ml int, fill Fill, medium Medium) (Range, error) {
	if ml < 50 || ml > 10_000 {
		return Range{}, fmt.Errorf("jar: %d ml is not between 50 and 10000", ml)
	}
	if fill > Thick || medium > Water {
		return Range{}, fmt.Errorf("jar: no filling %d or medium %d", fill, medium)
	}
	film := airFilm
	if medium == Water {
		film = waterFilm
	}
	volume := float64(ml) * 1e-6
	at := func(slender, base, film, heat, inside float64) float64 {
		width := math.Cbrt(4 * volume / (math.Pi * slender))
		area := math.Pi * width * width * (slender + 0.25*(1+base))
		outer := heat * float64(ml) / area * (1/film + 1/float64(glassWall))
		inner := inside * width * width / 4 / (rootOfJ0 * rootOfJ0 * diffusivity)
		return (outer + inner) / 3600
	}
	// A slender jar has the larger surface and the shorter way out.
	return Range{
		at(slender.High, 1, film.High, heatOfFood.Low+heatOfGlass.Low, inside[fill].Low),
		at(slender.Low, 0, film.Low, heatOfFood.High+heatOfGlass.High, inside[fill].High),
	}, nil
}

// Respond is the temperature after some hours of a body of the time constant
// tau, in hours, that began at start in air of one temperature: the exact
// solution of dT/dt = (air − T)/tau.
func Respond(start, air, hours, tau float64) float64 {
	return start - (start-air)*-math.Expm1(-hours/tau)
}

// Course is the temperature of something over hours, in degrees Celsius: At[0]
// at the beginning and At[i] after i hours. In between it goes from one to the
// other without turning.
type Course struct{ At []Range }

// Follow returns the course of a jar through the air around it, hour by hour.
// Every course that begins within start, in air that stays within its hour and
// with a time constant within tau (in hours), changing or not, stays within the
// result.
func Follow(start Range, air []Range, tau Range) (Course, error) {
	if err := errors.Join(start.check(), tau.check()); err != nil {
		return Course{}, fmt.Errorf("jar: %w", err)
	}
	if tau.Low <= 0 {
		return Course{}, fmt.Errorf("jar: a time constant of %v hours", tau.Low)
	}
	c := Course{At: make([]Range, 1, len(air)+1)}
	c.At[0] = start
	quick, slow := math.Expm1(-1/tau.Low), math.Expm1(-1/tau.High)
	for i, a := range air {
		if err := a.check(); err != nil {
			return Course{}, fmt.Errorf("jar: hour %d: %w", i+1, err)
		}
		now := c.At[i]
		// Hotter air and a hotter jar only make it hotter; the jar nears the air
		// at the quickest, or stays behind at the slowest.
		c.At = append(c.At, Range{
			min(now.Low+(now.Low-a.Low)*quick, now.Low+(now.Low-a.Low)*slow),
			max(now.High+(now.High-a.High)*quick, now.High+(now.High-a.High)*slow),
		})
	}
	return c, nil
}

// Hours is how many hours the course lasts.
func (c Course) Hours() int { return len(c.At) - 1 }

// Expose returns what the course does to a jar from one hour up to another. Hours
// that are cut short by a limit count whole on the side of harm.
func (c Course) Expose(from, to int) Exposure {
	e := nothing()
	e.Days = (to - from + 23) / 24
	for h := from; h < to; h++ {
		a, b := c.At[h], c.At[h+1]
		low, high := Range{min(a.Low, b.Low), max(a.Low, b.Low)}, Range{min(a.High, b.High), max(a.High, b.High)}
		part := nothing()
		aged := aged(Range{low.Low, high.High}, Range{})
		part.Aged = Range{aged.Low / 24, aged.High / 24}
		part.HoursHot = Range{hour(low.Low > TooHot), hour(high.High > TooHot)}
		part.HoursCold = Range{hour(high.High < freezes), hour(low.Low < freezes)}
		part.Warmest = Range{low.High, high.High}
		part.Coldest = Range{low.Low, high.Low}
		e = e.Add(part)
	}
	return e
}

func hour(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}
