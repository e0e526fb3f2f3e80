package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"sync/atomic"
	"syscall"
	"time"
)

// Options are what the store needs from outside.
type Options struct {
	Now      func() time.Time // may be nil: the store takes instants as arguments
	Rand     io.Reader        // random bytes for button keys
	Log      *slog.Logger     // may be nil
	ReadOnly bool             // open an existing file without changing a byte of it
	Wait     time.Duration    // how long to wait for another's lock; 0: 5 s

	bare bool // migrate without a copy: the file is one
}

// DB is an open book file. Its methods may be called from several goroutines;
// one writes at a time.
type DB struct {
	path  string
	opt   Options
	write *pool // nil where the file is open for reading only
	read  *pool
	held  *os.File
	shelf shelf         // of the writing connection
	turn  chan struct{} // who has it writes

	waiting atomic.Int64 // how many wait for it
	torn    atomic.Bool  // the shelf may have what is not in the file
}

const (
	defaultWait = 5 * time.Second
	readers     = 4
)

// access is what a connection may do. Peeking may write in principle, which a log
// left by a crash needs to be read, but switches nothing in a file that may be
// another program's.
type access int

const (
	peeking access = iota
	reading
	writing
)

// dsn holds every pragma, because one sent with Exec reaches one pooled
// connection only.
func dsn(path string, o Options, as access) string {
	wait := o.Wait
	if wait == 0 {
		wait = defaultWait
	}
	q := "_pragma=foreign_keys(1)&_pragma=busy_timeout(" + strconv.FormatInt(wait.Milliseconds(), 10) + ")"
	switch as {
	case reading:
		q = "mode=ro&" + q
	case writing:
		// A read that turns into a write fails at once under contention, whatever
		// the timeout; taking the write lock at the start makes it wait instead.
		q += "&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=secure_delete(1)&_txlock=immediate"
		// Savepoints and sorting stay in memory: quicker, and no text of anybody is
		// in a temporary file.
		q += "&_pragma=temp_store(2)"
		// A commit that many messages share touches a few hundred pages, each index in
		// many places: they stay in memory until it, and the log takes several such
		// commits before it is brought home.
		q += "&_pragma=cache_size(-8000)&_pragma=wal_autocheckpoint(4000)"
	}
	return "file:" + (&url.URL{Path: path}).EscapedPath() + "?" + q
}

// Open opens the database at path, makes it (readable by its owner alone) where
// it is missing, and brings its schema up to date after a copy. It returns
// ErrNewer, ErrLocked, ErrReadOnly, ErrDamaged, ErrForeign, with ReadOnly ErrOlder
// too, or a fault.
func Open(ctx context.Context, path string, o Options) (*DB, error) {
	db := &DB{path: path, opt: o, turn: make(chan struct{}, 1)}
	if err := db.open(ctx); err != nil {
		return nil, errors.Join(fmt.Errorf("%s: %w", path, err), db.Close())
	}
	return db, nil
}

func (db *DB) open(ctx context.Context) error {
	if db.opt.ReadOnly {
		if _, err := os.Stat(db.path); err != nil {
			return err
		}
	} else {
		fresh, err := touch(db.path)
		if err != nil {
			return err
		}
		if !fresh {
			if err := db.peek(ctx); err != nil {
				return err
			}
		}
		if db.write, err = newPool(dsn(db.path, db.opt, writing), 1); err != nil {
			return err
		}
		if err := db.migrate(ctx, migrations, fresh); err != nil {
			return err
		}
	}
	var err error
	if db.read, err = newPool(dsn(db.path, db.opt, reading), readers); err != nil {
		return err
	}
	if db.opt.ReadOnly {
		return current(ctx, db.read.db)
	}
	return nil
}

// peek looks whether a file is ours and not too new, before anything touches it.
func (db *DB) peek(ctx context.Context) error {
	p, err := newPool(dsn(db.path, db.opt, peeking), 1)
	if err != nil {
		return err
	}
	err = current(ctx, p.db)
	if errors.Is(err, ErrOlder) {
		err = nil
	}
	return errors.Join(err, p.close())
}

// touch makes the file 0600 before SQLite would make it wider. It never opens a
// file that is there: closing it again would drop the locks that this process
// may hold on it.
func touch(path string) (fresh bool, err error) {
	st, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return true, create(path)
	}
	if err != nil {
		return false, err
	}
	if st.IsDir() {
		return false, ErrDamaged
	}
	const writable = 2 // W_OK of access(2)
	if st.Mode().Perm()&0o222 == 0 || syscall.Access(path, writable) != nil {
		return false, ErrReadOnly
	}
	return st.Size() == 0, nil
}

func create(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("%w: %w", ErrReadOnly, err)
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o600)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrReadOnly, err)
	}
	return f.Close()
}

// Path returns the file's path.
func (db *DB) Path() string { return db.path }

// Close closes the file and lets go of what Hold took.
func (db *DB) Close() error {
	err := errors.Join(db.read.close(), db.write.close())
	if db.held != nil {
		err = errors.Join(err, db.held.Close())
		db.held = nil
	}
	return err
}

// Hold takes the lock that keeps a second mustbook off the file until Close;
// ErrHeld where another has it. The system drops it with the process, however
// that ends.
func (db *DB) Hold() error {
	f, err := hold(db.path)
	if err == nil {
		db.held = f
	}
	return err
}

func hold(path string) (*os.File, error) {
	f, err := os.OpenFile(path+".lock", os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrReadOnly, err)
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return nil, ErrHeld
	}
	return f, nil
}

// Checkpoint brings everything into the main file and empties the log beside it,
// so that what was removed is gone from the disk's files too. While somebody
// reads it does what it can.
func (db *DB) Checkpoint(ctx context.Context) error {
	if db.write == nil {
		return ErrReadOnly
	}
	var busy, log, moved int
	err := db.write.db.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &log, &moved)
	return classify(err)
}

// Vacuum rewrites the file without its empty pages and empties the log.
func (db *DB) Vacuum(ctx context.Context) error {
	if db.write == nil {
		return ErrReadOnly
	}
	if _, err := db.write.db.ExecContext(ctx, "VACUUM"); err != nil {
		return classify(err)
	}
	return db.Checkpoint(ctx)
}

// Stats are the numbers of the writing connection, for benchmarks.
func (db *DB) Stats() sql.DBStats {
	if db.write == nil {
		return db.read.db.Stats()
	}
	return db.write.db.Stats()
}
