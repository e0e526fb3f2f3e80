package dose_test

import (
	"fmt"

	"mustbook/ferment/dose"
)

func ExampleSugarInto() {
	s, _ := dose.SugarInto(23, 1.070, 1.090)
	fmt.Printf("%.1f g a litre, %.2f kg, %.1f L\n", s.PerLitre, s.Grams/1000, s.Volume)
	// Output: 61.5 g a litre, 1.41 kg, 23.9 L
}

func ExampleSugarForFinal() {
	s, _ := dose.SugarForFinal(23, 1.070, 1.090)
	fmt.Printf("%.2f kg into %.2f L\n", s.Grams/1000, s.Must)
	// Output: 1.36 kg into 22.15 L
}

func ExampleSugarBeforeWater() {
	s, _ := dose.SugarBeforeWater(23, 1.070, 1.090)
	fmt.Printf("%.1f g a litre\n", s.PerLitre)
	// Output: 52.5 g a litre
}

func ExampleHoneyInto() {
	s, _ := dose.HoneyInto(23, 1.070, 1.090)
	fmt.Printf("%.2f kg\n", s.Grams/1000)
	// Output: 1.90 kg
}

func ExampleHoneyForFinal() {
	s, _ := dose.HoneyForFinal(3.6, 1.000, 1.085)
	fmt.Printf("%.1f kg\n", s.Grams/1000)
	// Output: 1.0 kg
}

func ExampleWaterToLower() {
	w, _ := dose.WaterToLower(20, 1.100, 1.090)
	fmt.Printf("%.1f L\n", w.Litres)
	// Output: 2.2 L
}

func ExampleSweetenTo() {
	s, _ := dose.SweetenTo(20, 0.994, 12.5, 1.004)
	fmt.Printf("%.2f kg, then %.1f %%\n", s.Grams/1000, s.ABV)
	// Output: 0.52 kg, then 12.3 %
}

func ExampleWaterInto() {
	d, _ := dose.WaterInto(22, 0.994, 12.5, 1)
	fmt.Printf("%.1f %%\n", d.ABV)
	// Output: 12.0 %
}

func ExampleConvertAcidity() {
	ta, _ := dose.ConvertAcidity(4.2, dose.Sulphuric, dose.Tartaric)
	fmt.Printf("%.1f g/L\n", ta)
	// Output: 6.4 g/L
}

func ExampleAcidUp() {
	a, _ := dose.AcidUp(23, 5, 6.5, dose.Tartaric, dose.Tartaric)
	fmt.Printf("%.1f g\n", a.Grams)
	// Output: 34.5 g
}

func ExampleAcidDown() {
	a, _ := dose.AcidDown(23, 8, 7, dose.Tartaric)
	fmt.Printf("%.1f g\n", a.Grams)
	// Output: 30.7 g
}

func ExamplePKT() {
	pk, _ := dose.PKT(10, 25)
	fmt.Println(pk)
	// Output: 2.198
}

func ExampleFreeForMolecular() {
	f, _ := dose.FreeForMolecular(0.8, 3.4, 0.1)
	fmt.Printf("%.0f mg/L, %.0f to %.0f\n", f.Free, f.Low, f.High)
	// Output: 32 mg/L, 26 to 40
}

func ExampleFreeForMolecularOIV() {
	f, _ := dose.FreeForMolecularOIV(0.8, 3.4, 0.1, 12, 20)
	fmt.Printf("%.0f, against %.0f\n", f.OIV, f.Free)
	// Output: 23, against 32
}

func ExampleSulphiteFor() {
	s, _ := dose.SulphiteFor(23, 50, 0, dose.PotassiumSalt)
	fmt.Printf("%.1f g\n", s.Grams)
	// Output: 2.0 g
}

func ExampleSorbateFor() {
	s, _ := dose.SorbateFor(23, dose.SorbateUsual, 0, false)
	fmt.Printf("%.2f g\n", s.Grams)
	// Output: 5.75 g
}

func ExampleFeed() {
	f, _ := dose.Feed(dose.Must{Volume: 23, OG: 1.0875, Nitrogen: 150, Measured: true})
	fmt.Printf("%.1f g in %d portions\n", f.Grams, len(f.Portions))
	// Output: 5.5 g in 2 portions
}

func ExampleBlend() {
	b, _ := dose.Blend(
		dose.Part{Volume: 10, ABV: 13, Has: dose.HasABV},
		dose.Part{Volume: 5, ABV: 10, Has: dose.HasABV})
	fmt.Printf("%.0f L of %.1f %%\n", b.Volume, b.ABV)
	// Output: 15 L of 12.0 %
}

func ExampleStockFor() {
	s, _, _ := dose.StockFor(0.39)
	fmt.Printf("%.1f ml of %.0f g in %.0f ml\n", s.Take*1000, s.Powder, s.MadeUpTo*1000)
	// Output: 3.9 ml of 10 g in 100 ml
}

func ExampleBottlesFrom() {
	n, _ := dose.BottlesFrom(23, 0.75)
	fmt.Printf("%d to %d\n", n.Low, n.High)
	// Output: 28 to 29
}

func ExampleGasPerHour() {
	l, _ := dose.GasPerHour(23, 1.090, 1.060, 1.045, 24, 20)
	fmt.Printf("about %.0f L\n", l)
	// Output: about 8 L
}
