package bot

import (
	"strings"

	"mustbook/ferment"
)

// blended is a wine in the words of a blend, and how many litres of it.
type blended struct {
	s *ferment.State
	v float64
}

// blendParts finds each amount with the batch that it stands before. An amount that
// belongs to no known batch leaves nothing: a blend without one of its parts would be
// a wrong answer.
func blendParts(said, units string, open []*ferment.State) []blended {
	var out []blended
	words := strings.FieldsFunc(strings.ToLower(said), func(r rune) bool { return strings.ContainsRune(" \t\n\r?!;", r) })
	for i := range words {
		words[i] = strings.Trim(words[i], ",:.")
	}
	litres := 0.0
	for i := 0; i < len(words); {
		if v, n := litresAt(words[i:], units, open); n > 0 {
			if litres > 0 {
				return nil
			}
			litres, i = v, i+n
			continue
		}
		s, n := named(words[i:], open)
		if s != nil && litres > 0 {
			out = append(out, blended{s, litres})
			litres = 0
		}
		i += max(n, 1)
	}
	if litres > 0 {
		return nil
	}
	return out
}

// litresAt reads "10l", "10 l", "1.5 gal" or a number before a batch's name, and how
// many words it took; 0: no amount.
func litresAt(words []string, units string, open []*ferment.State) (float64, int) {
	n := 0
	for n < len(words[0]) && strings.IndexByte("0123456789.,", words[0][n]) >= 0 {
		n++
	}
	v, ok := decimal(words[0][:n])
	if !ok {
		return 0, 0
	}
	unit, took := words[0][n:], 1
	if unit == "" && len(words) > 1 {
		if s, _ := named(words[1:], open); s != nil || words[1] == "of" {
			return v, 1
		}
		unit, took = words[1], 2
	}
	l, ok := ferment.LitresOf(v, volumeUnit(unit, units))
	if !ok {
		return 0, 0
	}
	return l, took
}

// volumeUnit names a unit of volume as it was typed; a gallon is the house's.
func volumeUnit(typed, units string) string {
	switch typed {
	case "l", "litre", "litres", "liter", "liters":
		return "L"
	case "ml":
		return "mL"
	case "gal", "gallon", "gallons":
		return map[string]string{"us": "US gal", "uk": "imp gal"}[units]
	}
	return ""
}

// named finds the one batch that the words begin with, by its whole name, else by the
// first word of it, and how many words that took.
func named(words []string, open []*ferment.State) (*ferment.State, int) {
	var whole, first *ferment.State
	took, hits := 0, 0
	for _, s := range open {
		hit := false
		for _, n := range append([]string{s.Name}, s.Names...) {
			parts := strings.Fields(strings.ToLower(n))
			if len(parts) == 0 || parts[0] != words[0] {
				continue
			}
			hit = true
			if len(parts) > took && len(parts) <= len(words) && strings.Join(parts, " ") == strings.Join(words[:len(parts)], " ") {
				whole, took = s, len(parts)
			}
		}
		if hit {
			first, hits = s, hits+1
		}
	}
	switch {
	case whole != nil:
		return whole, took
	case hits == 1:
		return first, 1
	}
	return nil, 0
}

// decimal reads digits with at most one mark among them; false for none and for 0.
func decimal(w string) (float64, bool) {
	v, scale, mark := 0.0, 1.0, false
	for i := range len(w) {
		switch c := w[i]; {
		case c >= '0' && c <= '9' && mark:
			scale /= 10
			v += float64(c-'0') * scale
		case c >= '0' && c <= '9':
			v = v*10 + float64(c-'0')
		case mark:
			return 0, false
		default:
			mark = true
		}
	}
	return v, v > 0
}
