package texts_test

import (
	"testing"

	"larderlamp/rules"
	"larderlamp/wasm/texts"
)

// What a person says in Spanish about what looks odd leads to that sign first, with
// accents or without; English is understood at the same time, and what says nothing
// leads to nothing. The words are from memory of how people speak.
func TestSpanishSights(t *testing.T) {
	all, err := texts.Languages()
	if err != nil {
		t.Fatal(err)
	}
	spoken := all[0].Texts.Spoken()
	for said, want := range map[string]rules.Value{
		"tapa inflada": rules.LidBulged, "la tapa está abombada": rules.LidBulged, "La tapa esta hinchada": rules.LidBulged,
		"moho arriba": rules.MoldSeen, "pelusa blanca": rules.MoldSeen,
		"huele mal": rules.SmellOff, "olor agrio": rules.SmellOff,
		"líquido turbio": rules.CloudHazy, "salmuera turbia": rules.CloudHazy, "sedimento blanco en el fondo": rules.CloudSettled,
		"burbujas que suben": rules.BubblesRising, "espuma": rules.BubblesRising,
		"manchas negras debajo de la tapa": rules.UnderlidDark, "tapa oxidada por dentro": rules.UnderlidPitted,
		"óxido en la tapa": rules.RustSpots, "vidrio rajado": rules.GlassCracked,
		"los pepinillos están babosos": rules.BodySlimy, "peras rosadas": rules.ColorPink, "ajo azul": rules.ColorGarlic,
		"capa blanca arriba": rules.TopFilm, "fruta flotando": rules.TopFloat, "grasa arriba": rules.TopFat,
		"el líquido bajó": rules.LevelDropped, "gotea": rules.SeepWet, "salió a chorro al abrir": rules.ReleaseSpurt,
		"cristales en la jalea": rules.DepositCrystals, "no selló": rules.LiftOff,
		"se congeló": rules.FrozenHeld, "se inundó el sótano": rules.WetFlood, "me enfermé después de comer": rules.IllSeen,
		"black spots under the lid": rules.UnderlidDark, "spots negros under la tapa": rules.UnderlidDark,
	} {
		found := rules.See(said, spoken, 3)
		if len(found) == 0 || found[0] != want {
			t.Errorf("%q: got %v, want %s first", said, labels(found), want.Info().Label)
		}
	}
	for _, said := range []string{"", "el frasco", "algo muy raro en mi frasco"} {
		if found := rules.See(said, spoken, 3); len(found) > 0 {
			t.Errorf("%q: got %v", said, labels(found))
		}
	}
}

func labels(values []rules.Value) (all []string) {
	for _, v := range values {
		all = append(all, v.Info().Label.String())
	}
	return all
}
