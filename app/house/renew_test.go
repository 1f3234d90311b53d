package house

import (
	"testing"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

// Other tabs are told about records, and about how the shelf is shared, but not about
// the marks of what has to be sent: each record that is sent would cover their pages.
func TestNews(t *testing.T) {
	row := func(kind store.Kind, id string) store.Change { return store.Change{Row: store.Row{Kind: kind, ID: id}} }
	mark := row(store.KindShared, "unmet/jars/1")
	for name, c := range map[string]struct {
		changes []store.Change
		want    news
	}{
		"nothing":                 {nil, news{}},
		"a mark":                  {[]store.Change{mark}, news{}},
		"a mark that is removed":  {[]store.Change{{Row: mark.Row, Delete: true}}, news{}},
		"the household":           {[]store.Change{mark, row(store.KindShared, "household")}, news{sharing: true}},
		"a phone":                 {[]store.Change{row(store.KindShared, "phone/1"), mark}, news{sharing: true}},
		"a jar":                   {[]store.Change{row(store.Kind(record.Jars), "unmet/1"), mark}, news{records: true}},
		"settings":                {[]store.Change{row(store.KindSettings, "settings")}, news{records: true}},
		"records from elsewhere":  {[]store.Change{row(store.Kind(record.Jars), "1"), row(store.KindShared, "household")}, news{records: true, sharing: true}},
		"a record that is erased": {[]store.Change{{Row: store.Row{Kind: store.Kind(record.Checks), ID: "1"}, Delete: true}}, news{records: true}},
	} {
		var got news
		for _, change := range c.changes {
			got.add(change)
		}
		if got != c.want {
			t.Errorf("%s: got %+v, want %+v", name, got, c.want)
		}
	}
}
