// Package seeds holds the texts from which the fuzz targets start: a folder for
// each target with texts written by hand, and whatever once broke something.
package seeds

import (
	"embed"
	"testing"
)

//go:embed */*
var files embed.FS

// Add gives a target the texts of its folder, and of some others.
func Add(f *testing.F, folders ...string) {
	f.Helper()
	for _, folder := range folders {
		all, err := files.ReadDir(folder)
		if err != nil || len(all) == 0 {
			f.Fatalf("no seeds in %s: %v", folder, err)
		}
		for _, file := range all {
			text, err := files.ReadFile(folder + "/" + file.Name())
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
}
