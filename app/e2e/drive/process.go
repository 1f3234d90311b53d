//go:build e2e && linux

package drive

import (
	"fmt"
	"os"
	"os/exec"
	"sync"
	"syscall"
	"time"
)

// process is a program that a test started, with its own end.
type process struct {
	cmd  *exec.Cmd
	done chan struct{}
	once sync.Once
}

func run(cmd *exec.Cmd) (*process, error) {
	// A test that is cut short leaves nothing running.
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	p := &process{cmd: cmd, done: make(chan struct{})}
	go func() {
		cmd.Wait()
		close(p.done)
	}()
	return p, nil
}

// ended waits until the program has ended by itself.
func (p *process) ended() error {
	select {
	case <-p.done:
		return nil
	case <-time.After(Patience):
		return fmt.Errorf("%s still runs", p.cmd.Path)
	}
}

// kill ends it at once.
func (p *process) kill() {
	p.once.Do(func() { p.cmd.Process.Signal(os.Kill) })
	<-p.done
}

// find gives the path of the first program there is. The first name is of a
// variable of the environment that may say which one to take.
func find(variable string, names ...string) (string, error) {
	for _, name := range append([]string{os.Getenv(variable)}, names...) {
		if name != "" {
			if path, err := exec.LookPath(name); err == nil {
				return path, nil
			}
		}
	}
	return "", fmt.Errorf("no %s found; run: make browser", names[0])
}
