package dose

import "mustbook/ferment/liquid"

// Glass is what a bottle stands.
type Glass string

// The kinds of glass.
const (
	StillGlass     Glass = "still"     // wine bottles, jars, odd swing-tops: never
	BeerGlass      Glass = "beer"      // beer or cider bottles
	SparklingGlass Glass = "sparkling" // sound sparkling-wine bottles, wired stoppers
)

// glassLimit is the sugar that may ferment in it, left and added, g/L (common
// practice; the bottle maker's figure wins).
var glassLimit = map[Glass]liquid.GramsPerLitre{BeerGlass: 6, SparklingGlass: 15}

// MostIn returns the sugar that may ferment in a kind of glass, left and added, in g/L; 0
// where none may.
func MostIn(g Glass) liquid.GramsPerLitre { return glassLimit[g] }

// SummerHeat is the warmest that a store gets: pressure is told at it.
const SummerHeat liquid.Celsius = 28

// Priming is sugar for fizz, bottle by bottle.
type Priming struct {
	PerBottle liquid.Grams
	PerLitre  liquid.GramsPerLitre // added
	Ferments  liquid.GramsPerLitre // left and added together
	Warm      float64              // absolute atm at 28 °C
	Cellar    float64              // absolute atm at the cellar's temperature
	Warnings  []Warning
}

// PrimingFor returns the most sugar that a bottle of that size may be given, over what
// is left in the wine (its doubt counted in): 6 g/L in all for beer glass, 15 for
// sparkling, none for still. Range: bottles 0.1 to 3 L, left 0 to 100 g/L, cellar 0 to
// 30 °C; else a *liquid.RangeError. Source: common practice for the limits, the
// pressure by liquid.BottlePressure. Example: a 0.75 L sparkling bottle of a wine with
// nothing left takes 11.25 g and reaches 6.6 atm in summer.
func PrimingFor(bottle liquid.Litres, left liquid.GramsPerLitre, g Glass, cellar liquid.Celsius) (Priming, error) {
	room := max(0, glassLimit[g]-left)
	return Prime(bottle, left, liquid.Grams(float64(room)*float64(bottle)), g, cellar)
}

// Prime returns what so many grams in each bottle do. Range and source: those of
// PrimingFor, and 0 to 100 g a bottle. Example: 5 g in 0.75 L of a dry wine are 6.7
// g/L, over the limit of beer glass.
func Prime(bottle liquid.Litres, left liquid.GramsPerLitre, each liquid.Grams, g Glass, cellar liquid.Celsius) (Priming, error) {
	if err := firstError(
		liquid.Within("bottle", float64(bottle), 0.1, 3, "L", "bottles in use"),
		liquid.Within("sugar left", float64(left), 0, 100, "g/L", "bench arithmetic"),
		liquid.Within("sugar each", float64(each), 0, 100, "g", "bench arithmetic"),
		liquid.Within("cellar", float64(cellar), 0, 30, "°C", "bench arithmetic")); err != nil {
		return Priming{}, err
	}
	added := liquid.GramsPerLitre(float64(each) / float64(bottle))
	out := Priming{PerBottle: each, PerLitre: added, Ferments: left + added}
	var err error
	if out.Warm, err = liquid.BottlePressure(out.Ferments, liquid.DissolvedDegassed, SummerHeat); err != nil {
		return Priming{}, err
	}
	if out.Cellar, err = liquid.BottlePressure(out.Ferments, liquid.DissolvedDegassed, cellar); err != nil {
		return Priming{}, err
	}
	limit, fizzy := glassLimit[g]
	out.Warnings = warn(nil, !fizzy, NeverStillGlass)
	// A hair is allowed, so that the answer of PrimingFor is not over its own limit.
	out.Warnings = warn(out.Warnings, fizzy && out.Ferments > limit+1e-9, OverGlassLimit)
	return out, nil
}

// BottleCount is how many bottles litres fill.
type BottleCount struct{ Low, High int }

// usualLoss is what a bottling of 23 L loses to lees and hose, in litres (common
// practice).
const (
	usualLossLow  = 1.0 / 23
	usualLossHigh = 1.5 / 23
)

// BottlesFrom returns how many bottles of a size v litres fill after the usual loss, 1
// to 1.5 L of 23. Range: bottles 0.05 to 60 L; else a *liquid.RangeError. Source:
// common practice for the loss. Example: 23 L fill 28 or 29 of 0.75 L.
func BottlesFrom(v, bottle liquid.Litres) (BottleCount, error) {
	if err := firstError(checkVolume(v), liquid.Within("bottle", float64(bottle), 0.05, 60, "L", "bottles in use")); err != nil {
		return BottleCount{}, err
	}
	fills := func(loss float64) int { return int(float64(v)*(1-loss)/float64(bottle) + 1e-9) }
	return BottleCount{fills(usualLossHigh), fills(usualLossLow)}, nil
}
