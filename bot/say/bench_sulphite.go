package say

import (
	"fmt"

	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// WantedSO2 is free SO2 that was asked for. Molecular is the target that it was worked
// out for at PH, 0 where free SO2 itself was asked for; Low and High are the free SO2 at
// the pH less and more its doubt.
type WantedSO2 struct {
	Molecular, PH   float64
	Free, Low, High liquid.MilligramsPerLitre
	Has             liquid.MilligramsPerLitre // free already, by the newest test and what went in since
	Adds            liquid.MilligramsPerLitre
}

// SulphiteAnswer is what a dose of metabisulphite is told with.
type SulphiteAnswer struct {
	WantedSO2
	Dose           dose.Sulphite
	Salt           dose.Salt
	Tablets        dose.Estimate // asked for in tablets
	Second, Spoons string
}

// SulphiteDose answers grams of metabisulphite.
func (s Style) SulphiteDose(b *ferment.State, d SulphiteAnswer) []string {
	r := d.Dose
	lines := []string{fmt.Sprintf("%s: %s metabisulphite", Title(b.Name), s.Grams(float64(r.Grams))),
		fmt.Sprintf("adds %.0f mg/L SO2, in all %.0f", float64(r.Adds), float64(r.Total))}
	if d.Molecular > 0 {
		lines = append(lines, fmt.Sprintf("%s molecular at pH %s: %.0f–%.0f free", s.Number(d.Molecular, 2), s.Number(d.PH, 2), float64(d.Low), float64(d.High)))
	}
	tablets, stock, test := "", "", ""
	if d.Tablets.Value > 0 {
		tablets = fmt.Sprintf("as Campden about %s tablets (%s–%s)", s.Number(d.Tablets.Value, 1), s.Number(d.Tablets.Low, 1), s.Number(d.Tablets.High, 1))
	}
	if st, small, err := dose.StockFor(r.Grams); err == nil && small {
		stock = fmt.Sprintf("Too little: %s in %s, take %s ml. Throw the rest away tonight", s.Grams(float64(st.Powder)), plainMillilitres(st.MadeUpTo), s.Number(float64(st.Take)*1000, 1))
	}
	if d.Has > 0 {
		test = fmt.Sprintf("over %.0f mg/L free that it has", float64(d.Has))
	}
	return Answer(lines, s.beforeYeast(b, r), s.overSO2(b, r), d.Second, stock, tablets, test, saltWord(d.Salt), d.Spoons)
}

// beforeYeast is what a must asks for: a kit brings its own, and where a malolactic is
// wanted some 50 mg/L in all before the yeast do it no harm (Australian Wine Research
// Institute on malolactic).
func (s Style) beforeYeast(b *ferment.State, r dose.Sulphite) string {
	switch {
	case !b.Pitched.IsZero():
		return ""
	case b.Kind == ferment.Kit:
		return "A kit has its own: only by its sheet"
	case b.MLFOpen() && r.Total > 50:
		return "Malolactic wanted: at most 50 in all"
	}
	return ""
}

func saltWord(s dose.Salt) string {
	if s == dose.SodiumSalt {
		return "Sodium salt. Label rules; no dust in"
	}
	return "Potassium salt. Label rules; no dust in"
}

// overSO2 says that a dose is large, or the sum of all, with a law's limit beside it:
// EU 2019/934 annex I B, wine under 5 g/L of sugar; 27 CFR 4.22 (from memory).
func (s Style) overSO2(b *ferment.State, r dose.Sulphite) string {
	law := "EU law 150 red, 200 white (2019/934)"
	if s.Units == "us" {
		law = "US law 350 (27 CFR 4.22)"
	}
	switch {
	case warned(r.Warnings, dose.HighTotalSulphite):
		return fmt.Sprintf("Over %.0f mg/L in all: is that meant? %s", float64(dose.HighTotal), law)
	case warned(r.Warnings, dose.LargeSulphite):
		return fmt.Sprintf("Over %.0f mg/L at once: is that meant?", float64(dose.LargeAddition))
	}
	return ""
}

func plainMillilitres(l liquid.Litres) string { return fmt.Sprintf("%.0f ml", float64(l)*1000) }

// SulphiteEnough answers where the free SO2 is there already.
func (s Style) SulphiteEnough(b *ferment.State, w WantedSO2) []string {
	return []string{fmt.Sprintf("%s: no sulphite needed", Title(b.Name)),
		fmt.Sprintf("%.0f mg/L free wanted, it has about %.0f", float64(w.Free), float64(w.Has)), "It falls with time: test again in 6 weeks"}
}

// NoSulphite refuses while a malolactic is open.
func (s Style) NoSulphite(b *ferment.State) []string {
	return []string{Title(b.Name) + ": no sulphite now", "Malolactic is running or wanted: it", "would stop it. Test first"}
}

// SorbateDose answers grams of potassium sorbate; before it has stopped, that it is too
// early.
func (s Style) SorbateDose(b *ferment.State, r dose.Sorbate, second, spoons string) []string {
	grams := s.Grams(float64(r.Grams))
	sorbic := fmt.Sprintf("%.0f mg/L sorbic acid; cap 200 (OIV)", float64(r.Sorbic))
	switch {
	case !b.Stop.Proven():
		return Answer([]string{Title(b.Name) + ": no sorbate yet", "Not proven stopped: it stops no ferment"}, fmt.Sprintf("Once it has: %s, with sulphite", grams))
	case r.Grams == 0:
		return []string{Title(b.Name) + ": no more sorbate", fmt.Sprintf("%.0f mg/L in it; cap 268 (OIV II.3.4.5)", b.Sorbate)}
	}
	stock, dry := "", ""
	if st, small, err := dose.StockFor(r.Grams); err == nil && small {
		stock = fmt.Sprintf("Too little: %s in %s, take %s ml. Throw the rest away tonight", s.Grams(float64(st.Powder)), plainMillilitres(st.MadeUpTo), s.Number(float64(st.Take)*1000, 1))
	}
	switch {
	case b.Kind == ferment.Kit:
		dry = "A kit brings its own: by its sheet"
	case !b.IsSweet():
		dry = "Dry and left dry, it needs none"
	}
	return Answer([]string{fmt.Sprintf("%s: %s potassium sorbate", Title(b.Name), grams), sorbic, "With sulphite, never without"}, second, stock, dry, spoons)
}

// NoSorbate refuses where malolactic bacteria live.
func (s Style) NoSorbate(b *ferment.State) []string {
	return []string{Title(b.Name) + ": no sorbate, ever", "With malolactic it makes geranium taint", "that nothing cures"}
}

// MayAdd answers whether something may go in now: the verdict, and why.
func (s Style) MayAdd(b *ferment.State, material, verdict string, why ...string) []string {
	return append([]string{fmt.Sprintf("%s: %s, %s", Title(b.Name), Clip(material, 16), verdict)}, why...)
}

// BothWays tells the free SO2 of the usual molecular target by custom and by the
// constant of the wine's own alcohol (OIV-MA-AS323-04C), which is lower; empty where
// no pH is known.
func (s Style) BothWays(b *ferment.State) string {
	if b.PH == nil {
		return ""
	}
	f, err := dose.FreeForMolecularOIV(dose.MolecularTarget, b.PH.Value, 0, b.ABV, 20)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%s molecular: %.0f free by pK 1.81, %.0f OIV", s.Number(float64(dose.MolecularTarget), 1), float64(f.Free), float64(f.OIV))
}
