package main

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"html/template"
	"io"
	"os"

	"larderlamp/app/office"
	"larderlamp/rules"
	"larderlamp/rules/cases"
	"larderlamp/rules/process"
)

var rulebook = command{
	name: "rulebook",
	args: "[-o FILE]",
	about: `Write the rule book as one HTML page to read and print: every rule, number and
question with its sources, how each is known, and the cases that exercise it,
with room for a reviewer's pen.`,
	run: runRulebook,
}

func runRulebook(_ context.Context, flags *flag.FlagSet, args []string, out io.Writer) error {
	name := flags.String("o", "", "write to this `file` instead of printing")
	if err := parse(flags, args, 0); err != nil {
		return err
	}
	uses, err := casesByRule()
	if err != nil {
		return err
	}
	if *name == "" {
		return writeBook(out, uses)
	}
	f, err := os.Create(*name)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	return errors.Join(writeBook(w, uses), w.Flush(), f.Close())
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

// writeBook writes the book.
func writeBook(out io.Writer, uses map[string][]office.Use) error {
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
	}{Edition: rules.Edition, Bands: rules.Bands, Advices: rules.Advices, Cautions: rules.Cautions, Unread: rules.UnreadCites(),
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
	return bookTemplate.Execute(out, book)
}

var bookTemplate = template.Must(template.New("book").Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Larderlamp rule book, edition {{.Edition}}</title>
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
{{define "cites"}}<ul>{{range .}}<li>{{.}} {{if .Known.Found}}({{.Known}}){{else}}<span class="unread">{{.Known}}</span>{{end}}</li>{{end}}</ul>{{end}}
<h1>Larderlamp rule book</h1>
<p>Edition {{.Edition}}. A jar needs <b>support</b>: published guidance that lets it be kept or used soon. Every <b>restriction</b> that matches makes the advice at least as strict as it says; the strictest wins, and the order never matters. Without support a jar is discarded; <b>missing support</b> says why. A <b>note</b> explains a harmless look-alike. This book supports, and never replaces, local food-safety authorities and current published guidance.</p>
<nav>{{range .Parts}}<a href="#{{(index .Entries 0).ID}}">{{.Name}}</a>{{end}}<a href="#numbers">Numbers</a><a href="#questions">Questions</a><a href="#conditions">Foods with a condition</a><a href="#advice">Advice</a><a href="#unread">Not read in a source</a><a href="#copied">Read in a copy</a></nav>
{{range .Parts}}
<h2>{{.Name}}</h2>
{{range .Entries}}<article id="{{.ID}}">
<h3>{{.ID}}</h3>
<p class="kind">{{.Kind}}{{if .Then}}: {{.Then}}{{end}}</p>
<p>{{.Say}}</p>
<ul>{{range .Conditions}}<li>{{.Sign}}: {{range $i, $v := .Values}}{{if $i}}, or {{end}}{{$v}}{{end}}</li>{{end}}</ul>
{{template "cites" .Cites}}
{{if .Uses}}<p class="cases">Cases: {{range $i, $u := .Uses}}{{if $i}}; {{end}}<b>{{$u.ID}}</b> {{$u.Name}}{{end}}</p>{{end}}
<p class="pen">reviewed by, date, remark:</p>
</article>
{{end}}{{end}}
<h2 id="numbers">Numbers</h2>
{{range .Bands}}<article id="number.{{.ID}}"><h3>{{.ID}}</h3><p class="kind">{{.Unit}}</p><ul>{{range .Edges}}<li>{{.}}</li>{{end}}</ul>{{template "cites" .Cites}}<p class="pen">reviewed by, date, remark:</p></article>
{{end}}
<h2 id="questions">Questions</h2>
{{range .Questions}}<article id="question.{{.ID}}"><h3>{{.ID}}</h3><p><b>{{.Ask}}</b> {{.How}}</p><p>Why: {{.Why}}</p><ul>{{range .Values}}<li><b>{{.Label}}</b><br><small>A rule that uses this assumes: {{.Assumes}}.</small></li>{{end}}</ul>{{range .Wordings}}{{if .Ask}}<p>Or, when it is known to be {{range $i, $v := .When}}{{if $i}}, or {{end}}{{$v.Info.Label}}{{end}}: <b>{{.Ask}}</b> {{.How}}</p>{{end}}{{if .Labels}}<ul>{{range .Labels}}<li>{{.Label}}</li>{{end}}</ul>{{end}}{{end}}<p>Bears on:{{range .On}} <a href="#{{.ID}}">{{.ID}}</a> ({{index .Cites 0}}){{end}}</p></article>
{{end}}
<h2 id="conditions">Foods with a condition</h2>
<p>What has to be asked about a food for its published process to hold. Anything but "yes" leaves the jar without support.</p>
{{range .Foods}}<article id="condition.{{.ID}}"><h3>{{.ID}}</h3><p class="kind">{{.Name}}</p><p><b>{{.Condition.Ask}}</b></p><p>Why: {{.Condition.Why}}</p><ul><li>{{.Condition.OK}}</li><li>{{.Condition.Not}}</li></ul>{{template "cites" .Condition.Cites}}<p class="pen">reviewed by, date, remark:</p></article>
{{end}}
<h2 id="advice">Advice and cautions</h2>
{{range .Advices}}<article id="advice.{{.ID}}"><h3>{{.ID}}</h3><p class="kind">{{.Title}}</p><ol>{{range .Steps}}<li>{{.}}</li>{{end}}</ol>{{template "cites" .Cites}}<p class="pen">reviewed by, date, remark:</p></article>
{{end}}
{{range .Cautions}}<article id="caution.{{.ID}}"><h3>{{.ID}}</h3><p class="kind">{{.Title}}</p><ul>{{range .Lines}}<li>{{.}}</li>{{end}}</ul>{{template "cites" .Cites}}</article>
{{end}}
<h2 id="unread">Not read in a published source</h2>
<p>These are from memory, from common practice, or worked out from other facts.</p>
<table><tr><th>where</th><th>what</th><th>how it is known</th></tr>
{{range .Unread}}<tr><td>{{.Where}}</td><td>{{.Cite}}</td><td>{{.Cite.Known}}</td></tr>
{{end}}</table>
<h3>Published times that are from memory</h3>
<p>A time from memory can show that a jar fell short. It never shows that a jar was processed as published: for that, somebody has to find it in current published guidance.</p>
<table><tr><th>food, pack, jar and time</th><th>where it should stand</th></tr>
{{range .Recalled}}<tr><td>{{.What}}</td><td>{{.Cite.Source}}</td></tr>
{{end}}</table>
<h2 id="copied">Read in a copy</h2>
<p>These were read in a reprint or an archived copy, not at the publisher. They count as read; a reviewer may want to compare them with the original first.</p>
<table><tr><th>where</th><th>what</th></tr>
{{range .Copied}}<tr><td>{{.Where}}</td><td>{{.Cite}} ({{.Cite.Known}})</td></tr>
{{end}}{{range .Reprinted}}<tr><td>{{.What}}</td><td>{{.Cite}}</td></tr>
{{end}}</table>
</body>
</html>
`))
