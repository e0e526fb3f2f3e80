package store

import (
	"errors"
	"fmt"
	"time"
)

// Out is one thing to send. Source and Kind are its key: the same answer is made
// once.
type Out struct {
	ID, Book, Chat     int64
	Source, Kind       string // kind: reply, edit, reaction, photo, document, ack
	Text               string
	HTML               bool
	Buttons            []Button
	ReplyTo, Thread    int64
	Edits              int64 // the row whose message this one edits
	Reaction           string
	Render             string // what to draw or write, for pictures and files
	Plain              bool   // a plain receipt: never sent twice
	Batch              int
	Message            int64 // the message answered
	Priority           int   // lower goes first
	State              string
	NotBefore, Created time.Time
	Sent               time.Time
	PlatformMessage    int64
	Tries              int
	Why                string
}

const outColumns = "id, book, chat, source, kind, text, html, reply_to, thread, edits, reaction, render, plain, " +
	"batch, message, priority, state, not_before, created, sent, platform_message, tries, why, buttons"

func scanOut(s scanner) (o Out, err error) {
	var shown string
	err = s.Scan(&o.ID, &o.Book, &o.Chat, &o.Source, &o.Kind, &o.Text, &o.HTML, &o.ReplyTo, &o.Thread, &o.Edits,
		&o.Reaction, &o.Render, &o.Plain, &o.Batch, &o.Message, &o.Priority, &o.State,
		at(&o.NotBefore), at(&o.Created), at(&o.Sent), &o.PlatformMessage, &o.Tries, &o.Why, &shown)
	if err == nil {
		err = o.buttons(shown)
	}
	return o, err
}

// Enqueue makes a row to be sent, with its buttons; dup where its key was made
// before, and then that row's id comes back and nothing is written. It belongs into
// the transaction of what it speaks about: nothing is sent before that is kept.
func (tx *Tx) Enqueue(o Out) (id int64, dup bool, err error) {
	if o.NotBefore.IsZero() {
		o.NotBefore = o.Created
	}
	if id, err = tx.nextID("outbox"); err != nil {
		return 0, false, err
	}
	o.ID, o.State, o.Created, o.NotBefore = id, "due", asRead(o.Created), asRead(o.NotBefore)
	o.Sent, o.PlatformMessage, o.Tries, o.Why = time.Time{}, 0, 0, "" // of the row that it is made from, if it is
	if err := tx.key(&o); err != nil {
		return 0, false, err
	}
	const insert = `INSERT INTO outbox (id, book, chat, source, kind, text, html, reply_to, thread, edits, reaction, render, plain,
			batch, message, priority, not_before, created, buttons) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)`
	err = tx.execMade(insert, func() []any {
		return []any{id, o.Book, o.Chat, o.Source, o.Kind, o.Text, bit(o.HTML), o.ReplyTo, o.Thread, o.Edits, o.Reaction, o.Render, bit(o.Plain),
			o.Batch, o.Message, o.Priority, toText(o.NotBefore), toText(o.Created), shown(o.Buttons)}
	})
	if errors.Is(err, ErrTwice) {
		id, err = one(tx, scanInt, "SELECT id FROM outbox WHERE source = ? AND kind = ?", o.Source, o.Kind)
		return id, true, err
	}
	if err != nil {
		return 0, false, err
	}
	tx.gave("outbox", id)
	tx.keep(shelfOut, shelfKey{n: id}, o, 1)
	return id, false, nil
}

// Due is a row to send, and where.
type Due struct {
	Out
	PlatformID int64
	Group      bool
	Silent     bool // the chat takes nothing
}

func scanDue(s scanner) (d Due, err error) {
	d.Out, err = scanOut(wider{s, []any{&d.PlatformID, (*isGroup)(&d.Group), &d.Silent}})
	return d, err
}

// scanDueID is scanDue of the row's id and its chat alone.
func scanDueID(s scanner) (d Due, err error) {
	return d, s.Scan(&d.ID, &d.PlatformID, (*isGroup)(&d.Group), &d.Silent)
}

const (
	dueFrom  = ", c.platform_id, c.kind, c.silent FROM outbox o CROSS JOIN chat c ON c.id = o.chat "
	dueWhere = "WHERE o.state = 'due' AND o.not_before <= ? ORDER BY o.priority, o.id LIMIT ?"
)

var (
	dueOut   = "SELECT " + of("o", outColumns) + dueFrom + dueWhere
	dueOutID = "SELECT o.id" + dueFrom + dueWhere
)

// DueOut returns at most limit rows to send at now, by priority (acks below zero,
// reminders above), then by age. Which of one chat's rows may go is the sender's
// to say: it keeps their order. Those that were just made are not read again, which
// would take longer than to make them.
func (tx *Tx) DueOut(now time.Time, limit int) ([]Due, error) {
	if tx.shelf == nil {
		return all(tx, scanDue, dueOut, toText(now), limit)
	}
	due, err := all(tx, scanDueID, dueOutID, toText(now), limit)
	if err != nil {
		return nil, err
	}
	for i := range due {
		d := &due[i]
		if d.Out, _, err = remembered(tx, shelfOut, shelfKey{n: d.ID}, oneRow[Out], func() (Out, error) { return tx.Out(d.ID) }); err != nil {
			return nil, err
		}
	}
	return due, nil
}

// Sending returns rows whose sending was begun and never ended: at a start, those
// whose fate nobody knows.
func (tx *Tx) Sending() ([]Out, error) {
	return all(tx, scanOut, "SELECT "+outColumns+" FROM outbox WHERE state = 'sending' ORDER BY id")
}

// MarkSending marks rows before they go out. Like the other marks it does nothing
// where the row is gone, as when its chat was removed while it was under way.
func (tx *Tx) MarkSending(ids []int64) error {
	for _, id := range ids {
		tx.wrote(shelfOut, shelfKey{n: id})
	}
	return tx.exec("UPDATE outbox SET state = 'sending', tries = tries + 1 WHERE id IN "+ofList, list(ids))
}

// MarkSent notes the platform's message id of a row that went out.
func (tx *Tx) MarkSent(id, platformMessage int64, now time.Time) error {
	return tx.MarkAllSent([]Sent{{id, platformMessage}}, now)
}

// Sent is a row that went out, and the platform's id of the message.
type Sent struct{ Out, PlatformMessage int64 }

// MarkAllSent is MarkSent for several.
func (tx *Tx) MarkAllSent(sent []Sent, now time.Time) error {
	pairs := []byte{'['}
	for i, s := range sent {
		if i > 0 {
			pairs = append(pairs, ',')
		}
		pairs = fmt.Appendf(pairs, "[%d,%d]", s.Out, s.PlatformMessage)
	}
	return tx.exec(
		"UPDATE outbox SET state = 'sent', platform_message = s.value ->> 1, sent = ? FROM json_each(?) AS s WHERE outbox.id = s.value ->> 0",
		toText(now), string(append(pairs, ']')))
}

// MarkRetry makes a row due again, not before an instant.
func (tx *Tx) MarkRetry(id int64, notBefore time.Time) error {
	tx.wrote(shelfOut, shelfKey{n: id})
	return tx.exec("UPDATE outbox SET state = 'due', not_before = ? WHERE id = ?", toText(notBefore), id)
}

// MarkUnknown notes that nobody can know whether a row arrived.
func (tx *Tx) MarkUnknown(id int64) error {
	return tx.exec("UPDATE outbox SET state = 'unknown' WHERE id = ?", id)
}

// MarkDead gives a row up and notes why, in words without the row's text.
func (tx *Tx) MarkDead(id int64, why string) error {
	tx.wrote(shelfOut, shelfKey{n: id})
	return tx.exec("UPDATE outbox SET state = 'dead', why = ? WHERE id = ?", why, id)
}

// Out returns a row by its id.
func (tx *Tx) Out(id int64) (Out, error) {
	return one(tx, scanOut, "SELECT "+outColumns+" FROM outbox WHERE id = ?", id)
}

// OutByPlatform finds the bot's own message in a chat: what somebody replied to or
// pressed a button of.
func (tx *Tx) OutByPlatform(chat, platformMessage int64) (Out, error) {
	return one(tx, scanOut,
		"SELECT "+outColumns+" FROM outbox WHERE chat = ? AND platform_message = ? AND platform_message <> 0 ORDER BY id DESC LIMIT 1",
		chat, platformMessage)
}

// OutOf returns the first answer to a message: the one that an edit changes.
func (tx *Tx) OutOf(message int64) (Out, error) {
	return one(tx, scanOut,
		"SELECT "+outColumns+" FROM outbox WHERE message = ? AND message <> 0 AND kind = 'reply' ORDER BY id LIMIT 1",
		message)
}

// RecentOut returns the newest rows of a chat, the newest first.
func (tx *Tx) RecentOut(chat int64, limit int) ([]Out, error) {
	return all(tx, scanOut, "SELECT "+outColumns+" FROM outbox WHERE chat = ? ORDER BY id DESC LIMIT ?", chat, limit)
}
