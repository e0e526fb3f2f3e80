package dose

import "mustbook/ferment/liquid"

// Powder is something that is measured by the spoon.
type Powder string

// The powders.
const (
	PotassiumMetabisulphite Powder = "potassium metabisulphite"
	SodiumMetabisulphite    Powder = "sodium metabisulphite"
	PotassiumSorbate        Powder = "potassium sorbate"
	Bentonite               Powder = "bentonite"
	TableSugar              Powder = "sugar"
	Nutrient                Powder = "nutrient"
	TartaricAcid            Powder = "tartaric acid"
	CitricAcid              Powder = "citric acid"
	PotassiumBicarbonate    Powder = "potassium bicarbonate"
	Tannin                  Powder = "tannin"
	PecticEnzyme            Powder = "pectic enzyme"
)

// spoonfuls holds the grams in a level teaspoon of 5 ml and the share by which they
// differ, all common practice without a source.
var spoonfuls = map[Powder]struct{ grams, doubt float64 }{
	PotassiumMetabisulphite: {5.75, 0.20},
	SodiumMetabisulphite:    {5.75, 0.20},
	PotassiumSorbate:        {2.75, 0.25},
	Bentonite:               {3.5, 0.15},
	TableSugar:              {4.2, 0.15},
	Nutrient:                {4, 0.25},
	TartaricAcid:            {5, 0.20},
	CitricAcid:              {4.5, 0.20},
	PotassiumBicarbonate:    {5, 0.20},
	Tannin:                  {2.5, 0.30},
	PecticEnzyme:            {3, 0.30},
}

const sourceSpoon = "common practice: a spoon is not a scale"

// TablespoonsInTeaspoons is how many teaspoons a tablespoon holds.
const TablespoonsInTeaspoons = 3

// SpoonGrams returns the grams in n level teaspoons of a powder as an estimate; into
// less than 10 L of wine (v; 0: unknown) sulphite and sorbate are to be weighed. Range:
// 0 to 200 spoons of a known powder; else a *liquid.RangeError. Source: common practice.
// Example: half a teaspoon of potassium metabisulphite is 2.9 g, 2.3 to 3.5.
func SpoonGrams(p Powder, n float64, v liquid.Litres) (Estimate, error) {
	s := spoonfuls[p]
	if err := firstError(liquid.Within("teaspoons", n, 0, 200, "", sourceSpoon),
		liquid.Within("grams in a teaspoon of "+string(p), s.grams, 0.1, 100, "g", sourceSpoon)); err != nil {
		return Estimate{}, err
	}
	g := n * s.grams
	return Estimate{g, g * (1 - s.doubt), g * (1 + s.doubt),
		warn([]Warning{SpoonEstimate}, v > 0 && v < 10 && p.mustBeWeighed(), WeighBelowTen)}, nil
}

// Spoons is the inverse of SpoonGrams: the level teaspoons of so many grams. Range: 0 to
// 1000 g. Example: 2 g of potassium metabisulphite are about a third of a teaspoon.
func Spoons(p Powder, g liquid.Grams, v liquid.Litres) (Estimate, error) {
	s := spoonfuls[p]
	if err := firstError(liquid.Within("grams", float64(g), 0, 1000, "g", sourceSpoon),
		liquid.Within("grams in a teaspoon of "+string(p), s.grams, 0.1, 100, "g", sourceSpoon)); err != nil {
		return Estimate{}, err
	}
	n := float64(g) / s.grams
	return Estimate{n, n / (1 + s.doubt), n / (1 - s.doubt),
		warn([]Warning{SpoonEstimate}, v > 0 && v < 10 && p.mustBeWeighed(), WeighBelowTen)}, nil
}

func (p Powder) mustBeWeighed() bool {
	return p == PotassiumMetabisulphite || p == SodiumMetabisulphite || p == PotassiumSorbate
}

// Stock is a solution to take a measured part of, thrown away the same day.
type Stock struct {
	Powder   liquid.Grams  // to dissolve
	MadeUpTo liquid.Litres // in water made up to this
	Take     liquid.Litres // of it
}

// StockFor returns a stock solution for a dose that is too small to weigh, and whether
// one is needed (below 1 g). It is 10 g in 100 ml, and for less than 0.1 g 10 g in 1 L,
// so that at least a millilitre is taken of all but the smallest. Range: 0.001 to
// 10,000 g; else a *liquid.RangeError. Source: common practice. Example: 0.39 g is 3.9
// ml of 10 g in 100 ml.
func StockFor(dose liquid.Grams) (Stock, bool, error) {
	if err := liquid.Within("dose", float64(dose), 0.001, 10_000, "g", "bench arithmetic"); err != nil {
		return Stock{}, false, err
	}
	if dose >= SmallestWeighed {
		return Stock{}, false, nil
	}
	s := Stock{Powder: 10, MadeUpTo: 0.1}
	if dose < 0.1 {
		s.MadeUpTo = 1
	}
	s.Take = s.MadeUpTo * liquid.Litres(dose/s.Powder)
	return s, true, nil
}
