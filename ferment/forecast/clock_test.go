package forecast

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestPace: thermal days per day as printed with the method, whose slope is that of
// Coleman, Fish and Block (2007), about 6-fold from 11 to 35 °C in their abstract.
func TestPace(t *testing.T) {
	for c, want := range map[float64]float64{12: 0.54, 14: 0.63, 16: 0.73, 18: 0.86, 20: 1, 22: 1.17, 24: 1.36, 26: 1.59, 28: 1.86, 30: 2.17} {
		if got := pace(c); math.Abs(got-want) > 0.005 {
			t.Errorf("pace at %v °C: %.3f, want %.2f", c, got, want)
		}
	}
	if pace(40) != pace(32) || pace(2) != pace(8) || pace(31.9) == pace(32) || pace(8.1) == pace(8) {
		t.Error("the pace is not held outside 8 to 32 °C alone")
	}
}

func TestClock(t *testing.T) {
	forty := 40.0
	cases := []struct {
		name  string
		in    Input
		from  float64
		day   float64
		theta float64 // by hand, from the paces printed above
	}{
		{"nothing known is 20 °C", Input{}, 0, 5, 5},
		{"steady", Input{Temps: []Temperature{{2, 12, Must}}}, 0, 10, 5.4},
		{"straight between", Input{Temps: []Temperature{{0, 20, Must}, {4, 30, Must}}}, 0, 4, 4 * (1 + 2.17) / 2},
		{"held after", Input{Temps: []Temperature{{0, 20, Must}, {4, 30, Must}}}, 0, 6, 4*(1+2.17)/2 + 2*2.17},
		{"held before", Input{Temps: []Temperature{{4, 30, Must}}}, 0, 4, 4 * 2.17},
		{"a cold must before the pitch does not count", Input{Temps: []Temperature{{-3, 12, Must}, {0, 20, Must}}}, 0, 4, 4},
		{"the must beats the sample", Input{Temps: []Temperature{{0, 20, Must}, {2, 12, Sample}}}, 0, 4, 4},
		{"not one of last week", Input{Temps: []Temperature{{0, 20, Must}, {0.1, 30, Room}, {8, 12, Unlabelled}}}, 0, 12, 8*(1+0.54)/2 + 4*0.54},
		{"a room is 2 °C short in primary", Input{Temps: []Temperature{{0, 18, Room}}}, 0, 3, 3},
		{"and right after it", Input{Racked: 1, Temps: []Temperature{{2, 20, Room}}}, 0, 3, 3},
		{"a plan holds from the newest reading", Input{Temps: []Temperature{{0, 20, Must}, {9, 12, Must}}, Planned: &forty}, 0, 2, 2 * pace(32)},
		{"a cap is no must", Input{Temps: []Temperature{{0, 35, "cap"}}}, 0, 3, 3},
		{"nor is nonsense", Input{Temps: []Temperature{{0, math.NaN(), Must}, {math.Inf(1), 20, Must}, {0, 200, Must}}}, 0, 3, 3},
	}
	for _, c := range cases {
		clk := newClock(c.in, c.from)
		if got := clk.at(c.day); math.Abs(got-c.theta) > 0.005*c.day {
			t.Errorf("%s: day %v is thermal day %.3f, want %.3f", c.name, c.day, got, c.theta)
		}
	}
	if !newClock(Input{}, 0).blind || newClock(Input{Temps: []Temperature{{0, 20, Sample}}}, 0).blind {
		t.Error("blind without a temperature, and only then")
	}
}

// TestClockTurnsBack: day to thermal day and back is the same day, and later is later.
func TestClockTurnsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var in Input
		for range rapid.IntRange(0, 6).Draw(t, "n") {
			in.Temps = append(in.Temps, Temperature{rapid.Float64Range(-2, 20).Draw(t, "day"), rapid.Float64Range(5, 35).Draw(t, "c"), Must})
		}
		if rapid.Bool().Draw(t, "planned") {
			c := rapid.Float64Range(5, 35).Draw(t, "plan")
			in.Planned = &c
		}
		clk := newClock(in, rapid.Float64Range(0, 20).Draw(t, "from"))
		day := rapid.Float64Range(0, 60).Draw(t, "at")
		theta := clk.at(day)
		if back := clk.back(theta); math.Abs(back-day) > 1e-6 {
			t.Fatalf("day %v is thermal day %v is day %v", day, theta, back)
		}
		if clk.at(day+0.5) <= theta {
			t.Fatalf("the clock stands at day %v", day)
		}
		if math.Abs(clk.at(0)) > 1e-9 {
			t.Fatalf("the pitch is at %v", clk.at(0))
		}
	})
}
