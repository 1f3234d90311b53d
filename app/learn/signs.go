package learn

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/practice"
	"larderlamp/rules/prose"
)

// SignsPage shows dangers beside the harmless looks that resemble them. It can
// be browsed by sign, by product or by look.
type SignsPage struct {
	app.Compo
	House *house.House

	sign    string // id of the sign that is open
	product string // id of the product that is open
	query   string // in the search for a product or a look
	by      string // "", "product" or "look"
}

func (p *SignsPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/signs") {
		return
	}
	q := ui.Asked(ctx)
	p.sign, p.product, p.by, p.query = q.Get("sign"), q.Get("product"), q.Get("by"), ""
	if p.sign != "" || p.product != "" {
		ui.Focus(ctx, "title")
	}
}

func (p *SignsPage) Render() app.UI {
	if product, ok := rules.ProductByID(p.product); ok {
		return ui.Frame("/learn", p.ofProduct(product))
	}
	if id, ok := rules.SignByID(p.sign); ok {
		return ui.Frame("/learn", p.ofSign(id))
	}
	browse := p.bySign
	switch p.by {
	case "product":
		browse = p.byProduct
	case "look":
		browse = p.byLook
	}
	return ui.Frame("/learn",
		ui.Title("Signs, side by side"),
		ui.Txt("p", "lead", "Each danger beside the harmless look that is like it. Learn to tell them apart."),
		ui.Elem("nav", "tabs").Aria("label", ui.Local("Browse")).Body(
			p.way("", "By sign"), p.way("product", "By food"), p.way("look", "It looks like…"),
		),
		browse(),
	)
}

func (p *SignsPage) way(by string, name prose.Text) app.UI {
	a := ui.ToPage("", "/signs?by="+by).Text(ui.Local(name))
	if p.by == by {
		a = a.Aria("current", "true")
	}
	return a
}

// bySign lists the signs that have a danger, by chapter.
func (p *SignsPage) bySign() app.UI {
	var body []app.UI
	for c := rules.ChapterOutside; c <= rules.ChapterOpened; c++ {
		var signs []app.UI
		for i := range rules.Signs {
			if rules.Signs[i].Chapter == c && len(pairsOf(rules.SignID(i))) > 0 {
				signs = append(signs, ui.El("li", "", ui.Anchor("button plain", "/signs?sign="+rules.Signs[i].ID, rules.Signs[i].Name)))
			}
		}
		body = append(body, ui.Txt("h2", "", c.Text()), ui.El("ul", "chips", signs...))
	}
	return ui.El("div", "", body...)
}

// pairsOf lists the pairs whose danger is a value of the sign.
func pairsOf(id rules.SignID) (ps []*pair) {
	for i := range pairs {
		if pairs[i].danger.Sign() == id {
			ps = append(ps, &pairs[i])
		}
	}
	return
}

func (p *SignsPage) ofSign(id rules.SignID) app.UI {
	ps := pairsOf(id)
	info := id.Info()
	return ui.El("div", "",
		ui.Title(info.Name),
		ui.Txt("p", "lead", info.Why),
		ui.Only(info.How != "", func() app.UI { return ui.Txt("p", "", info.How) }),
		ui.El("div", "", ui.Each(len(ps), func(i int) app.UI { return ps[i].card() })...),
		ui.El("p", "row",
			ui.Anchor("button", "/practice?sign="+info.ID, "Practice this sign"),
			ui.Anchor("button plain", "/signs", "All signs"),
		),
	)
}

// byProduct finds a food that is known for harmless looks.
func (p *SignsPage) byProduct() app.UI {
	found := parts.Search(p.query, parts.MostShown)
	if p.query == "" {
		found = nil
		for i := range rules.Catalog {
			if len(rules.Catalog[i].Looks) > 0 {
				found = append(found, rules.Hit{Product: &rules.Catalog[i]})
			}
		}
	}
	return ui.El("div", "",
		p.search("Which food?", "peaches, dill pickles, stew…"),
		ui.Live("", ui.Only(len(found) == 0, func() app.UI { return ui.Txt("p", "", "We have nothing by that name.") })),
		ui.El("ul", "products", ui.Each(len(found), func(i int) app.UI {
			food := found[i].Product
			return ui.El("li", "", ui.ToPage("product", "/signs#product="+food.ID).Body(
				ui.Txt("span", "", food.Name), ui.Txt("small", "", ui.Count(len(food.Looks), "harmless look", "harmless looks")),
				ui.Only(len(found[i].NotCovered) > 0, func() app.UI { return ui.Txt("small", "lacks", parts.NotCovered(&found[i])) })))
		})...),
	)
}

func (p *SignsPage) search(label, hint prose.Text) app.UI {
	return ui.Field(label, ui.Input("search", p.query, hint).Attr("autocomplete", "off").
		On("input", func(ctx app.Context, e app.Event) { p.query = ui.Typed(ctx) }, app.EventScope(p.by)))
}

// ofProduct shows what a food is known for beside the danger it is mistaken for.
func (p *SignsPage) ofProduct(product *rules.Product) app.UI {
	return ui.El("div", "",
		ui.Title(product.Name),
		ui.Txt("p", "kind", prose.Upper(parts.ClassWords(product))),
		ui.Only(product.Caution != "", func() app.UI { return ui.Txt("p", "", product.Caution) }),
		ui.Only(len(product.Looks) == 0, func() app.UI {
			return ui.Txt("p", "", "No harmless look is known for this food. Whatever is odd about it counts as a danger.")
		}),
		ui.El("div", "", ui.Each(len(product.Looks), func(i int) app.UI { return lookCard(product, product.Looks[i]) })...),
		ui.El("p", "row",
			ui.Anchor("button", "/practice#product="+product.ID, "Practice on this food"),
			ui.Anchor("button plain", "/signs?by=product", "All foods"),
		),
	)
}

// byLook finds signs and looks by plain words.
func (p *SignsPage) byLook() app.UI {
	fits := func(texts ...prose.Text) bool {
		return strings.TrimSpace(p.query) != "" && rules.Holds(p.query, ui.Reader, texts...)
	}
	var lines []app.UI
	for i := range pairs {
		v := pairs[i].danger
		if fits(v.Sign().Info().Name, v.Info().Label, pairs[i].mate.Info().Label) {
			lines = append(lines, ui.El("li", "", ui.ToPage("product", "/signs?sign="+v.Sign().ID()).Body(
				ui.Txt("span", "", ui.Say("%s: %s", v.Sign().Info().Name, v.Info().Label)), ui.Txt("small", "", "danger, and what resembles it"))))
		}
	}
	for i := range rules.Catalog {
		for _, l := range rules.Catalog[i].Looks {
			if len(lines) < 60 && fits(l.Looks, rules.Catalog[i].Name) {
				lines = append(lines, ui.El("li", "", ui.ToPage("product", "/signs#product="+rules.Catalog[i].ID).Body(
					ui.Txt("span", "", l.Looks), ui.Txt("small", "", rules.Catalog[i].Name))))
			}
		}
	}
	return ui.El("div", "",
		p.search("It looks like…", "white crystals, pink, cloudy, film…"),
		ui.Live("", ui.Only(len(strings.Fields(p.query)) > 0 && len(lines) == 0, func() app.UI {
			return ui.Txt("p", "", "No sign is described like that. Try one plain word. What you cannot place counts as a danger.")
		})),
		ui.El("ul", "products", lines...),
	)
}

// foodsShown are tried first when a look is to be shown, because everybody
// knows them.
var foodsShown = []string{"peaches", "dill-pickles", "green-beans", "chicken", "beef", "tomatoes-whole"}

// isLow reports whether the food is not clearly acid, so that the botulism germ
// may be able to grow in it.
func isLow(p *rules.Product) bool {
	return p.Class == rules.ClassLow || p.Class == rules.ClassBorderline
}

// examples returns an acid food and one that is not, on which a value is the
// danger or the look-alike; nil where there is none.
func examples(v rules.Value, harmless bool) (acid, low *rules.Product) {
	fact, some := trait(v)
	fits := func(p *rules.Product) bool {
		j, err := practice.Sound(p, v)
		return err == nil && p.Processed() && (j.Verdict != rules.Discard) == harmless && (!some || !harmless || p.LookAlikeFor(fact) != nil)
	}
	take := func(p *rules.Product) {
		at := &acid
		if isLow(p) {
			at = &low
		}
		if *at == nil && fits(p) {
			*at = p
		}
	}
	for _, id := range foodsShown {
		p, _ := rules.ProductByID(id)
		take(p)
	}
	for i := range rules.Catalog {
		take(&rules.Catalog[i])
	}
	return
}

// firstOf is the one that exists.
func firstOf(a, b *rules.Product) *rules.Product {
	if a != nil {
		return a
	}
	return b
}

// card shows the pair.
func (p *pair) card() app.UI {
	id := p.danger.Sign()
	dAcid, dLow := examples(p.danger, false)
	mAcid, mLow := examples(p.mate, true)
	danger, mate := firstOf(dLow, dAcid), firstOf(mLow, mAcid)
	if specimenVerdict(mate, p.danger) == rules.Discard {
		danger = mate // two jars of one food are told apart more easily
	}
	_, some := trait(p.mate)
	// When the look is the same, only the food distinguishes them: name the food, and don't
	// repeat the look.
	same := p.danger == p.mate
	return ui.Elem("article", "card pair").ID("pair."+id.ID()+"."+p.danger.ID()).Body(
		ui.Txt("h2", "", p.danger.Info().Label),
		ui.Only(parts.HasPictures(id), func() app.UI {
			return ui.El("div", "specimens",
				verdictFigure(danger, "d-"+id.ID()+"-"+p.danger.ID(), "Danger", same, p.danger),
				verdictFigure(mate, "m-"+id.ID()+"-"+p.danger.ID(), "Resembles it", same, p.mate),
			)
		}),
		ui.El("p", "tell-apart", ui.Txt("strong", "", "What tells them apart: "), ui.Prose(p.tell)),
		p.meanings(dAcid, dLow, mAcid, mLow),
		pairSources(p, dAcid, dLow, mAcid, mLow),
		ui.Only(some, func() app.UI { return foods(p.mate) }),
	)
}

// meanings is the table of what the rules make of both looks, for an acid food and
// for one that is not.
func (p *pair) meanings(dAcid, dLow, mAcid, mLow *rules.Product) app.UI {
	danger, tested, untested := p.danger.Info().Label, ui.Say("%s, tested process", p.mate.Info().Label), ui.Say("%s, process not shown", p.mate.Info().Label)
	switch _, some := trait(p.mate); {
	case p.danger == p.mate:
		danger, tested, untested = "On other food", "On food known for it, tested process", "On food known for it, process not shown"
	case some:
		tested, untested = ui.Say("%s, on food known for it, tested process", p.mate.Info().Label), ui.Say("%s, on food known for it, process not shown", p.mate.Info().Label)
	}
	return ui.El("table", "means",
		ui.El("caption", "", ui.Prose("What it means, if nothing else is odd")),
		ui.El("thead", "", ui.El("tr", "", ui.Txt("th", "", "Acid food"), ui.Txt("th", "", "Food that is not plainly acid"))),
		meaningRow(danger, "no danger by itself", dAcid, dLow, p.danger),
		meaningRow(tested, "no such food is known for it", mAcid, mLow, p.mate),
		meaningRow(untested, "no such food is known for it", mAcid, mLow, p.mate, rules.ProcessUntold),
	)
}

// meaningRow says what the rules make of one look for an acid food and for one that
// is not. The look has a line of its own, or it would be a column of single words
// on a phone.
func meaningRow(label, none prose.Text, acid, low *rules.Product, shows ...rules.Value) app.UI {
	cell := func(p *rules.Product) app.UI {
		if p == nil {
			return ui.Txt("td", "", none)
		}
		return ui.El("td", "", parts.VerdictWord(specimenJar(p.ID, shows...).Verdict), ui.Txt("small", "", p.Name))
	}
	return ui.El("tbody", "",
		ui.El("tr", "", ui.Elem("th", "").Attr("scope", "rowgroup").Attr("colspan", 2).Text(ui.Local(label))),
		ui.El("tr", "", cell(acid), cell(low)))
}

// verdictFigure is a jar with the verdict in words below it. What it shows is named
// unless only the food matters.
func verdictFigure(p *rules.Product, id string, what prose.Text, food bool, shows ...rules.Value) app.UI {
	j := specimenJar(p.ID, shows...)
	named := []app.UI{ui.Txt("strong", "", p.Name)}
	if !food {
		named = []app.UI{ui.Txt("strong", "", shows[0].Info().Label), ui.Txt("span", "", p.Name)}
	}
	return ui.El("figure", "specimen "+parts.VerdictClass(j.Verdict),
		ui.El("div", "jar-box still", app.Raw(parts.JarPicture(p, j.Situation, 0, draw.Options{Prefix: id, Plain: true}))),
		ui.El("figcaption", "", append(append([]app.UI{ui.Txt("small", "", what)}, named...), parts.VerdictWord(j.Verdict))...),
	)
}

// pairSources lists the rules about either look, with their sources.
func pairSources(p *pair, products ...*rules.Product) app.UI {
	var ids []string
	for i, product := range products {
		if product == nil {
			continue
		}
		v := p.danger
		if i > 1 {
			v = p.mate
		}
		j := specimenJar(product.ID, v)
		t := rules.Explain(j.Situation)
		for _, l := range append(t.Deciding, t.Also...) {
			for _, shown := range l.Shown {
				if shown == v && !slices.Contains(ids, l.Rule.ID) {
					ids = append(ids, l.Rule.ID)
				}
			}
		}
	}
	return rulesSaid(ids)
}

// foods lists the foods that are known for a look, with its cause.
func foods(v rules.Value) app.UI {
	fact, _ := trait(v)
	var looks []*rules.LookAlike
	names := map[*rules.LookAlike][]prose.Text{}
	for i := range rules.Catalog {
		if l := rules.Catalog[i].LookAlikeFor(fact); l != nil {
			if names[l] == nil {
				looks = append(looks, l)
			}
			names[l] = append(names[l], rules.Catalog[i].Name)
		}
	}
	return ui.Fold("", "Foods that are known for it", ui.El("ul", "reasons", ui.Each(len(looks), func(i int) app.UI {
		l := looks[i]
		return parts.WithSource(prose.List(names[l], ", "), ui.Say("%s: %s Not harmless if: %s", l.Looks, l.Cause, l.Flip), l.Cites, nil)
	})...))
}

// lookCard shows a harmless look of a food beside the danger it is mistaken for.
func lookCard(p *rules.Product, l *rules.LookAlike) app.UI {
	seen, mistaken := parts.LooksLike(p, l)
	unshown := specimenVerdict(p, append(slices.Clone(seen), rules.ProcessUntold)...)
	return ui.Elem("article", "card pair").ID("look."+l.Trait.Sign().ID()).Body(
		ui.Txt("h2", "", l.Looks),
		ui.El("div", "specimens",
			verdictFigure(p, "h-"+l.Trait.Sign().ID(), "Known for it", false, seen...),
			verdictFigure(p, "f-"+l.Trait.Sign().ID(), "Mistaken for it", false, mistaken...),
		),
		ui.El("ul", "reasons", parts.WithSource(l.Cause, ui.Say("Not harmless if: %s", l.Flip), l.Cites, nil)),
		ui.Only(unshown != 0, func() app.UI {
			return ui.El("p", "", ui.Prose("The same look, but the process is not shown: "), parts.VerdictWord(unshown))
		}),
		ui.El("p", "", ui.Anchor("", "/signs?sign="+seen[0].Sign().ID(), "More on this sign")),
	)
}

// specimenVerdict is the verdict of the rules for the look, or 0 where no jar
// of the food shows it.
func specimenVerdict(p *rules.Product, shows ...rules.Value) rules.Verdict {
	j, err := practice.Sound(p, shows...)
	if err != nil {
		return 0
	}
	return j.Verdict
}
