package parts

import (
	"testing"

	"larderlamp/rules"
)

// Every product has a picture of its own kind of food, and every zone of the
// picture leads to signs that can be asked for.
func TestProductsHavePictures(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if Food(p).String() != p.Food {
			t.Errorf("%s: the filling %q is drawn as %q", p.ID, p.Food, Food(p))
		}
	}
}
