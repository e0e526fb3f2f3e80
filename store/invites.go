package store

import "time"

// AddInvite keeps the hash of an invite, never the invite: who reads the file cannot
// join. ErrTwice where the hash is there already.
func (tx *Tx) AddInvite(hash []byte, book int64, kind string, expires time.Time, by int64) error {
	return tx.exec(
		"INSERT INTO invite (hash, book, kind, expires, by_member) VALUES (?,?,?,?,?)",
		hash, book, kind, toText(expires), by)
}

// UseInvite uses an invite up and says what it admits to and who made it;
// ErrNotFound or ErrExpired where it cannot be. It belongs into the transaction that
// admits, so that a link admits one person even when two open it at once.
func (tx *Tx) UseInvite(hash []byte, now time.Time) (book int64, kind string, by int64, err error) {
	expires, err := one(tx, func(s scanner) (t time.Time, err error) {
		return t, s.Scan(&book, &kind, &by, at(&t))
	}, "SELECT book, kind, by_member, expires FROM invite WHERE hash = ?", hash)
	if err != nil {
		return 0, "", 0, err
	}
	if now.After(expires) {
		return 0, "", 0, ErrExpired
	}
	return book, kind, by, tx.exec("DELETE FROM invite WHERE hash = ?", hash)
}
