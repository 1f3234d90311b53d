// Package static holds the files that Larderlamp serves as they are: styles,
// icons and the small scripts beside the program, of which those in later are
// loaded only when they are wanted. worker.js is a template that the site fills
// in.
//
// The PNG icons are drawn once from icons/mark.svg (icon-192, icon-512) and
// icons/mark-full.svg (apple-180, and maskable-512, which keeps the jar inside
// the circle that every mask leaves).
package static

import "embed"

// Files are css/*.css, icons/*.png, icons/*.svg, *.js and later/*.js.
//
//go:embed css/*.css icons/*.png icons/*.svg *.js later/*.js
var Files embed.FS
