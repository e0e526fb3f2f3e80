//go:build !storm

package main

import (
	"context"
	"time"
)

// clock is the system's.
func clock() func() time.Time { return time.Now }

// hurry is nothing in an ordinary build: the cron ticks each minute.
func hurry(context.Context, string, func(context.Context, time.Time) error, func() time.Time) {}
