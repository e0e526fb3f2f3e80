package schedule

import (
	"time"

	"mustbook/ferment"
)

// stirredAt is the newest stirring, the pitch counting as one.
func stirredAt(st *ferment.State) time.Time {
	at, _ := pitch(st)
	if d, ok := newestOf(st, ferment.DeedStirred, ferment.DeedPunched); ok {
		at = later(at, d.At)
	}
	return at
}

// Limits of the stirring nudge.
const (
	justStirred   = 6 * hour
	unstirred     = 14 * hour
	stirEveryTime = 72 * hour
)

// stir is R06: push the fruit under, at the hours of the house.
func stir(v *view) []nudge {
	st := v.st
	if !st.OnPulp || st.Stage != ferment.Lag && st.Stage != ferment.Primary {
		return nil
	}
	at, root := pitch(st)
	last := stirredAt(st)
	if v.ignored("R06", root, 2, last) || v.answered("R06", root, "Stop these") {
		return nil
	}
	for days := 0; days <= 9; days++ {
		for i, slot := range v.stirSlots(later(at, v.now.Add(-day)), days) {
			step := daysBetween(at, slot, v.loc)*10 + i
			if slot.Before(at) || v.now.Sub(slot) > ruleOf("R06").Keep || v.madeStep("R06", root, step) {
				continue
			}
			gap := slot.Sub(last)
			if gap < justStirred || slot.Sub(at) > stirEveryTime && gap < unstirred || v.overBudget(stirBudget, slot) {
				continue
			}
			return []nudge{{anchor: root, step: step, wanted: slot, args: args()}}
		}
	}
	return nil
}

// stirSlots returns the stirring hours of a day.
func (v *view) stirSlots(from time.Time, days int) []time.Time {
	var out []time.Time
	if !v.set("R06") {
		for _, m := range v.h.stirAt() {
			out = append(out, atClock(from, days, m, v.loc))
		}
		return out
	}
	gap := int(max(v.every("R06", day), ruleOf("R06").Min) / minute)
	for m := v.h.stirAt()[0]; m < 24*60; m += gap {
		if t := atClock(from, days, m, v.loc); !v.h.isQuiet(t) {
			out = append(out, t)
		}
	}
	return out
}

func (v *view) madeStep(rule string, anchor int64, step int) bool {
	for _, s := range v.rows(rule, anchor) {
		if s.Step() == step {
			return true
		}
	}
	return false
}

// primaryReading is R07: how it is going, some time after the last gravity.
func primaryReading(v *view) []nudge {
	st := v.st
	if st.Stage != ferment.Primary || st.Plan.BySheet || st.Last == nil || len(stillness(v)) > 0 {
		return nil
	}
	base, anchor := st.Last.At, st.Last.Entry.Root
	if at, root := pitch(st); at.After(base) {
		base, anchor = at, root
	}
	gap := v.every("R07", ruleOf("R07").Default)
	if !v.set("R07") && (st.Kind == ferment.Red && st.OnPulp || v.warm(26) || v.fc.Watch()) {
		gap = day
	}
	due := after(base, gap, v.loc)
	if v.overBudget(readBudget, v.now) {
		due = later(due, addDays(st.Pitched, 7, v.loc))
	}
	return one(anchor, due, args("sg", st.Last.SG, "day", st.Last.At))
}

// warm reports that the newest temperature of the must, of the last two days, is
// above a limit in °C.
func (v *view) warm(limit float64) bool {
	t, ok := mustTemp(v.st)
	return ok && t.C > limit && v.now.Sub(t.At) < 48*hour
}

// nutrientSteps is R08a: mead by 24, 48, 72 hours and a third of the sugar; a fruit
// wine that got none by 24 hours and a third (TRADE stage 6); a recipe by its own.
func nutrientSteps(v *view) []nudge {
	st := v.st
	if st.Pitched.IsZero() || !working(st) || st.Kind == ferment.Kit || st.SugarKnown && st.Gone >= 2.0/3 {
		return nil
	}
	given := 0
	for _, a := range additionsOf(st, ferment.NutrientClass) {
		switch {
		case a.At.After(st.Pitched.Add(hour)):
			given++
		case st.Kind == ferment.Country:
			return nil // it is a fruit wine with nutrient
		}
	}
	if own := v.recipe("R08a"); len(own) > 0 {
		return steps(v, own, given)
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

// thirdGone is when a third of the sugar was seen to be gone.
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

// recipe returns the batch's own steps of a rule, by time.
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

// sugarSteps is R08b: sugar or honey in steps, by the recipe.
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

// primaryCheck is R09: by the kit's day or the household's; else when the forecast
// sees the rack point, from day 3 to day 10; else by the kind.
func primaryCheck(v *view) []nudge {
	st := v.st
	if st.Stage != ferment.Lag && st.Stage != ferment.Primary && !strainedOnly(st) || len(st.Racked) > 0 || len(readyToRack(v)) > 0 {
		return nil
	}
	at, root := pitch(st)
	due := addDays(at, st.Plan.CheckDay, v.loc)
	switch {
	case v.set("R09"):
		due = v.from(at, "R09")
	case st.Plan.CheckFrom != "default":
	case v.fc != nil && !v.fc.RackMedian.IsZero():
		due = v.fc.RackMedian
		if first := addDays(at, 3, v.loc); due.Before(first) {
			due = first
		}
		if last := addDays(at, 10, v.loc); due.After(last) {
			due = last
		}
	}
	return one(root, due, args("d", daysBetween(at, later(due, v.now), v.loc), "rack_sg", st.Plan.RackAt))
}

// strainedOnly tells a batch off the pulp whose gross lees are still under it.
func strainedOnly(st *ferment.State) bool {
	return st.Stage == ferment.Secondary && !st.Strained.IsZero() && len(st.Racked) == 0 && st.Kind != ferment.Red
}

// readyToRack is R10: the gravity reached the rack point. On the pulp it waits for
// R11 to have spoken: what is strained first is racked after.
func readyToRack(v *view) []nudge {
	st := v.st
	if st.Stage != ferment.Primary && !strainedOnly(st) || len(st.Racked) > 0 || st.Last == nil {
		return nil
	}
	if _, root := pitch(st); st.OnPulp && !v.wasSaid("R11", root) {
		return nil
	}
	limit := int(st.Plan.RackAt*1000 + 0.5)
	var first *ferment.Reading
	for _, r := range readings(st) {
		switch {
		case points(r.SG) > limit:
			first = nil
		case first == nil:
			first = &r
		}
	}
	if first == nil {
		return nil
	}
	return one(first.Entry.Root, v.nextDay(first.At, "R10"), args("sg", st.Last.SG, "rack_sg", st.Plan.RackAt))
}

// strain is R11: off the pulp or the skins, by day or by gravity.
func strain(v *view) []nudge {
	st := v.st
	if !st.OnPulp || st.Stage != ferment.Lag && st.Stage != ferment.Primary {
		return nil
	}
	at, root := pitch(st)
	days, limit := 5*day, 1020
	if st.Kind == ferment.Red {
		days, limit = 10*day, 1000
	}
	due := after(at, v.every("R11", days), v.loc)
	for _, r := range readings(st) {
		if points(r.SG) <= limit && r.At.Before(due) && !v.set("R11") {
			due = r.At
			break
		}
	}
	return one(root, due, args("d", daysBetween(at, later(due, v.now), v.loc), "sg", sg(st)))
}
