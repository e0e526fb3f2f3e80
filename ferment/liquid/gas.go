package liquid

import "math"

// Physical constants of the gas formulas (atomic masses and gas constant, from
// memory of CODATA).
const (
	molarCO2     = 44.01   // g/mol
	molarEthanol = 46.07   // g/mol
	gasConstant  = 0.08206 // L·atm/(mol·K)
)

// Carbon dioxide dissolved in a wine when it is bottled, g/L (common practice).
const (
	DissolvedAfterFerment GramsPerLitre = 1.7
	DissolvedDegassed     GramsPerLitre = 0.8
)

// headspaceShare is the gas room of a filled bottle as a share of the wine.
const headspaceShare = 0.02

const sourcePressure = "Henry's law with a common headspace"

// BottlePressure returns the absolute pressure in atm in a closed bottle at t, once
// sugar g/L have fermented in it over dissolved g/L of carbon dioxide:
//
//	atm = (c0 + 0.466·s) ÷ (k + φ·44.01 ÷ (0.08206·T)),  φ = 0.02
//	k = 1.25·exp(2838·(1/T − 1/298.15)) g/L/atm
//
// Give as sugar all that may ferment: left, its doubt, and added. Range: sugar 0 to
// 300 g/L, dissolved 0 to 20 g/L, t −5 to 45 °C; outside, a *RangeError. Source: k
// from memory of a published table of Henry's constants; that 24 g/L give 5 to 6 atm
// in a cellar is in the Oxford Companion to Wine, second fermentation. Example: 24 g/L
// over 0.8 at 10 °C give 5.7 atm. Glass made for still wine holds none of it.
func BottlePressure(sugar, dissolved GramsPerLitre, t Celsius) (float64, error) {
	if err := Within("fermentable sugar", float64(sugar), 0, 300, "g/L", sourcePressure); err != nil {
		return 0, err
	}
	if err := Within("dissolved carbon dioxide", float64(dissolved), 0, 20, "g/L", sourcePressure); err != nil {
		return 0, err
	}
	if err := Within("temperature of the bottle", float64(t), -5, 45, "°C", sourcePressure); err != nil {
		return 0, err
	}
	k := 1.25 * math.Exp(2838*(1/t.kelvin()-1/298.15))
	gas := headspaceShare * molarCO2 / (gasConstant * t.kelvin())
	return (float64(dissolved) + CO2PerSugar*float64(sugar)) / (k + gas), nil
}

// CO2FromSugar returns the carbon dioxide that sugar gives off when it ferments:
// 0.466 g/g. Source: Weihenstephan, practical products of 100 g of hexose. Example:
// 23 L fermenting 220 g/L, 5060 g, give 2.4 kg.
func CO2FromSugar(sugar Grams) Grams { return CO2PerSugar * sugar }

// CO2Volume returns the litres of gas that m grams of carbon dioxide fill at 1 atm
// and t, as an ideal gas: 24.06 L/mol at 20 °C. Example: 2.36 kg fill 1.3 m³.
func CO2Volume(m Grams, t Celsius) Litres {
	return Litres(float64(m) / molarCO2 * gasConstant * t.kelvin())
}

// CO2Limit is the workplace limit of carbon dioxide over 8 hours, as a share of the
// air: 5000 ppm (cdc.gov/niosh/idlh/124389). CO2Danger is the share that is
// immediately dangerous, 40,000 ppm (same page).
const (
	CO2Limit  = 0.005
	CO2Danger = 0.04
)

// CO2Share returns the share of carbon dioxide, 0 to 1, in the air of a closed room
// of room m³ after so many litres of it came in, well mixed, and drove out as much
// air: 1 − exp(−v/room). Near the floor there is more. Range: room 0.1 to 100,000
// m³, gas not negative; outside, a *RangeError. Source: ideal mixing. Example: 260 L
// in 10 m³ make 0.026, five times the limit at work.
func CO2Share(gas Litres, room float64) (float64, error) {
	if err := Within("room", room, 0.1, 100_000, "m³", "ideal mixing"); err != nil {
		return 0, err
	}
	if err := Within("gas", float64(gas), 0, 1e9, "L", "ideal mixing"); err != nil {
		return 0, err
	}
	return -math.Expm1(-float64(gas) / 1000 / room), nil
}

// FreezingPoint returns the temperature at which a dry wine of that strength begins
// to freeze, taken as an ideal solution of ethanol in water: 1.86 °C per mol in a kg
// of water. Sugar lowers it a little further. Range: 0 to 20 % vol, else a
// *RangeError. Source: the cryoscopic constant of water (from memory of the CRC
// Handbook). Example: 12 % vol freezes at −4.3 °C, 5 % vol at −1.7.
func FreezingPoint(abv PercentVol) (Celsius, error) {
	if err := Within("alcohol", float64(abv), 0, 20, "% vol", "ideal freezing"); err != nil {
		return 0, err
	}
	q := ethanolFraction(float64(abv))
	return Celsius(-1.86 * 1000 * q / (1 - q) / molarEthanol), nil
}

// ColdLimit returns the lowest temperature at which a jar of that strength is put
// out for cold stabilisation: −(alcohol ÷ 4) °C, well above freezing (common
// practice). Range: 0 to 20 % vol, else a *RangeError. Example: 12 % vol gives −3 °C.
func ColdLimit(abv PercentVol) (Celsius, error) {
	if err := Within("alcohol", float64(abv), 0, 20, "% vol", "common practice"); err != nil {
		return 0, err
	}
	return Celsius(-abv / 4), nil
}
