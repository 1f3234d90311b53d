package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"larderlamp/wasm/site/jars"
)

var check = command{
	name: "check",
	args: "[-lang TAG] [-explain] [-list products|signs] [-json] [FILE]",
	about: `Judge one jar, or an array of jars, read as JSON from FILE or standard input, and
print their outcomes as JSON in the same order. A jar:

  {"id":      "shelf-2-14",                 any text, optional
   "product": "green-beans",                id from the catalog, optional
   "signs":   {"lid": "down",               one value, or the list of values
               "press": ["firm", "gives"]},   that are still possible
   "numbers": {"age_days": 300,             a whole number, or [lowest, highest],
               "warmest_tenths_c": [200, 241]},  rounded up: 25 hours are 2 days
   "process": {"method":  "pressure-canner", a value of the sign method
               "minutes": 25,                or [lowest, highest], as all figures
               "pressure_psi": 11,           or pressure_tenths_psi: 110
               "gauge":   "dial",            or weighted
               "gauge_reads_high_psi": 0.5,  by how much the dial reads too high
               "jar":     "quart", "pack": "raw", "vented": true,
               "altitude_feet": 800,         or altitude_meters
               "table":   "beans-snap-and-italian/pieces",  where a product has
               "form":    "pieces",          several; see -list products
               "confirmed": false}}          a row that is held from memory was
                                               found in current guidance too

The figures of a process are judged by the published tables, as the guide does
it; what is left out is unknown. What a process depends on besides, as yellow
flesh of peaches, is the sign condition: met or not.

A sign that is left out is unknown, and the outcome stays as cautious as that.
If anything is wrong with the input, every fault is named with its record and
field, nothing is printed, and the exit code is 2.`,
	run: runCheck,
}

// runCheck judges the jars of a file.
func runCheck(_ context.Context, flags *flag.FlagSet, args []string, out io.Writer) error {
	explain := flags.Bool("explain", false, "also print what nearly applied and what would change the verdict")
	what := flags.String("list", "", "print the ids, labels and other names of `products or signs` instead")
	lang := langFlag(flags)
	asJSON := flags.Bool("json", false, "print the list as JSON")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return err
	} else if err != nil {
		return usageError{err}
	}
	in, err := reader(*lang)
	if err != nil {
		return err
	}
	switch {
	case *what != "" && flags.NArg() > 0:
		return usageError{errors.New("-list takes no file")}
	case *what != "":
		return inputError(jars.List(*what, *asJSON, in, out))
	case *asJSON:
		return usageError{errors.New("-json belongs to -list; outcomes are JSON always")}
	}
	name, from := "standard input", io.Reader(os.Stdin)
	switch flags.NArg() {
	case 0:
	case 1:
		name = flags.Arg(0)
		f, err := os.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		from = f
	default:
		return usageError{fmt.Errorf("want one file at most, got %d", flags.NArg())}
	}
	text, err := io.ReadAll(from)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return inputError(jars.Judge(name, text, *explain, in, out))
}

// inputError marks an error as one of the input; nil stays nil.
func inputError(err error) error {
	if _, wrong := errors.AsType[jars.InputError](err); wrong {
		return usageError{err}
	}
	return err
}
