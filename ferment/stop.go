package ferment

import (
	"time"

	"mustbook/ferment/liquid"
)

// Limits of what is dry, in g/L of sugar left, and the gravities that stand in
// where no original gravity is known (common practice, no source).
const (
	DryLeft   = 8.0
	StuckLeft = 20.0
	drySG     = 0.998
	stuckSG   = 1.005
)

// level is what the proof of a stop needs of a reading.
type level struct {
	At time.Time
	SG liquid.Gravity
}

// provenRun returns the newest run of readings that shows a ferment has stopped:
// at least three which, rounded to 0.001, lie within 0.001 with first and last at
// least three calendar days apart; or within 0.002 over at least seven days with
// no downward run (common practice, no source).
func provenRun(rs []level, loc *time.Location) (run []level, ok bool) {
	if r := suffixWithin(rs, 1); len(r) >= 3 && calendarDays(r[0].At, r[len(r)-1].At, loc) >= 3 {
		return r, true
	}
	if r := suffixWithin(rs, 2); len(r) >= 3 && calendarDays(r[0].At, r[len(r)-1].At, loc) >= 7 && !downward(r) {
		return r, true
	}
	return nil, false
}

// suffixWithin returns the longest tail of readings that lie within a number of
// thousandths of each other.
func suffixWithin(rs []level, spread int) []level {
	if len(rs) == 0 {
		return nil
	}
	low := thousandths(rs[len(rs)-1].SG)
	high := low
	i := len(rs) - 1
	for ; i >= 0; i-- {
		g := thousandths(rs[i].SG)
		low, high = min(low, g), max(high, g)
		if high-low > spread {
			break
		}
	}
	return rs[i+1:]
}

// downward reports a run that still falls: three in a row each under the one
// before, or the last two thousandths under the first.
func downward(rs []level) bool {
	n := len(rs)
	if thousandths(rs[0].SG)-thousandths(rs[n-1].SG) >= 2 {
		return true
	}
	for i := 2; i < n; i++ {
		a, b, c := thousandths(rs[i-2].SG), thousandths(rs[i-1].SG), thousandths(rs[i].SG)
		if a > b && b > c {
			return true
		}
	}
	return false
}

// calendarDays counts the midnights between two instants in a zone.
func calendarDays(a, b time.Time, loc *time.Location) int {
	ya, ma, da := a.In(loc).Date()
	yb, mb, db := b.In(loc).Date()
	return int(time.Date(yb, mb, db, 0, 0, 0, 0, time.UTC).Sub(time.Date(ya, ma, da, 0, 0, 0, 0, time.UTC)) / (24 * time.Hour))
}

// checkStop looks, after a new reading, whether the ferment is shown to have
// stopped, still holds still, or has begun to fall again.
func (f *folder) checkStop(r Reading) {
	f.run = append(f.run, level{r.At, r.SG})
	s := &f.s.Stop
	if s.Shown.IsZero() {
		if f.s.Started.IsZero() {
			return
		}
		if run, ok := provenRun(f.run, f.in.Zone); ok {
			last := run[len(run)-1]
			*s = Stop{From: run[0].At, Shown: last.At, Last: last.At, SG: last.SG, N: len(run)}
		}
		return
	}
	d := thousandths(r.SG) - thousandths(s.SG)
	if f.unread && d >= -workedOut { // the blend's own level, read for the first time
		s.SG, s.Last, f.unread = r.SG, r.At, false
		return
	}
	switch {
	case d < -1: // it works again
		*s = Stop{}
		f.run = []level{{r.At, r.SG}}
	case d <= 1:
		s.Last, s.N = r.At, s.N+1
	default: // higher, unexplained or sweetened: the new level is what must hold
		if f.rised {
			s.SG, s.Last = r.SG, r.At
			f.rised = false
		}
	}
}

// workedOut is how far under the worked out level of a blend, in thousandths, the first
// reading of it may lie: two stems and two volumes stand behind that level (common
// practice, no source).
const workedOut = 3

// forgetRun drops the run: the gravity of before says nothing of the mix of now.
func (f *folder) forgetRun() { f.run = nil }

// judge says what the proof means, by the sugar left.
func (s *State) judge() {
	if s.Stop.Shown.IsZero() {
		return
	}
	left := standIn(s.SugarKnown, s.SugarLeft, s.Stop.SG)
	switch {
	case s.Plan.MeantSweet || !s.Sweetened.IsZero():
		s.Stop.Verdict = StopSweet
	case left <= DryLeft:
		s.Stop.Verdict = StopDry
	case left <= StuckLeft && (s.Plan.DryEnough || s.guarded()): // stabilised, it may be either
		s.Stop.Verdict = StopEnough
	case left <= StuckLeft:
		s.Stop.Verdict = StopAsk
	default:
		s.Stop.Verdict = StopStuck
	}
}

// standIn gives the sugar left, or a value on the same side of the limits where
// only the gravity is known.
func standIn(known bool, left float64, sg liquid.Gravity) float64 {
	switch {
	case known:
		return left
	case sg <= drySG:
		return 0
	case sg <= stuckSG:
		return (DryLeft + StuckLeft) / 2
	}
	return 2 * StuckLeft
}

// Proven reports whether it has stopped and is dry, dry enough or sweet on
// purpose: what stabilising and bottling rest on.
func (s Stop) Proven() bool {
	switch s.Verdict {
	case StopDry, StopEnough, StopSweet:
		return true
	}
	return false
}
