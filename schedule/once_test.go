package schedule

import (
	"fmt"
	"sort"
	"testing"
	"time"

	"mustbook/ferment"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The model of exactly once: minute by minute, a reminder that somebody asked for
// is made by the first tick at or after its time at which the clock on the wall
// stands between the end and the start of the quiet hours. Ticks come late, twice
// or not at all; the program restarts with every one of them, knowing only what
// was said; the house moves to another zone; reminders are moved and dropped.
func TestMadeExactlyOnce(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		loc := mustDrawZone(rt, "zone")
		// Around the clock changes of 2026 in most of the zones.
		month := rapid.SampledFrom([]time.Month{time.March, time.April, time.October, time.November}).Draw(rt, "month")
		start := time.Date(2026, month, rapid.IntRange(1, 28).Draw(rt, "day"), 0, 0, 0, 0, time.UTC)
		minutesLong := 6 * 24 * 60

		ownAt := map[int64]int{} // minute of each reminder; edits move it
		h := House{Zone: loc}
		for i := range rapid.IntRange(1, 5).Draw(rt, "reminders") {
			ownAt[int64(i+1)] = rapid.IntRange(0, minutesLong-1).Draw(rt, "at")
		}
		events := drawEvents(rt, minutesLong, len(ownAt))
		var said []Said
		var got, want []string
		made := map[int64]bool{}
		for m := range minutesLong {
			now := start.Add(time.Duration(m) * time.Minute)
			for _, e := range events[m] {
				switch e.kind {
				case "move":
					if _, ok := ownAt[e.root]; ok {
						ownAt[e.root] = e.to
					}
				case "drop":
					delete(ownAt, e.root)
				case "zone":
					h.Zone = mustDrawZone(rt, "new zone")
				case "tick":
					want = append(want, modelTick(now, start, h.Zone, ownAt, made)...)
					h.Own = h.Own[:0]
					for root, at := range ownAt {
						h.Own = append(h.Own, Own{Root: root, Batch: 1, What: "x", At: start.Add(time.Duration(at) * time.Minute)})
					}
					st := &ferment.State{N: 1, Stage: ferment.Ageing}
					for _, it := range Due(st, nil, h, said, now) {
						if it.Rule == "R50" {
							said = append(said, Said{Key: it.Key, MadeAt: now, AnsweredAt: now})
							got = append(got, fmt.Sprint(m, " ", it.Anchor))
						}
					}
				}
			}
		}
		sort.Strings(got)
		for i := range want {
			want[i] = fmt.Sprint(want[i])
		}
		sort.Strings(want)
		if d := cmp.Diff(want, got); d != "" {
			rt.Fatalf("made (-model +schedule):\n%s", d)
		}
	})
}

type event struct {
	kind string
	root int64
	to   int
}

func drawEvents(rt *rapid.T, long, reminders int) map[int][]event {
	events := map[int][]event{}
	m := 0
	for {
		m += rapid.SampledFrom([]int{0, 1, 3, 17, 61, 400, 1500}).Draw(rt, "gap")
		if m >= long || len(events) > 200 {
			return events
		}
		kind := rapid.SampledFrom([]string{"tick", "tick", "tick", "tick", "tick", "tick", "move", "drop", "zone"}).Draw(rt, "event")
		e := event{kind: kind}
		if kind == "move" || kind == "drop" {
			e.root = int64(rapid.IntRange(1, reminders).Draw(rt, "which"))
			e.to = rapid.IntRange(0, long-1).Draw(rt, "to")
		}
		events[m] = append(events[m], e)
	}
}

func mustDrawZone(rt *rapid.T, label string) *time.Location {
	loc, err := time.LoadLocation(rapid.SampledFrom(zones).Draw(rt, label))
	if err != nil {
		rt.Fatal(err)
	}
	return loc
}

// modelTick is the model: it looks at the clock on the wall and nothing else.
func modelTick(now, start time.Time, loc *time.Location, ownAt map[int64]int, made map[int64]bool) []string {
	clock := now.In(loc).Format("15:04")
	if clock < "07:30" || clock >= "21:30" {
		return nil
	}
	var out []string
	m := int(now.Sub(start) / time.Minute)
	for root, at := range ownAt {
		if at <= m && !made[root] {
			made[root] = true
			out = append(out, fmt.Sprint(m, " ", root))
		}
	}
	return out
}

// Random lives, random ticks: no key is made twice, a tick that comes twice finds
// nothing, what is due by the plan is due by Due, and nothing is made before the
// day it is wanted.
func TestRandomLives(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := newSim(t, rapid.SampledFrom(zones).Draw(rt, "zone"), drawKind(rt), rapid.SampledFrom([]string{"damson", "pear", "plum"}).Draw(rt, "name"))
		w := newWatch(s)
		s.play("09-11 12:00 new")
		for range rapid.IntRange(5, 40).Draw(rt, "steps") {
			gap := rapid.SampledFrom([]int{5, 60, 300, 1440, 2900, 4400, 10080, 60000}).Draw(rt, "gap")
			s.off = rapid.IntRange(0, 9).Draw(rt, "off") == 0
			s.run(s.clock.Add(minutes(gap)))
			if s.off {
				s.off = false
				s.tick()
			}
			if len(s.sent) > 0 {
				w.check(rt)
			}
			if left := dueOf(s.items(), s.clock); len(left) > 0 {
				rt.Fatalf("the tick left %v undone", left)
			}
			what := w.draw(rt)
			s.do(what)
			w.did(what)
			s.answerAtOnce()
			w.check(rt)
		}
	})
}

func drawKind(rt *rapid.T) ferment.Kind {
	return rapid.SampledFrom([]ferment.Kind{ferment.Kit, ferment.Country, ferment.Red, ferment.Mead, ferment.Cider}).Draw(rt, "kind")
}
