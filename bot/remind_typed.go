package bot

import (
	"slices"
	"strings"
	"time"

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
	var beside []int64 // what went as one message with it
	label := ""
	for i, r := range all {
		l, ok := say.ButtonOf(r.Rule, want)
		if short, all := strings.CutPrefix(strings.ToLower(want), "all "); !ok && all {
			l, ok = say.ButtonOf(r.Rule, short) // "all fine"
		}
		if !ok || !r.AnsweredAt.IsZero() || r.Muted || overtaken(all[i+1:], r, t.in.At) {
			continue
		}
		switch {
		case label == "":
			found, label = r, l
		case r.Rule == found.Rule && r.MadeAt.Equal(found.MadeAt) && schedule.Gathers(r.Rule):
			beside = append(beside, r.ID)
		case r.Kind != found.Kind || r.N != found.N || len(beside) > 0:
			return false, nil
		case r.MadeAt.After(found.MadeAt):
			found, label = r, l
		}
	}
	if label == "" {
		return false, nil
	}
	if len(beside) > 0 {
		return true, t.answeredAll(action{Key: found.Rule, Text: label, Roots: append(beside, found.ID)})
	}
	return true, t.answered(saidAction(found, label))
}

// overtaken reports a reminder that nobody answers any more: of a week ago, past its time,
// or told again since.
func overtaken(since []store.SaidRow, r store.SaidRow, now time.Time) bool {
	age := now.Sub(r.MadeAt)
	if rule, ok := schedule.RuleOf(r.Rule); ok && rule.Keep > 0 && age > rule.Keep || age > 7*day {
		return true
	}
	return slices.ContainsFunc(since, func(x store.SaidRow) bool { return x.Rule == r.Rule && x.Kind == r.Kind && x.N == r.N })
}
