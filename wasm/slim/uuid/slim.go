//go:build slim

// What stands in the page's program for files of the UUID library that wasm/slim
// leaves out.

package uuid

// Nil is the UUID of zeros.
var Nil UUID
