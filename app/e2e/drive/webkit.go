//go:build e2e && linux

package drive

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// webkit is driven over WebKitWebDriver, in a window of our own on a screen that
// nobody sees.
type webkit struct {
	driver, screen *process
	base           string // of the session
	console        string
	proxy          net.Listener
	client         http.Client
	mu             sync.Mutex
	current        string // the window that commands go to
	pages          []*webkitPage
	read           int64 // of the console
	fresh          string
	loaded         bool // a page of the site
}

type webkitPage struct {
	of     *webkit
	window string
	faults *faults
}

// build/webkit-window is made by the Makefile.
func startWebKit(profile, script string, limits limits) (engine, error) {
	command, err := find("WEBKIT_DRIVER", "WebKitWebDriver")
	if err != nil {
		return nil, err
	}
	window, err := exec.LookPath(os.Getenv("WEBKIT_WINDOW"))
	if err != nil {
		return nil, fmt.Errorf("WEBKIT_WINDOW does not say where the window is; run: make e2e: %w", err)
	}
	server, err := find("XVFB", "Xvfb")
	if err != nil {
		return nil, err
	}
	w := &webkit{console: filepath.Join(profile, "console.txt")}
	w.client.Timeout = Patience
	if err := w.begin(server, command, window, profile, script, limits); err != nil {
		w.kill()
		return nil, err
	}
	return w, nil
}

func (w *webkit) begin(server, command, window, profile, script string, limits limits) (err error) {
	display, said, err := os.Pipe()
	if err != nil {
		return err
	}
	defer display.Close()
	x := exec.Command(server, "-displayfd", "3", "-screen", "0", "1400x1000x24", "-nolisten", "tcp")
	x.ExtraFiles = []*os.File{said}
	w.screen, err = run(x)
	said.Close()
	if err != nil {
		return err
	}
	number := make([]byte, 16)
	n, err := display.Read(number)
	if err != nil {
		return fmt.Errorf("%s names no display: %w", server, err)
	}
	// What WebKit asks of another host than this goes to a proxy that refuses it
	// and tells the tests.
	if w.proxy, err = net.Listen("tcp", "127.0.0.1:0"); err != nil {
		return err
	}
	go w.refuse()
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	port := strconv.Itoa(free.Addr().(*net.TCPAddr).Port)
	free.Close()
	cmd := exec.Command(command, "--port="+port)
	cmd.Env = append(os.Environ(), "DISPLAY=:"+strings.TrimSpace(string(number[:n])), "LANGUAGE=en_US", "LANG=en_US.UTF-8",
		"GTK_THEME=Adwaita", "NO_AT_BRIDGE=1", "GSETTINGS_BACKEND=memory", "GIO_USE_VFS=local",
		"DBUS_SESSION_BUS_ADDRESS=disabled:", "XDG_RUNTIME_DIR="+profile, "HOME="+profile)
	if w.driver, err = run(cmd); err != nil {
		return err
	}
	w.base = "http://127.0.0.1:" + port
	if err := await("WebKitWebDriver", func() error { return w.call("GET", "/status", nil, nil) }); err != nil {
		return err
	}
	if info, err := os.Stat(w.console); err == nil {
		w.read = info.Size()
	}
	// A command line has room for little.
	before := filepath.Join(profile, "before.js")
	if err := os.WriteFile(before, []byte(script), 0o600); err != nil {
		return err
	}
	var session struct{ SessionID string }
	err = w.call("POST", "/session", map[string]any{"capabilities": map[string]any{"alwaysMatch": map[string]any{
		"unhandledPromptBehavior": "ignore",
		"webkitgtk:browserOptions": map[string]any{
			"binary": window, "args": []string{profile, w.console, "http://" + w.proxy.Addr().String(), before, strconv.FormatInt(limits.room, 10), strconv.FormatBool(limits.private)}}}}}, &session)
	if err != nil {
		return err
	}
	w.base += "/session/" + session.SessionID
	if err := w.call("POST", "/timeouts", map[string]any{"script": Patience.Milliseconds(), "pageLoad": Patience.Milliseconds()}, nil); err != nil {
		return err
	}
	if err := w.call("GET", "/window", nil, &w.fresh); err != nil {
		return err
	}
	w.current = w.fresh
	return nil
}

// refuse answers every request for another host with a refusal.
func (w *webkit) refuse() {
	http.Serve(w.proxy, http.HandlerFunc(func(out http.ResponseWriter, r *http.Request) {
		w.mu.Lock()
		for _, p := range w.pages {
			p.faults.add(foreign + r.URL.String() + r.Host)
		}
		w.mu.Unlock()
		http.Error(out, "no other host is reached", http.StatusForbidden)
	}))
}

// call sends a command of WebDriver.
func (w *webkit) call(method, path string, params, result any) error {
	var body bytes.Buffer
	if method == "POST" {
		if params == nil {
			params = struct{}{}
		}
		if err := json.NewEncoder(&body).Encode(params); err != nil {
			return err
		}
	}
	request, err := http.NewRequest(method, w.base+path, &body)
	if err != nil {
		return err
	}
	response, err := w.client.Do(request)
	if err != nil {
		return err
	}
	defer response.Body.Close()
	var answer struct{ Value json.RawMessage }
	if err := json.NewDecoder(response.Body).Decode(&answer); err != nil {
		return fmt.Errorf("%s %s: %w", method, path, err)
	}
	if response.StatusCode != http.StatusOK {
		return fmt.Errorf("%s %s: %.500s", method, path, answer.Value)
	}
	if result == nil {
		return nil
	}
	return json.Unmarshal(answer.Value, result)
}

func (w *webkit) open(as Screen, heard *faults) (page, error) {
	p := &webkitPage{of: w, window: w.fresh, faults: heard}
	if w.fresh == "" {
		var made struct{ Handle string }
		ask := func(call func(method, path string, body, result any) error) error {
			return call("POST", "/window/new", map[string]any{"type": "window"}, &made)
		}
		// The driver opens a window from the one it looks at, which may be gone.
		err := ask(w.call)
		for i := len(w.pages) - 1; i >= 0 && err != nil; i-- {
			err = ask(w.pages[i].call)
		}
		if err != nil {
			return nil, err
		}
		p.window = made.Handle
	}
	w.fresh = ""
	w.mu.Lock()
	w.pages = append(w.pages, p)
	w.mu.Unlock()
	if err := p.call("POST", "/window/rect", map[string]any{"x": 0, "y": 0, "width": as.Width, "height": as.Height}, nil); err != nil {
		return nil, err
	}
	return p, await("the size of the window", func() error {
		size, err := p.evaluate(`innerWidth + "x" + innerHeight`)
		if want := fmt.Sprintf("%q", fmt.Sprintf("%dx%d", as.Width, as.Height)); err == nil && size != want {
			err = fmt.Errorf("it is %s, not %s", size, want)
		}
		return err
	})
}

func (w *webkit) quit() error {
	w.listen()
	return errors.Join(w.call("DELETE", "", nil, nil), w.kill())
}

func (w *webkit) kill() (err error) {
	if w.driver != nil {
		err = w.driver.kill()
	}
	if w.screen != nil {
		err = errors.Join(err, w.screen.kill())
	}
	if w.proxy != nil {
		w.proxy.Close()
	}
	return err
}

// unknown is said of what this engine does not know yet, and leaves aside.
var unknown = regexp.MustCompile(`Unrecognized Content-Security-Policy directive 'manifest-src'`)

// listen reads what the pages have said on the console since.
func (w *webkit) listen() {
	file, err := os.Open(w.console)
	if err != nil {
		return
	}
	defer file.Close()
	file.Seek(w.read, 0)
	var text bytes.Buffer
	n, _ := text.ReadFrom(file)
	w.mu.Lock()
	defer w.mu.Unlock()
	w.read += n
	for line := range strings.Lines(text.String()) {
		fault := strings.Contains(line, "CONSOLE ") && strings.Contains(line, " ERROR ") && !unknown.MatchString(line)
		for _, p := range w.pages {
			if fault {
				p.faults.says(strings.TrimSpace(line))
			} else {
				p.faults.hears(strings.TrimSpace(line))
			}
		}
	}
}

// call sends a command to this window.
func (p *webkitPage) call(method, path string, params, result any) error {
	if p.of.current != p.window {
		if err := p.of.call("POST", "/window", map[string]any{"handle": p.window}, nil); err != nil {
			return err
		}
		p.of.current = p.window
	}
	return p.of.call(method, path, params, result)
}

func (p *webkitPage) load(address string) error {
	return p.call("POST", "/url", map[string]any{"url": address}, nil)
}

func (p *webkitPage) listen() { p.of.listen() }

func (p *webkitPage) back() error { return p.call("POST", "/back", nil, nil) }

func (p *webkitPage) evaluate(expression string) (string, error) {
	var done struct{ Value, Error string }
	err := p.call("POST", "/execute/async", map[string]any{"args": []any{}, "script": `
		const done = arguments[arguments.length - 1];
		` + asJSON(expression) + `.then(Value => done({Value}), Error => done({Error: String(Error)}))`}, &done)
	if err == nil && done.Error != "" {
		err = fmt.Errorf("%s", done.Error)
	}
	return done.Value, err
}

func (p *webkitPage) act(source map[string]any) error {
	return p.call("POST", "/actions", map[string]any{"actions": []any{source}}, nil)
}

func (p *webkitPage) touch(x, y float64) error { return p.act(pointing("touch", x, y)) }
func (p *webkitPage) click(x, y float64) error { return p.act(pointing("mouse", x, y)) }
func (p *webkitPage) press(key string) error   { return p.act(typing(key)) }

func (p *webkitPage) files(selector string, names []string) error {
	var found map[string]string
	if err := p.call("POST", "/element", map[string]any{"using": "css selector", "value": selector}, &found); err != nil {
		return err
	}
	for _, element := range found {
		if err := p.call("POST", "/element/"+element+"/value", map[string]any{"text": strings.Join(names, "\n")}, nil); err != nil {
			return err
		}
	}
	return nil
}

func (p *webkitPage) picture() ([]byte, error) {
	var shot string
	if err := p.call("GET", "/screenshot", nil, &shot); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(shot)
}

func (p *webkitPage) close() error {
	w := p.of
	w.mu.Lock()
	last := len(w.pages) == 1
	for i, q := range w.pages {
		if q == p {
			w.pages = append(w.pages[:i], w.pages[i+1:]...)
			break
		}
	}
	w.mu.Unlock()
	if last {
		// Closing the last window would end the browser.
		w.fresh = p.window
		return p.call("POST", "/url", map[string]any{"url": "about:blank"}, nil)
	}
	w.current = p.window
	err := p.call("DELETE", "/window", nil, nil)
	w.current = ""
	return err
}
