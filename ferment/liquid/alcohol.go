package liquid

import "math"

// readingDoubt is the doubt of one home reading of a gravity (common practice);
// yieldDoubt the share by which the yield of alcohol varies.
const (
	readingDoubt = 0.001
	yieldDoubt   = 0.02
)

// riseAllowed is how far a gravity may stand above the original one, by the doubt
// of readings and by gas, before a balance is refused.
const riseAllowed = 0.003

// extractDeficit is the extract below zero, in g/L, that the doubt of two readings
// still explains; a wine further down never had that original gravity.
const extractDeficit = 12

// Alcohol is what a balance says of the alcohol made.
type Alcohol struct {
	ABV    PercentVol // % vol at 20 °C
	Doubt  PercentVol // ± of it
	Volume float64    // litres of wine per litre of must
}

// AlcoholByBalance returns the alcohol made between two gravities at 20 °C. Mass is
// conserved but for the carbon dioxide, and so is extract but for what fermented:
//
//	V = ρ_OG ÷ (ρ_now + 0.466·s)   E_OG − 0.96·s·V = E_now·V   A = s ÷ 16.83
//
// with E_now by Tabarié. The doubt is the root of the sum of squares of ± 0.001 on
// each reading and ± 2 % on the yield. Range: og 1.000 to 1.200, now 0.975 to
// 0.003 above og (at or above og nothing has fermented), and no gravity so low
// that more went than there was; outside, a *RangeError. Source: the rule of
// Tabarié (OIV-MA-AS2-03B) with the yield above. Example: 1.090 to 0.995
// gives 12.72 ± 0.3 % vol.
func AlcoholByBalance(og, now Gravity) (Alcohol, error) {
	st, err := fermented(og, now)
	if err != nil {
		return Alcohol{}, err
	}
	a := st.sugar / SugarPerPercent
	byOG := a - alcoholNear(og-readingDoubt, now)
	byNow := alcoholNear(og, now-readingDoubt) - a
	return Alcohol{
		ABV:    PercentVol(a),
		Doubt:  PercentVol(math.Hypot(math.Hypot(byOG, byNow), yieldDoubt*a)),
		Volume: float64(og) * StandardDensityOfWater / (st.rho + CO2PerSugar*st.sugar),
	}, nil
}

// alcoholNear is the alcohol at a gravity a little off a checked one.
func alcoholNear(og, now Gravity) float64 {
	st, _ := balanceFrom(og).reaches(float64(now)*StandardDensityOfWater, StandardDensityOfWater, &sucrose20, &ethanol20)
	return st.sugar / SugarPerPercent
}

// fermented checks the two gravities and finds the state that they stand for.
func fermented(og, now Gravity) (state, error) {
	if err := Within("original gravity", float64(og), 1, float64(HighestGravity), "", sourceBalance); err != nil {
		return state{}, err
	}
	if err := Within("gravity", float64(now), float64(LowestGravity), float64(og)+riseAllowed, "", sourceBalance); err != nil {
		return state{}, err
	}
	if now >= og {
		b := balanceFrom(og)
		return state{w: b.extract / b.rho, rho: b.rho}, nil
	}
	rho := float64(now) * StandardDensityOfWater
	st, ok := balanceFrom(og).reaches(rho, StandardDensityOfWater, &sucrose20, &ethanol20)
	if !ok || st.extract() < -extractDeficit {
		return state{}, &RangeError{"gravity", float64(now), float64(lowestFrom(og)), float64(og) + riseAllowed, "",
			"balance: more went than there was"}
	}
	return st, nil
}

// extract returns the extract of a state in g/L.
func (st state) extract() float64 {
	x, _ := sucrose20.excess(st.w)
	return st.w * (StandardDensityOfWater + x)
}

// lowestFrom is the gravity at which the extract of a ferment is used up.
func lowestFrom(og Gravity) Gravity {
	return Gravity(endOf(og, -extractDeficit).rho / StandardDensityOfWater)
}

// endOf is the state at which a ferment holds left g/L of extract.
func endOf(og Gravity, left float64) state {
	b := balanceFrom(og)
	w := b.extract / b.rho
	var st state
	// Less than 0.93 litres of wine from a litre of must is not reached.
	most := (b.extract - left) / (1 - staysAsExtract) / SugarPerPercent / 0.93
	root(0, ethanolFraction(most), b.extract/2000, 1e-10, func(q float64) (float64, float64) {
		st = b.at(q, w)
		w = st.w
		x, slope := sucrose20.excess(w)
		rho := StandardDensityOfWater + x
		return w*rho - left, (rho + w*slope) * st.wBy
	})
	return st
}

// PotentialAlcohol returns the strength of a must fermented dry, in % vol. Dry is
// where SugarLeft is nothing: 22 g/L of other extract stay. That lies near
// 0.992 from 1.090 and near 0.998 from 1.050. Range: og 1.000 to 1.200, else
// a *RangeError; a must of no more than 22 g/L has none. Source: the balance of
// AlcoholByBalance. Example: 1.050 gives about 7 % vol (common practice).
func PotentialAlcohol(og Gravity) (PercentVol, error) {
	if err := Within("original gravity", float64(og), 1, float64(HighestGravity), "", sourceBalance); err != nil {
		return 0, err
	}
	if Extract(og) <= OtherExtract {
		return 0, nil
	}
	return PercentVol(endOf(og, float64(OtherExtract)).sugar / SugarPerPercent), nil
}

// sugarDoubt is the spread of the other extract from wine to wine, g/L.
const sugarDoubt GramsPerLitre = 6

// Sugar is what a balance says of the sugar.
type Sugar struct {
	Left  GramsPerLitre // fermentable sugar left in the wine
	Doubt GramsPerLitre // ± of it
	Gone  float64       // share of the sugar gone, 0 to 1, unrounded
}

// SugarLeft returns the sugar left at gravity now of a must of gravity og:
//
//	left = max(0, extract now by Tabarié − 22)   gone = 1 − left ÷ (extract at og − 22)
//
// Left is told to ± 6 g/L, since the 22 g/L of other extract differ from wine to
// wine (common practice). Range: that of AlcoholByBalance; outside, a *RangeError.
// Example: 1.090 at 1.010 has 41 g/L left, at 0.995 8 g/L.
func SugarLeft(og, now Gravity) (Sugar, error) {
	st, err := fermented(og, now)
	if err != nil {
		return Sugar{}, err
	}
	left := math.Max(0, st.extract()-float64(OtherExtract))
	first := float64(Extract(og) - OtherExtract)
	gone := 1.0
	if first > 0 {
		gone = clamp(1-left/first, 0, 1)
	}
	return Sugar{GramsPerLitre(left), sugarDoubt, gone}, nil
}
