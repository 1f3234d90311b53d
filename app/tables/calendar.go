package tables

import (
	"fmt"
	"time"

	"larderlamp/app/calendar"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// nextSweep is the date of the next sweep, and of those after it.
func nextSweep(p *pantry.Pantry, now time.Time, in prose.Language) (calendar.Event, error) {
	due := walk.NextDue(p, now)
	at, err := time.Parse(record.DayLayout, string(due))
	if err != nil {
		return calendar.Event{}, fmt.Errorf("next sweep: %q is not a date", due)
	}
	return calendar.Event{UID: "sweep@larderlamp", Day: at, Summary: prose.Text("Look at every jar").In(in), Every: p.Settings.MonthsBetweenSweeps(),
		Description: prose.Text("The quarterly sweep: lids, seals, what is seen through the glass. Use the oldest first.").In(in)}, nil
}

// SweepCalendar is an iCalendar file with the next sweep alone.
func SweepCalendar(p *pantry.Pantry, now time.Time, in prose.Language) ([]byte, error) {
	next, err := nextSweep(p, now, in)
	if err != nil {
		return nil, err
	}
	return calendar.Write([]calendar.Event{next}, now, calendarOf)
}

// calendarOf names the program that wrote a calendar.
const calendarOf = "-//Larderlamp//" + rules.Edition + "//EN"

// Calendar is an iCalendar file with the next sweep, the last day of each
// opened jar, and the day each batch on the shelf is a year old.
func Calendar(p *pantry.Pantry, now time.Time, in prose.Language) ([]byte, error) {
	var events []calendar.Event
	add := func(id string, d record.Day, summary, description prose.Text) error {
		at, err := time.Parse(record.DayLayout, string(d))
		if err != nil {
			return fmt.Errorf("%s: %q is not a date", id, d)
		}
		events = append(events, calendar.Event{UID: id, Day: at, Summary: summary.In(in), Description: description.In(in)})
		return nil
	}
	next, err := nextSweep(p, now, in)
	if err != nil {
		return nil, err
	}
	events = append(events, next)
	all := p.JudgeAll(now)
	onShelf := map[string]int{}
	for i := range all {
		v := &all[i]
		if v.Basis.Stage == record.OnShelf {
			onShelf[v.Jar.Batch]++
		}
		if v.Deadline != "" && v.State() == pantry.ToFinish {
			if err := add("open-"+v.Jar.ID+"@larderlamp", v.Deadline, prose.Say("Finish or discard: %s", p.JarName(v.Jar)), prose.Say("Opened %s. After this day: discard it, do not taste it.", string(record.DayOf(v.Basis.Opened.At)))); err != nil {
				return nil, err
			}
		}
	}
	for _, b := range p.BatchOrder() {
		made, err := time.Parse(record.DayLayout, string(b.Made))
		if err != nil || onShelf[b.ID] == 0 {
			continue
		}
		if birthday := record.DayOf(made.AddDate(1, 0, 0)); birthday >= record.DayOf(now) {
			if err := add("year-"+b.ID+"@larderlamp", birthday, prose.Say("%s %s is a year old", b.Name(), b.Made.Year()), prose.Say("%d on the shelf. Past its best from now on: use it before this year's.", onShelf[b.ID])); err != nil {
				return nil, err
			}
		}
	}
	return calendar.Write(events, now, calendarOf)
}
