package bot

import (
	"fmt"
	"strings"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// pressTyped presses a button whose label was typed.
func (t *turn) pressTyped(btn store.Button) error {
	in := t.in
	in.Kind, in.Button, in.Callback = Pressed, btn.Key, fmt.Sprintf("typed%d", t.msg.ID)
	if err := t.tx.DropMessage(t.msg.ID); err != nil {
		return err
	}
	return t.b.pressed(t.ctx, t.tx, in)
}

// split divides a batch into two that share its past.
func (t *turn) split(s *ferment.State) error {
	var made []string
	half := s.VolumeL / 2
	for _, suffix := range []string{"a", "b"} {
		n, err := t.tx.NewBatch(t.bk.id, t.in.Now)
		if err != nil {
			return err
		}
		base := ferment.Entry{Message: t.msg.ID, Batch: n, At: t.in.At, Author: t.in.Member.ID, AuthorName: t.in.Member.Name, TypedAt: t.in.At}
		parent, name, volume := base, base, base
		parent.Quantity, parent.Other, parent.Key, parent.Ordinal = ferment.QParent, s.N, ferment.DeedSplit, 10*n
		name.Quantity, name.Text, name.Ordinal = ferment.QName, s.Name+" "+suffix, 10*n+1
		volume.Quantity, volume.Value, volume.Has, volume.Unit, volume.Ordinal = ferment.QVolume, half, half > 0, "L", 10*n+2
		volume.Deed = ferment.DeedSplit
		if _, err := t.tx.AddEntries(t.bk.id, []ferment.Entry{parent, name, volume}); err != nil {
			return err
		}
		made = append(made, s.Name+" "+suffix)
	}
	if _, err := t.set(s.N, ferment.Entry{Quantity: ferment.QEvent, Deed: ferment.DeedEmpty, Text: "split"}); err != nil {
		return err
	}
	lines := []string{say.Title(s.Name) + " is split: " + strings.Join(made, ", ")}
	if half > 0 {
		lines = append(lines, t.bk.style.Volume(half)+" each; type the volumes if they differ")
	}
	return t.reply(reply{Lines: append(lines, "Readings from now on: say a or b"), Whole: true, Buttons: t.undoButton()})
}

// answered does what the button of a reminder means: it settles it for all.
func (t *turn) answered(a action) error {
	kind, n := schedule.BatchKind, int64(a.Batch)
	if a.Batch == 0 {
		kind, n = schedule.BookKind, 0
	}
	rows, err := t.tx.Said(t.bk.id, kind, n)
	if err != nil {
		return err
	}
	e := schedule.Answer(a.Key, a.Text)
	for _, r := range rows {
		if r.ID != int64(a.Value) {
			continue
		}
		if !r.AnsweredAt.IsZero() {
			return nil // settled by somebody already
		}
		if e.Off() {
			rule, _ := schedule.RuleOf(a.Key)
			r.SnoozedTo = e.Snooze.Until(t.bk.scheduleHouse(t.in.At), rule.Weight, t.in.At)
		} else {
			r.AnsweredAt = t.in.At
		}
		r.Answer, r.Muted = a.Text, e.Mute
		if err := t.tx.UpdateSaid(r); err != nil {
			return err
		}
	}
	return t.effect(a, e)
}

func (t *turn) effect(a action, e schedule.Effect) error {
	s := t.bk.batch(a.Batch)
	switch {
	case e.Undo:
		return t.undo()
	case e.Deed == ferment.DeedAddition && s != nil:
		if err := t.ownMessage(); err != nil {
			return err
		}
		return t.keep(parse.Intent{Kind: parse.Event, Event: e.Deed, Batch: s.N, Entries: []parse.Entry{{Quantity: string(ferment.QAddition),
			Deed: e.Deed, Material: e.Material, Batch: s.Name, BatchN: s.N}}})
	case e.Deed != "" && s != nil:
		return t.recordDeed(action{Batch: a.Batch, Key: e.Deed})
	case e.Key != "":
		return t.setFlag(action{Batch: a.Batch, Key: e.Key, Text: e.Value})
	case e.Flag != "":
		if _, err := t.set(a.Batch, ferment.Entry{Key: ferment.SetFlag, Material: e.Flag, Text: "on"}); err != nil {
			return err
		}
		return t.reply(reply{Lines: say.FlagSet(t.nameOf(a.Batch), e.Flag, ""), Batch: a.Batch})
	case e.Show == "steps" || e.Show == "stuck":
		return t.question(parse.Intent{Topic: parse.TopicIsStuck, Batch: a.Batch})
	case e.Ask != "":
		return t.reply(reply{Lines: say.TypeThis(e.Ask), Batch: a.Batch})
	}
	return t.reply(reply{Lines: []string{say.Title(t.nameOf(a.Batch)) + ": " + strings.ToLower(a.Text)}, Batch: a.Batch, Plain: true})
}
