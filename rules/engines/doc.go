// Package engines compares the rules' own evaluator with the same rules in two
// general expression engines and as a plain switch. It is a separate module, so
// that nothing it needs reaches the program.
//
//	go generate && go test -bench . ./...
package engines

//go:generate go run ./gen
