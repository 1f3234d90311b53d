package main

import (
	"context"
	"flag"
	"fmt"
	"io"

	"larderlamp/wasm/hosting"
)

var size = command{
	name:  "size",
	args:  "[-limit RATIO] PROGRAM BARE",
	about: "Compare the size of a program with that of a bare one, and fail above a ratio of their brotli sizes.",
	run:   runSize,
}

func runSize(_ context.Context, flags *flag.FlagSet, args []string, out io.Writer) error {
	limit := flags.Float64("limit", 1.25, "the highest `ratio` of the brotli sizes")
	if err := parse(flags, args, 2); err != nil {
		return err
	}
	var brotli [2]int
	fmt.Fprintf(out, "%12s %12s %12s\n", "raw", "gzip -9", "brotli -q 11")
	for i, name := range flags.Args() {
		program, err := readProgram(name)
		if err != nil {
			return err
		}
		brotli[i] = len(hosting.Brotli(program, hosting.Best))
		fmt.Fprintf(out, "%12d %12d %12d  %s\n", len(program), len(hosting.Gzip(program)), brotli[i], name)
	}
	ratio := float64(brotli[0]) / float64(brotli[1])
	fmt.Fprintf(out, "ratio %.3f, limit %.3f\n", ratio, *limit)
	if ratio > *limit {
		return fmt.Errorf("the program is %.3f times the bare one, more than %.3f", ratio, *limit)
	}
	return nil
}
