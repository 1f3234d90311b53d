//go:build slim

// Package godebug stands in for Go's own in the program of the pages: a page has no
// environment in which somebody could set GODEBUG, and so every setting has its
// default, which is "". Go's package brings the parsing of settings, the search for
// the one that breaks something, and the runtime's metrics.
package godebug

// Setting is a setting that nobody can change.
type Setting struct{ name string }

// New returns the setting of a name. That of one without documentation begins with #.
func New(name string) *Setting { return &Setting{name} }

// Name returns the name, without the #.
func (s *Setting) Name() string {
	if s.Undocumented() {
		return s.name[1:]
	}
	return s.name
}

// Undocumented reports whether the setting is without documentation.
func (s *Setting) Undocumented() bool { return s.name != "" && s.name[0] == '#' }

// String returns the setting as the environment would have it.
func (s *Setting) String() string { return s.Name() + "=" + s.Value() }

// IncNonDefault does nothing: nobody reads the metrics of a page.
func (s *Setting) IncNonDefault() {}

// Value returns the value, which is the default.
func (s *Setting) Value() string { return "" }
