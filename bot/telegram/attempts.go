package telegram

import (
	"context"
	"errors"
	"fmt"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

// How often a row is tried. A failure that the program saw (a panic, an error)
// counts toward few; a run that died in the middle of a row may have been killed
// from outside, and counts toward many: a storm of restarts must not cost a good
// message, and a bad one costs a minute of them.
const (
	maxFails   = 3
	maxCrashes = 25
)

// careful looks after rows that were in the inbox when the program started: one
// of them may be what ended it. Their attempt is committed before the work; one
// that was tried before goes alone, so that it takes nothing down with it.
func (b *tg) careful(ctx context.Context, rows []store.InRow) ([]store.InRow, error) {
	if !b.old(rows[0]) {
		return rows, nil
	}
	n := 0
	for n < len(rows) && b.old(rows[n]) && rows[n].Attempts == 0 {
		n++
	}
	if n == 0 {
		n = 1
	}
	rows = rows[:n]
	if rows[0].Attempts >= maxCrashes {
		err := b.park(ctx, &job{row: rows[0]}, errors.New("the program ended at it again and again"))
		return nil, err
	}
	err := b.cfg.DB.Update(ctx, func(tx *store.Tx) error {
		seqs := make([]int64, len(rows))
		for i, r := range rows {
			seqs[i] = r.Seq
		}
		return tx.BumpAttempts(seqs)
	})
	passed("after attempts commit")
	return rows, err
}

// old is a row that was in the inbox before this run.
func (b *tg) old(r store.InRow) bool { return r.ReceivedAt.Before(b.started) }

// sick is an error of the database as a whole: no message's fault.
func sick(err error) bool {
	for _, e := range []error{store.ErrFull, store.ErrDisk, store.ErrLocked, store.ErrReadOnly, store.ErrDamaged} {
		if errors.Is(err, e) {
			return true
		}
	}
	return false
}

// again counts a failure of a row and parks the row after three. The error says
// that the next round should not hurry.
func (b *tg) again(ctx context.Context, j *job, cause error) error {
	b.fails[j.row.Seq]++
	n := b.fails[j.row.Seq]
	b.cfg.Log.Error("a message failed", "inbox", j.row.Seq, "try", n, "error", b.redact(cause))
	if n < maxFails {
		return cause
	}
	if err := b.park(ctx, j, cause); err != nil {
		return err
	}
	delete(b.fails, j.row.Seq)
	return nil
}

// park sets a row aside, keeps what was sent, and says sorry in its chat. What a
// stranger sent is not kept.
func (b *tg) park(ctx context.Context, j *job, cause error) error {
	now := b.cfg.Now()
	err := b.cfg.DB.Update(ctx, func(tx *store.Tx) error {
		chat, err := tx.ChatByPlatform(platform, j.row.OriginChat)
		if ignoreMissing(err) != nil {
			return err
		}
		if err != nil || !chat.Admitted {
			return tx.DropInbox(j.row.Seq)
		}
		if err := tx.ParkInbox(j.row.Seq, b.redact(cause).Error()); err != nil {
			return err
		}
		_, _, err = tx.Enqueue(store.Out{
			Book: chat.Book, Chat: chat.ID, Source: fmt.Sprintf("parked:%d", j.row.Seq), Kind: "reply",
			Text: say.Parked(), ReplyTo: j.row.MessageID, Created: now,
		})
		return err
	})
	if err != nil {
		return fmt.Errorf("park: %w", err)
	}
	nudge(b.cfg.Wake)
	return nil
}

// ignoreMissing passes over what is simply not in the book.
func ignoreMissing(err error) error {
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	return err
}

// inflow is how fast a chat writes, by the platform's clock.
type inflow struct {
	level float64
	last  time.Time
	told  time.Time
}

// A chat may write this many messages at once, and one more every two seconds.
// A phone that comes up from the cellar sends what waited in one go.
const (
	burst  = 60
	refill = 0.5 // messages a second
)

// floods says whether a chat writes faster than people do, and whether that is to
// be said now.
func (b *tg) floods(chat int64, at time.Time) (flood, tell bool) {
	f := b.flood[chat]
	if f == nil {
		if len(b.flood) > 10_000 {
			clear(b.flood)
		}
		f = &inflow{last: at}
		b.flood[chat] = f
	}
	if at.After(f.last) {
		f.level = max(0, f.level-refill*at.Sub(f.last).Seconds())
		f.last = at
	}
	if f.level >= burst {
		tell = at.Sub(f.told) >= time.Minute
		if tell {
			f.told = at
		}
		return true, tell
	}
	f.level++
	return false, false
}
