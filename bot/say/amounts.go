package say

import (
	"fmt"
	"math"
	"strings"

	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// grams is a mass in the metric unit that reads best, and its digits.
func (s Style) grams(g float64) (v, unit string) {
	switch {
	case g >= 1000:
		return s.number(g/1000, 2), "kg"
	case g >= 10:
		return s.number(g, 0), "g"
	case g >= 1:
		return s.number(g, 1), "g"
	}
	return s.number(g, 2), "g"
}

// Grams renders a mass. A US house reads pounds or ounces first, where there is
// enough for its scale.
func (s Style) Grams(g float64) string {
	v, unit := s.grams(g)
	t := v + " " + unit
	switch {
	case s.Units == "us" && g >= float64(liquid.Pound):
		return fmt.Sprintf("%s lb (%s)", s.number(g/float64(liquid.Pound), 2), t)
	case s.Units == "us" && g >= 14:
		return fmt.Sprintf("%s oz (%s)", s.number(g/float64(liquid.Ounce), 1), t)
	}
	return t
}

// Weighed is a mass as an answer tells it, to be logged: value, unit, digits.
func (s Style) Weighed(g float64) (value float64, unit, typed string) {
	typed, unit = s.grams(g)
	scale, places := 1.0, 2
	if unit == "kg" {
		scale = 1000
	} else if g >= 10 {
		places = 0
	} else if g >= 1 {
		places = 1
	}
	return rounded(g/scale, places), unit, typed
}

// Measured is a volume as an answer tells it, to be logged: value, unit, digits.
func (s Style) Measured(l float64) (value float64, unit, typed string) {
	places := 1
	switch {
	case s.Units == "us" && l >= 1.8:
		l, unit, places = l/float64(liquid.USGallon), "US gal", 2
	case s.Units == "uk" && l >= 4.5:
		l, unit, places = l/float64(liquid.ImperialGallon), "imp gal", 2
	case l < 1:
		l, unit, places = l*1000, "mL", 0
	default:
		unit = "L"
	}
	return rounded(l, places), unit, s.number(l, places)
}

func rounded(v float64, places int) float64 {
	k := math.Pow(10, float64(places))
	return math.Round(v*k) / k
}

// PerVolume renders grams a litre as the house measures: a US one in ounces a gallon.
func (s Style) PerVolume(perLitre float64) string {
	if s.Units == "us" {
		return s.number(perLitre*float64(liquid.USGallon)/float64(liquid.Ounce), 1) + " oz a gallon"
	}
	v, unit := s.grams(perLitre)
	return v + " " + unit + " a litre"
}

// leastWeighed is the volume below which a spoon is told no more (common practice).
const leastWeighed = 10

// Spoons renders level teaspoons to the nearest quarter, below one half to the eighth,
// in a house that measures by the spoon; empty elsewhere, for less than an eighth and
// for little wine, where a spoon is not a scale.
func (s Style) Spoons(n float64, v liquid.Litres) string {
	if s.Units != "us" || v < leastWeighed || n < 0.0625 {
		return ""
	}
	unit := "tsp"
	if n >= 2*dose.TablespoonsInTeaspoons {
		n, unit = n/dose.TablespoonsInTeaspoons, "tbsp"
	}
	step := 4.0
	if n < 0.5 {
		step = 8
	}
	k := math.Round(n * step)
	whole, part := int(k)/int(step), int(k)%int(step)
	words := map[int]string{0: "", 1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 6: "3/4"}[part*8/int(step)]
	switch {
	case whole == 0:
	case words == "":
		words = fmt.Sprint(whole)
	default:
		words = fmt.Sprintf("%d %s", whole, words)
	}
	return "About " + words + " level " + unit + "; a scale is better"
}

// SomeVolume is a volume to type, as an example.
func (s Style) SomeVolume() string {
	if s.Units == "us" || s.Units == "uk" {
		return "5 gal"
	}
	return "21 l"
}

// SomeTopUp is what a jar lacks, as an example.
func (s Style) SomeTopUp() string {
	if s.Units == "us" {
		return "1 qt"
	}
	return "1 l"
}

// typable gives lines of examples to type in the house's own units: a house that reads °F
// and gallons would type what it is shown, and be asked.
func (s Style) typable(lines ...string) []string {
	r, ok := typableIn[s.Units]
	if !ok {
		return lines
	}
	for i := range lines {
		lines[i] = r.Replace(lines[i])
	}
	return lines
}

// typableIn turns the examples, which are metric, into other units: of the same size, round.
var typableIn = map[string]*strings.Replacer{
	"us": strings.NewReplacer("20c", "68f", "21c", "70f", "22c", "72f", "24c", "75f", "21 l", "5 gal", "23 l", "6 gal", "200 l", "50 gal", "10 l", "2 gal", "5 l", "1 gal"),
	"uk": strings.NewReplacer("21 l", "5 gal", "23 l", "5 gal", "200 l", "50 gal", "10 l", "2 gal", "5 l", "1 gal"),
}

// SomeTemp is a temperature to type, as an example.
func (s Style) SomeTemp() string {
	if s.Units == "us" {
		return "68f"
	}
	return "20c"
}
