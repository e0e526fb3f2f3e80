package dose

import "mustbook/ferment/liquid"

// Acid is an acid that acidity is told as, or that is added.
type Acid string

// The acids.
const (
	Tartaric  Acid = "tartaric"
	Sulphuric Acid = "sulphuric"
	Malic     Acid = "malic"
	Citric    Acid = "citric"
	Lactic    Acid = "lactic"
	Acetic    Acid = "acetic"
)

// equivalent is the mass in g of one equivalent: molar mass over the protons that
// count (atomic masses; AWRI technical note 14 for acetic and tartaric).
var equivalent = map[Acid]float64{
	Tartaric: 150.09 / 2, Sulphuric: 98.08 / 2, Malic: 134.09 / 2,
	Citric: 192.12 / 3, Lactic: 90.08, Acetic: 60.05,
}

const (
	equivalentBicarbonate = 100.115 // KHCO3, g, atomic masses
	sourceAcid            = "equivalent masses"
)

// Limits of acidity, g/L.
const (
	mostTartaricAdded = 4.0 // OIV code, annex A.1: 54 meq/L in a must
	mostTotalAcid     = 9.0 // 27 CFR 24.182, from memory; as tartaric
	mostBicarbonate   = 2.0 // at once, common practice
)

// phPerTartaric is how far 1 g/L of tartaric acid lowers the pH (bcawa.ca, acid and
// pH); what buffers the wine makes that ± 50 % (common practice).
const phPerTartaric = 0.1

// ConvertAcidity returns an acidity in g/L told as one acid in terms of another.
// Range: 0 to 50 g/L, a known acid; else a *liquid.RangeError. Source: equivalent
// masses. Example: 4.2 g/L as sulphuric are 6.4 g/L as tartaric (factor 1.53).
func ConvertAcidity(ta liquid.GramsPerLitre, from, to Acid) (liquid.GramsPerLitre, error) {
	if err := firstError(liquid.Within("acidity", float64(ta), 0, 50, "g/L", sourceAcid),
		knownAcid(from), knownAcid(to)); err != nil {
		return 0, err
	}
	return ta * liquid.GramsPerLitre(equivalent[to]/equivalent[from]), nil
}

// knownAcid refuses an acid without an equivalent mass.
func knownAcid(a Acid) error {
	return liquid.Within("equivalent mass of "+string(a)+" acid", equivalent[a], 1, 200, "g", sourceAcid)
}

// AcidDose is how much to add, and what it may do.
type AcidDose struct {
	Grams    liquid.Grams
	PerLitre liquid.GramsPerLitre
	PHLow    float64 // the change of pH lies between PHLow and PHHigh; 0, 0 is not told
	PHHigh   float64
	Low      liquid.GramsPerLitre // the acidity that may come of it, on the asked basis
	High     liquid.GramsPerLitre
	Warnings []Warning
}

// AcidUp returns the grams of an acid that lift v litres from one total acidity to
// another, both in g/L as basis. Range: 0 to 25 g/L as basis, the target not below;
// adding acetic or sulphuric is refused; else a *liquid.RangeError. Source: equivalent
// masses; the limits of the OIV code, annex A.1, and 27 CFR 24.182 (from memory).
// Example: 23 L from 5 to 6.5 g/L as tartaric take 34.5 g of tartaric acid.
func AcidUp(v liquid.Litres, from, to liquid.GramsPerLitre, basis, with Acid) (AcidDose, error) {
	if err := firstError(checkAcidity(v, from, to, basis), knownAcid(with)); err != nil {
		return AcidDose{}, err
	}
	if with == Acetic || with == Sulphuric {
		return AcidDose{}, &liquid.RangeError{What: "share of " + string(with) + " acid", Value: 1, Unit: "", Source: "not an acid for wine"}
	}
	rise := float64(to-from) / equivalent[basis] // eq/L
	tartaric := rise * equivalent[Tartaric]
	per := rise * equivalent[with]
	total := float64(to) / equivalent[basis] * equivalent[Tartaric]
	ws := []Warning{TrialFirst}
	ws = warn(ws, tartaric > mostTartaricAdded, OverAcidLimit)
	ws = warn(ws, total > mostTotalAcid, OverTotalAcid)
	return AcidDose{
		Grams: liquid.Grams(per * float64(v)), PerLitre: liquid.GramsPerLitre(per),
		PHLow: -1.5 * phPerTartaric * tartaric, PHHigh: -0.5 * phPerTartaric * tartaric,
		Low: to, High: to, Warnings: ws,
	}, nil
}

// AcidDown returns the grams of potassium bicarbonate that lower v litres from one
// total acidity to another, both in g/L as basis. The dose is the stoichiometric one,
// 1.334 g per g of tartaric acid; potassium bitartrate may then fall out and take the
// acidity further, up to 1 g/L for each g/L of bicarbonate (Low). Range: 0 to 25 g/L
// as basis, the target not above; else a *liquid.RangeError. Source: Handbook of
// Enology, vol. 2; what falls out is common practice. Example: 23 L from 8 to 7 g/L
// as tartaric take 30.7 g.
func AcidDown(v liquid.Litres, from, to liquid.GramsPerLitre, basis Acid) (AcidDose, error) {
	if err := checkAcidity(v, to, from, basis); err != nil {
		return AcidDose{}, err
	}
	per := float64(from-to) / equivalent[basis] * equivalentBicarbonate
	furthest := float64(from) - per/equivalent[Tartaric]*equivalent[basis]
	return AcidDose{
		Grams: liquid.Grams(per * float64(v)), PerLitre: liquid.GramsPerLitre(per),
		Low: liquid.GramsPerLitre(max(0, furthest)), High: to,
		Warnings: warn([]Warning{TrialFirst}, per > mostBicarbonate, TooMuchAtOnce),
	}, nil
}

func checkAcidity(v liquid.Litres, low, high liquid.GramsPerLitre, basis Acid) error {
	return firstError(checkVolume(v), knownAcid(basis),
		liquid.Within("higher acidity", float64(high), 0, 25, "g/L", sourceAcid),
		liquid.Within("lower acidity", float64(low), 0, float64(high), "g/L", sourceAcid))
}
