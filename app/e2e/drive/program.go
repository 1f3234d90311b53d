//go:build e2e && linux

package drive

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// programPage runs one program of Go and keeps what it writes.
const programPage = `<!doctype html><meta charset="utf-8"><title>a program</title><script src="/wasm_exec.js"></script><script>
window.said = ""; window.code = null;
const decoder = new TextDecoder();
fs.writeSync = (fd, bytes) => { said += decoder.decode(bytes, { stream: true }); return bytes.length; };
const since = n => ({ text: said.slice(n), length: said.length, code });
(async () => {
	try {
		const go = new Go();
		go.argv = %s;
		go.exit = end => { code = end; };
		const { instance } = await WebAssembly.instantiateStreaming(fetch("/program.wasm"), go.importObject);
		await go.run(instance);
		code ??= 2;
	} catch (err) {
		said += err + "\n";
		code = 2;
	}
})();
</script>`

// RunProgram runs a WebAssembly program of Go, such as a compiled test, in a
// page of an engine, and returns what it exits with.
func RunProgram(e Engine, name string, args []string, out io.Writer) (code int, err error) {
	program, err := os.ReadFile(name)
	if err != nil {
		return 0, err
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return 0, fmt.Errorf("go env GOROOT: %w", err)
	}
	script, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib/wasm/wasm_exec.js"))
	if err != nil {
		return 0, err
	}
	argv, err := json.Marshal(append([]string{filepath.Base(name)}, args...))
	if err != nil {
		return 0, err
	}
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		kind, body := "text/html; charset=utf-8", []byte(fmt.Sprintf(programPage, argv))
		switch r.URL.Path {
		case "/wasm_exec.js":
			kind, body = "text/javascript; charset=utf-8", script
		case "/program.wasm":
			kind, body = "application/wasm", program
		}
		w.Header().Set("Content-Type", kind)
		w.Write(body)
	}))
	defer site.Close()
	profile, err := os.MkdirTemp("", "program-")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(profile)
	start, err := starter(e)
	if err != nil {
		return 0, err
	}
	running, err := start(profile, watch, limits{})
	if err != nil {
		return 0, err
	}
	defer running.kill()
	p, err := running.open(Desktop, &faults{site: site.URL})
	if err != nil {
		return 0, err
	}
	if err := p.load(site.URL + "/"); err != nil {
		return 0, err
	}
	// The program ends itself: go test has told it how long it may take. While it
	// is busy the page does not answer, for longer than anybody waits for a person.
	read := 0
	for {
		text, err := p.evaluate(fmt.Sprintf(`since(%d)`, read))
		if errors.Is(err, context.DeadlineExceeded) {
			continue
		}
		if err != nil {
			return 0, err
		}
		var said struct {
			Text   string
			Length int
			Code   *int
		}
		if err := json.Unmarshal([]byte(text), &said); err != nil {
			return 0, err
		}
		if _, err := io.WriteString(out, said.Text); err != nil {
			return 0, err
		}
		read = said.Length
		if said.Code != nil {
			return *said.Code, nil
		}
		time.Sleep(100 * time.Millisecond)
	}
}
