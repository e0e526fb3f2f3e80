package liquid

import "testing"

// Figures of the trade, worked out apart from this code.
func TestWorkedFigures(t *testing.T) {
	must := func(g Gravity, err error) Gravity {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	// A dry wine that reads the same at 17 and at 24 °C differs by about 1.8 points: glass
	// and wine expand, by the density tables of ethanol (OIML R 22) and water (Tanaka 2001).
	dry := Mix{OG: 1.0883, Pitched: true}
	cool, warm := must(Hydrometer{}.At20(0.995, 17, dry)), must(Hydrometer{}.At20(0.995, 24, dry))
	near(t, "17 to 24 °C", float64(warm-cool)*1000, 1.8, 0.1)

	// The rule of thumb, the fall times 131, is 0.2 to 0.5 % low at wine strength.
	for _, c := range [][2]Gravity{{1.085, 0.995}, {1.090, 0.995}, {1.090, 0.992}, {1.100, 0.995}} {
		a, err := AlcoholByBalance(c[0], c[1])
		if err != nil {
			t.Fatal(err)
		}
		if low := float64(a.ABV) - float64(c[0]-c[1])*131; low < 0.2 || low > 0.5 {
			t.Errorf("%v to %v: the rule is %.2f low", c[0], c[1], low)
		}
	}

	// B. Meier, Weihenstephan, 4.2.3: 46.5 to 47.5 g of ethanol of 100 g of sugar; a litre
	// of pure ethanol at 20 °C weighs 789.24 g (OIML R 22), so 1 % vol is 7.892 g/L.
	near(t, "ethanol yield", pureEthanol/100/SugarPerPercent, 0.47, 0.005)
	near(t, "1 % vol", pureEthanol/100, 7.892, 0.001)
	// The same page: 46.6 g of carbon dioxide; by masses alone 88.02 ÷ 180.16 = 0.489.
	near(t, "carbon dioxide", float64(CO2FromSugar(100)), 46.6, 0.05)

	// N.B.S. circular C440: 10 g/L of sugar are 0.996 °Brix, 1.0039.
	near(t, "10 g/L", float64(GravityOfExtract(10)), 1.0039, 0.0001)
}
