package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// Blended answers what two or more wines make together. careful is a caution of
// the parents, or empty; along are the allergens of all of them.
func (s Style) Blended(r dose.Part, careful string, along []string) []string {
	lines := []string{"Blend: " + s.Volume(float64(r.Volume))}
	if r.Has&dose.HasABV != 0 {
		lines[0] += fmt.Sprintf(" of %s %% vol", s.ABV(r.ABV))
	} else {
		lines = append(lines, "Alcohol not known: it is not of every part")
	}
	var figures []string
	if r.Has&dose.HasGravity != 0 {
		figures = append(figures, "gravity "+s.SG(r.Gravity))
	}
	if r.Has&dose.HasTA != 0 {
		figures = append(figures, fmt.Sprintf("acid %s g/L tartaric", s.Number(float64(r.TA), 1)))
	}
	if r.Has&dose.HasTotal != 0 {
		figures = append(figures, fmt.Sprintf("SO2 in all %.0f", float64(r.TotalSO2)))
	}
	contains := ""
	if a := others(along); len(a) > 0 {
		contains = "Comes along: " + strings.Join(a, ", ")
	}
	return Answer(lines, strings.Join(figures, ", "), careful, contains, "Try it in a jug. Measure pH and SO2 again")
}

// others are the allergens beside sulphites, each once.
func others(all []string) (out []string) {
	seen := map[string]bool{"sulphites": true}
	for _, a := range all {
		if !seen[a] {
			seen[a] = true
			out = append(out, a)
		}
	}
	return out
}

// Cautions of a blend.
const (
	BlendWorking  = "One still works: then all of it will"
	BlendGeranium = "Sorbate + malolactic: geranium taint"
	BlendWakes    = "A sweet part: stabilise all of it again"
)

// AskBlend says how to ask for a blend.
func (s Style) AskBlend() []string {
	return s.typable("Which wines, and how much of each?", "Type: blend 10 l elder with 5 l apple")
}

// NoSweetening refuses sugar for taste before it has stopped.
func (s Style) NoSweetening(b *ferment.State) []string {
	switch {
	case b.Pitched.IsZero():
		return []string{Title(b.Name) + ": not yet, it is a must", "For strength ask: sugar to 1.085"}
	case b.Stop.Verdict == ferment.StopStuck:
		return []string{Title(b.Name) + ": stuck, do not sweeten", "The sugar in it can still ferment"}
	}
	return []string{Title(b.Name) + ": do not sweeten yet", "Not proven stopped: the sugar ferments"}
}

// SweetenDose answers how much sugar or honey sweetens a wine to a gravity.
func (s Style) SweetenDose(b *ferment.State, what string, r dose.Sweetening, malolactic bool, second string) []string {
	lines := []string{fmt.Sprintf("%s: %s of %s", Title(b.Name), s.Grams(float64(r.Grams)), what),
		fmt.Sprintf("%s, %s, %s", s.SG(r.Gravity), s.strength(b, r.ABV), s.Volume(float64(r.Volume)))}
	guard := "Sulphite and sorbate first, wait, read again in 10 days before bottling"
	switch {
	case malolactic:
		guard = "Malolactic: no sorbate. Unguarded it ferments: keep it cold, drink it soon"
	case !b.Sorbated.IsZero() && !b.Sulphited.IsZero() || !b.Stabilised.IsZero():
		guard = "Stabilised. Stir, airlock on, read again in 10 days before bottling"
	}
	return Answer(lines, guard, second)
}

// TopUp answers what water does to a wine; its amount is told as it was asked.
func (s Style) TopUp(b *ferment.State, v float64, unit string, r dose.Diluted) []string {
	lines := []string{fmt.Sprintf("%s: %s %s water makes %s", Title(b.Name), s.Number(v, 3), unitWord(unit), s.Volume(float64(r.Volume)))}
	if w := s.weakened(b, r.ABV); w != "" && !b.Pitched.IsZero() {
		lines = append(lines, w)
	}
	full := ""
	if b.VesselL > 0 && float64(r.Volume) > b.VesselL*1.005 {
		full = fmt.Sprintf("Too much: the vessel holds %s", s.Volume(b.VesselL))
	}
	lively := ""
	if !b.Pitched.IsZero() && b.Stop.Shown.IsZero() {
		lively = "While it works leave room for the foam"
	}
	return Answer(lines, full, lively, "Like wine keeps it; water thins it")
}

// TopUpWine answers a top-up with wine.
func (s Style) TopUpWine(b *ferment.State, v float64, unit string, litres float64) []string {
	lines := []string{fmt.Sprintf("%s: %s %s wine makes %s", Title(b.Name), s.Number(v, 3), unitWord(unit), s.Volume(b.VolumeL+litres))}
	if b.Stop.Shown.IsZero() {
		lines = append(lines, "Not stopped yet: leave room for the foam")
	}
	return append(lines, "Like wine, dry and sulphited, keeps it", "Sweet or working wine starts it again")
}

// Ullage answers how much a jar lacks.
func (s Style) Ullage(b *ferment.State, gap float64) []string {
	if gap < 0.005*b.VesselL {
		return []string{fmt.Sprintf("%s: full, %s in %s", Title(b.Name), s.Volume(b.VolumeL), s.Volume(b.VesselL))}
	}
	return []string{fmt.Sprintf("%s: %s short of %s", Title(b.Name), s.Volume(gap), s.Volume(b.VesselL)),
		"Like wine, a smaller jar, or glass beads;", "water thins it: ask top up with " + s.SomeTopUp() + "?"}
}

// strength is the alcohol after, never invented where it was not known before.
func (s Style) strength(b *ferment.State, after liquid.PercentVol) string {
	if !b.ABVKnown {
		return "alcohol not known"
	}
	return s.ABV(after) + " % vol"
}

// weakened is the alcohol before and after; nothing where there is none yet.
func (s Style) weakened(b *ferment.State, after liquid.PercentVol) string {
	switch {
	case !b.ABVKnown:
		return "alcohol not known; it falls"
	case s.ABV(b.ABV) == s.ABV(0):
		return ""
	}
	return fmt.Sprintf("alcohol %s to %s %% vol", s.ABV(b.ABV), s.ABV(after))
}

// NotFizzyYet refuses priming for a wine that is not stopped and dry.
func (s Style) NotFizzyYet(b *ferment.State) []string {
	return []string{Title(b.Name) + ": NO priming now", "It must be stopped and dry first.", "Primed too early, glass bursts"}
}

// PrimingRoom answers how much sugar a bottle may get at most, by its glass.
func (s Style) PrimingRoom(b *ferment.State, bottle liquid.Litres, beer, wired dose.Priming) []string {
	return []string{fmt.Sprintf("%s: per %s at most", Title(b.Name), s.Volume(float64(bottle))),
		fmt.Sprintf("beer glass %s, %s atm at 28 °C", s.Grams(float64(beer.PerBottle)), s.Number(beer.Warm, 0)),
		fmt.Sprintf("sparkling glass %s, %s atm", s.Grams(float64(wired.PerBottle)), s.Number(wired.Warm, 0)),
		"Still-wine glass, jars: never, they burst", "Maker's limit wins. One plastic to test"}
}

// Primed answers what so many grams in each bottle do. wired is worked out for
// sparkling-wine glass; n is how many bottles, 0: not said.
func (s Style) Primed(b *ferment.State, n int, beer, wired dose.Priming) []string {
	v, unit := s.grams(float64(wired.PerBottle))
	l1 := fmt.Sprintf("%s: %s %s a bottle", Title(b.Name), v, unit)
	if n > 0 {
		v, unit = s.grams(float64(n) * float64(wired.PerBottle))
		l1 += fmt.Sprintf(", %s %s in all", v, unit)
	}
	glass := "Beer or sparkling glass only"
	switch {
	case warned(wired.Warnings, dose.OverGlassLimit):
		glass = "NOT safe: over 15 g/L, no glass holds it"
	case warned(beer.Warnings, dose.OverGlassLimit):
		glass = "Over 6 g/L: wired sparkling glass only"
	}
	return Answer([]string{l1, glass},
		fmt.Sprintf("%s atm at 28 °C, %s at 12 °C", s.Number(wired.Warm, 1), s.Number(wired.Cellar, 1)),
		"Still-wine glass, jars: never, they burst", fmt.Sprintf("%s g/L with what may be left in it", s.Number(float64(wired.Ferments), 1)))
}

// safeFizzy answers that the gate of a wine meant fizzy is open, and for which glass.
func (s Style) safeFizzy(b *ferment.State) []string {
	can := liquid.GramsPerLitre(b.CanFerment())
	glass := "Wired sparkling glass only, never still"
	if can <= dose.MostIn(dose.BeerGlass) {
		glass = "Beer or sparkling glass, never still"
	}
	verb := ": may be bottled, fizzy"
	if !b.Bottled.IsZero() {
		verb = ": bottled, meant fizzy"
	}
	lines := []string{Title(b.Name) + verb, glass}
	if warm, err := liquid.BottlePressure(can, liquid.DissolvedDegassed, dose.SummerHeat); err == nil {
		lines = append(lines, fmt.Sprintf("Up to %s g/L ferments: %s atm at %s", s.Number(float64(can), 0), s.Number(warm, 1), s.Temp(float64(dose.SummerHeat))))
	}
	return Answer(lines, "One plastic bottle to feel: firm means all of them into the cold")
}

// BottlesFrom answers how many bottles the wine fills after the usual loss.
func (s Style) BottlesFrom(b *ferment.State, v, bottle liquid.Litres, r dose.BottleCount) []string {
	n := fmt.Sprintf("%d–%d", r.Low, r.High)
	if r.Low == r.High {
		n = fmt.Sprintf("about %d", r.High)
	}
	return []string{fmt.Sprintf("%s: %s bottles", Title(b.Name), n),
		fmt.Sprintf("%s into %s, loss allowed", s.Volume(float64(v)), s.Volume(float64(bottle)))}
}

// BottledSoFar tells how much of a wine is in bottles where a good part is not.
func (s Style) BottledSoFar(b *ferment.State, bottle liquid.Litres) []string {
	full := float64(b.BottlesMade) * float64(bottle)
	r, err := dose.BottlesFrom(liquid.Litres(b.VolumeL), bottle)
	if b.VolumeL == 0 || full > 0.85*b.VolumeL || err != nil {
		return nil
	}
	return []string{fmt.Sprintf("%s of %s so far; about %d for all", s.Volume(full), s.Volume(b.VolumeL), r.High)}
}
