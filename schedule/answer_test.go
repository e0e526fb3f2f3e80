package schedule

import (
	"testing"
	"time"
)

// 12 September 2026 is a Saturday.
func TestSnoozeUntil(t *testing.T) {
	loc := mustZone(t, "Europe/London")
	h := House{Zone: loc}
	friday := time.Date(2026, 9, 11, 18, 40, 0, 0, loc)
	saturday := time.Date(2026, 9, 12, 18, 40, 0, 0, loc)
	for _, c := range []struct {
		rule, label string
		now, want   time.Time
	}{
		{"R01", "Later 6 h", friday, friday.Add(6 * time.Hour)},
		{"R10", "Remind Sat", friday, time.Date(2026, 9, 12, 9, 0, 0, 0, loc)},
		{"R10", "Remind Sat", saturday, time.Date(2026, 9, 19, 9, 0, 0, 0, loc)},
		{"R17", "Tomorrow", friday, time.Date(2026, 9, 12, 9, 0, 0, 0, loc)},
		{"R50", "Tomorrow", friday, time.Date(2026, 9, 12, 18, 40, 0, 0, loc)},
		{"R26", "Remind in 3 wk", friday, time.Date(2026, 10, 2, 9, 0, 0, 0, loc)},
	} {
		r, _ := RuleOf(c.rule)
		e := Answer(c.rule, c.label)
		if !e.Off() {
			t.Errorf("%s [%s] puts nothing off", c.rule, c.label)
		}
		if got := e.Snooze.Until(h, r.Weight, c.now); !got.Equal(c.want) {
			t.Errorf("%s [%s] at %v: %v, want %v", c.rule, c.label, c.now, got, c.want)
		}
	}
}

func TestAnswerOfAnUnknownButton(t *testing.T) {
	if got := Answer("R03", "Maybe"); got != (Effect{}) {
		t.Errorf("an unknown button does %+v", got)
	}
}

func TestBundle(t *testing.T) {
	items := func(rules ...string) (out []Item) {
		for _, r := range rules {
			out = append(out, Item{Key: Key{Rule: r}, Bundle: true})
		}
		return out
	}
	shown, more := Bundle(items("R39", "R28", "R19", "R10", "R15"))
	if len(shown) != 5 || more != 0 || shown[0].Rule != "R15" || shown[4].Rule != "R39" {
		t.Errorf("five: %v and %d more", shown, more)
	}
	shown, more = Bundle(items("R39", "R28", "R19", "R10", "R15", "R17"))
	if len(shown) != 4 || more != 2 || shown[0].Rule != "R15" {
		t.Errorf("six: %d shown and %d more", len(shown), more)
	}
	alone, together := Split(append(items("R10"), Item{Key: Key{Rule: "R03"}}))
	if len(alone) != 1 || len(together) != 1 || alone[0].Rule != "R03" {
		t.Errorf("split into %v and %v", alone, together)
	}
}
