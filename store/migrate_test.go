package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the dump of the newest schema anew")

// released pins what was released: a file that changed would leave the databases
// made with it different from new ones. A change is a new file.
var released = map[string]string{
	"migrations/00001_book.sql":     "a111571ef38b8e0f57101010aee08fad49af556fad4282033ae4f36df594ec91",
	"migrations/00002_together.sql": "1a5e11cd390de07627c8af5a9d0c5aa6ba293f894ef6e2369e3082edb5771112",
	"migrations/00003_buttons.sql":  "cf74184f5893539c3debd6485f9801eee112f91e78f06ce4b178ea6ca7220279",
}

func TestReleasedMigrationsAreUntouched(t *testing.T) {
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil || len(names) != len(released) {
		t.Errorf("%d files, %d pinned: pin the new one (%v)", len(names), len(released), err)
	}
	for _, name := range names {
		b, err := fs.ReadFile(migrations, name)
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(b)
		if got := hex.EncodeToString(sum[:]); got != released[name] {
			t.Errorf("%s has checksum %s", name, got)
		}
	}
}

const dumps1 = "../testdata/db/schema-*.sql"

// TestOldDatabases opens a database of every released schema and looks that it
// becomes what a new one is, with its rows.
func TestOldDatabases(t *testing.T) {
	if *update {
		writeDump(t)
	}
	paths, err := filepath.Glob(dumps1)
	if err != nil || len(paths) != len(released) {
		t.Fatalf("%d dumps for %d schemas (%v)", len(paths), len(released), err)
	}
	fresh := mustSchema(t, mustOpen(t, filepath.Join(t.TempDir(), "fresh.db")))
	for _, p := range paths {
		sql, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		old := filepath.Join(t.TempDir(), "old.db")
		pool, err := newPool("file:"+old, 1)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := pool.db.Exec(string(sql)); err != nil {
			t.Fatalf("%s: %v", p, err)
		}
		pool.close()
		db := mustOpen(t, old)
		if d := cmp.Diff(fresh, mustSchema(t, db)); d != "" {
			t.Errorf("%s: %s", p, d)
		}
		mustView(t, db, func(tx *Tx) error {
			es, err := tx.Entries(1, 1)
			// As the dump was made: one reading and one repaired from 1.049 to 1.026.
			if len(es) != 2 || es[0].Value != 1.074 || es[1].Value != 1.026 {
				t.Errorf("%s: %+v", p, es)
			}
			o, err2 := tx.Out(1)
			if len(o.Buttons) != 1 || o.Buttons[0].Label != "Undo" || string(o.Buttons[0].Action) != "{}" || !o.Buttons[0].Expires.Equal(noon.AddDate(0, 1, 0)) {
				t.Errorf("%s: %+v", p, o.Buttons)
			}
			return errors.Join(err, err2)
		})
		if r, err := db.Backup(ctx, filepath.Join(t.TempDir(), "copy.db")); err != nil || !r.Sound() {
			t.Errorf("%s: %+v, %v", p, r, err)
		}
	}
}

// writeDump makes the dump of the newest schema, with an invented book.
func writeDump(t *testing.T) {
	t.Helper()
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		w.log(tx, 1.074, noon)
		e := w.log(tx, 1.049, noon.AddDate(0, 0, 4))
		e.Value, e.Typed = 1.026, "1.026"
		if _, err := tx.addRow(w.a.ID, EntryRow{Entry: e}); err != nil {
			return err
		}
		_, _, err := tx.Enqueue(Out{Book: w.a.ID, Chat: w.cellar.ID, Source: "m1/1", Kind: "reply", Text: "damson: 1.074", Message: 1, Created: noon,
			Buttons: []Button{{Label: "Undo", Action: []byte("{}"), Expires: noon.AddDate(0, 1, 0)}}})
		return err
	})
	b := bytes.ReplaceAll(mustDumpAll(t, w.db), []byte("CREATE TABLE goose"), []byte("-- What a new file with this schema holds; the data are invented.\nCREATE TABLE goose"))
	if err := os.MkdirAll(filepath.Dir(dumps1), 0o755); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(filepath.Dir(dumps1), fmt.Sprintf("schema-%d.sql", len(released)))
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
}

// next are the migrations that there are and one more, and what the name of the copy
// before it ends in.
func next(t *testing.T, more string) (all fs.FS, before string) {
	t.Helper()
	out := fstest.MapFS{}
	for name := range released {
		b, err := fs.ReadFile(migrations, name)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = &fstest.MapFile{Data: b}
	}
	version := len(released) + 1
	out[fmt.Sprintf("migrations/%05d_next.sql", version)] = &fstest.MapFile{Data: []byte("-- +goose Up\n" + more)}
	return out, fmt.Sprint(".before-", version)
}

func TestMigrationCopiesFirst(t *testing.T) {
	w := mustWorld(t)
	more, copied := next(t, "ALTER TABLE book ADD COLUMN motto TEXT NOT NULL DEFAULT '';")
	copied = w.db.path + copied
	if err := os.WriteFile(copied, []byte("a try that was cut short"), 0o600); err != nil {
		t.Fatal(err)
	}
	before := mustDumpAll(t, w.db)
	if err := w.db.migrate(ctx, more, false); err != nil {
		t.Fatal(err)
	}
	w.update(func(tx *Tx) error { return tx.exec("UPDATE book SET motto = 'slowly'") })
	if st, err := os.Stat(copied); err != nil || st.Mode().Perm() != 0o600 {
		t.Fatalf("the copy: %v, %v", st, err)
	}
	if d := cmp.Diff(string(before), string(mustDumpAll(t, mustOpen(t, copied)))); d != "" {
		t.Error(d)
	}
	w.db.Close()
	_, err := Open(ctx, w.db.path, Options{}) // this program knows one schema only
	wants(t, "after a step back of the program", err, ErrNewer)
}

func TestFailedMigrationChangesNothing(t *testing.T) {
	w := mustWorld(t)
	before := mustDumpAll(t, w.db)
	more, _ := next(t, "ALTER TABLE book ADD COLUMN motto TEXT;\nINSERT INTO nowhere VALUES (1);")
	err := w.db.migrate(ctx, more, false)
	if err == nil {
		t.Fatal("a broken migration passed")
	}
	if after := mustDumpAll(t, w.db); !bytes.Equal(before, after) {
		t.Errorf("half a migration stays:\n%s", diffLines(before, after))
	}
	w.db.Close()
	mustOpen(t, w.db.path)
}

func TestNoCopyOfANewFile(t *testing.T) {
	w := mustWorld(t)
	if names, err := filepath.Glob(w.db.path + ".before-*"); err != nil || len(names) != 0 {
		t.Errorf("copies of nothing: %v, %v", names, err)
	}
}

// TestFirstStartCutShort: the version table alone, as a kill between the first two
// commits leaves it.
func TestFirstStartCutShort(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.db")
	if err := create(path); err != nil {
		t.Fatal(err)
	}
	pool, err := newPool(dsn(path, Options{}, writing), 1)
	if err != nil {
		t.Fatal(err)
	}
	p, err := provider(pool.db, migrations)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.GetDBVersion(ctx); err != nil {
		t.Fatal(err)
	}
	pool.close()
	db := mustOpen(t, path)
	mustUpdate(t, db, func(tx *Tx) error { _, err := tx.CreateBook("north", noon); return err })
}
