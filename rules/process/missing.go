package process

// missing finds the open fields that could by themselves narrow the answer.
func (r *Record) missing(all Status) (missing Datum) {
	open := r.open()
	for d := DatumProduct; d < 1<<numData; d <<= 1 {
		if open&d != 0 && r.narrows(d, all) {
			missing |= d
		}
	}
	return
}

// narrows reports whether some value of an open field narrows the answer.
func (r *Record) narrows(d Datum, all Status) bool {
	var w worst
	does := func(c Record) bool { return c.possible(&w) != all }
	c := *r
	switch d {
	case DatumProduct:
		return true
	case DatumForm:
		for i := range byID[r.Product] {
			if c.Form = byID[r.Product][i].Form.String(); does(c) {
				return true
			}
		}
	case DatumPack:
		return eachBit(r.Pack, func(v Pack) bool { c.Pack = v; return does(c) })
	case DatumJar:
		return eachBit(r.Jar, func(v Size) bool { c.Jar = v; return does(c) })
	case DatumMethod:
		return eachBit(r.Method, func(v Method) bool { c.Method = v; return does(c) })
	case DatumGauge:
		return eachBit(r.Gauge, func(v Gauge) bool { c.Gauge = v; return does(c) })
	case DatumVented:
		return eachBit(r.Vented, func(v Vent) bool { c.Vented = v; return does(c) })
	case DatumMinutes:
		return eachEnd(r.Minutes, never, ever, func(v Range) bool { c.Minutes = v; return does(c) })
	case DatumPressure:
		return eachEnd(r.Pressure, never, ever, func(v Range) bool { c.Pressure = v; return does(c) })
	case DatumReadsHigh:
		return eachEnd(r.ReadsHigh, -ever, ever, func(v Range) bool { c.ReadsHigh = v; return does(c) })
	case DatumAltitude:
		return eachEnd(r.Altitude, lowest, highest, func(v Range) bool { c.Altitude = v; return does(c) })
	}
	return false
}
