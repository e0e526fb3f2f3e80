package village

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"time"
)

// line is something said, so long after a batch was begun.
type line struct {
	after time.Duration
	text  string
}

// fruits are what the village makes wine of.
var fruits = []string{"damson", "gorse", "elder", "plum", "sloe", "apple", "pear", "quince", "cherry", "bramble",
	"rhubarb", "parsnip", "dandelion", "medlar", "rowan", "greengage", "hawthorn", "bullace", "nettle", "redcurrant"}

const (
	hour = time.Hour
	day  = 24 * time.Hour
)

// fall is a gravity that falls along a logistic curve, the usual shape of an
// alcoholic fermentation: slow while the yeast grows, quickest about a third of
// the way, and a long tail. Instants are days since the pitch.
type fall struct{ og, fg, middle, rate float64 }

func (f fall) at(days float64) float64 {
	s := func(d float64) float64 { return 1 / (1 + math.Exp(f.rate*(d-f.middle))) }
	return f.fg + (f.og-f.fg)*s(days)/s(0)
}

// life is all that is said about one batch: begun, pitched, read as it falls,
// strained, racked, read until it is still, sulphited, racked again, bottled.
func life(r *rand.Rand) []line {
	f := fall{og: 1.070 + 0.030*r.Float64(), fg: 0.991 + 0.006*r.Float64(), middle: 4 + 3*r.Float64(), rate: 0.5 + 0.5*r.Float64()}
	litres := []int{5, 10, 15, 20, 23}[r.IntN(5)]
	var out []line
	say := func(after time.Duration, format string, args ...any) {
		out = append(out, line{after, fmt.Sprintf(format, args...)})
	}
	read := func(days float64) {
		at := time.Duration(days*float64(day)) + 2*hour + time.Duration(r.IntN(90))*time.Minute
		sg := f.at(days)
		if r.IntN(3) == 0 {
			say(at, "sg %.3f at %dc", sg, 17+r.IntN(6))
		} else {
			say(at, "%.3f", sg)
		}
	}
	say(0, "new %s %d l", fruits[r.IntN(len(fruits))], litres)
	say(10*time.Minute, "%.3f at 20c", f.og)
	say(hour, "pitched")
	say(day+hour, "working")
	for _, d := range []float64{2, 4, 9} {
		read(d + r.Float64()/2)
	}
	strained := time.Duration(6+r.IntN(3)) * day
	say(strained, "strained")
	racked := strained + time.Duration(6+r.IntN(8))*day
	say(racked, "racked, lost %d.5 l", 1+r.IntN(2))
	still := 30 + 10*r.Float64()
	for _, d := range []float64{0, 2, 5} {
		read(still + d)
	}
	at := time.Duration(still+6) * day
	say(at, "%d campden", (litres+3)/5)
	say(at+hour, "ph 3.%d", 2+r.IntN(4))
	say(at+70*day, "racked")
	say(at+70*day+hour, "note %s", []string{"bright, smells of the fruit", "still a little hazy", "sharp, wants time", "the best in years"}[r.IntN(4)])
	read(still + 150)
	say(at+146*day, "bottled %d", litres*4/3-r.IntN(3))
	sort.SliceStable(out, func(i, j int) bool { return out[i].after < out[j].after })
	return out
}
