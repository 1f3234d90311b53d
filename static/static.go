// Package static holds the files that Larderlamp serves as they are: styles,
// icons and the small scripts beside the program, of which those in later are
// loaded only when they are wanted. worker.js is a template that the site fills
// in.
//
// The PNG icons are drawn once from icons/mark.svg (icon-192, icon-512) and
// icons/mark-full.svg (apple-180, and maskable-512, which keeps the jar inside
// the circle that every mask leaves). So are the start images, the icon on its
// ground for the screens of iPhones and iPads: 390x844@3.png is for one of 390 by
// 844 points, each of 3 by 3 pixels. The sizes are from memory.
package static

import "embed"

// Files are css/*.css, icons/*.png, icons/*.svg, start/*.png, *.js and later/*.js.
//
//go:embed css/*.css icons/*.png icons/*.svg start/*.png *.js later/*.js
var Files embed.FS
