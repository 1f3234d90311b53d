// Package engines measures the rules' own evaluator beside the same rules in two
// general expression engines and as a plain switch. It is a module of its own,
// so that nothing it needs reaches the program.
//
//	go generate && go test -bench . ./...
package engines

//go:generate go run ./gen
