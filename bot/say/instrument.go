package say

import (
	"fmt"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

// The answers to a change that reaches back.
const (
	Yes = "Yes"
	No  = "No"
)

// Change is a gravity that a word on an instrument would move.
type Change struct {
	Batch   string
	At      time.Time
	Was, Is liquid.Gravity
}

// Changes shows what a change would do before it is done: how many readings, and the first
// and the newest of them.
func (s Style) Changes(cs []Change) []string {
	one := func(c Change) string {
		return fmt.Sprintf("%s %s: %s, was %s", Clip(c.Batch, 12), s.Day(c.At), s.SG(c.Is), s.SG(c.Was))
	}
	lines := []string{"This changes " + plural(len(cs), "reading") + ":"}
	for i, c := range cs {
		if len(cs) <= 3 || i == 0 || i == len(cs)-1 {
			lines = append(lines, one(c))
		}
	}
	return append(lines, "What was typed stays. Change them?")
}

// InstrumentWord answers a word on an instrument.
func (s Style) InstrumentWord(e ferment.Entry, author string) []string {
	name := "Hydrometer"
	if e.Instrument != "" {
		name = Clip(upper(e.Instrument), 14) + " hydrometer"
	}
	when := "from now on"
	if e.Type == ferment.SetAllReadings {
		when = "for all its readings"
	}
	switch {
	case e.Key == ferment.SetOwn:
		return []string{fmt.Sprintf("%s reads with the %s one", Clip(author, 14), Clip(e.Text, 14)), "Say so where another was used"}
	case e.Key == ferment.SetThermometer:
		return []string{"Thermometer: " + s.off(e.Value), "Taken off " + when}
	case e.Key == ferment.SetReference:
		return []string{name + " marked at " + s.Temp(e.Value), when}
	}
	if e.Value == 0 {
		return []string{name + " reads true in water"}
	}
	return []string{fmt.Sprintf("%s: %s in water", name, s.fixed(1+e.Value, 3)), fmt.Sprintf("%s taken off %s", s.signed(e.Value), when)}
}

// off tells how much too high or low a thermometer reads, in the house's degrees.
func (s Style) off(c float64) string {
	unit := "°C"
	if s.Units == "us" {
		c, unit = c*1.8, "°F"
	}
	if c < 0 {
		return fmt.Sprintf("reads %s %s low", s.number(-c, 1), unit)
	}
	return fmt.Sprintf("reads %s %s high", s.number(c, 1), unit)
}

// signed renders an error of a hydrometer: 0.002, −0.001.
func (s Style) signed(v float64) string {
	if v < 0 {
		return "−" + s.fixed(-v, 3)
	}
	return s.fixed(v, 3)
}

func upper(w string) string {
	r := []rune(w)
	if len(r) > 0 && r[0] >= 'a' && r[0] <= 'z' {
		r[0] -= 'a' - 'A'
	}
	return string(r)
}

// hydrometerLine tells what is known of a hydrometer; empty for the house's own where
// nothing was said.
func (s Style) hydrometerLine(x ferment.Hydrometer) string {
	l := "Hydrometer"
	if x.Name != "" {
		l = Clip(upper(x.Name), 14)
	}
	l += " " + s.Temp(x.Reference)
	if x.Error != 0 {
		l += fmt.Sprintf(", reads %s in water", s.fixed(1+x.Error, 3))
	}
	return l
}
