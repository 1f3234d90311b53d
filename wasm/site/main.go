// Command site serves Larderlamp, or publishes it as files for any web host.
//
// Run it without arguments for a list of its subcommands, and each subcommand
// with -h for its flags. It exits with
//
//	0  when all went well
//	1  when the command failed
//	2  when the command line or an input was wrong
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

// command is one subcommand. Each has a file of its own.
type command struct {
	name, args, about string
	// run does the work. It declares its flags on the set, parses the arguments
	// with parse and writes what it has to say to out.
	run func(ctx context.Context, flags *flag.FlagSet, args []string, out io.Writer) error
}

var commands = []command{serve, publish, stick, check, rulebook, size}

// usageError is an error in the command line or an input.
type usageError struct{ error }

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run runs one command line and returns its exit code.
func run(ctx context.Context, args []string, out, errs io.Writer) int {
	if len(args) == 0 {
		if files, err := carried(); err != nil || files == nil {
			usage(errs)
			return 2
		}
		args = []string{serve.name}
	}
	switch args[0] {
	case "-h", "-help", "--help", "help":
		usage(out)
		return 0
	}
	for _, c := range commands {
		if c.name != args[0] {
			continue
		}
		flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
		flags.SetOutput(io.Discard)
		err := c.run(ctx, flags, args[1:], out)
		switch {
		case err == nil:
			return 0
		case errors.Is(err, flag.ErrHelp):
			c.help(out, flags)
			return 0
		}
		fmt.Fprintf(errs, "site %s: %v\n", c.name, err)
		if _, wrong := errors.AsType[usageError](err); wrong {
			fmt.Fprintf(errs, "See: site %s -h\n", c.name)
			return 2
		}
		return 1
	}
	fmt.Fprintf(errs, "site: no subcommand %q\n\n", args[0])
	usage(errs)
	return 2
}

func usage(w io.Writer) {
	fmt.Fprintln(w, "Usage: site SUBCOMMAND [flags] [arguments]")
	fmt.Fprintln(w)
	for _, c := range commands {
		first, _, _ := strings.Cut(c.about, "\n")
		fmt.Fprintf(w, "  site %s %s\n        %s\n", c.name, c.args, first)
	}
	fmt.Fprintln(w)
	fmt.Fprintln(w, "Exit codes: 0 done, 1 failed, 2 wrong command line or input.")
}

func (c command) help(w io.Writer, flags *flag.FlagSet) {
	fmt.Fprintf(w, "Usage: site %s %s\n\n%s\n\n", c.name, c.args, c.about)
	flags.SetOutput(w)
	flags.PrintDefaults()
}

// parse parses the arguments of a subcommand, of which want may follow the flags;
// any number when it is below zero.
func parse(flags *flag.FlagSet, args []string, want int) error {
	err := flags.Parse(args)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return err
	case err != nil:
		return usageError{err}
	case want >= 0 && flags.NArg() != want:
		return usageError{fmt.Errorf("want %d arguments after the flags, got %d", want, flags.NArg())}
	}
	return nil
}
