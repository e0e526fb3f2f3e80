package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// How many backups the rotation keeps: a week of days and a month of weeks
// (common practice, no source).
const (
	KeepDaily  = 7
	KeepWeekly = 4
)

const backupName = "mustbook-2006-01-02.db"

// BackupNightly writes the backup of now's day into dir, verified, and rotates the
// older ones away. A day that has its backup is left alone. A backup that turns
// out unsound is reported and nothing is removed.
func (db *DB) BackupNightly(ctx context.Context, dir string, now time.Time) (Report, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return Report{}, err
	}
	// Ignored talk has left the tables but not yet the log; once a night at least
	// it goes.
	if err := db.Checkpoint(ctx); err != nil {
		return Report{}, err
	}
	path := filepath.Join(dir, now.Format(backupName))
	r, err := db.Backup(ctx, path)
	if errors.Is(err, ErrExists) {
		r, err = Verify(ctx, path)
	}
	if err != nil {
		return r, err
	}
	if !r.Sound() {
		return r, fmt.Errorf("%s: %w", path, ErrDamaged)
	}
	_, err = RotateBackups(dir, KeepDaily, KeepWeekly)
	return r, err
}

// Backups returns the paths of the nightly backups in dir, the newest first. Files
// with other names are nobody's business here.
func Backups(dir string) ([]string, error) {
	list, err := os.ReadDir(dir) // sorted by name, which is by day
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var out []string
	for i := len(list) - 1; i >= 0; i-- {
		if _, err := time.Parse(backupName, list[i].Name()); err == nil && list[i].Type().IsRegular() {
			out = append(out, filepath.Join(dir, list[i].Name()))
		}
	}
	return out, nil
}

// RotateBackups keeps the newest backups of dir, daily of them, and of those
// before the newest of each week (Monday to Sunday) for weekly weeks. It removes
// the rest and says which.
func RotateBackups(dir string, daily, weekly int) (removed []string, err error) {
	paths, err := Backups(dir)
	if err != nil || len(paths) <= daily {
		return nil, err
	}
	weeks := map[[2]int]bool{}
	for _, p := range paths[max(daily, 1):] { // the newest always stays
		day, err := time.Parse(backupName, filepath.Base(p))
		if err != nil {
			return removed, err
		}
		year, week := day.ISOWeek()
		key := [2]int{year, week}
		if !weeks[key] && len(weeks) < weekly {
			weeks[key] = true
			continue
		}
		if err := os.Remove(p); err != nil {
			return removed, err
		}
		removed = append(removed, p)
	}
	return removed, nil
}
