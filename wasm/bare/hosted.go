//go:build !js

package bare

import (
	"fmt"
	"io/fs"
	"testing/fstest"

	"larderlamp/static"
	"larderlamp/wasm/hosting"
)

// Assemble makes the site of the bare page, the way Larderlamp's is made, with
// the scripts and icons that every site has and without styles.
func Assemble(program []byte) (*hosting.Site, error) {
	files := fstest.MapFS{}
	for _, pattern := range []string{"*.js", "icons/*"} {
		names, err := fs.Glob(static.Files, pattern)
		if err != nil {
			return nil, fmt.Errorf("bare site: %w", err)
		}
		for _, name := range names {
			body, err := fs.ReadFile(static.Files, name)
			if err != nil {
				return nil, fmt.Errorf("bare site: %w", err)
			}
			files[name] = &fstest.MapFile{Data: body}
		}
	}
	Register()
	return hosting.Assemble(hosting.App{
		Name: "Bare", Describe: "One heading and one button.",
		Program: program, Pages: []string{"/"}, Shell: "/", Static: files,
	})
}
