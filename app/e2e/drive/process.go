//go:build e2e && linux

package drive

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync"
	"sync/atomic"
	"syscall"
	"time"
)

// process is a program that a test started, with its own end.
type process struct {
	cmd  *exec.Cmd
	mark string // in the environment of all that it starts
	done chan struct{}
	once sync.Once
}

// started counts the processes, so that each has a mark of its own.
var started atomic.Int64

func run(cmd *exec.Cmd) (*process, error) {
	Lead(cmd)
	p := &process{cmd: cmd, mark: fmt.Sprintf("LARDERLAMP_STARTED=%d-%d", os.Getpid(), started.Add(1)), done: make(chan struct{})}
	cmd.Env = append(cmd.Environ(), p.mark)
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	go func() {
		cmd.Wait()
		close(p.done)
	}()
	return p, nil
}

// ended waits until the program and all that it started have ended by themselves.
func (p *process) ended() error {
	select {
	case <-p.done:
		return errors.Join(groupEnds(p.cmd.Process.Pid), p.straysEnd())
	case <-time.After(Patience):
		return fmt.Errorf("%s still runs", p.cmd.Path)
	}
}

// kill ends it at once, with all that it started.
func (p *process) kill() error {
	p.once.Do(func() { p.cmd.Process.Signal(os.Kill) })
	<-p.done
	err := EndGroup(p.cmd.Process.Pid)
	for _, stray := range p.strays() {
		syscall.Kill(stray, syscall.SIGKILL) // an error says that it has ended
	}
	return errors.Join(err, p.straysEnd())
}

// strays are the processes that it has started outside of its group and that still
// run: Firefox has one that reports crashes, and ends some moments after it.
func (p *process) strays() (found []int) {
	all, err := filepath.Glob("/proc/[0-9]*/environ")
	if err != nil {
		panic(err) // the pattern is right
	}
	for _, name := range all {
		environment, _ := os.ReadFile(name) // nothing of one that has ended
		if bytes.Contains(environment, []byte(p.mark+"\x00")) {
			id, _ := strconv.Atoi(filepath.Base(filepath.Dir(name)))
			found = append(found, id)
		}
	}
	return found
}

// straysEnd waits until none of them runs.
func (p *process) straysEnd() error {
	return await("the end of what "+p.cmd.Path+" has started", func() error {
		if strays := p.strays(); len(strays) > 0 {
			return fmt.Errorf("the processes %v still run", strays)
		}
		return nil
	})
}

// Lead gives a program that is not started yet a group of its own, in which all
// that it starts will be. A test that is cut short leaves it not running.
func Lead(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
}

// EndGroup ends what a program that Lead prepared, and that has ended, has left
// running, and waits for its end. The helpers of a browser outlive it for some
// moments, and write into its profile meanwhile.
func EndGroup(leader int) error {
	syscall.Kill(-leader, syscall.SIGKILL) // an error says that nothing is left
	return groupEnds(leader)
}

// Follow returns a function that prepares the command of a browser that another
// package starts and stops, and one that ends everything it leaves running.
func Follow() (prepare func(*exec.Cmd), end func() error) {
	var followed *exec.Cmd
	prepare = func(cmd *exec.Cmd) {
		Lead(cmd)
		followed = cmd
	}
	end = func() error {
		if followed == nil || followed.Process == nil {
			return nil
		}
		return EndGroup(followed.Process.Pid)
	}
	return prepare, end
}

// groupEnds waits until nothing of a group runs.
func groupEnds(leader int) error {
	return await(fmt.Sprintf("the end of all that process %d has started", leader), func() error {
		stats, err := filepath.Glob("/proc/[0-9]*/stat")
		if err != nil {
			return err
		}
		for _, name := range stats {
			text, err := os.ReadFile(name)
			if err != nil {
				continue // it has ended meanwhile
			}
			// After the name, which may hold anything: the state, the parent, the group.
			fields := bytes.Fields(text[bytes.LastIndexByte(text, ')')+1:])
			if len(fields) < 3 {
				return fmt.Errorf("%s says %q", name, text)
			}
			if group, err := strconv.Atoi(string(fields[2])); err != nil {
				return fmt.Errorf("%s says %q", name, text)
			} else if state := fields[0][0]; group == leader && state != 'Z' && state != 'X' {
				return fmt.Errorf("%s is in state %c", name, state)
			}
		}
		return nil
	})
}

// find returns the path of the first program there is. The first name is of a
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
