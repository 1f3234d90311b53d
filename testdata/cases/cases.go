// Package cases holds the acceptance cases of the rules: jars as published
// guidance describes them, and what must come out.
package cases

import "embed"

// Files are the cases, one file for each chapter of the guidance.
//
//go:embed *.txt
var Files embed.FS
