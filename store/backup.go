package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
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
// messages may come in, and verifies it by opening it again.
func (db *DB) Backup(ctx context.Context, path string) (Report, error) {
	if _, err := os.Stat(path); err == nil {
		return Report{}, fmt.Errorf("%s exists; a backup overwrites nothing", path)
	}
	if _, err := db.write.ExecContext(ctx, "VACUUM INTO ?", path); err != nil {
		return Report{}, classify(err)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		return Report{}, err
	}
	return Verify(ctx, path)
}

// Verify opens a database file read-only and checks it whole.
func Verify(ctx context.Context, path string) (Report, error) {
	if _, err := os.Stat(path); err != nil {
		return Report{}, err
	}
	d, err := sql.Open("sqlite", dsn(path, true))
	if err != nil {
		return Report{}, classify(err)
	}
	defer d.Close()
	var r Report
	lines, err := texts(ctx, d, "PRAGMA integrity_check")
	if err != nil {
		return r, classify(err)
	}
	for _, l := range lines {
		if l != "ok" {
			r.Integrity = append(r.Integrity, l)
		}
	}
	lost, err := texts(ctx, d, `SELECT "table" FROM pragma_foreign_key_check`)
	if err != nil {
		return r, classify(err)
	}
	r.ForeignKeys = len(lost)
	err = d.QueryRowContext(ctx, "SELECT (SELECT COUNT(*) FROM entry), (SELECT COUNT(*) FROM batch)").Scan(&r.Entries, &r.Batches)
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

// ErrExists says that a restore would overwrite a database.
var ErrExists = errors.New("a database is there already")

// Restore puts a verified backup in the place of a database; it refuses an
// existing one unless forced, and then keeps it beside as .before-restore.
func Restore(ctx context.Context, from, to string, force bool) error {
	r, err := Verify(ctx, from)
	if err != nil {
		return err
	}
	if !r.Sound() {
		return fmt.Errorf("%s: %w", from, ErrDamaged)
	}
	if _, err := os.Stat(to); err == nil {
		if !force {
			return fmt.Errorf("%s: %w", to, ErrExists)
		}
		if err := os.Rename(to, to+".before-restore"); err != nil {
			return err
		}
	}
	for _, side := range []string{"-wal", "-shm"} {
		if err := os.Remove(to + side); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	return copyFile(from, to)
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	tmp := filepath.Join(filepath.Dir(to), "."+filepath.Base(to)+".part")
	out, err := os.OpenFile(tmp, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	if _, err := io.Copy(out, in); err != nil {
		out.Close()
		return err
	}
	if err := errors.Join(out.Sync(), out.Close()); err != nil {
		return err
	}
	return os.Rename(tmp, to)
}

// Dump returns a table of a book as readable lines, for scripts: its name is one
// of entries, said, outbox.
func (tx *Tx) Dump(table string) ([]string, error) {
	query := map[string]string{
		"entries": "SELECT batch || ' ' || at || ' ' || quantity || ' ' || typed || ' ' || unit || ' ' || deed || ' ' || material FROM entry WHERE live = 1 ORDER BY batch, at, id",
		"said":    "SELECT rule || ' ' || n || ' ' || due FROM said ORDER BY id",
		"outbox":  "SELECT kind || ' ' || state || ' ' || text FROM outbox ORDER BY id",
	}[table]
	if query == "" {
		return nil, ErrNotFound
	}
	lines, err := all(tx, scanText, query)
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	return lines, err
}
