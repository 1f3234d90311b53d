package tables

import (
	"strconv"
	"strings"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules/prose"
)

// monthDays are the ways in which people write a date with the month in words.
var monthDays = []string{"Jan 2 2006", "2 Jan 2006", "January 2 2006", "2 January 2006", "Jan 2", "2 Jan", "January 2", "2 January", "Jan 2006", "January 2006"}

// spanishMonths are the beginnings of the months that are written otherwise than in
// English, and their English.
var spanishMonths = map[string]string{"ene": "Jan", "abr": "Apr", "ago": "Aug", "dic": "Dec"}

// monthsInEnglish puts the words of a date into English, from English or Spanish, in
// which a month is known by its first three letters: 14 de agosto de 2026.
func monthsInEnglish(words []string) string {
	var all []string
	for _, w := range words {
		lower := strings.ToLower(w)
		if lower == "de" || lower == "del" {
			continue
		}
		if month, ok := spanishMonths[lower[:min(3, len(lower))]]; ok {
			w = month
		} else if spanishMonth[lower] {
			w = lower[:3]
		}
		all = append(all, w)
	}
	return strings.Join(all, " ")
}

// spanishMonth are the other months, which begin as in English.
var spanishMonth = map[string]bool{"febrero": true, "marzo": true, "mayo": true, "junio": true, "julio": true, "septiembre": true, "setiembre": true, "sept": true, "octubre": true, "noviembre": true}

// ReadDay reads a date as people write it: 2026-08-14, 8/14/26, 14.8.2026, Aug 14, 14
// August 2026, August 2026. If either number may be the month, dayFirst decides;
// without a year the most recent such day is meant, and without a day the first of the
// month, which is the earliest it can be.
func ReadDay(text string, dayFirst bool, now time.Time) (record.Day, error) {
	unread := prose.Errorf("%q is not a date; write it as 2026-08-31", text)
	clean := strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == '\u00a0' }), " ")
	if t, err := time.Parse(record.DayLayout, clean); err == nil {
		return record.DayOf(t), nil
	}
	parts := strings.FieldsFunc(clean, func(r rune) bool { return r == '/' || r == '.' || r == '-' })
	var n [3]int
	numbers := len(parts) == 2 || len(parts) == 3
	for i, p := range parts {
		v, err := strconv.Atoi(strings.TrimSpace(p))
		if err != nil || v < 0 || i > 2 {
			numbers = false
			break
		}
		n[i] = v
	}
	if numbers && len(parts[0]) <= 2 && len(parts[1]) <= 2 {
		day, month := n[1], n[0]
		if dayFirst && n[1] <= 12 || n[0] > 12 {
			day, month = n[0], n[1]
		}
		year := n[2]
		switch {
		case len(parts) == 2:
			year = now.Year()
		case len(parts[2]) == 2:
			year += 2000
		case len(parts[2]) != 4:
			return "", unread
		}
		t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
		if month < 1 || month > 12 || day < 1 || t.Day() != day {
			return "", unread
		}
		if len(parts) == 2 && record.DayOf(t) > record.DayOf(now) {
			t = time.Date(year-1, time.Month(month), day, 0, 0, 0, 0, time.UTC)
			if t.Day() != day {
				return "", unread
			}
		}
		return record.DayOf(t), nil
	}
	words := monthsInEnglish(strings.FieldsFunc(clean, func(r rune) bool { return r == ' ' || r == '.' || r == '-' || r == '/' }))
	for _, layout := range monthDays {
		t, err := time.Parse(layout, words)
		if err != nil {
			continue
		}
		if !strings.Contains(layout, "2006") {
			t = time.Date(now.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
			if record.DayOf(t) > record.DayOf(now) {
				t = t.AddDate(-1, 0, 0)
			}
		}
		return record.DayOf(t), nil
	}
	return "", unread
}

// sizeWords are the ways in which people write jar sizes.
var sizeWords = map[string]string{
	"qt": "quart", "qts": "quart", "quarts": "quart", "pt": "pint", "pts": "pint", "pints": "pint",
	"1/2 pint": "half-pint", "half pint": "half-pint", "half pints": "half-pint", "1/2 pt": "half-pint", "hp": "half-pint", "jelly jar": "half-pint", "½ pint": "half-pint",
	"half gallon": "half-gallon", "1/2 gallon": "half-gallon", "½ gallon": "half-gallon", "gallon": "other",
	"4 oz": "4-ounce", "8 oz": "half-pint", "12 oz": "12-ounce", "16 oz": "pint", "24 oz": "24-ounce", "28 oz": "24-ounce", "32 oz": "quart", "64 oz": "half-gallon",
	// In Spanish.
	"pinta": "pint", "pintas": "pint", "media pinta": "half-pint", "medias pintas": "half-pint", "1/2 pinta": "half-pint", "½ pinta": "half-pint",
	"cuarto": "quart", "cuartos": "quart", "cuarto de galón": "quart", "cuarto de galon": "quart", "medio galón": "half-gallon", "medio galon": "half-gallon", "1/2 galón": "half-gallon", "1/2 galon": "half-gallon", "galón": "other", "galon": "other",
	"quarter pint": "4-ounce", "1.5 pint": "24-ounce", "1 1/2 pint": "24-ounce", "pint and a half": "24-ounce",
}

// ReadSize reads a jar size as people write it. A metric one counts as the next
// larger size: it never uses the time of a smaller jar.
func ReadSize(text string) (id string, ok bool) {
	clean := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	for _, s := range record.Sizes {
		short, _, _ := strings.Cut(strings.ToLower(s.Name.String()), " (")
		if clean == s.ID || clean == strings.ToLower(s.Name.String()) || clean == short || strings.ReplaceAll(clean, " ", "-") == s.ID {
			return s.ID, true
		}
	}
	cut := strings.TrimRight(clean, "0123456789.,/ ")
	number := strings.TrimRight(clean, "abcdefghijklmnopqrstuvwxyzé. ")
	unit := strings.Trim(strings.TrimPrefix(clean, number), " .")
	switch unit {
	case "oz", "ounce", "ounces", "fl oz", "onza", "onzas":
		unit = "oz"
	case "ml", "milliliter", "milliliters", "millilitre", "cc", "mililitro", "mililitros":
		unit = "ml"
	case "l", "liter", "liters", "litre", "litres", "litro", "litros":
		unit = "l"
	}
	if id, ok := sizeWords[clean]; ok {
		return id, true
	}
	if id, ok := sizeWords[strings.TrimSpace(number)+" "+unit]; ok {
		return id, true
	}
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(number), ",", ".", 1), 64)
	if err != nil || v <= 0 || cut == "" {
		return "", false
	}
	if unit == "l" {
		v *= 1000
	} else if unit != "ml" {
		return "", false
	}
	for _, s := range record.Sizes {
		if s.ID != "other" && v <= float64(s.Milliliters) {
			return s.ID, true
		}
	}
	return "other", true
}
