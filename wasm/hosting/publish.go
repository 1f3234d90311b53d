package hosting

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// marker is the file that says that a folder was made by Publish. It lists
// every file of the site, one a line.
const marker = ".larderlamp-site"

// Publish writes the site into a folder: each page as index.html in a folder of
// its own, everything else under its path, the program and the bundle also compressed
// as .br, in a quality of Brotli, and as .gz, and what tells the host which headers to
// send.
// The folder must be new, empty, or made by an earlier Publish and hold nothing
// else. It is put in place as a whole or not at all.
func (s *Site) Publish(dir string, quality int) (err error) {
	if dir, err = filepath.Abs(dir); err != nil {
		return fmt.Errorf("publish: %w", err)
	}
	replace, err := replaceable(dir)
	if err != nil {
		return fmt.Errorf("publish: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return fmt.Errorf("publish: %w", err)
	}
	work, err := os.MkdirTemp(filepath.Dir(dir), ".larderlamp-")
	if err != nil {
		return fmt.Errorf("publish: %w", err)
	}
	made, former := filepath.Join(work, "site"), filepath.Join(work, "former")
	defer func() {
		if _, lost := os.Stat(dir); lost != nil && replace {
			err = errors.Join(err, fmt.Errorf("the former site is in %s", former))
			return
		}
		err = errors.Join(err, os.RemoveAll(work))
	}()

	if err := s.write(made, quality); err != nil {
		return fmt.Errorf("publish: %w", err)
	}
	if replace {
		if err := os.Rename(dir, former); err != nil {
			return fmt.Errorf("publish: move the former site away: %w", err)
		}
	}
	if err := os.Rename(made, dir); err != nil {
		err = fmt.Errorf("publish: %w", err)
		if replace {
			err = errors.Join(err, os.Rename(former, dir))
		}
		return err
	}
	return nil
}

// name is the path of a file in a published folder. A page becomes a folder
// with an index, which every host answers with.
func (f *file) name() string {
	if f.page {
		return strings.TrimLeft(f.path+"/index.html", "/")
	}
	return strings.TrimPrefix(f.path, "/")
}

// disk lists what Publish writes, by path below the folder.
func (s *Site) disk(quality int) map[string][]byte {
	files := map[string][]byte{}
	for _, f := range s.files {
		files[f.name()] = f.body
		if s.packedCopy(f) != nil { // which is among the files
			files[f.name()+".br"] = s.brotli(f.body, quality)
		}
	}
	files[headersFile], files[nginxFile] = s.hostHeaders(), s.nginxSettings()
	files[marker] = []byte(strings.Join(slices.Sorted(maps.Keys(files)), "\n") + "\n")
	return files
}

func (s *Site) write(dir string, quality int) error {
	for name, body := range s.disk(quality) {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(at, body, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// replaceable reports whether the folder is there and may be replaced. It is an
// error if it holds anything that Publish did not write.
func replaceable(dir string) (bool, error) {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	if len(entries) == 0 {
		return true, nil
	}
	list, err := os.Open(filepath.Join(dir, marker))
	if errors.Is(err, fs.ErrNotExist) {
		return false, fmt.Errorf("%s is not empty and was not made by publish; choose a new folder", dir)
	}
	if err != nil {
		return false, err
	}
	defer list.Close()
	ours := map[string]bool{marker: true}
	lines := bufio.NewScanner(list)
	for lines.Scan() {
		ours[lines.Text()] = true
	}
	if err := lines.Err(); err != nil {
		return false, err
	}
	return true, filepath.WalkDir(dir, func(at string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, at)
		if err != nil {
			return err
		}
		if !ours[filepath.ToSlash(name)] {
			return fmt.Errorf("%s was not made by publish; move it away or choose a new folder", at)
		}
		return nil
	})
}
