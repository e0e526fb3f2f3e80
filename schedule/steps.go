package schedule

import (
	"time"

	"mustbook/ferment"
)

// nutrientSteps is R08a. Honey has next to no nitrogen, so a mead takes it in steps,
// at 24, 48, 72 hours and a third of the sugar; a fruit wine that got none before the
// pitch is asked at 24 hours and at a third (common practice, no source). A kit brings its own.
// After two thirds of the sugar it would feed only what spoils the wine.
func nutrientSteps(v *view) []nudge {
	st := v.st
	if st.Pitched.IsZero() || !working(st) || st.Kind == ferment.Kit || st.SugarKnown && st.Gone >= 2.0/3 {
		return nil
	}
	if t, ok := mustTemp(st); ok && len(hot(v)) > 0 && v.now.Sub(t.At) < day {
		return nil // R12a has just said: none in this heat
	}
	given, before := 0, false
	for _, a := range additionsOf(st, ferment.NutrientClass) {
		if a.At.After(st.Pitched.Add(hour)) {
			given++
		} else {
			before = true
		}
	}
	own := v.recipe("R08a")
	switch {
	case len(own) > 0:
		return steps(v, own, given)
	case before && st.Kind == ferment.Country: // it is a fruit wine with nutrient
		return nil
	}
	var plan []time.Time
	switch st.Kind {
	case ferment.Mead:
		plan = []time.Time{st.Pitched.Add(day), st.Pitched.Add(2 * day), st.Pitched.Add(3 * day)}
	case ferment.Country:
		plan = []time.Time{st.Pitched.Add(day)}
	default:
		return nil
	}
	m := len(plan) + 1
	if t, ok := thirdGone(st); ok {
		plan = append(plan, t)
	}
	var all []nudge
	for i, due := range plan {
		all = append(all, nudge{anchor: st.PitchRoot, step: i, wanted: due, atOnce: i == m-1, args: args("n", i+1, "m", m)})
	}
	return v.pending(all, given)
}

// pending leaves the newest step whose time has come and that is not in, and the
// next to come: a step missed is not told beside the one after it.
func (v *view) pending(all []nudge, given int) []nudge {
	var out []nudge
	for i := given; i < len(all); i++ {
		if !all[i].wanted.After(v.now) {
			out = out[:0]
		}
		out = append(out, all[i])
		if all[i].wanted.After(v.now) {
			break
		}
	}
	return out
}

// thirdGone is when a third of the sugar was seen to be gone: the first reading at
// or under the gravity of that point, taken along the straight line from the start,
// which is close enough to a day.
func thirdGone(st *ferment.State) (time.Time, bool) {
	if !st.SugarKnown || st.Gone < 1.0/3 || st.Last == nil {
		return time.Time{}, false
	}
	// The first reading at or under the point where a third is gone, by the share
	// of the points that fell: close enough to a day.
	og, now := float64(st.OG), float64(st.Last.SG)
	limit := og - (og-now)*(1.0/3)/st.Gone
	for _, r := range readings(st) {
		if float64(r.SG) <= limit+1e-9 {
			return r.At, true
		}
	}
	return st.Last.At, true
}

// recipe returns the batch's own steps of a rule, as they were typed.
func (v *view) recipe(rule string) []Step {
	var out []Step
	for _, s := range v.h.Steps {
		if s.Rule == rule && s.Batch == v.st.N {
			out = append(out, s)
		}
	}
	return out
}

// steps are those of a recipe, without the ones that are in.
func steps(v *view, own []Step, given int) []nudge {
	var all []nudge
	for i, o := range own {
		all = append(all, nudge{anchor: o.Root, wanted: after(v.st.Pitched, o.After, v.loc), args: args("n", i+1, "m", len(own), "amount", o.Amount)})
	}
	return v.pending(all, given)
}

// sugarSteps is R08b: sugar or honey in steps, by the recipe. What was put in after
// the pitch counts as steps given, in whatever amount.
func sugarSteps(v *view) []nudge {
	st := v.st
	own := v.recipe("R08b")
	if len(own) == 0 || st.Pitched.IsZero() || !working(st) || !st.Stop.Shown.IsZero() {
		return nil
	}
	given := 0
	for _, a := range st.Additions {
		if c := ferment.ClassOf(a.Material); (c == ferment.SugarClass || c == ferment.HoneyClass) && a.At.After(st.Pitched) {
			given++
		}
	}
	return steps(v, own, given)
}
