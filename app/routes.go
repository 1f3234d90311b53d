package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules/locale"
)

// Name is the product's name.
const Name = "Larderlamp"

// Describe says in one sentence what the app is for.
const Describe = "Hold a home-canned jar up to the light, say what you see, and learn whether to keep it, use it soon or discard it safely. Works without a connection; nothing leaves your device."

// The programs of the site. Each holds the screens of one use, so that nobody
// waits for screens that are not wanted: in a cellar the check has to start at
// once. They share the store.
const (
	ProgramCheck  = "app"
	ProgramLarder = "larder"
	ProgramDesk   = "desk"
	ProgramOffice = "office"
	ProgramLearn  = "learn"
	ProgramSweep  = "sweep"
	ProgramTrip   = "trip"
)

// pages lists every page: its path, the title of its tab and its program.
var pages = []struct{ path, title, program string }{
	{"/", "Is this jar safe?", ProgramCheck},
	{"/check", "Check a jar", ProgramCheck},
	{"/history", "Earlier checks", ProgramCheck},
	{"/about", "Cautions and limits", ProgramCheck},
	{"/shell", "Opening", ProgramCheck},
	{"/shelf", "The shelf", ProgramLarder},
	{"/jar", "A jar", ProgramLarder},
	{"/batch", "A batch", ProgramDesk},
	{"/many", "Enter many at once", ProgramDesk},
	{"/places", "Places", ProgramDesk},
	{"/labels", "Labels", ProgramOffice},
	{"/stock", "What there is", ProgramOffice},
	{"/keeping", "Safe keeping", ProgramOffice},
	{"/learn", "Learn to read a jar", ProgramLearn},
	{"/signs", "Signs, side by side", ProgramLearn},
	{"/practice", "Practise", ProgramLearn},
	{"/class", "For a class", ProgramLearn},
	{"/rules", "Rule book", ProgramLearn},
	{"/sweep", "The sweep", ProgramSweep},
	{"/trip", "What travels", ProgramTrip},
}

// routes makes the pages of a program. It is a type of its own so that each
// program holds only its own.
type routes map[string]func(*household) app.Composer

func checkRoutes() routes {
	return routes{
		"/":        func(*household) app.Composer { return &homePage{} },
		"/check":   func(h *household) app.Composer { return &checkPage{house: h} },
		"/history": func(h *household) app.Composer { return &historyPage{house: h} },
		"/about":   func(*household) app.Composer { return &aboutPage{} },
		"/shell":   func(*household) app.Composer { return &shellPage{} },
	}
}

func larderRoutes() routes {
	return routes{
		"/shelf": func(h *household) app.Composer { return &shelfPage{house: h} },
		"/jar":   func(h *household) app.Composer { return &jarPage{house: h} },
	}
}

func deskRoutes() routes {
	return routes{
		"/batch":  func(h *household) app.Composer { return &batchPage{house: h} },
		"/places": func(h *household) app.Composer { return &placesPage{house: h} },
		"/many":   func(h *household) app.Composer { return &manyPage{house: h} },
	}
}

func officeRoutes() routes {
	return routes{
		"/labels":  func(h *household) app.Composer { return &labelsPage{house: h} },
		"/stock":   func(h *household) app.Composer { return &stockPage{house: h} },
		"/keeping": func(h *household) app.Composer { return &keepingPage{house: h} },
	}
}

func learnRoutes() routes {
	return routes{
		"/learn":    func(*household) app.Composer { return &learnPage{} },
		"/signs":    func(*household) app.Composer { return &signsPage{} },
		"/practice": func(*household) app.Composer { return &practicePage{} },
		"/class":    func(*household) app.Composer { return &classPage{} },
		"/rules":    func(*household) app.Composer { return &rulesPage{} },
	}
}

func sweepRoutes() routes {
	return routes{
		"/sweep": func(h *household) app.Composer { return &sweepPage{house: h} },
	}
}

func tripRoutes() routes {
	return routes{
		"/trip": func(h *household) app.Composer { return &tripPage{house: h} },
	}
}

// tabTitle sets the title of the tab of the page at the path.
func tabTitle(ctx app.Context, path string) {
	for _, p := range pages {
		if p.path == path {
			ctx.Page().SetTitle(say("%s · %s", p.title, Name))
		}
	}
}

// prefix is the folder the site is published under, such as "/larder", or "".
var prefix string

// register registers the pages of a program. The prefix is the folder the site
// is published under, without a slash at the end.
func register(sitePrefix string, all ...routes) {
	prefix = sitePrefix
	locale.Use(spoken())
	house := newHousehold()
	for _, rs := range all {
		for path, page := range rs {
			app.Route(path, func() app.Composer { return page(house) })
		}
	}
	// go-app has a page of its own for this, which cannot be replaced.
	app.RouteWithRegexp("^/.*", func() app.Composer { return &missingPage{} })
}

// RegisterCheck registers the pages of [ProgramCheck].
func RegisterCheck(sitePrefix string) { register(sitePrefix, checkRoutes()) }

// RegisterLarder registers the pages of [ProgramLarder].
func RegisterLarder(sitePrefix string) { register(sitePrefix, larderRoutes()) }

// RegisterDesk registers the pages of [ProgramDesk].
func RegisterDesk(sitePrefix string) { register(sitePrefix, deskRoutes()) }

// RegisterOffice registers the pages of [ProgramOffice].
func RegisterOffice(sitePrefix string) { register(sitePrefix, officeRoutes()) }

// RegisterLearn registers the pages of [ProgramLearn].
func RegisterLearn(sitePrefix string) { register(sitePrefix, learnRoutes()) }

// RegisterSweep registers the pages of [ProgramSweep].
func RegisterSweep(sitePrefix string) { register(sitePrefix, sweepRoutes()) }

// RegisterTrip registers the pages of [ProgramTrip].
func RegisterTrip(sitePrefix string) { register(sitePrefix, tripRoutes()) }

// Register registers every page, for prerendering.
func Register(sitePrefix string) {
	register(sitePrefix, checkRoutes(), larderRoutes(), deskRoutes(), officeRoutes(), learnRoutes(), sweepRoutes(), tripRoutes())
}

// Programs lists the programs, the one to start with first.
func Programs() (names []string) {
	for _, p := range pages {
		if len(names) == 0 || names[len(names)-1] != p.program {
			names = append(names, p.program)
		}
	}
	return append(names, JudgeProgram)
}

// JudgeProgram is the program without pages that judges all jars at once.
const JudgeProgram = "judge"

// Pages lists the paths of the pages of a program.
func Pages(program string) (paths []string) {
	for _, p := range pages {
		if p.program == program {
			paths = append(paths, p.path)
		}
	}
	return
}

// link is the address of a page below the folder the site is published under.
func link(path string) string { return prefix + path }

// programOf names the program of the page at a path, whatever follows the path.
func programOf(path string) string {
	for i := range path {
		if path[i] == '?' || path[i] == '#' {
			path = path[:i]
			break
		}
	}
	for _, p := range pages {
		if p.path == path {
			return p.program
		}
	}
	return ""
}
