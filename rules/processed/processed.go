// Package processed compares what was done to a jar with the published tables of
// [larderlamp/rules/process], and says what that means for the rules. The screens,
// the shelf and the command `site check` all use it.
package processed

import (
	"slices"
	"strings"

	"larderlamp/rules"
	"larderlamp/rules/process"
)

// Tables lists the published tables for a product, as "product" or
// "product/form".
func Tables(p *rules.Product) (all []string) {
	for _, t := range p.Processes() {
		if strings.Contains(t, "/") {
			all = append(all, t)
			continue
		}
		for _, form := range process.Forms(t) {
			if form == "" {
				all = append(all, t)
			} else {
				all = append(all, t+"/"+form.String())
			}
		}
	}
	return
}

// Record begins what is known of the process of a product, by the table that
// was chosen, one of [Tables]; "" when nobody knows which. The table of another
// food proves nothing of this one, and counts as not chosen.
func Record(p *rules.Product, table string) (r process.Record) {
	tables := Tables(p)
	if slices.Contains(tables, table) {
		tables = []string{table}
	}
	for i, t := range tables {
		product, form, _ := strings.Cut(t, "/")
		if i == 0 {
			r.Product, r.Form = product, form
			continue
		}
		// It is not known which of several tables applies.
		r.Form = ""
		if product != r.Product {
			r.Product = ""
			break
		}
	}
	return
}

// Method is what the answer about heating means for the tables; 0 when it is
// not known.
func Method(v rules.Value, known bool) process.Method {
	switch {
	case !known || v == rules.MethodUntold:
		return 0
	case v == rules.MethodPressure:
		return process.Pressure
	case v == rules.MethodBoiling:
		return process.BoilingWater
	case v == rules.MethodSteam:
		return process.SteamCanner
	case v == rules.MethodPasteur:
		return process.Pasteurized
	}
	return process.OtherMethod
}

// RulesOut reports whether the figures leave no way for the process to have been
// as published.
func RulesOut(s process.Status) bool { return s != 0 && s&(process.Met|process.Agrees) == 0 }

// Values is what the judgment of the figures tells of the sign "process": met,
// short, or both still possible. A row from memory tells nothing by itself:
// confirmed says that somebody found the same in current guidance. An answer for the
// sign itself, if any, counts only as far as the figures leave it open.
func Values(s process.Status, confirmed bool, said rules.Value, isSaid bool) []rules.Value {
	switch {
	case isSaid && said != rules.ProcessMet:
		return []rules.Value{said}
	case s == process.Met, s&^(process.Met|process.Agrees) == 0 && confirmed:
		return []rules.Value{rules.ProcessMet}
	case RulesOut(s):
		return []rules.Value{rules.ProcessShort}
	case isSaid:
		return []rules.Value{said}
	}
	return []rules.Value{rules.ProcessMet, rules.ProcessShort}
}
