package schedule

import (
	"testing"
	"time"

	"mustbook/ferment"
)

func find(items []Item, rule string) (Item, bool) {
	for _, it := range items {
		if it.Rule == rule {
			return it, true
		}
	}
	return Item{}, false
}

// What was said and not answered stays in "what next"; what is to come stands with
// its time, the soonest first.
func TestPlanShowsOpenAndComing(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Kit, "white")
	s.play(pitchedFriday + "09-12 18:30 .")
	items := Plan(s.state(), nil, s.h, s.said, s.clock)
	if it, ok := find(items, "R03"); !ok || !it.Open || !it.Due.Equal(s.parse("09-12 18:00")) {
		t.Errorf("R03, said half an hour ago: %+v", it)
	}
	if it, ok := find(items, "R04"); !ok || it.Open || !it.Due.Equal(s.parse("09-13 18:00")) {
		t.Errorf("R04, to come: %+v", it)
	}
	for i := 1; i < len(items); i++ {
		if items[i].Due.Before(items[i-1].Due) {
			t.Errorf("%s at %v stands after %s at %v", items[i].Rule, items[i].Due, items[i-1].Rule, items[i-1].Due)
		}
	}
	s.play("09-12 19:10 working")
	if it, ok := find(Plan(s.state(), nil, s.h, s.said, s.clock), "R03"); ok {
		t.Errorf("it works, and still %+v", it)
	}
}

// The worked example of the household's pages: pitched on Friday at 18:00, working
// on Saturday morning, and the pitch then moved to Thursday 21:00.
func TestWorkedExample(t *testing.T) {
	s := newSim(t, "Europe/London", ferment.Country, "damson")
	s.play("09-11 17:00 new\n09-11 17:00 volume 14\n09-11 17:30 sg 1.085\n09-11 18:00 pitched")
	due := func(rule, want string) {
		t.Helper()
		it, ok := find(Plan(s.state(), nil, s.h, s.said, s.clock), rule)
		if want == "" {
			if ok && !it.Open {
				t.Errorf("%s is planned for %v", rule, it.Due)
			}
			return
		}
		if !ok || !it.Due.Equal(s.parse(want)) {
			t.Errorf("%s is planned for %v, want %s", rule, it.Due.In(s.loc), want)
		}
	}
	due("R03", "09-12 18:00")
	due("R06", "09-12 07:30")
	due("R09", "09-18 18:30")
	s.play("09-12 09:10 working")
	due("R03", "")
	if len(s.atOnce) != 1 || s.atOnce[0].Rule != "R45" {
		t.Errorf("the answer carries %v, want R45", s.atOnce)
	}
	said := len(s.sent)
	s.play("09-12 20:00 moves pitched to 09-10 21:00\n09-12 20:30 .")
	if n := len(s.sent) - said; n != 2 || s.sent[said].Rule != "R08a" || s.sent[said+1].Rule != "R06" {
		t.Errorf("from 09:10 to 20:30: %v, want the nutrient of 18:00 and the stirring of 19:30 and nothing anew", s.lines("")[said:])
	}
	due("R09", "09-17 18:30")
}

func TestEmptyAndDeletedBatchesHaveNoPlan(t *testing.T) {
	for _, st := range []*ferment.State{nil, {Stage: ferment.Empty}, {Stage: ferment.Primary, Deleted: time.Unix(1, 0)}} {
		if items := Plan(st, nil, House{}, nil, time.Unix(2, 0)); items != nil {
			t.Errorf("%+v has %v", st, items)
		}
		if _, ok := NextDue(st, nil, House{}, nil, time.Unix(2, 0)); ok {
			t.Error("and a next instant")
		}
	}
}

// A late bottle look is marked, and urgent ones at night wait or not, as the house
// allows.
func TestUrgentAtNight(t *testing.T) {
	st := &ferment.State{N: 1, Stage: ferment.Primary, Temps: []ferment.Temperature{
		{At: time.Date(2026, 9, 12, 2, 0, 0, 0, time.UTC), C: 33, From: "must", Root: 7}}}
	now := time.Date(2026, 9, 12, 2, 5, 0, 0, time.UTC)
	if it, ok := find(Due(st, nil, House{}, nil, now), "R12a"); ok {
		t.Errorf("at night, not allowed: %+v", it)
	}
	if _, ok := find(Due(st, nil, House{UrgentBreaksQuiet: true}, nil, now), "R12a"); !ok {
		t.Error("at night, allowed: nothing")
	}
	if _, ok := find(AtOnce(st, nil, House{}, nil, now), "R12a"); !ok {
		t.Error("as part of an answer it comes at any hour")
	}
}
