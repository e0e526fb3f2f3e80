package store

import (
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestBackup(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error { w.log(tx, 1.049, noon); return nil })
	path := filepath.Join(t.TempDir(), "copy.db")
	r, err := w.db.Backup(ctx, path)
	if err != nil || !r.Sound() || r.Entries != 1 || r.Batches != 2 {
		t.Fatalf("%+v, %v", r, err)
	}
	if st, err := os.Stat(path); err != nil || st.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v", st.Mode(), err)
	}
	if d := cmp.Diff(string(mustDumpAll(t, w.db)), string(mustDumpAll(t, mustOpen(t, path)))); d != "" {
		t.Error(d)
	}
	_, err = w.db.Backup(ctx, path)
	wants(t, "over another", err, ErrExists)
	if _, err := w.db.Backup(ctx, filepath.Join(path, "below", "a file")); err == nil {
		t.Error("written below a file")
	}
}

func TestBackupWhileWriting(t *testing.T) {
	w := mustWorld(t)
	dir := t.TempDir()
	var wg sync.WaitGroup
	stop := make(chan bool)
	wg.Go(func() {
		for {
			select {
			case <-stop:
				return
			default:
				// Both rows of a message or none are in a copy.
				w.update(func(tx *Tx) error { w.log(tx, 1.049, noon); return nil })
			}
		}
	})
	for _, name := range []string{"a.db", "b.db", "c.db"} {
		path := filepath.Join(dir, name)
		if r, err := w.db.Backup(ctx, path); err != nil || !r.Sound() {
			t.Errorf("%+v, %v", r, err)
		}
		db := mustOpen(t, path)
		mustView(t, db, func(tx *Tx) error {
			messages, err := one(tx, scanInt, "SELECT COUNT(*) FROM message")
			entries, err2 := one(tx, scanInt, "SELECT COUNT(*) FROM entry")
			if messages != entries {
				t.Errorf("%d messages, %d entries: half a transaction", messages, entries)
			}
			if err != nil {
				return err
			}
			return err2
		})
	}
	close(stop)
	wg.Wait()
}

func TestVerifyFindsDamage(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		for range 200 {
			w.log(tx, 1.049, noon)
		}
		return nil
	})
	path := filepath.Join(t.TempDir(), "copy.db")
	if _, err := w.db.Backup(ctx, path); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	hurt := func(change func([]byte) []byte) (Report, error) {
		if err := os.WriteFile(path, change(append([]byte(nil), whole...)), 0o600); err != nil {
			t.Fatal(err)
		}
		return Verify(ctx, path)
	}
	if r, err := hurt(func(b []byte) []byte {
		for i := len(b) / 2; i < len(b)/2+9000; i++ {
			b[i] ^= 0xff
		}
		return b
	}); err == nil && r.Sound() {
		t.Error("two spoilt pages were not found")
	}
	_, err = hurt(func(b []byte) []byte { return b[:len(b)/2] })
	wants(t, "half a file", err, ErrDamaged)
	_, err = hurt(func(b []byte) []byte { return []byte("not a database at all, only a line of text that is long") })
	wants(t, "text", err, ErrDamaged)
	if r, err := hurt(func(b []byte) []byte { return b }); err != nil || !r.Sound() {
		t.Errorf("the whole one: %+v, %v", r, err)
	}
	if _, err := Verify(ctx, path+"x"); err == nil {
		t.Error("a missing file was verified")
	}
}

func TestVerifyFindsLostRows(t *testing.T) {
	w := mustWorld(t)
	if _, err := w.db.write.db.Exec("PRAGMA foreign_keys = 0"); err != nil {
		t.Fatal(err)
	}
	w.update(func(tx *Tx) error { return tx.exec("INSERT INTO batch (book, n, created) VALUES (77, 1, '')") })
	r, err := w.db.Backup(ctx, filepath.Join(t.TempDir(), "copy.db"))
	if err != nil || r.ForeignKeys != 1 || r.Sound() {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestRestore(t *testing.T) {
	w := mustWorld(t)
	dir := t.TempDir()
	copied, to := filepath.Join(dir, "copy.db"), filepath.Join(dir, "new.db")
	if _, err := w.db.Backup(ctx, copied); err != nil {
		t.Fatal(err)
	}
	if err := Restore(ctx, copied, to, false); err != nil {
		t.Fatal(err)
	}
	db := mustOpen(t, to)
	if err := db.Hold(); err != nil {
		t.Fatal(err)
	}
	wants(t, "under a running one", Restore(ctx, copied, to, true), ErrHeld)
	mustUpdate(t, db, func(tx *Tx) error { return tx.SetMeta("since", "v") })
	db.Close()
	wants(t, "over one", Restore(ctx, copied, to, false), ErrExists)
	wants(t, "over itself", Restore(ctx, copied, copied, true), ErrExists)
	if err := Restore(ctx, copied, to, true); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]bool{to: false, to + ".before-restore": true} {
		db := mustOpen(t, path)
		mustView(t, db, func(tx *Tx) error {
			if _, ok := tx.Meta("since"); ok != want {
				t.Errorf("%s: has what came after the copy: %v", path, ok)
			}
			return nil
		})
		db.Close()
	}
	left, err := filepath.Glob(filepath.Join(dir, ".*"))
	if err != nil || len(left) != 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// TestRestoreKeepsTheLog: after a crash the last messages may be in the log alone;
// it must go with the file that is moved aside, and never be read as the new one's.
func TestRestoreKeepsTheLog(t *testing.T) {
	w := mustWorld(t)
	dir := t.TempDir()
	copied, to := filepath.Join(dir, "copy.db"), filepath.Join(dir, "crashed.db")
	if _, err := w.db.Backup(ctx, copied); err != nil {
		t.Fatal(err)
	}
	w.update(func(tx *Tx) error { return tx.SetMeta("last", "v") })
	for _, side := range []string{"", "-wal"} { // as a killed process leaves them
		if err := copyFile(w.db.path+side, to+side); err != nil {
			t.Fatal(err)
		}
	}
	if err := Restore(ctx, copied, to, true); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]bool{to: false, to + ".before-restore": true} {
		mustView(t, mustOpen(t, path), func(tx *Tx) error {
			if _, ok := tx.Meta("last"); ok != want {
				t.Errorf("%s: has the last message: %v", path, ok)
			}
			return nil
		})
	}
}

func TestRestoreRefusesDamage(t *testing.T) {
	dir := t.TempDir()
	bad, to := filepath.Join(dir, "bad.db"), filepath.Join(dir, "new.db")
	if err := os.WriteFile(bad, []byte("not a database at all, only a line of text that is long"), 0o600); err != nil {
		t.Fatal(err)
	}
	wants(t, "restoring text", Restore(ctx, bad, to, true), ErrDamaged)
	if _, err := os.Stat(to); err == nil {
		t.Error("something was restored")
	}
}
