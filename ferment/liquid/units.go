package liquid

import "math"

// Gravity is a specific gravity, the density of a liquid at 20 °C over that of
// water at 20 °C (20/20), unless a name says otherwise; 1.048, not 1048.
type Gravity float64

// Celsius is a temperature in degrees Celsius (ITS-90; the older scale of OIML
// R 22 differs by less than 0.01 °C between 0 and 40 °C).
type Celsius float64

// Litres is a volume in litres at 20 °C.
type Litres float64

// GramsPerLitre is a mass concentration in g/L.
type GramsPerLitre float64

// MilligramsPerLitre is a mass concentration in mg/L.
type MilligramsPerLitre float64

// Grams is a mass in grams.
type Grams float64

// PercentVol is an alcoholic strength by volume, in % vol at 20 °C.
type PercentVol float64

// Brix is a mass fraction in per cent of sucrose. Plato and Balling are the same
// quantity from other tables; they differ by less than 0.1 below 40 %.
type Brix float64

// Volumes of the customary systems, exact by definition: US gallon 231 cubic
// inches, imperial gallon 4.54609 L (Units of Measurement Regulations 1995);
// from memory.
const (
	USGallon           Litres = 3.785411784
	ImperialGallon     Litres = 4.54609
	USQuart            Litres = USGallon / 4
	ImperialQuart      Litres = ImperialGallon / 4
	USPint             Litres = USGallon / 8
	ImperialPint       Litres = ImperialGallon / 8
	USCup              Litres = USGallon / 16
	USFluidOunce       Litres = USGallon / 128
	ImperialFluidOunce Litres = ImperialGallon / 160
	Teaspoon           Litres = 0.005 // metric, common practice
	Tablespoon         Litres = 0.015 // metric, common practice
)

// Masses of the avoirdupois system, exact since 1959 (from memory).
const (
	Pound Grams = 453.59237
	Ounce Grams = Pound / 16
)

// FahrenheitToCelsius converts a temperature in °F. Exact by definition:
// 60 °F is 15.56 °C.
func FahrenheitToCelsius(f float64) Celsius { return Celsius((f - 32) / 1.8) }

// Fahrenheit returns the temperature in °F. Exact by definition: 20 °C is 68 °F.
func (c Celsius) Fahrenheit() float64 { return float64(c)*1.8 + 32 }

// kelvin returns the thermodynamic temperature in K.
func (c Celsius) kelvin() float64 { return float64(c) + 273.15 }

// Points returns the gravity in points of 0.001 above water: 1.048 has 48. It is
// the number that people call out in the cellar.
func (g Gravity) Points() float64 { return (float64(g) - 1) * 1000 }

// GravityFromPoints is the inverse of Points: 48 is 1.048, −5 is 0.995.
func GravityFromPoints(p float64) Gravity { return Gravity(1 + p/1000) }

func clamp(x, low, high float64) float64 { return math.Min(math.Max(x, low), high) }
