package draw

import "larderlamp/rules/prose"

// Food is a style of filling: what the jar holds, as far as a picture goes.
type Food uint8

// The fillings. The zero value is food of an unknown kind.
const (
	Plain Food = iota
	Halves
	SmallFruit
	Berries
	Jam
	Jelly
	Juice
	Pickles
	Slices
	Spears
	Sticks
	Beans
	Relish
	Salsa
	Tomatoes
	Cubes
	Grains
	Pearls
	Greens
	Shreds
	Broth
	Soup
	Meat
	Fish
	Sauce
	Bread

	NumFoods = int(Bread) + 1
)

// style says how a filling is drawn.
type style struct {
	id     string
	name   prose.Text
	liquid color
	thick  int      // how little light the liquid lets through, in hundredths
	tones  [3]color // tones of the pieces
	layers []layer  // from back to front
}

// texture is the way the pieces of a layer are drawn.
type texture uint8

const (
	dots    texture = iota // round pieces
	flecks                 // square pieces
	sticks                 // upright pieces
	strands                // loose threads
	forms                  // pieces with their own form
)

// layer is a set of pieces that look alike.
type layer struct {
	texture  texture
	w, h     int // size of a piece
	dx, dy   int // distance to the next
	form     form
	gleaming bool
	turn     int // how far a piece may lean, in degrees
	tone     int // first of its tones
	span     int // how many tones it uses; 0 for all
}

// form is a piece around 0,0: its outline, hollow, inner lines and light.
type form struct{ edge, core, inner, gleam string }

var (
	halfForm = form{"M-25 3C-27-14-14-25 2-25C17-25 26-13 25 2C24 17 13 25-1 25C-15 25-24 15-25 3Z",
		"M-9 1C-10-8-5-13 1-13C7-13 11-6 10 1C9 9 4 13-1 12C-6 11-9 7-9 1Z", "M-14-3L-19-5M-13 6L-17 9M-4 16L-5 20M8 14L11 18M14 5L19 7M13-5L18-8M4-16L5-20", "M-18-7C-15-15-9-19-2-20"}
	plumForm = form{"M-16 3C-18-9-11-17-3-16L1-14L6-16C14-16 18-7 16 4C14 14 7 18 0 18C-9 18-15 12-16 3Z",
		"", "M1-14C0-10-4-9-6-9M1-14C1-11 4-9 6-9", "M-11-4C-10-9-8-11-6-11"}
	tomatoForm = form{"M-27 2C-29-14-17-23-8-21C-3-25 4-25 8-22C20-24 29-13 27 1C26 17 15 25 0 25C-15 25-26 16-27 2Z",
		"", "M0-13C-3-17-8-17-10-19M0-13C1-17 4-19 9-18M0-13C-1-8-4-6-7-5M0-13C3-9 7-8 10-8", "M-20-4C-19-10-16-13-13-14"}
	cubeForm = form{"M-17-11L3-18L18-9L17 12L-2 19L-18 9Z", "", "M-17-11L-1-3L18-9M-1-3L-2 19", "M-11-10L2-14"}
	discForm = form{"M-24 1C-24-9-12-14 1-14C14-14 25-8 24 1C23 11 12 15-1 15C-14 15-24 10-24 1Z",
		"M-10 0C-10-4-5-6 0-6C6-6 10-4 10 0C9 4 5 6 0 6C-5 6-10 4-10 0Z", "M-19 1C-17 6-10 10-2 11M-3-1L-1 1M3-1L2 2", "M-19-4C-15-9-9-11-3-11"}
	leafForm = form{"M-30 6C-27-9-20-6-16-16C-7-11-2-20 7-17C11-10 22-14 28-4C22 1 27 9 17 12C7 10 3 20-7 16C-15 18-22 13-30 6Z",
		"", "M-24 5C-10 3 4-2 24-4M-10 3C-9-4-12-8-14-10M3 1C6 6 4 10 1 13M11-2C11-7 9-10 8-13", "M-12-9C-6-11 0-13 5-13"}
	meatForm = form{"M-31 4C-33-10-22-13-16-20C-4-17 5-24 17-20C23-12 33-10 31 3C32 13 22 14 17 20C6 17-3 23-14 19C-24 18-29 13-31 4Z",
		"", "M-23-4C-10-11 8-11 24-7M-25 4C-9-2 10-2 26 3M-20 12C-7 7 8 7 20 12", "M-17-14C-9-16-3-16 3-17"}
	fishForm = form{"M-32-14C-12-22 14-22 32-13C34-2 33 8 31 15C12 21-12 21-32 14C-34 5-34-5-32-14Z",
		"", "M-20-17C-12-6-12 6-20 17M-6-19C2-7 2 7-6 19M9-18C17-7 17 7 9 18M-32 10C-10 17 12 17 31 11", "M-27-12C-17-16-7-17 3-17"}
	tipForm = form{"M-7 44C-8 14-7-14-6-27C-6-36-2-44 0-48C3-43 6-36 6-27C7-14 8 14 7 44Z",
		"", "M-6-27C-2-25 1-29 0-36M6-24C2-22 0-18 1-13M-6-8C-2-6 0-2-1 4M6 8C3 10 1 14 1 18", "M-3 30V-16"}
	cukeForm = form{"M-13 32C-15 12-15-12-12-32C-10-42 10-42 12-32C15-12 15 12 13 32C10 43-10 43-13 32Z",
		"", "M-5-22h0M5-14h0M-6-4h0M6 8h0M-4 18h0M5 28h0M0-32h0", "M-8 22C-9 4-9-10-8-24"}
	lumpForm = form{"M-21 5C-24-9-13-20 1-20C15-21 24-10 22 3C21 15 11 20-2 20C-12 20-19 15-21 5Z",
		"", "M-10 9C-4 13 4 13 11 8", "M-14-5C-12-11-7-14-1-15"}
)

var styles = [NumFoods]style{
	Plain: {"plain", "food", 0xc9a25c, 35, [3]color{0xc79a5e, 0xb58a55, 0xd3ab70},
		[]layer{{texture: forms, dx: 45, dy: 36, form: lumpForm, turn: 160, gleaming: true}}},
	Halves: {"fruit-halves", "fruit halves", 0xe9b04c, 30, [3]color{0xf0a03c, 0xe98b32, 0xf5b452},
		[]layer{{texture: forms, dx: 48, dy: 39, form: halfForm, turn: 160, gleaming: true}}},
	SmallFruit: {"whole-small", "small whole fruit", 0xb5475a, 35, [3]color{0x7a2548, 0x8e2f4a, 0x652244},
		[]layer{{texture: forms, dx: 33, dy: 30, form: plumForm, turn: 40, gleaming: true}}},
	Berries: {"berries", "berries", 0xa8283f, 45, [3]color{0x97203a, 0x6f1b3c, 0xb02c3c},
		[]layer{{texture: dots, w: 19, dx: 20, dy: 17, gleaming: true}}},
	Jam: {"jam", "jam", 0xa12a2c, 82, [3]color{0x7d1b28, 0x8f2228, 0xf0c67a},
		[]layer{{texture: dots, w: 26, dx: 46, dy: 37, span: 2}, {texture: dots, w: 3, dx: 17, dy: 15, tone: 2, span: 1}}},
	Jelly: {"jelly", "clear jelly", 0xd8622e, 62, [3]color{0xe88a3e, 0xe0763a, 0xf6b968}, nil},
	Juice: {"juice", "juice", 0x8c2a57, 55, [3]color{0xa23c68, 0x8c2a57, 0xb95a7c}, nil},
	Pickles: {"pickles", "pickles", 0xc9b95a, 30, [3]color{0x6f8a36, 0x5f7a30, 0x82993f},
		[]layer{{texture: forms, dx: 29, dy: 83, form: cukeForm, turn: 4, gleaming: true}}},
	Slices: {"slices", "slices", 0xd9a24a, 30, [3]color{0xe58a36, 0xd97a2e, 0xeba04a},
		[]layer{{texture: forms, dx: 47, dy: 23, form: discForm, turn: 16, gleaming: true}}},
	Spears: {"spears", "spears", 0xc4bd68, 28, [3]color{0x8d9c4a, 0x7c8d42, 0x9aa957},
		[]layer{{texture: forms, dx: 17, dy: 92, form: tipForm, turn: 4, gleaming: true}}},
	Sticks: {"sticks", "beans or sticks", 0xc7b865, 28, [3]color{0x74873a, 0x657933, 0x869848},
		[]layer{{texture: sticks, w: 10, h: 72, dx: 13, dy: 80, gleaming: true}}},
	Beans: {"beans", "dry beans", 0xb9763a, 50, [3]color{0x8e3b2e, 0x7b3028, 0xa2503a},
		[]layer{{texture: strands, w: 14, h: 11, dx: 25, dy: 17, gleaming: true}}},
	Salsa: {"salsa", "salsa", 0xb8391f, 66, [3]color{0xd2452a, 0xe3714a, 0x6f8a3a},
		[]layer{{texture: flecks, w: 16, dx: 29, dy: 24, gleaming: true}, {texture: flecks, w: 5, dx: 23, dy: 19, tone: 1, span: 2}}},
	Relish: {"relish", "relish", 0xa39a45, 60, [3]color{0x7f8c3c, 0xc2512e, 0xdcc070},
		[]layer{{texture: flecks, w: 8, dx: 14, dy: 12}}},
	Tomatoes: {"tomatoes", "tomatoes", 0xd2592c, 45, [3]color{0xcf3a22, 0xbf3020, 0xda4c2a},
		[]layer{{texture: forms, dx: 51, dy: 42, form: tomatoForm, turn: 50, gleaming: true}}},
	Cubes: {"cubes", "cubes", 0xdcb257, 28, [3]color{0xe59a38, 0xd98c30, 0xeeb050},
		[]layer{{texture: forms, dx: 36, dy: 31, form: cubeForm, turn: 20, gleaming: true}}},
	Grains: {"grains", "corn or peas", 0xdfc169, 35, [3]color{0xecc043, 0xe0ae38, 0xf3d066},
		[]layer{{texture: dots, w: 12, dx: 13, dy: 11, gleaming: true}}},
	Pearls: {"pearls", "small whole vegetables", 0xd8bd72, 30, [3]color{0xe6d3a0, 0xdac48c, 0xeedeb4},
		[]layer{{texture: dots, w: 28, dx: 29, dy: 25, gleaming: true}}},
	Greens: {"greens", "greens", 0x8b8a44, 55, [3]color{0x56703a, 0x476232, 0x667f42},
		[]layer{{texture: forms, dx: 44, dy: 21, form: leafForm, turn: 18, gleaming: true}}},
	Shreds: {"shreds", "shredded cabbage", 0xd9c27c, 40, [3]color{0xe4d49a, 0xd3bf80, 0xeee2b4},
		[]layer{{texture: strands, w: 4, h: 29, dx: 19, dy: 10}}},
	Broth: {"broth", "broth", 0xd99a34, 45, [3]color{0xe8b04a, 0xdda03c, 0xf2c56a}, nil},
	Soup: {"soup", "soup or stew", 0xb8702e, 72, [3]color{0xd9802e, 0x7f8c3c, 0xe4c682},
		[]layer{{texture: forms, dx: 52, dy: 47, form: cubeForm, turn: 20, gleaming: true}, {texture: dots, w: 11, dx: 29, dy: 25, gleaming: true, tone: 1, span: 1}}},
	Meat: {"meat", "meat", 0xb98142, 45, [3]color{0x8d5138, 0x7c4431, 0x9b5f42},
		[]layer{{texture: forms, dx: 56, dy: 36, form: meatForm, turn: 14, gleaming: true}}},
	Fish: {"fish", "fish", 0xd9b27c, 40, [3]color{0xdd9a78, 0xd08c6c, 0xe6aa88},
		[]layer{{texture: forms, dx: 62, dy: 37, form: fishForm, turn: 6, gleaming: true}}},
	Sauce: {"sauce", "sauce or purée", 0xb9421f, 88, [3]color{0x9f3518, 0xc95a2c, 0xd9763c},
		[]layer{{texture: dots, w: 3, dx: 19, dy: 15, tone: 1, span: 2}}},
	Bread: {"bread", "bread", 0xc08a48, 90, [3]color{0x8a5a2a, 0x9c6a34, 0x70451f},
		[]layer{{texture: dots, w: 8, dx: 21, dy: 18}, {texture: dots, w: 3, dx: 17, dy: 15}}},
}

// String is the filling's stable name.
func (f Food) String() string { return styles[f].id }

// ParseFood reads a filling's stable name.
func ParseFood(id string) (Food, bool) {
	for i := range styles {
		if styles[i].id == id {
			return Food(i), true
		}
	}
	return Plain, false
}
