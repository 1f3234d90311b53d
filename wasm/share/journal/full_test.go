package journal

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"larderlamp/share/store"
)

const large = 1 << 18

// open opens a log in a folder.
func open(t *testing.T, folder string, spare int64) (*Journal, *Embedded) {
	t.Helper()
	e, err := Embed(folder)
	if err != nil {
		t.Fatal(err)
	}
	s := Settings{Households: 10, Bytes: 1 << 30, Largest: large, Replicas: 1, Patience: time.Minute, Spare: spare}
	if spare > 0 {
		s.Room = e.Room
	}
	j, err := Open(t.Context(), e.Conn, s)
	if err != nil {
		e.Close()
		t.Fatal(err)
	}
	return j, e
}

// fill puts versions until one is refused, and gives how many were stored.
func fill(ctx context.Context, j *Journal) (int, error) {
	for n := 0; n < 4096; n++ {
		if _, _, err := j.Put(ctx, "home", fmt.Sprint("name", n), bytes.Repeat([]byte{byte(n)}, large)); err != nil {
			return n, err
		}
	}
	return 0, errors.New("it never gets full")
}

// holds fails unless the log has n versions, as they were put.
func holds(t *testing.T, j *Journal, want int) {
	t.Helper()
	place := uint64(0)
	for n := 0; ; {
		list, err := j.After(t.Context(), "home", place, 10, 1<<30)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range list {
			if n < want && (v.Name != fmt.Sprint("name", n) || !bytes.Equal(v.Sealed, bytes.Repeat([]byte{byte(n)}, large))) {
				t.Fatalf("version %d: got %s", n, v.Name)
			}
			n++
			place = v.Number
		}
		// A refused version may be stored anyway: it is sent again.
		if len(list) == 0 {
			if n < want || n > want+1 {
				t.Fatalf("got %d versions, want %d", n, want)
			}
			return
		}
	}
}

// A disk that fills up: what was acknowledged is there, at once as long as some of
// the disk is kept free, and otherwise after a restart with more room.
func TestDiskFull(t *testing.T) {
	if how := os.Getenv("FULL"); how != "" {
		fullDisk(t, how, os.Getenv("FULL_DIR"))
		return
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for how, wrap := range map[string][]string{
		// A limit on the size of files, which needs no special permission.
		"small files": nil,
		// A small disk of our own.
		"small disk, kept free": {"unshare", "-rm", "sh", "-c", `mount -t tmpfs -o size=48m none "$FULL_DIR" && exec "$@"`, "-"},
		"small disk, filled":    {"unshare", "-rm", "sh", "-c", `mount -t tmpfs -o size=48m none "$FULL_DIR" && exec "$@"`, "-"},
	} {
		t.Run(how, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			if wrap != nil {
				probe := exec.Command(wrap[0], append(wrap[1:], "true")...)
				probe.Env = append(os.Environ(), "FULL_DIR="+dir)
				if out, err := probe.CombinedOutput(); err != nil {
					t.Skipf("this system lets nobody make a small disk (%v, %s); the case of small files has run instead", err, out)
				}
			}
			line := append(wrap, self, "-test.run=^TestDiskFull$", "-test.v")
			run := exec.Command(line[0], line[1:]...)
			run.Env = append(os.Environ(), "FULL="+how, "FULL_DIR="+dir)
			out, err := run.CombinedOutput()
			if err != nil || !strings.Contains(string(out), "--- PASS: TestDiskFull") {
				t.Errorf("%v\n%s", err, out)
			}
		})
	}
}

// fullDisk is the test within the small disk.
func fullDisk(t *testing.T, how, dir string) {
	folder := filepath.Join(dir, "log")
	spare := int64(0)
	switch how {
	case "small files":
		signal.Ignore(syscall.SIGXFSZ)
		var limit syscall.Rlimit
		if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
			t.Fatal(err)
		}
		limit.Cur = 3 << 20
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
			t.Fatal(err)
		}
	case "small disk, kept free":
		spare = 16 << 20
	}
	j, e := open(t, folder, spare)
	j.patience = 5 * time.Second // a log that cannot write does not answer at all
	stored, err := fill(t.Context(), j)
	if stored == 0 {
		t.Fatal(err)
	}
	if spare > 0 {
		if !errors.Is(err, store.ErrFull) {
			t.Fatalf("full after %d versions: %v", stored, err)
		}
		holds(t, j, stored)
	}
	if writes, _ := j.Silent(); spare == 0 && writes == 0 {
		t.Error("got no sign that the log no longer writes")
	}
	e.Close()
	switch how {
	case "small files":
		var limit syscall.Rlimit
		if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
			t.Fatal(err)
		}
		limit.Cur = limit.Max
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
			t.Fatal(err)
		}
	default:
		if err := exec.Command("mount", "-o", "remount,size=256m", dir).Run(); err != nil {
			t.Fatal(err)
		}
	}
	j, e = open(t, folder, 0)
	defer e.Close()
	if writes, _ := j.Silent(); writes > 0 {
		t.Errorf("after a restart: got %d unanswered writes", writes)
	}
	holds(t, j, stored)
	if _, _, err := j.Put(t.Context(), "home", "more", make([]byte, large)); err != nil {
		t.Errorf("with more room: got %v", err)
	}
	t.Logf("%s: %d versions", how, stored)
}

// A folder belongs to one server.
func TestFolderInUse(t *testing.T) {
	folder := t.TempDir()
	_, e := open(t, folder, 0)
	if other, err := Embed(folder); err == nil {
		other.Close()
		t.Error("got two servers in the same folder")
	}
	e.Close()
	_, e = open(t, folder, 0)
	e.Close()
}

// A version is stored once, however often and however many at a time put it.
func TestStoredOnce(t *testing.T) {
	j, e := open(t, t.TempDir(), 0)
	defer e.Close()
	type got struct {
		number uint64
		fresh  bool
		err    error
	}
	all := make(chan got)
	for range 20 {
		go func() {
			n, fresh, err := j.Put(t.Context(), "home", "name", []byte("sealed"))
			all <- got{n, fresh, err}
		}()
	}
	fresh := 0
	for range 20 {
		g := <-all
		if g.err != nil || g.number != 1 {
			t.Errorf("got number %d, %v", g.number, g.err)
		}
		if g.fresh {
			fresh++
		}
	}
	if fresh != 1 {
		t.Errorf("got %d puts that were the first, want one", fresh)
	}
	if count, bytes, err := j.Count(t.Context(), "home"); count != 1 || bytes != 6 || err != nil {
		t.Errorf("%d versions of %d bytes, %v", count, bytes, err)
	}
}

// Everything that the stream rejects is a distinguishable error.
func TestFaultsAreTold(t *testing.T) {
	e, err := Embed(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer e.Close()
	j, err := Open(t.Context(), e.Conn, Settings{Households: 2, Bytes: 40_000, Largest: 1 << 14, Replicas: 1, Patience: time.Minute})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []error{nil, nil, store.ErrNoMore} {
		if err := j.Found(t.Context(), fmt.Sprint("home", i), []byte("digest")); !errors.Is(err, want) {
			t.Errorf("household %d: got %v, want %v", i+1, err, want)
		}
	}
	if err := j.Found(t.Context(), "home0", []byte("other")); !errors.Is(err, store.ErrTaken) {
		t.Errorf("made twice: got %v", err)
	}
	if _, err := j.Digest(t.Context(), "nobody"); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("an unknown household: got %v", err)
	}
	for i, want := range []error{nil, nil, store.ErrFull} {
		if _, _, err := j.Put(t.Context(), "home0", fmt.Sprint(i), make([]byte, 1<<14)); !errors.Is(err, want) {
			t.Errorf("version %d: got %v, want %v", i+1, err, want)
		}
	}
	if err := j.Remove(t.Context(), "home0"); err != nil {
		t.Fatal(err)
	}
	if list, err := j.After(t.Context(), "home0", 0, 10, 1<<20); len(list) > 0 || err != nil {
		t.Errorf("got %d versions left, %v", len(list), err)
	}
	// What is still stored by an exchange that has not been told can be forgotten, and
	// nothing else.
	late, _, err := j.Put(t.Context(), "home0", "late", make([]byte, 1<<10))
	if err != nil {
		t.Fatal(err)
	}
	others, _, err := j.Put(t.Context(), "home1", "other", make([]byte, 1<<10))
	if err != nil {
		t.Fatal(err)
	}
	if err := j.Forget(t.Context(), "home0", []uint64{late - 1, late, others, others + 9}); err != nil {
		t.Fatal(err)
	}
	for household, want := range map[string]int{"home0": 0, "home1": 1} {
		if n, _, err := j.Count(t.Context(), household); n != want || err != nil {
			t.Errorf("%s: got %d versions, %v, want %d", household, n, err, want)
		}
	}
	if err := j.Found(t.Context(), "home2", []byte("digest")); err != nil {
		t.Errorf("in the place of a removed one: got %v", err)
	}
	e.server.Shutdown()
	j.patience = 100 * time.Millisecond
	if _, _, err := j.Put(t.Context(), "home1", "x", make([]byte, 1<<10)); !errors.Is(err, store.ErrNotNow) {
		t.Errorf("without a server: %v", err)
	}
	if _, err := j.After(t.Context(), "home1", 0, 10, 1<<20); !errors.Is(err, store.ErrNotNow) {
		t.Errorf("without a server: %v", err)
	}
}
