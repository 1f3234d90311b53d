package main

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// The test program stands for the command that serves the site, and for the audit.
func TestMain(m *testing.M) {
	switch filepath.Base(os.Args[0]) {
	case "site":
		os.Stdout.WriteString(os.Getenv("SITE_SAYS"))
		os.Exit(0)
	case "lighthouse":
		if err := pretend(os.Args[1:]); err != nil {
			os.Stderr.WriteString(err.Error())
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// pretend audits a page: it notes it in the file $AUDITED and writes the report that
// is in a file of the page's name in the folder $REPORTS, or that of any page. It fails
// the first $FAILING times.
func pretend(args []string) error {
	page := args[0][strings.LastIndex(args[0], "/")+1:]
	before, err := os.ReadFile(os.Getenv("AUDITED"))
	if err != nil {
		return err
	}
	if err := os.WriteFile(os.Getenv("AUDITED"), append(before, page+"\n"...), 0o644); err != nil {
		return err
	}
	if n, _ := strconv.Atoi(os.Getenv("FAILING")); strings.Count(string(before), "\n") < n {
		return errors.New("the browser was lost")
	}
	text, err := os.ReadFile(filepath.Join(os.Getenv("REPORTS"), page+".json"))
	if errors.Is(err, os.ErrNotExist) {
		text, err = os.ReadFile(filepath.Join(os.Getenv("REPORTS"), "any.json"))
	}
	if err != nil {
		return err
	}
	for _, arg := range args {
		if name, ok := strings.CutPrefix(arg, "--output-path="); ok {
			return os.WriteFile(name, text, 0o644)
		}
	}
	return errors.New("no place for the report")
}

const (
	perfect = `{"categories": {"performance": {"score": 0.4}, "accessibility": {"score": 1}, "best-practices": {"score": 1}, "seo": {"score": 1}}}`
	lacking = `{"categories": {"performance": {"score": 1}, "accessibility": {"score": 0.99, "auditRefs": [
		{"id": "label", "weight": 3}, {"id": "contrast", "weight": 7}, {"id": "hidden", "weight": 0}, {"id": "fine", "weight": 1}, {"id": "video", "weight": 1}]},
		"best-practices": {"score": 1}, "seo": {"score": 1}},
		"audits": {"label": {"title": "Fields have labels", "score": 0}, "contrast": {"title": "Text can be read", "score": 0.5},
		"hidden": {"title": "Weighs nothing", "score": 0}, "fine": {"title": "Fine", "score": 1}, "video": {"title": "Not there", "score": null}}}`
)

// audited runs the command with stand-ins, and returns which pages were audited.
func audited(t *testing.T, says string, failing int, reports map[string]string) (pages []string, err error) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for _, name := range []string{"site", "lighthouse"} {
		if err := os.Symlink(self, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	for name, text := range reports {
		if err := os.WriteFile(filepath.Join(dir, name+".json"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	list := filepath.Join(dir, "audited")
	if err := os.WriteFile(list, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Setenv("SITE_SAYS", says)
	t.Setenv("AUDITED", list)
	t.Setenv("REPORTS", dir)
	t.Setenv("FAILING", strconv.Itoa(failing))
	err = run(filepath.Join(dir, "lighthouse"), filepath.Join(dir, "site"), dir)
	text, readErr := os.ReadFile(list)
	if readErr != nil {
		t.Fatal(readErr)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\n"), "\n"), err
}

const started = "The guide is at http://127.0.0.1:1/\nCompressed.\n"

// Every page is audited once; a score below 100 fails, except for speed, and the error
// names the page and the audits that it lost points for.
func TestScores(t *testing.T) {
	for what, c := range map[string]struct {
		reports map[string]string
		want    string
	}{
		"nothing lost": {map[string]string{"any": perfect}, ""},
		"one page":     {map[string]string{"any": perfect, "check": lacking}, "/check: accessibility is below 100: contrast (Text can be read); label (Fields have labels)"},
	} {
		got, err := audited(t, started, 0, c.reports)
		if err == nil && c.want != "" || err != nil && err.Error() != c.want {
			t.Errorf("%s: got %v, want %q", what, err, c.want)
		}
		if len(got) != len(pages) {
			t.Errorf("%s: got %v audited, want each page once", what, got)
		}
	}
}

// An audit that fails to run is started again, a few times.
func TestTries(t *testing.T) {
	if got, err := audited(t, started, tries-1, map[string]string{"any": perfect}); err != nil || len(got) != len(pages)+tries-1 {
		t.Errorf("got %d audits, %v, want %d", len(got), err, len(pages)+tries-1)
	}
	if got, err := audited(t, started, tries, map[string]string{"any": perfect}); err == nil || !strings.Contains(err.Error(), "the browser was lost") || len(got) != tries {
		t.Errorf("got %d audits, %v, want %d and what the tool said", len(got), err, tries)
	}
}

// What is no report, or says that the audit failed, is an error.
func TestReports(t *testing.T) {
	var syntax *json.SyntaxError
	if _, err := audited(t, started, 0, map[string]string{"any": "no JSON"}); !errors.As(err, &syntax) {
		t.Errorf("got %v, want an error of the syntax", err)
	}
	if _, err := audited(t, started, 0, map[string]string{"any": `{"runtimeError": {"message": "the page did not load"}}`}); err == nil || err.Error() != "/: the page did not load" {
		t.Errorf("got %v, want what the report says", err)
	}
}

// A site that does not start, or never says where it is, is not audited.
func TestNoSite(t *testing.T) {
	for _, says := range []string{"", "Compressed.\n", "The guide is at http://127.0.0.1:1/\n"} {
		if got, err := audited(t, says, 0, map[string]string{"any": perfect}); err == nil || err.Error() != "the site does not start" || got[0] != "" {
			t.Errorf("%q: got %v, %v", says, got, err)
		}
	}
	if err := run("lighthouse", filepath.Join(t.TempDir(), "absent"), ""); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("got %v, want that the command is not there", err)
	}
}
