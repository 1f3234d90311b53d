package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write what the scripts in testdata/script compare with anew")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"site": main})
}

// The command does what the scripts in testdata/script say, a subcommand each.
// Beside the usual words of such a script they have
//
//	exits CODE site ...      runs the command, and wants that exit code
//	program FILE BYTES       writes what passes for a WebAssembly program
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":   exits,
			"program": writeProgram,
		},
	})
}

func exits(ts *testscript.TestScript, not bool, args []string) {
	want, err := 0, errors.New("too few words")
	if len(args) > 1 {
		want, err = strconv.Atoi(args[0])
	}
	if not || err != nil {
		ts.Fatalf("usage: exits CODE PROGRAM [ARGUMENT...]: %v", err)
	}
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		exit, ok := errors.AsType[*exec.ExitError](err)
		if !ok {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code: got %d, want %d", got, want)
	}
}

func writeProgram(ts *testscript.TestScript, not bool, args []string) {
	size, err := 0, errors.New("too few words")
	if len(args) == 2 {
		size, err = strconv.Atoi(args[1])
	}
	if not || err != nil {
		ts.Fatalf("usage: program FILE BYTES: %v", err)
	}
	name := ts.MkAbs(args[0])
	ts.Check(os.MkdirAll(filepath.Dir(name), 0o755))
	ts.Check(os.WriteFile(name, fakeBytes(size), 0o644))
}

// fakeBytes pass for a WebAssembly program.
func fakeBytes(size int) []byte {
	var body bytes.Buffer
	body.WriteString("\x00asm\x01\x00\x00\x00")
	for i := 0; body.Len() < size; i++ {
		fmt.Fprintf(&body, "%d ", i*i)
	}
	return body.Bytes()
}
