//go:build linux || darwin || freebsd

package journal

import (
	"os"
	"syscall"
)

// lock holds a file for as long as it is open. The system lets go of it when the
// program ends, however it ends.
func lock(name string) (*os.File, error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// room tells how many bytes are free where a folder is.
func room(folder string) (int64, error) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(folder, &s); err != nil {
		return 0, err
	}
	return int64(s.Bavail) * int64(s.Bsize), nil
}
