package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Report is what a verification found; empty lists mean sound.
type Report struct {
	Integrity   []string // lines of integrity_check that are not "ok"
	ForeignKeys int      // rows that point nowhere
	Entries     int64
	Batches     int64
}

// Sound reports that nothing was found.
func (r Report) Sound() bool { return len(r.Integrity) == 0 && r.ForeignKeys == 0 }

// Backup writes a copy of the open database to path, readable by its owner, while
// messages may come in, and verifies it by opening it again. It overwrites
// nothing: ErrExists.
func (db *DB) Backup(ctx context.Context, path string) (Report, error) {
	err := vacuumInto(ctx, db.read.db, path)
	if errors.Is(err, fs.ErrExist) {
		return Report{}, fmt.Errorf("%s: %w", path, ErrExists)
	}
	if err != nil {
		return Report{}, err
	}
	if err := syncDir(filepath.Dir(path)); err != nil {
		return Report{}, err
	}
	return Verify(ctx, path)
}

// Verify opens a database file read-only and checks it whole. A file that cannot
// be read as ours is an error (ErrDamaged, ErrForeign, ErrNewer, ErrOlder); what is
// wrong inside one is in the report.
func Verify(ctx context.Context, path string) (Report, error) {
	var r Report
	if _, err := os.Stat(path); err != nil {
		return r, err
	}
	p, err := newPool(dsn(path, Options{}, reading), 1)
	if err != nil {
		return r, err
	}
	defer p.close()
	if err := current(ctx, p.db); err != nil && !errors.Is(err, ErrOlder) {
		return r, fmt.Errorf("%s: %w", path, err)
	}
	lines, err := texts(ctx, p.db, "PRAGMA integrity_check")
	if err != nil {
		return r, classify(err)
	}
	for _, l := range lines {
		if l != "ok" {
			r.Integrity = append(r.Integrity, l)
		}
	}
	lost, err := texts(ctx, p.db, `SELECT "table" FROM pragma_foreign_key_check`)
	if err != nil {
		return r, classify(err)
	}
	r.ForeignKeys = len(lost)
	err = p.db.QueryRowContext(ctx,
		"SELECT (SELECT COUNT(*) FROM entry), (SELECT COUNT(*) FROM batch)").Scan(&r.Entries, &r.Batches)
	return r, classify(err)
}

func texts(ctx context.Context, d *sql.DB, query string) ([]string, error) {
	rows, err := d.QueryContext(ctx, query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, rows.Err()
}

// Restore puts a verified backup in the place of a database; it refuses an
// existing one unless forced (ErrExists), and then keeps it beside as
// .before-restore. ErrHeld where mustbook runs on it.
func Restore(ctx context.Context, from, to string, force bool) error {
	r, err := Verify(ctx, from)
	if err != nil {
		return err
	}
	if !r.Sound() {
		return fmt.Errorf("%s: %w", from, ErrDamaged)
	}
	lock, err := hold(to)
	if err != nil {
		return err
	}
	defer lock.Close()
	a, err := os.Stat(from)
	if err != nil {
		return err
	}
	if b, err := os.Stat(to); err == nil {
		if os.SameFile(a, b) || !force {
			return fmt.Errorf("%s: %w", to, ErrExists)
		}
	}
	// The copy is whole on the disk before anything that is there is moved.
	part := filepath.Join(filepath.Dir(to), "."+filepath.Base(to)+".part")
	if err := copyFile(from, part); err != nil {
		return err
	}
	// The log goes with its file: it may hold the last messages before a crash,
	// and beside the restored file it would be taken for that one's.
	for _, side := range []string{"", "-wal", "-shm"} {
		err := os.Rename(to+side, to+".before-restore"+side)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	if err := os.Rename(part, to); err != nil {
		return err
	}
	return syncDir(filepath.Dir(to))
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}

// syncFile asks the disk to keep what was written to a file.
func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// syncDir does the same for the names in a folder.
func syncDir(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
