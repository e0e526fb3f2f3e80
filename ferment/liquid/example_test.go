package liquid_test

import (
	"fmt"

	"mustbook/ferment/liquid"
)

func ExampleWaterDensity() {
	rho, _ := liquid.WaterDensity(25)
	fmt.Printf("%.3f\n", rho)
	// Output: 997.047
}

func ExampleEthanolDensity() {
	rho, _ := liquid.EthanolDensity(0.31, 13)
	fmt.Printf("%.2f\n", rho)
	// Output: 956.42
}

func ExampleSucroseDensity() {
	rho, _ := liquid.SucroseDensity(0.20, 20)
	fmt.Printf("%.1f\n", rho)
	// Output: 1081.0
}

func ExampleHydrometer_At20() {
	g, _ := liquid.Hydrometer{}.At20(1.048, 24, liquid.Mix{})
	fmt.Printf("%.4f\n", g)
	// Output: 1.0490
}

func ExampleHydrometer_Reading() {
	g, _ := liquid.Hydrometer{}.Reading(1.0490, 24, liquid.Mix{})
	fmt.Printf("%.3f\n", g)
	// Output: 1.048
}

func ExampleAlcoholByBalance() {
	a, _ := liquid.AlcoholByBalance(1.090, 0.995)
	fmt.Printf("%.2f ± %.1f\n", a.ABV, a.Doubt)
	// Output: 12.72 ± 0.3
}

func ExampleSugarLeft() {
	s, _ := liquid.SugarLeft(1.090, 1.010)
	fmt.Printf("%.0f ± %.0f\n", s.Left, s.Doubt)
	// Output: 41 ± 6
}

func ExamplePotentialAlcohol() {
	p, _ := liquid.PotentialAlcohol(1.050)
	fmt.Printf("about %.0f\n", p)
	// Output: about 7
}

func ExampleExtractWithAlcohol() {
	e, _ := liquid.ExtractWithAlcohol(0.995, 12.72)
	fmt.Printf("%.0f\n", e)
	// Output: 30
}

func ExampleExtract() {
	fmt.Printf("%.0f\n", liquid.Extract(1.090))
	// Output: 235
}

func ExampleGravityOfExtract() {
	fmt.Printf("%.4f\n", liquid.GravityOfExtract(10))
	// Output: 1.0039
}

func ExampleSolutionOf() {
	s, _ := liquid.SolutionOf(23, 1.070, 0)
	fmt.Printf("%.2f kg of extract in %.1f kg\n", s.Sugar/1000, s.Mass/1000)
	// Output: 4.19 kg of extract in 24.6 kg
}

func ExampleGravityFromBrix() {
	g, _ := liquid.GravityFromBrix(22)
	fmt.Printf("%.4f\n", g)
	// Output: 1.0919
}

func ExampleGravityFromKMW() {
	g, _ := liquid.GravityFromKMW(17)
	fmt.Printf("%.3f\n", g)
	// Output: 1.084
}

func ExampleRefractometerCorrection() {
	b, _ := liquid.RefractometerCorrection(20, 15)
	fmt.Printf("%.2f\n", b)
	// Output: 19.66
}

func ExampleBottlePressure() {
	atm, _ := liquid.BottlePressure(24, liquid.DissolvedDegassed, 10)
	fmt.Printf("%.1f\n", atm)
	// Output: 5.7
}

func ExampleCO2Share() {
	share, _ := liquid.CO2Share(260, 10)
	fmt.Printf("%.3f\n", share)
	// Output: 0.026
}

func ExampleFreezingPoint() {
	c, _ := liquid.FreezingPoint(12)
	fmt.Printf("%.1f\n", c)
	// Output: -4.3
}

func ExampleColdLimit() {
	c, _ := liquid.ColdLimit(12)
	fmt.Printf("%.0f\n", c)
	// Output: -3
}
