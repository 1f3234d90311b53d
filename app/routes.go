package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Name is the product's name.
const Name = "Larderlamp"

// Describe says in one sentence what the app is for.
const Describe = "Hold a home-canned jar up to the light, say what you see, and learn whether to keep it, use it soon or discard it safely. Works without a connection; nothing leaves your device."

// pages lists every page: its path, the title of its tab and its component.
var pages = []struct {
	path, title string
	page        func(*household) app.Composer
}{
	{"/", "Is this jar safe?", func(*household) app.Composer { return &homePage{} }},
	{"/check", "Check a jar", func(h *household) app.Composer { return &checkPage{house: h} }},
	{"/history", "Earlier checks", func(h *household) app.Composer { return &historyPage{house: h} }},
	{"/rules", "Rule book", func(*household) app.Composer { return &rulesPage{} }},
	{"/about", "Cautions and limits", func(*household) app.Composer { return &aboutPage{} }},
	{"/shell", "Opening", func(*household) app.Composer { return &shellPage{} }},
}

// tabTitle sets the title of the tab of the page at the path.
func tabTitle(ctx app.Context, path string) {
	for _, p := range pages {
		if p.path == path {
			ctx.Page().SetTitle(p.title + " · " + Name)
		}
	}
}

// prefix is the folder the site is published under, such as "/larder", or "".
var prefix string

// Register registers every page. The prefix is the folder the site is
// published under, without a slash at the end.
func Register(sitePrefix string) {
	prefix = sitePrefix
	house := newHousehold()
	for _, p := range pages {
		app.Route(p.path, func() app.Composer { return p.page(house) })
	}
	// go-app has a page of its own for this, which cannot be replaced.
	app.RouteWithRegexp("^/.*", func() app.Composer { return &missingPage{} })
}

// Pages lists the paths of the pages to prerender.
func Pages() (paths []string) {
	for _, p := range pages {
		paths = append(paths, p.path)
	}
	return
}

// link is the address of a page below the folder the site is published under.
func link(path string) string { return prefix + path }
