package rules

import (
	"strings"
)

// singular takes the plural ending off an English word. It need not be right,
// only the same for the name and the query.
func singular(w string) string {
	if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") && !strings.HasSuffix(w, "us") {
		switch {
		case len(w) > 4 && strings.HasSuffix(w, "ies"):
			return w[:len(w)-3] + "y"
		case len(w) > 4 && (w == "halves" || w == "leaves" || w == "loaves" || w == "calves"):
			return w[:len(w)-3] + "f"
		case hasAnySuffix(w, "ches", "shes", "xes", "sses") || len(w) > 5 && strings.HasSuffix(w, "oes"):
			return w[:len(w)-2]
		}
		w = w[:len(w)-1]
	}
	if len(w) > 4 && strings.HasSuffix(w, "ie") {
		return w[:len(w)-2] + "y"
	}
	return w
}

func hasAnySuffix(w string, ends ...string) bool {
	for _, end := range ends {
		if strings.HasSuffix(w, end) {
			return true
		}
	}
	return false
}

// soundOf writes a word as it is spoken, roughly: words that sound alike in
// English are written alike. All vowels are one.
func soundOf(w string) string {
	var b []byte
	put := func(c byte) {
		if len(b) == 0 || b[len(b)-1] != c {
			b = append(b, c)
		}
	}
	at := func(i int) byte {
		if i < len(w) {
			return w[i]
		}
		return 0
	}
	soft := func(i int) bool { c := at(i); return c == 'e' || c == 'i' || c == 'y' }
	for i := 0; i < len(w); i++ {
		switch c := w[i]; c {
		case 'a', 'e', 'i', 'o', 'u', 'y':
			if c != 'e' || i < len(w)-1 || i == 0 {
				put('a')
			}
		case 'c':
			switch {
			case at(i+1) == 'h':
				put('C')
				i++
			case soft(i + 1):
				put('s')
			case at(i+1) == 'k':
			default:
				put('k')
			}
		case 'g':
			switch {
			case at(i+1) == 'h':
				i++
			case soft(i + 1):
				put('j')
			default:
				put('g')
			}
		case 'p':
			if at(i+1) == 'h' {
				put('f')
				i++
			} else {
				put('p')
			}
		case 'q':
			put('k')
		case 'x':
			put('k')
			put('s')
		case 'z':
			put('s')
		case 's':
			if at(i+1) == 'h' {
				put('S')
				i++
			} else {
				put('s')
			}
		case 'k':
			if i > 0 || at(1) != 'n' {
				put('k')
			}
		case 'w':
			if i > 0 || at(1) != 'r' {
				put('w')
			}
		case 'h':
			if i == 0 {
				put('h')
			}
		default:
			put(c)
		}
	}
	if len(b) == 0 {
		return w
	}
	return string(b)
}

// Each accented letter takes two bytes, its plain letter one.
const (
	accented   = "àáâäãåçèéêëìíîïñòóôöõøùúûüýÿ"
	unaccented = "aaaaaaceeeeiiiinoooooouuuuyy"
)
