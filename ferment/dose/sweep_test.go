package dose

import (
	"math"
	"testing"

	"mustbook/ferment/liquid"

	"pgregory.net/rapid"
)

// Worked by hand from the tables named: pkT at 12 % vol and 20 °C lies two fifths of the
// way from 1.997 to 2.099 (OIV-MA-AS323-04C, table I), less 0.074 for the salts 1.964, so
// 0.8 mg/L molecular at pH 3.4 ask for 0.8·(1 + 10^1.436) = 22.6 mg/L free.
func TestFreeSulphiteByTheOIV(t *testing.T) {
	s := must(FreeForMolecularOIV(0.8, 3.4, 0, 12, 20))(t)
	near(t, "OIV", s.OIV, 22.6, 0.1)
	near(t, "customary", s.Free, 32, 0.5)
}

// By hand: 400 ml of 10 % into 23 L of 12.5 % leave (23·12.5 + 0.4·10) ÷ 23.4 = 12.46;
// a dry wine of 0.990 with 18 g/L of sugar reads 0.990 + 0.007 (10 g/L lift 0.004).
func TestSmallThings(t *testing.T) {
	a := Part{Volume: 23, ABV: 12.5, Has: HasABV}
	b := Part{Volume: 0.4, ABV: 10, Has: HasABV}
	near(t, "top-up", must(Blend(a, b))(t).ABV, 12.46, 0.005)
	near(t, "sweetened", must(AddSugar(20, 0.990, 12.5, 18*20))(t).Gravity, 0.997, 0.0006)
}

// Acid up and down are each other's inverse by equivalents, whatever the basis: what
// tartaric acid lifts, 1.334 times its weight of bicarbonate takes back (Handbook of
// Enology, vol. 2), and more takes more.
func TestAcidInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := liquid.Litres(rapid.Float64Range(0.5, 500).Draw(t, "v"))
		from := liquid.GramsPerLitre(rapid.Float64Range(2, 8).Draw(t, "from"))
		rise := liquid.GramsPerLitre(rapid.Float64Range(0, 3).Draw(t, "rise"))
		basis := rapid.SampledFrom([]Acid{Tartaric, Sulphuric, Malic, Citric}).Draw(t, "basis")
		up, err := AcidUp(v, from, from+rise, basis, Tartaric)
		if err != nil {
			t.Fatal(err)
		}
		down, err := AcidDown(v, from+rise, from, basis)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(down.Grams)-1.334*float64(up.Grams)) > 0.001*float64(up.Grams)+1e-9 {
			t.Fatalf("%v g of acid, %v g of bicarbonate", up.Grams, down.Grams)
		}
		more, err := AcidUp(v, from, from+rise+0.1, basis, Tartaric)
		if err != nil || more.Grams <= up.Grams {
			t.Fatalf("more acid takes %v, less %v: %v", more.Grams, up.Grams, err)
		}
	})
}

// Sorbic acid never passes 200 mg/L (OIV II.3.4.5), whatever was in it before.
func TestSorbateNeverPassesTheCap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := liquid.MilligramsPerLitre(rapid.Float64Range(0, 1000).Draw(t, "want"))
		before := liquid.MilligramsPerLitre(rapid.Float64Range(0, 268).Draw(t, "before"))
		s, err := SorbateFor(23, want, before, false)
		if err != nil || s.Sorbic > 200.5 || s.Salt > want || s.Grams < 0 {
			t.Fatalf("%v over %v: %+v, %v", want, before, s, err)
		}
	})
}

// Fed portion by portion as Next tells, a must gets the whole plan and no more.
func TestFeedingByPortions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, err := Feed(Must{Volume: liquid.Litres(rapid.Float64Range(1, 500).Draw(t, "v")), OG: liquid.Gravity(rapid.Float64Range(1.03, 1.13).Draw(t, "og")),
			Mead: rapid.Bool().Draw(t, "mead"), Gone: rapid.Float64Range(0, 0.6).Draw(t, "gone")})
		if err != nil {
			t.Fatal(err)
		}
		given := liquid.Grams(0)
		for step := 0; ; step++ {
			p, left := f.Next(given)
			if p.Grams == 0 {
				break
			}
			if step > 4 || math.Abs(float64(left+given-f.Grams)) > 1e-9*(1+float64(f.Grams)) {
				t.Fatalf("step %d: %v of %v, left %v", step, given, f.Grams, left)
			}
			given += p.Grams
		}
		if math.Abs(float64(given-f.Grams)) > 1e-9*(1+float64(f.Grams)) {
			t.Fatalf("fed %v of %v", given, f.Grams)
		}
	})
}

// More sugar in a closed bottle and more warmth mean more pressure, and the most that a
// glass is given never passes its own limit.
func TestPrimingRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bottle := liquid.Litres(rapid.Float64Range(0.2, 1.5).Draw(t, "bottle"))
		left := liquid.GramsPerLitre(rapid.Float64Range(0, 20).Draw(t, "left"))
		cellar := liquid.Celsius(rapid.Float64Range(0, 27).Draw(t, "cellar"))
		glass := rapid.SampledFrom([]Glass{BeerGlass, SparklingGlass, StillGlass}).Draw(t, "glass")
		most, err := PrimingFor(bottle, left, glass, cellar)
		if err != nil {
			t.Fatal(err)
		}
		if most.PerBottle < 0 || most.Ferments > max(left, glassLimit[glass])+1e-9 || most.Cellar >= most.Warm {
			t.Fatalf("%s: %+v", glass, most)
		}
		more, err := Prime(bottle, left, most.PerBottle+1, glass, cellar)
		if err != nil || more.Warm <= most.Warm {
			t.Fatalf("a gram more: %v after %v atm, %v", more.Warm, most.Warm, err)
		}
	})
}

// A richer must needs no less nitrogen (Bisson and Butzke 2000).
func TestNitrogenNeedRises(t *testing.T) {
	last := liquid.MilligramsPerLitre(0)
	for og := liquid.Gravity(1.0); og <= 1.13; og += 0.001 {
		n := must(NitrogenNeed(og))(t)
		if n < last {
			t.Fatalf("%v needs %v, less than before", og, n)
		}
		last = n
	}
}
