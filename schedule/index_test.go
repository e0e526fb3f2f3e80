package schedule

import (
	"testing"
	"time"

	"mustbook/ferment"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// A tick looks only at what the index says is due. A house that is looked at every
// five minutes hears the same, at the same time: nothing is forgotten because the
// next due instant was not seen coming.
func TestIndexMissesNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		zone, kind := rapid.SampledFrom(zones).Draw(rt, "zone"), drawKind(rt)
		sparse, dense := newSim(t, zone, kind, "damson"), newSim(t, zone, kind, "damson")
		for _, s := range []*sim{sparse, dense} {
			s.h.NoRoundUp = false
			s.play("09-11 12:00 new")
		}
		w := newWatch(sparse)
		for range rapid.IntRange(1, 12).Draw(rt, "steps") {
			to := sparse.clock.Add(minutes(5 * rapid.IntRange(1, 600).Draw(rt, "gap")))
			sparse.run(to)
			for at := dense.clock.Add(minutes(5)); !at.After(to); at = at.Add(minutes(5)) {
				dense.clock = at
				dense.tick()
			}
			what := w.draw(rt)
			for _, s := range []*sim{sparse, dense} {
				s.do(what)
				s.answerAtOnce()
			}
			dense.tick()
		}
		sparse.run(sparse.clock)
		if d := cmp.Diff(onFive(dense), onFive(sparse)); d != "" {
			rt.Fatalf("said (-every five minutes +by the index):\n%s", d)
		}
	})
}

// onFive lists what was said, its instant moved on to the next five minutes: what
// falls due between two looks is told at the second.
func onFive(s *sim) []string {
	var out []string
	for i, it := range s.sent {
		at := s.at[i]
		if r := at.Truncate(minutes(5)); !r.Equal(at) {
			at = r.Add(minutes(5))
		}
		out = append(out, at.UTC().Format("01-02 15:04 ")+it.Rule)
	}
	return out
}

// Over a whole year in each zone the stirring of each morning and the bundle stand
// at the same clock time, whatever the clocks do.
func TestClockTimesHoldAllYear(t *testing.T) {
	for _, zone := range zones {
		loc := mustZone(t, zone)
		h := House{Zone: loc}
		for d := range 365 {
			day := atClock(time.Date(2026, 1, 1, 12, 0, 0, 0, loc), d, 12*60, loc)
			if b := h.bundleFor(day).In(loc); b.Format("15:04") != "18:30" || b.YearDay() != day.In(loc).YearDay() {
				t.Fatalf("%s: the bundle of %v is at %v", zone, day, b)
			}
			v := &view{h: &h, loc: loc, st: &ferment.State{}}
			slots := v.stirSlots(day, 0)
			if len(slots) != 2 || slots[0].In(loc).Format("15:04") != "07:30" || slots[1].In(loc).Format("15:04") != "19:30" {
				t.Fatalf("%s: the stirring hours of %v are %v", zone, day, slots)
			}
		}
	}
}
