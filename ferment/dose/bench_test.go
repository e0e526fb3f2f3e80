package dose

import (
	"math"
	"testing"

	"mustbook/ferment/liquid"

	"pgregory.net/rapid"
)

// Bisson and Butzke 2000 (from memory): 200 mg N/L at 21 °Brix, 250 at 23, 300 at 25.
func TestNitrogenNeed(t *testing.T) {
	for b, want := range map[liquid.Brix]float64{10: 140, 21: 200, 23: 250, 25: 300} {
		og := must(liquid.GravityFromBrix(b))(t)
		near(t, "need", must(NitrogenNeed(og))(t), want, 0.01)
	}
	_, err := NitrogenNeed(1.14)
	refused(t, "strong", err)
}

// 27 CFR 24.246 (from memory): 0.9586 g/L of DAP are 203 mg N/L; OIV code, annex A.1:
// 0.3 g/L at most.
func TestFeed(t *testing.T) {
	near(t, "nitrogen of DAP", 0.9586*dapNitrogen*1000, 203, 0.5)
	f := must(Feed(Must{Volume: 10, OG: 1.0875, Nitrogen: 150, Measured: true}))(t)
	near(t, "short", f.Short, 50, 1)
	near(t, "grams", f.Grams, 10*50/212.1, 0.05)
	if len(f.Portions) != 2 || f.Portions[1].At != AtThird {
		t.Errorf("portions: %+v", f.Portions)
	}
	f = must(Feed(Must{Volume: 10, OG: 1.100, Mead: true}))(t)
	near(t, "under the OIV ceiling", f.Grams, 3, 1e-9)
	warned(t, f.Warnings, NutrientCapped, true)
	warned(t, f.Warnings, NitrogenAssumed, true)
	if len(f.Portions) != 4 {
		t.Errorf("mead goes in four steps: %+v", f.Portions)
	}
	us := must(Feed(Must{Volume: 10, OG: 1.100, Mead: true, Ceiling: CeilingUS}))(t)
	near(t, "under the US ceiling", us.Grams, 9.6, 1e-9)
	sum := liquid.Grams(0)
	for _, p := range us.Portions {
		sum += p.Grams
	}
	near(t, "portions add up", sum, float64(us.Grams), 1e-9)
	f = must(Feed(Must{Volume: 10, OG: 1.090, Gone: 0.7}))(t)
	near(t, "too late", f.Grams, 0, 0)
	warned(t, f.Warnings, TooLateToFeed, true)
	f = must(Feed(Must{Volume: 10, OG: 1.090, Gone: 0.5}))(t)
	if len(f.Portions) != 1 {
		t.Errorf("past one third the rest goes in at once: %+v", f.Portions)
	}
	f = must(Feed(Must{Volume: 10, OG: 1.050, Nitrogen: 300, Measured: true}))(t)
	if f.Grams != 0 || len(f.Portions) != 0 {
		t.Errorf("a fed must lacks nothing: %+v", f)
	}
	_, err := Feed(Must{Volume: 10, OG: 1.09, Gone: 1.1})
	refused(t, "gone", err)
}

// By hand: 10 L at 13.0 and 5 L at 10.0 are 12.0 %.
func TestBlend(t *testing.T) {
	a := Part{Volume: 10, Gravity: 0.994, ABV: 13, TA: 6, TotalSO2: 90, Has: HasGravity | HasABV | HasTA | HasTotal}
	b := Part{Volume: 5, Gravity: 1.000, ABV: 10, TA: 7.5, FreeSO2: 30, Has: HasGravity | HasABV | HasTA | HasFree}
	got := must(Blend(a, b))(t)
	near(t, "volume", got.Volume, 15, 1e-12)
	near(t, "alcohol", got.ABV, 12, 1e-12)
	near(t, "acid", got.TA, 6.5, 1e-12)
	near(t, "gravity", got.Gravity, 0.996, 1e-12)
	if got.Has != HasGravity|HasABV|HasTA || got.FreeSO2 != 0 || got.TotalSO2 != 0 {
		t.Errorf("only what is known of both is known: %+v", got)
	}
	warned(t, got.Warnings, MeasureAgain, true)
	near(t, "share", must(ShareFor(13, 10, 12))(t), 2.0/3, 1e-12)
	near(t, "share, the other way round", must(ShareFor(10, 13, 12))(t), 1.0/3, 1e-12)
	near(t, "share of equals", must(ShareFor(12, 12, 12))(t), 1, 0)
	_, err := ShareFor(13, 10, 14)
	refused(t, "outside", err)
	_, err = Blend()
	refused(t, "nothing", err)
	_, err = Blend(a, Part{})
	refused(t, "no volume", err)
	_, err = Blend(Part{Volume: 1, Gravity: 2, Has: HasGravity})
	refused(t, "gravity", err)
	_, err = Blend(Part{Volume: 1, ABV: 60, Has: HasABV})
	refused(t, "spirits", err)
}

// Volume and every solute are conserved, order does not matter, and the true volume by
// masses is the sum to 0.5 %.
func TestBlendConserves(t *testing.T) {
	draw := func(t *rapid.T, n string) Part {
		return Part{
			Volume:   liquid.Litres(rapid.Float64Range(0.1, 100).Draw(t, "v"+n)),
			Gravity:  liquid.Gravity(rapid.Float64Range(0.985, 1.05).Draw(t, "g"+n)),
			ABV:      liquid.PercentVol(rapid.Float64Range(5, 15).Draw(t, "a"+n)),
			TA:       liquid.GramsPerLitre(rapid.Float64Range(3, 10).Draw(t, "ta"+n)),
			TotalSO2: liquid.MilligramsPerLitre(rapid.Float64Range(0, 200).Draw(t, "so2"+n)),
			Has:      HasGravity | HasABV | HasTA | HasTotal,
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := draw(t, "1"), draw(t, "2")
		ab, errA := Blend(a, b)
		ba, errB := Blend(b, a)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		same := func(what string, x, y float64) {
			if math.Abs(x-y) > 1e-9*(1+math.Abs(x)) {
				t.Fatalf("%s: %v and %v", what, x, y)
			}
		}
		v1, v2, v := float64(a.Volume), float64(b.Volume), float64(ab.Volume)
		same("alcohol", float64(a.ABV)*v1+float64(b.ABV)*v2, float64(ab.ABV)*v)
		same("acid", float64(a.TA)*v1+float64(b.TA)*v2, float64(ab.TA)*v)
		same("SO2", float64(a.TotalSO2)*v1+float64(b.TotalSO2)*v2, float64(ab.TotalSO2)*v)
		same("mass", float64(a.Gravity)*v1+float64(b.Gravity)*v2, float64(ab.Gravity)*v)
		same("order", float64(ab.Gravity), float64(ba.Gravity))
		x, errX := liquid.SolutionOf(a.Volume, a.Gravity, a.ABV)
		y, errY := liquid.SolutionOf(b.Volume, b.Gravity, b.ABV)
		if errX != nil || errY != nil {
			t.Fatal(errX, errY)
		}
		if byMass := float64(x.Plus(y).Volume()); math.Abs(byMass-v) > 0.005*v {
			t.Fatalf("volume %v, by masses %v", v, byMass)
		}
	})
}

// By hand: (23 − 1)/0.75 = 29.3, (23 − 1.5)/0.75 = 28.7: 28 to 29 bottles.
func TestBottles(t *testing.T) {
	if got := must(BottlesFrom(23, 0.75))(t); got != (BottleCount{28, 29}) {
		t.Errorf("23 L: %+v", got)
	}
	if got := must(BottlesFrom(0.5, 0.75))(t); got != (BottleCount{}) {
		t.Errorf("half a litre fills none: %+v", got)
	}
	_, err := BottlesFrom(23, 0)
	refused(t, "bottle", err)
}

// Common practice: none in still glass, 6 g/L in beer glass, 15 in sparkling glass,
// which is about 6 atm at 28 °C, and a little more over what a degassed wine holds.
func TestPriming(t *testing.T) {
	p := must(PrimingFor(0.75, 0, SparklingGlass, 10))(t)
	near(t, "sparkling", p.PerBottle, 11.25, 1e-9)
	near(t, "summer", p.Warm, 6.3, 0.5)
	if p.Cellar >= p.Warm || len(p.Warnings) != 0 {
		t.Errorf("%+v", p)
	}
	p = must(PrimingFor(0.5, 4, BeerGlass, 10))(t)
	near(t, "beer, 4 g/L left", p.PerBottle, 1, 1e-9)
	p = must(PrimingFor(0.75, 0, StillGlass, 10))(t)
	near(t, "still", p.PerBottle, 0, 0)
	warned(t, p.Warnings, NeverStillGlass, true)
	p = must(Prime(0.75, 2, 5, BeerGlass, 10))(t)
	near(t, "5 g each", p.PerLitre, 6.67, 0.005)
	warned(t, p.Warnings, OverGlassLimit, true)
	_, err := Prime(0.75, -1, 5, BeerGlass, 10)
	refused(t, "left", err)
	_, err = PrimingFor(5, 0, BeerGlass, 10)
	refused(t, "jar", err)
}

// Common practice: a level teaspoon of potassium metabisulphite 5.5 to 6 g ± 20 %, of
// sorbate 2.5 to 3 ± 25 %, of bentonite 3 to 4.
func TestSpoons(t *testing.T) {
	for p, want := range map[Powder][2]float64{
		PotassiumMetabisulphite: {5.5, 6}, PotassiumSorbate: {2.5, 3}, Bentonite: {3, 4},
	} {
		got := must(SpoonGrams(p, 1, 23))(t)
		if got.Value < want[0] || got.Value > want[1] || got.Low >= want[0] || got.High <= want[1] {
			t.Errorf("%s: %+v", p, got)
		}
		back := must(Spoons(p, liquid.Grams(got.Value), 23))(t)
		near(t, "back", back.Value, 1, 1e-12)
		warned(t, got.Warnings, WeighBelowTen, false)
	}
	warned(t, must(SpoonGrams(PotassiumSorbate, 1, 5))(t).Warnings, WeighBelowTen, true)
	warned(t, must(Spoons(TableSugar, 1, 5))(t).Warnings, WeighBelowTen, false)
	_, err := SpoonGrams("sawdust", 1, 23)
	refused(t, "unknown", err)
	_, err = Spoons(Bentonite, -1, 23)
	refused(t, "grams", err)
}

// By hand: 0.39 g are 3.9 ml of 10 g in 100 ml.
func TestStock(t *testing.T) {
	s, needed, err := StockFor(0.39)
	if err != nil || !needed {
		t.Fatal(needed, err)
	}
	near(t, "take", s.Take, 0.0039, 1e-12)
	near(t, "made up to", s.MadeUpTo, 0.1, 0)
	if _, needed, err = StockFor(1); needed || err != nil {
		t.Error("1 g can be weighed", err)
	}
	s, _, _ = StockFor(0.05)
	near(t, "tiny", s.Take, 0.005, 1e-12)
	_, _, err = StockFor(0)
	refused(t, "nothing", err)
}

// By hand: 23 L fermenting 220 g/L make 2.4 kg, 1.3 m³; a fifth of it in 10 m³ is 2.6
// %, five times the workplace limit of 0.5 % (NIOSH).
func TestGas(t *testing.T) {
	all := must(GasInRoom(23, 220, 0, 20))(t)
	near(t, "kg", all.Grams/1000, 2.4, 0.05)
	near(t, "m³", all.Litres/1000, 1.3, 0.02)
	peak := must(GasInRoom(23, 44, 10, 20))(t)
	near(t, "share", peak.Share, 0.026, 0.001)
	warned(t, peak.Warnings, OverWorkLimit, true)
	warned(t, peak.Warnings, DangerousAir, false)
	warned(t, must(GasInRoom(23, 220, 10, 20))(t).Warnings, DangerousAir, true)
	_, err := GasInRoom(23, -1, 10, 20)
	refused(t, "sugar", err)
	_, err = GasInRoom(23, 1, 0.01, 20)
	refused(t, "room", err)
	// By hand: 1.060 to 1.045 is about 1.97 % vol, 4.29 L of gas a litre for each % vol,
	// over 24 h.
	rate := must(GasPerHour(23, 1.090, 1.060, 1.045, 24, 20))(t)
	near(t, "litres an hour", rate, 1.97*4.29*23/24, 0.2)
	_, err = GasPerHour(23, 1.09, 1.045, 1.06, 24, 20)
	refused(t, "risen", err)
}

func BenchmarkSweetenTo(b *testing.B) {
	for b.Loop() {
		_, _ = SweetenTo(20, 0.994, 12.5, 1.004)
	}
}
