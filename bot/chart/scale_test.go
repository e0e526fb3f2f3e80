package chart

import (
	"slices"
	"testing"
	"time"
)

func texts(ts []tick) []string {
	var out []string
	for _, t := range ts {
		out = append(out, t.text)
	}
	return out
}

// The gravity axis reads 1.000, 1.010, never 1.1, 1.1, 1.
func TestGravities(t *testing.T) {
	for _, c := range []struct {
		s    span
		want []string
	}{
		{span{0.990, 1.032}, []string{"0.990", "0.995", "1.000", "1.005", "1.010", "1.015", "1.020", "1.025", "1.030"}},
		{span{0.990, 1.074}, []string{"0.990", "1.000", "1.010", "1.020", "1.030", "1.040", "1.050", "1.060", "1.070"}},
		{span{0.990, 1.123}, []string{"1.000", "1.020", "1.040", "1.060", "1.080", "1.100", "1.120"}},
		{span{0.989, 1.005}, []string{"0.990", "0.992", "0.994", "0.996", "0.998", "1.000", "1.002", "1.004"}},
	} {
		if got := texts(gravities(c.s)); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v", c.s, got)
		}
	}
	for high := 0.991; high < 1.6; high += 0.0037 {
		if n := len(gravities(span{0.99, high})); n < 1 || n > 12 {
			t.Errorf("up to %.3f: %d figures", high, n)
		}
	}
}

// Dates stand at midnights of the zone. In London the clock went back on
// 25 October 2026 (the last Sunday of October), so that day has 25 hours.
func TestDates(t *testing.T) {
	london, err := time.LoadLocation("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	from := time.Date(2026, 10, 23, 0, 0, 0, 0, london)
	ts := dates(span{0, 4.5}, from)
	if got, want := texts(ts), []string{"23 Oct", "24 Oct", "25 Oct", "26 Oct", "27 Oct"}; !slices.Equal(got, want) {
		t.Errorf("dates %v", got)
	}
	if got, want := ts[3].at, 3+1.0/24; got < want-1e-9 || got > want+1e-9 {
		t.Errorf("26 Oct stands at day %v", got)
	}
	for _, long := range []float64{10, 40, 200, 900, 36500} {
		if n := len(dates(span{0, long}, from)); n < 2 || n > 9 {
			t.Errorf("%v days: %d dates", long, n)
		}
		if n := len(days(span{-1, long})); n < 2 || n > 11 {
			t.Errorf("%v days: %d figures", long, n)
		}
	}
}

// What was done long after the last reading does not press the curve together.
func TestLateDoings(t *testing.T) {
	p, err := plan([]Series{{damson(), nil}}, Look{}) // readings for 21 days, bottled on day 200
	if err != nil {
		t.Fatal(err)
	}
	if p.x.high > 33 {
		t.Errorf("axis reaches to day %.0f", p.x.high)
	}
	f := newFrame(p)
	if len(f.late) != 1 || f.late[0].word != "bottled" {
		t.Errorf("later: %v", f.late)
	}
}

func TestThresholds(t *testing.T) {
	for _, c := range []struct {
		rack float64
		want []string
	}{
		{1.012, []string{"1.000", "rack at 1.012"}}, {0.996, []string{"rack at 0.996", "1.000"}},
		{1, []string{"rack at 1.000"}}, {0, []string{"1.000"}},
	} {
		s := young()
		s.Plan.RackAt = c.rack
		p, err := plan([]Series{{s, nil}}, Look{})
		if err != nil {
			t.Fatal(err)
		}
		if got := texts(p.thresholds()); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v", c.rack, got)
		}
	}
}
