package schedule

import (
	"testing"
	"time"

	"mustbook/ferment"
)

// What the household sets of its own goes before every default.

func TestRecipeSteps(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Mead, "mead")
	s.h.Steps = []Step{
		{Root: 801, Batch: 1, Rule: "R08a", Amount: "2 g", After: 12 * hour},
		{Root: 802, Batch: 1, Rule: "R08a", Amount: "2 g", After: 36 * hour},
		{Root: 803, Batch: 2, Rule: "R08a", Amount: "9 g", After: 13 * hour},
		{Root: 804, Batch: 1, Rule: "R08b", Amount: "500 g honey", After: 48 * hour},
	}
	s.play(pitchedFriday + "09-12 10:00 add nutrient\n09-14 12:00 .")
	s.wantLines("R08a", "09-12 07:30 R08a\n09-13 07:30 R08a") // 06:00 on both days is quiet
	s.wantLines("R08b", "09-13 18:00 R08b")
	for _, it := range s.sent {
		if it.Rule == "R08b" && (it.Args["amount"] != "500 g honey" || it.Args["n"] != "1" || it.Args["m"] != "1") {
			t.Errorf("the sugar step says %v", it.Args)
		}
	}
}

func TestSugarStepIsIn(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Mead, "mead")
	s.h.Steps = []Step{{Root: 804, Batch: 1, Rule: "R08b", Amount: "500 g", After: 48 * hour}}
	s.play(pitchedFriday + "09-13 10:00 add honey\n09-15 12:00 .")
	s.wantLines("R08b", "")
}

func TestOwnLimitsOfHeat(t *testing.T) {
	script := pitchedFriday + "09-12 12:00 working\n09-13 12:00 temp 28\n"
	for _, c := range []struct {
		name string
		set  func(*House)
		rule string
		want int
	}{
		{"hot at 28", func(h *House) { h.HotC = 28 }, "R12a", 1},
		{"default", func(*House) {}, "R12a", 0},
	} {
		s := newSim(t, "Europe/London", ferment.Kit, "white")
		c.set(&s.h)
		s.play(script)
		if got := len(s.atOnce); got != c.want {
			t.Errorf("%s: %v", c.name, s.rules())
		}
	}
}

func TestOwnPaceOfHeating(t *testing.T) {
	for _, c := range []struct {
		rise float64
		want int
	}{{0, 0}, {3, 1}, {8, 0}} {
		s := newSim(t, "Europe/London", ferment.Kit, "white")
		s.h.RiseC = c.rise
		s.play(pitchedFriday + "09-12 12:00 working\n09-13 08:00 temp 22\n09-13 18:00 temp 25.5\n")
		if got := len(s.atOnce); got != c.want {
			t.Errorf("limit %v: %v", c.rise, s.rules())
		}
	}
}

func TestOwnPaceOfFast(t *testing.T) {
	for _, c := range []struct {
		points float64
		want   int
	}{{0, 0}, {15, 1}, {40, 0}} {
		s := newSim(t, "Europe/London", ferment.Kit, "white")
		s.h.FastPoints = c.points
		s.play(pitchedFriday + "09-12 12:00 working\n09-13 12:00 sg 1.070\n09-14 12:00 sg 1.050\n")
		if got := len(s.atOnce); got != c.want {
			t.Errorf("limit %v: %v", c.points, s.rules())
		}
	}
}

func TestOwnStirringHours(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Country, "damson")
	s.h.StirAt = []int{8 * 60}
	s.play(pitchedFriday + "09-12 09:00 stirred\n09-13 12:00 .")
	s.wantLines("R06", "09-12 08:00 R06\n09-13 08:00 R06")

	// Every eight hours from half past seven; the one of 23:30 is in the quiet hours.
	s = newSim(t, "Europe/London", ferment.Country, "damson")
	s.play(pitchedFriday + "09-11 19:00 every R06 8\n09-12 08:00 answers R06 Done\n09-13 00:00 .")
	s.wantLines("R06", "09-12 07:30 R06\n09-12 15:30 R06")
}

func TestQuietHoursAndBundleOfTheHouse(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.QuietFrom, s.h.QuietTo, s.h.Bundle = 17*60, 19*60, 20*60
	s.play(pitchedFriday + "09-19 00:00 .")
	s.wantLines("R03", "09-12 19:00 R03")
	s.wantLines("R09", "09-18 20:00 R09")
}

// An interval of nothing is a wish too: racked the same day, not the next morning.
func TestIntervalOfNothing(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.play(pitchedFriday + "09-12 12:00 working\n09-12 12:01 every R10 0\n09-16 12:00 sg 1.010\n09-16 20:00 .")
	s.wantLines("R10", "09-16 18:30 R10")
}

func TestLitresInOnePlace(t *testing.T) {
	for _, c := range []struct {
		litres float64
		want   int
	}{{9.9, 0}, {10, 1}} {
		s := newSim(t, "Europe/London", ferment.Country, "pear")
		s.h.PlaceL = map[string]float64{"": c.litres}
		s.play("09-11 17:00 new\n09-11 17:01 volume 4.5\n09-11 18:00 pitched\n09-12 09:10 working")
		if got := len(s.atOnce); got != c.want {
			t.Errorf("%v L at work there: %v", c.litres, s.rules())
		}
	}
}

func TestMinorsReadAlong(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Country, "pear")
	s.h.Minors = true
	s.play(bottledPear + "2029-01-01 00:00 .")
	s.wantLines("R39", "")
	s.wantLines("R40", "")
}

func TestHeatReported(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.HeatAt, s.h.HeatRoot = s.parse("09-12 13:00"), 77
	s.play(workingKit + "09-13 07:40 answers R13 All cool\n09-15 00:00 .")
	s.wantLines("R13", "09-12 19:30 R13\n09-13 07:30 R13\n09-13 19:30 R13\n09-14 07:30 R13")

	s = newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.HeatAt, s.h.HeatRoot = s.parse("09-12 13:00"), 77
	s.play(workingKit + "09-12 20:00 answers R13 All cool\n09-13 07:40 answers R13 All cool\n09-15 00:00 .")
	s.wantLines("R13", "09-12 19:30 R13\n09-13 07:30 R13")
}

func TestHolidayIsAskedAtOnce(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.play(workingKit)
	s.h.Away = []Away{{Root: 900, Typed: s.clock, From: s.parse("09-20 00:00"), To: s.parse("09-26 00:00")}}
	items := AtOnceHouse([]*ferment.State{s.state()}, s.h, nil, s.clock)
	if len(items) != 1 || items[0].Rule != "R42" || items[0].Args["list"] != s.state().Name {
		t.Errorf("the answer to a holiday carries %v", items)
	}
	s.h.Away[0].Minder = "Jo"
	if items := AtOnceHouse([]*ferment.State{s.state()}, s.h, nil, s.clock); len(items) != 0 {
		t.Errorf("with a minder it carries %v", items)
	}
	if _, ok := NextDueHouse([]*ferment.State{s.state()}, House{NoRoundUp: true}, nil, s.clock); ok {
		t.Error("a house with nothing to come has a next instant")
	}
	if due := DueHouse([]*ferment.State{s.state()}, House{}, nil, time.Date(2026, 9, 20, 18, 30, 0, 0, time.UTC)); len(due) != 1 || due[0].Rule != WeeklyID {
		t.Errorf("on Sunday evening: %v", due)
	}
}

// All jars stand in one line; one that was looked at within ten days is left out.
func TestAirlocksInOne(t *testing.T) {
	at := func(d int) time.Time { return time.Date(2026, 9, d, 12, 0, 0, 0, time.UTC) }
	jar := func(n int, name string, racked time.Time) *ferment.State {
		return &ferment.State{N: n, Name: name, Stage: ferment.Stabilised, Racked: []time.Time{racked}}
	}
	states := []*ferment.State{jar(1, "damson", at(1)), jar(2, "quince", at(3)), jar(3, "elder", at(9)),
		{N: 4, Name: "pear", Stage: ferment.Primary}}
	items := DueHouse(states, House{NoRoundUp: true}, nil, at(15).Add(7*hour))
	if len(items) != 1 || items[0].Args["list"] != "damson, quince" {
		t.Fatalf("on the 15th: %v", items)
	}
	said := []Said{{Key: items[0].Key, MadeAt: at(15)}}
	if next, _ := NextDueHouse(states, House{NoRoundUp: true}, said, at(16)); !next.Equal(time.Date(2026, 9, 29, 18, 30, 0, 0, time.UTC)) {
		t.Errorf("asked on the 15th, again at %v, want two weeks on", next)
	}
	said = append(said, Said{Key: Key{Rule: "R28", Subject: Subject{Kind: BookKind}, Occurrence: 1}, MadeAt: at(29)})
	if _, ok := NextDueHouse(states, House{NoRoundUp: true}, said, at(30)); ok {
		t.Error("asked twice in silence, and a third time to come")
	}
}
