package keeping

// Expose returns the exposure from one day up to, but without, another.
func Expose(a Air, from, to int) Exposure {
	e := nothing()
	for n := from; n < to; n++ {
		e = e.Add(oneDay(a, n))
	}
	return e
}
