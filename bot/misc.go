package bot

import (
	"fmt"

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
