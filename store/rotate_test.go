package store

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// TestRotationOverAYear makes an empty file a day and looks every day at what is
// kept: the last seven days, and a Sunday a week for four weeks before them.
func TestRotationOverAYear(t *testing.T) {
	dir := t.TempDir()
	other := filepath.Join(dir, "holiday.db")
	if err := os.WriteFile(other, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	day := time.Date(2026, 1, 1, 3, 0, 0, 0, time.UTC)
	for i := range 365 {
		if err := os.WriteFile(filepath.Join(dir, day.Format(backupName)), nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := RotateBackups(dir, KeepDaily, KeepWeekly); err != nil {
			t.Fatal(err)
		}
		kept, err := Backups(dir)
		if err != nil {
			t.Fatal(err)
		}
		if i > 50 {
			checkKept(t, kept, day)
		}
		day = day.AddDate(0, 0, 1)
	}
	if _, err := os.Stat(other); err != nil {
		t.Error("a file of another name was removed")
	}
}

func checkKept(t *testing.T, kept []string, today time.Time) {
	t.Helper()
	if len(kept) != KeepDaily+KeepWeekly {
		t.Fatalf("%s: %d kept: %v", today.Format(time.DateOnly), len(kept), kept)
	}
	for i, p := range kept[:KeepDaily] {
		if want := today.AddDate(0, 0, -i).Format(backupName); filepath.Base(p) != want {
			t.Errorf("%s: day %d is %s", today.Format(time.DateOnly), i, p)
		}
	}
	for _, p := range kept[KeepDaily+1:] { // whole weeks
		if d, err := time.Parse(backupName, filepath.Base(p)); err != nil || d.Weekday() != time.Sunday {
			t.Errorf("%s: %s is a %s, %v", today.Format(time.DateOnly), p, d.Weekday(), err)
		}
	}
}

func TestBackupNightly(t *testing.T) {
	w := mustWorld(t)
	dir := filepath.Join(t.TempDir(), "backups")
	for i := range 10 {
		for range 2 { // a restart on the same night
			r, err := w.db.BackupNightly(ctx, dir, noon.AddDate(0, 0, i))
			if err != nil || !r.Sound() {
				t.Fatalf("%+v, %v", r, err)
			}
		}
	}
	kept, err := Backups(dir)
	if err != nil {
		t.Fatal(err)
	}
	// 13 to 22 October 2026, a Tuesday to a Thursday: seven days, and of the three
	// before (13, 14, 15, one week) the newest.
	want := []string{"22", "21", "20", "19", "18", "17", "16", "15"}
	for i := range want {
		want[i] = filepath.Join(dir, "mustbook-2026-10-"+want[i]+".db")
	}
	if d := cmp.Diff(want, kept); d != "" {
		t.Error(d)
	}
	if got, err := Backups(filepath.Join(dir, "none")); err != nil || got != nil {
		t.Errorf("of no folder: %v, %v", got, err)
	}
}

func TestNightlyReportsDamage(t *testing.T) {
	w := mustWorld(t)
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, noon.Format(backupName)), []byte("text that is no database, but that is long enough"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := w.db.BackupNightly(ctx, dir, noon)
	wants(t, "tonight's file is damaged", err, ErrDamaged)
}
