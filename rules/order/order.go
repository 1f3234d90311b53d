// Package order sorts slices of any type with one copy of the sorting code: the
// sorts of the standard library that take a function bring a copy of their own
// for every type into a page program, which is the larger part of many screens.
package order

import "sort"

// By sorts s by less; what is neither less nor more keeps its order.
func By[T any](s []T, less func(a, b *T) bool) { sort.Stable(&by[T]{s, less}) }

type by[T any] struct {
	s    []T
	less func(a, b *T) bool
}

func (b *by[T]) Len() int           { return len(b.s) }
func (b *by[T]) Swap(i, j int)      { b.s[i], b.s[j] = b.s[j], b.s[i] }
func (b *by[T]) Less(i, j int) bool { return b.less(&b.s[i], &b.s[j]) }
