//go:build e2e && linux

package drive

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
)

// firefox is driven over WebDriver BiDi, on a websocket of its own.
type firefox struct {
	*wire
	process *process
	mu      sync.Mutex
	pages   map[string]*firefoxPage // by context
	active  *firefoxPage            // whose window was activated last
}

type firefoxPage struct {
	of      *firefox
	context string
	faults  *faults
}

// preferences keep Firefox from asking anybody for anything, let it start as ever
// after it was killed however often, give a tab the touch events of a phone, and
// let a tab behind another run and draw at its usual pace: on a phone it would
// be slowed, and a test with two tabs would wait seconds for each step.
const preferences = `user_pref("app.normandy.enabled", false);
user_pref("app.update.enabled", false);
user_pref("browser.contentblocking.report.hide_vpn_banner", true);
user_pref("browser.newtabpage.enabled", false);
user_pref("browser.region.update.enabled", false);
user_pref("browser.safebrowsing.downloads.remote.enabled", false);
user_pref("browser.safebrowsing.malware.enabled", false);
user_pref("browser.safebrowsing.phishing.enabled", false);
user_pref("browser.search.update", false);
user_pref("browser.sessionstore.resume_from_crash", false);
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("browser.startup.homepage", "about:blank");
user_pref("browser.startup.page", 0);
user_pref("datareporting.healthreport.uploadEnabled", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("dom.min_background_timeout_value", 4);
user_pref("dom.timeout.enable_budget_timer_throttling", false);
user_pref("dom.w3c_touch_events.enabled", 1);
user_pref("extensions.getAddons.cache.enabled", false);
user_pref("extensions.systemAddon.update.enabled", false);
user_pref("extensions.update.enabled", false);
user_pref("intl.accept_languages", "en-GB");
user_pref("layout.throttled_frame_rate", 60);
user_pref("media.gmp-manager.updateEnabled", false);
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
user_pref("network.dns.disablePrefetch", true);
user_pref("network.proxy.http", "127.0.0.1");
user_pref("network.proxy.http_port", 9);
user_pref("network.proxy.ssl", "127.0.0.1");
user_pref("network.proxy.ssl_port", 9);
user_pref("network.proxy.type", 1);
user_pref("remote.active-protocols", 1);
user_pref("services.settings.server", "http://127.0.0.1:9");
user_pref("toolkit.startup.max_resumed_crashes", -1);
user_pref("toolkit.telemetry.enabled", false);
user_pref("ui.prefersReducedMotion", 1);
user_pref("ui.useOverlayScrollbars", 1);
`

func startFirefox(profile, script string, limits limits) (engine, error) {
	path, err := find("FIREFOX", "firefox-esr", "firefox")
	if err != nil {
		return nil, err
	}
	set := preferences
	if limits.room > 0 {
		// In KB, for all sites; one may have a fifth of that.
		set += fmt.Sprintf("user_pref(\"dom.quotaManager.temporaryStorage.fixedLimit\", %d);\n", 5*limits.room/1024)
	}
	if limits.private {
		set += "user_pref(\"browser.privatebrowsing.autostart\", true);\n"
	}
	if err := os.WriteFile(filepath.Join(profile, "user.js"), []byte(set), 0o600); err != nil {
		return nil, err
	}
	listens := filepath.Join(profile, "WebDriverBiDiServer.json")
	os.Remove(listens)
	cmd := exec.Command(path, "--headless", "--no-remote", "--profile", profile, "--remote-debugging-port=0", "about:blank")
	cmd.Env = append(os.Environ(), "HOME="+profile, "MOZ_CRASHREPORTER_DISABLE=1")
	p, err := run(cmd)
	if err != nil {
		return nil, err
	}
	f := &firefox{process: p, pages: map[string]*firefoxPage{}}
	err = await("WebDriver BiDi", func() error {
		text, err := os.ReadFile(listens)
		if err != nil {
			return err
		}
		var server struct {
			Port int `json:"ws_port"`
		}
		if err := json.Unmarshal(text, &server); err != nil {
			return err
		}
		f.wire, err = dial(fmt.Sprintf("ws://127.0.0.1:%d/session", server.Port), f.hear)
		return err
	})
	if err == nil {
		// A chooser of files stays as it is until the test gives one: by itself
		// Firefox cancels it, and the page is told that nothing was chosen.
		err = f.call("", "session.new", map[string]any{"capabilities": map[string]any{"alwaysMatch": map[string]any{
			"unhandledPromptBehavior": map[string]any{"default": "ignore", "file": "ignore"}}}}, nil)
	}
	if err == nil {
		err = f.call("", "session.subscribe", map[string]any{"events": []string{"log.entryAdded", "network.beforeRequestSent"}}, nil)
	}
	if err == nil {
		err = f.call("", "script.addPreloadScript", map[string]any{"functionDeclaration": "() => {" + script + "}"}, nil)
	}
	if err != nil {
		p.kill()
		return nil, err
	}
	return f, nil
}

func (f *firefox) hear(m message) {
	var e struct {
		Level, Text, Context string
		Source               struct{ Context string }
		Request              struct{ URL string }
	}
	json.Unmarshal(m.Params, &e)
	f.mu.Lock()
	p := f.pages[e.Context+e.Source.Context]
	f.mu.Unlock()
	switch {
	case p == nil:
	case m.Method == "log.entryAdded" && e.Level == "error":
		p.faults.says(e.Text)
	case m.Method == "log.entryAdded":
		p.faults.hears(e.Text)
	case m.Method == "network.beforeRequestSent":
		p.faults.asks(e.Request.URL)
	}
}

func (f *firefox) open(as Screen, heard *faults) (page, error) {
	var created struct{ Context string }
	// A window and no tab: in one that stands behind another a frame takes a second,
	// whatever the preferences say.
	if err := f.call("", "browsingContext.create", map[string]any{"type": "window"}, &created); err != nil {
		return nil, err
	}
	p := &firefoxPage{of: f, context: created.Context, faults: heard}
	f.mu.Lock()
	f.pages[p.context] = p
	f.active = nil // a new window may take the focus
	f.mu.Unlock()
	return p, f.call("", "browsingContext.setViewport", map[string]any{
		"context": p.context, "viewport": map[string]any{"width": as.Width, "height": as.Height}}, nil)
}

func (f *firefox) quit() error {
	f.call("", "browser.close", nil, nil)
	err := f.process.ended()
	f.wire.close()
	return err
}

func (f *firefox) kill() error {
	err := f.process.kill()
	f.wire.close()
	return err
}

func (p *firefoxPage) load(address string) error {
	return p.of.call("", "browsingContext.navigate", map[string]any{"context": p.context, "url": address, "wait": "complete"}, nil)
}

// What was said before this answer has been heard.
func (p *firefoxPage) listen() { p.evaluate("0") }

func (p *firefoxPage) back() error {
	return p.of.call("", "browsingContext.traverseHistory", map[string]any{"context": p.context, "delta": -1}, nil)
}

func (p *firefoxPage) evaluate(expression string) (string, error) {
	var done struct {
		Type             string
		Result           struct{ Value string }
		ExceptionDetails struct{ Text string }
	}
	err := p.run(asJSON(expression), &done)
	if err == nil && done.Type == "exception" {
		err = fmt.Errorf("%s", done.ExceptionDetails.Text)
	}
	return done.Result.Value, err
}

func (p *firefoxPage) run(expression string, into any) error {
	return p.of.call("", "script.evaluate", map[string]any{
		"expression": expression, "target": map[string]any{"context": p.context}, "awaitPromise": true}, into)
}

// act does what fingers, a mouse or a keyboard do.
func (p *firefoxPage) act(source map[string]any) error {
	return p.of.call("", "input.performActions", map[string]any{"context": p.context, "actions": []any{source}}, nil)
}

func (p *firefoxPage) touch(x, y float64) error { return p.act(pointing("touch", x, y)) }
func (p *firefoxPage) click(x, y float64) error { return p.act(pointing("mouse", x, y)) }

// press activates the window first, unless it was the last to be: in one without the
// focus, the key Enter sometimes does not press a button.
func (p *firefoxPage) press(key string) error {
	f := p.of
	f.mu.Lock()
	active := f.active == p
	f.active = p
	f.mu.Unlock()
	if !active {
		if err := f.call("", "browsingContext.activate", map[string]any{"context": p.context}, nil); err != nil {
			return err
		}
	}
	return p.act(typing(key))
}

// pointing and typing are the actions of WebDriver, the same over BiDi.
func pointing(with string, x, y float64) map[string]any {
	return map[string]any{"type": "pointer", "id": with, "parameters": map[string]any{"pointerType": with}, "actions": []map[string]any{
		{"type": "pointerMove", "x": int(x), "y": int(y), "duration": 0},
		{"type": "pointerDown", "button": 0},
		{"type": "pointerUp", "button": 0},
	}}
}

var webdriverKeys = map[string]string{
	Enter: "\uE007", Tabulator: "\uE004", Escape: "\uE00C", Backspace: "\uE003",
	Up: "\uE013", Down: "\uE015", Left: "\uE012", Right: "\uE014",
}

func typing(key string) map[string]any {
	if named, ok := webdriverKeys[key]; ok {
		key = named
	}
	return map[string]any{"type": "key", "id": "keys", "actions": []map[string]any{
		{"type": "keyDown", "value": key}, {"type": "keyUp", "value": key}}}
}

func (p *firefoxPage) files(selector string, names []string) error {
	var found struct{ Result struct{ SharedID string } }
	if err := p.run(fmt.Sprintf("document.querySelector(%q)", selector), &found); err != nil {
		return err
	}
	return p.of.call("", "input.setFiles", map[string]any{
		"context": p.context, "element": map[string]any{"sharedId": found.Result.SharedID}, "files": names}, nil)
}

func (p *firefoxPage) picture() ([]byte, error) {
	var shot struct{ Data string }
	if err := p.of.call("", "browsingContext.captureScreenshot", map[string]any{"context": p.context}, &shot); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(shot.Data)
}

func (p *firefoxPage) close() error {
	p.of.mu.Lock()
	p.of.active = nil
	p.of.mu.Unlock()
	return p.of.call("", "browsingContext.close", map[string]any{"context": p.context}, nil)
}
