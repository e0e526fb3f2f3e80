package dose

import "mustbook/ferment/liquid"

// dapNitrogen is the nitrogen in diammonium phosphate, 2·14.007 ÷ 132.056.
const dapNitrogen = 0.2121

const sourceNitrogen = "Bisson and Butzke 2000, from memory"

// leastNitrogen is what any must needs, mg N/L (Bisson and Butzke 2000, from memory).
const leastNitrogen = 140

// Nitrogen assumed in a must where it was not measured (common practice, no source):
// honey has almost none.
const (
	fruitNitrogen = 100
	honeyNitrogen = 20
)

// Ceiling is the most diammonium phosphate that a law lets in, g/L.
type Ceiling float64

// The ceilings.
const (
	CeilingOIV Ceiling = 0.3  // OIV code, annex A.1; later resolutions may differ
	CeilingUS  Ceiling = 0.96 // 8 lb per 1000 gallons, 27 CFR 24.246, from memory
)

// NitrogenNeed returns the yeast-assimilable nitrogen that a must of that gravity
// needs, in mg N/L: 200 at 21 °Brix, 250 at 23, 300 at 25, on the straight line, and
// never below 140. Range: gravity 1.000 to 1.130, else a *liquid.RangeError. Source:
// Bisson and Butzke, AJEV 51 (2000) 168, from memory. Example: 1.0875, 21 °Brix, needs
// 200.
func NitrogenNeed(og liquid.Gravity) (liquid.MilligramsPerLitre, error) {
	if err := liquid.Within("original gravity", float64(og), 1, 1.13, "", sourceNitrogen); err != nil {
		return 0, err
	}
	return liquid.MilligramsPerLitre(max(leastNitrogen, 200+25*(float64(og.Brix())-21))), nil
}

// FeedAt says when a portion goes in.
type FeedAt string

// The times of a portion.
const (
	AtLagEnd FeedAt = "end of lag" // at the pitch or when it works
	After24h FeedAt = "24 h"
	After48h FeedAt = "48 h"
	After72h FeedAt = "72 h"
	AtThird  FeedAt = "one third gone"
)

// Must is what a feeding is worked out for.
type Must struct {
	Volume   liquid.Litres
	OG       liquid.Gravity
	Nitrogen liquid.MilligramsPerLitre // measured YAN, mg N/L
	Measured bool                      // false: Nitrogen is assumed
	Mead     bool                      // honey: four steps
	Gone     float64                   // share of the sugar gone already
	Ceiling  Ceiling                   // 0 means CeilingOIV
}

// Portion is one feeding.
type Portion struct {
	At    FeedAt
	Grams liquid.Grams
}

// Feeding is a plan of diammonium phosphate.
type Feeding struct {
	Need     liquid.MilligramsPerLitre // nitrogen needed
	Short    liquid.MilligramsPerLitre // of it not there
	Grams    liquid.Grams              // in all
	Portions []Portion
	Warnings []Warning
}

// Feed returns the diammonium phosphate that a must lacks, in portions, under the
// ceiling: two, at the end of the lag and at one third of the sugar; for mead four,
// at 24, 48 and 72 h and at one third; those that are past are left out, and after two
// thirds there is none (common practice). Range: that of NitrogenNeed, nitrogen 0 to
// 1000 mg/L; else a *liquid.RangeError. Source: need by Bisson and Butzke 2000,
// ceilings by the OIV code and 27 CFR 24.246 (from memory). The packet's label wins.
// Example: 23 L of 1.0875 with 150 mg N/L lack 50 and take 5.5 g, half at a time.
func Feed(m Must) (Feeding, error) {
	need, err := NitrogenNeed(m.OG)
	err = firstError(err, checkVolume(m.Volume),
		liquid.Within("nitrogen", float64(m.Nitrogen), 0, 1000, "mg/L", sourceNitrogen),
		liquid.Within("share of sugar gone", m.Gone, 0, 1, "", sourceNitrogen),
		liquid.Within("ceiling", float64(m.Ceiling), 0, 2, "g/L", "law"))
	if err != nil {
		return Feeding{}, err
	}
	out := Feeding{Need: need, Warnings: warn(nil, !m.Measured, NitrogenAssumed)}
	out.Short = max(0, need-m.nitrogen())
	if m.Gone > 2.0/3 {
		out.Warnings = append(out.Warnings, TooLateToFeed)
		return out, nil
	}
	ceiling := float64(m.Ceiling)
	if ceiling == 0 {
		ceiling = float64(CeilingOIV)
	}
	per := float64(out.Short) / 1000 / dapNitrogen
	out.Warnings = warn(out.Warnings, per > ceiling, NutrientCapped)
	out.Grams = liquid.Grams(min(per, ceiling) * float64(m.Volume))
	if out.Grams > 0 {
		out.Portions = m.portions(out.Grams)
	}
	return out, nil
}

func (m Must) nitrogen() liquid.MilligramsPerLitre {
	switch {
	case m.Measured:
		return m.Nitrogen
	case m.Mead:
		return honeyNitrogen
	}
	return fruitNitrogen
}

// portions shares the grams among the feedings that are still to come.
func (m Must) portions(total liquid.Grams) []Portion {
	at := []FeedAt{AtLagEnd, AtThird}
	if m.Mead {
		at = []FeedAt{After24h, After48h, After72h, AtThird}
	}
	if m.Gone >= 1.0/3 {
		at = []FeedAt{AtThird} // the rest at once
	}
	out := make([]Portion, len(at))
	for i, a := range at {
		out[i] = Portion{a, total / liquid.Grams(len(at))}
	}
	return out
}

// Next returns the portion that comes after so much was given, empty where none does,
// and what is left of the plan: portions are filled one after the other, and what lacks
// less than a tenth counts as filled.
func (f Feeding) Next(given liquid.Grams) (next Portion, left liquid.Grams) {
	left = max(0, f.Grams-given)
	for _, p := range f.Portions {
		if given < 0.9*p.Grams {
			return Portion{p.At, min(p.Grams-max(0, given), left)}, left
		}
		given -= p.Grams
	}
	return Portion{}, 0
}
