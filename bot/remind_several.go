package bot

import (
	"slices"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// answeredAll does what a button means that stands for several reminders of one message:
// for each of them that still waits. What was answered or done meanwhile stays as it is.
func (t *turn) answeredAll(a action) error {
	all, err := t.b.allSaid(t.tx, t.bk, t.in.At)
	if err != nil {
		return err
	}
	var rows []store.SaidRow
	last := a.Text
	for _, r := range all {
		switch {
		case !slices.Contains(a.Roots, r.ID):
		case settled(r):
			last = r.Answer
		default:
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return t.reply(reply{Lines: say.Settled(last), Plain: true})
	}
	for len(rows) > 1 && a.Key == ownRule { // one wish, told twice
		more := rows[len(rows)-1]
		if more.AnsweredAt, more.Answer = t.in.At, a.Text; schedule.Answer(a.Key, a.Text).Off() {
			break
		}
		if err := t.tx.UpdateSaid(more); err != nil {
			return err
		}
		rows = rows[:len(rows)-1]
	}
	if len(rows) == 1 {
		return t.answered(saidAction(rows[0], a.Text))
	}
	return t.answerEach(rows, a.Text)
}

// saidAction is what a button under one reminder does.
func saidAction(r store.SaidRow, label string) action {
	return action{Do: doSaid, Batch: batchOfSaid(r), Key: r.Rule, Text: label, Value: float64(r.ID), Action: r.Kind, Roots: []int64{r.N}}
}

// answerEach does what a button of a rule means for several batches, and says it once.
func (t *turn) answerEach(rows []store.SaidRow, label string) error {
	t.tapped = true
	rule, e := rows[0].Rule, schedule.Answer(rows[0].Rule, label)
	if e.Off() {
		of, _ := schedule.RuleOf(rule)
		return t.putOff(rows, e.Snooze.Until(t.bk.scheduleHouse(t.in.At), of.Weight, t.in.At))
	}
	var es []parse.Entry
	var names []string
	for _, r := range rows {
		r.AnsweredAt, r.Answer = t.in.At, label
		if err := t.tx.UpdateSaid(r); err != nil {
			return err
		}
		s := t.bk.batch(batchOfSaid(r))
		if s == nil {
			continue
		}
		names = append(names, say.ShortName(s.Name))
		switch {
		case e.Mute:
			if _, err := t.set(s.N, ferment.Entry{Key: ferment.SetMute, Material: rule, Text: "on"}); err != nil {
				return err
			}
		case e.Flag != "" && e.Deed == "":
			if _, err := t.set(s.N, ferment.Entry{Key: ferment.SetFlag, Material: e.Flag, Text: "on"}); err != nil {
				return err
			}
		case e.Deed != "" && !doneSince(s, e, r.MadeAt):
			es = append(es, deedOf(s, e))
		}
	}
	who := say.Both(names)
	switch {
	case e.Deed != "" && len(es) == 0:
		return t.reply(reply{Lines: say.AlreadyThere()})
	case e.Deed != "":
		if err := t.ownMessage(); err != nil {
			return err
		}
		t.earlier = e.Material == ""
		return t.keep(parse.Intent{Kind: parse.Event, Event: e.Deed, Entries: es})
	case e.Mute:
		return t.reply(reply{Lines: say.MutedEach(rule, who), Buttons: t.undoButton()})
	case e.Flag != "":
		return t.reply(reply{Lines: say.Each(who, e.Flag), Buttons: t.undoButton()})
	case e.Ask != "":
		return t.reply(reply{Lines: t.bk.style.TypeNamed(e.Ask, names[0])})
	}
	return t.reply(reply{Lines: say.Each(who, label), Plain: true})
}

// deedOf is the entry that a button logs.
func deedOf(s *ferment.State, e schedule.Effect) parse.Entry {
	p := parse.Entry{Quantity: string(ferment.QEvent), Deed: e.Deed, Material: e.Material, Batch: s.Name, BatchN: s.N}
	if e.Material != "" {
		p.Quantity = string(ferment.QAddition)
	}
	return p
}

// doneSince reports that what a button logs is in the book already, done after the
// reminder came: somebody typed it. A note says something else each time.
func doneSince(s *ferment.State, e schedule.Effect, since time.Time) bool {
	if e.Material != "" {
		return slices.ContainsFunc(s.Additions, func(a ferment.Addition) bool {
			return ferment.ClassOf(a.Material) == ferment.ClassOf(e.Material) && !a.At.Before(since)
		})
	}
	d, ok := s.Did(e.Deed)
	return ok && e.Deed != ferment.DeedNote && !d.At.Before(since)
}
