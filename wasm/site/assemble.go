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
	"time"

	"larderlamp/app"
	"larderlamp/app/office"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/static"
	"larderlamp/wasm/hosting"
	"larderlamp/wasm/notices"
	"larderlamp/wasm/texts"
)

// sources are the flags that say what a site is made of.
type sources struct {
	prefix, programs, texts *string
	kept                    hosting.Kept
	patience                *time.Duration
}

func sourceFlags(flags *flag.FlagSet) sources {
	return sources{
		prefix:   flags.String("prefix", "", "the `folder` of the site on its host, such as /larder"),
		programs: flags.String("programs", "", "the `folder` of the WebAssembly program (default build, or what this command carries)"),
		texts:    flags.String("texts", "", "a `file` with the texts in another language, as wasm/texts/README.md describes"),
		patience: flags.Duration("patience", hosting.DefaultPatience, fmt.Sprintf("how `long` a page waits for its program before it says that it cannot be used, at most %v", mostPatience)),
	}
}

// mostPatience is how long a page may at most leave a person without saying that it
// cannot be used.
const mostPatience = 20 * time.Second

// programFile is the name of the WebAssembly program in its folder, and in what
// this command carries.
const programFile = "app.wasm"

// scannerFile is that of the program that reads codes where the browser cannot.
const scannerFile = "scan.wasm"

// program reads a WebAssembly program from the folder, or what this command
// carries.
func (s sources) program(name string) ([]byte, error) {
	if *s.programs != "" {
		return readProgram(filepath.Join(*s.programs, name))
	}
	files, err := carried()
	if err != nil {
		return nil, err
	}
	if files == nil {
		return readProgram(filepath.Join("build", name))
	}
	return fs.ReadFile(files, name)
}

// language reads the file of texts, or that which this program carries.
func (s sources) language() (*texts.Language, error) {
	if *s.texts != "" {
		return readLanguage(*s.texts)
	}
	files, err := carried()
	if err != nil || files == nil {
		return &texts.Language{}, err
	}
	text, err := fs.ReadFile(files, textsCarried)
	if errors.Is(err, fs.ErrNotExist) {
		return &texts.Language{}, nil
	}
	if err != nil {
		return nil, err
	}
	return parseLanguage(textsCarried, text)
}

// assemble makes the site.
func (s sources) assemble() (*hosting.Site, error) {
	prefix, err := hosting.ParsePrefix(*s.prefix)
	if err != nil {
		return nil, usageError{err}
	}
	if *s.patience <= 0 || *s.patience > mostPatience {
		return nil, usageError{fmt.Errorf("patience %v: want more than nothing, and at most %v", *s.patience, mostPatience)}
	}
	program, err := s.program(programFile)
	if err != nil {
		return nil, err
	}
	scanner, err := s.program(scannerFile)
	if err != nil {
		return nil, err
	}
	uses, err := casesByRule()
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
	spoken, err := s.language()
	if err != nil {
		return nil, err
	}
	var given []byte
	if spoken.Texts != nil {
		if given, err = json.Marshal(spoken.Texts); err != nil {
			return nil, err
		}
	}
	app.Register(prefix)
	ui.Speak(spoken.Texts)
	return hosting.Assemble(hosting.App{
		Name:     ui.Name,
		Describe: ui.Local(app.Describe),
		Program:  program,
		Scanner:  scanner,
		Pages:    app.Pages(),
		Shell:    "/shell",
		Unready:  app.Unready(),
		Patience: *s.patience,
		Prefix:   prefix,
		Static:   static.Files,
		Data:     map[string][]byte{office.CasesFile: book, office.NoticesFile: notices.File, "edition.json": edition},
		Language: spoken.Tag,
		Say:      ui.Reader,
		Scripts:  spoken.Scripts,
		Given:    given,
		Kept:     s.kept,
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
