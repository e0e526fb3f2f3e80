package runner

import (
	"context"
	"testing"
	"time"

	"mustbook/store"
)

func TestNightlyBackup(t *testing.T) {
	db := mustOpen(t)
	mustBooks(t, db, 1, 1, noon)
	dir := t.TempDir()
	r := mustRunner(t, db, Options{Hand: (&settle{}).hand, BackupDir: dir})
	count := func(at time.Time) int {
		t.Helper()
		if err := r.Backup(context.Background(), at); err != nil {
			t.Fatal(err)
		}
		have, err := store.Backups(dir)
		if err != nil {
			t.Fatal(err)
		}
		return len(have)
	}
	day := time.Date(2026, 9, 12, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		at   time.Time
		want int
	}{
		{day.Add(1 * time.Hour), 1},  // there was none at all
		{day.Add(4 * time.Hour), 1},  // the day has its own
		{day.Add(25 * time.Hour), 1}, // before the hour
		{day.Add(27 * time.Hour), 2},
		{day.Add(28 * time.Hour), 2},
		{day.Add(24*5*time.Hour + 9*time.Hour), 3}, // off for days: made up once
	} {
		if got := count(c.at); got != c.want {
			t.Errorf("at %v: %d backups, want %d", c.at, got, c.want)
		}
	}
	for d := 6; d < 90; d++ {
		count(day.AddDate(0, 0, d).Add(3 * time.Hour))
	}
	if got := count(day.AddDate(0, 0, 90)); got > store.KeepDaily+store.KeepWeekly {
		t.Errorf("%d backups are kept", got)
	}
	have, _ := store.Backups(dir)
	if rep, err := store.Verify(context.Background(), have[0]); err != nil || !rep.Sound() {
		t.Errorf("the newest backup: %+v, %v", rep, err)
	}
}
