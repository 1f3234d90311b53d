package draw

import "larderlamp/rules"

// marks are drawn on a sheet of 24 x 24: each has an outline of its own, a dark
// edge for light ground and a pale one for dark ground. Keep is a jar in its
// niche, use soon a candle burned low, discard a knotted bag, and a check that
// is not settled a lamp that has not been lit.
var marks = [...]string{
	0:             halo("M6 1H18V5C21 7 21 9 21 11V20C21 22 20 23 18 23H6C4 23 3 22 3 20V11C3 9 3 7 6 5Z") + `<path fill="none" stroke="#14201b" stroke-width="2" stroke-linecap="round" stroke-dasharray=".1 3.1" d="M7 5.6C4 7.4 4 9 4 11V19.6C4 21.4 5 22.2 6.6 22.2H17.4C19 22.2 20 21.4 20 19.6V11C20 9 20 7.4 17 5.6"/><path fill="none" stroke="#14201b" stroke-width="2" stroke-linecap="round" stroke-dasharray=".1 3.2" d="M6.4 2H18"/>`,
	rules.Keep:    halo("M2 22V10C2 5 6 2 12 2C18 2 22 5 22 10V22Z") + `<path fill="#1f6b70" stroke="#14201b" stroke-width="1.2" d="M2 22V10C2 5 6 2 12 2C18 2 22 5 22 10V22Z"/><path fill="#f6f1e4" d="M8 6H16V8.4H8ZM8.6 9.4H15.4V10.6C17 11.2 17.4 12 17.4 13.4V19H6.6V13.4C6.6 12 7 11.2 8.6 10.6Z"/>`,
	rules.UseSoon: halo("M12 .6C15 4 16 6 15 9V10H17V17H23V20C22 22 20 23 18 23H6C3 23 1 21 1 17H7V10H9V9C8 6 9 4 12 .6Z") + `<path fill="#f6f1e4" stroke="#14201b" stroke-width="1.4" d="M7.4 11C9.6 9.8 10.4 12.4 12.4 11.2C14 10.2 15 10.4 16.6 11V19H7.4Z"/><path fill="#f2b544" stroke="#14201b" stroke-width="1.4" d="M12 .8C14.8 4.2 15.8 6.2 14.8 8.4C14 10 10 10 9.2 8.4C8.2 6.2 9.2 4.2 12 .8ZM1.6 17.6H18.4C18.4 21 16.6 22.6 14.6 22.6H5.4C3.4 22.6 1.6 21 1.6 17.6Z"/><path fill="none" stroke="#14201b" stroke-width="1.8" d="M18 18.4C22.6 17 23.6 21 17 21"/>`,
	rules.Discard: halo("M10 8C4.6 11 1.8 15 2.8 19C3.6 22.4 20.4 22.4 21.2 19C22.2 15 19.4 11 14 8L18.4 4.6L15 1.6L12 5.4L9 1.6L5.6 4.6Z") + `<path fill="#7b2d55" stroke="#14201b" stroke-width="1.2" d="M10 8C4.6 11 1.8 15 2.8 19C3.6 22.4 20.4 22.4 21.2 19C22.2 15 19.4 11 14 8L18.4 4.6L15 1.6L12 5.4L9 1.6L5.6 4.6Z"/><path fill="none" stroke="#f6f1e4" stroke-width="1.6" stroke-linecap="round" d="M9 8.2H15M8 13C7 14.4 6.6 16 6.8 17.6M16 13C17 14.4 17.4 16 17.2 17.6M12 11.6V18"/>`,
}

// halo is the pale edge that sets a mark off from a dark background.
func halo(d string) string {
	return `<path fill="#f6f1e4" stroke="#f6f1e4" stroke-width="3" stroke-linejoin="round" d="` + d + `"/>`
}

// Mark is the sign of a verdict as SVG, readable from 24 pixels up. The zero
// verdict is a check that is not settled. It is hidden from screen readers,
// because the word is always beside it.
func Mark(v rules.Verdict) string {
	if int(v) >= len(marks) {
		v = 0
	}
	return `<svg xmlns="http://www.w3.org/2000/svg" class="mark" viewBox="-1 -1 26 26" aria-hidden="true" focusable="false">` + marks[v] + `</svg>`
}
