package bot

import (
	"strings"

	"mustbook/bot/say"
	"mustbook/schedule"
	"mustbook/store"
)

// typedAnswer takes a message that says nothing else for the button of a reminder that
// still waits: "fine", "not yet". Where two wait that have such a button, it is neither:
// the wrong batch would be told.
func (t *turn) typedAnswer() (bool, error) {
	all, err := t.b.allSaid(t.tx, t.bk, t.in.At)
	if err != nil {
		return false, err
	}
	want := strings.Trim(strings.TrimSpace(t.in.Text), ".!")
	var found store.SaidRow
	label := ""
	for _, r := range all {
		if !r.AnsweredAt.IsZero() || r.Muted || t.in.At.Sub(r.MadeAt) > 7*day {
			continue
		}
		l, ok := say.ButtonOf(r.Rule, want)
		if !ok {
			continue
		}
		if label != "" && (r.Kind != found.Kind || r.N != found.N) {
			return false, nil
		}
		if label == "" || r.MadeAt.After(found.MadeAt) {
			found, label = r, l
		}
	}
	if label == "" {
		return false, nil
	}
	a := action{Do: doSaid, Key: found.Rule, Text: label, Value: float64(found.ID), Action: found.Kind, Roots: []int64{found.N}}
	if found.Kind == schedule.BatchKind {
		a.Batch = int(found.N)
	}
	return true, t.answered(a)
}
