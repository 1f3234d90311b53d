package ledger

// Page is what a ledger needs of the page that is shown.
//
// Three fields of a ledger belong to the goroutine that draws the page: Shelf,
// Settings and Deleted. Whoever works beside it changes them in Do.
type Page interface {
	// Do calls f on the goroutine that draws the page, after what was given before,
	// and draws the page anew. When the page has been left the next one does it.
	Do(f func())
	// Writing tells whether something is being written: the tab should not be closed.
	Writing(yes bool)
	// Log notes what is for whoever looks for a fault, and not for the person.
	Log(err error)
	// Mark notes that something begins or ends, for measurements.
	Mark(what string)
}

// nowhere is where no page is shown.
type nowhere struct{}

func (nowhere) Do(f func())  { f() }
func (nowhere) Writing(bool) {}
func (nowhere) Log(error)    {}
func (nowhere) Mark(string)  {}
