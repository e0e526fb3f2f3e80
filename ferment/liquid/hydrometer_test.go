package liquid

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// refused fails unless f gives a *RangeError that names limit and source.
func refused(t *testing.T, what string, f func() error) {
	t.Helper()
	var re *RangeError
	err := f()
	if !errors.As(err, &re) {
		t.Errorf("%s: got %v, want a RangeError", what, err)
		return
	}
	if re.Source == "" || re.What == "" || (re.Value >= re.Low && re.Value <= re.High) {
		t.Errorf("%s: incomplete: %+v", what, re)
	}
}

var sixty = Hydrometer{Reference: SixtyFahrenheit}

// Points to add to a reading, worked out beforehand from the same published
// formulas with another program (the corrections of the trade's table of numbers).
func TestCorrectionRows(t *testing.T) {
	must, dry := Mix{}, Mix{OG: 1.0883, Pitched: true} // 12.5 % vol at 0.995
	for _, c := range []struct {
		name string
		h    Hydrometer
		read Gravity
		m    Mix
		t    Celsius
		want float64
	}{
		{"must", Hydrometer{}, 1.050, must, 10, -1.9},
		{"must", Hydrometer{}, 1.050, must, 15, -1.1},
		{"must", Hydrometer{}, 1.050, must, 18, -0.5},
		{"must", Hydrometer{}, 1.050, must, 20, 0},
		{"must", Hydrometer{}, 1.050, must, 22, 0.5},
		{"must", Hydrometer{}, 1.050, must, 25, 1.3},
		{"must", Hydrometer{}, 1.050, must, 28, 2.2},
		{"must", Hydrometer{}, 1.050, must, 30, 2.8},
		{"must", Hydrometer{}, 1.050, must, 35, 4.6},
		{"dry", Hydrometer{}, 0.995, dry, 10, -2.0},
		{"dry", Hydrometer{}, 0.995, dry, 15, -1.1},
		{"dry", Hydrometer{}, 0.995, dry, 22, 0.5},
		{"dry", Hydrometer{}, 0.995, dry, 25, 1.4},
		{"dry", Hydrometer{}, 0.995, dry, 28, 2.3},
		{"dry", Hydrometer{}, 0.995, dry, 30, 3.0},
		{"60 °F", sixty, 1.050, must, 10, -1.2},
		{"60 °F", sixty, 1.050, must, 15, -0.3},
		{"60 °F", sixty, 1.050, must, 20, 0.7},
		{"60 °F", sixty, 1.050, must, 22, 1.2},
		{"60 °F", sixty, 1.050, must, 25, 2.1},
		{"60 °F", sixty, 1.050, must, 28, 2.9},
		{"60 °F", sixty, 1.050, must, 30, 3.6},
		{"60 °F", sixty, 1.050, must, 35, 5.3},
	} {
		got, err := c.h.At20(c.read, c.t, c.m)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, float64(got-c.read)*1000, c.want, 0.0501)
	}
}

// Plain water reads 1.000 at the reference temperature whatever the mix, and the
// instrument's own error comes off.
func TestWaterReadsOne(t *testing.T) {
	got, err := Hydrometer{ErrorInWater: 0.001}.At20(1.001, 20, Mix{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "water", float64(got), 1, 1e-9)
	got, err = Hydrometer{ErrorInWater: 0.002}.At20(1.050, 20, Mix{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "must", float64(got), 1.048, 1e-9)
}

func TestCorrectionRange(t *testing.T) {
	for name, f := range map[string]func() error{
		"cold":      func() error { _, err := Hydrometer{}.At20(1.05, 4.99, Mix{}); return err },
		"hot":       func() error { _, err := Hydrometer{}.At20(1.05, 35.01, Mix{}); return err },
		"light":     func() error { _, err := Hydrometer{}.At20(0.974, 20, Mix{}); return err },
		"heavy":     func() error { _, err := Hydrometer{}.At20(1.201, 20, Mix{}); return err },
		"nan":       func() error { _, err := Hydrometer{}.At20(Gravity(math.NaN()), 20, Mix{}); return err },
		"reference": func() error { _, err := Hydrometer{Reference: 60}.At20(1.05, 20, Mix{}); return err },
		"error":     func() error { _, err := Hydrometer{ErrorInWater: 1}.At20(1.05, 20, Mix{}); return err },
		"start":     func() error { _, err := Hydrometer{}.At20(1.05, 20, Mix{OG: 1.3, Pitched: true}); return err },
		"back":      func() error { _, err := Hydrometer{}.Reading(1.05, 40, Mix{}); return err },
	} {
		refused(t, name, f)
	}
}

// Every gravity, temperature and start of the valid range has an answer, close to the
// reading: the widest correction of all, at 35 °C, stays below 0.012.
func TestCorrectionAlwaysAnswers(t *testing.T) {
	for read := LowestGravity; read <= HighestGravity; read += 0.005 {
		for at := CoolestSample; at <= WarmestSample; at += 5 {
			for _, m := range []Mix{{}, {Pitched: true}, {1, true}, {1.05, true}, {1.12, true}, {1.2, true}} {
				g, err := Hydrometer{}.At20(read, at, m)
				if err != nil || math.Abs(float64(g-read)) > 0.012 {
					t.Errorf("%v at %v in %+v: %v, %v", read, at, m, g, err)
				}
			}
		}
	}
}

func drawMix(t *rapid.T) Mix {
	m := Mix{Pitched: rapid.Bool().Draw(t, "pitched")}
	if rapid.Bool().Draw(t, "known") {
		m.OG = Gravity(rapid.Float64Range(1.0, 1.2).Draw(t, "og"))
	}
	return m
}

// Reading undoes At20 over the whole range, for every instrument and mix.
func TestCorrectionInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := Hydrometer{
			Reference:    Celsius(rapid.Float64Range(10, 30).Draw(t, "ref")),
			ErrorInWater: rapid.Float64Range(-0.003, 0.003).Draw(t, "error"),
		}
		read := Gravity(rapid.Float64Range(0.990, 1.180).Draw(t, "read"))
		at := Celsius(rapid.Float64Range(5, 35).Draw(t, "t"))
		m := drawMix(t)
		g, err := h.At20(read, at, m)
		if err != nil {
			t.Fatal(err)
		}
		back, err := h.Reading(g, at, m)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(back-read)) > 1e-7 {
			t.Fatalf("%v became %v and came back as %v", read, g, back)
		}
	})
}

// A heavier reading means a heavier liquid, and so does a warmer sample: from
// 10 °C, well above where water in glass is densest.
func TestCorrectionRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		read := Gravity(rapid.Float64Range(0.98, 1.19).Draw(t, "read"))
		at := Celsius(rapid.Float64Range(10, 34.9).Draw(t, "t"))
		m := drawMix(t)
		a, errA := Hydrometer{}.At20(read, at, m)
		b, errB := Hydrometer{}.At20(read+0.0005, at, m)
		c, errC := Hydrometer{}.At20(read, at+0.1, m)
		if errA != nil || errB != nil || errC != nil {
			t.Fatal(errA, errB, errC)
		}
		if b <= a || c <= a {
			t.Fatalf("at %v: %v, heavier %v, warmer %v", at, a, b, c)
		}
	})
}

func BenchmarkAt20Must(b *testing.B) {
	for b.Loop() {
		_, _ = Hydrometer{}.At20(1.084, 24, Mix{})
	}
}

func BenchmarkAt20Fermenting(b *testing.B) {
	for b.Loop() {
		_, _ = Hydrometer{}.At20(1.030, 24, Mix{OG: 1.090, Pitched: true})
	}
}
