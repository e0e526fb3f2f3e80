package dose

import (
	"errors"
	"math"
	"slices"
	"testing"

	"mustbook/ferment/liquid"

	"pgregory.net/rapid"
)

// near fails unless got lies within tol of want.
func near[T ~float64](t *testing.T, what string, got T, want, tol float64) {
	t.Helper()
	if !(math.Abs(float64(got)-want) <= tol) {
		t.Errorf("%s: got %.6g, want %.6g ± %g", what, float64(got), want, tol)
	}
}

// refused fails unless err is a *liquid.RangeError that names its source.
func refused(t *testing.T, what string, err error) {
	t.Helper()
	var re *liquid.RangeError
	if !errors.As(err, &re) || re.Source == "" {
		t.Errorf("%s: got %v, want a RangeError", what, err)
	}
}

// must returns a result and fails on an error.
func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func warned(t *testing.T, ws []Warning, w Warning, want bool) {
	t.Helper()
	if slices.Contains(ws, w) != want {
		t.Errorf("warnings %v: %q should be there: %v", ws, w, want)
	}
}

// The trade's three ways to lift 1.070 to 1.090, worked out beforehand by another
// program from the ICUMSA table: 61.5, 59.2 and 52.5 g/L.
func TestSugarThreeWays(t *testing.T) {
	s := must(SugarInto(23, 1.070, 1.090))(t)
	near(t, "into, g/L", s.PerLitre, 61.5, 0.05)
	near(t, "into, g", s.Grams, 1410, 6)
	near(t, "into, L", s.Volume, 23.9, 0.05)
	s = must(SugarForFinal(23, 1.070, 1.090))(t)
	near(t, "final, g/L", s.PerLitre, 59.2, 0.06)
	near(t, "final, g", s.Grams, 1360, 5)
	near(t, "final, must", s.Must, 22.15, 0.01)
	near(t, "final, V ÷ 1.038", 23/s.Must, 1.038, 0.0005)
	s = must(SugarBeforeWater(23, 1.070, 1.090))(t)
	near(t, "before water, g/L", s.PerLitre, 52.5, 0.06)
	warned(t, s.Warnings, StrongMust, false)
	warned(t, must(SugarInto(23, 1.1, 1.12))(t).Warnings, StrongMust, true)
}

// 27 CFR 24.181: 13.5 lb of sugar make a US gallon, 0.6182 L/kg; about 0.62 L.
func TestSugarTakesRoom(t *testing.T) {
	s := must(SugarInto(23, 1.070, 1.090))(t)
	near(t, "L per kg", float64(s.Volume-23)/float64(s.Grams)*1000, 0.6182, 0.006)
}

// By hand from 80 % sugar: 1 kg of honey made up to 3.6 L gives about 1.085, to 3 L
// about 1.102.
func TestHoney(t *testing.T) {
	h := must(HoneyForFinal(3.6, 1.000, 1.085))(t)
	near(t, "3.6 L", h.Grams, 1000, 10)
	warned(t, h.Warnings, HoneyVaries, true)
	h = must(HoneyForFinal(3, 1.000, 1.102))(t)
	near(t, "3 L", h.Grams, 1000, 10)
	sugar := must(SugarForFinal(3, 1.000, 1.102))(t)
	near(t, "honey = sugar × 1.25 (common practice)", h.Grams/sugar.Grams, 1.25, 1e-9)
	into := must(HoneyInto(23, 1.070, 1.090))(t)
	if into.Grams <= must(SugarInto(23, 1.070, 1.090))(t).Grams || into.Doubt <= 0 {
		t.Errorf("honey: %+v", into)
	}
}

func TestSugarRange(t *testing.T) {
	for what, f := range map[string]func() error{
		"down":     func() error { _, err := SugarInto(23, 1.09, 1.07); return err },
		"no must":  func() error { _, err := SugarInto(0, 1.07, 1.09); return err },
		"syrup":    func() error { _, err := SugarForFinal(23, 1.07, 1.3); return err },
		"wine":     func() error { _, err := SugarBeforeWater(23, 0.99, 1.09); return err },
		"up":       func() error { _, err := WaterToLower(20, 1.08, 1.09); return err },
		"water":    func() error { _, err := WaterToLower(20, 1.08, 1.0); return err },
		"sweeten":  func() error { _, err := SweetenTo(20, 1.0, 12, 0.99); return err },
		"cloying":  func() error { _, err := SweetenTo(20, 1.0, 12, 1.199); return err },
		"sugar":    func() error { _, err := AddSugar(20, 1.0, 12, -1); return err },
		"spirits":  func() error { _, err := AddSugar(20, 1.0, 40, 1); return err },
		"negative": func() error { _, err := WaterInto(20, 1.0, 12, -1); return err },
	} {
		refused(t, what, f())
	}
}

// Whatever is stirred in: mass and sugar are conserved, and the masses of another
// road, liquid.Solution, reach the same gravity.
func TestSugarConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := liquid.Litres(rapid.Float64Range(0.5, 500).Draw(t, "v"))
		from := liquid.Gravity(rapid.Float64Range(1.0, 1.15).Draw(t, "from"))
		to := from + liquid.Gravity(rapid.Float64Range(0, 0.05).Draw(t, "rise"))
		s, err := SugarInto(v, from, to)
		if err != nil {
			t.Fatal(err)
		}
		base, err := liquid.SolutionOf(v, from, 0)
		if err != nil {
			t.Fatal(err)
		}
		after := base.WithSugar(s.Grams)
		if math.Abs(float64(after.Gravity()-to)) > 1e-8 || math.Abs(float64(after.Volume()-s.Volume)) > 1e-7*float64(v) {
			t.Fatalf("%v L of %v, wanted %v", after.Volume(), after.Gravity(), to)
		}
		f, err := SugarForFinal(s.Volume, from, to)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(f.Grams-s.Grams)) > 1e-6*float64(v) || math.Abs(float64(f.Must-v)) > 1e-9*float64(v) {
			t.Fatalf("into %v g, for the same final volume %v g", s.Grams, f.Grams)
		}
		w, err := SugarBeforeWater(s.Volume, from, to)
		if err != nil {
			t.Fatal(err)
		}
		if w.Grams > f.Grams+1e-6 || f.Doubt < 0 {
			t.Fatalf("water makes room: %v above %v", w.Grams, f.Grams)
		}
	})
}

// Water undoes sugar only in strength; what comes down by water has all its sugar.
func TestWaterConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := liquid.Litres(rapid.Float64Range(0.5, 500).Draw(t, "v"))
		to := liquid.Gravity(rapid.Float64Range(1.02, 1.15).Draw(t, "to"))
		from := to + liquid.Gravity(rapid.Float64Range(0, 0.04).Draw(t, "fall"))
		w, err := WaterToLower(v, from, to)
		if err != nil {
			t.Fatal(err)
		}
		before := float64(liquid.Extract(from)) * float64(v)
		after := float64(liquid.Extract(to)) * float64(w.Volume)
		if math.Abs(before-after) > 1e-6*before {
			t.Fatalf("sugar: %v became %v", before, after)
		}
		d, err := WaterInto(v, from, 0, w.Litres)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(d.Gravity-to)) > 1e-8 {
			t.Fatalf("%v, wanted %v", d.Gravity, to)
		}
	})
}

// By hand: 10 g/L lift a dry wine by about 0.004; 1 L of water into 22 L of 12.5 %
// leaves 22·12.5 ÷ 23 = 12.0 %.
func TestSweetenAndDilute(t *testing.T) {
	s := must(AddSugar(20, 0.994, 12.5, 200))(t)
	near(t, "10 g/L", s.Gravity-0.994, 0.004, 0.0003)
	warned(t, s.Warnings, NeedsStabilising, true)
	d := must(WaterInto(22, 0.994, 12.5, 1))(t)
	near(t, "topped with water", d.ABV, 12.0, 0.05)
	near(t, "topped with water, L", d.Volume, 23, 0.01)
}

// Sweetening keeps the alcohol there is, dilutes it, and the way back agrees.
func TestSweetenInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := liquid.Litres(rapid.Float64Range(0.5, 500).Draw(t, "v"))
		g := liquid.Gravity(rapid.Float64Range(0.985, 1.02).Draw(t, "g"))
		abv := liquid.PercentVol(rapid.Float64Range(0, 16).Draw(t, "abv"))
		grams := liquid.Grams(rapid.Float64Range(0, 150).Draw(t, "g/L")) * liquid.Grams(v)
		a, err := AddSugar(v, g, abv, grams)
		if err != nil {
			t.Fatal(err)
		}
		b, err := SweetenTo(v, g, abv, a.Gravity)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(b.Grams-grams)) > 1e-5*float64(v) {
			t.Fatalf("%v g came back as %v", grams, b.Grams)
		}
		if pure := float64(a.ABV) * float64(a.Volume); math.Abs(pure-float64(abv)*float64(v)) > 1e-6*(1+pure) {
			t.Fatalf("alcohol not conserved: %v", pure)
		}
		if a.Volume < v*(1-1e-9) || a.ABV > abv+1e-9 || a.Gravity < g-1e-9 {
			t.Fatalf("%+v", a)
		}
	})
}
