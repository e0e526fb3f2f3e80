package parse

import (
	"strings"

	"github.com/govalues/decimal"
)

// number is a number as it was typed. The typed digits are kept because
// 1.07 and 1.070 say different things, and because the book never rewrites
// them.
type number struct {
	typed    string // "1,048", "½", "one oh four eight"
	val      float64
	digits   string // the digits alone: "1048"
	decimals int    // how many stand behind the point; -1: there is no point
	spoken   bool   // typed in words
	fraction bool   // typed as a fraction
}

// parseNumber reads digits with at most one point or comma. ok is false
// for what is no number: two points, or more digits than a number of this
// trade has. The decimal comma is mapped before the decimal package sees
// the digits; it refuses what is too long, and there is no NaN in digits.
func parseNumber(s string) (number, bool) {
	n := number{typed: s, decimals: -1}
	neg := false
	var canon, digits [24]byte
	nc, nd := 0, 0
	for i := 0; i < len(s); i++ {
		c := s[i]
		if nc > 18 {
			return n, false
		}
		switch {
		case c >= '0' && c <= '9':
			if n.decimals >= 0 {
				n.decimals++
			}
			digits[nd] = c
			nd++
			canon[nc] = c
			nc++
		case (c == '.' || c == ',') && n.decimals < 0:
			n.decimals = 0
			if nc == 0 || nc == 1 && neg {
				canon[nc] = '0'
				nc++
			}
			canon[nc] = '.'
			nc++
		case c == '-' && i == 0:
			neg = true
			canon[nc] = c
			nc++
		default:
			return n, false
		}
	}
	if nd == 0 {
		return n, false
	}
	d, err := decimal.Parse(strings.TrimSuffix(string(canon[:nc]), "."))
	if err != nil {
		return n, false
	}
	n.digits = string(digits[:nd])
	n.val, _ = d.Float64()
	return n, true
}

// whole reports a number typed without a point. A fraction sign is never
// whole, even if its value is.
func (n number) whole() bool { return n.decimals < 0 && !n.fraction && n.val == float64(int64(n.val)) }

// vulgar holds the fractions that a keyboard offers as one sign.
var vulgar = map[rune]float64{
	'½': 0.5, '¼': 0.25, '¾': 0.75, '⅓': 1.0 / 3, '⅔': 2.0 / 3, '⅛': 0.125, '⅜': 0.375, '⅝': 0.625, '⅞': 0.875,
}

// round4 takes away the noise of binary fractions: 1.002 − 1 is not 0.002
// in floating point.
func round4(v float64) float64 { return round3(v*10) / 10 }
