package schedule

import (
	"testing"
	"time"

	"mustbook/ferment"

	"pgregory.net/rapid"
)

// The program was off: what still matters is said once, marked, in one message;
// the rest is dropped.
func TestDowntime(t *testing.T) {
	for _, c := range []struct {
		name, script string
		want         []string
		messages     int
	}{
		{"an hour", pitchedFriday + "09-12 17:30 off\n09-12 18:30 on\n09-12 19:00 .", []string{"09-12 07:30 R06", "09-12 18:30 R03 late", "09-12 18:30 R08a late"}, 2},
		// Off from Saturday noon to Sunday noon: the start check still matters, the
		// stirring of Saturday evening and Sunday morning does not.
		{"a day", pitchedFriday + "09-12 12:00 off\n09-13 12:00 on\n09-13 12:30 .", []string{"09-12 07:30 R06", "09-13 12:00 R03 late", "09-13 12:00 R08a late"}, 2},
		// Back at night: it waits for the morning.
		{"back at night", pitchedFriday + "09-12 12:00 off\n09-13 02:00 on\n09-13 07:31 .", []string{"09-12 07:30 R06", "09-13 07:30 R03 late", "09-13 07:30 R06", "09-13 07:30 R08a late"}, 3},
		// A month: of all that fell due the newest of each that the book does not
		// show done, in one message.
		{"a month", pitchedFriday + "09-12 09:00 working\n09-12 09:30 stirred\n09-12 12:00 off\n10-12 12:00 on\n10-12 12:30 .",
			[]string{"09-12 07:30 R06", "10-12 12:00 R11 late", "10-12 12:00 R09 late", "10-12 12:00 R07 late", "10-12 12:00 R41 late"}, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newSim(t, "Europe/London", ferment.Country, "damson")
			s.play(c.script)
			got := s.lines("")
			if len(got) != len(c.want) {
				t.Fatalf("said %v, want %v", got, c.want)
			}
			for i := range got {
				if got[i] != c.want[i] {
					t.Errorf("said %v, want %v", got, c.want)
				}
			}
			if s.messages() != c.messages {
				t.Errorf("%d messages, want %d", s.messages(), c.messages)
			}
			for _, it := range s.sent {
				if it.Late && (it.Was.IsZero() || it.Args["was"] == "") {
					t.Errorf("%s is late and does not say since when", it.Rule)
				}
			}
		})
	}
}

// firstWeek is how many messages a household is to hear at most, unasked, in the
// first week of a fruit wine on the pulp.
const firstWeek = 12

func TestFirstWeekOfACountryWine(t *testing.T) {
	for _, c := range []struct{ name, script string }{
		{"silent", pitchedFriday + "09-18 17:59 ."},
		{"answers all", pitchedFriday + `
09-12 08:00 answers R06 Done
09-12 18:10 working
09-12 20:00 answers R06 Done
09-13 08:00 answers R06 Done
09-13 19:00 sg 1.070
09-13 20:00 answers R06 Done
09-14 08:00 answers R06 Done
09-14 20:00 stirred
09-15 19:00 sg 1.050
09-15 20:00 stirred
09-16 20:00 stirred
09-17 19:00 sg 1.025
09-17 20:00 stirred
09-18 17:59 .`},
		{"slow start", pitchedFriday + `
09-12 08:00 answers R06 Done
09-12 18:10 answers R03 Not yet
09-12 20:00 answers R06 Done
09-13 08:00 answers R06 Done
09-13 18:10 answers R04 Still nothing
09-13 20:00 answers R06 Done
09-14 08:00 answers R06 Done
09-14 19:00 working
09-15 19:00 sg 1.078
09-15 20:00 stirred
09-16 19:00 temp 27
09-17 19:00 sg 1.060
09-18 17:59 .`},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newSim(t, "Europe/London", ferment.Country, "damson")
			s.h.NoRoundUp = false
			s.play(c.script)
			if n := s.messages(); n > firstWeek {
				t.Errorf("%d messages in the first week, at most %d: %v", n, firstWeek, s.lines(""))
			}
		})
	}
}

// However the household behaves in that week, it hears no more.
func TestFirstWeekWhateverHappens(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := newSim(t, "Europe/London", ferment.Country, "damson")
		s.h.NoRoundUp = false
		s.play("09-11 12:00 new\n09-11 12:05 sg 1.090")
		s.run(s.clock.Add(minutes(rapid.IntRange(0, 10000).Draw(rt, "wait"))))
		s.do("pitched")
		end := s.clock.Add(week)
		sg := 1.090
		for {
			next := s.clock.Add(minutes(rapid.IntRange(10, 1500).Draw(rt, "gap")))
			if next.After(end) {
				break
			}
			s.run(next)
			switch rapid.IntRange(0, 7).Draw(rt, "doing") {
			case 0:
				s.do("working")
			case 1, 2:
				s.do("stirred")
			case 3:
				sg -= float64(rapid.IntRange(0, 20).Draw(rt, "fall")) / 1000
				s.do("sg " + argOf(max(sg, 0.995)))
			case 4:
				s.do("temp " + argOf(rapid.Float64Range(15, 29).Draw(rt, "temp")))
			case 5:
				if s.saidRule("R06") {
					s.answer("R06", "Done")
				}
			case 6:
				if s.saidRule("R03") {
					s.answer("R03", "Not yet")
				}
			case 7:
				s.do("add nutrient")
			}
			s.answerAtOnce()
		}
		s.run(end)
		if n := s.messages(); n > firstWeek {
			rt.Fatalf("%d messages in the first week: %v", n, s.lines(""))
		}
	})
}

func (s *sim) saidRule(rule string) bool {
	for _, r := range s.said {
		if r.Rule == rule {
			return true
		}
	}
	return false
}

func minutes(n int) time.Duration { return time.Duration(n) * time.Minute }
