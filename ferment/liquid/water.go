package liquid

// StandardDensityOfWater is the density of water at 20 °C in kg/m³ to which
// every gravity here refers (Commission Regulation (EEC) No 2676/90, annex,
// chapter 1, and OIV-MA-AS2-01A). Sugar and alcohol tables carry their own water,
// a few units of 0.001 kg/m³ off; only their difference from it is used, so that
// pure water reads 1.000 and all ratios stand on one scale.
const StandardDensityOfWater = 998.203

// Coefficients of Tanaka et al. 2001, equation 1.
const (
	tanakaA1 = -3.983035 // °C
	tanakaA2 = 301.797   // °C
	tanakaA3 = 522528.9  // °C²
	tanakaA4 = 69.34881  // °C
	tanakaA5 = 999.974950
)

// WaterDensity returns the density of air-free water at 101.325 kPa in kg/m³, for
// t from 0 to 40 °C.
//
//	ρ = a5·(1 − (t + a1)²·(t + a2) / (a3·(t + a4)))
//
// Source: M. Tanaka, G. Girard, R. Davis, A. Peuto, N. Bignell, Recommended table
// for the density of water between 0 °C and 40 °C, Metrologia 38 (2001) 301–309.
// Example: 25 °C gives 997.047 kg/m³. Outside the range it returns a *RangeError.
func WaterDensity(t Celsius) (float64, error) {
	if err := Within("temperature of water", float64(t), 0, 40, "°C", "Tanaka 2001"); err != nil {
		return 0, err
	}
	return tanaka(float64(t)), nil
}

func tanaka(t float64) float64 {
	a := t + tanakaA1
	return tanakaA5 * (1 - a*a*(t+tanakaA2)/(tanakaA3*(t+tanakaA4)))
}

var tanakaShift = StandardDensityOfWater - tanaka(20)

// waterAt is Tanaka's water shifted by −0.004 kg/m³, so that it is the standard
// density at 20 °C.
func waterAt(t float64) float64 { return tanaka(t) + tanakaShift }
