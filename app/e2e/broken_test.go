//go:build e2e && linux

package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// state tells what a person sees: "runs" when the program does and the page is
// styled or says why not; "notice" when the notice that needs no script is on the
// screen, whole, with the stop signs above what to try; "" when it is neither.
const state = `(() => {
	const notice = document.getElementById("unready");
	if (notice && getComputedStyle(notice).visibility === "visible") {
		const says = notice.innerText, stop = says.indexOf("Stop signs"), attempt = says.indexOf("What you can try");
		const whole = stop >= 0 && stop < attempt && says.includes("sign in there");
		return whole && notice.getBoundingClientRect().height > 200 && notice.getBoundingClientRect().top <= 0 && !says.includes("Error") ? "notice" : "";
	}
	const styled = getComputedStyle(document.documentElement).getPropertyValue("--lamp") !== "" || document.querySelector(".unstyled");
	return "runs" in document.documentElement.dataset && document.querySelector("main h1") && !document.querySelector(".stopped") && styled ? "runs" : "";
})()`

// A check can be made, and is not said to be saved, in a browser that gives the
// site no storage; and a browser is not taken for a crawler by its name.
func TestOddBrowsers(t *testing.T) {
	s := serve(t, "")
	const robot = "Mozilla/5.0 (Linux; Android 14; Cubot X70) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/130.0 Mobile Safari/537.36 Googlebot"
	blocked := t.TempDir()
	if err := os.MkdirAll(filepath.Join(blocked, "Default"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(blocked, "Default", "Preferences"), []byte(`{"profile":{"default_content_setting_values":{"cookies":2}}}`), 0o644); err != nil {
		t.Fatal(err)
	}
	check := func(t *testing.T, p *tab, path string) {
		t.Helper()
		h := byTouch{p}
		p.load(path)
		p.wait(`"runs" in document.documentElement.dataset && !!document.querySelector("#product")`)
		h.product("Green beans")
		// What is said of a refused storage moves the picture when it comes.
		p.wait(`!!document.querySelector(".question") && (!window.refused || !!document.querySelector(".notice"))`)
		p.drawn()
		h.report("lid", "lid", "Bulging")
		p.wait(`!!document.querySelector(".answer.verdict-discard")`)
	}
	t.Run("the name of a crawler", func(t *testing.T) {
		p := start(t, chromedp.Flag("user-agent", robot)).open(s, phone)
		check(t, p, "/check")
		if !eval[bool](p, `navigator.userAgent.includes("bot")`) {
			t.Error("the browser has another name")
		}
	})
	t.Run("wasm=false", func(t *testing.T) { check(t, start(t).open(s, phone), "/check?wasm=false") })
	t.Run("all cookies blocked", func(t *testing.T) {
		p := start(t, chromedp.UserDataDir(blocked)).open(s, phone)
		p.expectFaults = true // the site is not stored, and that is said on the console
		p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": `try { window.refused = !localStorage } catch { window.refused = true }`})
		check(t, p, "/check")
		if !eval[bool](p, `window.refused`) {
			t.Fatal("the browser gives the site storage")
		}
		if says := p.text("main"); strings.Contains(says, onDevice) {
			t.Errorf("the page says that the check is saved: %.300s", says)
		}
	})
	for what, script := range map[string]string{
		"no WebAssembly":        `delete window.WebAssembly`,
		"an old WebAssembly":    `WebAssembly.compileStreaming = WebAssembly.compile = () => Promise.reject(new WebAssembly.CompileError("invalid opcode 0xfc"))`,
		"no memory left":        `WebAssembly.instantiate = () => Promise.reject(new RangeError("out of memory"))`,
		"an error at the start": `addEventListener("DOMContentLoaded", () => { const get = Reflect.get; Reflect.get = (o, k, ...more) => { if (k === "firstElementChild") throw new Error("a test"); return get(o, k, ...more); }; })`,
	} {
		t.Run(what, func(t *testing.T) {
			p := start(t).open(s, phone)
			p.expectFaults = true
			p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": script})
			p.load("/check")
			p.wait(state + ` === "notice" && document.querySelector("#unready.unstarted")?.innerText.includes("could not start")`)
			if says := p.text("#unready"); strings.Contains(says, "opcode") || strings.Contains(says, "a test") || strings.Contains(says, "out of memory") {
				t.Errorf("the notice shows the error as it is: %s", says)
			}
			p.axe("the notice after " + what)
		})
	}
}
