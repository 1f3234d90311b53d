package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"net/mail"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"time"

	"larderlamp/app"
	"larderlamp/app/office"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
	"larderlamp/static"
	"larderlamp/wasm/hosting"
	"larderlamp/wasm/notices"
	"larderlamp/wasm/texts"
)

// sources are the flags that say what a site is made of.
type sources struct {
	prefix, programs, texts, contact *string
	kept                             hosting.Kept
	patience                         *time.Duration
}

func sourceFlags(flags *flag.FlagSet) sources {
	return sources{
		prefix:   flags.String("prefix", "", "the `folder` of the site on its host, such as /larder"),
		programs: flags.String("programs", "", "the `folder` of the WebAssembly program (default build, or what this command carries)"),
		texts:    flags.String("texts", "", "a `file` with the texts in one more language, as wasm/texts/README.md describes"),
		contact:  flags.String("contact", "", "the e-mail `address`, or the https address of a page, where readers report faults"),
		patience: flags.Duration("patience", hosting.DefaultPatience, fmt.Sprintf("how `long` a page waits for its program before it says that it cannot be used, at most %v", mostPatience)),
	}
}

// keptFlag is the flag of a command that may use compressed copies again.
func keptFlag(flags *flag.FlagSet) *string {
	return flags.String("kept", "", "a `folder` in which compressed copies stay for the next time (default: made anew each time)")
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

// languages gives the languages of the site besides English: those that this program
// was built with, and that of the file of texts, or of the one that it carries, which
// takes the place of the same language.
func (s sources) languages() ([]*texts.Language, error) {
	all, err := texts.Languages()
	if err != nil {
		return nil, err
	}
	more, err := s.more()
	if err != nil || more == nil {
		return all, err
	}
	all = slices.DeleteFunc(all, func(l *texts.Language) bool { return l.Texts.Tag == more.Texts.Tag })
	return append(all, more), nil
}

// more reads the file of texts, or the one that this program carries, if there is
// any.
func (s sources) more() (*texts.Language, error) {
	if *s.texts != "" {
		return readLanguage(*s.texts)
	}
	text, err := carriedFile(textsCarried)
	if err != nil || text == nil {
		return nil, err
	}
	return parseLanguage(textsCarried, text)
}

// contactAddress is where faults are reported: what was given, or what this program
// carries.
func (s sources) contactAddress() (string, error) {
	if *s.contact != "" {
		return parseContact(*s.contact)
	}
	text, err := carriedFile(contactCarried)
	if err != nil || text == nil {
		return "", err
	}
	return parseContact(string(text))
}

// parseContact reads where faults are reported, and gives the address of a link.
func parseContact(s string) (string, error) {
	if at, err := url.Parse(s); err == nil && at.Scheme == "https" && at.Host != "" {
		return at.String(), nil
	}
	if a, err := mail.ParseAddress(s); err == nil && a.Address == s {
		return (&url.URL{Scheme: "mailto", Opaque: s}).String(), nil
	}
	return "", usageError{fmt.Errorf("contact %q: want an e-mail address or an https address", s)}
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
	spoken, err := s.languages()
	if err != nil {
		return nil, err
	}
	contact, err := s.contactAddress()
	if err != nil {
		return nil, err
	}
	ui.ContactAddress = contact
	app.Register(prefix)
	made := hosting.App{
		Name:     ui.Name,
		Describe: app.Describe.String(),
		Program:  program,
		Scanner:  scanner,
		Pages:    app.Pages(),
		Unstored: []string{"/rules"}, // longer than all other pages together
		Shell:    "/shell",
		Unready:  app.Unready(),
		Patience: *s.patience,
		Prefix:   prefix,
		Static:   static.Files,
		Data:     map[string][]byte{office.CasesFile: book, office.NoticesFile: notices.File, "edition.json": edition},
		Kept:     s.kept,
	}
	if contact != "" {
		made.Environment = map[string]string{ui.ContactVariable: contact}
	}
	ui.Offered = []ui.Language{{Tag: "en", Name: ui.English}}
	for _, l := range spoken {
		ui.Offered = append(ui.Offered, ui.Language{Tag: l.Texts.Tag, Name: l.Name})
		ui.Speak(l.Texts)
		made.Languages = append(made.Languages, hosting.Language{Name: l.Name, Texts: l.Texts, Describe: ui.Local(app.Describe), Unready: app.Unready()})
	}
	ui.Speak(nil)
	var said []prose.Text
	ui.Heard = func(t prose.Text) { said = append(said, t) }
	defer func() { ui.Heard = nil }()
	made.Said = func() []prose.Text { return said }
	return hosting.Assemble(made)
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
