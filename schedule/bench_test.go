package schedule

import (
	"fmt"
	"testing"

	"mustbook/ferment"
)

// BenchmarkPlan plans a batch of 100 readings with a year of what was said.
func BenchmarkPlan(b *testing.B) {
	s := newSim(b, "Europe/London", ferment.Country, "damson")
	script := pitchedFriday + "09-12 12:00 working\n"
	for i := range 100 {
		script += fmt.Sprintf("09-%02d %02d:00 sg 1.0%02d\n", 13+i/10, 8+i%10, 80-i/2)
	}
	s.play(script + bottledPear[len(pitchedFriday)+len("\n09-12 17:00 working\n09-17 12:00 strained"):])
	st := s.state()
	b.ReportAllocs()
	for b.Loop() {
		if items := Plan(st, nil, s.h, s.said, s.clock); len(items) == 0 {
			b.Fatal("nothing is planned")
		}
	}
}
