package telegram

import (
	"errors"
	"strings"
	"time"

	"mustbook/bot"
	"mustbook/bot/say"
	"mustbook/store"
)

// write puts the outcome of a send into the book, but for the mark of one that went
// well, which those of a round share.
func (b *tg) write(tx *store.Tx, r result, now time.Time) error {
	id := r.l.out.ID
	switch r.o.fate {
	case fateSent:
		for _, c := range r.l.carries {
			if err := tx.MarkDead(c.id, "told at the head of the next answer"); err != nil {
				return err
			}
		}
		return nil
	case fateNotSent:
		b.tellDown(r.o.err)
		return tx.MarkRetry(id, now.Add(backoff(r.l.out.Tries)))
	case fateLater:
		b.cfg.Log.Info("told to wait", "outbox", id, "wait", r.o.wait)
		return tx.MarkRetry(id, now.Add(r.o.wait))
	case fateTokenBad:
		b.cfg.Log.Error("the platform does not know this token", "error", b.redact(r.o.err))
		return tx.MarkRetry(id, now.Add(r.o.wait))
	case fateMoved:
		if err := tx.MigrateChat(platform, r.l.chatID, r.o.moved); err != nil {
			return err
		}
		return tx.MarkRetry(id, now)
	case fateShut:
		if err := b.cfg.Access.Silence(tx, platform, r.l.chatID); err != nil {
			return err
		}
		return tx.MarkDead(id, "the chat does not take messages")
	case fateUnknown:
		return b.unknown(tx, r.l.out, now)
	}
	b.cfg.Log.Error("the platform refused an answer", "outbox", id, "error", b.redact(r.o.err))
	return b.refusedRow(tx, r, now)
}

// refusedRow ends a row that was refused for good. An answer that can't be edited
// any more, since somebody deleted it, is no reason to be silent, nor is a group
// that allows no reactions, nor a topic that is closed or gone, nor a picture that
// could not be drawn.
func (b *tg) refusedRow(tx *store.Tx, r result, now time.Time) error {
	out := r.l.out
	if err := tx.MarkDead(out.ID, b.redact(r.o.err).Error()); err != nil {
		return err
	}
	switch {
	case strings.HasSuffix(out.Source, again):
		return nil // refused in this form too
	case out.Thread != 0 && topicGone(r.o.err):
		if err := bot.TopicGone(tx, out.Chat, out.Thread, now); err != nil {
			return err
		}
		out.Thread = 0
	case r.l.edits != 0:
		out.ReplyTo = 0
	case out.Render != "" && errors.Is(r.o.err, errRow):
		out.Kind, out.Text, out.Render = "reply", say.Text(say.NotDrawn()), ""
	case out.Kind != "reaction" || out.Text == "":
		return nil
	}
	if out.Kind == "edit" || out.Kind == "reaction" {
		out.Kind = "reply"
	}
	out.Source, out.Edits, out.Reaction, out.Created = out.Source+again, 0, "", now
	_, _, err := tx.Enqueue(out)
	return err
}

// again ends the source of a row that is sent in another form.
const again = ":new"

// topicGone reads the words with which the platform refuses a topic.
func topicGone(err error) bool {
	return err != nil && (strings.Contains(err.Error(), "message thread not found") || strings.Contains(err.Error(), "TOPIC_CLOSED"))
}

// onceUnknown stands as the reason of a row that is sent a second time.
const onceUnknown = "sent once, of unknown fate"

// unknown is a send that may have happened. What can be repeated without harm is;
// an answer that carries a caution, a question or a figure is sent again once; a
// plain receipt is not, for a second one would look like a second entry: the
// message gets a thumb, and the next answer begins with the receipt's first line.
// So does an answer whose second sending is as uncertain as its first.
func (b *tg) unknown(tx *store.Tx, out store.Out, now time.Time) error {
	switch {
	case out.Kind == "edit" || out.Kind == "reaction" || out.Kind == "ack":
		return tx.MarkRetry(out.ID, now)
	case !out.Plain && out.Why != onceUnknown:
		// The reason survives being made due again, and so tells the second time.
		if err := tx.MarkDead(out.ID, onceUnknown); err != nil { // MarkRetry keeps the reason
			return err
		}
		return tx.MarkRetry(out.ID, now)
	}
	if err := tx.MarkUnknown(out.ID); err != nil || out.ReplyTo == 0 && out.Message == 0 {
		return err
	}
	on := out.ReplyTo
	if on == 0 {
		m, err := tx.Message(out.Book, out.Message)
		if errors.Is(err, store.ErrNotFound) {
			return nil
		}
		if err != nil {
			return err
		}
		on = m.PlatformMessage
	}
	_, _, err := tx.Enqueue(store.Out{
		Book: out.Book, Chat: out.Chat, Source: out.Source + ":thumb", Kind: "reaction", Reaction: "👍",
		ReplyTo: on, Batch: out.Batch, Message: out.Message, Priority: out.Priority, Created: now,
	})
	return err
}

// recoverSends treats rows that a run before left as being sent: nobody knows
// whether they were.
func (b *tg) recoverSends(tx *store.Tx, now time.Time) error {
	outs, err := tx.Sending()
	if err != nil {
		return err
	}
	for _, out := range outs {
		if err := b.unknown(tx, out, now); err != nil {
			return err
		}
	}
	return nil
}

// tellDown says once that the network is gone; heard says when it is back.
func (b *tg) tellDown(err error) {
	b.mu.Lock()
	first := b.cfg.Now().Sub(b.downAt) > time.Hour
	if first {
		b.downAt = b.cfg.Now()
	}
	b.mu.Unlock()
	if first {
		b.cfg.Log.Warn("answers can't be sent now; they wait", "error", b.redact(err))
	}
}
