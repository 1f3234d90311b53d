package main

import (
	"context"
	"flag"
	"fmt"
	"io"

	"larderlamp/wasm/hosting"
)

var publish = command{
	name:  "publish",
	args:  "[-prefix /FOLDER] [-programs DIR] [-texts FILE] [-contact WHERE] [-patience LONG] [-quick] [-kept DIR] DIR",
	about: "Write the site into DIR as files for any web host. DIR must be new, empty or made by publish.",
	run:   runPublish,
}

func runPublish(_ context.Context, flags *flag.FlagSet, args []string, out io.Writer) error {
	quick := flags.Bool("quick", false, "compress in a tenth of the time, to about a tenth more bytes")
	kept := keptFlag(flags)
	from := sourceFlags(flags)
	if err := parse(flags, args, 1); err != nil {
		return err
	}
	quality := hosting.Best
	if *quick {
		quality = hosting.Quick
	}
	from.kept = hosting.Kept(*kept)
	site, err := from.assemble()
	if err != nil {
		return err
	}
	if err := site.Publish(flags.Arg(0), quality); err != nil {
		return err
	}
	fmt.Fprintf(out, "The site is in %s, to be served at %s/\n", flags.Arg(0), site.Prefix())
	return nil
}
