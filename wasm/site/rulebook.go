package main

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"fmt"
	"html/template"
	"io"
	"os"

	"larderlamp/app/office"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/cases"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

var rulebook = command{
	name: "rulebook",
	args: "[-lang TAG] [-o FILE]",
	about: `Write the rule book as one HTML page to read and print: every rule, number and
question with its sources, how each is known, and the cases that exercise it,
with room for a reviewer's pen.`,
	run: runRulebook,
}

func runRulebook(_ context.Context, flags *flag.FlagSet, args []string, out io.Writer) error {
	lang := langFlag(flags)
	name := flags.String("o", "", "write to this `file` instead of printing")
	if err := parse(flags, args, 0); err != nil {
		return err
	}
	in, err := reader(*lang)
	if err != nil {
		return err
	}
	uses, err := casesByRule()
	if err != nil {
		return err
	}
	if *name == "" {
		return writeBook(out, uses, *lang, in)
	}
	f, err := os.Create(*name)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	return errors.Join(writeBook(w, uses, *lang, in), w.Flush(), f.Close())
}

// casesByRule finds, for each rule, the cases in which it must or must not fire.
func casesByRule() (map[string][]office.Use, error) {
	all, err := cases.All()
	if err != nil {
		return nil, err
	}
	uses := map[string][]office.Use{}
	for _, c := range all {
		for _, id := range c.Fires {
			uses[id] = append(uses[id], office.Use{ID: c.ID, Name: c.Name})
		}
		for _, id := range c.Not {
			uses[id] = append(uses[id], office.Use{ID: c.ID, Name: "must not: " + c.Name})
		}
	}
	return uses, nil
}

// writeBook writes the book in a language; nil is English. The cases, which are
// written for reviewers of the rules, stay in English.
func writeBook(out io.Writer, uses map[string][]office.Use, tag string, in prose.Language) error {
	type condition struct {
		Sign   rules.Text
		Values []rules.Text
	}
	type entry struct {
		*rules.Rule
		Conditions []condition
		Uses       []office.Use
	}
	type part struct {
		Name    rules.Text
		Entries []entry
	}
	type question struct {
		rules.Sign
		ID string
		On []*rules.Rule // that it bears on
	}
	book := struct {
		Language  string
		Edition   string
		Parts     []part
		Bands     []rules.Band
		Questions []question
		Advices   []rules.Advice
		Cautions  []rules.Caution
		Foods     []*rules.Product // that have a condition
		Unread    []rules.Unread
		Copied    []rules.Unread
		Recalled  []process.Figure
		Reprinted []process.Figure
	}{Language: tag, Edition: rules.Edition, Bands: rules.Bands, Advices: rules.Advices, Cautions: rules.Cautions, Unread: rules.UnreadCites(),
		Copied: rules.CopiedCites(), Recalled: process.Figures(rules.Memory), Reprinted: process.Figures(rules.Copied)}
	for i := range rules.Catalog {
		if p := &rules.Catalog[i]; p.Condition != nil {
			book.Foods = append(book.Foods, p)
		}
	}
	for p := range rules.Parts {
		part := part{Name: rules.Parts[p].Heading()}
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			e := entry{Rule: r, Uses: uses[r.ID]}
			for _, c := range r.When {
				known := condition{Sign: c[0].Sign().Info().Name}
				for _, v := range c {
					known.Values = append(known.Values, v.Info().Label)
				}
				e.Conditions = append(e.Conditions, known)
			}
			part.Entries = append(part.Entries, e)
		}
		book.Parts = append(book.Parts, part)
	}
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() {
			book.Questions = append(book.Questions, question{rules.Signs[i], id.ID(), rules.RulesOn(id)})
		}
	}
	written, err := bookTemplate.Clone()
	if err != nil {
		return err
	}
	return written.Funcs(bookFuncs(in)).Execute(out, book)
}

// bookFuncs put what the book shows into a language: in a text or what has one, and
// say a text of the book with what is filled in.
func bookFuncs(in prose.Language) template.FuncMap {
	said := func(v any) string {
		switch v := v.(type) {
		case prose.Text:
			return v.In(in)
		case interface{ Text() prose.Text }:
			return v.Text().In(in)
		}
		return fmt.Sprint(v)
	}
	return template.FuncMap{
		"in": said,
		"any": func(values []rules.Value) prose.Text {
			labels := make([]prose.Text, len(values))
			for i, v := range values {
				labels[i] = v.Info().Label
			}
			return prose.List(labels, bookWords["or"])
		},
		"say": func(name string, args ...any) string { return prose.Say(bookWords[name], args...).In(in) },
		"unreviewed": func() string {
			if in == nil {
				return ""
			}
			return ui.Unreviewed.In(in)
		},
		"source": func(c fmt.Stringer) string { return c.String() },
	}
}

// bookWords are the texts of the book itself.
var bookWords = map[string]prose.Text{
	"title":      "Larderlamp rule book",
	"edition":    "Edition %s.",
	"reading":    "A jar needs support: published guidance that lets it be kept or used soon. Every restriction that matches makes the advice at least as strict as it says; the strictest wins, and the order never matters. Without support a jar is discarded; missing support says why. A note explains a harmless look-alike. This book supports, and never replaces, local food-safety authorities and current published guidance.",
	"numbers":    "Numbers",
	"questions":  "Questions",
	"conditions": "Foods with a condition",
	"advice":     "Advice",
	"advices":    "Advice and cautions",
	"unread":     "Not read in a source",
	"unreads":    "Not read in a published source",
	"copied":     "Read in a copy",
	"or":         ", or ",
	"cases":      "Cases:",
	"pen":        "reviewed by, date, remark:",
	"why":        "Why: %s",
	"assumes":    "A rule that uses this assumes: %s.",
	"worded":     "Or, when it is known to be %s:",
	"bears":      "Bears on:",
	"asked":      "What has to be asked about a food for its published process to hold. Anything but “yes” leaves the jar without support.",
	"memory":     "These are from memory, from common practice, or worked out from other facts.",
	"where":      "where",
	"what":       "what",
	"known":      "how it is known",
	"times":      "Published times that are from memory",
	"short":      "A time from memory can show that a jar fell short. It never shows that a jar was processed as published: for that, somebody has to find it in current published guidance.",
	"figure":     "food, pack, jar and time",
	"stand":      "where it should stand",
	"reprinted":  "These were read in a reprint or an archived copy, not at the publisher. They count as read; a reviewer may want to compare them with the original first.",
}

var bookTemplate = template.Must(template.New("book").Funcs(bookFuncs(nil)).Parse(`<!doctype html>
<html lang="{{.Language}}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{say "title"}} {{.Edition}}</title>
<style>
body { font: 11pt/1.45 Georgia, "Times New Roman", serif; max-width: 46em; margin: 2em auto; padding: 0 1em; color: #1b2620; }
h1, h2, h3 { line-height: 1.2; break-after: avoid; }
h3 { font-family: monospace; font-size: 1em; margin: 0; }
article { border: 1px solid #777; padding: .6em .9em; margin: 0 0 .9em; break-inside: avoid; }
ul { margin: .3em 0; padding-left: 1.3em; }
.kind { font-weight: bold; margin: .2em 0; }
.unread { border: 1px dashed; padding: 0 .3em; }
.cases { font-size: .9em; color: #444; }
.pen { border-bottom: 1px dotted #777; height: 2.2em; color: #777; font-size: .85em; }
table { border-collapse: collapse; width: 100%; }
td, th { border: 1px solid #999; padding: .25em .5em; text-align: left; vertical-align: top; font-size: .9em; }
nav a { margin-right: 1em; }
</style>
</head>
<body>
{{define "cites"}}<ul>{{range .}}<li>{{source .}} {{if .Known.Found}}({{in .Known}}){{else}}<span class="unread">{{in .Known}}</span>{{end}}</li>{{end}}</ul>{{end}}
<h1>{{say "title"}}</h1>
<p>{{say "edition" .Edition}} {{say "reading"}}</p>
{{with unreviewed}}<p><b>{{.}}</b></p>
{{end}}
<nav>{{range .Parts}}<a href="#{{(index .Entries 0).ID}}">{{in .Name}}</a>{{end}}<a href="#numbers">{{say "numbers"}}</a><a href="#questions">{{say "questions"}}</a><a href="#conditions">{{say "conditions"}}</a><a href="#advice">{{say "advice"}}</a><a href="#unread">{{say "unread"}}</a><a href="#copied">{{say "copied"}}</a></nav>
{{range .Parts}}
<h2>{{in .Name}}</h2>
{{range .Entries}}<article id="{{.ID}}">
<h3>{{.ID}}</h3>
<p class="kind">{{in .Kind}}{{if .Then}}: {{in .Then}}{{end}}</p>
<p>{{in .Say}}</p>
<ul>{{range .Conditions}}<li>{{in .Sign}}: {{range $i, $v := .Values}}{{if $i}}{{say "or"}}{{end}}{{in $v}}{{end}}</li>{{end}}</ul>
{{template "cites" .Cites}}
{{if .Uses}}<p class="cases">{{say "cases"}} {{range $i, $u := .Uses}}{{if $i}}; {{end}}<b>{{$u.ID}}</b> {{$u.Name}}{{end}}</p>{{end}}
<p class="pen">{{say "pen"}}</p>
</article>
{{end}}{{end}}
<h2 id="numbers">{{say "numbers"}}</h2>
{{range .Bands}}<article id="number.{{.ID}}"><h3>{{.ID}}</h3><p class="kind">{{in .Unit}}</p><ul>{{range .Edges}}<li>{{in .}}</li>{{end}}</ul>{{template "cites" .Cites}}<p class="pen">{{say "pen"}}</p></article>
{{end}}
<h2 id="questions">{{say "questions"}}</h2>
{{range .Questions}}<article id="question.{{.ID}}"><h3>{{.ID}}</h3><p><b>{{in .Ask}}</b> {{in .How}}</p><p>{{say "why" .Why}}</p><ul>{{range .Values}}<li><b>{{in .Label}}</b><br><small>{{say "assumes" .Assumes}}</small></li>{{end}}</ul>{{range .Wordings}}{{if .Ask}}<p>{{say "worded" (any .When)}} <b>{{in .Ask}}</b> {{in .How}}</p>{{end}}{{if .Labels}}<ul>{{range .Labels}}<li>{{in .Label}}</li>{{end}}</ul>{{end}}{{end}}<p>{{say "bears"}}{{range .On}} <a href="#{{.ID}}">{{.ID}}</a> ({{source (index .Cites 0)}}){{end}}</p></article>
{{end}}
<h2 id="conditions">{{say "conditions"}}</h2>
<p>{{say "asked"}}</p>
{{range .Foods}}<article id="condition.{{.ID}}"><h3>{{.ID}}</h3><p class="kind">{{in .Name}}</p><p><b>{{in .Condition.Ask}}</b></p><p>{{say "why" .Condition.Why}}</p><ul><li>{{in .Condition.OK}}</li><li>{{in .Condition.Not}}</li></ul>{{template "cites" .Condition.Cites}}<p class="pen">{{say "pen"}}</p></article>
{{end}}
<h2 id="advice">{{say "advices"}}</h2>
{{range .Advices}}<article id="advice.{{.ID}}"><h3>{{.ID}}</h3><p class="kind">{{in .Title}}</p><ol>{{range .Steps}}<li>{{in .}}</li>{{end}}</ol>{{template "cites" .Cites}}<p class="pen">{{say "pen"}}</p></article>
{{end}}
{{range .Cautions}}<article id="caution.{{.ID}}"><h3>{{.ID}}</h3><p class="kind">{{in .Title}}</p><ul>{{range .Lines}}<li>{{in .}}</li>{{end}}</ul>{{template "cites" .Cites}}</article>
{{end}}
<h2 id="unread">{{say "unreads"}}</h2>
<p>{{say "memory"}}</p>
<table><tr><th>{{say "where"}}</th><th>{{say "what"}}</th><th>{{say "known"}}</th></tr>
{{range .Unread}}<tr><td>{{in .Where}}</td><td>{{source .Cite}}</td><td>{{in .Cite.Known}}</td></tr>
{{end}}</table>
<h3>{{say "times"}}</h3>
<p>{{say "short"}}</p>
<table><tr><th>{{say "figure"}}</th><th>{{say "stand"}}</th></tr>
{{range .Recalled}}<tr><td>{{in .What}}</td><td>{{.Cite.Source}}</td></tr>
{{end}}</table>
<h2 id="copied">{{say "copied"}}</h2>
<p>{{say "reprinted"}}</p>
<table><tr><th>{{say "where"}}</th><th>{{say "what"}}</th></tr>
{{range .Copied}}<tr><td>{{in .Where}}</td><td>{{source .Cite}} ({{in .Cite.Known}})</td></tr>
{{end}}{{range .Reprinted}}<tr><td>{{in .What}}</td><td>{{source .Cite}}</td></tr>
{{end}}</table>
</body>
</html>
`))
