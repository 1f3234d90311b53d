//go:build e2e && linux

package e2e

import (
	"fmt"
	"testing"

	"larderlamp/app/draw"
	"larderlamp/rules"
)

// Pictures of different values of a sign differ as images, pixel by pixel, on every
// food, and pictures of the same value are the same image every time.
func TestPicturesDiffer(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/about")
	eval[bool](p, `(() => {
		window.paint = async (svg) => {
			const image = new Image();
			image.src = "data:image/svg+xml;charset=utf-8," + encodeURIComponent(svg);
			await image.decode();
			const canvas = document.createElement("canvas");
			canvas.width = 140; canvas.height = 200;
			const c = canvas.getContext("2d", { willReadFrequently: true });
			c.drawImage(image, 0, 0, 140, 200);
			return c.getImageData(0, 0, 140, 200).data;
		};
		window.apart = (a, b) => {
			let n = 0;
			for (let i = 0; i < a.length; i += 4) if (Math.abs(a[i] - b[i]) + Math.abs(a[i + 1] - b[i + 1]) + Math.abs(a[i + 2] - b[i + 2]) > 48) n++;
			return n;
		};
		return true })()`)
	foods := []string{"fruit-halves", "beans", "meat", "jam", "broth", "pickles"}
	compared := 0
	for id := range rules.SignID(rules.NumSigns) {
		c := id.Info().Chapter
		if c != rules.ChapterOutside && c != rules.ChapterGlass && c != rules.ChapterOpening && id != rules.SignClosure {
			continue
		}
		for _, name := range foods {
			food, ok := draw.ParseFood(name)
			if !ok {
				t.Fatal(name)
			}
			svgs := "["
			for i, v := range id.Info().Values {
				situation := rules.NewSituation()
				for other := range rules.SignID(rules.NumSigns) {
					if oc := other.Info().Chapter; other != id && (oc == rules.ChapterOutside || oc == rules.ChapterGlass) {
						_ = situation.Tell(other.Info().Sound) // into a fresh situation
					}
				}
				if err := situation.Tell(v.Value); err != nil {
					t.Fatal(err)
				}
				if i > 0 {
					svgs += ","
				}
				svgs += quoted(draw.Picture{Food: food, Situation: situation}.SVG(draw.Options{Prefix: "t", Plain: true}))
			}
			report := eval[string](p, fmt.Sprintf(`(async () => {
				const svgs = %s];
				const one = [], two = [];
				for (const svg of svgs) { one.push(await paint(svg)); two.push(await paint(svg)) }
				const out = [];
				for (let i = 0; i < svgs.length; i++) {
					if (apart(one[i], two[i]) !== 0) out.push("value " + i + " is not stable");
					for (let j = 0; j < i; j++) {
						const n = apart(one[i], one[j]);
						if (n < 40) out.push("values " + j + " and " + i + " differ in " + n + " pixels");
					}
				}
				return out.join("; ") })()`, svgs))
			compared++
			if report != "" {
				t.Errorf("%s on %s: %s", id.ID(), name, report)
			}
		}
	}
	t.Logf("%d signs and foods compared", compared)
}
