package hosting

import (
	"encoding/json"
	"fmt"
	"html/template"

	"larderlamp/app/language"
	"larderlamp/rules/prose"

	goapp "github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Language is a language besides English in which a reader can have the pages.
//
// The pages are made in English, which the program brings with it. A page whose
// reader wants another language fetches the file of its texts beside the program,
// and puts it in the place of the English before anything is shown. What a page says
// when nothing else comes is in the page, in every language.
type Language struct {
	Name     string // in its own words, such as "Deutsch"
	Texts    *language.Texts
	Describe string
	// Unready is that of the site, in this language.
	Unready goapp.UI
}

// file is the address of the texts of a language, below the prefix.
func (l *Language) file() string { return "/static/" + l.Texts.Tag + ".json" }

// foodsFile is the address of what finds foods in a language, below the prefix.
func (l *Language) foodsFile() string { return "/static/foods." + l.Texts.Tag + ".json" }

// manifestFile is the address of the manifest in a language, below the prefix.
// static/chosen.js names it too.
func (l *Language) manifestFile() string { return "/manifest." + l.Texts.Tag + ".webmanifest" }

// addLanguages adds the texts of every language, and the manifest in it. They are
// stored on the device of a reader who has chosen the language, and no other.
func (s *Site) addLanguages(a App) error {
	for i := range a.Languages {
		l := &a.Languages[i]
		given := *l.Texts
		given.Before = map[string]string{}
		for _, t := range a.Said() {
			english, theirs := t.In(nil), t.In(l.Texts.Reader())
			key := language.Key(english)
			if english != theirs && given.Whole[key] != theirs {
				given.Before[key] = theirs
			}
		}
		text, err := json.Marshal(given)
		if err != nil {
			return fmt.Errorf("texts of %s: %w", l.Texts.Tag, err)
		}
		s.add(l.file(), "application/json", text).later = true
		manifest, err := s.manifest(a, l.Texts.Tag, l.Describe)
		if err != nil {
			return err
		}
		s.add(l.manifestFile(), manifestKind, manifest).later = true
	}
	return nil
}

// addFoods adds what finds foods in every language, for the pages in English, and tells
// the script where. A page requests it when its search first needs it: see
// static/foods.js. A device stores it then, or on the visit after the first.
func (s *Site) addFoods(a App) (string, error) {
	files := make([]part, len(a.Languages))
	for i := range a.Languages {
		l := &a.Languages[i]
		text, err := json.Marshal(l.Texts.ForSearch())
		if err != nil {
			return "", fmt.Errorf("foods of %s: %w", l.Texts.Tag, err)
		}
		s.add(l.foodsFile(), "application/json", text).later = true
		files[i] = s.part(l.foodsFile())
	}
	text, err := json.Marshal(files)
	return string(text), err
}

const (
	// absentTexts is said in its own language when the texts of a language could
	// not be fetched.
	absentTexts prose.Text = "The texts in this language have not come, so this page is in English."
	// loadAgain is the button beside it.
	loadAgain prose.Text = "Load it again"
)

// offered is a language as a page knows it before it has its texts.
type offered struct {
	Tag     string `json:"tag"`
	Name    string `json:"name"`
	Address string `json:"address"`
	Digest  string `json:"digest"`
	Absent  string `json:"absent"`
	Again   string `json:"again"`
}

// offers lists the languages for the pages, as JSON; "" when there are none.
func (s *Site) offers(a App) (string, error) {
	if len(a.Languages) == 0 {
		return "", nil
	}
	all := make([]offered, len(a.Languages))
	for i := range a.Languages {
		l := &a.Languages[i]
		texts := s.part(l.file())
		all[i] = offered{l.Texts.Tag, l.Name, texts.Address, texts.Digest, absentTexts.In(l.Texts.Reader()), loadAgain.In(l.Texts.Reader())}
	}
	text, err := json.Marshal(all)
	return string(text), err
}

// early is what a page says in a language before it has its texts.
type early struct {
	Language                  string
	NoScript, NotYet, Loading string
	Unready                   template.HTML
}

// earlyIn writes what a page says in each language before it has its texts,
// English first.
func earlyIn(a App) ([]early, error) {
	all := []early{{Language: "en"}}
	readers, notices := []prose.Language{nil}, []goapp.UI{a.Unready}
	for i := range a.Languages {
		l := &a.Languages[i]
		all = append(all, early{Language: l.Texts.Tag})
		readers, notices = append(readers, l.Texts.Reader()), append(notices, l.Unready)
	}
	for i := range all {
		all[i].NoScript, all[i].NotYet, all[i].Loading = noScript.In(readers[i]), notYet.In(readers[i]), loading.In(readers[i])
		if notices[i] == nil {
			continue
		}
		notice, err := canonical(goapp.HTMLString(notices[i]))
		if err != nil {
			return nil, fmt.Errorf("notice in %s: %w", all[i].Language, err)
		}
		all[i].Unready = template.HTML(notice)
	}
	return all, nil
}

// languageScript finds out which language the reader wants: the one chosen on this
// device, or else the first that the browser asks for and the site has. Its texts are
// requested at once; static/chosen.js takes it from here. Its notices need no texts,
// and are shown by the language of the document.
const languageScript template.JS = `
{
  const { documentElement: page } = document;
  const offered = JSON.parse(page.dataset.languages);
  let chosen = "";
  try {
    chosen = localStorage.getItem("larderlamp-language") ?? "";
  } catch {
    // this browser keeps nothing for the site
  }
  const main = (tag) => tag.toLowerCase().split("-")[0];
  let wanted = null;
  for (const tag of [chosen, ...navigator.languages ?? []]) {
    wanted = offered.find((l) => l.tag === tag) ?? offered.find((l) => l.tag === main(tag));
    if (wanted || main(tag) === "en") {
      break;
    }
  }
  const texts = (l) => fetch(l.address, { integrity: l.digest }).then((answer) => {
    if (!answer.ok) {
      throw new Error(l.address + ": status " + answer.status);
    }
    return answer.text();
  });
  window.larderLanguages = { offered, wanted, texts };
  if (wanted) {
    page.lang = wanted.tag;
    page.dataset.translates = "";
    window.larderLanguages.coming = texts(wanted);
    window.larderLanguages.coming.catch(() => {});
  }
}
`
