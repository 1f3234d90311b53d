// Package backup writes all records of a household to one file, reads such a
// file back record by record, and plans what importing it would change. A file
// is imported whole or not at all: if there is one fault anywhere, nothing is
// written.
package backup
