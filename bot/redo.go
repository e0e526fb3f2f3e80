package bot

import (
	"encoding/json"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// redo brings back what the newest undo took that is still out.
func (t *turn) redo() error {
	outs, err := t.tx.RecentOut(t.in.Chat.ID, 40)
	if err != nil {
		return err
	}
	for _, o := range outs {
		for _, b := range o.Buttons {
			var a action
			if b.Label != say.PutBack || json.Unmarshal(b.Action, &a) != nil {
				continue
			}
			if out, err := t.isOut(a); err != nil {
				return err
			} else if out {
				return t.pressTyped(b)
			}
		}
	}
	return t.reply(reply{Lines: say.NothingToRedo()})
}

// isOut reports that what an undo took is still out of the book.
func (t *turn) isOut(a action) (bool, error) {
	for _, root := range a.Roots {
		was, now, err := t.asOf(root, a.Message)
		if err != nil {
			return false, err
		}
		if now == nil || was != nil && now.ID != was.ID && now.Message != a.Message {
			return true, nil
		}
	}
	return false, nil
}

// asOf is the row of an entry as a message left it, nil where the message is not known or
// only undid it, and the row that counts now, nil where it was taken back.
func (t *turn) asOf(root, message int64) (was, now *ferment.Entry, err error) {
	chain, err := t.tx.Chain(t.bk.id, root)
	if err != nil {
		return nil, nil, err
	}
	for i := range chain {
		row := &chain[i]
		now = nil
		if !row.Void {
			now = &row.Entry
			if message != 0 && row.Message == message {
				was = &row.Entry
			}
		}
	}
	return was, now, nil
}

// bringBack undoes an undo: what was taken back stands again, and what was set back to an
// earlier value has the later one again.
func (t *turn) bringBack(a action, out int64) error {
	if again, err := t.putInAgain(a.Roots); err != nil {
		return err
	} else if again {
		return t.reply(reply{Lines: say.AlreadyThere()})
	}
	for _, root := range a.Roots {
		was, now, err := t.asOf(root, a.Message)
		if err != nil {
			return err
		}
		if now != nil && was != nil && now.ID != was.ID && now.Message != a.Message {
			if _, err := t.tx.AddEntries(t.bk.id, []ferment.Entry{*was}); err != nil {
				return err
			}
		}
	}
	if err := t.tx.ReviveRoots(t.bk.id, a.Roots); err != nil {
		return err
	}
	bk, err := t.b.load(t.tx, t.bk.id, t.in.At, 0)
	if err != nil {
		return err
	}
	t.bk, t.edits = bk, out
	var es, all []ferment.Entry
	for _, root := range a.Roots {
		e, err := t.tx.Entry(t.bk.id, root)
		if err != nil {
			continue
		}
		if all = append(all, e); e.Batch == all[0].Batch {
			es = append(es, e)
		}
	}
	if len(es) == 0 {
		return t.reply(reply{Lines: say.Gone()})
	}
	t.msg.ID = es[0].Message
	if m, err := t.tx.Message(t.bk.id, es[0].Message); err == nil && m.Kind == importKind {
		return t.reply(reply{Lines: say.FileAgain(len(a.Roots)), Buttons: t.undoButton(), Whole: true})
	}
	if of := t.doneToEach(all); len(of) > 1 {
		return t.eachReceipt(of)
	}
	if _, reading := lastGravity(es); !reading {
		es = es[:1]
	}
	return t.receipt(parse.Intent{Kind: parse.Correction, Action: "redo"}, es, nil)
}

// putInAgain reports that what an undo took was told again after it: brought back too, one
// dose would be two.
func (t *turn) putInAgain(roots []int64) (bool, error) {
	for _, root := range roots {
		chain, err := t.tx.Chain(t.bk.id, root)
		if err != nil {
			return false, err
		}
		if len(chain) == 0 || !chain[len(chain)-1].Void {
			continue
		}
		gone := chain[len(chain)-1]
		if gone.Quantity == ferment.QSetting || gone.Quantity == ferment.QTemp {
			continue
		}
		for _, e := range t.bk.entries[gone.Batch] {
			same := e.Quantity == gone.Quantity && e.Deed == gone.Deed && e.Material == gone.Material && e.Typed == gone.Typed && e.Unit == gone.Unit && e.Text == gone.Text
			if same && !e.TypedAt.Before(gone.TypedAt) {
				return true, nil
			}
		}
	}
	return false, nil
}
