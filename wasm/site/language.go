package main

import (
	"flag"
	"fmt"
	"os"
	"strings"

	"larderlamp/rules/prose"
	"larderlamp/wasm/texts"
)

// langFlag is the flag of a subcommand whose output is to be read.
func langFlag(flags *flag.FlagSet) *string {
	return flags.String("lang", english, "the `language` of the texts that are printed, such as es")
}

// english is the tag of the language that the texts are written in.
const english = "en"

// reader is the language of a tag; nil is English.
func reader(tag string) (prose.Language, error) {
	if tag == english {
		return nil, nil
	}
	all, err := texts.Languages()
	if err != nil {
		return nil, err
	}
	tags := []string{english}
	for _, l := range all {
		if l.Texts.Tag == tag {
			return l.Texts.Reader(), nil
		}
		tags = append(tags, l.Texts.Tag)
	}
	return nil, usageError{fmt.Errorf("-lang %s: want one of %s", tag, strings.Join(tags, ", "))}
}

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
	all, err := texts.English()
	if err != nil {
		return nil, err
	}
	l, err := texts.Parse(name, text, all)
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
