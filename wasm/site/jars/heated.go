package jars

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
	"larderlamp/rules/prose"
)

// jarProcess is how the figures of the process were judged, as it is printed.
type jarProcess struct {
	Possible []string     `json:"possible"` // of met, agrees, short and no-process
	Says     []prose.Text `json:"says"`
	Missing  []prose.Text `json:"missing,omitempty"` // what would narrow the answer
}

// The answers about a process, from mild to strict.
var statusIDs = []string{"met", "agrees", "short", "no-process"}

// printedProcess is a judgment as it is printed.
func printedProcess(j *process.Judgment) *jarProcess {
	p := &jarProcess{Says: j.Why(), Missing: j.Missing.Words()}
	for i, id := range statusIDs {
		if j.Possible&(1<<i) != 0 {
			p.Possible = append(p.Possible, id)
		}
	}
	return p
}

// processFields are the fields of a process, for the message about another.
var processFields = []string{"method", "minutes", "pressure_psi", "pressure_tenths_psi", "gauge", "gauge_reads_high_psi", "gauge_reads_high_tenths_psi",
	"jar", "pack", "altitude_feet", "altitude_meters", "vented", "table", "form", "confirmed"}

// readProcess judges the figures of a process and tells the situation what they
// come to, by the code that the app asks. It needs the rest of the jar read.
func (j *jarStatement) readProcess(text []byte) (faults []error) {
	fault := func(name string, err error) {
		if err != nil {
			if name != "" {
				err = field(name, err)
			}
			faults = append(faults, field("process", err))
		}
	}
	members, err := object(text)
	if err != nil {
		return []error{field("process", err)}
	}
	var r process.Record
	table, form := "", ""
	confirmed := false
	given := map[string]string{} // what a field says the same as
	for _, m := range members {
		same := strings.TrimSuffix(strings.TrimSuffix(m.name, "_tenths_psi"), "_psi")
		same = strings.TrimSuffix(strings.TrimSuffix(same, "_feet"), "_meters")
		if first, twice := given[same]; twice {
			fault(m.name, fmt.Errorf("%s says it already", first))
			continue
		}
		given[same] = m.name
		switch m.name {
		case "method":
			method, values, err := methods(m.value)
			if fault(m.name, err); err == nil {
				r.Method = method
				fault(m.name, j.situation.TellNamed(rules.SignMethod.ID(), values))
			}
		case "minutes":
			r.Minutes, err = figures(m.value, 1, 0, 1000)
			fault(m.name, err)
		case "pressure_psi":
			r.Pressure, err = figures(m.value, 10, 0, 300)
			fault(m.name, err)
		case "pressure_tenths_psi":
			r.Pressure, err = figures(m.value, 1, 0, 300)
			fault(m.name, err)
		case "gauge_reads_high_psi", "gauge_reads_high":
			r.ReadsHigh, err = figures(m.value, 10, -100, 100)
			fault(m.name, err)
		case "gauge_reads_high_tenths_psi":
			r.ReadsHigh, err = figures(m.value, 1, -100, 100)
			fault(m.name, err)
		case "altitude_feet":
			r.Altitude, err = figures(m.value, 1, -1500, record.MostAltitude)
			fault(m.name, err)
		case "altitude_meters":
			r.Altitude, err = figures(m.value, 1, -457, record.MostAltitude*3/10)
			r.Altitude.Low, r.Altitude.High = int(process.FeetFromMeters(r.Altitude.Low)), int(process.FeetFromMeters(r.Altitude.High))
			fault(m.name, err)
		case "jar":
			ids := make([]string, len(record.Sizes))
			for i, s := range record.Sizes {
				ids[i] = s.ID
			}
			r.Jar, err = oneOf(m.value, ids, func(i int) process.Size { return record.Sizes[i].Jar })
			fault(m.name, err)
		case "pack":
			r.Pack, err = oneOf(m.value, process.IDs(process.Packs), func(i int) process.Pack { return process.Packs[i] })
			fault(m.name, err)
		case "gauge":
			r.Gauge, err = oneOf(m.value, process.IDs(process.Gauges), func(i int) process.Gauge { return process.Gauges[i] })
			fault(m.name, err)
		case "vented":
			var yes *bool
			if err := json.Unmarshal(m.value, &yes); err != nil || yes == nil {
				fault(m.name, fmt.Errorf("want true or false, have %s", short(m.value)))
			} else if r.Vented = process.Unvented; *yes {
				r.Vented = process.Vented
			}
		case "table":
			fault(m.name, json.Unmarshal(m.value, &table))
		case "form":
			fault(m.name, json.Unmarshal(m.value, &form))
		case "confirmed":
			fault(m.name, json.Unmarshal(m.value, &confirmed))
		default:
			fault(m.name, fmt.Errorf("no such field%s", didYouMean(m.name, processFields)))
		}
	}
	if j.product == nil {
		if !j.unlisted {
			fault("", fmt.Errorf("the product has to be named, for its table to be looked up"))
		}
		return
	}
	if table, err = chosenTable(j.product, table, form); err != nil {
		return append(faults, field("process", err))
	}
	if len(faults) > 0 {
		return
	}
	food := processed.Record(j.product, table)
	r.Product, r.Form = food.Product, food.Form
	if r.Method == 0 {
		r.Method = processed.Method(j.situation.Known(rules.SignMethod))
	}
	judged := process.Was(r)
	j.process, j.altitude = printedProcess(&judged), r.Altitude
	if len(processed.Tables(j.product)) == 0 {
		j.process.Says = []prose.Text{"The published tables held here have no entry for this food."}
		return
	}
	said, isSaid := j.situation.Known(rules.SignProcess)
	if isSaid && said == rules.ProcessMet && processed.RulesOut(judged.Possible) {
		return append(faults, field("process", fmt.Errorf("the figures come to %q, and the sign process says %q: leave out the one that is wrong", judged.Possible, said.ID())))
	}
	if values := processed.Values(judged.Possible, confirmed, said, isSaid); len(values) == 1 {
		fault("figures", j.situation.Tell(values...))
	}
	return
}

// methods reads how the jars were heated: a value of the sign "method", or the
// list of those still possible.
func methods(text []byte) (method process.Method, ids []string, err error) {
	ids, err = oneOrMany[string](text)
	if err != nil {
		return
	}
	for _, id := range ids {
		v, ok := rules.SignMethod.ValueByID(id)
		if !ok {
			var all []string
			for _, v := range rules.SignMethod.Info().Values {
				all = append(all, v.ID)
			}
			return 0, nil, fmt.Errorf("no value %q%s", visible(id), didYouMean(id, all))
		}
		m := processed.Method(v, true)
		if m == 0 {
			return 0, ids, nil // not known: any
		}
		method |= m
	}
	return
}

// oneOf reads a name or a list of the names that are still possible.
func oneOf[T ~uint8](text []byte, ids []string, value func(i int) T) (set T, err error) {
	names, err := oneOrMany[string](text)
	if err == nil && len(names) == 0 {
		err = fmt.Errorf("no value given; leave it out when it is not known")
	}
	for _, name := range names {
		i := slices.Index(ids, name)
		if i < 0 {
			return 0, fmt.Errorf("no value %q%s", visible(name), didYouMean(name, ids))
		}
		set |= value(i)
	}
	return
}

// figures reads a number or [lowest, highest], in units of 1/scale.
func figures(text []byte, scale, lowest, highest int) (r process.Range, err error) {
	ends, err := oneOrMany[json.Number](text)
	if err != nil || len(ends) == 0 || len(ends) > 2 {
		return r, fmt.Errorf("want a number or [lowest, highest], have %s", short(text))
	}
	var n [2]int
	for i := range n {
		end := ends[min(i, len(ends)-1)]
		f, err := strconv.ParseFloat(end.String(), 64)
		whole := math.Round(f * float64(scale))
		switch {
		case err != nil || math.Abs(f*float64(scale)-whole) > 1e-6:
			return r, fmt.Errorf("want a number in steps of %v, have %s", 1/float64(scale), short([]byte(end)))
		case whole < float64(lowest) || whole > float64(highest):
			return r, fmt.Errorf("%s is not between %v and %v", short([]byte(end)), float64(lowest)/float64(scale), float64(highest)/float64(scale))
		}
		n[i] = int(whole)
	}
	if n[1] < n[0] {
		return r, fmt.Errorf("the second number, %d, is below the first, %d", n[1]/scale, n[0]/scale)
	}
	return process.Between(n[0], n[1]), nil
}

// chosenTable finds the published table that was named, by its whole name or by
// the form of the food.
func chosenTable(p *rules.Product, table, form string) (string, error) {
	tables := processed.Tables(p)
	if table != "" && !slices.Contains(tables, table) {
		if len(tables) == 0 {
			return "", fmt.Errorf("table: the published tables held here have no entry for %s", p.ID)
		}
		return "", fmt.Errorf("table: %s has no table %q; it has %s", p.ID, visible(table), strings.Join(tables, ", "))
	}
	if form == "" {
		return table, nil
	}
	var fits []string
	for _, t := range tables {
		if _, of, _ := strings.Cut(t, "/"); of == form && (table == "" || t == table) {
			fits = append(fits, t)
		}
	}
	if len(fits) != 1 {
		return "", fmt.Errorf("form: %q is a form of %d tables of %s; name the table, one of: %s", visible(form), len(fits), p.ID, strings.Join(tables, ", "))
	}
	return fits[0], nil
}
