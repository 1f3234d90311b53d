package process

import (
	"errors"

	"larderlamp/rules/prose"
)

// UnventedExample is the share of steam assumed to explain a canner that was
// not vented: a fifth of the gas is still air. Nobody measured it; no answer
// rests on it.
const UnventedExample = 0.8

// Heat compares the canner of a record with the published line. It is the
// heat of the steam or water around the jars, not of the food: published times
// come from heat measured inside jars, and no time may be derived from this.
type Heat struct {
	Held, Published Celsius
	F0, PublishedF0 float64 // minutes at 121.1 °C
}

// Share is the lethality held as a share of the published one: 1 is as
// published, 0.5 is half.
func (h Heat) Share() float64 { return h.F0 / h.PublishedF0 }

// errNoHeat says that there is nothing to compare.
var errNoHeat = errors.New("heat: minutes, pressure or altitude not known, or no published line to compare with")

// Heat returns the physics behind the worst completion. It explains and never
// decides. It fails when the minutes, pressure or altitude are not bounded,
// or when there is no published line to compare with.
func (j *Judgment) Heat() (h Heat, err error) {
	r, line := &j.Record, &j.Against
	if line.Row == nil || !r.Minutes.Known || !r.Altitude.Known {
		return h, errNoHeat
	}
	minutes, _ := r.Minutes.ends(never, ever)
	psi, steam := 0, 1.0
	if line.Method == Pasteurized { // not at the boil
		return h, errNoHeat
	}
	if line.PSI > 0 {
		if !r.Pressure.Known || line.Gauge == Dial && !r.ReadsHigh.Known {
			return h, errNoHeat
		}
		psi, _ = r.Pressure.ends(never, ever)
		if line.Gauge == Dial {
			_, off := r.ReadsHigh.ends(never, ever)
			psi = max(0, psi-max(off, 0))
		}
		if j.Unvented {
			steam = UnventedExample
		}
	}
	at := j.Worst.Altitude
	if h.Held, err = CannerTemperature(float64(psi)/10, at, steam); err != nil {
		return h, err
	}
	if h.Published, err = CannerTemperature(float64(line.PSI), at, 1); err != nil {
		return h, err
	}
	if h.F0, err = HoldF0(h.Held, float64(minutes)); err != nil {
		return h, err
	}
	h.PublishedF0, err = HoldF0(h.Published, float64(line.Minutes))
	return h, err
}

// Why explains the answer in plain sentences: the answer, what the table asks
// with its source, what is missing, the physics, and what would settle it.
func (j *Judgment) Why() (why []prose.Text) {
	say := func(format prose.Text, a ...any) {
		why = append(why, prose.Upper(prose.Say(format, a...)))
	}
	say("%s.", j.Possible)
	if j.Possible.Strictest() == NoProcess {
		say("%s.", j.Worst.missing())
	}
	if line := &j.Against; line.Row != nil {
		say("At %d ft the table asks for %s. Source: %s.", j.Worst.Altitude, line, line.Cite())
		if line.Larger != 0 {
			say("No time is published for %s; the time for %s is enough for a smaller jar.", jarWords.of(uint8(j.Worst.Jar)), jarWords.of(uint8(line.Larger)))
		}
		if least, most := line.Food.Canner(); least > 0 {
			say("Only in a canner that holds %d to %d quarts.", least, most)
		}
		if line.Method == SteamCanner {
			say("%s.", steamNeeds)
		}
		if line.Row.Note != "" {
			say("Note: %s.", line.Row.Note)
		}
		if j.MinutesShort > 0 && j.Record.Minutes.Known {
			say("Too short by %d min.", j.MinutesShort)
		}
		if j.PressureShort > 0 && j.Record.Pressure.Known {
			say("Too little pressure by %d.%d pounds.", j.PressureShort/10, j.PressureShort%10)
		}
		if j.Unvented {
			say("The canner was not vented for 10 minutes: trapped air shows on the gauge but does not heat.")
		}
		if j.Unsure {
			say("A dial gauge that reads more than 2 pounds high must be replaced; its reading shows nothing.")
		}
		if line.Food.Acid != NoAcid {
			say("Acid: %s. Source: %s.", line.Food.Acid, line.Food.Acid.Cite())
		}
		if line.SterileJars() {
			say("Jars for less than 10 minutes must be boiled before filling.")
		}
		if h, err := j.Heat(); err == nil && j.Possible.Strictest() == Short {
			say("The canner held about %.1f °C where %.1f °C was asked for: %.0f %% of the published heat.", h.Held, h.Published, 100*h.Share())
		}
	}
	if words := j.Missing.Words(); len(words) > 0 {
		say("It would help to know: %s.", join(words))
	}
	return
}

// join lists words with commas and a last "or".
func join(words []prose.Text) prose.Text {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return prose.Say("%s or %s", prose.List(words[:last], ", "), words[last])
}
