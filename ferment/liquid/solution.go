package liquid

// fractionEnd bounds the mass fractions that a solve looks at.
const fractionEnd = 0.9

// Everything composed at 20 °C goes through these two curves.
var (
	sucrose20 = sucroseAt(20)
	ethanol20 = ethanolAt(20)
)

// pureEthanol is the density of pure ethanol at 20 °C in kg/m³, 789.24 by OIML
// R 22; a hundredth of it is what 1 % vol weighs in g/L, 7.8924.
var pureEthanol = StandardDensityOfWater + func() float64 { e, _ := ethanol20.excess(1); return e }()

// sugarFraction returns the mass fraction of sucrose in a solution that holds e
// g/L of it at 20 °C. A negative e, down to −300, is the smooth continuation.
func sugarFraction(e float64) float64 {
	w, _ := root(-0.5, fractionEnd, e/(StandardDensityOfWater+0.39*e), 1e-12, func(w float64) (float64, float64) {
		x, slope := sucrose20.excess(w)
		rho := StandardDensityOfWater + x
		return w*rho - e, rho + w*slope
	})
	return w
}

// ethanolFraction returns the mass fraction of ethanol in a mixture with water
// of the given strength at 20 °C, for 0 to 90 % vol.
func ethanolFraction(abv float64) float64 {
	c := abv * pureEthanol / 100
	q, _ := root(0, 1, c/StandardDensityOfWater, 1e-12, func(q float64) (float64, float64) {
		x, slope := ethanol20.excess(q)
		rho := StandardDensityOfWater + x
		return q*rho - c, rho + q*slope
	})
	return q
}

// sugarExcess is what e g/L of extract add to the density of water at 20 °C.
func sugarExcess(e float64) float64 {
	x, _ := sucrose20.excess(sugarFraction(e))
	return x
}

// ethanolExcess is what abv % vol add to the density of water at 20 °C; below 0.
func ethanolExcess(abv float64) float64 {
	x, _ := ethanol20.excess(ethanolFraction(abv))
	return x
}

// Extract returns the sucrose in g per litre of a solution of that gravity, at
// 20 °C: the extract of a must. Below 1.000 it is negative, the smooth
// continuation of the table, so that differences stay right. It holds from 0.970
// to 1.300. Source: the ICUMSA polynomial of SucroseDensity. Example: 1.090
// gives 235 g/L.
func Extract(g Gravity) GramsPerLitre {
	w := fractionOfGravity(g)
	return GramsPerLitre(w * float64(g) * StandardDensityOfWater)
}

// GravityOfExtract is the inverse of Extract: the gravity of a sucrose solution
// of e g/L. It holds from −80 to 850 g/L. Example: 10 g/L gives 1.0039.
func GravityOfExtract(e GramsPerLitre) Gravity {
	return Gravity(1 + sugarExcess(float64(e))/StandardDensityOfWater)
}

// fractionOfGravity returns the mass fraction of sucrose of a pure solution.
func fractionOfGravity(g Gravity) float64 {
	excess := (float64(g) - 1) * StandardDensityOfWater
	w, _ := root(-0.5, fractionEnd, excess/400, 1e-12, func(w float64) (float64, float64) {
		x, slope := sucrose20.excess(w)
		return x - excess, slope
	})
	return w
}

// ExtractWithAlcohol returns the extract in g/L of a wine of gravity g and
// strength abv, by Tabarié: the gravity of what stays when the alcohol is driven
// off and water put in its place is
//
//	d_r = d − d_a + 1
//
// with d_a the gravity of ethanol and water of the same strength, and d_r is
// read in the sucrose table. Source: OIV-MA-AS2-03B. Range: gravity 0.970 to
// 1.210, 0 to 30 % vol; outside, a *RangeError. Example: 0.995 and 12.72 % vol
// leave 30 g/L, of which some 22 are no sugar.
func ExtractWithAlcohol(g Gravity, abv PercentVol) (GramsPerLitre, error) {
	if err := Within("gravity", float64(g), 0.970, 1.210, "", "Tabarié by the sucrose table"); err != nil {
		return 0, err
	}
	if err := Within("alcohol", float64(abv), 0, 30, "% vol", "Tabarié, OIV-MA-AS2-03B"); err != nil {
		return 0, err
	}
	return Extract(g - Gravity(ethanolExcess(float64(abv))/StandardDensityOfWater)), nil
}

// Solution is a must or wine as the masses in it, which add up where volumes do
// not. Sugar is extract counted as sucrose; the rest of Mass is water.
type Solution struct {
	Mass, Sugar, Ethanol Grams
}

// SolutionOf returns v litres at 20 °C of a liquid of that gravity and strength.
// Range: that of ExtractWithAlcohol and 0 to 100,000 L; outside, a *RangeError.
// Example: 23 L of 1.070 hold 4.19 kg of extract and weigh 24.6 kg.
func SolutionOf(v Litres, g Gravity, abv PercentVol) (Solution, error) {
	if err := Within("volume", float64(v), 0, 100_000, "L", "mass balance"); err != nil {
		return Solution{}, err
	}
	e, err := ExtractWithAlcohol(g, abv)
	if err != nil {
		return Solution{}, err
	}
	return Solution{
		Mass:    Grams(float64(v) * float64(g) * StandardDensityOfWater),
		Sugar:   Grams(float64(v) * float64(e)),
		Ethanol: Grams(float64(v) * float64(abv) * pureEthanol / 100),
	}, nil
}

// Plus returns the two poured together. Masses add; the volume follows.
func (s Solution) Plus(t Solution) Solution {
	return Solution{s.Mass + t.Mass, s.Sugar + t.Sugar, s.Ethanol + t.Ethanol}
}

// WithSugar returns s with m grams of dry sugar dissolved in it.
func (s Solution) WithSugar(m Grams) Solution {
	return s.Plus(Solution{Mass: m, Sugar: m})
}

// WithWater returns s with v litres of water at 20 °C in it.
func (s Solution) WithWater(v Litres) Solution {
	return s.Plus(Solution{Mass: Grams(float64(v) * StandardDensityOfWater)})
}

// Volume returns the litres at 20 °C that s fills, so that Tabarié's sum of
// densities and the masses agree. An empty one fills none. Example: 1 kg of
// sugar takes about 0.62 L in a must of 20 %.
func (s Solution) Volume() Litres {
	if s.Mass <= 0 {
		return 0
	}
	m, sugar, eth := float64(s.Mass), float64(s.Sugar), float64(s.Ethanol)
	// Densities lie between 600 and 1600 kg/m³; the left side rises with v, and
	// a numeric slope is enough for a solve that runs once per answer.
	surplus := func(v float64) float64 {
		rho := StandardDensityOfWater + sugarExcess(clamp(sugar/v, -300, 1200)) +
			ethanolExcess(clamp(eth/v*100/pureEthanol, 0, 99))
		return rho*v - m
	}
	v, _ := root(m/1600, m/600, m/StandardDensityOfWater, m*1e-13, func(v float64) (float64, float64) {
		h := v * 1e-6
		y := surplus(v)
		return y, (surplus(v+h) - y) / h
	})
	return Litres(v)
}

// Gravity returns the specific gravity of s at 20 °C; 0 for an empty one.
func (s Solution) Gravity() Gravity {
	v := s.Volume()
	if v == 0 {
		return 0
	}
	return Gravity(float64(s.Mass) / float64(v) / StandardDensityOfWater)
}

// ABV returns the strength of s in % vol; 0 for an empty one.
func (s Solution) ABV() PercentVol {
	v := s.Volume()
	if v == 0 {
		return 0
	}
	return PercentVol(float64(s.Ethanol) / float64(v) / pureEthanol * 100)
}
