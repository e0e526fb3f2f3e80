package schedule

import (
	"math"
	"strings"
	"time"

	"mustbook/ferment"
)

// bottlingAge is how long after the pitch a kind is usually ready
// (common practice, no source). The wine's own state is asked first.
var bottlingAge = map[ferment.Kind]int{ // months
	ferment.Kit: 1, ferment.Country: 4, ferment.Red: 9, ferment.White: 4, ferment.Rose: 4, ferment.Mead: 6, ferment.Cider: 2,
}

// clearSince returns when the wine was last known to be clear: racked off its
// finings or its fine lees, or the word. Nothing else in the book shows it.
func (v *view) clearSince() (time.Time, bool) {
	st := v.st
	r := lastRacked(st)
	switch {
	case !st.Fined.IsZero() && st.Fined.After(st.Stop.From):
		return r, r.After(st.Fined)
	case st.Plan.Flags["clear"]:
		return st.Stop.Shown, true
	}
	return r, r.After(st.Stop.From)
}

// bottlingDay is R34: what to see to before bottling. It is told once, when the wine
// is through and either its free SO2 is known or its age is reached; the gate itself
// is asked again on the day.
func bottlingDay(v *view) []nudge {
	st := v.st
	if !kept(st) || st.Plan.MeantFizzy || !st.Stop.Proven() || st.IsSweet() && !stabilised(st) || st.MLFUnknown() {
		return nil
	}
	clear, ok := v.clearSince()
	if !ok || st.MLFOpen() {
		return nil
	}
	months := bottlingAge[st.Kind]
	if months == 0 {
		months = 4
	}
	due := addMonths(st.Pitched, months, v.loc)
	switch {
	case v.set("R34"):
		due = v.from(st.Pitched, "R34")
	case st.FreeSO2 != nil:
		due = st.FreeSO2.At
	}
	due = later(due, v.nextMorning(later(clear, st.Stop.Shown), 1))
	return one(rootAt(st, st.Stop.Shown), due, args("v", st.VolumeL, "b", bottlesFor(st)))
}

// addMonths adds months by the calendar, staying within the month.
func addMonths(t time.Time, months int, loc *time.Location) time.Time {
	y, m, d := t.In(loc).Date()
	last := time.Date(y, m+time.Month(months)+1, 0, 12, 0, 0, 0, loc).Day()
	return at(y, m+time.Month(months), min(d, last), minuteOf(t, loc), loc)
}

// bottlesFor is how many bottles a volume fills, a litre lost at the
// siphon and in the neck (common practice, no source).
func bottlesFor(st *ferment.State) int {
	if st.VolumeL <= 1 || st.BottleML <= 0 {
		return 0
	}
	return int((st.VolumeL - 1) * 1000 / st.BottleML)
}

// notSafe is R35: it was bottled though the gate says no. A later reading that
// agrees, or the word that it is meant fizzy, settles it. It is the one reminder
// that stands as long as it is true.
func notSafe(v *view) []nudge {
	st := v.st
	if st.Bottled.IsZero() || len(st.Gate(st.Bottled)) == 0 {
		return nil
	}
	a := args()
	if st.Last != nil {
		if st.Last.At.After(st.Bottled) && len(st.Gate(st.Last.At)) == 0 {
			return nil
		}
		a = args("sg", st.Last.SG, "day", st.Last.At)
	}
	if why := st.Gate(st.Bottled)[0]; why == ferment.MLFRunning || why == ferment.MLFUnknown {
		a["mlf"] = "open"
	}
	d, _ := st.Did(ferment.DeedBottled)
	return one(d.Root, later(d.At, st.Bottled), a)
}

// inBottle returns the bottling of a batch that still has bottles.
func inBottle(st *ferment.State) (ferment.Deed, bool) {
	d, ok := st.Did(ferment.DeedBottled)
	if !ok || st.Bottled.IsZero() || st.BottlesMade > 0 && st.BottlesLeft <= 0 {
		return d, false
	}
	return d, true
}

// layDown is R36, for corks: they need a few days upright to grip, and wet feet after.
// An unknown closure counts as a cork.
func layDown(v *view) []nudge {
	st := v.st
	d, ok := inBottle(st)
	c := strings.ToLower(st.Closure)
	if !ok || st.LaidDown.After(d.At) || strings.Contains(c, "screw") || strings.Contains(c, "crown") || st.Plan.MeantFizzy {
		return nil
	}
	if v.now.Sub(d.At) > 30*day {
		return nil // by then they lie or they do not: nobody is told of it for a year
	}
	due := v.from(d.At, "R36")
	return one(d.Root, due, args("d", daysBetween(d.At, later(due, v.now), v.loc)))
}

// earlyWarning is R37: bottles that work again show it first by their corks. Each look
// is its own; that one was fine says nothing of the next.
func earlyWarning(v *view) []nudge {
	st := v.st
	d, ok := inBottle(st)
	if !ok {
		return nil
	}
	days := []int{14, 45}
	if st.Plan.MeantFizzy {
		days = []int{5, 10, 20}
	}
	if v.set("R37") {
		days[0] = int(v.every("R37", 0) / day)
	}
	return v.series("R37", d.Root, v.days(d.At, days...), nil, args())
}

// labels is R38: what a label should say is in the book already.
func labels(v *view) []nudge {
	st := v.st
	d, ok := inBottle(st)
	if !ok || st.Labelled.After(d.At) || st.Plan.Flags["no labels"] || v.answered("R38", d.Root, "No labels") {
		return nil
	}
	a := args("bottled", d.At, "allergens", list(st.Allergens), "name", st.Name)
	if y := vintage(st).In(v.loc).Format("2006"); !strings.HasSuffix(st.Name, y) && !strings.HasSuffix(st.Name, " "+y[2:]) {
		a["year"] = y
	}
	if st.ABVKnown {
		a["abv"] = argOf(math.Round(float64(st.ABV)*2) / 2) // the label itself says the nearest half
	}
	return one(d.Root, v.from(d.At, "R38"), a)
}
