package store

import (
	"errors"
	"slices"
	"time"
)

// Chat is a place where the book is spoken with.
type Chat struct {
	ID, Book      int64
	Platform      string // console, telegram, script
	PlatformID    int64
	Kind          string // private, group
	Title         string
	Member        int64 // owner of a private chat
	Admitted      bool
	Silent        bool // blocked or kicked: nothing is sent
	PrivacyHidden bool
}

// Group reports a chat of several people.
func (c Chat) Group() bool { return c.Kind == "group" }

const chatColumns = "id, book, platform, platform_id, kind, title, member, admitted, silent, hidden"

func scanChat(s scanner) (c Chat, err error) {
	err = s.Scan(&c.ID, &c.Book, &c.Platform, &c.PlatformID, &c.Kind, &c.Title, &c.Member, &c.Admitted, &c.Silent, &c.PrivacyHidden)
	return c, err
}

// PutChat adds a chat or refreshes the one with that platform id or alias. A chat
// that comes with another book moves to it.
func (tx *Tx) PutChat(c Chat) (Chat, error) {
	defer tx.wroteAll(shelfChat + c.Platform) // after the look that follows
	defer tx.wroteAll(shelfChats)
	old, err := tx.ChatByPlatform(c.Platform, c.PlatformID)
	if errors.Is(err, ErrNotFound) {
		c.ID, err = tx.insert(
			"INSERT INTO chat (book, platform, platform_id, kind, title, member, admitted, silent, hidden) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
			c.Book, c.Platform, c.PlatformID, c.Kind, c.Title, c.Member, bit(c.Admitted), bit(c.Silent), bit(c.PrivacyHidden))
		return c, err
	}
	if err != nil {
		return c, err
	}
	c.ID, c.PlatformID = old.ID, old.PlatformID
	return c, tx.exec(
		"UPDATE chat SET book = ?, kind = ?, title = ?, member = ?, admitted = ?, silent = ?, hidden = ? WHERE id = ?",
		c.Book, c.Kind, c.Title, c.Member, bit(c.Admitted), bit(c.Silent), bit(c.PrivacyHidden), c.ID)
}

// ChatByPlatform finds a chat by its id on the platform, an old id included.
func (tx *Tx) ChatByPlatform(platform string, id int64) (Chat, error) {
	c, _, err := remembered(tx, shelfChat+platform, shelfKey{book: id}, oneRow[Chat], func() (Chat, error) {
		c, err := one(tx, scanChat, "SELECT "+chatColumns+" FROM chat WHERE platform = ? AND platform_id = ?", platform, id)
		if !errors.Is(err, ErrNotFound) {
			return c, err
		}
		n, err := one(tx, scanInt, "SELECT chat FROM chat_alias WHERE platform = ? AND platform_id = ?", platform, id)
		if err != nil {
			return Chat{}, err
		}
		return tx.Chat(n)
	})
	return c, err
}

// Chat returns a chat by its own id.
func (tx *Tx) Chat(id int64) (Chat, error) {
	return one(tx, scanChat, "SELECT "+chatColumns+" FROM chat WHERE id = ?", id)
}

// Chats returns the chats of a book.
func (tx *Tx) Chats(book int64) ([]Chat, error) {
	cs, _, err := remembered(tx, shelfChats, shelfKey{book: book}, rowsOf[Chat], func() ([]Chat, error) {
		return all(tx, scanChat, "SELECT "+chatColumns+" FROM chat WHERE book = ? ORDER BY id", book)
	})
	return slices.Clone(cs), err
}

// MigrateChat gives a chat its new platform id and keeps the old one as an alias;
// said twice, in either order of the platform's two signals, it changes nothing.
// A chat that was made under the new id in the meantime becomes part of the old
// one: what was said there stays.
func (tx *Tx) MigrateChat(platform string, old, now int64) error {
	defer tx.wroteAll(shelfChat + platform) // after the looks that follow
	defer tx.wroteAll(shelfChats)
	c, err := tx.ChatByPlatform(platform, old)
	if err != nil || c.PlatformID == now {
		return err
	}
	other, err := tx.ChatByPlatform(platform, now)
	if err == nil && other.ID != c.ID {
		err = tx.mergeChat(other.ID, c.ID)
	}
	if err != nil && !errors.Is(err, ErrNotFound) {
		return err
	}
	if err := tx.exec("UPDATE chat SET platform_id = ? WHERE id = ?", now, c.ID); err != nil {
		return err
	}
	return tx.exec(
		"INSERT OR REPLACE INTO chat_alias (platform, platform_id, chat) VALUES (?, ?, ?)",
		platform, old, c.ID)
}

// mergeChat moves everything of a chat to another and removes it. Of what exists
// once a member, the other's stays.
func (tx *Tx) mergeChat(from, to int64) error {
	tx.wroteMuch()
	for _, query := range []string{
		"UPDATE message SET chat = ? WHERE chat = ?",
		"UPDATE outbox SET chat = ? WHERE chat = ?",
		"UPDATE chat_alias SET chat = ? WHERE chat = ?",
		"UPDATE OR IGNORE chat_member SET chat = ? WHERE chat = ?",
		"UPDATE OR IGNORE focus SET chat = ? WHERE chat = ?",
		"UPDATE OR IGNORE question SET chat = ? WHERE chat = ?",
	} {
		if err := tx.exec(query, to, from); err != nil {
			return err
		}
	}
	return tx.exec("DELETE FROM chat WHERE id = ?", from)
}

// SeeInChat notes that a member was seen in a group. Within the hour it need not be
// written again.
func (tx *Tx) SeeInChat(chat, member int64, now time.Time) error {
	k := shelfKey{book: chat, n: member}
	if tx.shelf != nil {
		if x, ok := tx.shelf.get(shelfSeen, k); ok && now.Sub(x.value.(time.Time)).Abs() < time.Hour {
			return nil
		}
		tx.keep(shelfSeen, k, now, 1)
	}
	return tx.exec(
		"INSERT INTO chat_member (chat, member, seen) VALUES (?, ?, ?) ON CONFLICT DO UPDATE SET seen = excluded.seen",
		chat, member, toText(now))
}

// MembersOf returns the present members seen in a group, in the order they joined
// the book.
func (tx *Tx) MembersOf(chat int64) ([]Member, error) {
	return all(tx, scanMember,
		`SELECT m.id, m.book, m.name, m.keeper, m.host, m.platform_user, m.joined, m.gone, m.via
			FROM member m JOIN chat_member c ON c.member = m.id WHERE c.chat = ? AND m.gone IS NULL ORDER BY m.id`,
		chat)
}
