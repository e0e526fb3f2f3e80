package schedule

import (
	"strings"
	"testing"
	"time"

	"mustbook/ferment"

	"github.com/google/go-cmp/cmp"
)

// wantLines compares what was sent under a rule, in the zone of the sim.
func (s *sim) wantLines(rule, want string) {
	s.t.Helper()
	lines := []string{}
	if want != "" {
		lines = strings.Split(want, "\n")
	}
	if d := cmp.Diff(lines, s.lines(rule)); d != "" {
		s.t.Errorf("%s (-want +got):\n%s", rule, d)
	}
}

const workingKit = pitchedFriday + "09-12 09:00 working\n09-12 09:00 sg 1.080\n"

func TestOwnReminders(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	made := s.parse("09-12 12:00")
	s.h.Own = []Own{
		{Root: 901, Batch: 1, What: "rack", Deed: ferment.DeedRacked, At: s.parse("09-19 12:00"), DayOnly: true, Made: made},
		{Root: 902, Batch: 1, What: "buy corks", At: s.parse("09-20 14:15"), Made: made},
		{Root: 903, What: "sharpen the shears", At: s.parse("09-20 23:00"), Made: made},
	}
	s.play(workingKit + "09-19 09:00 .\n09-20 15:00 answers R50 Done\n09-21 12:00 .")
	s.wantLines("R50", "09-19 10:00 R50\n09-20 10:00 R50 again\n09-20 14:15 R50\n09-21 07:30 R50")

	s = newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.Own = []Own{{Root: 901, Batch: 1, What: "rack", Deed: ferment.DeedRacked, At: s.parse("09-19 12:00"), DayOnly: true, Made: made}}
	s.play(workingKit + "09-18 09:00 racked\n09-21 12:00 .")
	s.wantLines("R50", "")
}

func TestHoliday(t *testing.T) {
	away := func(s *sim) Away {
		return Away{Root: 900, Typed: s.parse("09-12 10:00"), From: s.parse("09-16 00:00"), To: s.parse("09-26 00:00")}
	}
	t.Run("asked twice, then welcomed", func(t *testing.T) {
		s := newSim(t, "Europe/London", ferment.Kit, "white")
		s.h.Away = []Away{away(s)}
		s.play(workingKit + "09-12 10:01 .\n09-28 00:00 .")
		s.wantLines("R42", "09-12 18:30 R42\n09-14 18:30 R42")
		s.wantLines("R43", "09-26 18:30 R43")
	})
	t.Run("minder set", func(t *testing.T) {
		s := newSim(t, "Europe/London", ferment.Kit, "white")
		a := away(s)
		a.Minder = "Jo"
		s.h.Away = []Away{a}
		s.play(workingKit + "09-15 23:00 .")
		s.wantLines("R42", "")
		if got := Minder("", s.h, s.parse("09-20 12:00")); got != "Jo" {
			t.Errorf("minded by %q while away", got)
		}
		if got := Minder("Tom", s.h, s.parse("09-26 12:00")); got != "Tom" {
			t.Errorf("minded by %q after", got)
		}
	})
	t.Run("a pause holds all but the urgent and the bottles", func(t *testing.T) {
		s := newSim(t, "Europe/London", ferment.Country, "pear")
		s.h.Away = []Away{{Root: 900, From: s.parse("10-21 00:00"), To: s.parse("11-10 00:00"), Pause: true}}
		s.play(bottledPear + "11-12 00:00 .")
		s.wantLines("R37", "11-03 13:00 R37")
		s.wantLines("R38", "11-10 18:30 R38")
	})
	t.Run("read since", func(t *testing.T) {
		s := newSim(t, "Europe/London", ferment.Kit, "white")
		s.h.Away = []Away{away(s)}
		s.play(workingKit + "09-26 12:00 sg 1.020\n09-28 00:00 .")
		s.wantLines("R43", "")
	})
}

func TestYearInstrumentTub(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.YearLimitL, s.h.YearMadeL = 100, 80
	s.h.Instruments = []Instrument{{N: 3, Root: 31, FirstUse: s.parse("09-11 17:30")}}
	s.h.Tubs = []Tub{{N: 5, Root: 51, What: "sulphite", Opened: s.parse("2025-09-14 12:00")}}
	s.play(workingKit + "09-16 12:00 .")
	s.wantLines("R46", "09-11 18:30 R46")
	s.wantLines("R47", "09-11 18:30 R47")
	s.wantLines("R48", "09-14 18:30 R48")

	s = newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.YearLimitL, s.h.YearMadeL = 100, 79
	s.h.Instruments = []Instrument{{N: 3, Root: 31, FirstUse: s.parse("09-11 17:30"), Checked: s.parse("09-11 17:35")}}
	s.play(workingKit + "09-16 12:00 .")
	s.wantLines("R46", "")
	s.wantLines("R47", "")
}

// The round-up comes on Sundays; 13 September 2026 is one, and the batch is a day
// old by then: there is nothing to tell of it yet.
func TestWeeklyRoundUp(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.NoRoundUp = false
	s.play(workingKit + "09-28 00:00 .")
	s.wantLines(WeeklyID, "09-20 18:30 weekly\n09-27 18:30 weekly")
}

func TestMuted(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.Muted = map[string]bool{"R09": true}
	s.play(workingKit + "09-30 00:00 .")
	s.wantLines("R09", "")
	if !muted(map[string]bool{"R08": true}, "R08a") || muted(map[string]bool{"R08": true}, "R09") {
		t.Error("R08 stands for both its rows and no other")
	}
}

// The house's word beats the default; what a batch says beats the house.
func TestIntervalsByPrecedence(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.Intervals = map[string]time.Duration{"R09": 6 * day}
	s.play(workingKit + "09-18 00:00 .")
	s.wantLines("R09", "09-17 18:30 R09")

	s = newSim(t, "Europe/London", ferment.Kit, "white")
	s.h.Intervals = map[string]time.Duration{"R09": 6 * day}
	s.play(workingKit + "09-13 09:00 every R09 120\n09-17 00:00 .")
	s.wantLines("R09", "09-16 18:30 R09")
}

func TestForecastMovesTheCheck(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.play(workingKit)
	for _, c := range []struct{ median, want string }{
		{"09-13 09:00", "09-14 18:30"}, // not before day three
		{"09-16 14:00", "09-16 18:30"},
		{"09-30 14:00", "09-21 18:30"}, // not after day ten
	} {
		fc := &Forecast{RackMedian: s.parse(c.median)}
		for _, it := range Plan(s.state(), fc, s.h, nil, s.clock) {
			if it.Rule == "R09" && !it.Due.Equal(s.parse(c.want)) {
				t.Errorf("median %s: due %v, want %s", c.median, it.Due, c.want)
			}
		}
	}
}

func TestForecastAlarm(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.play(workingKit + "09-18 12:00 sg 1.032\n09-20 12:00 sg 1.030")
	for _, c := range []struct {
		now, before float64
		then        string
		want        bool
	}{{0.6, 0.6, "", true}, {0.6, 0.5, "", false}, {0.5, 0.6, "", false},
		{0.6, 0.6, "09-24 12:00 sg 1.027", true},  // three points in four days: it hardly moves
		{0.6, 0.6, "09-26 12:00 sg 1.023", false}, // two a day are slow at worst
	} {
		s.play(c.then)
		got := false
		for _, it := range AtOnce(s.state(), &Forecast{PProblem: c.now, PBefore: c.before}, s.h, nil, s.clock) {
			got = got || it.Rule == "R15"
		}
		if got != c.want {
			t.Errorf("probability %v after %v: stuck said %v, want %v", c.now, c.before, got, c.want)
		}
	}
}
