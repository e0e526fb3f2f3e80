package store

import (
	"errors"
	"time"
)

// Message is one message that the book keeps: its text is what was typed.
type Message struct {
	ID, Book, Chat, Member      int64
	OriginChat, PlatformMessage int64 // the platform's key, never rewritten
	Text                        string
	At                          time.Time // when it was sent
	EditDate                    time.Time
	ReplyTo, Thread             int64
	Kind                        string
}

const messageColumns = "m.id, m.book, m.chat, m.member, m.origin_chat, m.platform_message, m.text, m.at, m.edited, m.reply_to, m.thread, m.kind"

func scanMessage(s scanner) (m Message, err error) {
	err = s.Scan(&m.ID, &m.Book, &m.Chat, &m.Member, &m.OriginChat, &m.PlatformMessage,
		&m.Text, at(&m.At), at(&m.EditDate), &m.ReplyTo, &m.Thread, &m.Kind)
	return m, err
}

// AddMessage keeps a message; dup where its key (origin chat and the platform's
// number) is there already, and then the one that is there comes back, as it stands
// after its edits.
func (tx *Tx) AddMessage(m Message) (kept Message, dup bool, err error) {
	if m.Kind == "" {
		m.Kind = "text"
	}
	if m.ID, err = tx.nextID("message"); err != nil {
		return m, false, err
	}
	err = tx.exec(
		"INSERT INTO message (id, book, chat, member, origin_chat, platform_message, text, at, reply_to, thread, kind) VALUES (?,?,?,?,?,?,?,?,?,?,?)",
		m.ID, m.Book, m.Chat, m.Member, m.OriginChat, m.PlatformMessage, m.Text, toText(m.At), m.ReplyTo, m.Thread, m.Kind)
	if errors.Is(err, ErrTwice) {
		m, err = tx.MessageByKey(m.OriginChat, m.PlatformMessage)
		return m, true, err
	}
	if err == nil {
		tx.gave("message", m.ID)
		tx.fresh, tx.freshOf = m.ID, m.Book
	}
	return m, false, err
}

// DropMessage forgets a message that made nothing: what is not the book's is not
// kept.
func (tx *Tx) DropMessage(id int64) error {
	tx.fresh = 0
	return tx.exec("DELETE FROM message WHERE id = ? AND NOT EXISTS (SELECT 1 FROM entry WHERE message = ?)", id, id)
}

// MessageByKey finds a message by the platform's key, whose chat may have changed
// its id since.
func (tx *Tx) MessageByKey(originChat, platformMessage int64) (Message, error) {
	return one(tx, scanMessage,
		"SELECT "+messageColumns+" FROM message m WHERE m.origin_chat = ? AND m.platform_message = ?",
		originChat, platformMessage)
}

// Message returns a message of a book.
func (tx *Tx) Message(book, id int64) (Message, error) {
	return one(tx, scanMessage, "SELECT "+messageColumns+" FROM message m WHERE m.id = ? AND m.book = ?", id, book)
}

// UpdateMessageText gives an edited message its new text and keeps the old;
// ErrNotFound where the book has no such message.
func (tx *Tx) UpdateMessageText(book, id int64, text string, edited time.Time) error {
	if err := tx.must(
		"INSERT INTO message_edit (message, text, until) SELECT id, text, ? FROM message WHERE id = ? AND book = ?",
		toText(edited), id, book); err != nil {
		return err
	}
	return tx.exec("UPDATE message SET text = ?, edited = ? WHERE id = ? AND book = ?", text, toText(edited), id, book)
}

// Edit is a text that a message had until it was edited.
type Edit struct {
	Text  string
	Until time.Time
}

// EditsOf returns the earlier texts of a message, the oldest first.
func (tx *Tx) EditsOf(book, message int64) ([]Edit, error) {
	return all(tx, func(s scanner) (e Edit, err error) {
		return e, s.Scan(&e.Text, at(&e.Until))
	},
		"SELECT e.text, e.until FROM message_edit e JOIN message m ON m.id = e.message WHERE e.message = ? AND m.book = ? ORDER BY e.id",
		message, book)
}

const hasLive = "EXISTS (SELECT 1 FROM entry e WHERE e.message = m.id AND e.live = 1)"

// NewestOf returns the newest message of a member, since a time, that still has
// live entries; ErrNotFound where there is none.
func (tx *Tx) NewestOf(book, member int64, since time.Time) (Message, error) {
	return one(tx, scanMessage,
		"SELECT "+messageColumns+" FROM message m WHERE m.book = ? AND m.member = ? AND m.at >= ? AND "+hasLive+" ORDER BY m.at DESC, m.id DESC LIMIT 1",
		book, member, toText(since))
}

// NewestOfAll is NewestOf for whoever it was. It goes through the instants of all the
// book's messages.
func (tx *Tx) NewestOfAll(book int64, since time.Time) (Message, error) {
	return one(tx, scanMessage,
		"SELECT "+messageColumns+" FROM message m WHERE m.book = ? AND m.at >= ? AND "+hasLive+" ORDER BY m.at DESC, m.id DESC LIMIT 1",
		book, toText(since))
}
