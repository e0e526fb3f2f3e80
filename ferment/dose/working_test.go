package dose

import (
	"math"
	"testing"

	"mustbook/ferment/liquid"

	"pgregory.net/rapid"
)

// By hand from masses: sugar takes 0.62 L a kilogram (27 CFR 24.181), so 23 L that weigh
// 24.107 kg and read 1.050 come to 1.060 when (24.107 + m) = 1.060·0.9982·(23 + 0.62·m):
// m = 0.668 kg. Honey of 80 % brings that with a quarter of its weight in water:
// (24.107 + m) = 1.0581·(23 + (0.496 + 0.2)·m), m = 0.873 kg.
func TestSugarAndHoneyIntoAFerment(t *testing.T) {
	s := must(SweetenTo(23, 1.050, 5.3, 1.060))(t)
	near(t, "sugar", s.Grams, 668, 15)
	near(t, "alcohol thinned", s.ABV, 5.3*23/(23+0.62*0.668), 0.02)
	h := must(HoneyTo(23, 1.050, 5.3, 1.060))(t)
	near(t, "honey", h.Grams, 873, 25)
	near(t, "volume", h.Volume, 23+0.696*0.873, 0.02)
	warned(t, h.Warnings, HoneyVaries, true)
	_, err := HoneyTo(23, 1.050, 5.3, 1.040)
	refused(t, "honey down", err)
	_, err = HoneyTo(0, 1.050, 5.3, 1.060)
	refused(t, "no volume", err)
}

// N.B.S. circular C440: 24.6 °Brix are 1.1035; 5.41 + 1 kg in 23.62 L are 271 g/L.
func TestStartWith(t *testing.T) {
	near(t, "start", must(StartWith(23, 1.090, 1000))(t), 1.1035, 0.0007)
	_, err := StartWith(23, 1.3, 1000)
	refused(t, "strong", err)
}

// By hand, volumes added: (23·1.050 + w) ÷ (23 + w) = 1.040 gives w = 5.75.
func TestWaterIntoAFerment(t *testing.T) {
	d, w, err := WaterTo(23, 1.050, 5.3, 1.040)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "water", w, 5.75, 0.1)
	near(t, "alcohol", d.ABV, 5.3*23/28.75, 0.03)
	near(t, "gravity", d.Gravity, 1.040, 1e-6)
	_, _, err = WaterTo(23, 0.995, 12, 1.001)
	refused(t, "dry", err)
	_, _, err = WaterTo(23, 1.050, 5.3, 1.060)
	refused(t, "up", err)
}

// By hand: 23 L of 1.070 (17.06 °Brix by N.B.S. C440) hold 4.19 kg of sugar in 24.57 kg;
// 25 L of 1.085 (20.45 °Brix) hold 5.54 in 27.08. So 1.35 kg of sugar and 1.16 of water.
func TestMakeUp(t *testing.T) {
	m := must(MakeUp(23, 1.070, 25, 1.085))(t)
	near(t, "sugar", m.Sugar, 1350, 15)
	near(t, "water", m.Water, 1.16, 0.03)
	_, err := MakeUp(23, 1.070, 23, 1.085)
	refused(t, "no room", err)
	_, err = MakeUp(23, 1.090, 24, 1.070)
	refused(t, "too sweet already", err)
}

// Mass and sugar are conserved, and going back by the same amount leads back.
func TestWorkingDosesConserve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := liquid.Litres(rapid.Float64Range(1, 60).Draw(t, "v"))
		from := liquid.Gravity(rapid.Float64Range(1.010, 1.090).Draw(t, "from"))
		abv := liquid.PercentVol(rapid.Float64Range(0, 12).Draw(t, "abv"))
		to := from + liquid.Gravity(rapid.Float64Range(0.001, 0.03).Draw(t, "rise"))
		h, err := HoneyTo(v, from, abv, to)
		if err != nil {
			t.Fatal(err)
		}
		s, err := SweetenTo(v, from, abv, to)
		if err != nil {
			t.Fatal(err)
		}
		if h.Grams*HoneySugar < s.Grams || h.Grams < 1.25*s.Grams {
			t.Fatalf("honey thins too: %v against %v of sugar", h.Grams, s.Grams)
		}
		mass := float64(h.Volume)*float64(h.Gravity) - float64(h.Grams)/liquid.StandardDensityOfWater
		if math.Abs(mass-float64(v)*float64(from)) > 1e-6*float64(v) {
			t.Fatalf("mass: %v and %v", mass, float64(v)*float64(from))
		}
		d, w, err := WaterTo(h.Volume, h.Gravity, h.ABV, from)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(d.Gravity-from)) > 1e-6 || w <= 0 {
			t.Fatalf("water leads back to %v, not %v", d.Gravity, from)
		}
		more, err := HoneyTo(v, from, abv, to+0.001)
		if err != nil || more.Grams <= h.Grams {
			t.Fatalf("a higher target takes more: %v, %v", more.Grams, err)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		v := liquid.Litres(rapid.Float64Range(1, 60).Draw(t, "v"))
		from := liquid.Gravity(rapid.Float64Range(1.01, 1.08).Draw(t, "from"))
		to := from + liquid.Gravity(rapid.Float64Range(0, 0.02).Draw(t, "rise"))
		final := v * liquid.Litres(rapid.Float64Range(1.1, 2).Draw(t, "by"))
		m, err := MakeUp(v, from, final, to)
		if err != nil {
			t.Fatal(err)
		}
		mix, err := liquid.SolutionOf(v, from, 0)
		if err != nil {
			t.Fatal(err)
		}
		mix = mix.WithSugar(m.Sugar).WithWater(m.Water)
		if math.Abs(float64(mix.Volume()-final)) > 1e-3 || math.Abs(float64(mix.Gravity()-to)) > 1e-5 {
			t.Fatalf("made %v L of %v", mix.Volume(), mix.Gravity())
		}
	})
}
