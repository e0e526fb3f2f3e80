package store

import (
	"strconv"
	"time"
)

// InRow is one raw update, on disk before it is acknowledged. Seq is the order of
// arrival and ours; the platform's numbers may begin anew.
type InRow struct {
	Seq, UpdateID, OriginChat, MessageID int64
	Raw                                  []byte
	Key                                  string // what makes it the same update when it comes again
	ReceivedAt                           time.Time
	State                                string
	Attempts                             int // tries begun, counted before each
}

const inColumns = "seq, update_id, origin_chat, message_id, raw, key, received, state, attempts"

func scanIn(s scanner) (r InRow, err error) {
	err = s.Scan(&r.Seq, &r.UpdateID, &r.OriginChat, &r.MessageID, &r.Raw, &r.Key, at(&r.ReceivedAt), &r.State, &r.Attempts)
	return r, err
}

const metaOffset = "offset"

// PutInbox keeps a poll's updates and the offset that acknowledges them; those
// whose key is there already are passed over. The next poll may carry the offset
// only after the commit: a crash before it makes the platform send them again, a
// crash after it finds them here.
func (tx *Tx) PutInbox(rows []InRow, offset int64) error {
	_, err := tx.putInbox(rows, offset, "INSERT OR IGNORE"+intoInbox)
	return err
}

// BoardInbox is PutInbox that gives the rows as they stand in the inbox then: they need
// not be read again. ErrTwice where a key is there already, and all is to be undone.
func (tx *Tx) BoardInbox(rows []InRow, offset int64) ([]InRow, error) {
	return tx.putInbox(rows, offset, "INSERT"+intoInbox)
}

const intoInbox = " INTO inbox (seq, update_id, origin_chat, message_id, raw, key, received) VALUES (?,?,?,?,?,?,?)"

func (tx *Tx) putInbox(rows []InRow, offset int64, insert string) ([]InRow, error) {
	out := make([]InRow, len(rows))
	for i, r := range rows {
		var err error
		if r.Seq, err = tx.nextID("inbox"); err != nil {
			return nil, err
		}
		if err := tx.exec(insert, r.Seq, r.UpdateID, r.OriginChat, r.MessageID, blob(r.Raw), r.Key, toText(r.ReceivedAt)); err != nil {
			return nil, err
		}
		tx.gave("inbox", r.Seq)
		r.State, r.ReceivedAt = "new", asRead(r.ReceivedAt)
		out[i] = r
	}
	return out, tx.SetMeta(metaOffset, strconv.FormatInt(offset, 10))
}

// Offset is the next update to ask for; 0 where none was seen.
func (tx *Tx) Offset() int64 {
	v, _ := tx.Meta(metaOffset)
	n, _ := strconv.ParseInt(v, 10, 64)
	return n
}

// NextInbox returns at most limit updates that wait, in order of arrival.
func (tx *Tx) NextInbox(limit int) ([]InRow, error) {
	return all(tx, scanIn, "SELECT "+inColumns+" FROM inbox WHERE state = 'new' ORDER BY seq LIMIT ?", limit)
}

// PendingInbox counts what waits.
func (tx *Tx) PendingInbox() (int64, error) {
	return one(tx, scanInt, "SELECT COUNT(*) FROM inbox WHERE state = 'new'")
}

// BumpAttempts counts a try of each, to be committed before the work: what kills
// the program must not be tried for ever.
func (tx *Tx) BumpAttempts(seqs []int64) error {
	return tx.exec("UPDATE inbox SET attempts = attempts + 1 WHERE seq IN "+ofList, list(seqs))
}

// FinishInbox ends updates. Their text is emptied, and with secure_delete
// overwritten, unless it is the book's: said again later without keep, it is
// emptied then.
func (tx *Tx) FinishInbox(keep bool, seqs ...int64) error {
	if keep {
		return tx.exec("UPDATE inbox SET state = 'kept' WHERE seq IN "+ofList, list(seqs))
	}
	return tx.exec("UPDATE inbox SET state = 'done', raw = x'' WHERE seq IN "+ofList, list(seqs))
}

// DropInbox forgets an update whole, its key too: what strangers say leaves no
// trace. Should it come again it is a stranger's again.
func (tx *Tx) DropInbox(seq int64) error {
	return tx.exec("DELETE FROM inbox WHERE seq = ?", seq)
}

// ParkInbox puts an update aside that failed again and again. Its text stays for
// whoever looks into the fault; why must not repeat it.
func (tx *Tx) ParkInbox(seq int64, why string) error {
	return tx.exec("UPDATE inbox SET state = 'parked', why = ? WHERE seq = ?", why, seq)
}

// PruneInbox forgets the keys of emptied updates received before a time. Until then
// a key keeps the same update from being read twice.
func (tx *Tx) PruneInbox(before time.Time) error {
	return tx.exec("DELETE FROM inbox WHERE state = 'done' AND received < ?", toText(before))
}
