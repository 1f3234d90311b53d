// Package texts is the list of texts that a reader can see, in English with their
// ids, and the files that translators make from it.
package texts

import (
	"cmp"
	"embed"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// Text is a text of the list. An id is given once and stays when the English changes.
type Text struct {
	ID  string   `json:"id"`
	One string   `json:"one,omitempty"` // the form for one, where the text depends on a number
	All string   `json:"text"`          // the text, or its form for several
	In  []string `json:"in"`            // the files in which it stands
}

// From is the English that a translation is made from.
func (t *Text) From() string {
	if t.One != "" {
		return t.One + " | " + t.All
	}
	return t.All
}

// englishFile is the list of texts; every other file beside it is a language.
const englishFile = "en.json"

//go:embed *.json
var files embed.FS

// English is the list that this program was built with.
func English() ([]Text, error) {
	list, err := files.ReadFile(englishFile)
	if err != nil {
		return nil, err
	}
	return Read(list)
}

// Languages are those that this program was built with, besides English, in the
// order of their tags.
func Languages() (all []*Language, err error) {
	english, err := English()
	if err != nil {
		return nil, err
	}
	entries, err := files.ReadDir(".")
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if e.Name() == englishFile {
			continue
		}
		text, err := files.ReadFile(e.Name())
		if err != nil {
			return nil, err
		}
		l, err := Parse(e.Name(), text, english)
		if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	return all, nil
}

// Read reads a list.
func Read(list []byte) (all []Text, err error) {
	if err := json.Unmarshal(list, &all); err != nil {
		return nil, fmt.Errorf("en.json: %w", err)
	}
	return all, nil
}

// Write writes a list with a text a line, so that two branches which change different
// texts can be merged.
func Write(all []Text) ([]byte, error) {
	var b strings.Builder
	b.WriteString("[\n")
	for i := range all {
		var line strings.Builder
		e := json.NewEncoder(&line)
		e.SetEscapeHTML(false)
		if err := e.Encode(&all[i]); err != nil {
			return nil, fmt.Errorf("%s: %w", all[i].ID, err)
		}
		b.WriteString(strings.TrimSuffix(line.String(), "\n"))
		if i < len(all)-1 {
			b.WriteString(",")
		}
		b.WriteString("\n")
	}
	b.WriteString("]\n")
	return []byte(b.String()), nil
}

// Named gives the texts that were found their ids. One that was there before keeps
// its own. One that is new takes that of a text which has vanished from the same
// place: between the same two others of its file. Any other gets a fresh id, of its
// first words.
func Named(before, found []Text) []Text {
	all := slices.Clone(found)
	of := map[string]string{} // ids by English
	used := map[string]bool{}
	for i := range before {
		of[before[i].From()] = before[i].ID
		used[before[i].ID] = true
	}
	there := map[string]bool{} // ids that are given
	for i := range all {
		if all[i].ID = of[all[i].From()]; all[i].ID != "" {
			there[all[i].ID] = true
		}
	}
	gone, fresh := gaps(before, func(t *Text) bool { return !there[t.ID] }), gaps(all, func(t *Text) bool { return t.ID == "" })
	for at, news := range fresh {
		inherit(gone[at], news)
	}
	for i := range all {
		if all[i].ID != "" {
			continue
		}
		base := slug(all[i].All)
		id := base
		for n := 2; used[id]; n++ {
			id = fmt.Sprintf("%s-%d", base, n)
		}
		all[i].ID, used[id] = id, true
	}
	return all
}

// gap is a place in a file: after one text and before another, by their ids.
type gap struct{ file, after, before string }

// gaps groups texts that are odd by where they stand between those that are not.
func gaps(all []Text, odd func(*Text) bool) map[gap][]*Text {
	found := map[gap][]*Text{}
	var open []*Text
	file, after := "", ""
	end := func(before string) {
		if len(open) > 0 {
			g := gap{file, after, before}
			found[g] = append(found[g], open...)
		}
		open = nil
	}
	for i := range all {
		t := &all[i]
		if t.In[0] != file {
			end("")
			file, after = t.In[0], ""
		}
		if odd(t) {
			open = append(open, t)
			continue
		}
		end(t.ID)
		after = t.ID
	}
	end("")
	return found
}

// inherit gives new texts the ids of those that have vanished from the same place:
// first to those that are most alike, then in order where as many are left.
func inherit(gone, news []*Text) {
	type pair struct {
		old, new *Text
		like     float64
	}
	var pairs []pair
	for _, o := range gone {
		for _, n := range news {
			if o.One == "" == (n.One == "") {
				pairs = append(pairs, pair{o, n, similarity(o.All, n.All)})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(b.like, a.like) })
	taken := map[*Text]bool{}
	for _, p := range pairs {
		if p.like >= .3 && !taken[p.old] && p.new.ID == "" {
			p.new.ID, taken[p.old] = p.old.ID, true
		}
	}
	gone = slices.DeleteFunc(slices.Clone(gone), func(t *Text) bool { return taken[t] })
	news = slices.DeleteFunc(slices.Clone(news), func(t *Text) bool { return t.ID != "" })
	if len(gone) == len(news) {
		for i := range gone {
			if gone[i].One == "" == (news[i].One == "") {
				news[i].ID = gone[i].ID
			}
		}
	}
}

// similarity is the share of words that two texts have in common.
func similarity(a, b string) float64 {
	x, y := strings.Fields(strings.ToLower(a)), strings.Fields(strings.ToLower(b))
	common := 0
	for _, w := range x {
		if i := slices.Index(y, w); i >= 0 {
			common++
			y = slices.Delete(slices.Clone(y), i, i+1)
		}
	}
	return 2 * float64(common) / float64(max(1, len(x)+len(y)+common))
}

var notInID = regexp.MustCompile(`[^a-z0-9]+`)

// mostOfID is how many letters of a text go into its id.
const mostOfID = 40

// slug is the beginning of a text as an id.
func slug(text string) string {
	text = strings.NewReplacer("’", "", "'", "", "%", " ").Replace(strings.ToLower(text))
	words := strings.Split(strings.Trim(notInID.ReplaceAllString(text, "-"), "-"), "-")
	id := ""
	for _, w := range words {
		if len(id)+len(w) > mostOfID {
			break
		}
		id = strings.TrimPrefix(id+"-"+w, "-")
	}
	return cmp.Or(id, "sign")
}
