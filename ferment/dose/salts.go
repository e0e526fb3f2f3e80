package dose

import "mustbook/ferment/liquid"

// Salt is a metabisulphite.
type Salt string

// The metabisulphites.
const (
	PotassiumSalt Salt = "potassium"
	SodiumSalt    Salt = "sodium"
)

// so2Share is the SO2 in a gram: 57.6 % (2·64.064 ÷ 222.32, the OIV codex from
// memory) and 67.4 % (2·64.064 ÷ 190.1).
var so2Share = map[Salt]float64{PotassiumSalt: 0.576, SodiumSalt: 0.674}

// SO2 is the share of a gram of the salt that is sulphur dioxide, 0 for none that is
// known.
func (s Salt) SO2() float64 { return so2Share[s] }

const sourceSulphite = "share of SO2 by atomic masses"

// Sulphite that raises a question, mg/L (common practice).
const (
	LargeAddition liquid.MilligramsPerLitre = 100
	HighTotal     liquid.MilligramsPerLitre = 150
)

// SmallestWeighed is what a kitchen scale still weighs, in grams (common practice).
const SmallestWeighed liquid.Grams = 1

// Sulphite is a dose of metabisulphite.
type Sulphite struct {
	Grams    liquid.Grams
	Adds     liquid.MilligramsPerLitre // SO2 that it adds
	Total    liquid.MilligramsPerLitre // running total after it
	Warnings []Warning
}

// SulphiteFor returns the metabisulphite that adds so much SO2 to v litres, over what
// was added before.
//
//	grams = mg/L·L ÷ 576 (potassium), ÷ 674 (sodium)
//
// Not all of it shows as free: of what goes into a young wine, 35 to 40 % may
// (Australian Wine Research Institute). Range: 0 to 500 mg/L, a known salt; else a
// *liquid.RangeError. Source: atomic masses. Example: 50 mg/L in 23 L take 2.0 g of
// the potassium salt.
func SulphiteFor(v liquid.Litres, adds, before liquid.MilligramsPerLitre, s Salt) (Sulphite, error) {
	if err := checkSulphite(v, adds, before, s); err != nil {
		return Sulphite{}, err
	}
	grams := float64(adds) * float64(v) / 1000 / so2Share[s]
	return sulphite(liquid.Grams(grams), adds, before), nil
}

// SulphiteOf is the inverse of SulphiteFor: what so many grams add to v litres.
// Example: 6 g of the potassium salt in 23 L add 150 mg/L, which raises a question.
func SulphiteOf(v liquid.Litres, grams liquid.Grams, before liquid.MilligramsPerLitre, s Salt) (Sulphite, error) {
	adds := liquid.MilligramsPerLitre(float64(grams) * so2Share[s] * 1000 / float64(v))
	if err := checkSulphite(v, adds, before, s); err != nil {
		return Sulphite{}, err
	}
	return sulphite(grams, adds, before), nil
}

func sulphite(grams liquid.Grams, adds, before liquid.MilligramsPerLitre) Sulphite {
	ws := warn(nil, adds > 0, PartBinds)
	ws = warn(ws, adds > LargeAddition, LargeSulphite)
	ws = warn(ws, adds+before > HighTotal, HighTotalSulphite)
	ws = warn(ws, grams > 0 && grams < SmallestWeighed, TooSmallToWeigh)
	return Sulphite{grams, adds, before + adds, ws}
}

func checkSulphite(v liquid.Litres, adds, before liquid.MilligramsPerLitre, s Salt) error {
	return firstError(checkVolume(v),
		liquid.Within("SO2 added", float64(adds), 0, 500, "mg/L", sourceSulphite),
		liquid.Within("SO2 before", float64(before), 0, 1000, "mg/L", sourceSulphite),
		liquid.Within("SO2 in "+string(s)+" metabisulphite", so2Share[s], 0.5, 0.7, "", sourceSulphite))
}

// Milligrams of SO2 in one Campden tablet: 50 to 67 mg/L in 4.5 L (a sulphite leaflet,
// docslib 3335183), and TabletMilligrams in the middle.
const (
	tabletLow        = 50 * 4.5
	tabletHigh       = 67 * 4.5
	TabletMilligrams = (tabletLow + tabletHigh) / 2
)

// Estimate is a figure with its bounds.
type Estimate struct {
	Value, Low, High float64
	Warnings         []Warning
}

// TabletsFor returns how many Campden tablets add so much SO2 to v litres, as an
// estimate: tablets vary, the tub's label wins. Range: 0 to 500 mg/L, else a
// *liquid.RangeError. Source: a sulphite leaflet, 50 to 67 mg/L from one in 4.5 L.
// Example: 50 mg/L in 4.5 L take about 0.9 tablets.
func TabletsFor(v liquid.Litres, adds liquid.MilligramsPerLitre) (Estimate, error) {
	if err := checkSulphite(v, adds, 0, PotassiumSalt); err != nil {
		return Estimate{}, err
	}
	mg := float64(adds) * float64(v)
	return Estimate{mg / TabletMilligrams, mg / tabletHigh, mg / tabletLow, []Warning{TabletsVary}}, nil
}

// TabletsOf is the inverse of TabletsFor: the SO2 in mg/L that n tablets add. Range: 0
// to 1000 tablets. Example: one in 4.5 L adds about 58 mg/L, 50 to 67.
func TabletsOf(v liquid.Litres, n float64) (Estimate, error) {
	if err := firstError(checkVolume(v), liquid.Within("tablets", n, 0, 1000, "", "bench arithmetic")); err != nil {
		return Estimate{}, err
	}
	per := n / float64(v)
	return Estimate{per * TabletMilligrams, per * tabletLow, per * tabletHigh, []Warning{TabletsVary}}, nil
}

// Sorbic acid: its share in the potassium salt (112.127 ÷ 150.22; OIV codex
// COEI-1-POTSOR, 74 %) and its limit in mg/L (same monograph, OIV II.3.4.5).
const (
	sorbicShare                             = 0.7464
	SorbicLimit                             = 200
	SorbateLimit                            = SorbicLimit / sorbicShare // 268 mg/L of the salt
	sourceSorbate                           = "OIV II.3.4.5, COEI-1-POTSOR"
	SorbateUsual  liquid.MilligramsPerLitre = 250 // of the salt (L. Eisenman, Stabilizing Sweet Wines)
)

// Sorbate is a dose of potassium sorbate.
type Sorbate struct {
	Grams    liquid.Grams
	Salt     liquid.MilligramsPerLitre // potassium sorbate that it adds
	Sorbic   liquid.MilligramsPerLitre // sorbic acid in the wine after it
	Warnings []Warning
}

// SorbateFor returns the potassium sorbate for so many mg/L of it in v litres, over
// what was added before, never past 200 mg/L of sorbic acid (268 of the salt). Where
// malolactic bacteria live or lived it gives none, since they turn it into a geranium
// smell without a cure. It needs sulphite beside it and stops no working wine. Range:
// 0 to 1000 mg/L; else a *liquid.RangeError. Source: OIV II.3.4.5 and COEI-1-POTSOR.
// Example: 250 mg/L in 23 L take 5.75 g.
func SorbateFor(v liquid.Litres, want, before liquid.MilligramsPerLitre, malolactic bool) (Sorbate, error) {
	if err := firstError(checkVolume(v),
		liquid.Within("potassium sorbate", float64(want), 0, 1000, "mg/L", sourceSorbate),
		liquid.Within("potassium sorbate before", float64(before), 0, 1000, "mg/L", sourceSorbate)); err != nil {
		return Sorbate{}, err
	}
	if malolactic {
		return Sorbate{Sorbic: before * sorbicShare, Warnings: []Warning{Geranium}}, nil
	}
	salt := min(want, max(0, SorbateLimit-before))
	grams := liquid.Grams(float64(salt) * float64(v) / 1000)
	ws := warn([]Warning{NeedsSulphite}, salt < want, SorbateCapped)
	return Sorbate{
		Grams: grams, Salt: salt, Sorbic: (before + salt) * sorbicShare,
		Warnings: warn(ws, grams > 0 && grams < SmallestWeighed, TooSmallToWeigh),
	}, nil
}
