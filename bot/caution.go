package bot

import (
	"strconv"

	"mustbook/ferment"
	"mustbook/store"
)

// cautionKind sets what was said by the way apart from the reminders of a batch.
const cautionKind = "caution"

// caution adds what must be said at this moment, once a batch. That it was said stands
// in the book, not in memory; a message that is edited says it again in its own answer.
func (t *turn) caution(s *ferment.State, es []ferment.Entry) ([]string, error) {
	for _, e := range es {
		c, ok := t.bk.style.CautionOf(s, e, t.in.Text)
		if !ok {
			continue
		}
		if c.Key == "" {
			return c.Lines, nil
		}
		fresh, err := t.firstTime(s.N, c.Key)
		if err != nil || fresh {
			return c.Lines, err
		}
	}
	return nil, nil
}

// firstTime notes that something was said of a batch; false where another message had
// it said before.
func (t *turn) firstTime(batch int, key string) (bool, error) {
	own := strconv.FormatInt(t.msg.ID, 10)
	_, dup, err := t.tx.AddSaid(store.SaidRow{Book: t.bk.id, Kind: cautionKind, N: int64(batch), Rule: key, MadeAt: t.in.At, Due: t.in.At, Answer: own})
	if err != nil || !dup {
		return err == nil, err
	}
	rows, err := t.tx.Said(t.bk.id, cautionKind, int64(batch))
	for _, r := range rows {
		if r.Rule == key && r.Answer == own {
			return true, nil
		}
	}
	return false, err
}
