package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
)

// language is a file with the texts in another language than English.
type language struct {
	Language string            `json:"language"` // as BCP 47 has it, such as "de"
	Texts    map[string]string `json:"texts"`    // by English text; what is missing stays English
}

var (
	tags = regexp.MustCompile(`^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$`)
	// What follows a number as in "5 % or more" is no verb: none here has a space.
	verbs = regexp.MustCompile(`%(\[\d+\])?[-+#0]*[\d.]*[a-zA-Z%]|\{[a-z]+\}`)
	place = regexp.MustCompile(`\[\d+\]`)
)

// readLanguage reads such a file. Errors name the text at fault: a text that is
// empty, or is filled in with other things than the English one.
func readLanguage(name string) (*language, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, usageError{err}
	}
	return parseLanguage(name, text)
}

func parseLanguage(name string, text []byte) (*language, error) {
	var l language
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&l); err != nil {
		return nil, usageError{fmt.Errorf("%s: %w", name, err)}
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, usageError{fmt.Errorf("%s: something follows the texts", name)}
	}
	if !tags.MatchString(l.Language) {
		return nil, usageError{fmt.Errorf("%s: language %q is no tag such as de or pt-BR", name, l.Language)}
	}
	if len(l.Texts) == 0 {
		return nil, usageError{fmt.Errorf("%s: no texts", name)}
	}
	var wrong []error
	for _, english := range slices.Sorted(maps.Keys(l.Texts)) {
		theirs := l.Texts[english]
		if strings.TrimSpace(theirs) == "" {
			wrong = append(wrong, fmt.Errorf("%s: %q: the text is empty", name, english))
		} else if want, got := filled(english), filled(theirs); !slices.Equal(want, got) {
			wrong = append(wrong, fmt.Errorf("%s: %q: filled in with %q, want %q", name, english, got, want))
		}
	}
	if len(wrong) > 0 {
		return nil, usageError{errors.Join(wrong...)}
	}
	return &l, nil
}

// filled lists what is filled into a text, in any order.
func filled(text string) []string {
	found := verbs.FindAllString(text, -1)
	for i := range found {
		found[i] = place.ReplaceAllString(found[i], "")
	}
	slices.Sort(found)
	return found
}
