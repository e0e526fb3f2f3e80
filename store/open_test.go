package store

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"
)

var ctx = context.Background()

func TestOpenMakesAPrivateFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new folder", "book 100%?.db") // what a URL would trip over
	db := mustOpen(t, path)
	mustUpdate(t, db, func(tx *Tx) error { return tx.SetMeta("k", "v") })
	for _, side := range []string{"", "-wal", "-shm"} {
		st, err := os.Stat(path + side)
		if err != nil {
			t.Fatal(err)
		}
		if st.Mode().Perm() != 0o600 {
			t.Errorf("%s%s has mode %o", path, side, st.Mode().Perm())
		}
	}
	if db.Path() != path {
		t.Errorf("path %q", db.Path())
	}
}

// TestPragmas checks on every connection what the design relies on; the numbers are
// those of SQLite's own documentation (synchronous: 2 is FULL).
func TestPragmas(t *testing.T) {
	w := mustWorld(t)
	for pragma, want := range map[string]string{"foreign_keys": "1", "journal_mode": "wal", "synchronous": "2", "secure_delete": "1", "busy_timeout": "5000"} {
		w.update(func(tx *Tx) error {
			got, err := one(tx, scanText, "PRAGMA "+pragma)
			if got != want {
				t.Errorf("writer: %s is %s, want %s", pragma, got, want)
			}
			return err
		})
	}
	conns := make([]*sql.Conn, readers)
	for i := range conns {
		c, err := w.db.read.db.Conn(ctx)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		var on string
		if err := c.QueryRowContext(ctx, "PRAGMA foreign_keys").Scan(&on); err != nil || on != "1" {
			t.Errorf("reader %d: foreign_keys %s, %v", i, on, err)
		}
		if _, err := c.ExecContext(ctx, "DELETE FROM book"); err == nil {
			t.Errorf("reader %d can write", i)
		}
	}
}

func TestOpenRefusals(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string, mode os.FileMode) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, []byte(text), mode); err != nil {
			t.Fatal(err)
		}
		return p
	}
	newer := filepath.Join(dir, "newer.db")
	db := mustOpen(t, newer)
	mustUpdate(t, db, func(tx *Tx) error {
		return tx.exec("INSERT INTO goose_db_version (version_id, is_applied) VALUES (99, 1)")
	})
	db.Close()
	strange := filepath.Join(dir, "strange.db")
	raw, err := sql.Open("sqlite", strange)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := raw.Exec("CREATE TABLE recipe (name TEXT)"); err != nil {
		t.Fatal(err)
	}
	raw.Close()
	for _, c := range []struct {
		name, path string
		want       error
	}{
		{"text", write("notes.db", "sg 1.049 at 21c, and so on for a while, longer than a header is", 0o600), ErrDamaged},
		{"a folder", dir, ErrDamaged},
		{"write-protected", write("protected.db", "", 0o400), ErrReadOnly},
		{"newer", newer, ErrNewer},
		{"another program's", strange, ErrForeign},
		{"below a file", filepath.Join(write("file", "x", 0o600), "book.db"), nil},
	} {
		before, _ := os.ReadFile(c.path)
		for _, o := range []Options{{}, {ReadOnly: true}} {
			if o.ReadOnly && c.want == ErrReadOnly {
				continue // reading is allowed there
			}
			db, err := Open(ctx, c.path, o)
			if err == nil {
				db.Close()
				t.Errorf("%s: opened", c.name)
			} else if c.want != nil && (c.want != ErrDamaged || !o.ReadOnly || c.path != dir) {
				wants(t, c.name, err, c.want)
			}
		}
		if after, _ := os.ReadFile(c.path); string(after) != string(before) {
			t.Errorf("%s: the file was changed by a refusal", c.name)
		}
	}
}

func TestReadOnly(t *testing.T) {
	w := mustWorld(t)
	w.db.Close()
	if _, err := Open(ctx, w.db.path+"x", Options{ReadOnly: true}); err == nil {
		t.Error("a missing file was opened")
	}
	ro, err := Open(ctx, w.db.path, Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer ro.Close()
	mustView(t, ro, func(tx *Tx) error {
		bs, err := tx.Books()
		if len(bs) != 2 {
			t.Errorf("%d books", len(bs))
		}
		wants(t, "writing in a view", tx.SetMeta("k", "v"), ErrReadOnly)
		return err
	})
	wants(t, "update", ro.Update(ctx, func(*Tx) error { return nil }), ErrReadOnly)
	wants(t, "batch", ro.Batch(ctx, []func(*Tx) error{func(*Tx) error { return nil }})[0], ErrReadOnly)
	wants(t, "vacuum", ro.Vacuum(ctx), ErrReadOnly)
	wants(t, "checkpoint", ro.Checkpoint(ctx), ErrReadOnly)
}

func TestReadOnlyNeedsTheSchema(t *testing.T) {
	path := filepath.Join(t.TempDir(), "empty.db")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Open(ctx, path, Options{ReadOnly: true})
	wants(t, "an empty file", err, ErrOlder)
}

func TestLocked(t *testing.T) {
	w := mustWorld(t)
	other, err := Open(ctx, w.db.path, Options{Wait: time.Millisecond})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	w.update(func(*Tx) error {
		err := other.Update(ctx, func(tx *Tx) error { return tx.SetMeta("k", "v") })
		wants(t, "a second writer", err, ErrLocked)
		mustView(t, other, func(tx *Tx) error { _, err := tx.Books(); return err }) // readers go on
		return nil
	})
}

func TestHold(t *testing.T) {
	w := mustWorld(t)
	if err := w.db.Hold(); err != nil {
		t.Fatal(err)
	}
	other := mustOpen(t, w.db.path)
	wants(t, "a second holder", other.Hold(), ErrHeld)
	if err := w.db.Close(); err != nil {
		t.Fatal(err)
	}
	if err := other.Hold(); err != nil {
		t.Errorf("after the first was closed: %v", err)
	}
}

func TestFullDisk(t *testing.T) {
	w := mustWorld(t)
	w.limitPages(2)
	errs := w.db.Batch(ctx, []func(*Tx) error{
		func(tx *Tx) error { return tx.SetMeta("small", "kept") },
		func(tx *Tx) error { return tx.PutForecast(w.a.ID, w.damson, 1, make([]byte, 1<<20)) },
		func(tx *Tx) error { return tx.SetMeta("next", "kept") },
	})
	wants(t, "the large one", errs[1], ErrFull)
	w.view(func(tx *Tx) error {
		for i, key := range map[int]string{0: "small", 2: "next"} {
			// Whether the small ones survive is SQLite's to choose; what counts is
			// that the answer tells the truth.
			if _, kept := tx.Meta(key); kept != (errs[i] == nil) {
				t.Errorf("%s: in the file %v, but the error is %v", key, kept, errs[i])
			}
		}
		return nil
	})
	w.limitPages(1 << 20)
	w.update(func(tx *Tx) error { return tx.PutForecast(w.a.ID, w.damson, 1, make([]byte, 1<<20)) })
}

// limitPages lets the file grow by so many pages and no further.
func (w *world) limitPages(more int64) {
	w.t.Helper()
	var pages, got int64
	d := w.db.write.db
	if err := d.QueryRow("PRAGMA page_count").Scan(&pages); err != nil {
		w.t.Fatal(err)
	}
	if err := d.QueryRow("PRAGMA max_page_count = " + strconv.FormatInt(pages+more, 10)).Scan(&got); err != nil {
		w.t.Fatal(err)
	}
}

func TestDamagedTimeIsTold(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error { return tx.exec("UPDATE book SET created = 'yesterday'") })
	err := w.db.View(ctx, func(tx *Tx) error { _, err := tx.Books(); return err })
	wants(t, "a time that is none", err, ErrDamaged)
}

func TestClosed(t *testing.T) {
	db := mustOpen(t, filepath.Join(t.TempDir(), "book.db"))
	db.Close()
	if err := db.Update(ctx, func(*Tx) error { return nil }); err == nil {
		t.Error("a closed database was written")
	}
}

func TestNoRandomNoButtons(t *testing.T) {
	db, err := Open(ctx, filepath.Join(t.TempDir(), "book.db"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	err = db.Update(ctx, func(tx *Tx) error { return tx.key(&Out{ID: 1, Buttons: []Button{{Label: "Undo"}}}) })
	wants(t, "buttons without random bytes", err, errNoRand)
}
