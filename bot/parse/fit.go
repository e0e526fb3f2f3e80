package parse

import (
	"math"
	"time"

	"mustbook/ferment/liquid"
)

// instant is the moment that stands for an entry's time: noon of a day
// without hour.
func (w When) instant(now time.Time) time.Time {
	if w.Now() {
		return now
	}
	if w.Day {
		y, m, d := w.At.Date()
		return time.Date(y, m, d, 12, 0, 0, 0, w.At.Location())
	}
	return w.At
}

// order is where an entry stands among others: a day without hour comes
// after what the book has of that day, in the order typed. Never after
// now, or a reading of this morning would lie ahead of the book.
func (w When) order(now time.Time) time.Time {
	if !w.Day || w.Now() {
		return w.instant(now)
	}
	y, m, d := w.At.Date()
	end := time.Date(y, m, d, 23, 59, 0, 0, w.At.Location())
	if end.After(now) {
		return now
	}
	return end
}

// neighbours finds the readings before and after an instant. Without a
// list of readings the last gravity and the start gravity stand for it.
// The start gravity stands at the pitch, which makes late entries of the
// first days comparable. Of two at the same instant the later typed one
// counts.
func (b *Batch) neighbours(at time.Time, extra []Reading) (before, after *Reading) {
	consider := func(r Reading) {
		if r.SG == 0 {
			return
		}
		if r.When.After(at) {
			if after == nil || r.When.Before(after.When) {
				c := r
				after = &c
			}
		} else if before == nil || !r.When.Before(before.When) {
			c := r
			before = &c
		}
	}
	if len(b.Readings) == 0 {
		if b.OG > 0 && !b.Pitched.IsZero() {
			consider(Reading{When: b.Pitched, SG: b.OG})
		}
		if b.LastSG > 0 {
			consider(Reading{When: b.LastWhen, SG: b.LastSG, TempC: b.LastTempC})
		}
	}
	for _, r := range b.Readings {
		consider(r)
	}
	for _, r := range extra {
		consider(r)
	}
	return before, after
}

// misfit says how a gravity does not fit a batch: "rise", "fall",
// "plausible" for a first reading that is no must's, "" where it fits. Two
// readings of known temperature are compared at 20 °C, others as typed.
// The reading after it limits it from below only: a rise from there to
// here would have been noticed when that one was typed.
func (b *Batch) misfit(r Reading, at time.Time, extra []Reading) string {
	before, after := b.neighbours(at, extra)
	if before == nil {
		if after != nil && b.below(r, *after) > riseLimit+tiny {
			return "fall"
		}
		if early(b.Stage) && (r.SG < mustLow-tiny || r.SG > mustHigh+tiny) {
			return "plausible"
		}
		return ""
	}
	days := math.Max(1, at.Sub(before.When).Hours()/24)
	drop := b.below(r, *before)
	switch {
	case -drop > riseLimit+tiny:
		return "rise"
	case drop > fallPerDay*days+tiny:
		return "fall"
	case after != nil && b.below(r, *after) > riseLimit+tiny:
		return "fall"
	}
	return ""
}

// below is how far reading r lies below o, at 20 °C where both
// temperatures are known. Positive: r is lower than o.
func (b *Batch) below(r, o Reading) float64 {
	if r.TempC != nil && o.TempC != nil {
		x, ok1 := b.at20(r)
		y, ok2 := b.at20(o)
		if ok1 && ok2 {
			return y - x
		}
	}
	return o.SG - r.SG
}

// at20 corrects a reading by its sample's temperature, taken by an
// instrument of 20 °C: of two readings of one instrument only the
// difference counts here. Outside 5–35 °C the correction refuses, and both
// count as typed.
func (b *Batch) at20(r Reading) (float64, bool) {
	m := liquid.Mix{OG: liquid.Gravity(b.OG), Pitched: !b.Pitched.IsZero()}
	g, err := liquid.Hydrometer{}.At20(liquid.Gravity(r.SG), liquid.Celsius(*r.TempC), m)
	return float64(g), err == nil
}

// misfitWhen is misfit at the time of an entry. Of a day without hour
// nobody knows whether it was before or after what the book has of that
// day: it fits if either does. The book sorts such a day by the order
// typed, but the household may well have read before what it typed after.
func (b *Batch) misfitWhen(r Reading, w When, now time.Time, extra []Reading) string {
	m := b.misfit(r, w.order(now), extra)
	if m != "" && w.Day && b.misfit(r, w.At, extra) == "" {
		return ""
	}
	return m
}

// early reports a batch whose ferment is not proven yet, or of which
// nothing is known.
func early(stage string) bool { return stage == "must" || stage == "lag" || stage == "" }
