package shelf

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// happenedWords says what happened.
func happenedWords(e *record.Event) prose.Text {
	words := map[string]prose.Text{
		record.Stored: "stored", record.Moved: "moved", record.Opened: "opened", record.Chilled: "put in the cold unsealed", record.Eaten: "eaten", record.Given: "given away",
		record.Discarded: "discarded", record.Missing: "not found", record.Found: "found", record.Looked: "looked at", record.Checked: "checked",
		record.Traveled: "back from a trip", record.Noted: "note", record.Pictured: "photo",
	}[e.What]
	for _, r := range reasonsToDiscard {
		if e.Why == r.id {
			return ui.Say("%s: %s", words, prose.Lower(r.words))
		}
	}
	return words
}

// timeline lists what happened, newest first. A mistake can be undone; the
// record of it stays.
func (p *JarPage) timeline(j *record.Jar) app.UI {
	events := slices.Clone(j.Events)
	slices.SortStableFunc(events, func(a, b record.Event) int { return b.At.Compare(a.At) })
	return ui.El("section", "",
		ui.Txt("h2", "", "What happened"),
		ui.El("ol", "timeline", ui.Each(len(events), func(i int) app.UI { return p.event(j, &events[i]) })...),
	)
}

func (p *JarPage) event(j *record.Jar, e *record.Event) app.UI {
	id, undone := e.ID, e.Undone
	class, toggle := "", prose.Text("Undo")
	if undone {
		class, toggle = "undone", "It did happen"
	}
	words := prose.Upper(happenedWords(e))
	if e.Place != "" {
		words = ui.Say("%s, %s", words, p.House.Shelf.PlaceName(e.Place))
	}
	photo := p.photos[e.Photo]
	return ui.El("li", class,
		ui.El("span", "", ui.Txt("strong", "", words), ui.Prose(ui.Say(" · %s", ui.DayWords(record.DayOf(e.At.Local()))))),
		ui.Only(e.Words != "", func() app.UI { return ui.Txt("p", "", prose.Own(e.Words)) }),
		ui.Only(len(e.Seen) > 0, func() app.UI {
			return ui.Fold("", "What was seen", ui.El("ul", "", ui.Each(len(e.Seen), func(i int) app.UI {
				sign, ok := rules.SignByID(e.Seen[i].Sign)
				if !ok {
					return ui.Txt("li", "", prose.Own(e.Seen[i].Sign))
				}
				return ui.Txt("li", "", ui.Say("%s: %s", sign.Info().Name, parts.SaidWords(sign, e.Seen[i].Values)))
			})...))
		}),
		ui.Only(e.Check != "", func() app.UI { return ui.Anchor("", "/check#id="+e.Check, "The whole check") }),
		ui.Only(photo != nil && !undone, func() app.UI {
			return ui.Elem("img", "photo").Attr("src", "data:image/jpeg;base64,"+photo.JPEG).Attr("alt", ui.Local(ui.Say("Photo of the jar, %s", ui.DayWords(record.DayOf(e.At)))))
		}),
		ui.Only(e.What != record.Checked, func() app.UI {
			return ui.Named("quiet", toggle, ui.Say("%s: %s", toggle, words), func() {
				j.Undo(id, !undone)
				p.House.Commit(j)
				p.said, p.undo = "", "" // they may be about what was just undone
				p.turn++
			}, id, undone)
		}),
	)
}
