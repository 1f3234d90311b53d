package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"larderlamp/app"
	"larderlamp/rules"
	"larderlamp/rules/locale"
	"larderlamp/static"
	"larderlamp/wasm/hosting"
)

// sources are the flags that say what a site is made of.
type sources struct{ prefix, programs, texts *string }

func sourceFlags(flags *flag.FlagSet) sources {
	return sources{
		prefix:   flags.String("prefix", "", "the `folder` of the site on its host, such as /larder"),
		programs: flags.String("programs", "build", "the `folder` of the WebAssembly programs"),
		texts:    flags.String("texts", "", "a `file` with the texts in another language, as testdata/texts/README.md describes"),
	}
}

// assemble makes the site.
func (s sources) assemble() (*hosting.Site, error) {
	prefix, err := hosting.ParsePrefix(*s.prefix)
	if err != nil {
		return nil, usageError{err}
	}
	var programs []hosting.Program
	for _, name := range app.Programs() {
		body, err := readProgram(filepath.Join(*s.programs, name+".wasm"))
		if err != nil {
			return nil, err
		}
		programs = append(programs, hosting.Program{Name: name, Pages: app.Pages(name), Body: body})
	}
	uses, err := exercised()
	if err != nil {
		return nil, err
	}
	book, err := json.Marshal(uses)
	if err != nil {
		return nil, err
	}
	edition, err := json.Marshal(map[string]any{"edition": rules.Edition, "news": rules.News})
	if err != nil {
		return nil, err
	}
	spoken := &language{}
	if *s.texts != "" {
		if spoken, err = readLanguage(*s.texts); err != nil {
			return nil, err
		}
	}
	app.Register(prefix)
	locale.Use(spoken.Texts)
	return hosting.Assemble(hosting.App{
		Name:     app.Name,
		Describe: locale.Text(app.Describe),
		Programs: programs,
		Shell:    "/shell",
		Prefix:   prefix,
		Static:   static.Files,
		Data:     map[string][]byte{app.CasesFile: book, "edition.json": edition},
		Language: spoken.Language,
		Texts:    spoken.Texts,
	})
}

// readProgram reads a WebAssembly program.
func readProgram(name string) ([]byte, error) {
	program, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%w (make build makes it)", err)
	}
	if err != nil {
		return nil, err
	}
	if !bytes.HasPrefix(program, []byte("\x00asm")) {
		return nil, usageError{fmt.Errorf("%s is not a WebAssembly program", name)}
	}
	return program, nil
}
