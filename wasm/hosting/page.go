package hosting

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"html/template"
	"path"
	"slices"
	"strconv"
	"strings"

	"larderlamp/rules/prose"
)

// policy is what a page may load: files of its own site, the style and the script
// that it carries, and pictures it made itself. WebAssembly needs 'wasm-unsafe-eval'. In
// browsers that know Trusted Types no text becomes markup or a script but through
// static/trusted.js.
func policy(a App) string {
	style := a.firstStyle()
	script := "'" + digestOf([]byte(a.waitScript())) + "' '" + digestOf([]byte(firstScript)) + "'"
	if len(a.Languages) > 0 {
		script += " '" + digestOf([]byte(languageScript)) + "'"
	}
	return "default-src 'none'; script-src 'self' " + script + " 'wasm-unsafe-eval'; style-src 'self' '" + digestOf([]byte(style)) + "'; img-src 'self' blob: data:; " +
		"connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; " +
		"require-trusted-types-for 'script'; trusted-types default"
}

// head is all of a page but its title and its body.
type head struct {
	Policy, Describe, Theme string
	Name                    string
	Languages               string
	WaitScript              template.JS
	LanguageScript          template.JS
	FirstStyle              template.CSS
	FirstScript             template.JS
	Prefix                  string
	Starts                  []start
	Program                 part
	Size                    int
	Script                  part
	Style                   *part
	Environment             string
	Early                   []early
}

// part is a file that a page needs, and the digest that the browser holds it to:
// nothing is used of a damaged file, of one from another edition or of another
// site's page in its place.
type part struct {
	Address string `json:"address"`
	Digest  string `json:"digest"`
}

func (s *Site) part(address string) part {
	return part{s.prefix + address, digestOf(s.files[address].body)}
}

// head says what every page of the site needs. The environment is what the
// program of go-app asks its page for.
func (s *Site) head(a App, environment map[string]string) (head, error) {
	h := head{
		Name:   a.Name,
		Policy: s.policy, Describe: a.Describe, Theme: themeColor, FirstStyle: template.CSS(a.firstStyle()), WaitScript: template.JS(a.waitScript()), FirstScript: firstScript, LanguageScript: languageScript,
		Prefix: s.prefix, Program: s.part(programFile), Size: len(a.Program), Script: s.part(scriptFile),
	}
	if s.files[styleFile] != nil {
		style := s.part(styleFile)
		h.Style = &style
	}
	for _, f := range s.sorted() {
		if path.Dir(f.path) == "/static/start" {
			from := start{Address: s.prefix + f.path}
			if n, err := fmt.Sscanf(path.Base(f.path), "%dx%d@%d.png", &from.Width, &from.Height, &from.Ratio); n == 3 && err == nil {
				h.Starts = append(h.Starts, from)
			}
		}
	}
	env, err := json.Marshal(environment)
	if err != nil {
		return head{}, fmt.Errorf("environment: %w", err)
	}
	h.Environment = string(env)
	if h.Languages, err = s.offers(a); err != nil {
		return head{}, fmt.Errorf("languages: %w", err)
	}
	h.Early, err = earlyIn(a)
	return h, err
}

// start is the image that an iPhone or iPad of one size shows until the first
// page is there.
type start struct {
	Width, Height, Ratio int
	Address              string
}

const (
	// notYet stays on the screen when the rest of the notice is scrolled away.
	notYet prose.Text = "No jar can be checked on this page yet. What to do"
	// loading labels the strip at the bottom until the program runs.
	loading prose.Text = "Loading"
	// noScript is what a page says where scripts are switched off.
	noScript prose.Text = "Checking a jar needs scripts, and they are switched off. The rest of this page works without."
)

// firstScript asks the worker for the program before the rest of the page has
// come. A page that can be answered without the program is shown first, and has no
// such script: static/program.js asks a little later. The worker says which digest
// it has found the program to have.
const firstScript template.JS = `
if (navigator.serviceWorker?.controller) {
  const { wasm, digest } = document.documentElement.dataset;
  window.larderProgram = fetch(wasm).then((answer) => {
    if (answer.headers.get("Larder-Digest") === digest) {
      return WebAssembly.compileStreaming(answer);
    }
    answer.body?.cancel();
    throw new Error("another program");
  });
  window.larderProgram.catch(() => {});
}
`

// pageTemplate is the document around a prerendered page.
//
// The program puts its page in the place of the first element of the body, which
// is the notice for the case that it never comes; static/load.js then takes away
// what was prerendered. The notice and its style come before everything that has
// to be fetched. The style sheet is linked below it, because browsers show
// nothing that follows a style sheet which does not arrive.
var pageTemplate = template.Must(template.New("page").Parse(`<!doctype html>
<html lang="en" data-env="{{.Environment}}" data-wasm="{{.Program.Address}}" data-digest="{{.Program.Digest}}" data-bytes="{{.Size}}"{{if .Style}} data-styled{{end}}{{with .Languages}} data-languages="{{.}}"{{end}}>
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{{.Policy}}">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<script>{{.WaitScript}}</script>
{{if .Languages}}<script>{{.LanguageScript}}</script>
{{end}}{{if not .Asks}}<script>{{.FirstScript}}</script>
{{end}}<title>{{.Title}}</title>
<style>{{.FirstStyle}}</style>
{{with .Style}}<link rel="preload" as="style" href="{{.Address}}" integrity="{{.Digest}}">
{{end}}<script async src="{{.Script.Address}}" integrity="{{.Script.Digest}}"></script>
<meta name="description" content="{{.Describe}}">
<meta name="referrer" content="no-referrer">
<meta name="theme-color" content="{{.Theme}}">
<meta name="mobile-web-app-capable" content="yes">
<meta name="apple-mobile-web-app-capable" content="yes">
<meta name="apple-mobile-web-app-status-bar-style" content="black-translucent">
<meta name="apple-mobile-web-app-title" content="{{.Name}}">
<link rel="manifest" href="{{.Prefix}}/manifest.webmanifest">
<link rel="icon" type="image/svg+xml" href="{{.Prefix}}/static/icons/mark.svg">
<link rel="icon" type="image/png" sizes="192x192" href="{{.Prefix}}/static/icons/icon-192.png">
<link rel="apple-touch-icon" href="{{.Prefix}}/static/icons/apple-180.png">
{{range .Starts}}<link rel="apple-touch-startup-image" media="(device-width: {{.Width}}px) and (device-height: {{.Height}}px) and (-webkit-device-pixel-ratio: {{.Ratio}})" href="{{.Address}}">
{{end}}</head>
<body>
<section id="unready" class="unready" role="alert">{{range .Early}}<div lang="{{.Language}}">
<noscript><p>{{.NoScript}}</p></noscript>
{{.Unready}}
</div>{{end}}</section>
<p class="unready unready-line">{{range .Early}}<a lang="{{.Language}}" href="#unready">{{.NotYet}}</a> {{end}}</p>
{{with .Style}}<link rel="stylesheet" href="{{.Address}}" integrity="{{.Digest}}">
{{end}}<div id="before">
{{.Body}}
</div>
<aside id="app-wasm-loader" class="loading" aria-label="{{(index .Early 0).Loading}}">
<p id="app-wasm-loader-label"></p>
</aside>
</body>
</html>
`))

// page takes the title and the content out of a document prerendered by go-app
// and puts them into our own.
func (h head) page(prerendered string) ([]byte, error) {
	document, err := canonical(prerendered)
	if err != nil {
		return nil, err
	}
	title, err := between(document, "<title>", "</title>")
	if err != nil {
		return nil, err
	}
	body, err := between(document, "<body>", "</body>")
	if err != nil {
		return nil, err
	}
	loader := strings.LastIndex(body, "<aside ")
	if loader < 0 {
		return nil, errors.New("no loader in the prerendered page")
	}
	var page bytes.Buffer
	err = pageTemplate.Execute(&page, struct {
		head
		Title string
		Asks  bool // there is something to answer before the program runs
		Body  template.HTML
	}{h, html.UnescapeString(title), strings.Contains(body, `class="picker"`), template.HTML(strings.TrimSpace(body[:loader]))})
	return page.Bytes(), err
}

func between(s, open, end string) (string, error) {
	_, s, found := strings.Cut(s, open)
	inner, _, ended := strings.Cut(s, end)
	if !found || !ended {
		return "", fmt.Errorf("no %s in the prerendered page", open)
	}
	return inner, nil
}

// canonical writes the start tags of a document afresh. go-app gives attributes
// in random order, quotes their values as Go does and drops the value "true",
// without which an aria attribute says nothing. Here they are sorted, escaped
// as HTML, and aria attributes keep their value. Lines and indents that go-app puts
// between tags are left out: the program draws none, they would be shown as spaces,
// and half of what a browser reads would be nothing else.
func canonical(document string) (string, error) {
	var out strings.Builder
	open := 0 // elements
	rest := document
	for {
		text, tag, found := strings.Cut(rest, "<")
		out.WriteString(unindented(text, 2*open))
		if !found {
			return out.String(), nil
		}
		out.WriteByte('<')
		if tag == "" || !letter(tag[0]) {
			// An end tag or the document type.
			end, after, ended := strings.Cut(tag, ">")
			out.WriteString(end)
			if ended {
				out.WriteByte('>')
			}
			if name, is := strings.CutPrefix(end, "/"); is && !slices.Contains(void, name) {
				open--
			}
			rest = after
			continue
		}
		name, _ := upTo(tag, " \t\r\n/>")
		var err error
		if rest, err = startTag(&out, tag); err != nil {
			return "", fmt.Errorf("at byte %d: %w", len(document)-len(tag), err)
		}
		if !slices.Contains(void, name) && !strings.HasSuffix(tag[:len(tag)-len(rest)], "/>") {
			open++
		}
	}
}

// void are the elements that have no content, and so no end tag.
var void = []string{"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}

// unindented returns what stands between two tags without the line and the indent that
// go-app writes in front of it, and the line that it writes behind it.
func unindented(text string, indent int) string {
	if line, is := strings.CutPrefix(text, "\n"); is {
		text = line[min(indent, len(line)-len(strings.TrimLeft(line, " "))):]
	}
	if line := strings.TrimRight(text, " "); strings.HasSuffix(line, "\n") {
		text = strings.TrimSuffix(line, "\n")
	}
	return text
}

func letter(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' }

// startTag writes one start tag, without its "<", and returns what follows it.
func startTag(out *strings.Builder, tag string) (rest string, err error) {
	const space = " \t\r\n"
	name, tag := upTo(tag, space+"/>")
	out.WriteString(name)

	var attributes []string
	for tag = strings.TrimLeft(tag, space); tag != "" && tag[0] != '/' && tag[0] != '>'; tag = strings.TrimLeft(tag, space) {
		name, tag = upTo(tag, space+"=/>")
		quoted, valued := strings.CutPrefix(tag, "=")
		switch {
		case valued:
			if quoted, err = strconv.QuotedPrefix(quoted); err != nil {
				return "", fmt.Errorf("attribute %s: %w", name, err)
			}
			text, err := strconv.Unquote(quoted)
			if err != nil {
				return "", fmt.Errorf("attribute %s: %w", name, err)
			}
			tag = tag[len("=")+len(quoted):]
			// Markup drawn by ourselves is escaped already.
			name += `="` + html.EscapeString(html.UnescapeString(text)) + `"`
		case strings.HasPrefix(name, "aria-"):
			name += `="true"`
		}
		attributes = append(attributes, name)
	}
	slices.Sort(attributes)
	for _, a := range attributes {
		out.WriteString(" " + a)
	}
	end, rest, found := strings.Cut(tag, ">")
	if !found || end != "" && end != "/" {
		return "", fmt.Errorf("tag %s has no end", name)
	}
	out.WriteString(end + ">")
	return rest, nil
}

// upTo cuts a string before the first of some characters.
func upTo(s, any string) (before, rest string) {
	if i := strings.IndexAny(s, any); i >= 0 {
		return s[:i], s[i:]
	}
	return s, ""
}
