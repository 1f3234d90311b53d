package pantry

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"larderlamp/app/calendar"
	"larderlamp/app/sheet"
	"larderlamp/rules"
	"larderlamp/rules/locale"
	"larderlamp/rules/order"
)

// JarTable is a table of all jars, one a line, as CSV.
func (p *Pantry) JarTable(now time.Time) []byte {
	head := []string{"jar", "product", "title", "made", "number", "size", "method", "lid lot", "place", "state", "lowest", "highest", "deadline", "looked at", "gone", "why"}
	var rows [][]string
	for _, b := range p.BatchOrder() {
		for _, j := range p.OfBatch(b.ID) {
			v := p.Judge(j, now)
			looked, gone, why, state := "", "", "", v.State().String()
			if v.Basis.Look != nil {
				looked = string(DayOf(v.Basis.Look.At))
			}
			if e := v.Basis.Ended; e != nil {
				gone, why, state = string(DayOf(e.At)), e.Why, e.What
			}
			rows = append(rows, []string{j.ID, b.Product, b.Title, string(b.Made), strconv.Itoa(j.Number), b.Size, b.Method, b.LidLot,
				p.PlaceName(v.Basis.Place), state, v.Lowest.ID(), v.Highest.ID(), string(v.Deadline), looked, gone, why})
		}
	}
	return sheet.Write(head, rows)
}

// CheckTable is a table of all checks among the records, one a line, as CSV.
func CheckTable(records []Record) []byte {
	head := []string{"check", "begun", "product", "label", "jar", "lowest", "highest", "edition", "finished", "answers"}
	var rows [][]string
	for _, r := range records {
		c, ok := r.(*Check)
		if !ok || c.Gone() {
			continue
		}
		var said []string
		for _, a := range c.Answers {
			said = append(said, a.Sign+"="+strings.Join(a.Values, "|"))
		}
		rows = append(rows, []string{c.ID, c.Begun.Format(time.RFC3339), c.Product, c.Label, c.Jar, c.Lowest, c.Highest, c.Edition, strconv.FormatBool(c.Finished), strings.Join(said, " ")})
	}
	order.By(rows, func(a, b *[]string) bool { return (*a)[0] < (*b)[0] })
	return sheet.Write(head, rows)
}

// SweepDue is the day on which the next sweep is due: so many months after the
// last one that was finished, or today.
func (p *Pantry) SweepDue(now time.Time) Day {
	var last time.Time
	for _, s := range p.Sweeps {
		if s.Ended != nil && s.Trip == "" && s.Ended.After(last) {
			last = *s.Ended
		}
	}
	if last.IsZero() {
		return DayOf(now)
	}
	return DayOf(last.In(now.Location()).AddDate(0, p.Settings.Every(), 0))
}

// nextSweep is the date of the next sweep, and of those after it.
func (p *Pantry) nextSweep(now time.Time) (calendar.Event, error) {
	due := p.SweepDue(now)
	at, err := time.Parse(DayLayout, string(due))
	if err != nil {
		return calendar.Event{}, fmt.Errorf("next sweep: %q is not a date", due)
	}
	return calendar.Event{UID: "sweep@larderlamp", Day: at, Summary: locale.Text("Look at every jar"), Every: p.Settings.Every(),
		Description: locale.Text("The quarterly sweep: lids, seals, what is seen through the glass. Use the oldest first.")}, nil
}

// SweepCalendar is an iCalendar file with the next sweep alone.
func (p *Pantry) SweepCalendar(now time.Time) ([]byte, error) {
	next, err := p.nextSweep(now)
	if err != nil {
		return nil, err
	}
	return calendar.Write([]calendar.Event{next}, now, calendarOf)
}

// calendarOf says what wrote a calendar.
const calendarOf = "-//Larderlamp//" + rules.Edition + "//EN"

// Calendar is an iCalendar file with the next sweep, until when opened jars
// keep, and the day each batch on the shelf is a year old.
func (p *Pantry) Calendar(now time.Time) ([]byte, error) {
	var events []calendar.Event
	add := func(id string, d Day, summary, description string) error {
		at, err := time.Parse(DayLayout, string(d))
		if err != nil {
			return fmt.Errorf("%s: %q is not a date", id, d)
		}
		events = append(events, calendar.Event{UID: id, Day: at, Summary: locale.Text(summary), Description: locale.Text(description)})
		return nil
	}
	next, err := p.nextSweep(now)
	if err != nil {
		return nil, err
	}
	events = append(events, next)
	all := p.JudgeAll(now)
	onShelf := map[string]int{}
	for i := range all {
		v := &all[i]
		if v.Basis.Stage == OnShelf {
			onShelf[v.Jar.Batch]++
		}
		if v.Deadline != "" && v.State() == ToFinish {
			if err := add("open-"+v.Jar.ID+"@larderlamp", v.Deadline, locale.Say("Finish or discard: %s", p.JarName(v.Jar)), locale.Say("Opened %s. After this day: discard it, do not taste it.", string(DayOf(v.Basis.Opened.At)))); err != nil {
				return nil, err
			}
		}
	}
	for _, b := range p.BatchOrder() {
		made, err := time.Parse(DayLayout, string(b.Made))
		if err != nil || onShelf[b.ID] == 0 {
			continue
		}
		if birthday := DayOf(made.AddDate(1, 0, 0)); birthday >= DayOf(now) {
			if err := add("year-"+b.ID+"@larderlamp", birthday, locale.Say("%s %s is a year old", b.Name(), b.Made.Year()), locale.Say("%d on the shelf. Past its best from now on: use it before this year's.", onShelf[b.ID])); err != nil {
				return nil, err
			}
		}
	}
	return calendar.Write(events, now, calendarOf)
}
