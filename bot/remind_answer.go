package bot

import (
	"strings"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// answered does what the button of a reminder means: it settles it for all.
func (t *turn) answered(a action) error {
	row, ok, err := t.saidBy(a)
	if err != nil || !ok {
		return err
	}
	if settled(row) {
		return t.reply(reply{Lines: say.Settled(row.Answer), Batch: a.Batch, Plain: true})
	}
	t.tapped = true
	e := schedule.Answer(a.Key, a.Text)
	row.Answer = a.Text
	if e.Off() {
		rule, _ := schedule.RuleOf(a.Key)
		return t.putOff([]store.SaidRow{row}, e.Snooze.Until(t.bk.scheduleHouse(t.in.At), rule.Weight, t.in.At))
	}
	row.AnsweredAt = t.in.At
	if err := t.tx.UpdateSaid(row); err != nil {
		return err
	}
	if done, err := t.answeredForHouse(row, a, e); done || err != nil {
		return err
	}
	if s := t.bk.batch(a.Batch); s != nil && e.Deed != "" && doneSince(s, e, row.MadeAt) {
		return t.reply(reply{Lines: say.AlreadyThere(), Batch: a.Batch, Plain: true})
	}
	return t.effect(a, e)
}

// settled reports that a reminder had its answer: one that only asked for a figure leaves
// the others open.
func settled(row store.SaidRow) bool {
	return !row.AnsweredAt.IsZero() && !schedule.Answer(row.Rule, row.Answer).Asks()
}

// saidBy is the reminder that a button stands under. One of an older message, from
// before its subject was kept with it, speaks of a batch or the book.
func (t *turn) saidBy(a action) (store.SaidRow, bool, error) {
	kind, n := a.Action, int64(a.Batch)
	switch {
	case kind != "" && len(a.Roots) > 0:
		n = a.Roots[0]
	case a.Batch == 0:
		kind = schedule.BookKind
	default:
		kind = schedule.BatchKind
	}
	rows, err := t.tx.Said(t.bk.id, kind, n)
	for _, r := range rows {
		if r.ID == int64(a.Value) {
			return r, true, nil
		}
	}
	return store.SaidRow{}, false, err
}

// answeredForHouse does what a button of a reminder of the house means, of an own
// reminder, or one that switches off. The others speak of a batch.
func (t *turn) answeredForHouse(row store.SaidRow, a action, e schedule.Effect) (bool, error) {
	switch {
	case e.Mute && a.Key == ownRule:
		return true, t.reply(reply{Lines: []string{"Dropped"}, Batch: a.Batch})
	case e.Mute:
		return true, t.switchOff(a.Key, a.Batch)
	case a.Key == ownRule && a.Text == "Done":
		return t.ownDone(row, a)
	case a.Key == handoverRule && (e.Key != "" || e == schedule.Effect{}):
		return true, t.mindAway(row.Anchor, a.Text, e.Key != "")
	case a.Key == "R47" && e.Deed != "":
		if err := t.ownMessage(); err != nil {
			return true, err
		}
		_, err := t.set(0, ferment.Entry{Quantity: ferment.QEvent, Deed: e.Deed, Instrument: t.instrumentName(row.N)})
		if err != nil {
			return true, err
		}
		return true, t.reply(reply{Lines: t.bk.style.WaterRead(), Buttons: t.undoButton()})
	case a.Key == "R48" && e.Key != "":
		for what, n := range tubSubjects {
			if n == row.N {
				if _, err := t.set(0, ferment.Entry{Key: ferment.SetTub, Material: what}); err != nil {
					return true, err
				}
				return true, t.reply(reply{Lines: t.bk.style.TubOpened(what, t.in.At), Buttons: t.undoButton()})
			}
		}
	case a.Key == "R28" && e.Deed != "":
		return true, t.lookedAtAll(e.Deed)
	}
	return false, nil
}

// lookedAtAll logs a look at every jar under an airlock.
func (t *turn) lookedAtAll(deed string) error {
	var es []parse.Entry
	for _, s := range t.bk.open() {
		if len(s.Racked) > 0 && s.Bottled.IsZero() {
			es = append(es, parse.Entry{Quantity: string(ferment.QEvent), Deed: deed, Batch: s.Name, BatchN: s.N})
		}
	}
	if len(es) == 0 {
		return t.reply(reply{Lines: []string{"Airlocks: fine"}})
	}
	if err := t.ownMessage(); err != nil {
		return err
	}
	return t.keep(parse.Intent{Kind: parse.Event, Event: deed, Entries: es})
}

// ownDone logs the deed that an own reminder speaks of, where it names one.
func (t *turn) ownDone(row store.SaidRow, a action) (bool, error) {
	e, err := t.tx.Entry(t.bk.id, row.Anchor)
	if err != nil || e.Material == "" || t.bk.batch(a.Batch) == nil {
		return true, t.reply(reply{Lines: []string{"Done"}, Batch: a.Batch, Plain: true})
	}
	if e.Material == ferment.DeedBottled {
		return true, t.reply(reply{Lines: t.bk.style.TypeThis("bottles"), Batch: a.Batch})
	}
	return true, t.recordDeed(action{Batch: a.Batch, Key: e.Material})
}

// instrumentName is the name that a number was made of.
func (t *turn) instrumentName(n int64) string {
	nameOf := ferment.InstrumentOf(t.bk.settled)
	for _, r := range t.bk.readings() {
		if name := nameOf(r.Entry); instrumentNumber(name) == n {
			return name
		}
	}
	return ""
}

// effect does what a button means for its batch.
func (t *turn) effect(a action, e schedule.Effect) error {
	s := t.bk.batch(a.Batch)
	switch {
	case e.Undo:
		return t.undo("")
	case e.Deed == ferment.DeedAddition && s != nil:
		if err := t.ownMessage(); err != nil {
			return err
		}
		return t.keep(parse.Intent{Kind: parse.Event, Event: e.Deed, Batch: s.N, Entries: []parse.Entry{deedOf(s, e)}})
	case e.Deed != "" && s != nil:
		if e.Flag != "" {
			if _, err := t.set(a.Batch, ferment.Entry{Key: ferment.SetFlag, Material: e.Flag, Text: "on"}); err != nil {
				return err
			}
		}
		t.earlier = true
		return t.recordDeed(action{Batch: a.Batch, Key: e.Deed})
	case e.Key != "":
		return t.setFlag(action{Batch: a.Batch, Key: e.Key, Text: e.Value})
	case e.Flag != "":
		if _, err := t.set(a.Batch, ferment.Entry{Key: ferment.SetFlag, Material: e.Flag, Text: "on"}); err != nil {
			return err
		}
		return t.reply(reply{Lines: say.FlagSet(t.nameOf(a.Batch), e.Flag, ""), Batch: a.Batch, Buttons: t.undoButton()})
	case e.Show != "":
		return t.show(a, e.Show)
	case e.Ask != "":
		return t.reply(reply{Lines: t.bk.style.TypeThis(e.Ask), Batch: a.Batch})
	}
	if a.Batch == 0 {
		return t.reply(reply{Lines: say.Each(a.Text, "noted"), Plain: true})
	}
	return t.reply(reply{Lines: []string{say.Title(t.nameOf(a.Batch)) + ": " + strings.ToLower(a.Text)}, Batch: a.Batch, Plain: true})
}

// show answers a button that asks to be told something.
func (t *turn) show(a action, what string) error {
	r := reply{Batch: a.Batch, Whole: true}
	switch what {
	case "steps":
		r.Lines = t.bk.style.Fault(t.bk.batch(a.Batch), "no_start")
	case "film":
		r.Lines = t.bk.style.Fault(t.bk.batch(a.Batch), "film")
	case "danger":
		r.Lines = t.bk.style.Fault(t.bk.batch(a.Batch), "fizz")
	case "refuse":
		r.Lines = t.bk.style.WorkingAgain(t.nameOf(a.Batch))
	case "list":
		if a.Key == "R46" {
			r.Lines = t.yearList()
			break
		}
		r.Lines = t.bk.style.List(t.bk.batches)
	default:
		return t.question(parse.Intent{Topic: parse.TopicIsStuck, Batch: a.Batch})
	}
	return t.reply(r)
}

// yearList lists what was made this year.
func (t *turn) yearList() []string {
	var names []string
	var litres []float64
	sum := 0.0
	for _, m := range t.bk.madeIn(t.in.At) {
		names, litres, sum = append(names, m.s.Name), append(litres, m.litres), sum+m.litres
	}
	return t.bk.style.YearList(names, litres, sum)
}
