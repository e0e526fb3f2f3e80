package store

import (
	"database/sql"
	"encoding/base32"
	"errors"
	"io"
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
	var at string
	var edited sql.NullString
	err = s.Scan(&m.ID, &m.Book, &m.Chat, &m.Member, &m.OriginChat, &m.PlatformMessage, &m.Text, &at, &edited, &m.ReplyTo, &m.Thread, &m.Kind)
	m.At, m.EditDate = fromText(at), fromNull(edited)
	return m, err
}

// AddMessage keeps a message; dup where its key is in the book already, and then
// the one that is there comes back.
func (tx *Tx) AddMessage(m Message) (kept Message, dup bool, err error) {
	if m.Kind == "" {
		m.Kind = "text"
	}
	old, err := tx.MessageByKey(m.OriginChat, m.PlatformMessage)
	if err == nil {
		return old, true, nil
	}
	if !errors.Is(err, ErrNotFound) {
		return m, false, err
	}
	m.ID, err = tx.insert("INSERT INTO message (book, chat, member, origin_chat, platform_message, text, at, reply_to, thread, kind) VALUES (?,?,?,?,?,?,?,?,?,?)",
		m.Book, m.Chat, m.Member, m.OriginChat, m.PlatformMessage, m.Text, toText(m.At), m.ReplyTo, m.Thread, m.Kind)
	return m, false, err
}

// DropMessage forgets a message that made nothing: what is not the book's is not
// kept.
func (tx *Tx) DropMessage(id int64) error {
	return tx.exec("DELETE FROM message WHERE id = ? AND NOT EXISTS (SELECT 1 FROM entry WHERE message = ?)", id, id)
}

// MessageByKey finds a message by the platform's key.
func (tx *Tx) MessageByKey(originChat, platformMessage int64) (Message, error) {
	return one(tx, scanMessage, "SELECT "+messageColumns+" FROM message m WHERE m.origin_chat = ? AND m.platform_message = ?", originChat, platformMessage)
}

// Message returns a message of a book.
func (tx *Tx) Message(book, id int64) (Message, error) {
	return one(tx, scanMessage, "SELECT "+messageColumns+" FROM message m WHERE m.id = ? AND m.book = ?", id, book)
}

// UpdateMessageText gives an edited message its new text and keeps the old.
func (tx *Tx) UpdateMessageText(book, id int64, text string, edited time.Time) error {
	if err := tx.exec("INSERT INTO message_edit (message, text, until) SELECT id, text, ? FROM message WHERE id = ? AND book = ?", toText(edited), id, book); err != nil {
		return err
	}
	return tx.exec("UPDATE message SET text = ?, edited = ? WHERE id = ? AND book = ?", text, toText(edited), id, book)
}

// SetFocus remembers which batch a member speaks of in a chat.
func (tx *Tx) SetFocus(chat, member int64, batch int, now time.Time) error {
	return tx.exec("INSERT INTO focus (chat, member, batch, at) VALUES (?,?,?,?) ON CONFLICT DO UPDATE SET batch = excluded.batch, at = excluded.at", chat, member, batch, toText(now))
}

// Focus is a batch spoken of, by whom and when.
type Focus struct {
	Member int64
	Batch  int
	At     time.Time
}

// Focuses returns the batches spoken of in a chat, the newest first.
func (tx *Tx) Focuses(chat int64) ([]Focus, error) {
	return all(tx, func(s scanner) (f Focus, err error) {
		var at string
		err = s.Scan(&f.Member, &f.Batch, &at)
		f.At = fromText(at)
		return f, err
	}, "SELECT member, batch, at FROM focus WHERE chat = ? ORDER BY at DESC", chat)
}

// Question is what the bot has asked a member and waits for.
type Question struct {
	ID, Book, Chat, Member, Message int64
	Kind                            string
	Payload                         []byte
	Asked                           time.Time
}

// PutQuestion opens a question; an older one to the same member there is closed.
func (tx *Tx) PutQuestion(q Question) (int64, error) {
	if err := tx.exec("DELETE FROM question WHERE chat = ? AND member = ?", q.Chat, q.Member); err != nil {
		return 0, err
	}
	return tx.insert("INSERT INTO question (book, chat, member, message, kind, payload, asked) VALUES (?,?,?,?,?,?,?)", q.Book, q.Chat, q.Member, q.Message, q.Kind, q.Payload, toText(q.Asked))
}

// OpenQuestion returns the open question to a member in a chat.
func (tx *Tx) OpenQuestion(chat, member int64) (Question, error) {
	return one(tx, func(s scanner) (q Question, err error) {
		var asked string
		err = s.Scan(&q.ID, &q.Book, &q.Chat, &q.Member, &q.Message, &q.Kind, &q.Payload, &asked)
		q.Asked = fromText(asked)
		return q, err
	}, "SELECT id, book, chat, member, message, kind, payload, asked FROM question WHERE chat = ? AND member = ?", chat, member)
}

// CloseQuestion closes the question about a message.
func (tx *Tx) CloseQuestion(book, message int64) error {
	return tx.exec("DELETE FROM question WHERE book = ? AND message = ?", book, message)
}

// Button is a button of an answer and what pressing it does.
type Button struct {
	Key     string
	Book    int64
	Chat    int64
	Out     int64
	Label   string
	Action  []byte
	Expires time.Time
}

const buttonColumns = "key, book, chat, outbox, label, action, expires"

func scanButton(s scanner) (b Button, err error) {
	var exp string
	err = s.Scan(&b.Key, &b.Book, &b.Chat, &b.Out, &b.Label, &b.Action, &exp)
	b.Expires = fromText(exp)
	return b, err
}

// addButtons gives an answer its buttons, each under a random key.
func (tx *Tx) addButtons(book, chat, out int64, bs []Button) error {
	for i, b := range bs {
		raw := make([]byte, 12)
		if _, err := io.ReadFull(tx.db.opt.Rand, raw); err != nil {
			return err
		}
		key := base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(raw)
		if err := tx.exec("INSERT INTO button (key, book, chat, outbox, ordinal, label, action, expires) VALUES (?,?,?,?,?,?,?,?)", key, book, chat, out, i, b.Label, b.Action, toText(b.Expires)); err != nil {
			return err
		}
	}
	return nil
}

// Button finds a button by its key; ErrExpired where its time is over.
func (tx *Tx) Button(key string, now time.Time) (Button, error) {
	b, err := one(tx, scanButton, "SELECT "+buttonColumns+" FROM button WHERE key = ?", key)
	if err == nil && now.After(b.Expires) {
		return b, ErrExpired
	}
	return b, err
}

// ButtonsOf returns the buttons of an answer in their order.
func (tx *Tx) ButtonsOf(out int64) ([]Button, error) {
	return all(tx, scanButton, "SELECT "+buttonColumns+" FROM button WHERE outbox = ? ORDER BY ordinal", out)
}

// PressOnce notes a press by the platform's id; false where it was noted before.
func (tx *Tx) PressOnce(id string) (bool, error) {
	n, err := tx.changed("INSERT OR IGNORE INTO press (id) VALUES (?)", id)
	return n == 1, err
}
