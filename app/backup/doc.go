// Package backup writes all records of a household to one file, reads such a
// file back record by record, and plans what bringing it in would change. A file
// is brought in whole or not at all: one fault anywhere, and nothing is written.
package backup
