package runner

import (
	"context"
	"path/filepath"
	"strings"
	"time"

	"mustbook/store"
)

// backupFrom is the hour, UTC, from which the night's copy is made.
const backupFrom = 3

// Backup makes the verified copy of the night, once a day, and rotates the older
// ones. Before its hour it waits, unless there is no copy at all.
func (r *Runner) Backup(ctx context.Context, now time.Time) error {
	now = now.UTC()
	have, err := store.Backups(r.o.BackupDir)
	if err != nil {
		return err
	}
	if len(have) > 0 && (now.Hour() < backupFrom || strings.Contains(filepath.Base(have[0]), now.Format(time.DateOnly))) {
		return nil
	}
	_, err = r.db.BackupNightly(ctx, r.o.BackupDir, now)
	return err
}
