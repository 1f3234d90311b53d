package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A file of texts is read whole, or refused with the text that is at fault.
func TestReadLanguage(t *testing.T) {
	for _, c := range []struct{ text, wrong string }{
		{`{"language":"de","texts":{"%d of %s":"von %[2]s %[1]d"}}`, ""},
		{`{"language":"pt-BR","texts":{"Loading: {progress} %":"{progress} %"}}`, ""},
		{`{"language":"de","texts":{"vinegar of 5 % or more":"Essig mit 5 % und mehr"}}`, ""},
		{`{"language":"de","texts":{"95 %% interval of %d":"%d, 95 %%"}}`, ""},
		{`{"language":"de","texts":{"95 %% interval of %d":"%d, 95 %"}}`, `"95 %% interval of %d"`},
		{`{"language":"de","texts":{"%d of %s":"von %s"}}`, `"%d of %s"`},
		{`{"language":"de","texts":{"%d of %s":"%s von %s"}}`, `"%d of %s"`},
		{`{"language":"de","texts":{"Edition {edition}.":"Ausgabe."}}`, `"Edition {edition}."`},
		{`{"language":"de","texts":{"Keep":" "}}`, `"Keep": the text is empty`},
		{`{"language":"../x","texts":{"Keep":"x"}}`, "language"},
		{`{"language":"de","texts":{}}`, "no texts"},
		{`{"language":"de","words":{}}`, "words"},
		{`{"language":"de","texts":{"Keep":"x"}}}`, "follows"},
		{``, "EOF"},
	} {
		name := filepath.Join(t.TempDir(), "texts.json")
		if err := os.WriteFile(name, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		l, err := readLanguage(name)
		if c.wrong == "" {
			if err != nil || len(l.Texts) != 1 {
				t.Errorf("%s: %v, %v", c.text, l, err)
			}
		} else if err == nil || !strings.Contains(err.Error(), c.wrong) || !strings.Contains(err.Error(), "texts.json") {
			t.Errorf("%s: %v, want %q", c.text, err, c.wrong)
		}
	}
}
