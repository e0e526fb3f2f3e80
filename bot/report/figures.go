package report

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// fixed prints a figure with n decimals; what is not finite is "?".
func fixed(v float64, n int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	t := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Trim(t, "-0.") == "" {
		t = strings.TrimPrefix(t, "-")
	}
	return t
}

// short prints a figure with at most n decimals and no zeros behind the last.
func short(v float64, n int) string {
	t := fixed(v, n)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	return t
}

// gravity prints an SG to the thousandth.
func gravity(sg float64) string { return fixed(sg, 3) }

// grams prints a mass given in grams.
func grams(g float64) string {
	switch {
	case g >= 1000:
		return short(g/1000, 2) + " kg"
	case g >= 10:
		return short(g, 0) + " g"
	}
	return short(g, 2) + " g"
}

// litres prints a volume given in litres.
func litres(l float64) string {
	if l < 1 {
		return short(l*1000, 0) + " ml"
	}
	return short(l, 1) + " L"
}

// date prints a day with its year; nothing for the zero time.
func date(t time.Time, zone *time.Location) string {
	if t.IsZero() {
		return ""
	}
	return t.In(zone).Format("2 Jan 2006")
}

// moment prints a day and, where it is known, the hour.
func moment(t time.Time, dayOnly bool, zone *time.Location) string {
	if dayOnly {
		return date(t, zone)
	}
	return t.In(zone).Format("2 Jan 2006 15:04")
}

// halves prints a strength to the nearest half, as a label may: 12.72 is 12.5.
func halves(abv float64) string { return fixed(math.Round(abv*2)/2, 1) }

// orUTC is a zone, or UTC for none.
func orUTC(zone *time.Location) *time.Location {
	if zone == nil {
		return time.UTC
	}
	return zone
}
