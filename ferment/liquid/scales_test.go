package liquid

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestScales(t *testing.T) {
	must := func(g Gravity, err error) float64 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return float64(g)
	}
	// NBS sucrose table by its polynomial (Circular C440, from memory): apparent
	// gravities, 0.0001 above the true ones.
	for b, want := range map[Brix]float64{12: 1.0484, 20: 1.0830, 22: 1.0919, 24: 1.1011} {
		near(t, "Brix", must(GravityFromBrix(b)), want, 0.00015)
	}
	near(t, "Oechsle", must(GravityFromOechsle(90)), 1.090, 1e-12)
	near(t, "Baumé", must(GravityFromBaume(12)), 1.090, 0.0005) // 12 °Bé = 1.090, from memory
	// lebensmittellexikon.de and wein.plus: 17, 19, 21, 25 KMW are 84, 94, 105, 127 °Oe.
	for k, oe := range map[float64]float64{17: 84, 19: 94, 21: 105, 25: 127} {
		near(t, "KMW", (must(GravityFromKMW(k))-1)*1000, oe, 0.5)
	}
	near(t, "points", Gravity(1.048).Points(), 48, 1e-9)
	near(t, "from points", float64(GravityFromPoints(-5)), 0.995, 1e-12)
	refused(t, "Brix", func() error { _, err := GravityFromBrix(-1); return err })
	refused(t, "Brix", func() error { _, err := GravityFromBrix(81); return err })
	refused(t, "Oechsle", func() error { _, err := GravityFromOechsle(201); return err })
	refused(t, "Baumé", func() error { _, err := GravityFromBaume(26); return err })
	refused(t, "KMW", func() error { _, err := GravityFromKMW(41); return err })
}

func TestScalesInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Gravity(rapid.Float64Range(1.0, 1.18).Draw(t, "g"))
		for name, back := range map[string]func() (Gravity, error){
			"Brix":    func() (Gravity, error) { return GravityFromBrix(max(0, g.Brix())) },
			"Oechsle": func() (Gravity, error) { return GravityFromOechsle(g.Oechsle()) },
			"Baumé":   func() (Gravity, error) { return GravityFromBaume(g.Baume()) },
			"KMW":     func() (Gravity, error) { return GravityFromKMW(g.KMW()) },
			"extract": func() (Gravity, error) { return GravityOfExtract(Extract(g)), nil },
			"points":  func() (Gravity, error) { return GravityFromPoints(g.Points()), nil },
		} {
			got, err := back()
			if err != nil || math.Abs(float64(got-g)) > 1e-9 {
				t.Fatalf("%s: %v came back as %v, %v", name, g, got, err)
			}
		}
	})
}

// Definitions of the customary units (from memory of the tables of NIST SP 811).
func TestUnits(t *testing.T) {
	near(t, "60 °F", float64(FahrenheitToCelsius(60)), 15.5556, 0.0001)
	near(t, "−40", float64(FahrenheitToCelsius(-40)), -40, 1e-9)
	near(t, "20 °C", Celsius(20).Fahrenheit(), 68, 1e-9)
	near(t, "reference of 60 °F", SixtyFahrenheit.Fahrenheit(), 60, 1e-9)
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"US gallon", float64(USGallon), 3.785}, {"imperial gallon", float64(ImperialGallon), 4.546},
		{"US pint", float64(USPint), 0.473}, {"imperial pint", float64(ImperialPint), 0.568},
		{"US fl oz", float64(USFluidOunce), 0.02957}, {"imperial fl oz", float64(ImperialFluidOunce), 0.02841},
		{"pound", float64(Pound), 453.6}, {"ounce", float64(Ounce), 28.35},
	} {
		near(t, c.name, c.got, c.want, c.want*0.0005)
	}
}

func TestPressure(t *testing.T) {
	for _, c := range []struct {
		sugar, dissolved GramsPerLitre
		t                Celsius
		low, high        float64
	}{
		{24, 0, 10, 5, 6},      // Oxford Companion to Wine, second fermentation: 24 g/L, 5 to 6 atm
		{24, 0.8, 10, 5, 6},    // the same, over what a degassed wine holds
		{24, 0, 28, 9, 10},     // the same bottle in summer, by hand from the formula
		{4, 0, 10, 0.85, 0.92}, // 4 g/L add about 0.9 atm, by hand
		{4, 0, 28, 1.55, 1.65}, // and 1.6 at 28 °C
	} {
		got, err := BottlePressure(c.sugar, c.dissolved, c.t)
		if err != nil {
			t.Fatal(err)
		}
		if got < c.low || got > c.high {
			t.Errorf("%+v: %v atm", c, got)
		}
	}
	refused(t, "sugar", func() error { _, err := BottlePressure(-1, 0, 10); return err })
	refused(t, "dissolved", func() error { _, err := BottlePressure(1, 21, 10); return err })
	refused(t, "hot", func() error { _, err := BottlePressure(1, 1, 46); return err })
}

func TestGas(t *testing.T) {
	// 23 L fermenting 220 g/L give 2.4 kg, 1.3 m³; a fifth of it in 10 m³ is 2.6 %.
	m := CO2FromSugar(23 * 220)
	near(t, "kg", float64(m)/1000, 2.4, 0.05)
	v := CO2Volume(m, 20)
	near(t, "m³", float64(v)/1000, 1.3, 0.02)
	share, err := CO2Share(v/5, 10)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share", share, 0.026, 0.0006)
	near(t, "molar volume at 20 °C", float64(CO2Volume(44.01, 20)), 24.055, 0.002) // 24.055 L/mol, atomic masses
	refused(t, "room", func() error { _, err := CO2Share(1, 0); return err })
	refused(t, "gas", func() error { _, err := CO2Share(-1, 10); return err })
}

// Ideal freezing by the cryoscopic constant 1.86, by hand: 5 % −1.7, 12 % −4.3 °C.
func TestFreezing(t *testing.T) {
	for abv, want := range map[PercentVol]float64{0: 0, 5: -1.7, 12: -4.3} {
		got, err := FreezingPoint(abv)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "freezing", float64(got), want, 0.05)
		limit, err := ColdLimit(abv)
		if err != nil || limit < got {
			t.Errorf("%v %%: limit %v under freezing %v, %v", abv, limit, got, err)
		}
	}
	refused(t, "strong", func() error { _, err := FreezingPoint(21); return err })
	refused(t, "strong", func() error { _, err := ColdLimit(-1); return err })
}

func TestRangeErrorTellsLimitAndSource(t *testing.T) {
	_, err := WaterDensity(50)
	for _, want := range []string{"50", "0", "40", "°C", "Tanaka"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v does not say %q", err, want)
		}
	}
	refused(t, "sucrose", func() error { _, err := SucroseDensity(0.86, 20); return err })
	refused(t, "sucrose", func() error { _, err := SucroseDensity(0.1, 81); return err })
	refused(t, "ethanol", func() error { _, err := EthanolDensity(1.01, 20); return err })
	refused(t, "ethanol", func() error { _, err := EthanolDensity(0.1, 41); return err })
}
