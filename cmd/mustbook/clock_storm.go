//go:build storm

package main

import (
	"context"
	"fmt"
	"os"
	"runtime"
	"time"
)

// clock runs fast where MUSTBOOK_FAST says so: the nanosecond at which it began,
// the unix second that it showed then, and how many seconds pass in one. Only in
// builds with the tag storm, where weeks of a household must fit into minutes.
func clock() func() time.Time {
	var began, shown, speed int64
	if n, _ := fmt.Sscan(os.Getenv("MUSTBOOK_FAST"), &began, &shown, &speed); n != 3 {
		return time.Now
	}
	return func() time.Time {
		return time.Unix(shown, 0).Add(time.Since(time.Unix(0, began)) * time.Duration(speed)).UTC()
	}
}

// hurry ticks more often than the cron does, as a fast clock needs, and writes
// down beside the database how many goroutines and how much heap there are.
func hurry(ctx context.Context, database string, tick func(context.Context, time.Time) error, now func() time.Time) {
	if os.Getenv("MUSTBOOK_FAST") == "" {
		return
	}
	go func() {
		for n := 0; ctx.Err() == nil; n++ {
			tick(ctx, now()) // a failure is told by the cron's ticks
			if n%4 == 0 {
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				os.WriteFile(database+".vitals", fmt.Appendf(nil, "%d %d", runtime.NumGoroutine(), m.HeapInuse), 0o600)
			}
			time.Sleep(250 * time.Millisecond)
		}
	}()
}
