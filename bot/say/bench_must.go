package say

import (
	"fmt"

	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// SugarDose answers how much sugar or honey lifts a must to a gravity.
func (s Style) SugarDose(b *ferment.State, what string, r dose.Sugar, from, to liquid.Gravity, second string) []string {
	lines := []string{fmt.Sprintf("%s: %s of %s", Title(b.Name), s.Grams(float64(r.Grams)), what),
		fmt.Sprintf("%s to %s, makes %s", s.SG(from), s.SG(to), s.Volume(float64(r.Volume)))}
	if b.VolumeL > 0 && float64(r.Must) < 0.98*b.VolumeL {
		lines = append(lines, fmt.Sprintf("Into %s of the must", s.Volume(float64(r.Must))))
	} else if b.VolumeL > 0 && float64(r.Must) > 1.02*b.VolumeL {
		lines = append(lines, fmt.Sprintf("It takes %s of this must", s.Volume(float64(r.Must))))
	}
	return Answer(lines, second, s.strong(r.Warnings), s.ifDry(to), "Dissolve it, stir hard, read again",
		fmt.Sprintf("%s (± %s in all)", s.PerVolume(float64(r.PerLitre)), s.Grams(float64(r.Doubt))))
}

func (s Style) strong(ws []dose.Warning) string {
	if warned(ws, dose.StrongMust) {
		return "Over " + s.SG(dose.StrongFrom) + " yeast labours"
	}
	return ""
}

// ifDry is the alcohol that a start gravity makes.
func (s Style) ifDry(g liquid.Gravity) string {
	p, err := liquid.PotentialAlcohol(g)
	if err != nil || g < 1.01 {
		return ""
	}
	return fmt.Sprintf("If dry, about %s %% vol", s.ABV(p))
}

// MadeUpDose answers sugar and water up to a volume.
func (s Style) MadeUpDose(b *ferment.State, r dose.MadeUp, from, to liquid.Gravity, second string) []string {
	return Answer([]string{fmt.Sprintf("%s: %s of sugar", Title(b.Name), s.Grams(float64(r.Sugar))),
		fmt.Sprintf("and %s of water, makes %s", s.Volume(float64(r.Water)), s.Volume(float64(r.Volume))),
		fmt.Sprintf("%s to %s; the last water by reading", s.SG(from), s.SG(to))}, second, s.strong(r.Warnings), s.ifDry(to))
}

// SugarWorking answers sugar or honey into what ferments. start is the original gravity
// that it then counts as, 0 where none is known.
func (s Style) SugarWorking(b *ferment.State, what string, r dose.Sweetening, from, start liquid.Gravity, second string) []string {
	lines := []string{fmt.Sprintf("%s: %s of %s", Title(b.Name), s.Grams(float64(r.Grams)), what),
		fmt.Sprintf("%s to %s while it works, %s", s.SG(from), s.SG(r.Gravity), s.Volume(float64(r.Volume)))}
	counts := ""
	if start > 0 {
		counts = "Counts as a start of " + s.SG(start)
		if p, err := liquid.PotentialAlcohol(start); err == nil {
			counts += fmt.Sprintf(", %s %% if dry", s.ABV(p))
		}
		if start > dose.StrongFrom {
			second = Answered(second, "Over "+s.SG(dose.StrongFrom)+" in all yeast labours")
		}
	}
	return Answer(lines, counts, second, "Dissolve it first, add slowly: it foams", s.weakened(b, r.ABV))
}

// Answered is the first of two things to say that is not empty.
func Answered(first, second string) string {
	if first != "" {
		return first
	}
	return second
}

// WaterDose answers how much water brings a gravity down; after is the alcohol then, 0
// where there is none yet.
func (s Style) WaterDose(b *ferment.State, litres, volume liquid.Litres, from, to liquid.Gravity, after liquid.PercentVol) []string {
	lines := []string{fmt.Sprintf("%s: %s of water", Title(b.Name), s.Volume(float64(litres))),
		fmt.Sprintf("%s to %s, makes %s", s.SG(from), s.SG(to), s.Volume(float64(volume)))}
	if w := s.weakened(b, after); w != "" && after > 0 {
		lines = append(lines, w)
	}
	return Answer(lines, "It thins acid and flavour too. Read again")
}

// AcidUpDose answers how much tartaric acid lifts a total acidity. The pH is an
// estimate: what buffers the wine makes it ± 50 % (common practice).
func (s Style) AcidUpDose(b *ferment.State, r dose.AcidDose, from, to float64, second, spoons string) []string {
	lines := []string{fmt.Sprintf("%s: %s tartaric acid", Title(b.Name), s.Grams(float64(r.Grams))),
		fmt.Sprintf("%s to %s g/L as tartaric", s.Number(from, 1), s.Number(to, 1)),
		fmt.Sprintf("pH falls by %s–%s, an estimate", s.Number(-r.PHHigh, 2), s.Number(-r.PHLow, 2))}
	limit := ""
	if warned(r.Warnings, dose.OverAcidLimit) {
		limit = "Over 4 g/L added, the OIV code's limit"
	} else if warned(r.Warnings, dose.OverTotalAcid) {
		limit = "Over 9 g/L, US limit (27 CFR 24.182)"
	}
	return Answer(lines, second, limit, "Try it in a jug, then measure again", spoons)
}

// AcidDownDose answers how much potassium bicarbonate lowers a total acidity.
func (s Style) AcidDownDose(b *ferment.State, r dose.AcidDose, from, to float64, second, spoons string) []string {
	lines := []string{fmt.Sprintf("%s: %s potassium bicarbonate", Title(b.Name), s.Grams(float64(r.Grams))),
		fmt.Sprintf("%s to %s g/L as tartaric, pH rises", s.Number(from, 1), s.Number(to, 1))}
	once := ""
	if warned(r.Warnings, dose.TooMuchAtOnce) {
		once = "Over 2 g/L at once: halve it, wait, test"
	}
	return Answer(lines, second, once, fmt.Sprintf("In the cold perhaps on to %s g/L", s.Number(float64(r.Low), 1)), "It foams. Try it in a jug first", spoons)
}

// AcidThere answers an acidity that is reached without any dose.
func (s Style) AcidThere(b *ferment.State, now, to float64) []string {
	l1 := fmt.Sprintf("%s: it is at %s g/L", Title(b.Name), s.Number(now, 1))
	if now == to {
		return []string{l1}
	}
	return []string{l1, "To go up: acid to " + s.Number(to, 1)}
}

// AcidByPH answers a wish for a lower pH: no sum leads there, so a first step is
// told (1 g/L of tartaric acid lowers it by about 0.1, bcawa.ca; ± 50 %, common
// practice). The grams are those of half of it, which go in first.
func (s Style) AcidByPH(b *ferment.State, v liquid.Litres, from, to float64, second string) ([]string, liquid.Grams) {
	all := max(0, from-to) * 10 * float64(v)
	return Answer([]string{fmt.Sprintf("%s: about %s tartaric acid", Title(b.Name), s.Grams(all)),
		fmt.Sprintf("pH %s to %s: an estimate, ± 50 %%", s.Number(from, 2), s.Number(to, 2)),
		fmt.Sprintf("Put in half, %s, stir, measure", s.Grams(all/2))}, second, "Acid rises with it: taste too"), liquid.Grams(all / 2)
}

// RaiseByPH answers a wish for a higher pH with the usual first step, half a gram a
// litre (common practice, no source), and its grams.
func (s Style) RaiseByPH(b *ferment.State, v liquid.Litres, second string) ([]string, liquid.Grams) {
	g := float64(v) / 2
	return Answer([]string{fmt.Sprintf("%s: %s potassium bicarbonate", Title(b.Name), s.Grams(g)),
		"Half a gram a litre: pH rises, acid falls"}, second, "Stir, measure again. It foams"), liquid.Grams(g)
}

var feedWords = map[dose.FeedAt]string{dose.AtLagEnd: "now or at its start", dose.After24h: "24 h after the yeast", dose.After48h: "48 h after the yeast",
	dose.After72h: "72 h after the yeast", dose.AtThird: "when a third is gone"}

// Feed answers the nutrient steps: the portion that comes next, and what is left of the
// plan with it.
func (s Style) Feed(b *ferment.State, r dose.Feeding, next dose.Portion, left liquid.Grams, due bool, second, spoons string) []string {
	name := Title(b.Name)
	switch {
	case warned(r.Warnings, dose.TooLateToFeed):
		return []string{name + ": no nutrient now", "Two thirds of the sugar is gone:", "yeast would leave it in the wine"}
	case r.Grams == 0:
		return []string{name + ": no nutrient needed", fmt.Sprintf("It needs %.0f mg/L nitrogen and has it", float64(r.Need))}
	case next.Grams == 0:
		return []string{name + ": fed enough", fmt.Sprintf("The plan was %s of DAP in all", s.Grams(float64(r.Grams)))}
	}
	when := feedWords[next.At]
	if due && next.At != dose.AtLagEnd {
		when = "now"
	}
	lines := []string{fmt.Sprintf("%s: %s of DAP", name, s.Grams(float64(next.Grams))), when + s.ofPlan(r, next, left)}
	short := fmt.Sprintf("Short of %.0f mg/L nitrogen", float64(r.Short))
	if warned(r.Warnings, dose.NitrogenAssumed) {
		short += ", an estimate"
	}
	capped := ""
	if warned(r.Warnings, dose.NutrientCapped) {
		capped = "Held to 0.3 g/L, the OIV code's limit"
		if s.Units == "us" {
			capped = "Held to 0.96 g/L, 27 CFR 24.246"
		}
	}
	kit := ""
	if b.Kind == ferment.Kit {
		kit = "A kit brings its own: only by its sheet"
	}
	return Answer(lines, kit, second, capped, short, spoons, "The packet's label wins")
}

func (s Style) ofPlan(r dose.Feeding, next dose.Portion, left liquid.Grams) string {
	if left <= next.Grams*1.01 {
		return ", the last"
	}
	return fmt.Sprintf("; %s in %d steps", s.Grams(float64(r.Grams)), len(r.Portions))
}

// NoGasYet answers for a must.
func (s Style) NoGasYet(b *ferment.State) []string {
	return []string{Title(b.Name) + ": no gas yet, no yeast in it"}
}

// GasInBottles answers for a bottled wine: none may come.
func (s Style) GasInBottles(b *ferment.State) []string {
	return []string{Title(b.Name) + ": bottled, no gas may come", "Fizz or a cork that rises? Tell me"}
}

// GasNow answers the carbon dioxide so far and by the hour; perHour below 0: not
// known. Limit at work: NIOSH, 0.5 %.
func (s Style) GasNow(b *ferment.State, r dose.Gas, perHour float64) []string {
	lines := []string{fmt.Sprintf("%s: %s L of CO2 so far", Title(b.Name), s.Number(float64(r.Litres), 0))}
	switch {
	case !b.Stop.Shown.IsZero():
		lines = append(lines, "It has stopped: no more comes of sugar")
	case perHour >= 0:
		lines = append(lines, fmt.Sprintf("about %s L an hour by the last readings", s.Number(perHour, 0)))
	}
	return Answer(lines, "It lies low. Air the room; limit at work 0.5 % (NIOSH). Dizzy? Out at once", s.Grams(float64(r.Grams))+" of it, an estimate")
}
