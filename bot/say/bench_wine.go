package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// Blended answers what two or more wines make together. careful is a caution of
// the parents, or empty.
func (s Style) Blended(r dose.Part, careful string) []string {
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
	lines = append(lines, strings.Join(figures, ", "))
	if careful != "" {
		lines = append(lines, careful)
	}
	return append(lines, "Try it in a jug. Measure pH and SO2 again")
}

// Cautions of a blend.
const (
	BlendWorking  = "One still works: then all of it will"
	BlendGeranium = "Sorbate + malolactic: geranium taint"
)

// AskBlend says how to ask for a blend.
func AskBlend() []string {
	return []string{"Which wines, and how much of each?", "Type: blend 10 l elder with 5 l apple"}
}

// NotFizzyYet refuses priming for a wine that is not stopped and dry.
func (s Style) NotFizzyYet(b *ferment.State) []string {
	return []string{Title(b.Name) + ": NO priming now", "It must be stopped and dry first.", "Primed too early, glass bursts"}
}

// PrimingRoom answers how much sugar a bottle may get at most, by its glass.
func (s Style) PrimingRoom(b *ferment.State, bottle liquid.Litres, beer, wired dose.Priming) []string {
	return []string{fmt.Sprintf("%s: most per %s bottle", Title(b.Name), s.Volume(float64(bottle))),
		fmt.Sprintf("beer glass %s, %s atm at 28 °C", s.Grams(float64(beer.PerBottle)), s.Number(beer.Warm, 0)),
		fmt.Sprintf("sparkling glass %s, %s atm", s.Grams(float64(wired.PerBottle)), s.Number(wired.Warm, 0)),
		"Still-wine glass, jars: never, they burst", "Maker's limit wins. One plastic to test"}
}

// Primed answers what so many grams in each bottle do. wired is worked out for
// sparkling-wine glass; n is how many bottles, 0: not said.
func (s Style) Primed(b *ferment.State, n int, beer, wired dose.Priming) []string {
	l1 := fmt.Sprintf("%s: %s a bottle", Title(b.Name), s.Grams(float64(wired.PerBottle)))
	if n > 0 {
		l1 += fmt.Sprintf(", %s in all", s.Grams(float64(n)*float64(wired.PerBottle)))
	}
	glass := "Beer or sparkling glass only"
	switch {
	case warned(wired.Warnings, dose.OverGlassLimit):
		glass = "NOT safe: over 15 g/L, no glass holds it"
	case warned(beer.Warnings, dose.OverGlassLimit):
		glass = "Over 6 g/L: wired sparkling glass only"
	}
	return []string{l1,
		fmt.Sprintf("%s g/L with what is left in it", s.Number(float64(wired.Ferments), 1)),
		fmt.Sprintf("%s atm at 28 °C, %s at 12 °C", s.Number(wired.Warm, 1), s.Number(wired.Cellar, 1)),
		glass, "Still-wine glass, jars: never, they burst"}
}

// BottlesFrom answers how many bottles the wine fills after the usual loss.
func (s Style) BottlesFrom(b *ferment.State, v, bottle liquid.Litres, r dose.BottleCount) []string {
	n := fmt.Sprintf("%d–%d", r.Low, r.High)
	if r.Low == r.High {
		n = fmt.Sprintf("about %d", r.High)
	}
	return []string{fmt.Sprintf("%s: %s bottles", Title(b.Name), n),
		fmt.Sprintf("%s into %s, 4–7 %% loss allowed", s.Volume(float64(v)), s.Volume(float64(bottle)))}
}

// MayAdd answers whether something may go in now: the verdict, and why.
func (s Style) MayAdd(b *ferment.State, material, verdict string, why ...string) []string {
	return append([]string{fmt.Sprintf("%s: %s, %s", Title(b.Name), Clip(material, 16), verdict)}, why...)
}
