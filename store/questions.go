package store

import (
	"cmp"
	"errors"
	"slices"
	"time"
)

// SetFocus remembers which batch a member speaks of in a chat, in place of the one
// before.
func (tx *Tx) SetFocus(chat, member int64, batch int, now time.Time) error {
	have, err := tx.Focuses(chat)
	if err != nil {
		return err
	}
	err = tx.exec(
		"INSERT INTO focus (chat, member, batch, at) VALUES (?,?,?,?) ON CONFLICT DO UPDATE SET batch = excluded.batch, at = excluded.at",
		chat, member, batch, toText(now))
	if err != nil {
		return err
	}
	have = slices.DeleteFunc(have, func(f Focus) bool { return f.Member == member })
	have = append(have, Focus{member, batch, asRead(now)})
	slices.SortFunc(have, func(a, b Focus) int { return cmp.Or(b.At.Compare(a.At), cmp.Compare(a.Member, b.Member)) })
	tx.keep(shelfFocus, shelfKey{book: chat}, have, rowsOf(have))
	return nil
}

// Focus is a batch spoken of, by whom and when.
type Focus struct {
	Member int64
	Batch  int
	At     time.Time
}

// Focuses returns the batches spoken of in a chat, the newest first.
func (tx *Tx) Focuses(chat int64) ([]Focus, error) {
	fs, _, err := remembered(tx, shelfFocus, shelfKey{book: chat}, rowsOf[Focus], func() ([]Focus, error) {
		return all(tx, func(s scanner) (f Focus, err error) {
			return f, s.Scan(&f.Member, &f.Batch, at(&f.At))
		}, "SELECT member, batch, at FROM focus WHERE chat = ? ORDER BY at DESC, member", chat)
	})
	return slices.Clone(fs), err
}

// Question is what the bot has asked a member and waits for.
type Question struct {
	ID, Book, Chat, Member, Message int64
	Kind                            string
	Payload                         []byte
	Asked                           time.Time
}

// PutQuestion opens a question and gives its id; an older one to the same member
// there is closed, because an answer can only mean the last thing asked.
func (tx *Tx) PutQuestion(q Question) (int64, error) {
	tx.wrote(shelfQuestion, shelfKey{book: q.Chat, n: q.Member})
	if err := tx.exec("DELETE FROM question WHERE chat = ? AND member = ?", q.Chat, q.Member); err != nil {
		return 0, err
	}
	return tx.insert(
		"INSERT INTO question (book, chat, member, message, kind, payload, asked) VALUES (?,?,?,?,?,?,?)",
		q.Book, q.Chat, q.Member, q.Message, q.Kind, blob(q.Payload), toText(q.Asked))
}

// OpenQuestion returns the open question to a member in a chat; ErrNotFound where
// nothing was asked. How long it may be answered is the caller's to say.
func (tx *Tx) OpenQuestion(chat, member int64) (Question, error) {
	q, _, err := remembered(tx, shelfQuestion, shelfKey{book: chat, n: member}, oneRow[Question], func() (Question, error) {
		q, err := one(tx, func(s scanner) (q Question, err error) {
			return q, s.Scan(&q.ID, &q.Book, &q.Chat, &q.Member, &q.Message, &q.Kind, &q.Payload, at(&q.Asked))
		},
			"SELECT id, book, chat, member, message, kind, payload, asked FROM question WHERE chat = ? AND member = ?",
			chat, member)
		if errors.Is(err, ErrNotFound) {
			return Question{}, nil // that there is none is worth remembering too
		}
		return q, err
	})
	if err == nil && q.ID == 0 {
		err = ErrNotFound
	}
	return q, err
}

// CloseQuestion closes the question about a message.
func (tx *Tx) CloseQuestion(book, message int64) error {
	tx.wroteAll(shelfQuestion)
	return tx.exec("DELETE FROM question WHERE book = ? AND message = ?", book, message)
}
