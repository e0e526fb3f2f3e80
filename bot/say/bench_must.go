package say

import (
	"fmt"

	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// Fit breaks the lines that are too wide. Long names and amounts in two units meet
// in one line only now and then, so the answers are written for the common case.
func Fit(lines []string) []string {
	var out []string
	for _, l := range lines {
		if len([]rune(l)) > Width {
			out = append(out, Wrap(l)...)
			continue
		}
		out = append(out, l)
	}
	return out
}

// Missing says what is not known for an answer, and what to type.
func Missing(b *ferment.State, what, example string) []string {
	return []string{Title(b.Name) + ": " + what, "Type: " + example}
}

func warned(ws []dose.Warning, w dose.Warning) bool {
	for _, x := range ws {
		if x == w {
			return true
		}
	}
	return false
}

// AcidUpDose answers how much tartaric acid lifts a total acidity. The pH is an
// estimate: what buffers the wine makes it ± 50 % (common practice).
func (s Style) AcidUpDose(b *ferment.State, r dose.AcidDose, from, to float64) []string {
	lines := []string{fmt.Sprintf("%s: %s tartaric acid", Title(b.Name), s.Grams(float64(r.Grams))),
		fmt.Sprintf("%s to %s g/L as tartaric", s.Number(from, 1), s.Number(to, 1)),
		fmt.Sprintf("pH falls by %s–%s, an estimate", s.Number(-r.PHHigh, 2), s.Number(-r.PHLow, 2))}
	if warned(r.Warnings, dose.OverAcidLimit) {
		lines = append(lines, "Over 4 g/L added, the OIV code's limit")
	} else if warned(r.Warnings, dose.OverTotalAcid) {
		lines = append(lines, "Over 9 g/L, US limit (27 CFR 24.182)")
	}
	return append(lines, "Try it in a jug, then measure again")
}

// AcidDownDose answers how much potassium bicarbonate lowers a total acidity.
func (s Style) AcidDownDose(b *ferment.State, r dose.AcidDose, from, to float64) []string {
	lines := []string{fmt.Sprintf("%s: %s potassium bicarbonate", Title(b.Name), s.Grams(float64(r.Grams))),
		fmt.Sprintf("%s to %s g/L as tartaric, pH rises", s.Number(from, 1), s.Number(to, 1)),
		fmt.Sprintf("In the cold perhaps on to %s g/L", s.Number(float64(r.Low), 1))}
	if warned(r.Warnings, dose.TooMuchAtOnce) {
		lines = append(lines, "Over 2 g/L at once: halve it, wait, test")
	}
	return append(lines, "It foams. Try it in a jug first")
}

// AcidByPH answers a wish for a lower pH: no sum leads there, so a first step is
// told (1 g/L of tartaric acid lowers it by about 0.1, bcawa.ca; ± 50 %, common
// practice).
func (s Style) AcidByPH(b *ferment.State, v liquid.Litres, from, to float64) []string {
	grams := max(0, from-to) * 10 * float64(v)
	return []string{fmt.Sprintf("%s: about %s tartaric acid", Title(b.Name), s.Grams(grams)),
		fmt.Sprintf("pH %s to %s: an estimate, ± 50 %%", s.Number(from, 2), s.Number(to, 2)),
		"Put in half, stir, measure, then the rest"}
}

// RaiseByPH answers a wish for a higher pH with the usual first step (common
// practice, no source).
func (s Style) RaiseByPH(b *ferment.State, v liquid.Litres) []string {
	return []string{fmt.Sprintf("%s: %s potassium bicarbonate", Title(b.Name), s.Grams(float64(v)/2)),
		"Half a gram a litre: pH rises, acid falls", "Stir, measure again. It foams"}
}

var feedWords = map[dose.FeedAt]string{dose.AtLagEnd: "at work", dose.After24h: "24 h", dose.After48h: "48 h",
	dose.After72h: "72 h", dose.AtThird: "a third gone"}

// Feed answers the nutrient steps.
func (s Style) Feed(b *ferment.State, r dose.Feeding) []string {
	name := Title(b.Name)
	if warned(r.Warnings, dose.TooLateToFeed) {
		return []string{name + ": no nutrient now", "Two thirds of the sugar is gone:", "yeast would leave it in the wine"}
	}
	if r.Grams == 0 {
		return []string{name + ": no nutrient needed", fmt.Sprintf("It needs %.0f mg/L nitrogen and has it", float64(r.Need))}
	}
	lines := []string{fmt.Sprintf("%s: %s of DAP in all", name, s.Grams(float64(r.Grams))), s.portions(r)}
	if warned(r.Warnings, dose.NitrogenAssumed) {
		lines = append(lines, fmt.Sprintf("Short of %.0f mg/L nitrogen, an estimate", float64(r.Short)))
	}
	if warned(r.Warnings, dose.NutrientCapped) {
		lines = append(lines, "Held to 0.3 g/L, the OIV code's limit")
	}
	return append(lines, "The packet's label wins")
}

func (s Style) portions(r dose.Feeding) string {
	each := s.Grams(float64(r.Portions[0].Grams))
	switch len(r.Portions) {
	case 1:
		return "all at once, now"
	case 2:
		return fmt.Sprintf("%s twice: %s, %s", each, feedWords[r.Portions[0].At], feedWords[r.Portions[1].At])
	}
	return each + " at 24, 48, 72 h, a third gone"
}

// GasNow answers the carbon dioxide so far and by the hour; perHour below 0: not
// known. Limit at work: NIOSH, 0.5 %.
func (s Style) GasNow(b *ferment.State, r dose.Gas, perHour float64) []string {
	lines := []string{fmt.Sprintf("%s: %s L of CO2 so far", Title(b.Name), s.Number(float64(r.Litres), 0)),
		s.Grams(float64(r.Grams)) + " of it, an estimate"}
	if perHour >= 0 {
		lines = append(lines, fmt.Sprintf("about %s L an hour by the last readings", s.Number(perHour, 0)))
	}
	return append(lines, "It lies low. Air the room; limit at work", "0.5 % (NIOSH). Dizzy? Out at once")
}
