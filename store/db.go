package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"github.com/pressly/goose/v3"
	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

//go:embed migrations/*.sql
var migrations embed.FS

// Errors that callers tell apart with errors.Is.
var (
	ErrNotFound = errors.New("not in the book")
	ErrNewer    = errors.New("the database is newer than this program")
	ErrLocked   = errors.New("another program holds the database")
	ErrReadOnly = errors.New("the database cannot be written")
	ErrFull     = errors.New("the disk is full")
	ErrDamaged  = errors.New("the file is not a sound database")
	ErrHeld     = errors.New("mustbook is running on this database already")
	ErrExpired  = errors.New("expired")
)

// Options are what the store needs from outside.
type Options struct {
	Now  func() time.Time
	Rand io.Reader    // random bytes for button keys
	Log  *slog.Logger // may be nil
}

// DB is an open book file. Its methods may be called from several goroutines;
// one writes at a time.
type DB struct {
	path  string
	opt   Options
	write *sql.DB
	read  *sql.DB
	held  *os.File
}

// Tx is one transaction. It is valid only inside the function it was given to.
type Tx struct {
	db  *DB
	tx  *sql.Tx
	ctx context.Context
}

func dsn(path string, readOnly bool) string {
	q := "_pragma=foreign_keys(1)&_pragma=busy_timeout(5000)&_pragma=synchronous(FULL)&_pragma=secure_delete(1)"
	if readOnly {
		return "file:" + (&url.URL{Path: path}).EscapedPath() + "?mode=ro&" + q
	}
	return "file:" + (&url.URL{Path: path}).EscapedPath() + "?" + q + "&_pragma=journal_mode(WAL)&_txlock=immediate"
}

// Open opens the database at path, makes it (readable by its owner alone) where
// it is missing, and brings its schema up to date after a copy. It returns
// ErrNewer, ErrLocked, ErrReadOnly, ErrDamaged or a fault.
func Open(ctx context.Context, path string, o Options) (*DB, error) {
	fresh, err := touch(path)
	if err != nil {
		return nil, err
	}
	w, err := sql.Open("sqlite", dsn(path, false))
	if err != nil {
		return nil, classify(err)
	}
	w.SetMaxOpenConns(1)
	db := &DB{path: path, opt: o, write: w}
	if err := db.migrate(ctx, fresh); err != nil {
		w.Close()
		return nil, err
	}
	if db.read, err = sql.Open("sqlite", dsn(path, true)); err != nil {
		w.Close()
		return nil, classify(err)
	}
	db.read.SetMaxOpenConns(4)
	return db, nil
}

// touch makes the file 0600 before SQLite would make it wider.
func touch(path string) (fresh bool, err error) {
	st, err := os.Stat(path)
	if err == nil {
		if st.Mode().Perm()&0o222 == 0 {
			return false, fmt.Errorf("%s: %w", path, ErrReadOnly)
		}
		return st.Size() == 0, nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return false, err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return false, err
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return false, fmt.Errorf("%w: %v", ErrReadOnly, err)
	}
	return true, f.Close()
}

func (db *DB) migrate(ctx context.Context, fresh bool) error {
	sub, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, db.write, sub, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return classify(err)
	}
	have, err := p.GetDBVersion(ctx)
	if err != nil {
		return classify(err)
	}
	sources := p.ListSources()
	head := sources[len(sources)-1].Version
	if have > head {
		return fmt.Errorf("%s: %w (schema %d, this program knows %d)", db.path, ErrNewer, have, head)
	}
	if have == head {
		return nil
	}
	if !fresh && have > 0 {
		if _, err := db.write.ExecContext(ctx, "VACUUM INTO ?", fmt.Sprintf("%s.before-%d", db.path, head)); err != nil {
			return classify(err)
		}
	}
	_, err = p.Up(ctx)
	return classify(err)
}

// Path returns the file's path.
func (db *DB) Path() string { return db.path }

// Close closes the file.
func (db *DB) Close() error {
	err := errors.Join(db.read.Close(), db.write.Close())
	if db.held != nil {
		db.held.Close()
	}
	return err
}

// Hold takes the lock that keeps a second mustbook off the file until Close;
// ErrHeld where another has it.
func (db *DB) Hold() error {
	f, err := os.OpenFile(db.path+".lock", os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return ErrHeld
	}
	db.held = f
	return nil
}

// Update runs f in one write transaction: all or nothing.
func (db *DB) Update(ctx context.Context, f func(*Tx) error) (err error) {
	t, err := db.write.BeginTx(ctx, nil)
	if err != nil {
		return classify(err)
	}
	tx := &Tx{db: db, tx: t, ctx: ctx}
	defer func() {
		if p := recover(); p != nil {
			t.Rollback()
			panic(p)
		}
	}()
	if err := f(tx); err != nil {
		t.Rollback()
		return classify(err)
	}
	return classify(t.Commit())
}

// Batch runs several messages in one commit, each under its own savepoint: a
// failure or panic undoes only its own. The slice holds an error for each.
func (db *DB) Batch(ctx context.Context, fs []func(*Tx) error) []error {
	errs := make([]error, len(fs))
	err := db.Update(ctx, func(tx *Tx) error {
		for i, f := range fs {
			errs[i] = tx.savepoint(f)
		}
		return nil
	})
	if err != nil {
		for i := range errs {
			errs[i] = err
		}
	}
	return errs
}

func (tx *Tx) savepoint(f func(*Tx) error) (err error) {
	if err := tx.exec("SAVEPOINT one"); err != nil {
		return err
	}
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
		if err != nil {
			if e := tx.exec("ROLLBACK TO one"); e != nil {
				err = errors.Join(err, e)
			}
		}
		if e := tx.exec("RELEASE one"); e != nil && err == nil {
			err = e
		}
	}()
	return f(tx)
}

// View runs f in a read-only transaction on a consistent snapshot.
func (db *DB) View(ctx context.Context, f func(*Tx) error) error {
	t, err := db.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return classify(err)
	}
	defer t.Rollback()
	return classify(f(&Tx{db: db, tx: t, ctx: ctx}))
}

func (tx *Tx) exec(query string, args ...any) error {
	_, err := tx.tx.ExecContext(tx.ctx, query, args...)
	return classify(err)
}

func (tx *Tx) insert(query string, args ...any) (int64, error) {
	r, err := tx.tx.ExecContext(tx.ctx, query, args...)
	if err != nil {
		return 0, classify(err)
	}
	return r.LastInsertId()
}

// changed runs a statement and reports how many rows it changed.
func (tx *Tx) changed(query string, args ...any) (int64, error) {
	r, err := tx.tx.ExecContext(tx.ctx, query, args...)
	if err != nil {
		return 0, classify(err)
	}
	return r.RowsAffected()
}

// classify turns the driver's codes into errors that callers know.
func classify(err error) error {
	var e *sqlite.Error
	if err == nil || !errors.As(err, &e) {
		if errors.Is(err, sql.ErrNoRows) {
			return ErrNotFound
		}
		return err
	}
	switch e.Code() & 0xff {
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return fmt.Errorf("%w: %v", ErrLocked, err)
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM:
		return fmt.Errorf("%w: %v", ErrReadOnly, err)
	case sqlite3.SQLITE_FULL:
		return fmt.Errorf("%w: %v", ErrFull, err)
	case sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT:
		return fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	return err
}

// isUnique reports a clash with a unique key or primary key.
func isUnique(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && (e.Code() == sqlite3.SQLITE_CONSTRAINT_UNIQUE || e.Code() == sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY)
}
