package office

import (
	"cmp"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/label"
	"larderlamp/app/record"
	"larderlamp/app/share"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// SharePage shares the shelf with the other phones of the household.
type SharePage struct {
	app.Compo
	House *house.House

	ctx         app.Context
	ready       bool
	exchange    string      // "yes", "no", "far" without a connection, or "" while unknown
	name        string      // name of this phone
	pasted      string      // a link or code, as it was typed
	code        string      // code of the household to be joined
	there, here share.Count // what it would give, and what this phone would
	invitation  string      // the link for another phone, while it is shown
	losing      bool        // the person is asked whether a phone was lost
	leaving     bool
	busy        bool
	said, fault prose.Text
}

func (p *SharePage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/share") {
		return
	}
	p.ctx, p.code, p.there, p.here, p.invitation, p.losing, p.leaving = ctx, "", nil, nil, "", false, false
	p.said, p.fault, p.pasted = "", "", ""
	code := ui.Asked(ctx).Get("code")
	p.House.ReadSharing(ctx, func(err error) {
		p.ready = true
		if err != nil {
			p.fault = ui.Plain(err)
		}
		if code != "" {
			p.look(code)
		}
	})
	p.ask()
}

// ask asks whether the site has an exchange.
func (p *SharePage) ask() {
	p.House.OnExchange(p.ctx, func(exchange app.Value) error {
		there, err := ui.Await(exchange.Call("isThere", ui.Prefix+"/"))
		p.ctx.Dispatch(func(app.Context) {
			switch {
			case err != nil || there.IsNull():
				p.exchange = "far"
			case there.Bool():
				p.exchange = "yes"
			default:
				p.exchange = "no"
			}
		})
		return err
	}, func(err error) {
		if err != nil {
			p.exchange = "far"
		}
	})
}

// on runs something at the exchange, and says what went wrong.
func (p *SharePage) on(work func(exchange app.Value) error, done func()) {
	if p.busy {
		return
	}
	p.busy, p.said, p.fault = true, "", ""
	p.House.OnExchange(p.ctx, work, func(err error) {
		p.busy = false
		if err != nil {
			p.fault = ui.Plain(err)
			return
		}
		p.House.ReadSharing(p.ctx, func(err error) {
			if err != nil {
				p.fault = ui.Plain(err)
				return
			}
			done()
		})
	})
}

// codeOf finds the code in a link, or in the part of one that was pasted.
func codeOf(text string) string {
	if _, code, found := strings.Cut(text, "code="); found {
		return strings.TrimSpace(code)
	}
	return strings.TrimSpace(text)
}

// look asks what joining would give and take.
func (p *SharePage) look(text string) {
	code := codeOf(text)
	p.on(func(exchange app.Value) (err error) {
		there, here, err := p.House.Invited(exchange, code)
		p.ctx.Dispatch(func(app.Context) {
			if err == nil {
				p.code, p.there, p.here = code, there, here
			}
		})
		return err
	}, func() { ui.Focus(p.ctx, "title") })
}

// begin shares this shelf, or joins the one of the code.
func (p *SharePage) begin() {
	code, name := p.code, cmp.Or(strings.TrimSpace(p.name), ui.Local("Phone"))
	p.on(func(exchange app.Value) error { return p.House.BeginSharing(exchange, code, name) }, func() {
		p.code, p.there, p.here = "", nil, nil
		p.House.ReplaceAddress(ui.Link("/share"))
		if code == "" {
			p.invite()
		}
		ui.Focus(p.ctx, "title")
	})
}

// invite shows the code for another phone.
func (p *SharePage) invite() {
	p.on(func(exchange app.Value) error {
		code, err := p.House.Invitation(exchange)
		p.ctx.Dispatch(func(app.Context) {
			if err == nil {
				p.invitation = app.Window().Get("location").Get("origin").String() + ui.Link("/share#code="+code)
			}
		})
		return err
	}, func() {})
}

func (p *SharePage) Render() app.UI {
	s := p.House.SharingNow()
	// Nothing that can be touched is shown before it is known what comes above
	// it.
	if !p.ready || p.exchange == "" && !p.House.Demo && p.code == "" && (s.Household == nil || s.Ended) {
		return ui.Frame("/shelf", ui.Title("Share the shelf"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	body := []app.UI{
		ui.Title("Share the shelf"),
		p.House.Notices(),
		ui.Live("",
			ui.Only(p.said != "", func() app.UI { return ui.Txt("p", "notice", p.said) }),
			ui.Only(p.fault != "", func() app.UI { return ui.Txt("p", "notice", p.fault) }),
			ui.Only(p.busy, func() app.UI { return ui.Txt("p", "", "One moment…") }),
		),
	}
	switch {
	case p.House.Demo:
		body = append(body, ui.Txt("p", "", "The made-up household is not shared. Go back to your own first."))
	case p.code != "":
		body = append(body, p.joining())
	case s.Household != nil && !s.Ended:
		body = append(body, p.standing(s), p.another(), p.phones(s), p.ends(s))
	default:
		if s.Household != nil {
			body = append(body, ui.Txt("p", "notice", "Your household shares its shelf under a new code, or not any more. Everything stays on this phone. Scan the new code to go on."))
		}
		body = append(body, p.starting())
	}
	return ui.Frame("/shelf", append(body, p.promises())...)
}

// starting offers to share this shelf, or to join another.
func (p *SharePage) starting() app.UI {
	switch p.exchange {
	case "far":
		return ui.El("section", "card",
			ui.Txt("p", "", "Phones meet over a connection, and there is none now. Everything else goes on without it."),
			ui.El("p", "row", ui.Action("button plain", "Try again", func() {
				p.exchange = ""
				p.ask()
			}, "again")),
		)
	case "no":
		return ui.El("section", "card",
			ui.Txt("p", "", "This copy of the guide is plain files. Phones cannot meet here."),
			ui.Txt("p", "", "A backup of one phone can be brought in on another."),
			ui.El("p", "row", ui.Anchor("button", "/keeping", "To the backups")),
		)
	}
	return ui.El("div", "",
		ui.El("section", "card",
			ui.Txt("h2", "", "Start with this phone"),
			ui.Txt("p", "", "One shelf on two phones. What one notes, the other sees."),
			p.nameField(),
			ui.El("p", "row", ui.Action("button big", "Share this shelf", p.begin, "begin")),
		),
		ui.El("section", "card",
			ui.Txt("h2", "", "Join another phone"),
			ui.Txt("p", "", "Point this phone's camera at the code on the other one. Or paste the link."),
			ui.Field("The link, or the code in it", ui.Input("text", p.pasted, "").ID("pasted").Attr("autocomplete", "off").Attr("autocapitalize", "none").Attr("spellcheck", "false").Attr("maxlength", 500).
				On("input", func(ctx app.Context, e app.Event) { p.pasted = ui.Typed(ctx) })),
			ui.El("p", "row", ui.Action("button plain", "Look at that shelf", func() { p.look(p.pasted) }, "look")),
		),
	)
}

func (p *SharePage) nameField() app.UI {
	return ui.Field("What is this phone called?", ui.Input("text", p.name, "Kitchen").ID("phone").Attr("autocomplete", "off").Attr("maxlength", 60).
		On("input", func(ctx app.Context, e app.Event) { p.name = ui.Typed(ctx) }))
}

// joining shows what would be given and received.
func (p *SharePage) joining() app.UI {
	var kinds []record.Kind
	for _, k := range record.Kinds {
		if p.there[k]+p.here[k] > 0 {
			kinds = append(kinds, k)
		}
	}
	return ui.El("section", "card",
		ui.Txt("h2", "", "Join this shelf?"),
		ui.Table([]prose.Text{"Kind", "you get", "you give"}, len(kinds), func(i int) []prose.Text {
			k := kinds[i]
			return []prose.Text{prose.Upper(k.Text()), ui.Number(p.there[k]), ui.Number(p.here[k])}
		}),
		ui.Txt("p", "hint", "Both phones will have all of it. Nothing is lost: what both have is put together."),
		p.nameField(),
		ui.El("p", "row",
			ui.Action("button big", "Join it", p.begin, "join"),
			ui.Action("button plain", "Not now", func() {
				p.code = ""
				p.House.ReplaceAddress(ui.Link("/share"))
			}, "not"),
		),
	)
}

// standing says how things are, in one line.
func (p *SharePage) standing(s house.Sharing) app.UI {
	return ui.El("section", "card",
		ui.Live("together", ui.Txt("p", "", standingWords(s))),
		ui.Only(s.Fault != "", func() app.UI { return ui.Txt("p", "hint", s.Fault) }),
		ui.Only(len(s.TooLarge) > 0, func() app.UI {
			return ui.Txt("p", "hint", ui.Count(len(s.TooLarge), "photo is too large to be shared. It stays on this phone.", "photos are too large to be shared. They stay on this phone."))
		}),
		ui.Only(s.Wrong > 0, func() app.UI {
			return ui.Txt("p", "hint", ui.Count(s.Wrong, "thing that came could not be read. It may be from a newer edition.", "things that came could not be read. They may be from a newer edition."))
		}),
	)
}

func standingWords(s house.Sharing) prose.Text {
	switch {
	case s.Fault != "" && s.Left > 0:
		return ui.Count(s.Left, "record waits for a connection. It is saved on this phone.", "records wait for a connection. They are saved on this phone.")
	case s.Fault != "":
		return "Not connected now. What you do is saved, and sent later."
	case s.Left > 0:
		return ui.Count(s.Left, "record is being sent.", "records are being sent.")
	case s.Met.IsZero():
		return "Connecting…"
	}
	return "This phone and the shared shelf are the same."
}

// phones lists the phones of the household.
func (p *SharePage) phones(s house.Sharing) app.UI {
	var there []share.Phone
	for _, phone := range s.Phones {
		if !phone.Left {
			there = append(there, phone)
		}
	}
	return ui.El("section", "card",
		ui.Txt("h2", "", "Phones"),
		ui.El("ul", "phones", ui.Each(len(there), func(i int) app.UI {
			last := ui.Say("last seen %s", ui.DayWords(record.DayOf(there[i].Seen)))
			if there[i].ID == s.Phone {
				last = "this phone"
			}
			return ui.El("li", "", ui.El("strong", "", app.Text(there[i].Name)), app.Text(" · "), ui.Prose(last))
		})...),
		ui.Fold("", "Give this phone another name",
			p.nameField(),
			ui.El("p", "row", ui.Action("button plain", "Use this name", func() {
				name := strings.TrimSpace(p.name)
				if name == "" {
					return
				}
				p.on(func(app.Value) error { return p.House.NamePhone(name) }, func() { p.said = "This phone has its new name." })
			}, "name")),
		),
	)
}

// another shows the code with which another phone joins.
func (p *SharePage) another() app.UI {
	if p.invitation == "" {
		return ui.El("p", "row", ui.Action("button big", "Add a phone", p.invite, "add"))
	}
	svg, err := label.Code(p.invitation, ui.Local("The code to join this shelf"))
	return ui.El("section", "card",
		ui.Txt("h2", "", "Add a phone"),
		ui.Txt("p", "", "Point the camera of the other phone at this code, and open the link."),
		ui.Only(err == nil, func() app.UI { return ui.El("div", "invitation", app.Raw(svg)) }),
		ui.Field("Or send this link", ui.Input("text", p.invitation, "").ID("invitation").Attr("readonly", true)),
		ui.Txt("p", "notice", "Whoever has this link can read and change the whole shelf. Give it to your household only."),
		ui.Only(loopback(), func() app.UI {
			return ui.Txt("p", "notice", "This address works on this computer only. Open the guide by an address that the other phone reaches, and add it there.")
		}),
		ui.El("p", "row", ui.Action("button plain", "Hide the code", func() { p.invitation = "" }, "hide")),
	)
}

// ends offers the two ways to end sharing.
func (p *SharePage) ends(s house.Sharing) app.UI {
	switch {
	case p.losing:
		return ui.El("section", "card",
			ui.Txt("h2", "", "A phone was lost?"),
			ui.Txt("p", "", "The shelf gets a new code. The lost phone gets nothing more. It keeps what it already has."),
			ui.Txt("p", "", "Your other phones stop too, until they scan the new code."),
			ui.El("p", "row",
				ui.Action("button big", "Make a new code", func() {
					p.on(p.House.LosePhone, func() {
						p.losing = false
						p.invite()
					})
				}, "lose"),
				ui.Action("button plain", "Not now", func() { p.losing = false }, "keep"),
			),
		)
	case p.leaving:
		return ui.El("section", "card",
			ui.Txt("h2", "", "Stop sharing on this phone?"),
			ui.Txt("p", "", "Everything stays on this phone, and on the others. From then on they go separate ways."),
			ui.El("p", "row",
				ui.Action("button big", "Stop sharing", func() {
					p.on(p.House.LeaveSharing, func() {
						p.leaving, p.said = false, "This phone does not share its shelf any more."
					})
				}, "leave"),
				ui.Action("button plain", "Not now", func() { p.leaving = false }, "stay"),
			),
		)
	}
	return ui.El("p", "row",
		ui.Action("button plain", "A phone was lost", func() { p.losing, p.invitation = true, "" }, "lost"),
		ui.Action("button plain", "Stop sharing here", func() { p.leaving, p.invitation = true, "" }, "stop"),
	)
}

// promises says what is shared, and what others can see of it.
func (p *SharePage) promises() app.UI {
	return ui.Fold("", "What is shared, and who can read it",
		ui.El("ul", "", ui.Texts([]prose.Text{
			"Shared: jars, batches, places, checks, sweeps and trips. Photos too, if they are not too large.",
			"Not shared: the settings of this phone.",
			"Each record is locked on this phone before it leaves. Only phones with your code can open it.",
			"The exchange in between sees how much is sent, and when. It can hold things back. It cannot read or change them.",
			"Without a connection all goes on. It is sent later.",
			"It is no backup: what one phone deletes is deleted on all. Save backups too.",
		})...),
	)
}
