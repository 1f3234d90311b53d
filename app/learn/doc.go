// Package learn holds the lessons, the practice, the pages for a class, and the
// signs side by side.
package learn
