// Package office holds what a household needs now and then: backups, labels,
// cautions, the rule book and the notices.
package office
