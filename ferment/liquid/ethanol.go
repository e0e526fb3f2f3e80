package liquid

// Coefficients of OIML R 22 (1975), International alcoholometric tables, equal
// to the annex of Council Directive 76/766/EEC. Signs and digits as printed.
var (
	// r22A: power of the mass fraction from 0 up, at 20 °C, kg/m³.
	r22A = [12]float64{
		998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042,
		-613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
	}
	// r22B: water, power of (t − 20) from 1 up.
	r22B = [6]float64{
		-0.20618513, -0.0052682542, 3.6130013e-05, -3.8957702e-07, 7.169354e-09, -9.9739231e-11,
	}
	// r22C: row i is the power of (t − 20) from 1 up, column k that of the mass
	// fraction from 1 up.
	r22C = [5][]float64{
		{
			0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792,
			3924.090430035045, -12101.64659068747, 22486.46550400788, -26055.62982188164,
			18523.73922069467, -7420.201433430137, 1285.617841998974,
		},
		{
			-0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029,
			-50.29988758547014, 109.635566657757, -142.2753946421155, 108.043594285623, -44.14153236817392,
			7.442971530188783,
		},
		{
			-0.0006802995733503803, 0.01876837790289664, -0.2002561813734156, 1.02299296671922,
			-2.895696483903638, 4.810060584300675, -4.672147440794683, 2.458043105903461,
			-0.5411227621436812,
		},
		{
			4.075376675622027e-06, -8.76305857347111e-06, 6.515031360099368e-06, -1.51578483698721e-06,
		},
		{
			-2.788074354782409e-08, 1.345612883493354e-08,
		},
	}
)

const sourceR22 = "OIML R 22, 1975"

// ethanolCurve holds what ethanol adds to the density of water at one
// temperature, as the coefficients of p, p², … p¹¹ (kg/m³, p mass fraction).
type ethanolCurve [11]float64

func ethanolAt(t float64) (c ethanolCurve) {
	copy(c[:], r22A[1:])
	tau, power := t-20, 1.0
	for _, row := range r22C {
		power *= tau
		for k, x := range row {
			c[k] += x * power
		}
	}
	return c
}

// excess returns what mass fraction p adds to water, and the slope by p.
func (c *ethanolCurve) excess(p float64) (rho, slope float64) { return horner(c[:], p) }

// EthanolDensity returns the density in kg/m³ of a mixture of ethanol and water
// holding massFraction of ethanol (0 to 1), for t from −20 to 40 °C.
//
//	ρ = A1 + Σ A_k·p^(k−1) + Σ B_k·(t−20)^k + ΣΣ C_ik·p^k·(t−20)^i
//
// Source: OIML R 22, International alcoholometric tables, 1975, general formula.
// Example: 0.31 at 13 °C gives 956.42 kg/m³, a point of its printed table.
// Outside the range it returns a *RangeError.
func EthanolDensity(massFraction float64, t Celsius) (float64, error) {
	if err := Within("mass fraction of ethanol", massFraction, 0, 1, "", sourceR22); err != nil {
		return 0, err
	}
	if err := Within("temperature of ethanol and water", float64(t), -20, 40, "°C", sourceR22); err != nil {
		return 0, err
	}
	c := ethanolAt(float64(t))
	excess, _ := c.excess(massFraction)
	water, _ := horner(r22B[:], float64(t)-20)
	return r22A[0] + water + excess, nil
}
