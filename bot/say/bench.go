package say

import (
	"fmt"

	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// SugarDose answers how much sugar or honey lifts a gravity.
func (s Style) SugarDose(b *ferment.State, what string, r dose.Sugar, from, to liquid.Gravity) []string {
	return []string{fmt.Sprintf("%s: %s of %s", Title(b.Name), s.Grams(float64(r.Grams)), what),
		fmt.Sprintf("%s to %s, makes %s", s.SG(from), s.SG(to), s.Volume(float64(r.Volume))),
		fmt.Sprintf("%s a litre (± %s in all)", s.Grams(float64(r.PerLitre)), s.Grams(float64(r.Doubt))),
		"Dissolve it, stir hard, read again"}
}

// WaterDose answers how much water brings a gravity down.
func (s Style) WaterDose(b *ferment.State, r dose.Water, from, to liquid.Gravity) []string {
	return []string{fmt.Sprintf("%s: %s of water", Title(b.Name), s.Volume(float64(r.Litres))),
		fmt.Sprintf("%s to %s, makes %s", s.SG(from), s.SG(to), s.Volume(float64(r.Volume))),
		"It thins acid and flavour too. Read again"}
}

// SulphiteDose answers grams of potassium metabisulphite. molecular is the target
// it was worked out for, 0 where free SO2 was asked for.
func (s Style) SulphiteDose(b *ferment.State, r dose.Sulphite, molecular float64) []string {
	lines := []string{fmt.Sprintf("%s: %s metabisulphite", Title(b.Name), s.Grams(float64(r.Grams))),
		fmt.Sprintf("adds %.0f mg/L SO2, in all %.0f", float64(r.Adds), float64(r.Total))}
	if molecular > 0 {
		lines = append(lines, fmt.Sprintf("for %s molecular at pH %s", s.Number(molecular, 2), s.Number(b.PH.Value, 2)))
	}
	if st, small, err := dose.StockFor(r.Grams); err == nil && small {
		lines = append(lines, fmt.Sprintf("Too little: %s in %s, take %s ml", s.Grams(float64(st.Powder)), plainMillilitres(st.MadeUpTo), s.Number(float64(st.Take)*1000, 1)))
	}
	switch {
	case warned(r.Warnings, dose.HighTotalSulphite):
		lines = append(lines, "Over 150 mg/L in all: is that meant?")
	case warned(r.Warnings, dose.LargeSulphite):
		lines = append(lines, "Over 100 mg/L at once: is that meant?")
	}
	if len(lines) == Depth {
		return lines
	}
	return append(lines, "Potassium salt. Label rules; no dust in")
}

func plainMillilitres(l liquid.Litres) string { return fmt.Sprintf("%.0f ml", float64(l)*1000) }

// NoSulphite refuses while a malolactic is open.
func (s Style) NoSulphite(b *ferment.State) []string {
	return []string{Title(b.Name) + ": no sulphite now", "Malolactic is running or wanted: it", "would stop it. Test first"}
}

// SorbateDose answers grams of potassium sorbate.
func (s Style) SorbateDose(b *ferment.State, r dose.Sorbate) []string {
	lines := []string{fmt.Sprintf("%s: %s potassium sorbate", Title(b.Name), s.Grams(float64(r.Grams))),
		fmt.Sprintf("%.0f mg/L sorbic acid; cap 200 (OIV)", float64(r.Sorbic)), "With sulphite, never without"}
	if !b.Stop.Proven() {
		lines = append(lines, "Not stopped yet: it stops no ferment")
	}
	return lines
}

// NoSorbate refuses where malolactic bacteria live.
func (s Style) NoSorbate(b *ferment.State) []string {
	return []string{Title(b.Name) + ": no sorbate, ever", "With malolactic it makes geranium taint", "that nothing cures"}
}

// SweetenDose answers how much sugar sweetens a wine to a gravity.
func (s Style) SweetenDose(b *ferment.State, r dose.Sweetening) []string {
	lines := []string{fmt.Sprintf("%s: %s of sugar", Title(b.Name), s.Grams(float64(r.Grams))),
		fmt.Sprintf("%s, %s, %s", s.SG(r.Gravity), s.strength(b, r.ABV), s.Volume(float64(r.Volume)))}
	if !b.Stop.Proven() {
		return append(lines, "Not proven stopped: do not sweeten yet")
	}
	return append(lines, "Sulphite and sorbate first, wait, read", "again in 10 days before bottling")
}

// TopUp answers what water does to a wine.
func (s Style) TopUp(b *ferment.State, l float64, r dose.Diluted) []string {
	return []string{fmt.Sprintf("%s: %s water makes %s", Title(b.Name), s.Volume(l), s.Volume(float64(r.Volume))),
		s.weakened(b, r.ABV), "Like wine keeps it; water thins it"}
}

// strength is the alcohol after, never invented where it was not known before.
func (s Style) strength(b *ferment.State, after liquid.PercentVol) string {
	if !b.ABVKnown {
		return "alcohol not known"
	}
	return s.ABV(after) + " % vol"
}

func (s Style) weakened(b *ferment.State, after liquid.PercentVol) string {
	if !b.ABVKnown {
		return "alcohol not known; it falls"
	}
	return fmt.Sprintf("alcohol %s to %s %% vol", s.ABV(b.ABV), s.ABV(after))
}
