package schedule

import "time"

// A household is to hear at most a dozen messages in a batch's first week that it
// did not ask for. What can wait gives way to what cannot: stirring first, then
// readings of how it goes and repeats. What is left for the rest of the week is
// the straining, the check of day seven, the round-up.
const (
	stirBudget = 8
	readBudget = 9
)

// overBudget reports that the batch's first week had its share of messages by an
// instant. What went in one message counts once; what was part of an answer does
// not count.
func (v *view) overBudget(share int, when time.Time) bool {
	if v.st == nil || v.st.Pitched.IsZero() || when.Sub(v.st.Pitched) >= week {
		return false
	}
	end := v.st.Pitched.Add(week)
	type message struct {
		at     int64
		ofADay bool
	}
	messages := map[message]bool{}
	for _, s := range v.said {
		r := ruleOf(s.Rule)
		if !s.MadeAt.Before(v.st.Pitched) && s.MadeAt.Before(end) && !r.AtOnce {
			messages[message{s.MadeAt.Unix(), r.Weight == Normal}] = true
		}
	}
	return len(messages) >= share
}

// thrifty puts a reading or a repeat off to the end of the first week, where the
// week had its share.
func (v *view) thrifty(due time.Time) time.Time {
	if v.overBudget(readBudget, due) {
		return later(due, addDays(v.st.Pitched, 7, v.loc))
	}
	return due
}
