//go:build e2e && linux

// Package e2e drives the built site in a real browser: the command site serves
// it, and Chromium is used as a person would use it, by touch and by keyboard.
// The Makefile says where the pieces are; see the target e2e.
package e2e

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/audits"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"larderlamp/app/backup"
	"larderlamp/app/e2e/drive"
	"larderlamp/app/record"
	"larderlamp/rules"
)

// patience is how long anything in the browser may take before a test gives up
// on it. It bounds a hang; nothing is judged by it.
const patience = drive.Patience

// need returns an environment variable that the Makefile sets.
func need(t testing.TB, name string) string {
	t.Helper()
	v := os.Getenv(name)
	if v == "" {
		t.Fatalf("%s is not set; run: make e2e", name)
	}
	return v
}

// site is a site at an address of its own: a running copy of the command site, or
// a way to one that several tests share.
type site struct {
	t      testing.TB
	addr   string
	prefix string
	cmd    *exec.Cmd
	gate   *gate
	packed chan bool // closed when the server has made its compressed copies, and rests
}

// served are the addresses that were ever served. Each is used once, because a
// browser that several tests share may hold storage of it.
var served sync.Map

// commons are the sites that tests share, by their folder: to start one takes more
// than a second of a processor. The first test that needs it starts it, TestMain
// ends it.
var commons = map[string]*site{}

// serve gives a test the site below a folder of its host, or "" for the root, at an
// address of its own, and so with storage of its own in the browser.
func serve(t testing.TB, prefix string) *site {
	t.Helper()
	common := commons[prefix]
	if common == nil {
		common = &site{t: t, prefix: prefix, addr: freeAddress(t)}
		common.with(need(t, "SITE"), need(t, "PROGRAMS"))
		commons[prefix] = common
	}
	s := &site{t: t, prefix: prefix, addr: freeAddress(t), packed: common.packed}
	t.Cleanup(s.stop)
	s.gate = openGate(t, s.addr, common.addr)
	return s
}

// gate passes on what comes to one address to another one, byte by byte, until it
// is closed: then nothing answers at its address any more.
type gate struct {
	listener net.Listener
	mu       sync.Mutex
	closed   bool
	open     map[net.Conn]bool
}

func openGate(t testing.TB, from, to string) *gate {
	t.Helper()
	listener, err := net.Listen("tcp", from)
	if err != nil {
		t.Fatal(err)
	}
	g := &gate{listener: listener, open: map[net.Conn]bool{}}
	go func() {
		for {
			client, err := listener.Accept()
			if err != nil {
				return
			}
			server, err := net.Dial("tcp", to)
			if err != nil {
				client.Close() // as of a server that has ended
				continue
			}
			if !g.holds(client, server) {
				return
			}
			go g.pass(client, server)
			go g.pass(server, client)
		}
	}()
	return g
}

// holds remembers connections, or closes them when the gate is closed.
func (g *gate) holds(all ...net.Conn) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	for _, c := range all {
		if g.closed {
			c.Close()
		} else {
			g.open[c] = true
		}
	}
	return !g.closed
}

// pass copies from one connection to the other, and closes both at its end.
func (g *gate) pass(to, from net.Conn) {
	io.Copy(to, from)
	to.Close()
	from.Close()
	g.mu.Lock()
	defer g.mu.Unlock()
	delete(g.open, to)
	delete(g.open, from)
}

func (g *gate) close() {
	g.listener.Close()
	g.mu.Lock()
	defer g.mu.Unlock()
	g.closed = true
	for c := range g.open {
		c.Close()
	}
}

// freeAddress returns an address on this computer that nothing was served at.
func freeAddress(t testing.TB) (addr string) {
	t.Helper()
	for used := true; used; {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			t.Fatal(err)
		}
		addr = l.Addr().String()
		l.Close()
		_, used = served.LoadOrStore(addr, true)
	}
	return addr
}

// with starts the site with a command and its programs, and perhaps more flags.
func (s *site) with(command, programs string, more ...string) {
	s.t.Helper()
	s.stop() // a test that failed before it did so leaves nothing running
	s.cmd = exec.Command(command, append([]string{"serve", "-addr", s.addr, "-prefix", s.prefix, "-programs", programs, "-kept", keptCopies(s.t)}, more...)...)
	s.await()
}

// keptCopies is the folder of compressed copies: without those of an earlier start
// each would compress for seconds.
func keptCopies(t testing.TB) string {
	t.Helper()
	kept := filepath.Join(need(t, "PROGRAMS"), "kept")
	if err := os.MkdirAll(kept, 0o755); err != nil {
		t.Fatal(err)
	}
	return kept
}

// await starts the command and waits until the site answers.
func (s *site) await() {
	s.t.Helper()
	s.cmd.Stderr = os.Stderr
	said, err := s.cmd.StdoutPipe()
	if err != nil {
		s.t.Fatal(err)
	}
	if err := s.cmd.Start(); err != nil {
		s.t.Fatal(err)
	}
	packed := make(chan bool)
	s.packed = packed
	go func() {
		for lines := bufio.NewScanner(said); lines.Scan(); {
			if strings.HasPrefix(lines.Text(), "Compressed") {
				close(packed)
			}
		}
	}()
	deadline := time.Now().Add(patience)
	for {
		r, err := http.Get(s.url("/"))
		if err == nil {
			r.Body.Close()
			return
		}
		if time.Now().After(deadline) {
			s.t.Fatalf("got no answer from the site: %v", err)
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// stop ends the server; the pages that are open are then without a connection.
func (s *site) stop() {
	if s.gate != nil {
		s.gate.close()
		s.gate = nil
	}
	if s.cmd != nil {
		s.cmd.Process.Signal(os.Interrupt)
		s.cmd.Wait()
		s.cmd = nil
	}
}

func (s *site) url(path string) string { return "http://" + s.addr + s.prefix + path }

// browser is a running Chromium.
type browser struct {
	t   testing.TB
	ctx context.Context
}

// shared is the Chromium that the tests use one after the other. Every test has
// an address of its own, and with it storage of its own; its tabs are closed
// when it ends. The first test that needs it starts it, TestMain ends it.
var shared struct {
	ctx context.Context
	end func() error
}

func TestMain(m *testing.M) {
	code := 1
	if err := speak(); err != nil {
		fmt.Fprintln(os.Stderr, err)
	} else {
		code = m.Run()
		if code == 0 && len(silenced) > 0 {
			code = again(m)
		}
	}
	for _, s := range commons {
		s.stop()
	}
	if shared.end != nil {
		if err := shared.end(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			code = 1
		}
	}
	os.Exit(code)
}

// start gives a test the shared browser, which is restarted if it has died.
func start(t testing.TB) *browser {
	t.Helper()
	if shared.end != nil && shared.ctx.Err() != nil {
		shared.end()
		shared.end = nil
	}
	if shared.end == nil {
		profile, err := os.MkdirTemp("", "e2e-chromium-")
		if err != nil {
			t.Fatal(err)
		}
		ctx, end, err := launch(chrome(t), chromedp.UserDataDir(profile))
		shared.ctx, shared.end = ctx, func() error { return errors.Join(end(), os.RemoveAll(profile)) }
		if err != nil {
			t.Fatalf("the browser does not start: %v", err)
		}
	}
	return &browser{t, shared.ctx}
}

// startOwn starts a browser with a profile of its own, which ends with the test.
func startOwn(t testing.TB, flags ...chromedp.ExecAllocatorOption) *browser {
	t.Helper()
	ctx, end, err := launch(chrome(t), append([]chromedp.ExecAllocatorOption{chromedp.UserDataDir(t.TempDir())}, flags...)...)
	t.Cleanup(func() {
		if err := end(); err != nil {
			t.Error(err)
		}
	})
	if err != nil {
		t.Fatalf("the browser does not start: %v", err)
	}
	return &browser{t, ctx}
}

// launch starts a browser, and returns what ends it with all that it has started.
func launch(path string, flags ...chromedp.ExecAllocatorOption) (context.Context, func() error, error) {
	follow, ended := drive.Follow()
	options := []chromedp.ExecAllocatorOption{
		chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.ExecPath(path),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("lang", "en-GB"), chromedp.Flag("accept-lang", "en-GB"),
		// Nothing leaves this computer, whatever the browser asks by itself: only
		// loopback is reached without the proxy, and there is none.
		chromedp.ProxyServer("http://127.0.0.1:9"),
		chromedp.ModifyCmdFunc(follow),
	}
	alloc, cancelAlloc := chromedp.NewExecAllocator(context.Background(), append(options, flags...)...)
	ctx, cancel := chromedp.NewContext(alloc)
	end := func() error {
		// One that does not end in time is killed.
		inTime, late := context.WithTimeout(ctx, drive.Answers)
		defer late()
		chromedp.Cancel(inTime)
		cancel()
		cancelAlloc()
		return ended()
	}
	return ctx, end, chromedp.Do(ctx)
}

// chrome finds a browser as the Makefile does.
func chrome(t testing.TB) string {
	t.Helper()
	for _, name := range []string{os.Getenv("CHROME"), "chromium", "chromium-browser", "google-chrome"} {
		if name != "" {
			if path, err := exec.LookPath(name); err == nil {
				return path
			}
		}
	}
	t.Fatal("no browser found; run: make browser")
	return ""
}

// screen is the size and light of a device.
type screen struct {
	width, height int64
	dark, touch   bool
}

var (
	phone   = screen{360, 640, false, true}
	night   = screen{360, 640, true, true}
	desktop = screen{1280, 800, false, false}
	evening = screen{1280, 800, true, false}
)

func (s screen) String() string {
	light := "light"
	if s.dark {
		light = "dark"
	}
	return fmt.Sprintf("%dx%d %s", s.width, s.height, light)
}

// tab is one page of the browser. It fails its test for every console error,
// exception, breach of the content security policy and request to another host.
type tab struct {
	t            testing.TB
	ctx          context.Context
	site         *site
	width        int64
	expectFaults bool // the test keeps the program away: console errors are its own
	scriptless   bool // scripts are switched off, and with them all promises
	thumb        drive.Thumb
	mu           sync.Mutex
	faults       []string
}

// watch is evaluated in every page before its own scripts. The browser's own
// list of issues, which is heard too, leaves out addresses that are scripts.
const watch = `document.addEventListener("securitypolicyviolation", e => console.error("` + breach + `" + e.violatedDirective + " " + e.blockedURI));` + drive.Aiming + drive.Resting

// A test never causes these faults on purpose.
const (
	breach  = "breach of the content security policy: "
	foreign = "request to another host: "
)

func (b *browser) open(s *site, as screen) *tab {
	b.t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	b.t.Cleanup(cancel)
	p := &tab{t: watched{b.t, b.ctx}, ctx: ctx, site: s, width: as.width}
	// A time limit for the first action would be one for the tab.
	late := time.AfterFunc(patience, cancel)
	err := chromedp.Do(ctx)
	late.Stop()
	if err != nil {
		p.t.Fatal(err)
	}
	if err := chromedp.Listen(ctx, p.hear); err != nil {
		p.t.Fatal(err)
	}
	scheme := "light"
	if as.dark {
		scheme = "dark"
	}
	p.call("Network.enable", nil)
	p.call("Page.enable", nil)
	p.call("Runtime.enable", nil)
	// A file is given by the test; no dialog opens.
	p.call("Page.setInterceptFileChooserDialog", map[string]any{"enabled": true})
	p.call("Audits.enable", nil)
	// A tab behind another one is still in use.
	p.call("Emulation.setFocusEmulationEnabled", map[string]any{"enabled": true})
	p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": watch + drive.Script})
	p.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": as.width, "height": as.height, "deviceScaleFactor": 1, "mobile": as.touch})
	p.call("Emulation.setTouchEmulationEnabled", map[string]any{"enabled": as.touch})
	p.call("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]any{
		{"name": "prefers-color-scheme", "value": scheme}, {"name": "prefers-reduced-motion", "value": "reduce"}}})
	b.t.Cleanup(p.check)
	return p
}

// hear records what must not happen.
func (p *tab) hear(event any) {
	fault := ""
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		if e.Type == "error" {
			text, _ := json.Marshal(e.Args)
			fault = "console: " + string(text)
			if strings.Contains(fault, breach) {
				fault = breach + string(text)
			}
		}
	case *runtime.EventExceptionThrown:
		text, _ := json.Marshal(e.ExceptionDetails)
		fault = "exception: " + string(text)
	case *audits.EventIssueAdded:
		if e.Issue.Code == audits.InspectorIssueCodeContentSecurityPolicyIssue {
			text, _ := json.Marshal(e.Issue.Details)
			fault = breach + string(text)
		}
	case *network.EventRequestWillBeSent:
		url := e.Request.URL
		if !strings.HasPrefix(url, "http://"+p.site.addr+"/") && !strings.HasPrefix(url, "data:") && !strings.HasPrefix(url, "blob:") {
			fault = foreign + url
		}
	}
	if fault != "" {
		p.mu.Lock()
		defer p.mu.Unlock()
		p.faults = append(p.faults, fault)
	}
}

func (p *tab) check() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, f := range p.faults {
		if !p.expectFaults || strings.HasPrefix(f, breach) || strings.HasPrefix(f, foreign) {
			p.t.Errorf("%s", f)
		}
	}
}

// call sends a command of the browser's protocol.
func (p *tab) call(method string, params any) {
	p.t.Helper()
	if err := p.ask(method, params, nil); err != nil {
		p.t.Fatalf("%s: %v", method, err)
	}
}

// ask is call for a command that answers.
func (p *tab) ask(method string, params, answer any) error {
	return p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		return t.Call(ctx, method, params, answer)
	}))
}

// do does something in the tab, which may not take forever.
func (p *tab) do(action chromedp.Action[chromedp.Void]) error {
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	return chromedp.Do(ctx, action)
}

// visit opens a page and waits until its program runs.
func (p *tab) visit(path string) {
	p.t.Helper()
	p.load(path)
	p.running()
}

// load opens a page without waiting for its program.
func (p *tab) load(path string) {
	p.t.Helper()
	if err := p.do(chromedp.Navigate(p.site.url(path))); err != nil {
		p.t.Fatalf("%s: %v", path, err)
	}
}

// running waits until the program has replaced the prerendered page.
func (p *tab) running() {
	p.t.Helper()
	p.wait(drive.Runs)
}

// installed waits until the worker has stored the whole edition.
func (p *tab) installed() {
	p.t.Helper()
	p.wait(`navigator.serviceWorker.ready.then(() => !!navigator.serviceWorker.controller)`)
}

// fits fails when a page is wider than the screen. A phone shows the whole of a
// page that is too wide by making everything smaller.
func (p *tab) fits(where string) {
	p.t.Helper()
	if wide := eval[int64](p, `Math.max(document.documentElement.scrollWidth, innerWidth)`) - p.width; wide > 0 {
		p.t.Errorf("%s: got a page %d pixels too wide", where, wide)
	}
}

// wait polls until the JavaScript expression holds.
func (p *tab) wait(expression string) {
	p.t.Helper()
	p.waitFor(patience, expression)
}

// waitFor is wait for something that the browser takes its time for.
func (p *tab) waitFor(most time.Duration, expression string) {
	p.t.Helper()
	deadline := time.Now().Add(most)
	for {
		ok, err := evaluate[bool](p, p.settled(expression))
		if err == nil && ok {
			return
		}
		if time.Now().After(deadline) {
			p.shoot("stuck")
			p.t.Fatalf("waited in vain for %s (%v); the page says: %.600s", expression, err, p.text("body"))
		}
		time.Sleep(5 * time.Millisecond)
	}
}

// drawn waits until the program has drawn what it was told before; see drive.Resting.
func (p *tab) drawn() {
	p.t.Helper()
	eval[bool](p, `drawn()`)
}

// eval evaluates JavaScript in the page.
func eval[T any](p *tab, expression string) T {
	p.t.Helper()
	v, err := evaluate[T](p, expression)
	if err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

func evaluate[T any](p *tab, expression string) (T, error) {
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	expression = drive.Words(expression)
	if p.scriptless {
		return chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	}
	return chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// settled is an expression that gives true or false, also for a promise.
func (p *tab) settled(expression string) string {
	if p.scriptless {
		return "!!(" + expression + ")"
	}
	return "Promise.resolve(" + expression + ").then(v => !!v)"
}

// text is what an element says; "" when there is none.
func (p *tab) text(selector string) string {
	p.t.Helper()
	return strings.TrimSpace(eval[string](p, fmt.Sprintf(`document.querySelector(%q)?.innerText ?? ""`, selector)))
}

func (p *tab) has(selector string) bool {
	p.t.Helper()
	return eval[bool](p, fmt.Sprintf(`!!document.querySelector(%q)`, selector))
}

// saying is JavaScript for the first element of a kind that holds a text.
func saying(selector, text string) string {
	return drive.Saying(selector, text)
}

// middle scrolls the element of a JavaScript expression into view and returns its
// middle, as soon as it stands still. What is touched next has to be that element.
func (p *tab) middle(element string) drive.Place {
	p.t.Helper()
	if p.scriptless {
		p.wait("!!(" + element + ")")
		return p.place(`(() => { const e = ` + element + `; e.scrollIntoView({block: "center", behavior: "instant"}); const r = e.getBoundingClientRect(); return JSON.stringify({X: r.x + r.width / 2, Y: r.y + r.height / 2}) })()`)
	}
	deadline := time.Now().Add(patience)
	for {
		at, err := evaluate[*drive.Place](p, drive.Spot(element))
		if err == nil && at != nil {
			return *at
		}
		if time.Now().After(deadline) {
			p.shoot("stuck")
			p.t.Fatalf("waited in vain for %s to stand still (%v); the page says: %.600s", element, err, p.text("body"))
		}
	}
}

// struck fails the test unless the last touch or click hit its target.
func (p *tab) struck(element string) {
	p.t.Helper()
	if p.scriptless {
		return
	}
	miss, err := evaluate[string](p, drive.Struck)
	if errors.Is(err, context.DeadlineExceeded) {
		miss = "nothing was hit"
	} else if err != nil {
		return // the page was left by the touch
	}
	if miss != "" {
		p.shoot("missed")
		p.t.Fatalf("%s was touched: %s", element, miss)
	}
}

func (p *tab) place(expression string) drive.Place {
	p.t.Helper()
	var at drive.Place
	if err := json.Unmarshal([]byte(eval[string](p, expression)), &at); err != nil {
		p.t.Fatal(err)
	}
	return at
}

// inside returns a place inside a part of the picture, which need not be where
// the middle of its outline is.
func (p *tab) inside(zone string) drive.Place {
	p.t.Helper()
	p.wait(fmt.Sprintf(`!!document.querySelector('[data-zone=%q]')`, zone))
	return p.place(fmt.Sprintf(`(() => {
		const zone = document.querySelector('[data-zone=%q]');
		zone.scrollIntoView({block: "center", behavior: "instant"});
		const r = zone.getBoundingClientRect();
		for (let y = r.y + 8; y < r.bottom; y += 8) for (let x = r.x + 8; x < r.right; x += 8)
			if (document.elementFromPoint(x, y)?.closest("[data-zone]") === zone) return JSON.stringify({X: x, Y: y});
		throw "the part cannot be touched";
	})()`, zone))
}

// tap touches the element of a JavaScript expression with a finger.
func (p *tab) tap(element string) {
	p.t.Helper()
	p.touch(p.middle(element))
	p.struck(element)
}

func (p *tab) touch(at drive.Place) {
	p.t.Helper()
	p.thumb.Touch(at, p.meant, func() error {
		p.call("Input.dispatchTouchEvent", map[string]any{"type": "touchStart", "touchPoints": []map[string]any{{"x": at.X, "y": at.Y}}})
		p.call("Input.dispatchTouchEvent", map[string]any{"type": "touchEnd", "touchPoints": []map[string]any{}})
		return nil
	})
}

// meant has the next touch counted, however soon it comes.
func (p *tab) meant() error {
	eval[bool](p, drive.Meant)
	return nil
}

// click uses the mouse.
func (p *tab) click(element string) {
	p.t.Helper()
	at := p.middle(element)
	if err := p.thumb.Touch(at, p.meant, func() error { return p.do(chromedp.MouseClickXY(at.X, at.Y)) }); err != nil {
		p.t.Fatal(err)
	}
	p.struck(element)
}

// point uses a finger or the mouse.
func (p *tab) point(element string, touch bool) {
	p.t.Helper()
	if touch {
		p.tap(element)
	} else {
		p.click(element)
	}
}

// press types keys, one after the other.
func (p *tab) press(keys ...string) {
	p.t.Helper()
	for _, k := range keys {
		if err := p.do(chromedp.KeyEvent(k)); err != nil {
			p.t.Fatalf("key %q: %v", k, err)
		}
	}
}

// shoot keeps a picture of the page, if SHOTS names a folder for them.
func (p *tab) shoot(name string) {
	p.t.Helper()
	folder := os.Getenv("SHOTS")
	if folder == "" {
		return
	}
	png, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, strings.NewReplacer("/", "-", " ", "-").Replace(p.t.Name()+"-"+name)+".png"), png, 0o644)
	}
	if err != nil {
		p.t.Logf("no picture %s: %v", name, err)
	}
}

// axe runs the accessibility rules over the page as it stands: all of them, or
// those named.
func (p *tab) axe(where string, only ...string) {
	p.t.Helper()
	if !eval[bool](p, "!!window.axe") {
		script, err := os.ReadFile(need(p.t, "AXE"))
		if err != nil {
			p.t.Fatal(err)
		}
		if _, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool](string(script)+"; true")); err != nil {
			p.t.Fatalf("axe: %v", err)
		}
	}
	options := `{resultTypes: ["violations"]}`
	if len(only) > 0 {
		options = `{resultTypes: ["violations"], runOnly: ` + list(only) + `}`
	}
	found := eval[string](p, `axe.run(document, `+options+`).then(r => r.violations.map(v => v.id + ": " + v.help + "\n" + v.nodes.map(n => "    " + n.html.slice(0, 200) + "\n    " + n.failureSummary).join("\n")).join("\n"))`)
	if found != "" {
		p.t.Errorf("%s: got from axe:\n%s", where, found)
		p.shoot("axe-" + where)
	}
}

// backupOf is a backup of this edition with the records.
func backupOf(t testing.TB, records []record.Record) []byte {
	t.Helper()
	text, err := backup.Write(backup.File{Written: time.Now(), Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: time.Now()}, Records: records})
	if err != nil {
		t.Fatal(err)
	}
	return text
}
