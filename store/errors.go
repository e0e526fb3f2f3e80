package store

import (
	"database/sql"
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Errors that callers tell apart with errors.Is.
var (
	ErrNotFound = errors.New("not in the book")
	ErrNewer    = errors.New("the database is newer than this program")
	ErrOlder    = errors.New("the database must first be opened for writing once")
	ErrLocked   = errors.New("another program holds the database")
	ErrReadOnly = errors.New("the database cannot be written")
	ErrFull     = errors.New("the disk is full")
	ErrDisk     = errors.New("the disk failed")
	ErrDamaged  = errors.New("the file is not a sound database")
	ErrForeign  = errors.New("the file is another program's database")
	ErrHeld     = errors.New("mustbook is running on this database already")
	ErrExpired  = errors.New("expired")
	ErrExists   = errors.New("a database is there already")
	ErrTwice    = errors.New("in the book already")
	ErrNumber   = errors.New("not a finite number")
)

// primary maps SQLite's primary result codes to errors that callers know.
var primary = map[int]error{
	sqlite3.SQLITE_BUSY:     ErrLocked,
	sqlite3.SQLITE_LOCKED:   ErrLocked,
	sqlite3.SQLITE_READONLY: ErrReadOnly,
	sqlite3.SQLITE_CANTOPEN: ErrReadOnly,
	sqlite3.SQLITE_PERM:     ErrReadOnly,
	sqlite3.SQLITE_FULL:     ErrFull,
	sqlite3.SQLITE_IOERR:    ErrDisk,
	sqlite3.SQLITE_NOTADB:   ErrDamaged,
	sqlite3.SQLITE_CORRUPT:  ErrDamaged,
}

// classify puts a name of ours before the driver's error, which stays in the
// chain for the log. Whatever has a name already, or needs none, comes back as
// it is.
func classify(err error) error {
	if err == nil {
		return nil
	}
	if errors.Is(err, sql.ErrNoRows) {
		return ErrNotFound
	}
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return err
	}
	kind, ok := primary[e.Code()&0xff]
	if isUnique(err) {
		kind, ok = ErrTwice, true
	}
	if !ok || errors.Is(err, kind) {
		return err
	}
	return fmt.Errorf("%w: %w", kind, err)
}

// isUnique reports a clash with a unique key or primary key.
func isUnique(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && (e.Code() == sqlite3.SQLITE_CONSTRAINT_UNIQUE ||
		e.Code() == sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY)
}
