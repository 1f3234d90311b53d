package practice

import stat "larderlamp/rules/tally"

// Wilson returns the 95 % interval of a share; of none at all, everything is
// still possible.
func Wilson(k, n int) (low, high float64) {
	i, err := stat.Wilson(k, n, 0.95)
	if err != nil {
		return 0, 1
	}
	return i.Low, i.High
}
