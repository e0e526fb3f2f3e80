package main

import (
	"path/filepath"
	"testing"
	"time"

	"mustbook/bot"
	"mustbook/store"
)

// TestUsedCodeStaysDead restores a backup from before the keeper's code was used.
func TestUsedCodeStaysDead(t *testing.T) {
	c := &cellar{t: t, path: filepath.Join(t.TempDir(), "book.db"), now: time.Date(2026, 10, 3, 18, 0, 0, 0, time.UTC)}
	before := filepath.Join(t.TempDir(), "before.db")
	c.chat("new damson 9 l")
	c.run("", "backup", "--db", c.path, before)
	db, err := store.Open(t.Context(), c.path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Update(t.Context(), func(tx *store.Tx) error { return bot.KeepDead(tx, "mark") }); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	c.run("", "restore", "--db", c.path, "--force", before)
	if got := deadCode(t.Context(), c.path); got != "mark" {
		t.Errorf("after the restore the used code's mark is %q", got)
	}
	c.run("", "restore", "--db", c.path+".new", before)
	if got := deadCode(t.Context(), c.path+".new"); got != "" {
		t.Errorf("at a new place the mark is %q", got)
	}
}
