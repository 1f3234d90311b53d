//go:build e2e && linux

package drive

import (
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"

	"github.com/chromedp/chromedp/kb"
)

// chromium is driven over its DevTools.
type chromium struct {
	*wire
	process *process
	script  string // for every page, before its own
	mu      sync.Mutex
	pages   map[string]*chromiumPage // by session
	context string                   // of a private window, or ""
}

type chromiumPage struct {
	of      *chromium
	session string
	target  string
	faults  *faults
}

func startChromium(profile, script string, limits limits) (engine, error) {
	if limits.room > 0 {
		return nil, errors.New("Chromium is told how much room a site has by Storage.overrideQuotaForOrigin, when its page is open")
	}
	path, err := find("CHROME", "chromium", "chromium-browser", "google-chrome")
	if err != nil {
		return nil, err
	}
	port := filepath.Join(profile, "DevToolsActivePort")
	os.Remove(port)
	cmd := exec.Command(path, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
		"--lang=en-GB", "--accept-lang=en-GB", "--remote-debugging-port=0", "--user-data-dir="+profile,
		// Nothing leaves this computer, whatever the browser asks by itself: only
		// loopback is reached without the proxy, and there is none.
		"--proxy-server=http://127.0.0.1:9", "about:blank")
	p, err := run(cmd)
	if err != nil {
		return nil, err
	}
	c := &chromium{process: p, script: script, pages: map[string]*chromiumPage{}}
	err = await("DevTools", func() error {
		text, err := os.ReadFile(port)
		if err != nil {
			return err
		}
		number, path, ok := strings.Cut(strings.TrimSpace(string(text)), "\n")
		if !ok {
			return fmt.Errorf("%s says %q", port, text)
		}
		c.wire, err = dial("ws://127.0.0.1:"+number+path, c.hear)
		return err
	})
	if err == nil && limits.private {
		var private struct{ BrowserContextID string }
		err = c.call("", "Target.createBrowserContext", nil, &private)
		c.context = private.BrowserContextID
	}
	if err != nil {
		p.kill()
		return nil, err
	}
	return c, nil
}

func (c *chromium) hear(m message) {
	c.mu.Lock()
	p := c.pages[m.SessionID]
	c.mu.Unlock()
	if p == nil {
		return
	}
	switch m.Method {
	case "Runtime.consoleAPICalled":
		var e struct {
			Type string
			Args json.RawMessage
		}
		if json.Unmarshal(m.Params, &e); e.Type == "error" {
			p.faults.says(string(e.Args))
		} else {
			p.faults.hears(string(e.Args))
		}
	case "Runtime.exceptionThrown":
		p.faults.says(string(m.Params))
	case "Audits.issueAdded":
		var e struct{ Issue struct{ Code string } }
		if json.Unmarshal(m.Params, &e); e.Issue.Code == "ContentSecurityPolicyIssue" {
			p.faults.add(breach + string(m.Params))
		}
	case "Network.requestWillBeSent":
		var e struct{ Request struct{ URL string } }
		json.Unmarshal(m.Params, &e)
		p.faults.asks(e.Request.URL)
	}
}

func (c *chromium) open(as Screen, heard *faults) (page, error) {
	var target struct{ TargetID string }
	// A window for each page: one behind another is drawn about once a second.
	where := map[string]any{"url": "about:blank", "newWindow": true}
	if c.context != "" {
		where["browserContextId"] = c.context
	}
	if err := c.call("", "Target.createTarget", where, &target); err != nil {
		return nil, err
	}
	var attached struct{ SessionID string }
	if err := c.call("", "Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached); err != nil {
		return nil, err
	}
	p := &chromiumPage{of: c, session: attached.SessionID, target: target.TargetID, faults: heard}
	c.mu.Lock()
	c.pages[p.session] = p
	c.mu.Unlock()
	for _, command := range []struct {
		method string
		params map[string]any
	}{
		{"Network.enable", nil},
		{"Page.enable", nil},
		{"Runtime.enable", nil},
		{"Audits.enable", nil},
		{"Page.setInterceptFileChooserDialog", map[string]any{"enabled": true}},
		{"Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": c.script}},
		{"Emulation.setDeviceMetricsOverride", map[string]any{"width": as.Width, "height": as.Height, "deviceScaleFactor": 1, "mobile": as.Touch}},
		{"Emulation.setTouchEmulationEnabled", map[string]any{"enabled": as.Touch}},
		{"Emulation.setEmulatedMedia", map[string]any{"features": []map[string]any{{"name": "prefers-reduced-motion", "value": "reduce"}}}},
		// A tab behind another one is still in use.
		{"Emulation.setFocusEmulationEnabled", map[string]any{"enabled": true}},
	} {
		if err := p.tell(command.method, command.params); err != nil {
			return nil, err
		}
	}
	return p, nil
}

func (c *chromium) quit() error {
	c.call("", "Browser.close", nil, nil)
	err := c.process.ended()
	c.wire.close()
	return err
}

func (c *chromium) kill() error {
	err := c.process.kill()
	c.wire.close()
	return err
}

func (p *chromiumPage) tell(method string, params map[string]any) error {
	return p.of.call(p.session, method, params, nil)
}

func (p *chromiumPage) load(address string) error {
	before, err := p.document()
	if err != nil {
		return err
	}
	var done struct{ ErrorText, LoaderID string }
	if err := p.of.call(p.session, "Page.navigate", map[string]any{"url": address}, &done); err != nil {
		return err
	}
	if done.ErrorText != "" {
		return fmt.Errorf("%s: %s", address, done.ErrorText)
	}
	return await("the page loads", func() error {
		// The answer comes before the document is put in the place of the last one,
		// which is complete. Another place in the same document has no loader.
		if now, err := p.document(); err != nil {
			return err
		} else if done.LoaderID != "" && now == before {
			return fmt.Errorf("the page before it is still there")
		}
		ready, err := p.evaluate(`document.readyState`)
		if err == nil && ready != `"complete"` {
			err = fmt.Errorf("it is %s", ready)
		}
		return err
	})
}

// document names the document that is shown.
func (p *chromiumPage) document() (string, error) {
	var tree struct {
		FrameTree struct{ Frame struct{ LoaderID string } }
	}
	err := p.of.call(p.session, "Page.getFrameTree", nil, &tree)
	return tree.FrameTree.Frame.LoaderID, err
}

// What was said before this answer has been heard.
func (p *chromiumPage) listen() { p.evaluate("0") }

func (p *chromiumPage) back() error {
	var history struct {
		CurrentIndex int
		Entries      []struct{ ID int }
	}
	look := func() error { return p.of.call(p.session, "Page.getNavigationHistory", nil, &history) }
	if err := look(); err != nil {
		return err
	}
	was := history.CurrentIndex
	if was == 0 {
		return fmt.Errorf("there is nothing to go back to")
	}
	if err := p.tell("Page.navigateToHistoryEntry", map[string]any{"entryId": history.Entries[was-1].ID}); err != nil {
		return err
	}
	// The answer comes before the step is made.
	return await("the step back", func() error {
		if err := look(); err != nil {
			return err
		} else if history.CurrentIndex == was {
			return fmt.Errorf("the page is still the same")
		}
		return nil
	})
}

func (p *chromiumPage) evaluate(expression string) (string, error) {
	var done struct {
		Result           struct{ Value string }
		ExceptionDetails json.RawMessage
	}
	err := p.of.call(p.session, "Runtime.evaluate", map[string]any{
		"expression": asJSON(expression), "awaitPromise": true, "returnByValue": true}, &done)
	if err == nil && done.ExceptionDetails != nil {
		err = fmt.Errorf("%.500s", done.ExceptionDetails)
	}
	return done.Result.Value, err
}

// tellAll sends several commands at once, as a finger does not wait for an answer
// before it is lifted.
func (p *chromiumPage) tellAll(method string, all ...any) (err error) {
	var answers []func(any) error
	for _, params := range all {
		answer, failed := p.of.send(p.session, method, params)
		if failed != nil {
			err = failed
			break
		}
		answers = append(answers, answer)
	}
	for _, answer := range answers {
		err = errors.Join(err, answer(nil))
	}
	return err
}

func (p *chromiumPage) touch(x, y float64) error {
	return p.tellAll("Input.dispatchTouchEvent",
		map[string]any{"type": "touchStart", "touchPoints": []map[string]any{{"x": x, "y": y}}},
		map[string]any{"type": "touchEnd", "touchPoints": []map[string]any{}})
}

func (p *chromiumPage) click(x, y float64) error {
	return p.tellAll("Input.dispatchMouseEvent",
		map[string]any{"type": "mouseMoved", "x": x, "y": y},
		map[string]any{"type": "mousePressed", "x": x, "y": y, "button": "left", "clickCount": 1},
		map[string]any{"type": "mouseReleased", "x": x, "y": y, "button": "left", "clickCount": 1})
}

var chromiumKeys = map[string]string{
	Enter: kb.Enter, Tabulator: kb.Tab, Escape: kb.Escape, Backspace: kb.Backspace,
	Up: kb.ArrowUp, Down: kb.ArrowDown, Left: kb.ArrowLeft, Right: kb.ArrowRight,
}

func (p *chromiumPage) press(key string) error {
	if named, ok := chromiumKeys[key]; ok {
		key = named
	}
	var events []any
	for _, r := range key {
		for _, event := range kb.Encode(r) {
			events = append(events, event)
		}
	}
	return p.tellAll("Input.dispatchKeyEvent", events...)
}

func (p *chromiumPage) files(selector string, names []string) error {
	var found struct{ Result struct{ ObjectID string } }
	if err := p.of.call(p.session, "Runtime.evaluate", map[string]any{"expression": fmt.Sprintf("document.querySelector(%q)", selector)}, &found); err != nil {
		return err
	}
	return p.tell("DOM.setFileInputFiles", map[string]any{"objectId": found.Result.ObjectID, "files": names})
}

func (p *chromiumPage) picture() ([]byte, error) {
	var shot struct{ Data string }
	if err := p.of.call(p.session, "Page.captureScreenshot", nil, &shot); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(shot.Data)
}

func (p *chromiumPage) close() error {
	return p.of.call("", "Target.closeTarget", map[string]any{"targetId": p.target}, nil)
}
