// Command lighthouse audits the built site with the npm package of that name:
// the first page of every use, as a phone on a slow connection sees it. It
// prints the scores and fails below 100 for accessibility, best practices or
// search engines. Speed is only printed: it is an estimate for a slow phone,
// and `make start` measures against a bare page instead.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// browserFlags keep the browser off the network except for the page under audit.
const browserFlags = "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run " +
	"--disable-background-networking --disable-component-update --disable-sync"

// pages are those that are audited.
var pages = []string{"/", "/check", "/shelf", "/batch", "/keeping", "/learn", "/sweep", "/trip"}

// speed is the category that is printed and not judged.
const speed = "performance"

var categories = []string{speed, "accessibility", "best-practices", "seo"}

// tries is how often an audit is started if it fails to run, as it may on a busy
// computer. A completed audit is never repeated.
const tries = 3

// findings is what is read of a report.
type findings struct {
	Categories map[string]struct {
		Score     float64 // 0 to 1
		AuditRefs []struct {
			ID     string
			Weight float64
		}
	}
	Audits map[string]struct {
		Title string
		Score *float64 // nil when the audit does not apply
	}
	RuntimeError *struct{ Message string }
}

func main() {
	tool := flag.String("tool", "build/lighthouse/node_modules/.bin/lighthouse", "the audit `program`")
	site := flag.String("site", "build/site", "the `command` that serves the site")
	programs := flag.String("programs", "build", "the `folder` of the WebAssembly program")
	flag.Parse()
	if err := run(*tool, *site, *programs); err != nil {
		fmt.Fprintln(os.Stderr, "lighthouse:", err)
		os.Exit(1)
	}
}

func run(tool, site, programs string) error {
	address, stop, err := serve(site, programs)
	if err != nil {
		return err
	}
	defer stop()
	dir, err := os.MkdirTemp("", "larderlamp-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)

	fmt.Printf("%-12s", "page")
	for _, c := range categories {
		fmt.Printf("%16s", c)
	}
	fmt.Println()
	var low []error
	for _, page := range pages {
		var found findings
		for range tries {
			if found, err = audit(tool, address+page, filepath.Join(dir, "report.json")); err == nil {
				break
			}
		}
		if err != nil {
			return fmt.Errorf("%s: %w", page, err)
		}
		fmt.Printf("%-12s", page)
		for _, c := range categories {
			fmt.Printf("%16.0f", 100*found.Categories[c].Score)
			if c != speed && found.Categories[c].Score < 1 {
				low = append(low, fmt.Errorf("%s: %s is below 100: %s", page, c, strings.Join(found.failed(c), "; ")))
			}
		}
		fmt.Println()
	}
	return errors.Join(low...)
}

// serve starts the site on a free port and waits until it is compressed, as it
// is on a host. Call stop to end it.
func serve(site, programs string) (address string, stop func(), err error) {
	cmd := exec.Command(site, "serve", "-addr", "127.0.0.1:0", "-programs", programs)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		return "", nil, err
	}
	if err := cmd.Start(); err != nil {
		return "", nil, err
	}
	stop = func() {
		cmd.Process.Signal(os.Interrupt) // it may have ended by itself
		cmd.Wait()
	}
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if _, at, ok := strings.Cut(lines.Text(), " at "); ok {
			address = strings.TrimSuffix(at, "/")
		}
		if strings.HasPrefix(lines.Text(), "Compressed") && address != "" {
			return address, stop, nil
		}
	}
	stop()
	return "", nil, errors.New("the site does not start")
}

// audit runs the tool on one page in a browser of its own. Errors of the tool
// are its own words.
func audit(tool, page, report string) (f findings, err error) {
	cmd := exec.Command(tool, page, "--quiet", "--no-enable-error-reporting", "--chrome-flags="+browserFlags,
		"--only-categories="+strings.Join(categories, ","), "--output=json", "--output-path="+report)
	if said, err := cmd.CombinedOutput(); err != nil {
		return f, fmt.Errorf("%w: %s", err, said)
	}
	text, err := os.ReadFile(report)
	if err != nil {
		return f, err
	}
	if err := json.Unmarshal(text, &f); err != nil {
		return f, err
	}
	if f.RuntimeError != nil {
		return f, errors.New(f.RuntimeError.Message)
	}
	return f, nil
}

// failed lists the audits that cost a category its score.
func (f findings) failed(category string) (titles []string) {
	for _, ref := range f.Categories[category].AuditRefs {
		if a := f.Audits[ref.ID]; ref.Weight > 0 && a.Score != nil && *a.Score < 1 {
			titles = append(titles, ref.ID+" ("+a.Title+")")
		}
	}
	slices.Sort(titles)
	return
}
