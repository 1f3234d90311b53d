package ledger

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"larderlamp/app/backup"
	"larderlamp/app/demo"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/store"
	"larderlamp/rules"
)

func TestSettings(t *testing.T) {
	inBubble(t, func(r *rig) {
		if r.IsBegun() || r.IsOpen() || r.AltitudeFeet() != 0 || r.Saved() {
			t.Fatal("the ledger is open before anybody asked for it")
		}
		r.KeepSettings(func(s *record.Settings) { t.Error("settings were changed before they were read") })
		r.SetAltitude("higher up")
		if r.IsBegun() {
			t.Error("opened for something that is not a number")
		}
		r.SetAltitude("5000")
		r.page.settle()
		if !r.IsOpen() || r.AltitudeFeet() != 5000 || !r.Settings.Fahrenheit || !r.Status().Durable {
			t.Errorf("settings: got %+v", r.Settings)
		}
		select {
		case <-r.Opened():
		default:
			t.Error("the page was not told that the ledger is open")
		}
		r.wantSaved(true)

		// What was canned at the old altitude is still judged by it.
		r.SetAltitude("1000")
		r.page.settle()
		if b := stored[*record.Batch](t, r.device, record.Batches, r.batch.ID); b.Feet == nil || *b.Feet != 5000 {
			t.Errorf("the altitude of the batch: got %v, want 5000", b.Feet)
		}
		r.open()
		r.shelved()
		if r.AltitudeFeet() != 1000 || r.Shelf.Settings.AltitudeFeet == nil {
			t.Errorf("loaded again: got %d ft, and %v on the shelf", r.AltitudeFeet(), r.Shelf.Settings.AltitudeFeet)
		}
		r.SetAltitude("0")
		r.page.settle()
		if r.Settings.AltitudeFeet != nil || r.AltitudeFeet() != 0 {
			t.Error("the altitude was not cleared")
		}

		// Another tab changes them.
		theirs := r.Settings
		theirs.Fahrenheit, theirs.Revision = false, theirs.Revision+1
		text, err := theirs.Encode()
		r.must(err)
		r.must(r.device.Memory.Write(t.Context(), []store.Change{{Row: store.Row{Kind: store.KindSettings, ID: record.SettingsID, JSON: text}}}))
		r.Changed()
		r.Renew(func() {})
		r.page.settle()
		if r.Settings.Fahrenheit {
			t.Error("the settings from another tab were not read")
		}

		// Settings that could not be saved are not overwritten by reading.
		r.fails(store.ErrFull)
		r.KeepSettings(func(s *record.Settings) { s.SweepMonths = 2 })
		r.page.settle()
		r.Renew(func() {})
		r.page.settle()
		if r.Settings.SweepMonths != 2 {
			t.Error("settings that could not be saved were lost")
		}
		r.KeepSettings(func(s *record.Settings) { s.SweepMonths = -7 })
		r.wantSaved(false)
		if !strings.HasPrefix(r.Trouble().String(), "This could not be saved: ") {
			t.Errorf("invalid settings: got trouble %q", r.Trouble())
		}
	})
}

// A page that does not need the ledger is redrawn at once.
func TestRenewOpensNothing(t *testing.T) {
	inBubble(t, func(r *rig) {
		done := false
		r.Renew(func() { done = true })
		if !done || r.IsBegun() {
			t.Errorf("got done %t, begun %t", done, r.IsBegun())
		}
		r.Open()
		r.page.settle()
		done = false
		r.Renew(func() { done = true })
		r.page.settle()
		if !done || r.Shelf != nil {
			t.Errorf("got done %t, shelf read %t", done, r.Shelf != nil)
		}
	})
}

// What can't be read is reported, and nothing else is lost because of it.
func TestReadingFails(t *testing.T) {
	inBubble(t, func(r *rig) {
		put := func(kind store.Kind, id, text string) {
			r.must(r.device.Memory.Write(t.Context(), []store.Change{{Row: store.Row{Kind: kind, ID: id, JSON: []byte(text)}}}))
		}
		put(store.Kind(record.Jars), "x", `{"version":1}`)
		put(store.Kind(record.Checks), "x", `{"version":1}`)
		put(store.KindSettings, record.SettingsID, `{"version":99}`)
		r.Open()
		r.page.settle()
		if got := r.Trouble(); !strings.HasPrefix(got.String(), "Your settings could not be read: ") {
			t.Errorf("settings of another edition: got trouble %q", got)
		}
		r.shelved()
		r.wantTrouble("1 record could not be read. It is left as it is.")
		if len(r.Shelf.Jars) != 3 || len(r.page.logged) != 1 {
			t.Errorf("%d jars and %d faults noted, want 3 and 1", len(r.Shelf.Jars), len(r.page.logged))
		}
		if checks, more := r.List("", 5); len(checks) != 0 || more {
			t.Errorf("got checks %v, more %t", checks, more)
		}
		r.wantTrouble("1 check could not be read. It is left as it is.")
		if r.Find("x") != nil {
			t.Error("found a check that can't be read")
		}
		if got := r.Trouble(); !strings.HasPrefix(got.String(), "This check could not be read: ") {
			t.Errorf("one check: got trouble %q", got)
		}
		r.Fetch(record.Jars, []string{"x"})
		if got := r.Trouble(); !strings.HasPrefix(got.String(), "One of the jars could not be read: ") {
			t.Errorf("one jar: got trouble %q", got)
		}
		if _, err := r.Everything(); err == nil {
			t.Error("everything was read, although one record can't be")
		}

		r.device.set(func() { r.device.fault, r.device.noReads = store.ErrClosed, true })
		r.Shelf.Loaded = false
		r.WithShelf(func() {})
		r.page.settle()
		r.wantTrouble("Your trips could not be read: It was closed. Load this page again.")
		r.List("", 5)
		r.wantTrouble("The checks could not be read: It was closed. Load this page again.")
		r.Renew(func() {})
		synctest.Wait()
		r.wantTrouble("Your settings could not be read: It was closed. Load this page again.")
	})
}

// A jar that a button has held for a while is merged with what has happened
// since.
func TestOldButton(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		old := *r.Shelf.Jars[r.jars[0].ID]
		old.Events = append([]record.Event{}, old.Events...)
		since := r.note(0, nil)
		r.page.settle()
		fresh := old
		e, err := fresh.Add(record.Stored, time.Now())
		r.must(err)
		e.Place = r.place.ID
		r.Commit(&fresh)
		r.page.settle()
		if j := stored[*record.Jar](t, r.device, record.Jars, old.ID); !has(j, since) || !has(j, e.ID) {
			t.Error("of two events recorded by two buttons, one is lost")
		}
	})
}

// Many records are merged with what another tab wrote just like a few.
func TestManyMeetAsFewDo(t *testing.T) {
	for _, n := range []int{mostGot, mostGot + 1} {
		inBubble(t, func(r *rig) {
			b := *r.batch
			b.Count = n
			made, err := record.NewJars(&b, r.place.ID, time.Now())
			r.must(err)
			r.device.put(t, made...)
			r.shelved()
			theirs := stored[*record.Jar](t, r.device, record.Jars, made[7].Key())
			e, err := theirs.Add(record.Stored, time.Now())
			r.must(err)
			e.Place = r.place.ID
			r.device.put(t, theirs)
			var ours []record.Record
			for _, m := range made {
				j := r.Shelf.Jars[m.Key()]
				_, err := j.Add(record.Stored, time.Now())
				r.must(err)
				j.Events[len(j.Events)-1].Place = r.place.ID
				ours = append(ours, j)
			}
			r.Commit(ours...)
			r.page.settle()
			r.wantSaved(true)
			if j := stored[*record.Jar](t, r.device, record.Jars, theirs.ID); !has(j, e.ID) || len(j.Events) != 3 {
				t.Errorf("%d jars: %d events, want 3, with that of the other tab", n, len(j.Events))
			}
			if !has(r.Shelf.Jars[theirs.ID], e.ID) {
				t.Errorf("%d jars: what another tab wrote is not in memory", n)
			}
		})
	}
}

func TestCheckAndItsJar(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		c, err := r.Shelf.NewCheckOf(r.Shelf.Jars[r.jars[0].ID], time.Now(), nil)
		r.must(err)
		s := session.Resume(*c)
		s.Say("look", time.Now(), rules.LidDown)
		r.Save(&s.Check, func() { t.Error("joined was called although there was nothing to merge") })
		if !looked(r.Shelf.Jars[r.jars[0].ID], c.ID) {
			t.Error("the shelf does not have the check before it is written")
		}
		r.page.settle()
		r.wantSaved(true)
		if !looked(stored[*record.Jar](t, r.device, record.Jars, r.jars[0].ID), c.ID) {
			t.Error("the check is not recorded with its jar")
		}
		if found := r.Find(c.ID); found == nil || len(found.Check.Answers) != len(s.Check.Answers) {
			t.Error("the stored check differs from the saved one")
		}
		if r.Find("0") != nil {
			t.Error("found a check that does not exist")
		}

		// Another tab answers another question of it.
		if r.Trouble() != "" {
			t.Fatal(r.Trouble())
		}
		theirs := session.Resume(*stored[*record.Check](t, r.device, record.Checks, c.ID))
		time.Sleep(time.Second)
		theirs.Say("look", time.Now(), rules.PressFirm)
		r.device.put(t, &theirs.Check)
		time.Sleep(time.Second)
		r.must(s.Name("with the red ring", time.Now()))
		joined := 0
		r.Save(&s.Check, func() { joined++ })
		r.page.settle()
		got := stored[*record.Check](t, r.device, record.Checks, c.ID)
		if joined != 1 || len(got.Answers) != len(theirs.Check.Answers) || got.Label != "with the red ring" {
			t.Errorf("joined %d times: got %d answers, label %q", joined, len(got.Answers), got.Label)
		}

		// Both or neither.
		r.fails(store.ErrFull)
		s.Say("look", time.Now(), rules.LidBulged)
		r.Save(&s.Check, func() {})
		r.page.settle()
		if r.Saved() || !r.IsUnsaved(c.ID) {
			t.Error("a check that was not written is called saved")
		}
		r.fails(nil)
		r.Renew(func() {})
		r.page.settle()
		r.wantSaved(true)

		photo, err := record.NewPhoto(r.jars[0].ID, c.ID, "/9j/", time.Now())
		r.must(err)
		pictured := false
		r.Picture(photo, func() { pictured = true })
		r.page.settle()
		if j := stored[*record.Jar](t, r.device, record.Jars, r.jars[0].ID); !pictured || j.Events[len(j.Events)-1].Photo != photo.ID || stored[*record.Photo](t, r.device, record.Photos, photo.ID) == nil {
			t.Errorf("the photo: got done %t, trouble %q", pictured, r.Trouble())
		}
	})
}

func looked(j *record.Jar, check string) bool {
	for _, e := range j.Events {
		if e.Check == check {
			return true
		}
	}
	return false
}

func TestListOfChecks(t *testing.T) {
	inBubble(t, func(r *rig) {
		var ids []string
		for n := range 7 {
			c, err := record.NewCheck("green-beans", time.Now())
			r.must(err)
			c.Edition, c.Lowest, c.Highest = rules.Edition, "keep", "discard"
			if n == 3 {
				c.Delete(time.Now())
			}
			if n == 5 {
				c.Label = "on the sill"
			}
			r.device.put(t, &c)
			ids = append([]string{c.ID}, ids...)
			time.Sleep(time.Second)
		}
		r.Open()
		first, more := r.List("", 3)
		if len(first) != 3 || !more || first[0].ID != ids[0] {
			t.Fatalf("first page: got %d, more %t", len(first), more)
		}
		rest, more := r.List(first[2].ID, 3)
		if len(rest) != 3 || more {
			t.Errorf("after the first 3 of 6 not deleted: got %d, more %t", len(rest), more)
		}

		// Of the checks in which nothing was said, only the one just begun
		// stays.
		begun := stored[*record.Check](t, r.device, record.Checks, ids[0])
		r.DropUnanswered(begun)
		r.DropUnanswered(begun)
		settled := false
		r.Settled(func() { settled = true })
		r.page.settle()
		if !settled {
			t.Error("the page was not told that everything before is done")
		}
		left, _ := r.List("", 10)
		if len(left) != 2 || left[0].ID != ids[0] || left[1].Label == "" {
			t.Errorf("%d are left, want the last and the one with words", len(left))
		}
		if stored[*record.Check](t, r.device, record.Checks, ids[3]) == nil {
			t.Error("a check in the trash was removed")
		}
	})
}

// Two people went on with the same check on two devices, one of which saw a bulging
// lid. Whichever device imports the backup of the other, check and jar know of it.
func TestImportGathersOneCheck(t *testing.T) {
	for _, bulging := range []bool{false, true} { // on the device that imports
		inBubble(t, func(r *rig) {
			r.Open()
			r.shelved()
			food, _ := rules.ProductByID("green-beans")
			s, err := session.New(food, time.Now())
			r.must(err)
			s.Check.Jar = r.jars[0].ID
			s.Say("wet", time.Now(), rules.WetDry)
			r.Save(&s.Check, func() {})
			r.page.settle()
			goOn := func(bulges bool) {
				s := r.Find(s.Check.ID)
				if bulges {
					s.Say("lid", time.Now(), rules.LidBulged)
				} else {
					s.Say("glass", time.Now(), rules.GlassSound)
					r.Save(&s.Check, func() {})
					s.Say("rust", time.Now(), rules.RustNone)
				}
				r.Save(&s.Check, func() {})
				r.page.settle()
			}
			before, err := r.Everything()
			r.must(err)
			goOn(!bulging)
			var file bytes.Buffer
			_, _, err = r.WriteBackup(&file, r.Edition(backup.File{Written: time.Now()}))
			r.must(err)

			r.device.Memory = store.NewMemory()
			r.device.put(t, before...)
			r.open()
			r.Open()
			r.shelved()
			goOn(bulging)
			for range 2 {
				r.Import(bytes.NewReader(file.Bytes()), r.Settings, false, func(int) {})
				r.page.settle()
				if o := rules.Judge(r.Find(s.Check.ID).Situation()); o.Lowest != rules.Discard {
					t.Errorf("bulging here %v: got at least %s for the check, want discard", bulging, o.Lowest.ID())
				}
				if o := r.Shelf.Judge(r.Shelf.Jars[s.Check.Jar], time.Now()); o.Lowest != rules.Discard {
					t.Errorf("bulging here %v: got at least %s for the jar, want discard", bulging, o.Lowest.ID())
				}
			}
			if plan, err := r.Survey(bytes.NewReader(file.Bytes())); err != nil || plan.Count() != 0 {
				t.Errorf("imported again: got %d writes, %v; want none", plan.Count(), err)
			}
		})
	}
}

// A backup of one household, imported into another, gives the same household.
func TestBackupAndBack(t *testing.T) {
	inBubble(t, func(r *rig) {
		made, err := demo.Records(time.Now())
		r.must(err)
		r.device.put(t, made...)
		r.Open()
		r.page.settle()
		r.KeepSettings(func(s *record.Settings) { feet := 2000; s.AltitudeFeet = &feet })
		r.page.settle()
		var file bytes.Buffer
		written, unread, err := r.WriteBackup(&file, r.Edition(backup.File{Written: time.Now()}))
		all, err2 := r.Everything()
		r.must(err2)
		if err != nil || unread != 0 || written != len(all) {
			t.Fatalf("got %d of %d written, %d unread: %v", written, len(all), unread, err)
		}

		r.device.Memory = store.NewMemory()
		r.open()
		r.shelved()
		plan, err := r.Survey(bytes.NewReader(file.Bytes()))
		r.must(err)
		if plan.Count() != written || plan.Lost != 0 || plan.File.AltitudeFeet == nil {
			t.Fatalf("the plan: got %d of %d records, %d jars lost, settings %+v", plan.Count(), written, plan.Lost, plan.File)
		}

		// All of it or nothing.
		r.fails(store.ErrFull)
		r.Import(bytes.NewReader(file.Bytes()), plan.File, false, func(int) { t.Error("imported although there is no space") })
		r.page.settle()
		if here, err := r.Everything(); err != nil || len(here) != 0 || r.AltitudeFeet() != 0 {
			t.Fatalf("got %d records from a file that was not imported, %d ft: %v", len(here), r.AltitudeFeet(), err)
		}
		r.fails(nil)
		got := 0
		r.Import(bytes.NewReader(file.Bytes()), plan.File, false, func(n int) { got = n })
		r.page.settle()
		here, err := r.Everything()
		r.must(err)
		if got != written || len(here) != written || r.AltitudeFeet() != 2000 || len(r.Shelf.Jars) == 0 {
			t.Errorf("imported %d of %d; got %d here, %d ft", got, written, len(here), r.AltitudeFeet())
		}
		if plan, err := r.Survey(bytes.NewReader(file.Bytes())); err != nil || plan.Count() != 0 {
			t.Errorf("imported again: got %d writes, %v; want none", plan.Count(), err)
		}

		// The code must not rely on the order of the records.
		var edited map[string]json.RawMessage
		r.must(json.Unmarshal(file.Bytes(), &edited))
		var jars []json.RawMessage
		r.must(json.Unmarshal(edited["jars"], &jars))
		jars = append(jars[1:], jars[0])
		edited["jars"], err = json.Marshal(jars)
		r.must(err)
		text, err := json.Marshal(edited)
		r.must(err)
		if plan, err := r.Survey(bytes.NewReader(text)); err != nil || plan.Count() != 0 {
			t.Errorf("imported in another order: got writes %+v, %v; want none", plan, err)
		}
		if _, err := r.Survey(strings.NewReader("not a backup")); err == nil {
			t.Error("a file that is not a backup was read")
		}

		r.ClearDemo(func() { t.Error("a person's own household was cleared") })
		r.page.settle()
		r.wantTrouble("This could not be saved: this is not the made-up household.")
		r.Demo = true
		cleared := false
		r.ClearDemo(func() { cleared = true })
		r.page.settle()
		if here, err := r.Everything(); err != nil || len(here) != 0 || !cleared {
			t.Errorf("got cleared %t, %d records left: %v", cleared, len(here), err)
		}
	})
}

// Jars whose batch is nowhere are counted before they are imported.
func TestJarsWithoutABatch(t *testing.T) {
	inBubble(t, func(r *rig) {
		var file bytes.Buffer
		r.Open()
		r.page.settle()
		_, _, err := r.WriteBackup(&file, r.Edition(backup.File{Written: time.Now()}))
		r.must(err)
		var f map[string]json.RawMessage
		r.must(json.Unmarshal(file.Bytes(), &f))
		f["batches"] = json.RawMessage("[]")
		text, err := json.Marshal(f)
		r.must(err)
		if plan, err := r.Survey(bytes.NewReader(text)); err != nil || plan.Lost != 0 {
			t.Errorf("the batch is here: got %+v, %v", plan, err)
		}
		r.device.Memory = store.NewMemory()
		if plan, err := r.Survey(bytes.NewReader(text)); err != nil || plan.Lost != 3 {
			t.Errorf("the batch is nowhere: got %+v, want 3 jars lost; %v", plan, err)
		}
	})
}

func TestLastPlace(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		if got := r.LastPlace(); got != r.place.ID {
			t.Errorf("with jars there: got %s", got)
		}
		for _, j := range r.jars {
			gone := r.Shelf.Jars[j.ID]
			gone.Delete(time.Now())
			r.Commit(gone)
		}
		if got := r.LastPlace(); got != r.place.ID {
			t.Errorf("with a shelf only: got %s", got)
		}
		p := r.Shelf.Places[r.place.ID]
		p.What = record.Fridge
		r.Commit(p)
		if got := r.LastPlace(); got != NewPlace {
			t.Errorf("with a refrigerator only: got %s", got)
		}
		r.page.settle()
	})
}

// The shelf is judged once an hour, and again when something was said.
func TestJudgedOnce(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		r.Shelf.Judged(time.Now())
		first := &r.Shelf.Verdicts[0]
		time.Sleep(59 * time.Minute)
		r.Shelf.Judged(time.Now())
		if first != &r.Shelf.Verdicts[0] {
			t.Error("judged twice in an hour")
		}
		r.note(0, nil)
		r.Shelf.Judged(time.Now())
		second := &r.Shelf.Verdicts[0]
		if second == first {
			t.Error("not judged again after something was said")
		}
		time.Sleep(time.Minute)
		r.Shelf.Judged(time.Now())
		if second == &r.Shelf.Verdicts[0] {
			t.Error("not judged again in another hour")
		}
		if len(r.Shelf.Grouped) != 1 || r.Shelf.FirstOf["green-beans"] == nil {
			t.Errorf("got %d groups", len(r.Shelf.Grouped))
		}
		r.page.settle()
	})
}

func TestHolding(t *testing.T) {
	l := InMemory(pantry.New())
	l.Open()
	p, err := record.NewPlace("Cellar", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	l.WithShelf(func() { l.Commit(p) })
	l.written()
	l.Shelf.Judged(time.Now())
	if !l.Saved() || len(l.Shelf.Places) != 1 {
		t.Errorf("got saved %t, %d places", l.Saved(), len(l.Shelf.Places))
	}
}
