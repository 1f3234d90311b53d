package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"

	"larderlamp/wasm/hosting"
)

var size = command{
	name:  "size",
	args:  "[-limit RATIO] BARE PROGRAM...",
	about: "Compare the size of programs with that of a bare one, and fail above a ratio of their brotli sizes.",
	run:   runSize,
}

func runSize(_ context.Context, flags *flag.FlagSet, args []string, out io.Writer) error {
	limit := flags.Float64("limit", 1.25, "the highest `ratio` of the brotli sizes")
	if err := parse(flags, args, -1); err != nil {
		return err
	}
	if flags.NArg() < 2 {
		return usageError{fmt.Errorf("want the bare program and one or more others, got %d", flags.NArg())}
	}
	bare := 0
	fmt.Fprintf(out, "%12s %12s %12s %6s\n", "raw", "gzip -9", "brotli -q 11", "ratio")
	var large []error
	for _, name := range flags.Args() {
		program, err := readProgram(name)
		if err != nil {
			return err
		}
		brotli := len(hosting.Brotli(program, hosting.Best))
		if bare == 0 {
			bare = brotli
		}
		ratio := float64(brotli) / float64(bare)
		fmt.Fprintf(out, "%12d %12d %12d %6.3f  %s\n", len(program), len(hosting.Gzip(program)), brotli, ratio, name)
		if ratio > *limit {
			large = append(large, fmt.Errorf("%s is %.3f times the bare one, more than %.3f", name, ratio, *limit))
		}
	}
	return errors.Join(large...)
}
