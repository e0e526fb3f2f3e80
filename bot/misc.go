package bot

import (
	"fmt"
	"strings"

	"mustbook/bot/say"
	"mustbook/ferment"
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
