package bot

import (
	"encoding/json"
	"slices"
	"strings"

	"mustbook/bot/parse"
	"mustbook/ferment"
	"mustbook/store"
)

// understand is what a message means around it. A reply to a message that told several
// batches is meant for all of which it asked that: "stirred" under "damson and plum: push
// the fruit under". What is measured is never both: it is asked which.
func (t *turn) understand(pc parse.Context) (parse.Intent, error) {
	text := parse.Spoken(t.in.Text, pc.BotName)
	rows, err := t.repliedRows()
	if err != nil {
		return parse.Intent{}, err
	}
	var of []int
	var got []parse.Intent
	for _, row := range rows {
		if n := batchOfSaid(row); n != 0 && !slices.Contains(of, n) {
			c := pc
			c.ReplyN = n
			of, got = append(of, n), append(got, parse.Message(text, c))
		}
	}
	if len(of) < 2 || !slices.ContainsFunc(got[1:], func(g parse.Intent) bool { return !sameBatches(g, got[0]) }) {
		return parse.Message(text, pc), nil // of one batch, or it names one
	}
	sum := got[0]
	sum.Entries = nil
	for i, n := range of {
		if asked(rows, n, got[i]) {
			sum.Entries = append(sum.Entries, got[i].Entries...)
		}
	}
	if len(sum.Entries) == 0 {
		pc.Active, pc.ReplyTo = 0, "?" // it speaks of one of them, and does not say which
		return parse.Message(text, pc), nil
	}
	return sum, nil
}

// asked reports that a reminder asked for just the deed of a message, which gives no amount.
func asked(rows []store.SaidRow, n int, got parse.Intent) bool {
	if got.Kind != parse.Event || got.Ask != "" || len(got.Entries) == 0 {
		return false
	}
	for _, e := range got.Entries {
		ok := slices.ContainsFunc(rows, func(r store.SaidRow) bool { return batchOfSaid(r) == n && wants(r.Rule, e) })
		if !ok || e.Value != nil || e.BatchN != n {
			return false
		}
	}
	return true
}

// wants reports that a reminder asks for what an entry tells.
func wants(rule string, e parse.Entry) bool {
	return slices.ContainsFunc(asksFor[rule], func(what string) bool {
		if m, ok := strings.CutPrefix(what, "addition "); ok {
			return e.Quantity == string(ferment.QAddition) && ferment.ClassOf(m) == ferment.ClassOf(e.Material)
		}
		return what == e.Deed
	})
}

// sameBatches reports that a message was taken to speak of the same batches.
func sameBatches(a, b parse.Intent) bool {
	return a.Batch == b.Batch && slices.EqualFunc(a.Entries, b.Entries, func(x, y parse.Entry) bool { return x.BatchN == y.BatchN })
}

// repliedRows are the reminders of the message that is replied to, where it told several.
func (t *turn) repliedRows() ([]store.SaidRow, error) {
	if t.repliedSaid() == 0 {
		return nil, nil
	}
	out, err := t.tx.OutByPlatform(t.in.Chat.ID, t.in.ReplyTo)
	if err != nil {
		return nil, nil // repliedSaid has just read it
	}
	var ids []int64
	for _, b := range out.Buttons {
		var a action
		if json.Unmarshal(b.Action, &a) == nil && (a.Do == doSaidAll || a.Do == doSnooze) {
			ids = append(ids, a.Roots...)
		}
	}
	if ids == nil {
		return nil, nil
	}
	all, err := t.b.allSaid(t.tx, t.bk, t.in.At)
	return slices.DeleteFunc(all, func(r store.SaidRow) bool { return !slices.Contains(ids, r.ID) }), err
}
