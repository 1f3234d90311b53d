// Package sweep holds the screens of the sweep: planning it, walking it, and
// its report.
package sweep
