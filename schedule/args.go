package schedule

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"mustbook/ferment/liquid"
)

// args pairs names and values for a text. Floats keep six decimals, so that a
// gravity is rounded once, where it is shown; times are in RFC 3339. What is zero
// is not known and left out.
func args(pairs ...any) map[string]string {
	m := make(map[string]string, len(pairs)/2+1)
	for i := 0; i+1 < len(pairs); i += 2 {
		if t := argOf(pairs[i+1]); strings.Trim(t, "0.") != "" && t != unknownTime {
			m[pairs[i].(string)] = t
		}
	}
	return m
}

var unknownTime = argOf(time.Time{})

func argOf(x any) string {
	switch x := x.(type) {
	case string:
		return x
	case int:
		return strconv.Itoa(x)
	case float64:
		return strconv.FormatFloat(x, 'f', 6, 64)
	case liquid.Gravity:
		return strconv.FormatFloat(float64(x), 'f', 6, 64)
	case time.Time:
		return x.Format(time.RFC3339)
	}
	return fmt.Sprint(x)
}

// one is a rule's single nudge.
func one(anchor int64, wanted time.Time, a map[string]string) []nudge {
	return []nudge{{anchor: anchor, wanted: wanted, args: a}}
}

// list joins names for a text.
func list(xs []string) string {
	out := ""
	for i, x := range xs {
		if i > 0 {
			out += ", "
		}
		out += x
	}
	return out
}
