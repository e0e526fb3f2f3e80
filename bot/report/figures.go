package report

import (
	"math"
	"time"

	"mustbook/ferment/liquid"
)

// Figures renders quantities as a household reads them, in its units and with its
// decimal mark: the answers of the chat render theirs the same way. SG is 20/20, Temp
// takes °C, Volume litres, Grams grams, PerLitre g/L.
type Figures interface {
	SG(liquid.Gravity) string
	ABV(liquid.PercentVol) string
	Doubt(liquid.PercentVol) string
	Temp(celsius float64) string
	Volume(litres float64) string
	Grams(float64) string
	PerLitre(float64) string
	Number(v float64, decimals int) string
}

// Look is how a household's papers look. Figures must be set.
type Look struct {
	Zone    *time.Location // nil: UTC
	Letter  bool           // US Letter, else A4
	Figures Figures
}

// known guards what is printed: a figure that is not finite is "?".
func known(v float64, render func() string) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	return render()
}

func (l Look) sg(g liquid.Gravity) string {
	return known(float64(g), func() string { return l.Figures.SG(g) })
}

func (l Look) temp(c float64) string {
	return known(c, func() string { return l.Figures.Temp(c) })
}

func (l Look) litres(v float64) string {
	return known(v, func() string { return l.Figures.Volume(v) })
}

func (l Look) grams(g float64) string {
	return known(g, func() string { return l.Figures.Grams(g) })
}

func (l Look) abv(a liquid.PercentVol) string {
	return known(float64(a), func() string { return l.Figures.ABV(a) })
}

func (l Look) perLitre(v float64) string {
	return known(v, func() string { return l.Figures.PerLitre(v) })
}

// number prints a figure with at most n decimals.
func (l Look) number(v float64, n int) string {
	return known(v, func() string { return l.Figures.Number(v, n) })
}

// halves prints a strength to the nearest half, as a label may: 12.72 is 12.5.
func (l Look) halves(a liquid.PercentVol) string {
	return l.abv(liquid.PercentVol(math.Round(float64(a)*2) / 2))
}

func (l Look) zone() *time.Location {
	if l.Zone == nil {
		return time.UTC
	}
	return l.Zone
}

// date prints a day with its year; nothing for the zero time.
func (l Look) date(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.In(l.zone()).Format("2 Jan 2006")
}

// moment prints a day and, where it is known, the hour.
func (l Look) moment(t time.Time, dayOnly bool) string {
	if dayOnly {
		return l.date(t)
	}
	return t.In(l.zone()).Format("2 Jan 2006 15:04")
}
