package practice

import "math"

// z is the 97.5th percentile of the normal distribution, for intervals of 95 %.
const z = 1.959963984540054

// Wilson gives the 95 % interval of a share, by the score method of E. B.
// Wilson, Journal of the American Statistical Association 22 (1927), 209 to 212
// (formula from memory, to be confirmed): what the share of k in n may be if
// the n were drawn by chance. Nothing seen says nothing: 0 to 1.
func Wilson(k, n int) (low, high float64) {
	if n <= 0 || k < 0 || k > n {
		return 0, 1
	}
	p, m := float64(k)/float64(n), float64(n)
	centre := (p + z*z/(2*m)) / (1 + z*z/m)
	half := z / (1 + z*z/m) * math.Sqrt(p*(1-p)/m+z*z/(4*m*m))
	low, high = max(0, centre-half), min(1, centre+half)
	if k == 0 {
		low = 0 // exactly, whatever the rounding
	}
	if k == n {
		high = 1
	}
	return
}
