// Package demo invents the records of a household, to try the guide with.
package demo
