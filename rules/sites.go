package rules

import (
	"strings"

	"larderlamp/rules/order"
)

// sites gives where a publisher is found, by words of its name. Written from
// memory: it leads to the publisher, whose search finds the title. Longer names
// stand before those that they hold.
var sites = [][2]string{
	{"National Center for Home Food Preservation", "https://nchfp.uga.edu"},
	{"NCHFP", "https://nchfp.uga.edu"},
	{"Centers for Disease Control", "https://www.cdc.gov"},
	{"Food and Drug Administration", "https://www.fda.gov"},
	{"Food Safety and Inspection Service", "https://www.fsis.usda.gov"},
	{"National Agricultural Library", "https://www.nal.usda.gov"},
	{"US Department of Agriculture", "https://www.usda.gov"},
	{"University of Georgia", "https://extension.uga.edu"},
	{"Kansas State University", "https://www.ksre.k-state.edu"},
	{"Oregon State University", "https://extension.oregonstate.edu"},
	{"Michigan State University", "https://www.canr.msu.edu"},
	{"North Dakota State University", "https://www.ndsu.edu/agriculture"},
	{"North Carolina", "https://content.ces.ncsu.edu"},
	{"University of Nebraska", "https://food.unl.edu"},
	{"University of Missouri", "https://extension.missouri.edu"},
	{"Cornell University", "https://cce.cornell.edu"},
	{"Clemson", "https://hgic.clemson.edu"},
	{"Virginia Cooperative Extension", "https://ext.vt.edu"},
	{"University of Wisconsin", "https://extension.wisc.edu"},
	{"Iowa State University", "https://www.extension.iastate.edu"},
	{"Penn State", "https://extension.psu.edu"},
	{"University of California", "https://ucanr.edu"},
	{"University of Maine", "https://extension.umaine.edu"},
	{"Utah State University", "https://extension.usu.edu"},
	{"Colorado State University", "https://extension.colostate.edu"},
	{"University of Alaska", "https://www.uaf.edu/ces"},
	{"Alaska Department of Health", "https://health.alaska.gov"},
	{"Washington State University", "https://extension.wsu.edu"},
	{"Pacific Northwest Extension", "https://pubs.extension.wsu.edu"},
	{"Canadian Food Inspection Agency", "https://inspection.canada.ca"},
	{"Health Canada", "https://www.canada.ca/en/health-canada.html"},
	{"Illinois Poison Center", "https://www.illinoispoisoncenter.org"},
	{"University of Illinois", "https://extension.illinois.edu"},
	{"University of Florida", "https://edis.ifas.ufl.edu"},
	{"University of Idaho", "https://www.uidaho.edu/extension"},
	{"University of Nevada, Reno", "https://extension.unr.edu"},
	{"Cooperative Extension", "https://ask2.extension.org"},
}

// Site is the address of the publisher, or "" where none is known.
func (s *Source) Site() string {
	for _, site := range sites {
		if strings.Contains(s.Publisher, site[0]) {
			return site[1]
		}
	}
	return ""
}

// Sources lists every source that anything in this edition cites, by publisher
// and title, each once.
func Sources() (all []*Source) {
	seen := map[*Source]bool{}
	for _, u := range citesThat(func(Evidence) bool { return true }) {
		if s := u.Cite.Source; !seen[s] {
			seen[s] = true
			all = append(all, s)
		}
	}
	order.By(all, func(a, b **Source) bool {
		if (*a).Publisher != (*b).Publisher {
			return (*a).Publisher < (*b).Publisher
		}
		return (*a).Title < (*b).Title
	})
	return all
}
