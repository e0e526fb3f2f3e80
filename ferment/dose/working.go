package dose

import (
	"math"

	"mustbook/ferment/liquid"
)

// honey returns what m grams of honey add: 80 % sugar, the rest water.
func honey(m liquid.Grams) liquid.Solution {
	return liquid.Solution{Mass: m, Sugar: HoneySugar * m}
}

// HoneyTo is SweetenTo for honey, into a must that works or a wine. Range: that of
// SweetenTo. Source: mass balance with Tabarié's sum; the 80 % are common practice.
// Example: 23 L of 1.050 with 5.3 % vol to 1.060 take 0.87 kg.
func HoneyTo(v liquid.Litres, from liquid.Gravity, abv liquid.PercentVol, to liquid.Gravity) (Sweetening, error) {
	s, err := wine(v, from, abv)
	if err != nil {
		return Sweetening{}, err
	}
	most := liquid.Grams(mostSweetening * float64(v))
	if err := liquid.Within("target gravity", float64(to), float64(from)-1e-9, float64(s.Plus(honey(most)).Gravity()), "", sourceWine); err != nil {
		return Sweetening{}, err
	}
	grams := liquid.Grams(bisect(0, float64(most), func(m float64) float64 {
		return float64(s.Plus(honey(liquid.Grams(m))).Gravity() - to)
	}))
	after := s.Plus(honey(grams))
	volume := after.Volume()
	return Sweetening{
		Grams: grams, PerLitre: liquid.GramsPerLitre(float64(grams) / float64(volume)), Volume: volume, Gravity: after.Gravity(), ABV: after.ABV(),
		Doubt:    liquid.Grams(math.Hypot(float64(readingDoubt)*gramsPerGravity(s, HoneySugar*grams)/HoneySugar, honeyDoubt*float64(grams))),
		Warnings: warn([]Warning{HoneyVaries}, grams > 0 && abv > 0, NeedsStabilising),
	}, nil
}

// StartWith returns the original gravity by which alcohol is reckoned once so much
// sugar went into v litres that began at og: that of a must which had it from the
// start. Range: og 1.000 to 1.200, sugar 0 to 400 g a litre; else a *liquid.RangeError.
// Source: mass balance on the sucrose table. Example: 1 kg into 23 L of 1.090 counts as
// a start of 1.1035.
func StartWith(v liquid.Litres, og liquid.Gravity, sugar liquid.Grams) (liquid.Gravity, error) {
	must, err := AddSugar(v, og, 0, sugar)
	return must.Gravity, err
}

// WaterTo returns the water that brings v litres of a must that works, or of a wine
// with sugar in it, down to a gravity; a dry wine under 1.000 comes nearer to that
// with water and not below. Range: gravities 1.001 to 1.200, the target not above; else
// a *liquid.RangeError. Source: mass balance with Tabarié's sum. Example: 23 L of 1.050
// with 5.3 % vol come to 1.040 with 5.8 L.
func WaterTo(v liquid.Litres, from liquid.Gravity, abv liquid.PercentVol, to liquid.Gravity) (Diluted, liquid.Litres, error) {
	if err := firstError(liquid.Within("gravity", float64(from), 1.001, 1.2, "", sourceWine),
		liquid.Within("target gravity", float64(to), 1.001, float64(from), "", sourceWine)); err != nil {
		return Diluted{}, 0, err
	}
	s, err := wine(v, from, abv)
	if err != nil {
		return Diluted{}, 0, err
	}
	litres := liquid.Litres(bisect(0, 1000*float64(v), func(w float64) float64 {
		return float64(to - s.WithWater(liquid.Litres(w)).Gravity())
	}))
	d, err := WaterInto(v, from, abv, litres)
	return d, litres, err
}

// MadeUp is sugar, and water beside it, to make a must up to a volume.
type MadeUp struct {
	Sugar    liquid.Grams
	Water    liquid.Litres
	Volume   liquid.Litres
	Warnings []Warning
}

// MakeUp returns the sugar and the water that turn all of v litres of must into a final
// volume of a gravity.
//
//	sugar = M2·w2 − M1·w1, water = M2 − M1 − sugar, M the masses
//
// Range: gravities 1.000 to 1.200, enough room in the final volume for what is there and
// its sugar, and not more sugar there than is wanted; else a *liquid.RangeError. Source:
// mass balance on the ICUMSA sucrose table. Example: 23 L of 1.070 to 25 L of 1.085 take
// 1.35 kg of sugar and 1.2 L of water.
func MakeUp(v liquid.Litres, from liquid.Gravity, final liquid.Litres, to liquid.Gravity) (MadeUp, error) {
	if err := firstError(checkVolume(v), checkVolume(final), liquid.Within("gravity of the must", float64(from), 1, 1.2, "", sourceMust),
		liquid.Within("target gravity", float64(to), 1, 1.2, "", sourceMust)); err != nil {
		return MadeUp{}, err
	}
	m1, m2 := massOf(v, from), massOf(final, to)
	sugar := m2*float64(to.Brix())/100 - m1*float64(from.Brix())/100
	water := m2 - m1 - sugar
	if err := firstError(liquid.Within("sugar", sugar, 0, mostSweetening*float64(final), "g", sourceMust),
		liquid.Within("water", water, 0, m2, "g", sourceMust)); err != nil {
		return MadeUp{}, err
	}
	return MadeUp{liquid.Grams(sugar), litresOf(water, 1), final, warn(nil, to > StrongFrom, StrongMust)}, nil
}
