package schedule

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"
	"time"
)

// reminder is a row of the table that the household was promised.
type reminder struct{ id, nudge, buttons, weight string }

func mustReminders(t *testing.T) []reminder {
	t.Helper()
	f, err := os.Open("testdata/reminders.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []reminder
	for _, x := range rows[1:] {
		out = append(out, reminder{x[0], x[1], x[2], x[3]})
	}
	return out
}

func TestTableIsWhole(t *testing.T) {
	rows := mustReminders(t)
	if len(rows) != 54 {
		t.Fatalf("%d rows, want 54", len(rows))
	}
	ids := map[string]bool{}
	for _, f := range append(append([]finder{}, batchRules...), houseRules...) {
		ids[f.id] = true
	}
	for i, row := range rows {
		r, ok := RuleOf(row.id)
		if !ok || !ids[row.id] {
			t.Errorf("%s (%s) is missing", row.id, row.nudge)
			continue
		}
		if string(r.Weight) != row.weight {
			t.Errorf("%s weighs %s, want %s", row.id, r.Weight, row.weight)
		}
		if Rules()[i].ID != row.id {
			t.Errorf("row %d is %s, want %s", i, Rules()[i].ID, row.id)
		}
	}
	if _, ok := RuleOf("R99"); ok {
		t.Error("R99 is a rule")
	}
}

// Each button of the table does something, or only settles the reminder; those are
// named here.
func TestEveryButtonHasItsMeaning(t *testing.T) {
	settle := map[string]bool{"Looks fine": true, "Skip": true, "Not racking": true, "Cooling it": true, "Room, not must": true,
		"All cool": true, "Meant to be slow": true, "Not yet": true, "No gas left": true, "Still hazy": true, "No test kit": true,
		"Smaller jar": true, "Still fizzing": true, "All good": true, "Hazy": true, "Fine": true, "Keep": true, "Noted": true,
		"Understood": true, "No lees": true, "Done": true}
	for _, row := range mustReminders(t) {
		for label := range strings.SplitSeq(row.buttons, " · ") {
			if label == "Jo" {
				continue // a member's name
			}
			e := Answer(row.id, label)
			if label == "Done" && row.id != "R50" {
				if e.Deed == "" {
					t.Errorf("%s [Done] logs nothing", row.id)
				}
				continue
			}
			if (e == Effect{}) != settle[label] {
				t.Errorf("%s [%s]: %+v", row.id, label, e)
			}
		}
	}
}

// Ranges as the table of reminders gives them.
func TestRanges(t *testing.T) {
	for _, c := range []struct {
		rule  string
		hours int
		want  bool
	}{
		{"R01", 11, false}, {"R01", 12, true}, {"R01", 36, true}, {"R01", 37, false},
		{"R09", 5 * 24, true}, {"R09", 11 * 24, false}, {"R28", 30 * 24, true}, {"R28", 6 * 24, false},
		{"R12a", 24, false}, // a temperature, not a time
	} {
		r, _ := RuleOf(c.rule)
		if got := r.Settable(time.Duration(c.hours) * hour); got != c.want {
			t.Errorf("%s to %d h: %v, want %v", c.rule, c.hours, got, c.want)
		}
	}
}
