package store

import (
	"context"
	"errors"
)

// forgotten lists what Forget removes of a book. Edits go with their message. An
// answer that went out keeps its empty row: it may be under way, or be the one that
// tells of the forgetting by being edited.
var forgotten = []string{
	// Raw updates of the book's chats, by either id of a chat.
	`DELETE FROM inbox WHERE state <> 'new' AND origin_chat IN (SELECT platform_id FROM chat WHERE book = ?1
		UNION SELECT a.platform_id FROM chat_alias a JOIN chat c ON c.id = a.chat WHERE c.book = ?1)`,
	"DELETE FROM question WHERE book = ?1",
	"DELETE FROM focus WHERE chat IN (SELECT id FROM chat WHERE book = ?1)",
	"DELETE FROM outbox WHERE book = ?1 AND state = 'due'",
	"UPDATE outbox SET text = '', buttons = '', render = '', why = '', batch = 0, message = 0 WHERE book = ?1",
	"DELETE FROM said WHERE book = ?1",
	"DELETE FROM subject WHERE book = ?1",
	"DELETE FROM forecast WHERE book = ?1",
	"DELETE FROM photo WHERE book = ?1",
	"DELETE FROM entry WHERE book = ?1",
	"DELETE FROM message WHERE book = ?1",
	"DELETE FROM batch WHERE book = ?1",
	"DELETE FROM invite WHERE book = ?1",
}

// Forget empties a book: entries and their history, messages, photos, what was
// asked, answered and reminded. The empty book, its people and chats stay, because
// they must be told, and may begin anew: its batches are numbered from 1 again.
// Tidy then takes it off the disk. ErrNotFound where there is no such book.
func (tx *Tx) Forget(book int64) error {
	if _, err := tx.Book(book); err != nil {
		return err
	}
	tx.wroteMuch()
	for _, query := range forgotten {
		if err := tx.exec(query, book); err != nil {
			return err
		}
	}
	return tx.SetMeta(metaVacuum, "owed")
}

// metaVacuum stands while the file has pages of which something was forgotten: a
// transaction cannot rewrite the file, and the program may end before somebody can.
const metaVacuum = "vacuum"

// Tidy takes off the disk what was removed: after a Forget the file is rewritten
// without its empty pages, and in any case the log beside it is emptied. It is for
// quiet moments, since nobody can write meanwhile.
func (db *DB) Tidy(ctx context.Context) error {
	owed := false
	err := db.View(ctx, func(tx *Tx) error {
		v, has := tx.Meta(metaVacuum)
		owed = has && v != ""
		return nil
	})
	if err != nil {
		return err
	}
	if !owed {
		return db.Checkpoint(ctx)
	}
	if err := db.Vacuum(ctx); err != nil {
		return err
	}
	if err := db.Update(ctx, func(tx *Tx) error { return tx.SetMeta(metaVacuum, "") }); err != nil {
		return err
	}
	return db.Checkpoint(ctx)
}

// Holds reports whether a book of an open file, a backup perhaps, has anything
// that Forget would remove of its record.
func (tx *Tx) Holds(book int64) (bool, error) {
	n, err := one(tx, scanInt, `SELECT EXISTS (SELECT 1 FROM entry WHERE book = ?1)
		OR EXISTS (SELECT 1 FROM message WHERE book = ?1) OR EXISTS (SELECT 1 FROM photo WHERE book = ?1)
		OR EXISTS (SELECT 1 FROM batch WHERE book = ?1)`, book)
	return n != 0, err
}

// HoldingBackups returns those of the nightly backups in dir that still hold
// something of a book.
func HoldingBackups(ctx context.Context, dir string, book int64) ([]string, error) {
	paths, err := Backups(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, p := range paths {
		held := false
		err := onBackup(ctx, p, func(db *DB) error {
			return db.View(ctx, func(tx *Tx) (err error) { held, err = tx.Holds(book); return err })
		})
		if err != nil {
			return nil, err
		}
		if held {
			out = append(out, p)
		}
	}
	return out, nil
}

// ForgetInBackup removes a book from a backup, from the pages of the file too.
func ForgetInBackup(ctx context.Context, path string, book int64) error {
	return onBackup(ctx, path, func(db *DB) error {
		err := db.Update(ctx, func(tx *Tx) error { return tx.Forget(book) })
		if errors.Is(err, ErrNotFound) {
			return nil
		}
		if err != nil {
			return err
		}
		return db.Tidy(ctx)
	})
}

// onBackup opens a backup for writing, because an old one must be migrated before
// it can be read by book; without the copy that a migration makes, since that
// would hold what is to be forgotten.
func onBackup(ctx context.Context, path string, f func(*DB) error) error {
	db, err := Open(ctx, path, Options{bare: true})
	if err != nil {
		return err
	}
	return errors.Join(f(db), db.Close())
}
