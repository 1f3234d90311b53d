package main

import (
	"archive/zip"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

var stick = command{
	name:  "stick",
	args:  "[-binary FILE] [-programs DIR] [-texts FILE] [-contact WHERE] FILE",
	about: "Write FILE, one program that carries the whole site and serves it when started without arguments: for a USB stick.",
	run:   runStick,
}

// textsCarried is the file of texts among what a program carries.
const textsCarried = "texts.json"

// contactCarried is where faults are reported, among them.
const contactCarried = "contact.txt"

// carried returns the site that this program carries behind its own code, or nil.
var carried = sync.OnceValues(func() (fs.FS, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	files, err := zip.OpenReader(self)
	if errors.Is(err, zip.ErrFormat) {
		return nil, nil
	}
	return files, err
})

// carriedFile returns a file of that site, or nil when there is none by its name.
func carriedFile(name string) ([]byte, error) {
	files, err := carried()
	if err != nil || files == nil {
		return nil, err
	}
	body, err := fs.ReadFile(files, name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return body, err
}

func runStick(_ context.Context, flags *flag.FlagSet, args []string, out io.Writer) (err error) {
	binary := flags.String("binary", "", "`site` built for the system that the stick is for; default is this one's")
	from := sourceFlags(flags)
	if err := parse(flags, args, 1); err != nil {
		return err
	}
	if *binary == "" {
		if *binary, err = os.Executable(); err != nil {
			return err
		}
	}
	if _, err := from.assemble(); err != nil { // report errors now, not when the stick is used
		return err
	}
	code, err := os.ReadFile(*binary)
	if err != nil {
		return usageError{err}
	}
	target, err := os.CreateTemp(filepath.Dir(flags.Arg(0)), ".stick-*")
	if err != nil {
		return err
	}
	defer func() {
		target.Close()
		if err != nil {
			os.Remove(target.Name())
		}
	}()
	if _, err := target.Write(code); err != nil {
		return err
	}
	files := zip.NewWriter(target)
	files.SetOffset(int64(len(code)))
	add := func(name string, body []byte) error {
		w, err := files.Create(name)
		if err == nil {
			_, err = w.Write(body)
		}
		return err
	}
	for _, name := range []string{programFile, scannerFile} {
		body, err := from.program(name)
		if err == nil {
			err = add(name, body)
		}
		if err != nil {
			return err
		}
	}
	if *from.texts != "" {
		texts, err := os.ReadFile(*from.texts)
		if err == nil {
			err = add(textsCarried, texts)
		}
		if err != nil {
			return err
		}
	}
	if *from.contact != "" {
		if err := add(contactCarried, []byte(*from.contact)); err != nil {
			return err
		}
	}
	if err := errors.Join(files.Close(), target.Chmod(0o755), target.Close()); err != nil {
		return err
	}
	if err := os.Rename(target.Name(), flags.Arg(0)); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s carries the site. Start it, and it prints its address.\n", flags.Arg(0))
	return nil
}
