package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules/locale"
)

// Name is the product's name.
const Name = "Larderlamp"

// Describe says in one sentence what the app is for.
const Describe = "Hold a home-canned jar up to the light, say what you see, and learn whether to keep it, use it soon or discard it safely. Works without a connection; nothing leaves your device."

// pages lists every page: its path, the title of its tab, and the page itself.
var pages = []struct {
	path, title string
	make        func(*household) app.Composer
}{
	{"/", "Is this jar safe?", func(h *household) app.Composer { return &homePage{house: h} }},
	{"/check", "Check a jar", func(h *household) app.Composer { return &checkPage{house: h} }},
	{"/history", "Earlier checks", func(h *household) app.Composer { return &historyPage{house: h} }},
	{"/about", "Cautions and limits", func(h *household) app.Composer { return &aboutPage{house: h} }},
	{"/shell", "Opening", func(h *household) app.Composer { return &shellPage{house: h} }},
	{"/shelf", "The shelf", func(h *household) app.Composer { return &shelfPage{house: h} }},
	{"/jar", "A jar", func(h *household) app.Composer { return &jarPage{house: h} }},
	{"/batch", "A batch", func(h *household) app.Composer { return &batchPage{house: h} }},
	{"/many", "Enter many at once", func(h *household) app.Composer { return &manyPage{house: h} }},
	{"/places", "Places", func(h *household) app.Composer { return &placesPage{house: h} }},
	{"/labels", "Labels", func(h *household) app.Composer { return &labelsPage{house: h} }},
	{"/stock", "What you have", func(h *household) app.Composer { return &stockPage{house: h} }},
	{"/keeping", "Backups", func(h *household) app.Composer { return &keepingPage{house: h} }},
	{"/learn", "Learn to read a jar", func(h *household) app.Composer { return &learnPage{house: h} }},
	{"/signs", "Signs, side by side", func(h *household) app.Composer { return &signsPage{house: h} }},
	{"/practice", "Practice", func(h *household) app.Composer { return &practicePage{house: h} }},
	{"/class", "For a class", func(h *household) app.Composer { return &classPage{house: h} }},
	{"/rules", "Rule book", func(h *household) app.Composer { return &rulesPage{house: h} }},
	{"/notices", "Notices", func(h *household) app.Composer { return &noticesPage{house: h} }},
	{"/sweep", "The sweep", func(h *household) app.Composer { return &sweepPage{house: h} }},
	{"/trip", "What travels", func(h *household) app.Composer { return &tripPage{house: h} }},
}

// Pages lists the paths of the pages.
func Pages() []string {
	paths := make([]string, len(pages))
	for i := range pages {
		paths[i] = pages[i].path
	}
	return paths
}

// prefix is the folder the site is published under, such as "/larder", or "".
var prefix string

// link is the address of a page below the folder the site is published under.
func link(path string) string { return prefix + path }

// Register registers every page. The prefix is the folder the site is published
// under, without a slash at the end. All pages share one household.
func Register(sitePrefix string) {
	prefix = sitePrefix
	locale.Use(spoken())
	titles := map[string]string{}
	for i := range pages {
		titles[pages[i].path] = pages[i].title
	}
	house := newHousehold(titles)
	for i := range pages {
		app.Route(pages[i].path, func() app.Composer { return pages[i].make(house) })
	}
	// go-app has a page of its own for this, which cannot be replaced.
	app.RouteWithRegexp("^/.*", func() app.Composer { return &missingPage{house: house} })
	house.hearBack()
	house.hearOfChange()
}
