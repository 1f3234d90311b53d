package ledger

// Page is what a ledger needs of the page that is shown.
//
// Three fields of a ledger belong to the goroutine that draws the page: Shelf,
// Settings and Deleted. Code on other goroutines changes them in Do.
type Page interface {
	// Do calls f on the goroutine that draws the page, after what was passed
	// before, and redraws the page. If the page has been left, the next one does
	// it.
	Do(f func())
	// Writing reports whether something is being written: the tab should not be
	// closed.
	Writing(yes bool)
	// Log records what is for developers who look for a fault, and not for the
	// person.
	Log(err error)
	// Mark records that something begins or ends, for measurements.
	Mark(what string)
}

// noPage is the page when no page is shown.
type noPage struct{}

func (noPage) Do(f func())  { f() }
func (noPage) Writing(bool) {}
func (noPage) Log(error)    {}
func (noPage) Mark(string)  {}
