package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/batch"
	"larderlamp/app/check"
	"larderlamp/app/house"
	"larderlamp/app/learn"
	"larderlamp/app/office"
	"larderlamp/app/shelf"
	"larderlamp/app/sweep"
	"larderlamp/app/trip"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// Describe says in one sentence what the app is for.
const Describe prose.Text = "Hold a home-canned jar up to the light and say what you see. Learn whether to keep it, use it soon or discard it safely. Works without a connection; nothing leaves your device unless you share your shelf."

// pages lists every page: its path, the title of its tab, and the page itself.
var pages = []struct {
	path  string
	title prose.Text
	make  func(*house.House) app.Composer
}{
	{"/", "Is this jar safe?", func(h *house.House) app.Composer { return &shelf.HomePage{House: h} }},
	{"/check", "Check a jar", func(h *house.House) app.Composer { return &check.Page{House: h} }},
	{"/history", "Earlier checks", func(h *house.House) app.Composer { return &check.HistoryPage{House: h} }},
	{"/about", "Cautions and limits", func(h *house.House) app.Composer { return &office.AboutPage{House: h} }},
	{"/shell", "Opening", func(h *house.House) app.Composer { return &shelf.ShellPage{House: h} }},
	{"/shelf", "The shelf", func(h *house.House) app.Composer { return &shelf.Page{House: h} }},
	{"/jar", "A jar", func(h *house.House) app.Composer { return &shelf.JarPage{House: h} }},
	{"/batch", "A batch", func(h *house.House) app.Composer { return &batch.Page{House: h} }},
	{"/many", "Enter many at once", func(h *house.House) app.Composer { return &batch.ManyPage{House: h} }},
	{"/places", "Places", func(h *house.House) app.Composer { return &shelf.PlacesPage{House: h} }},
	{"/labels", "Labels", func(h *house.House) app.Composer { return &office.LabelsPage{House: h} }},
	{"/stock", "What you have", func(h *house.House) app.Composer { return &shelf.StockPage{House: h} }},
	{"/keeping", "Backups", func(h *house.House) app.Composer { return &office.KeepingPage{House: h} }},
	{"/share", "Share the shelf", func(h *house.House) app.Composer { return &office.SharePage{House: h} }},
	{"/learn", "Learn to read a jar", func(h *house.House) app.Composer { return &learn.Page{House: h} }},
	{"/signs", "Signs, side by side", func(h *house.House) app.Composer { return &learn.SignsPage{House: h} }},
	{"/practice", "Practice", func(h *house.House) app.Composer { return &learn.PracticePage{House: h} }},
	{"/class", "For a class", func(h *house.House) app.Composer { return &learn.ClassPage{House: h} }},
	{"/rules", "Rule book", func(h *house.House) app.Composer { return &office.RulesPage{House: h} }},
	{"/notices", "Notices", func(h *house.House) app.Composer { return &office.NoticesPage{House: h} }},
	{"/sweep", "The sweep", func(h *house.House) app.Composer { return &sweep.Page{House: h} }},
	{"/trip", "What travels", func(h *house.House) app.Composer { return &trip.Page{House: h} }},
}

// Pages lists the paths of the pages.
func Pages() []string {
	paths := make([]string, len(pages))
	for i := range pages {
		paths[i] = pages[i].path
	}
	return paths
}

// Register registers every page. The prefix is the folder the site is published
// under, without a slash at the end. All pages share one household.
func Register(sitePrefix string) {
	ui.Prefix = sitePrefix
	ui.Offered = ui.Languages()
	ui.Speak(ui.Spoken())
	titles := map[string]prose.Text{}
	for i := range pages {
		titles[pages[i].path] = pages[i].title
	}
	house := house.New(titles)
	for i := range pages {
		app.Route(pages[i].path, func() app.Composer { return pages[i].make(house) })
	}
	// go-app has its own page for this, which can't be replaced.
	app.RouteWithRegexp("^/.*", func() app.Composer { return &shelf.MissingPage{House: house} })
	house.ListenForLanguage()
	house.ListenForBack()
	house.ListenForSameAddress()
	house.ListenForChanges()
	house.ShareAgain()
}
