package say

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"mustbook/ferment/liquid"
)

// Style renders quantities as a household reads them. Every quantity of the
// program is rendered here and nowhere else.
type Style struct {
	Units string         // metric, us, uk
	Comma bool           // decimal comma
	Zone  *time.Location // nil: UTC
	Now   time.Time      // the instant of the answer: "Sunday" or "3 May"
}

// fixed renders a float with n decimals, half away from zero in the decimal that
// is shown: strconv rounds the exact binary value, which is what a reader checks.
func (s Style) fixed(v float64, n int) string {
	t := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Trim(t, "-0.") == "" {
		t = strings.TrimPrefix(t, "-")
	}
	if s.Comma {
		t = strings.Replace(t, ".", ",", 1)
	}
	return t
}

// SG renders a specific gravity to the thousandth: 1.048.
func (s Style) SG(g liquid.Gravity) string { return s.fixed(math.Round(float64(g)*1000)/1000, 3) }

// Bare renders a gravity given as a plain number.
func (s Style) Bare(v float64) string { return s.SG(liquid.Gravity(v)) }

// ABV renders % vol with one decimal, without its unit.
func (s Style) ABV(a liquid.PercentVol) string { return s.fixed(float64(a), 1) }

// Doubt renders a half-width in % vol, never smaller than 0.1.
func (s Style) Doubt(a liquid.PercentVol) string { return s.fixed(math.Max(float64(a), 0.1), 1) }

// Temp renders a temperature given in °C in the house's unit.
func (s Style) Temp(c float64) string {
	if s.Units == "us" {
		return s.number(float64(liquid.Celsius(c).Fahrenheit()), 0) + " °F"
	}
	return s.number(c, 1) + " °C"
}

// Between renders a range of temperatures given in °C in the house's unit.
func (s Style) Between(low, high float64) string {
	unit := s.Temp(high)
	return strings.SplitN(s.Temp(low), " ", 2)[0] + "–" + unit
}

// degrees renders a difference of temperatures given in °C.
func (s Style) degrees(c float64) string {
	if s.Units == "us" {
		return s.number(c*1.8, 0) + " °F"
	}
	return s.number(c, 0) + " °C"
}

// number renders with at most n decimals and no zeros behind the last.
func (s Style) number(v float64, n int) string {
	t := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	if t == "-0" {
		t = "0"
	}
	if s.Comma {
		t = strings.Replace(t, ".", ",", 1)
	}
	return t
}

// Volume renders litres in the house's unit.
func (s Style) Volume(l float64) string {
	switch {
	case s.Units == "us" && l >= 1.8:
		return s.number(l/float64(liquid.USGallon), 2) + " US gal"
	case s.Units == "uk" && l >= 4.5:
		return s.number(l/float64(liquid.ImperialGallon), 2) + " gal"
	case l < 1:
		return s.number(l*1000, 0) + " ml"
	case s.Units == "uk":
		if p := s.number(l/float64(liquid.ImperialPint), 1); p != "1" {
			return p + " pints"
		}
		return "1 pint"
	}
	return s.number(l, 1) + " L"
}

// volumeOrNone renders litres, and none of them in a word.
func (s Style) volumeOrNone(l float64) string {
	if l == 0 {
		return "nothing"
	}
	return s.Volume(l)
}

// Share renders a share in steps of 5 %: the balance knows it no better.
func (s Style) Share(x float64) string {
	return fmt.Sprintf("%d %%", int(math.Round(x*20))*5)
}

// PerLitre renders g/L as whole grams.
func (s Style) PerLitre(v float64) string { return s.number(math.Round(v), 0) + " g/L" }

// Number renders any other figure with at most n decimals.
func (s Style) Number(v float64, n int) string { return s.number(v, n) }

func (s Style) zone() *time.Location {
	if s.Zone == nil {
		return time.UTC
	}
	return s.Zone
}

// Day names a day as near as it is: today, yesterday, tomorrow, a weekday within
// six days, else "3 May", with the year where it is another.
func (s Style) Day(t time.Time) string {
	t, now := t.In(s.zone()), s.Now.In(s.zone())
	switch d := daysBetween(now, t); {
	case d == 0:
		return "today"
	case d == -1:
		return "yesterday"
	case d == 1:
		return "tomorrow"
	case d > -7 && d < 7:
		return t.Format("Mon")
	case t.Year() != now.Year():
		return t.Format("2 Jan 2006")
	}
	return t.Format("2 Jan")
}

// Date names a day always by its number: "Sat 14 Nov".
func (s Style) Date(t time.Time) string {
	t = t.In(s.zone())
	if t.Year() != s.Now.In(s.zone()).Year() {
		return t.Format("2 Jan 2006")
	}
	return t.Format("Mon 2 Jan")
}

// Moment is a day with its hour: "Sat 19:30", further off "3 May 19:30".
func (s Style) Moment(t time.Time) string {
	t = t.In(s.zone())
	if d := daysBetween(s.Now.In(s.zone()), t); d > -7 && d < 7 {
		return t.Format("Mon 15:04")
	}
	return s.Day(t) + " " + t.Format("15:04")
}

// On is a day as it stands in a sentence: "on Sat", "today".
func (s Style) On(t time.Time) string {
	switch d := s.Day(t); d {
	case "today", "yesterday", "tomorrow":
		return d
	default:
		return "on " + d
	}
}

func daysBetween(a, b time.Time) int {
	ya, ma, da := a.Date()
	yb, mb, db := b.Date()
	return int(time.Date(yb, mb, db, 0, 0, 0, 0, time.UTC).Sub(time.Date(ya, ma, da, 0, 0, 0, 0, time.UTC)) / (24 * time.Hour))
}
