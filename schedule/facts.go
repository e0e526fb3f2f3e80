package schedule

import (
	"math"
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

// pitch returns the newest pitch and its root.
func pitch(st *ferment.State) (time.Time, int64) {
	if !st.Repitched.IsZero() {
		return st.Repitched, st.RepitchRoot
	}
	return st.Pitched, st.PitchRoot
}

// readings returns the gravities on the curve since the newest pitch. They are the
// state's own where all of them count, which they nearly always do: look only.
func readings(st *ferment.State) []ferment.Reading {
	from, _ := pitch(st)
	first := 0
	for first < len(st.Readings) && st.Readings[first].At.Before(from) {
		first++
	}
	own := st.Readings[first:]
	for i := range own {
		if !own[i].Counts {
			return counting(own)
		}
	}
	return own
}

func counting(rs []ferment.Reading) []ferment.Reading {
	var out []ferment.Reading
	for i := range rs {
		if rs[i].Counts {
			out = append(out, rs[i])
		}
	}
	return out
}

// points is a gravity in whole thousandths, as it is read from the stem.
func points(g liquid.Gravity) int { return int(math.Round(float64(g) * 1000)) }

// working tells the stages in which yeast works or is about to.
func working(st *ferment.State) bool {
	return st.Stage == ferment.Lag || st.Stage == ferment.Primary || st.Stage == ferment.Secondary
}

// kept tells a wine that has stopped and is not in bottles yet.
func kept(st *ferment.State) bool {
	switch st.Stage {
	case ferment.Stopped, ferment.Stabilised, ferment.Clearing, ferment.Ageing:
		return true
	}
	return false
}

// stabilised reports that sulphite, and sorbate where sweet, is in, or the word.
func stabilised(st *ferment.State) bool {
	if !st.Stabilised.IsZero() {
		return true
	}
	if st.Stop.Shown.IsZero() || !st.Sulphited.After(st.Stop.From) {
		return false
	}
	return !st.IsSweet() || st.Sorbated.After(st.Stop.From)
}

// newestOf returns the newest deed among several and whether there is one.
func newestOf(st *ferment.State, deeds ...string) (ferment.Deed, bool) {
	for i := len(st.Deeds) - 1; i >= 0; i-- {
		for _, d := range deeds {
			if st.Deeds[i].What == d {
				return st.Deeds[i], true
			}
		}
	}
	return ferment.Deed{}, false
}

// additionsOf returns the additions of a class, in order of time.
func additionsOf(st *ferment.State, c ferment.Class) []ferment.Addition {
	var out []ferment.Addition
	for _, a := range st.Additions {
		if ferment.ClassOf(a.Material) == c {
			out = append(out, a)
		}
	}
	return out
}

// lastRacked is the newest racking, zero where none.
func lastRacked(st *ferment.State) time.Time {
	if n := len(st.Racked); n > 0 {
		return st.Racked[n-1]
	}
	return time.Time{}
}

// sg returns the newest gravity, 0 where none.
func sg(st *ferment.State) liquid.Gravity {
	if st.Last == nil {
		return 0
	}
	return st.Last.SG
}

// named reports whether a batch's name holds one of the words.
func named(st *ferment.State, words ...string) bool {
	name := strings.ToLower(st.Name)
	for _, w := range words {
		if strings.Contains(name, w) {
			return true
		}
	}
	return false
}
