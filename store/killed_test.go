package store

import (
	"bytes"
	"database/sql/driver"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"modernc.org/sqlite"
)

// killedEnv names the database that the child of TestKilledInMigration migrates.
const killedEnv, strikeEnv = "KILLED_DATABASE", "KILLED_AT"

// killedMigration changes a table, fills another until it no longer fits into
// memory, and changes the rows that are there; strike, an SQL function of the
// child's, kills the process where it stands.
func killedMigration(at int) string {
	steps := []string{
		"ALTER TABLE book ADD COLUMN motto TEXT NOT NULL DEFAULT 'slowly';",
		"CREATE TABLE heap (n INTEGER PRIMARY KEY, filler BLOB) STRICT;",
		"INSERT INTO heap WITH RECURSIVE c(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM c WHERE n < 4000) SELECT n, zeroblob(3000) FROM c;",
		"UPDATE entry SET typed = 'changed';",
		"DROP TABLE invite;",
	}
	out := ""
	for i, s := range steps {
		if i == at {
			out += "UPDATE book SET name = strike();\n"
		}
		out += s + "\n"
	}
	if at >= len(steps) {
		out += "UPDATE book SET name = strike();\n"
	}
	return out
}

// TestKilledInMigration: SIGKILL at each step of a migration; the file is what it
// was, the copy from before it too, and the next start migrates it whole.
func TestKilledInMigration(t *testing.T) {
	if path := os.Getenv(killedEnv); path != "" {
		migrateAndDie(t, path)
		return
	}
	for at := range 6 {
		w := mustWorld(t)
		w.update(func(tx *Tx) error { w.log(tx, 1.074, noon); w.log(tx, 1.049, noon.AddDate(0, 0, 4)); return nil })
		before := mustDumpAll(t, w.db)
		path := w.db.path
		w.db.Close()

		c := exec.Command(os.Args[0], "-test.run=^TestKilledInMigration$")
		c.Env = append(os.Environ(), killedEnv+"="+path, fmt.Sprint(strikeEnv, "=", at))
		said, err := c.CombinedOutput()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.Sys().(syscall.WaitStatus).Signal() != syscall.SIGKILL {
			t.Fatalf("step %d: the child was not killed: %v\n%s", at, err, said)
		}

		db := mustOpen(t, path)
		if after := mustDumpAll(t, db); !bytes.Equal(before, after) {
			t.Errorf("step %d: the file was changed:\n%s", at, diffLines(before, after))
		}
		more, copy := next(t, "ALTER TABLE book ADD COLUMN motto TEXT NOT NULL DEFAULT 'slowly';")
		if copied := mustDumpAll(t, mustOpen(t, path+copy)); !bytes.Equal(before, copied) {
			t.Errorf("step %d: the copy is another:\n%s", at, diffLines(before, copied))
		}
		if r, err := Verify(ctx, path); err != nil || !r.Sound() || r.Entries != 2 {
			t.Errorf("step %d: %+v, %v", at, r, err)
		}
		if err := db.migrate(ctx, more, false); err != nil {
			t.Errorf("step %d: afterwards: %v", at, err)
		}
	}
}

// migrateAndDie is the child.
func migrateAndDie(t *testing.T, path string) {
	t.Helper()
	sqlite.MustRegisterScalarFunction("strike", 0, func(*sqlite.FunctionContext, []driver.Value) (driver.Value, error) {
		return nil, syscall.Kill(os.Getpid(), syscall.SIGKILL)
	})
	at := 0
	if _, err := fmt.Sscan(os.Getenv(strikeEnv), &at); err != nil {
		t.Fatal(err)
	}
	db := mustOpen(t, path)
	more, _ := next(t, killedMigration(at))
	t.Fatalf("it lived on: %v", db.migrate(ctx, more, false))
}

// TestDamagedLog cuts and spoils the log that a crash leaves beside the database, at
// many places. What was committed before the damage is there, what comes after it is
// not, and the file is sound (SQLite, "Database File Format", section 4: a frame
// counts if its checksum follows from all before it).
func TestDamagedLog(t *testing.T) {
	w := mustWorld(t)
	if err := w.db.Checkpoint(ctx); err != nil {
		t.Fatal(err)
	}
	const commits = 30
	for i := range commits {
		w.update(func(tx *Tx) error { w.log(tx, 1.100-float64(i)/1000, noon.AddDate(0, 0, i)); return nil })
	}
	file, err := os.ReadFile(w.db.path)
	if err != nil {
		t.Fatal(err)
	}
	log, err := os.ReadFile(w.db.path + "-wal")
	if err != nil || len(log) < commits*4096 {
		t.Fatalf("a log of %d bytes, %v", len(log), err)
	}
	left := func(what string, log []byte) int {
		t.Helper()
		path := filepath.Join(t.TempDir(), "book.db")
		if err := errors.Join(os.WriteFile(path, file, 0o600), os.WriteFile(path+"-wal", log, 0o600)); err != nil {
			t.Fatal(err)
		}
		db := mustOpen(t, path)
		n := 0
		mustView(t, db, func(tx *Tx) error {
			es, err := tx.Entries(w.a.ID, w.damson)
			for i, e := range es {
				if want := fmt.Sprintf("%.3f", 1.100-float64(i)/1000); e.Typed != want {
					t.Errorf("%s: entry %d is %s, want %s", what, i, e.Typed, want)
				}
			}
			n = len(es)
			return err
		})
		mustUpdate(t, db, func(tx *Tx) error { return tx.SetMeta("after", "all") }) // it goes on
		db.Close()
		if r, err := Verify(ctx, path); err != nil || !r.Sound() || r.Entries != int64(n) {
			t.Errorf("%s: %+v, %v, %d entries", what, r, err, n)
		}
		return n
	}
	last := 0
	for cut := 0; cut < len(log); cut += len(log)/40 + 7 {
		n := left(fmt.Sprint("cut at ", cut), log[:cut])
		if n < last {
			t.Errorf("cut at %d: %d entries, fewer than of a shorter log", cut, n)
		}
		last = n
		if cut > 0 {
			spoilt := bytes.Clone(log)
			spoilt[cut] ^= 0x10
			if k := left(fmt.Sprint("spoilt at ", cut), spoilt); k != n {
				t.Errorf("spoilt at %d: %d entries, cut there %d", cut, k, n)
			}
		}
	}
	if n := left("whole", log); n != commits {
		t.Errorf("the whole log has %d entries, want %d", n, commits)
	}
	if n := left("with rubbish behind", append(bytes.Clone(log), bytes.Repeat([]byte{0x5a}, 9000)...)); n != commits {
		t.Errorf("with rubbish behind it %d entries, want %d", n, commits)
	}
}
