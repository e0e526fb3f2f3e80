package dose

import (
	"math"

	"mustbook/ferment/liquid"
)

// HoneySugar is the share of sugar in honey, the rest is water (common practice).
const HoneySugar = 0.80

// honeyDoubt is the share by which that differs from jar to jar.
const honeyDoubt = 0.04

// readingDoubt is the doubt of one home reading (common practice).
const readingDoubt liquid.Gravity = 0.001

const sourceMust = "mass balance on the sucrose table"

// Sugar is how much sugar (or honey) to stir in.
type Sugar struct {
	Grams    liquid.Grams
	Doubt    liquid.Grams         // ±, from 0.001 on the reading and what honey varies
	Must     liquid.Litres        // of must to take
	Volume   liquid.Litres        // what it makes
	PerLitre liquid.GramsPerLitre // grams by the litre that the question named
	Warnings []Warning
}

// mustFractions checks the way up from one gravity of a must to another and
// returns the mass fractions of sugar.
func mustFractions(v liquid.Litres, from, to liquid.Gravity) (w1, w2 float64, err error) {
	err = firstError(checkVolume(v),
		liquid.Within("gravity of the must", float64(from), 1, 1.2, "", sourceMust),
		liquid.Within("target gravity", float64(to), float64(from), 1.2, "", sourceMust))
	return float64(from.Brix()) / 100, float64(to.Brix()) / 100, err
}

func massOf(v liquid.Litres, g liquid.Gravity) float64 {
	return float64(v) * float64(g) * liquid.StandardDensityOfWater
}

func litresOf(mass float64, g liquid.Gravity) liquid.Litres {
	return liquid.Litres(mass / float64(g) / liquid.StandardDensityOfWater)
}

// SugarInto returns the dry sugar to stir into v litres of must as they are, to
// lift them from one gravity to another. The volume grows by about 0.62 L/kg.
//
//	m = M·(w2 − w1) ÷ (1 − w2)
//
// Range: gravities 1.000 to 1.200, the target not below; else a *liquid.RangeError.
// Source: mass balance on the ICUMSA sucrose table. Example: 1.070 to 1.090 takes
// 61.5 g per litre; 23 L take 1.41 kg and become 23.9 L.
func SugarInto(v liquid.Litres, from, to liquid.Gravity) (Sugar, error) {
	return intoMust(v, from, to, 1)
}

// HoneyInto is SugarInto for honey of 80 % sugar. Range: as SugarInto. Source:
// common practice for the 80 %. Example: 23 L from 1.070 to 1.090 take 1.90 kg.
func HoneyInto(v liquid.Litres, from, to liquid.Gravity) (Sugar, error) {
	return intoMust(v, from, to, HoneySugar)
}

func intoMust(v liquid.Litres, from, to liquid.Gravity, share float64) (Sugar, error) {
	w1, w2, err := mustFractions(v, from, to)
	if err != nil {
		return Sugar{}, err
	}
	grams := func(w float64) float64 { return massOf(v, from) * (w2 - w) / (share - w2) }
	m := grams(w1)
	near := grams(float64((from + readingDoubt).Brix()) / 100)
	return finish(Sugar{
		Grams: liquid.Grams(m), Must: v, Volume: litresOf(massOf(v, from)+m, to),
		PerLitre: liquid.GramsPerLitre(m / float64(v)),
	}, m-near, share, to), nil
}

// finish sets the doubt and the warnings of an answer.
func finish(s Sugar, byReading, share float64, to liquid.Gravity) Sugar {
	if share < 1 {
		s.Doubt = liquid.Grams(math.Hypot(byReading, honeyDoubt*float64(s.Grams)))
		s.Warnings = append(s.Warnings, HoneyVaries)
	} else {
		s.Doubt = liquid.Grams(math.Abs(byReading))
	}
	s.Warnings = warn(s.Warnings, to > StrongFrom, StrongMust)
	return s
}

// SugarForFinal returns sugar and must that together make v litres of the target
// gravity.
//
//	m = M·(w2 − w1) ÷ (1 − w1), M the mass of the final volume
//
// Range and source: those of SugarInto. Example: 23 L of 1.090 from a must of 1.070
// are 1.36 kg into 22.15 L, 59.2 g per litre.
func SugarForFinal(v liquid.Litres, from, to liquid.Gravity) (Sugar, error) {
	return forFinal(v, from, to, 1)
}

// HoneyForFinal is SugarForFinal for honey; from water (1.000) it is a mead. Range:
// as SugarInto. Source: common practice for the 80 %. Example: 3.6 L of 1.085 from
// water take 1 kg of honey.
func HoneyForFinal(v liquid.Litres, from, to liquid.Gravity) (Sugar, error) {
	return forFinal(v, from, to, HoneySugar)
}

func forFinal(v liquid.Litres, from, to liquid.Gravity, share float64) (Sugar, error) {
	w1, w2, err := mustFractions(v, from, to)
	if err != nil {
		return Sugar{}, err
	}
	mass := massOf(v, to)
	m := mass * (w2 - w1) / (share - w1)
	wNear := float64((from + readingDoubt).Brix()) / 100
	return finish(Sugar{
		Grams: liquid.Grams(m), Must: litresOf(mass-m, from), Volume: v,
		PerLitre: liquid.GramsPerLitre(m / float64(v)),
	}, m-mass*(w2-wNear)/(share-wNear), share, to), nil
}

// SugarBeforeWater returns the sugar where water is still to be added up to v
// litres, and from is what the must would read at v without sugar. The water makes
// room, so this is the least of the three. Must is 0: how much is there is not
// asked.
//
//	m = V·(E2 − E1), E the extract in g/L
//
// Range and source: those of SugarInto. Example: 1.070 to 1.090 takes 52.5 g per
// litre of v.
func SugarBeforeWater(v liquid.Litres, from, to liquid.Gravity) (Sugar, error) {
	if _, _, err := mustFractions(v, from, to); err != nil {
		return Sugar{}, err
	}
	per := liquid.Extract(to) - liquid.Extract(from)
	near := liquid.Extract(to) - liquid.Extract(from+readingDoubt)
	return finish(Sugar{Grams: liquid.Grams(float64(v) * float64(per)), Volume: v, PerLitre: per},
		float64(v)*float64(per-near), 1, to), nil
}

// Water is how much water brings a must down.
type Water struct {
	Litres   liquid.Litres // of water to add
	Doubt    liquid.Litres // ±, from 0.001 on the reading
	Volume   liquid.Litres // what it makes
	Warnings []Warning
}

// WaterToLower returns the water that brings v litres of must down from one gravity
// to another.
//
//	m = M·(w1 ÷ w2 − 1)
//
// Range: gravities 1.005 to 1.200, the target not above; else a *liquid.RangeError.
// Source: mass balance on the ICUMSA sucrose table. Example: 20 L of 1.100 need 2.2 L
// to come to 1.090.
func WaterToLower(v liquid.Litres, from, to liquid.Gravity) (Water, error) {
	if err := firstError(checkVolume(v),
		liquid.Within("gravity of the must", float64(from), 1.005, 1.2, "", sourceMust),
		liquid.Within("target gravity", float64(to), 1.005, float64(from), "", sourceMust)); err != nil {
		return Water{}, err
	}
	water := func(g liquid.Gravity) float64 {
		return massOf(v, g) * (float64(g.Brix())/float64(to.Brix()) - 1)
	}
	m := water(from)
	return Water{
		Litres:   litresOf(m, 1),
		Doubt:    litresOf(math.Abs(water(from+readingDoubt)-m), 1),
		Volume:   litresOf(massOf(v, from)+m, to),
		Warnings: []Warning{WeakensMust},
	}, nil
}
