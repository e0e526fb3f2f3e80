package dose

import (
	"math"

	"mustbook/ferment/liquid"
)

// customaryPK is the first constant of sulphurous acid in water at 25 °C, by which
// the trade's tables are made (Waterhouse, Sacks, Jeffery, Understanding Wine
// Chemistry, ch. 17).
const customaryPK = 1.81

// ionicShift is what the salts of a wine take off pkT: ionic strength 0.038 mol/L,
// OIV-MA-AS323-04C, its constants from memory.
const ionicShift = 0.074

const sourceMolecular = "molecular sulphur dioxide by pH"

// MolecularTarget is the usual target of molecular SO2 in mg/L: 0.8 (Iowa State
// University Extension gives 0.6 to 0.8; reds often 0.5, common practice).
const MolecularTarget liquid.MilligramsPerLitre = 0.8

// FreeSulphite is the free SO2 that a molecular target asks for.
type FreeSulphite struct {
	Free      liquid.MilligramsPerLitre // by the customary constant: the dose is by this
	Low, High liquid.MilligramsPerLitre // at pH less and more its doubt
	OIV       liquid.MilligramsPerLitre // the lower figure, told beside it; 0: not known
	Warnings  []Warning
}

// FreeForMolecular returns the free SO2 in mg/L for a molecular target at a pH known
// to ± phDoubt:
//
//	free = molecular·(1 + 10^(pH − 1.81))
//
// Range: target 0.1 to 2 mg/L, pH 2.7 to 4.3, doubt 0 to 0.5; else a
// *liquid.RangeError. Source: Waterhouse et al., ch. 17. Example: 0.8 at pH 3.4 ± 0.1
// asks for 32 mg/L, 26 to 40.
func FreeForMolecular(target liquid.MilligramsPerLitre, pH, phDoubt float64) (FreeSulphite, error) {
	if err := firstError(liquid.Within("molecular target", float64(target), 0.1, 2, "mg/L", sourceMolecular),
		checkPH(pH), liquid.Within("doubt of the pH", phDoubt, 0, 0.5, "", sourceMolecular)); err != nil {
		return FreeSulphite{}, err
	}
	free := func(pH float64) liquid.MilligramsPerLitre {
		return target * liquid.MilligramsPerLitre(1+math.Pow(10, pH-customaryPK))
	}
	return FreeSulphite{
		Free: free(pH), Low: free(pH - phDoubt), High: free(pH + phDoubt),
		Warnings: warn(warn(nil, phDoubt >= 0.1, RoughPH), pH < 3, LowPH),
	}, nil
}

// FreeForMolecularOIV is FreeForMolecular with OIV set, the figure by the constant
// of the wine's own alcohol and temperature, pK = pkT − 0.074. Range: that of
// FreeForMolecular and PKT. Source: OIV-MA-AS323-04C. Example: 0.8 at pH 3.4 in 12 %
// vol at 20 °C asks for 23 mg/L, against 32 by custom.
func FreeForMolecularOIV(target liquid.MilligramsPerLitre, pH, phDoubt float64, abv liquid.PercentVol, t liquid.Celsius) (FreeSulphite, error) {
	out, err := FreeForMolecular(target, pH, phDoubt)
	if err != nil {
		return FreeSulphite{}, err
	}
	pk, err := PKT(abv, t)
	if err != nil {
		return FreeSulphite{}, err
	}
	out.OIV = target * liquid.MilligramsPerLitre(1+math.Pow(10, pH-pk+ionicShift))
	return out, nil
}

// Molecular is the inverse of FreeForMolecular: the molecular SO2 in so much free at a
// pH. Range: free 0 to 500 mg/L, pH 2.7 to 4.3; else a *liquid.RangeError. Example: 32
// mg/L at pH 3.4 hold 0.8.
func Molecular(free liquid.MilligramsPerLitre, pH float64) (liquid.MilligramsPerLitre, error) {
	if err := firstError(liquid.Within("free SO2", float64(free), 0, 500, "mg/L", sourceMolecular), checkPH(pH)); err != nil {
		return 0, err
	}
	return free / liquid.MilligramsPerLitre(1+math.Pow(10, pH-customaryPK)), nil
}

func checkPH(pH float64) error {
	return liquid.Within("pH", pH, 2.7, 4.3, "", "pH of must and wine")
}
