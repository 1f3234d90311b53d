package backup

import (
	"bytes"
	"encoding/base64"
	"io"
	"runtime"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// A household with many photos has more in its backup than a phone can hold at
// once: the backup is written and read record by record, so that memory never
// holds much more than one of them.
func TestRecordByRecord(t *testing.T) {
	const photos, each, most = 100, 256 << 10, 16 << 20
	now := time.Now()
	batch, err := record.NewBatch("peaches", now)
	if err != nil {
		t.Fatal(err)
	}
	jar, err := record.NewJar(batch.ID, 1, now)
	if err != nil {
		t.Fatal(err)
	}
	jpeg := base64.StdEncoding.EncodeToString(append([]byte{0xff, 0xd8, 0xff}, bytes.Repeat([]byte{0x5a}, each)...))
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	from, to := io.Pipe()
	go func() {
		to.CloseWithError(func() error {
			w, err := NewWriter(to, &File{Written: now, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}})
			if err != nil {
				return err
			}
			for range photos {
				p, err := record.NewPhoto(jar.ID, "", jpeg, now)
				if err == nil {
					err = w.Add(p)
				}
				if err != nil {
					return err
				}
			}
			return w.Close()
		}())
	}()
	runtime.GC()
	before, peak, n := heap(), uint64(0), 0
	if _, err := Scan(from, func(record.Record) error {
		n++
		peak = max(peak, heap())
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if n != photos {
		t.Errorf("%d photos were read, want %d", n, photos)
	}
	if file := photos * each * 4 / 3; peak > before+most {
		t.Errorf("a backup of %d MB takes %d MB of memory", file>>20, (peak-before)>>20)
	} else {
		t.Logf("a backup of %d MB takes %d MB of memory", file>>20, (max(peak, before)-before)>>20)
	}
}
