// Package sweep holds the screens of the sweep: planning it, walking it, its
// report.
package sweep
