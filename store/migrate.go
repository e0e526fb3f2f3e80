package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/pressly/goose/v3"
)

//go:embed migrations/*.sql
var migrations embed.FS

// applicationID is "must" in ASCII; the first migration writes it into the header.
const applicationID = 0x6d757374

// migrate brings the schema up to what the files of fsys know, one file at a
// time, each in its own transaction after a copy. A failed one leaves the
// version before it intact.
func (db *DB) migrate(ctx context.Context, fsys fs.FS, fresh bool) error {
	have, err := schema(ctx, db.write.db)
	if err != nil {
		return err
	}
	p, err := provider(db.write.db, fsys)
	if err != nil {
		return err
	}
	for _, s := range p.ListSources() {
		if s.Version <= have {
			continue
		}
		if !fresh && have > 0 && !db.opt.bare {
			if err := copyBefore(ctx, db.write.db, db.path, s.Version); err != nil {
				return err
			}
		}
		if _, err := p.UpByOne(ctx); err != nil {
			return classify(err)
		}
	}
	return nil
}

func provider(d *sql.DB, fsys fs.FS) (*goose.Provider, error) {
	sub, err := fs.Sub(fsys, "migrations")
	if err != nil {
		return nil, err
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, d, sub, goose.WithDisableGlobalRegistry(true))
	return p, classify(err)
}

// schema reads the version that a file has without writing to it; 0 for an empty
// one, ErrForeign for what another program made.
func schema(ctx context.Context, d *sql.DB) (int64, error) {
	const query = `SELECT COUNT(*), COALESCE(SUM(name = 'goose_db_version'), 0),
		(SELECT application_id FROM pragma_application_id)
		FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite\_%' ESCAPE '\'`
	var tables, versioned, id int64
	if err := d.QueryRowContext(ctx, query).Scan(&tables, &versioned, &id); err != nil {
		return 0, classify(err)
	}
	if tables == versioned {
		return 0, nil // new, or a first start that was cut short
	}
	if versioned == 0 || id != applicationID {
		return 0, ErrForeign
	}
	var have int64
	err := d.QueryRowContext(ctx,
		"SELECT COALESCE(MAX(version_id), 0) FROM goose_db_version WHERE is_applied = 1").Scan(&have)
	return have, classify(err)
}

// current is nil where a file has exactly the schema of this program.
func current(ctx context.Context, d *sql.DB) error {
	have, err := schema(ctx, d)
	if err != nil {
		return err
	}
	p, err := provider(d, migrations)
	if err != nil {
		return err
	}
	sources := p.ListSources()
	switch head := sources[len(sources)-1].Version; {
	case have > head:
		return fmt.Errorf("%w (schema %d, this program knows %d)", ErrNewer, have, head)
	case have < head:
		return fmt.Errorf("%w (schema %d of %d)", ErrOlder, have, head)
	}
	return nil
}

// copyBefore keeps the file as it is before a migration. A copy of an earlier try
// is replaced: the file may have been written since by an older program.
func copyBefore(ctx context.Context, d *sql.DB, path string, version int64) error {
	to := fmt.Sprintf("%s.before-%d", path, version)
	if err := os.Remove(to); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return vacuumInto(ctx, d, to)
}

// vacuumInto writes a copy that its owner alone can read, also while it is being
// written, and leaves nothing behind where it fails.
func vacuumInto(ctx context.Context, d *sql.DB, to string) error {
	f, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o600)
	if err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	_, err = d.ExecContext(ctx, "VACUUM INTO ?", to)
	if err == nil {
		err = syncFile(to)
	}
	if err != nil {
		return errors.Join(classify(err), os.Remove(to))
	}
	return nil
}
