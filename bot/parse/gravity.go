package parse

import (
	"math"
	"strconv"
)

// Limits of a gravity as typed (common practice, no source).
const (
	storeLow, storeHigh = 0.988, 1.170 // stored without a question
	askLow, askHigh     = 0.975, 1.200 // asked; outside: a slip or impossible
	riseLimit           = 0.002        // above the reading before it
	fallPerDay          = 0.040        // below it, for each day between, at least one
	mustLow, mustHigh   = 1.030, 1.170 // a must with no reading before
	tiny                = 1e-9
)

// gravityShaped reports a number that looks like a gravity by its digits
// alone: "1.048", ".998", "1,05", "1048", "998". Four decimals come from
// digital instruments. Two below 1.00 lack a digit and are asked
// elsewhere.
func gravityShaped(n number) bool {
	if n.fraction || n.val < 0 {
		return false
	}
	switch {
	case n.decimals == 3, n.decimals == 4:
		return n.val >= 0.95 && n.val < 1.25
	case n.decimals == 2:
		return n.val >= 0.97 && n.val < 1.2
	}
	return wholeGravity(n)
}

// wholeGravity reports a gravity typed without its point. In a group a
// whole number is only ever asked about: rooms, trains and years look the
// same.
func wholeGravity(n number) bool {
	return n.whole() && (len(n.digits) == 4 && n.val >= 1000 && n.val <= 1200 || len(n.digits) == 3 && n.val >= 975)
}

// gravityValue is the gravity that the digits mean. 1048 is 1.048; digits
// with a point mean what they say.
func gravityValue(n number) float64 {
	if n.whole() && n.val >= 900 && n.val < 1300 {
		return round3(n.val / 1000)
	}
	return n.val
}

// round3 rounds to the third decimal, the last that a stem shows.
func round3(v float64) float64 { return math.Round(v*1000) / 1000 }

// tooFewDigits reports "1.0", "1.1" and "0.99": a gravity with digits
// missing. Two decimals above one lack nothing: 1.07 is 1.070 (contract).
func tooFewDigits(n number) bool {
	if n.decimals < 1 || n.fraction {
		return false
	}
	return n.decimals == 1 && n.val >= 0.9 && n.val <= 1.2 || n.decimals == 2 && n.val < 1 && n.val >= 0.9
}

// slips lists the gravities that one slip of the fingers makes of the
// digits: the point moved, one zero lost behind it, two neighbours
// swapped, or the "1.0" left off. At most three decimals and six digits: a
// longer number is no gravity with one slip, and a fourth decimal would
// make two values of one.
func slips(n number) []float64 {
	var out []float64
	add := func(s string) {
		m, ok := parseNumber(s)
		if !ok || m.decimals > 3 || m.decimals < 2 {
			return
		}
		for _, v := range out {
			if v == m.val {
				return
			}
		}
		out = append(out, m.val)
	}
	d := n.digits
	if len(d) == 0 || len(d) > 6 { // a number in words has none
		return nil
	}
	point := len(d)
	if n.decimals >= 0 {
		point -= n.decimals
	}
	if d[0] == '9' {
		add("0." + d)
	}
	for p := 1; p < len(d); p++ { // the point moved, or left out
		if p != point {
			add(d[:p] + "." + d[p:])
		}
	}
	if point < len(d) && point > 0 {
		add(d[:point] + ".0" + trimZero(d[point:]))
	}
	if n.decimals == 3 && point == 1 && d[0] == '1' && d[1] != '0' && d[2] != '0' && d[3] != '0' { // "1.315" of 1.0315
		if m, ok := parseNumber(d[:1] + ".0" + d[1:]); ok {
			out = append(out, m.val)
		}
	}
	if n.whole() && len(d) == 4 && (d[0] == '1' || d[0] == '0') { // "1480": point and zero
		add(d[:1] + ".0" + trimZero(d[1:]))
	}
	if n.whole() && len(d) == 3 && d[0] == '1' && d[1] != '0' { // "156" of 1.056: the point and its zero
		add("1.0" + trimZero(d[1:]))
	}
	for i := 0; i+1 < len(d); i++ {
		sw := d[:i] + d[i+1:i+2] + d[i:i+1] + d[i+2:]
		if n.decimals > 0 {
			add(sw[:point] + "." + sw[point:])
		} else if len(d) == 4 {
			add(sw[:1] + "." + sw[1:])
		}
	}
	if n.whole() && len(d) <= 3 {
		add("1." + ("000" + d)[len(d):])
	} else if n.decimals == 2 && n.val < 1 && n.val >= 0 {
		add("1.0" + d[len(d)-2:])
	}
	return out
}

// trimZero drops zeros that a moved point leaves at the end.
func trimZero(s string) string {
	for len(s) > 2 && s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	return s
}

// fmtValue shows a number with no more digits than it needs.
func fmtValue(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// fmtSG shows a gravity with its three decimals. 1.07 is shown as 1.070,
// the way a stem is read.
func fmtSG(v float64) string { return strconv.FormatFloat(v, 'f', 3, 64) }
