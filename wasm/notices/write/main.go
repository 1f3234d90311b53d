// Command write writes notices.json: every module that is in the program of the
// pages or in the command `site`, and the license that it comes with. It is run by
// `make build`; a test fails when the file is not what it would write.
package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// notice is a module, or what comes with Go, and its license.
type notice struct {
	Name    string `json:"name"`
	Version string `json:"version,omitempty"`
	Scripts string `json:"scripts,omitempty"` // of it that are shipped as they are
	License string `json:"license"`
}

// scripts are those of others, by the module that they come from.
var scripts = map[string]string{
	"Go": "wasm_exec.js",
	"github.com/maxence-charriere/go-app/v10": "app.js",
}

func main() {
	if err := write("wasm/notices/notices.json"); err != nil {
		fmt.Fprintln(os.Stderr, "notices:", err)
		os.Exit(1)
	}
}

// write writes the file.
func write(name string) error {
	text, err := collect()
	if err != nil {
		return err
	}
	return os.WriteFile(name, text, 0o644)
}

// collect returns the file. It is called in the folder of go.mod.
func collect() ([]byte, error) {
	root, err := goSays(nil, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	license, err := licenseIn(strings.TrimSpace(root))
	if err != nil {
		return nil, err
	}
	// Its version is that of the local toolchain.
	all := []notice{{Name: "Go", Scripts: scripts["Go"], License: license}}
	seen := map[string]bool{}
	for _, shipped := range []struct {
		env []string
		of  string
	}{{[]string{"GOOS=js", "GOARCH=wasm"}, "./wasm/browser/..."}, {[]string{"GOOS=js", "GOARCH=wasm"}, "./wasm/scan"}, {nil, "./wasm/site"}} {
		lines, err := goSays(shipped.env, "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}", shipped.of)
		if err != nil {
			return nil, err
		}
		for line := range strings.Lines(lines) {
			f := strings.Split(strings.TrimSpace(line), "\t")
			if len(f) != 3 || seen[f[0]] {
				continue
			}
			seen[f[0]] = true
			license, err := licenseIn(f[2])
			if err != nil {
				return nil, fmt.Errorf("%s: %w", f[0], err)
			}
			all = append(all, notice{f[0], f[1], scripts[f[0]], license})
		}
	}
	slices.SortFunc(all, func(a, b notice) int { return strings.Compare(a.Name, b.Name) })
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetIndent("", "\t")
	e.SetEscapeHTML(false)
	err = e.Encode(all)
	return out.Bytes(), err
}

// licenseIn reads the license in the folder of a module.
func licenseIn(folder string) (string, error) {
	for _, name := range []string{"LICENSE", "LICENSE.txt", "LICENSE.md", "LICENCE", "COPYING"} {
		text, err := os.ReadFile(filepath.Join(folder, name))
		if err == nil {
			return strings.ReplaceAll(string(text), "\r\n", "\n"), nil
		}
	}
	return "", fmt.Errorf("no license in %s", folder)
}

func goSays(env []string, args ...string) (string, error) {
	cmd := exec.Command("go", args...)
	cmd.Env, cmd.Stderr = append(os.Environ(), env...), os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
	}
	return string(out), nil
}
