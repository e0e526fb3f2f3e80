package store

import (
	"errors"
	"slices"
	"time"
)

// Book is one household's records.
type Book struct {
	ID      int64
	Name    string
	Created time.Time
	Claimed bool
}

// Member is a person of a household; Left is zero while present. One who left stays
// as a row, because entries name their authors.
type Member struct {
	ID, Book     int64
	Name         string
	Keeper, Host bool
	PlatformUser int64 // the platform's id of the person; 0: none, as in the terminal
	Joined, Left time.Time
	Via          int64 // chat joined through; 0: invited or the keeper
}

const (
	bookColumns   = "id, name, created, claimed"
	memberColumns = "id, book, name, keeper, host, platform_user, joined, gone, via"
)

func scanBook(s scanner) (b Book, err error) {
	err = s.Scan(&b.ID, &b.Name, at(&b.Created), &b.Claimed)
	return b, err
}

func scanMember(s scanner) (m Member, err error) {
	err = s.Scan(&m.ID, &m.Book, &m.Name, &m.Keeper, &m.Host, &m.PlatformUser, at(&m.Joined), at(&m.Left), &m.Via)
	return m, err
}

// CreateBook makes an empty book; its first batch will be number 1.
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

// ClaimBook marks that a keeper has taken a book over; ErrNotFound where there is
// none.
func (tx *Tx) ClaimBook(id int64) error {
	return tx.must("UPDATE book SET claimed = 1 WHERE id = ?", id)
}

// AddMember adds a person to a book and gives back the row with its id. The same
// user may be added to several books; access is the caller's to decide.
func (tx *Tx) AddMember(m Member) (Member, error) {
	tx.wrote(shelfMembers, shelfKey{book: m.Book})
	id, err := tx.insert(
		"INSERT INTO member (book, name, keeper, host, platform_user, joined, gone, via) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
		m.Book, m.Name, bit(m.Keeper), bit(m.Host), m.PlatformUser, toText(m.Joined), nullText(m.Left), m.Via)
	m.ID = id
	return m, err
}

// SetMember rewrites a person's name, rights and presence; ErrNotFound where the
// book has no such person.
func (tx *Tx) SetMember(m Member) error {
	tx.wrote(shelfMembers, shelfKey{book: m.Book})
	return tx.must(
		"UPDATE member SET name = ?, keeper = ?, host = ?, platform_user = ?, gone = ?, via = ? WHERE id = ? AND book = ?",
		m.Name, bit(m.Keeper), bit(m.Host), m.PlatformUser, nullText(m.Left), m.Via, m.ID, m.Book)
}

// Member returns a person of a book, present or gone.
func (tx *Tx) Member(book, id int64) (Member, error) {
	return one(tx, scanMember, "SELECT "+memberColumns+" FROM member WHERE id = ? AND book = ?", id, book)
}

// MemberByUser returns the present membership of a platform's user, the newest
// where there are several; ErrNotFound where there is none.
func (tx *Tx) MemberByUser(user int64) (Member, error) {
	return one(tx, scanMember,
		"SELECT "+memberColumns+" FROM member WHERE platform_user = ? AND platform_user <> 0 AND gone IS NULL ORDER BY id DESC LIMIT 1",
		user)
}

// Members returns the present people of a book, in the order they joined.
func (tx *Tx) Members(book int64) ([]Member, error) {
	ms, _, err := remembered(tx, shelfMembers, shelfKey{book: book}, rowsOf[Member], func() ([]Member, error) {
		return all(tx, scanMember, "SELECT "+memberColumns+" FROM member WHERE book = ? AND gone IS NULL ORDER BY id", book)
	})
	return slices.Clone(ms), err
}

// Meta reads a value that belongs to the file, not to a book; false where it was
// never written.
func (tx *Tx) Meta(key string) (string, bool) {
	type found struct {
		value string
		there bool
	}
	f, _, err := remembered(tx, shelfMeta+key, shelfKey{}, oneRow[found], func() (found, error) {
		v, err := one(tx, scanText, "SELECT value FROM meta WHERE key = ?", key)
		if errors.Is(err, ErrNotFound) {
			return found{}, nil
		}
		return found{v, true}, err
	})
	return f.value, err == nil && f.there
}

// SetMeta writes such a value in place of the one before.
func (tx *Tx) SetMeta(key, value string) error {
	tx.wrote(shelfMeta+key, shelfKey{})
	return tx.exec(
		"INSERT INTO meta (key, value) VALUES (?, ?) ON CONFLICT DO UPDATE SET value = excluded.value",
		key, value)
}
