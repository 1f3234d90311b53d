package main

import (
	"fmt"
	"os"
	"strings"

	"larderlamp/wasm/texts"
)

// readLanguage reads a file of a translator.
func readLanguage(name string) (*texts.Language, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, usageError{err}
	}
	return parseLanguage(name, text)
}

// parseLanguage reports the texts that it does not accept and that stay English.
func parseLanguage(name string, text []byte) (*texts.Language, error) {
	english, err := texts.English()
	if err != nil {
		return nil, err
	}
	l, err := texts.Parse(name, text, english)
	if err != nil {
		return nil, usageError{err}
	}
	if n := len(l.Stale); n > 0 {
		fmt.Fprintf(os.Stderr, "%s: stays English, because the English has changed since: %s\n", name, strings.Join(l.Stale, ", "))
	}
	if n := len(l.Unused); n > 0 {
		fmt.Fprintf(os.Stderr, "%s: no text has the id: %s\n", name, strings.Join(l.Unused, ", "))
	}
	return l, nil
}
