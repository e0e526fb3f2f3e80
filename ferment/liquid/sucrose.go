package liquid

// Coefficients of the ICUMSA polynomial for aqueous sucrose: row i is the power
// of (t − 20)/100 from 0 up, column k that of the mass fraction from 1 up, kg/m³.
var icumsa = [5][]float64{
	{385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.289},
	{-46.272, -7.172, 1.1597, 5.1126, 17.5254},
	{59.7712, 7.2491, 12.363, -35.4791},
	{-47.2207, -21.6977, 27.6301},
	{18.3184, 12.3081},
}

const sourceSucrose = "ICUMSA polynomial, Bubník et al. 1995"

// sucroseCurve holds what sucrose adds to the density of water at one
// temperature, as the coefficients of w, w², … w⁶ (kg/m³, w mass fraction).
type sucroseCurve [6]float64

func sucroseAt(t float64) (c sucroseCurve) {
	tau, power := (t-20)/100, 1.0
	for _, row := range icumsa {
		for k, x := range row {
			c[k] += x * power
		}
		power *= tau
	}
	return c
}

// excess returns what mass fraction w adds to water, and the slope by w. A small
// negative w goes on smoothly: a dry wine lies a little below its own alcohol.
func (c *sucroseCurve) excess(w float64) (rho, slope float64) { return horner(c[:], w) }

// SucroseDensity returns the density in kg/m³ of a solution of sucrose in water
// holding massFraction of sucrose (0 to 0.85), for t from 0 to 80 °C.
//
//	ρ = ρ_w + Σ a_k·w^k + τ·Σ b_k·w^k + τ²·Σ c_k·w^k + τ³·Σ d_k·w^k + τ⁴·Σ e_k·w^k
//
// with τ = (t − 20)/100 and the water of the same source. Source: Z. Bubník,
// P. Kadlec, D. Urban, M. Bruhns, Sugar Technologists Manual, Bartens 1995,
// p. 164 (the place from memory, with the equation of ICUMSA SPS-4). Example:
// 0.20 at 20 °C gives 1081.0 kg/m³. Outside the range it returns a *RangeError.
func SucroseDensity(massFraction float64, t Celsius) (float64, error) {
	if err := Within("mass fraction of sucrose", massFraction, 0, 0.85, "", sourceSucrose); err != nil {
		return 0, err
	}
	if err := Within("temperature of syrup", float64(t), 0, 80, "°C", sourceSucrose); err != nil {
		return 0, err
	}
	c := sucroseAt(float64(t))
	excess, _ := c.excess(massFraction)
	return icumsaWater(float64(t)) + excess, nil
}

// icumsaWater is the water of the sucrose polynomial (Kell's form), kg/m³.
func icumsaWater(t float64) float64 {
	num := 999.83952 + t*(16.952577+t*(-7.9905127e-3+t*(-46.241757e-6+t*(105.84601e-9-281.03006e-12*t))))
	return num / (1 + 16.887236e-3*t)
}
