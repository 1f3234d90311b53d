package batch

import (
	"time"

	"larderlamp/app/record"
	"larderlamp/app/ui"
)

// take opens the form of a batch for the one jar of a check.
func (p *Page) take(c *record.Check, cold bool) {
	b, err := c.Record(time.Now())
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	made, title := b.Made, b.Title
	p.begin(b.Food(), title)
	if p.edit == nil {
		return
	}
	b.Feet, b.Table, b.Count = p.edit.Feet, p.edit.Table, 1
	b.Made = made
	p.edit, p.from, p.cold, p.last = b, c, cold, nil
	p.moveOn()
}

// settle records the jar of a check: on a shelf, or opened in the refrigerator, which
// is created when there is none.
func (p *Page) settle(b *record.Batch, now time.Time) (records []record.Record, err error) {
	into := ""
	if p.cold {
		for _, place := range p.House.Shelf.PlaceOrder() {
			if place.What == record.Fridge {
				into = place.ID
				break
			}
		}
		if into == "" {
			fridge, err := record.NewPlace(ui.Local("Refrigerator"), now)
			if err != nil {
				return nil, err
			}
			fridge.What, fridge.Order = record.Fridge, len(p.House.Shelf.Places)
			into = fridge.ID
			records = append(records, fridge)
		}
	} else {
		place, fresh, err := p.placeOfJars(now)
		if err != nil {
			return nil, err
		}
		if fresh {
			records = append(records, place)
		}
		into = place.ID
	}
	check := *p.from
	j, err := check.PutOnShelf(b, into, p.cold, now)
	if err != nil {
		return nil, err
	}
	return append(records, j, &check), nil
}
