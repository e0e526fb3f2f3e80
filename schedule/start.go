package schedule

import (
	"time"

	"mustbook/ferment"
)

// waitOver is R01: the yeast may go in some time after sulphite went into a must. The
// newest addition counts.
func waitOver(v *view) []nudge {
	st := v.st
	adds := additionsOf(st, ferment.SulphiteClass)
	if st.Stage != ferment.Must || len(adds) == 0 {
		return nil
	}
	last := adds[len(adds)-1]
	due := v.from(last.At, "R01")
	return one(last.Root, due, args("h", int(later(due, v.now).Sub(last.At)/hour)))
}

// startGravity is R02: without a start gravity alcohol cannot be told. It is moot
// six hours after the yeast: by then a reading is no start gravity.
func startGravity(v *view) []nudge {
	st := v.st
	if st.Began.IsZero() || st.OGSource != ferment.OGNone || len(st.Readings) > 0 || st.Plan.NoHydrometer {
		return nil
	}
	if !st.Pitched.IsZero() && v.now.Sub(st.Pitched) > 6*hour || st.Stage != ferment.Must && st.Stage != ferment.Lag {
		return nil
	}
	return one(0, v.from(st.Began, "R02"), args())
}

// started reports that the newest pitch is known to work: by the word, or by a
// fall of 0.003 since it (a fresh pitch must show its own fall).
func started(st *ferment.State) bool {
	if st.Repitched.IsZero() {
		return !st.Started.IsZero()
	}
	if d, ok := st.Did(ferment.DeedWorking); ok && !d.At.Before(st.Repitched) {
		return true
	}
	before := 0
	for _, r := range st.Readings {
		switch {
		case !r.Counts:
		case !r.At.After(st.Repitched):
			before = points(r.SG)
		case before == 0:
			before = points(r.SG)
		case points(r.SG) <= before-3:
			return true
		}
	}
	return false
}

// waiting tells a batch that has been pitched and is not through yet.
func waiting(st *ferment.State) bool {
	return !st.Pitched.IsZero() && working(st) && !started(st)
}

// startCheck is R03; from 48 hours on R04 takes its place, so that a program that was
// off asks one of them.
func startCheck(v *view) []nudge {
	st := v.st
	if !waiting(st) || !st.Repitched.IsZero() || v.doubted(st.Pitched, 18*hour) {
		return nil
	}
	if !v.wasSaid("R03", st.PitchRoot) && !v.now.Before(v.from(st.Pitched, "R04")) {
		return nil
	}
	return one(st.PitchRoot, v.from(st.Pitched, "R03"), args("h", v.hoursAt(st.Pitched, "R03")))
}

// hoursAt is how many hours after the pitch a check speaks: those of now, once
// its time has come.
func (v *view) hoursAt(pitched time.Time, rule string) int {
	h := v.from(pitched, rule).Sub(pitched)
	if real := v.now.Sub(pitched); real > h {
		h = real
	}
	return int(h / hour)
}

// doubted reports that somebody said it does not work, no sooner than some time
// after the pitch: the question of that time is answered.
func (v *view) doubted(pitched time.Time, since time.Duration) bool {
	for _, d := range v.st.Deeds {
		if d.What == ferment.DeedNotWorking && d.At.Sub(pitched) >= since {
			return true
		}
	}
	return false
}

// secondCheck is R04: after R03, or after R51 for fresh yeast, when that was answered
// with no or not at all. A first check that came late is given time to be answered.
func secondCheck(v *view) []nudge {
	st := v.st
	if !waiting(st) {
		return nil
	}
	at, root := pitch(st)
	first := "R03"
	if root != st.PitchRoot {
		first = "R51"
	}
	due := v.from(at, "R04")
	if v.doubted(at, 40*hour) || v.answered("R04", root, "Still nothing") {
		return nil
	}
	pending := !v.wasSaid(first, root) && !v.doubted(at, 18*hour) && !muted(v.h.Muted, first) && !muted(st.Plan.Muted, first)
	if pending && v.now.Before(due) {
		return nil
	}
	for _, s := range v.rows(first, root) {
		due = later(due, s.MadeAt.Add(12*hour)) // a late first check is given time to be answered
	}
	return one(root, due, args("h", v.hoursAt(at, "R04")))
}

// noStart is R05: told of no sign at the second check, it is time to act. Silence is
// not a sign of anything.
func noStart(v *view) []nudge {
	st := v.st
	if !waiting(st) {
		return nil
	}
	at, root := pitch(st)
	if !v.answered("R04", root, "Still nothing") && !v.doubted(at, 40*hour) {
		return nil
	}
	return one(root, v.from(at, "R05"), args("h", v.hoursAt(at, "R05")))
}

// restartCheck is R51: fresh yeast went in. It is judged by the fall since, not by the
// fall before it.
func restartCheck(v *view) []nudge {
	st := v.st
	if st.Repitched.IsZero() || !waiting(st) || v.doubted(st.Repitched, 18*hour) {
		return nil
	}
	if !v.wasSaid("R51", st.RepitchRoot) && !v.now.Before(v.from(st.Repitched, "R04")) {
		return nil
	}
	return one(st.RepitchRoot, v.from(st.Repitched, "R51"), args("h", v.hoursAt(st.Repitched, "R51")))
}
