package store

import (
	"database/sql"
	"errors"
	"time"
)

// Book is one household's records.
type Book struct {
	ID      int64
	Name    string
	Created time.Time
	Claimed bool
}

// Member is a person of a household; Left is zero while present.
type Member struct {
	ID, Book     int64
	Name         string
	Keeper, Host bool
	PlatformUser int64
	Joined, Left time.Time
	Via          int64 // chat joined through; 0: invited or the keeper
}

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

const (
	bookColumns   = "id, name, created, claimed"
	memberColumns = "id, book, name, keeper, host, platform_user, joined, gone, via"
	chatColumns   = "id, book, platform, platform_id, kind, title, member, admitted, silent, hidden"
)

func scanBook(s scanner) (b Book, err error) {
	var created string
	err = s.Scan(&b.ID, &b.Name, &created, &b.Claimed)
	b.Created = fromText(created)
	return b, err
}

func scanMember(s scanner) (m Member, err error) {
	var joined string
	var left sql.NullString
	err = s.Scan(&m.ID, &m.Book, &m.Name, &m.Keeper, &m.Host, &m.PlatformUser, &joined, &left, &m.Via)
	m.Joined, m.Left = fromText(joined), fromNull(left)
	return m, err
}

func scanChat(s scanner) (c Chat, err error) {
	err = s.Scan(&c.ID, &c.Book, &c.Platform, &c.PlatformID, &c.Kind, &c.Title, &c.Member, &c.Admitted, &c.Silent, &c.PrivacyHidden)
	return c, err
}

// CreateBook makes an empty book.
func (tx *Tx) CreateBook(name string, now time.Time) (Book, error) {
	id, err := tx.insert("INSERT INTO book (name, created) VALUES (?, ?)", name, toText(now))
	return Book{ID: id, Name: name, Created: now.UTC()}, err
}

// Book returns a book, ErrNotFound where there is none.
func (tx *Tx) Book(id int64) (Book, error) {
	return one(tx, scanBook, "SELECT "+bookColumns+" FROM book WHERE id = ?", id)
}

// Books returns every book.
func (tx *Tx) Books() ([]Book, error) {
	return all(tx, scanBook, "SELECT "+bookColumns+" FROM book ORDER BY id")
}

// ClaimBook marks that a keeper has taken a book over.
func (tx *Tx) ClaimBook(id int64) error {
	return tx.exec("UPDATE book SET claimed = 1 WHERE id = ?", id)
}

// AddMember adds a person to a book.
func (tx *Tx) AddMember(m Member) (Member, error) {
	id, err := tx.insert("INSERT INTO member (book, name, keeper, host, platform_user, joined, gone, via) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
		m.Book, m.Name, bit(m.Keeper), bit(m.Host), m.PlatformUser, toText(m.Joined), nullText(m.Left), m.Via)
	m.ID = id
	return m, err
}

// SetMember rewrites a person's name, rights and presence.
func (tx *Tx) SetMember(m Member) error {
	return tx.exec("UPDATE member SET name = ?, keeper = ?, host = ?, platform_user = ?, gone = ?, via = ? WHERE id = ? AND book = ?",
		m.Name, bit(m.Keeper), bit(m.Host), m.PlatformUser, nullText(m.Left), m.Via, m.ID, m.Book)
}

// Member returns a person of a book, present or gone.
func (tx *Tx) Member(book, id int64) (Member, error) {
	return one(tx, scanMember, "SELECT "+memberColumns+" FROM member WHERE id = ? AND book = ?", id, book)
}

// MemberByUser returns the present membership of a platform's user.
func (tx *Tx) MemberByUser(user int64) (Member, error) {
	return one(tx, scanMember, "SELECT "+memberColumns+" FROM member WHERE platform_user = ? AND platform_user <> 0 AND gone IS NULL ORDER BY id DESC LIMIT 1", user)
}

// Members returns the present people of a book.
func (tx *Tx) Members(book int64) ([]Member, error) {
	return all(tx, scanMember, "SELECT "+memberColumns+" FROM member WHERE book = ? AND gone IS NULL ORDER BY id", book)
}

// PutChat adds a chat or refreshes the one with that platform id or alias.
func (tx *Tx) PutChat(c Chat) (Chat, error) {
	old, err := tx.ChatByPlatform(c.Platform, c.PlatformID)
	if errors.Is(err, ErrNotFound) {
		c.ID, err = tx.insert("INSERT INTO chat (book, platform, platform_id, kind, title, member, admitted, silent, hidden) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
			c.Book, c.Platform, c.PlatformID, c.Kind, c.Title, c.Member, bit(c.Admitted), bit(c.Silent), bit(c.PrivacyHidden))
		return c, err
	}
	if err != nil {
		return c, err
	}
	c.ID, c.PlatformID = old.ID, old.PlatformID
	return c, tx.exec("UPDATE chat SET book = ?, kind = ?, title = ?, member = ?, admitted = ?, silent = ?, hidden = ? WHERE id = ?",
		c.Book, c.Kind, c.Title, c.Member, bit(c.Admitted), bit(c.Silent), bit(c.PrivacyHidden), c.ID)
}

// ChatByPlatform finds a chat by its id on the platform, an old id included.
func (tx *Tx) ChatByPlatform(platform string, id int64) (Chat, error) {
	c, err := one(tx, scanChat, "SELECT "+chatColumns+" FROM chat WHERE platform = ? AND platform_id = ?", platform, id)
	if !errors.Is(err, ErrNotFound) {
		return c, err
	}
	n, err := one(tx, scanInt, "SELECT chat FROM chat_alias WHERE platform = ? AND platform_id = ?", platform, id)
	if err != nil {
		return Chat{}, err
	}
	return tx.Chat(n)
}

// Chat returns a chat by its own id.
func (tx *Tx) Chat(id int64) (Chat, error) {
	return one(tx, scanChat, "SELECT "+chatColumns+" FROM chat WHERE id = ?", id)
}

// Chats returns the chats of a book.
func (tx *Tx) Chats(book int64) ([]Chat, error) {
	return all(tx, scanChat, "SELECT "+chatColumns+" FROM chat WHERE book = ? ORDER BY id", book)
}

// MigrateChat gives a chat its new platform id and keeps the old one as an alias;
// said twice, in either order of the platform's two signals, it changes nothing.
func (tx *Tx) MigrateChat(platform string, old, now int64) error {
	c, err := tx.ChatByPlatform(platform, old)
	if err != nil || c.PlatformID == now {
		return err
	}
	if other, err := tx.ChatByPlatform(platform, now); err == nil && other.ID != c.ID {
		if err := tx.exec("DELETE FROM chat WHERE id = ?", other.ID); err != nil {
			return err
		}
	}
	if err := tx.exec("UPDATE chat SET platform_id = ? WHERE id = ?", now, c.ID); err != nil {
		return err
	}
	return tx.exec("INSERT OR REPLACE INTO chat_alias (platform, platform_id, chat) VALUES (?, ?, ?)", platform, old, c.ID)
}

// SeeInChat notes that a member was seen in a group.
func (tx *Tx) SeeInChat(chat, member int64, now time.Time) error {
	return tx.exec("INSERT INTO chat_member (chat, member, seen) VALUES (?, ?, ?) ON CONFLICT DO UPDATE SET seen = excluded.seen", chat, member, toText(now))
}

// LeftChat forgets that a member is in a group.
func (tx *Tx) LeftChat(chat, member int64) error {
	return tx.exec("DELETE FROM chat_member WHERE chat = ? AND member = ?", chat, member)
}

// MembersOf returns the present members seen in a group.
func (tx *Tx) MembersOf(chat int64) ([]Member, error) {
	return all(tx, scanMember, "SELECT m.id, m.book, m.name, m.keeper, m.host, m.platform_user, m.joined, m.gone, m.via FROM member m JOIN chat_member c ON c.member = m.id WHERE c.chat = ? AND m.gone IS NULL ORDER BY m.id", chat)
}

// Meta reads a value that belongs to the file, not to a book.
func (tx *Tx) Meta(key string) (string, bool) {
	v, err := one(tx, scanText, "SELECT value FROM meta WHERE key = ?", key)
	return v, err == nil
}

// SetMeta writes one.
func (tx *Tx) SetMeta(key, value string) error {
	return tx.exec("INSERT INTO meta (key, value) VALUES (?, ?) ON CONFLICT DO UPDATE SET value = excluded.value", key, value)
}
