package parts

import (
	"slices"

	"larderlamp/rules"
)

// shownBy returns how a trait of the catalog looks.
var ShownBy = map[rules.SignID]rules.Value{
	rules.SignHazes: rules.CloudHazy, rules.SignSettles: rules.CloudSettled, rules.SignAbsorbs: rules.LevelOwn,
	rules.SignFades: rules.ColorFaded, rules.SignPinks: rules.ColorPink, rules.SignBlues: rules.ColorBlue,
	rules.SignBrowns: rules.ColorBrowned, rules.SignDarkens: rules.ColorDark,
	rules.SignCrystals: rules.DepositCrystals, rules.SignSpecks: rules.DepositSpecks, rules.SignFatty: rules.TopFat, rules.SignFoams: rules.TopFoam,
}

// flips returns, for the look of a trait, the danger it is mistaken for.
var flips = map[rules.Value][]rules.Value{
	rules.CloudHazy: {rules.CloudHazy, rules.BodySoft}, rules.CloudSettled: {rules.CloudMurky}, rules.LevelOwn: {rules.LevelDropped},
	rules.ColorFaded: {rules.ColorFaded, rules.BodySlimy}, rules.ColorPink: {rules.ColorPink, rules.BodySoft},
	rules.ColorBlue: {rules.ColorBlue, rules.BodySoft}, rules.ColorBrowned: {rules.ColorBrowned, rules.BodySlimy},
	rules.ColorDark:       {rules.ColorDark, rules.CloudHazy},
	rules.DepositCrystals: {rules.MoldSeen}, rules.DepositSpecks: {rules.MoldSeen}, rules.TopFat: {rules.TopFilm}, rules.TopFoam: {rules.TopFilm},
}

// shownTogether returns the look of two traits of a food that belong together.
func shownTogether(p *rules.Product, trait rules.Value) []rules.Value {
	color, cloud := rules.ColorPink, rules.CloudHazy
	if trait == rules.TogetherDull {
		switch {
		case p.LookAlikeFor(rules.SignBrowns) != nil:
			color = rules.ColorBrowned
		case p.LookAlikeFor(rules.SignFades) != nil:
			color = rules.ColorFaded
		default:
			color = rules.ColorBlue
		}
		if p.LookAlikeFor(rules.SignHazes) == nil {
			cloud = rules.CloudSettled
		}
	}
	return []rules.Value{color, cloud}
}

// LooksLike returns how a harmless look of a food is seen, and the danger that
// it is mistaken for.
func LooksLike(p *rules.Product, l *rules.LookAlike) (seen, mistaken []rules.Value) {
	if l.Trait.Sign() == rules.SignTogether {
		both := shownTogether(p, l.Trait)
		return both, append(slices.Clone(both), rules.BodySoft)
	}
	v, ok := ShownBy[l.Trait.Sign()]
	if !ok {
		return nil, nil
	}
	return []rules.Value{v}, flips[v]
}

// HasPictures reports whether the values of the sign have pictures.
func HasPictures(id rules.SignID) bool {
	return id.Info().Chapter != rules.ChapterOpened && id != rules.SignAge
}
