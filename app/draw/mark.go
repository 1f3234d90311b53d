package draw

import "larderlamp/rules"

// marks are drawn on a sheet of 24 x 24: each has an outline of its own, a
// dark edge for light ground and a pale one for dark ground. Keep is a jar
// standing in its niche, use soon a candle burnt low, discard a knotted bag,
// and a check that is not settled a lamp that has not been lit.
var marks = [...]string{
	0:             halo("M12 2C16 2 18 6 18 10C18 14 16 15 15 17H9C8 15 6 14 6 10C6 6 8 2 12 2ZM8 18H16V22H8Z") + `<path fill="#f6f1e4" stroke="#14201b" stroke-width="1.4" stroke-dasharray="1.6 1.4" d="M12 2C16 2 18 6 18 10C18 14 16 15 15 17H9C8 15 6 14 6 10C6 6 8 2 12 2Z"/><path fill="#14201b" d="M8 18H16V22H8Z"/>`,
	rules.Keep:    halo("M2 22V10C2 5 6 2 12 2C18 2 22 5 22 10V22Z") + `<path fill="#1f6b70" stroke="#14201b" stroke-width="1.2" d="M2 22V10C2 5 6 2 12 2C18 2 22 5 22 10V22Z"/><path fill="#f6f1e4" d="M8 6H16V8.4H8ZM8.6 9.4H15.4V10.6C17 11.2 17.4 12 17.4 13.4V19H6.6V13.4C6.6 12 7 11.2 8.6 10.6Z"/>`,
	rules.UseSoon: halo("M12 1C15 5 16 7 15 10H16V17H22V22H2V17H8V10H9C8 7 9 5 12 1Z") + `<path fill="#f6f1e4" stroke="#14201b" stroke-width="1.2" d="M8.4 11.4C10 10.6 14 12.6 15.6 11.4V18H8.4Z"/><path fill="#f2b544" stroke="#14201b" stroke-width="1.2" d="M12 1C14.6 4.4 15.8 6.4 14.8 8.8C14.2 10.2 9.8 10.2 9.2 8.8C8.2 6.4 9.4 4.4 12 1ZM2 18H22L19 22H5Z"/>`,
	rules.Discard: halo("M9 2L12 6L15 2L18 5L15 8C20 11 22 15 21 19C20 22 4 22 3 19C2 15 4 11 9 8L6 5Z") + `<path fill="#7b2d55" stroke="#14201b" stroke-width="1.2" d="M10 8C4.6 11 1.8 15 2.8 19C3.6 22.4 20.4 22.4 21.2 19C22.2 15 19.4 11 14 8L18.4 4.6L15 1.6L12 5.4L9 1.6L5.6 4.6Z"/><path fill="none" stroke="#f6f1e4" stroke-width="1.6" stroke-linecap="round" d="M9 8.2H15M8 13C7 14.4 6.6 16 6.8 17.6M16 13C17 14.4 17.4 16 17.2 17.6M12 11.6V18"/>`,
}

// halo is the pale edge that lifts a mark off dark ground.
func halo(d string) string {
	return `<path fill="#f6f1e4" stroke="#f6f1e4" stroke-width="3" stroke-linejoin="round" d="` + d + `"/>`
}

// Mark is the sign of a verdict as SVG, readable from 24 pixels up. The zero
// verdict is a check that is not settled. It is hidden from screen readers,
// because the word always stands beside it.
func Mark(v rules.Verdict) string {
	if int(v) >= len(marks) {
		v = 0
	}
	return `<svg xmlns="http://www.w3.org/2000/svg" class="mark" viewBox="-1 -1 26 26" aria-hidden="true" focusable="false">` + marks[v] + `</svg>`
}
