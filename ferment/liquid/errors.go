package liquid

import (
	"fmt"
	"strconv"
)

// RangeError says that a value lies outside the range in which a formula holds.
// It carries the limit and where the limit comes from, so that the household can
// be told both; match it with errors.As.
type RangeError struct {
	What      string  // the quantity: "gravity", "temperature", …
	Value     float64 // what was given
	Low, High float64 // valid range, both ends included
	Unit      string  // unit of Value, Low and High; empty for a ratio
	Source    string  // who set the range
}

// Error tells value, range, unit and source in one line.
func (e *RangeError) Error() string {
	unit := e.Unit
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Sprintf("%s %s%s is outside %s to %s%s (%s)",
		e.What, short(e.Value), unit, short(e.Low), short(e.High), unit, e.Source)
}

func short(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// Within returns a *RangeError where value is not between low and high, both
// included, and nil where it is. NaN is outside every range.
func Within(what string, value, low, high float64, unit, source string) error {
	if value >= low && value <= high {
		return nil
	}
	return &RangeError{what, value, low, high, unit, source}
}
