package say

import (
	"fmt"
	"math"
	"strings"

	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// Labels of the buttons that log what the bench told.
const (
	SugarAdded       = "Sugar added"
	HoneyAdded       = "Honey added"
	WaterAdded       = "Water added"
	BothAdded        = "Both added"
	AcidAdded        = "Acid added"
	BicarbonateAdded = "Bicarbonate added"
	SulphiteAdded    = "Sulphite added"
	SorbateAdded     = "Sorbate added"
	NutrientAdded    = "Nutrient added"
	Sweetened        = "Sweetened"
	ToppedUp         = "Topped up"
	Primed           = "Primed"
	MeantFizzy       = "It's meant fizzy"
	Second           = "Second dose"
)

// Fit breaks the lines that are too wide. Long names and amounts in two units meet
// in one line only now and then, so the answers are written for the common case. The
// first line begins with the name, which gives way.
func Fit(lines []string) []string {
	return Narrow(lines, func() []string {
		name, _, _ := strings.Cut(lines[0], ": ")
		return []string{name}
	})
}

// Answer is what must be said, and of the rest what still fits into an answer, the
// weightier before the lighter.
func Answer(must []string, more ...string) []string {
	out := Fit(must)
	for _, m := range more {
		if w := Wrap(m); m != "" && len(out)+len(w) <= Depth {
			out = append(out, w...)
		}
	}
	return out
}

// Missing says what is not known for an answer, and what to type.
func Missing(b *ferment.State, what, example string) []string {
	return []string{Title(b.Name) + ": " + what, "Type: " + example}
}

// OutOfRange says which figure a sum does not take, and between which it does.
func OutOfRange(b *ferment.State, s Style, e *liquid.RangeError) []string {
	n := func(v float64) string { return s.Number(v, 3) }
	unit := ""
	if e.Unit != "" {
		unit = " " + e.Unit
	}
	return Answer([]string{Title(b.Name) + ": outside what I can work out",
		fmt.Sprintf("%s %s%s: it takes %s to %s", e.What, n(e.Value), unit, n(e.Low), n(e.High))}, "("+e.Source+")")
}

// NothingIn answers a dose for a batch that is in bottles or gone.
func NothingIn(b *ferment.State) []string {
	if b.Stage == ferment.Empty {
		return []string{Title(b.Name) + ": none left of it"}
	}
	return []string{Title(b.Name) + ": bottled, no dose now", "Poured back into a jar? Type: reopen"}
}

// SecondDose says that the same stuff went in within the day.
func (s Style) SecondDose(a ferment.Addition) string {
	amount := a.Typed + " " + unitWord(a.Unit)
	if !a.Has {
		amount = "Some"
	}
	return fmt.Sprintf("%s %s in %s: a second dose?", amount, Clip(a.Material, 16), s.Moment(a.At))
}

// ThereAlready answers a gravity that is reached without any dose.
func (s Style) ThereAlready(b *ferment.State, now, to liquid.Gravity) []string {
	reckoned := ""
	if b.Last != nil && !SameStem(now, b.Last.SG) {
		reckoned = "By balance, with what went in: read it"
	}
	switch {
	case SameStem(now, to):
		return Answer([]string{fmt.Sprintf("%s: it is at %s", Title(b.Name), s.SG(now))}, reckoned)
	case to < now:
		return Answer([]string{fmt.Sprintf("%s: at %s, above it now", Title(b.Name), s.SG(now))}, reckoned, "To come down: water down to "+s.SG(to))
	}
	return Answer([]string{fmt.Sprintf("%s: at %s, below it now", Title(b.Name), s.SG(now))}, reckoned, "To come up: sugar to "+s.SG(to))
}

// SameStem reports gravities that read the same on a stem, to 0.001.
func SameStem(a, b liquid.Gravity) bool {
	return math.Round(float64(a)*1000) == math.Round(float64(b)*1000)
}

func warned(ws []dose.Warning, w dose.Warning) bool {
	for _, x := range ws {
		if x == w {
			return true
		}
	}
	return false
}
