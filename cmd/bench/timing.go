package main

import (
	"fmt"
	"slices"
	"syscall"
	"time"
)

// times are how long the same thing took each time.
type times []time.Duration

// quantile is the smallest that a share q of them does not exceed.
func (t times) quantile(q float64) time.Duration {
	s := slices.Sorted(slices.Values(t))
	if len(s) == 0 {
		return 0
	}
	return s[min(int(q*float64(len(s))), len(s)-1)]
}

func (t times) median() time.Duration { return t.quantile(0.5) }

// String gives the median and the 99th percentile.
func (t times) String() string {
	return fmt.Sprintf("median %s, p99 %s", ms(t.median()), ms(t.quantile(0.99)))
}

// repeat runs f n times.
func repeat(n int, f func() error) (times, error) {
	out := make(times, n)
	for i := range out {
		begin := time.Now()
		if err := f(); err != nil {
			return nil, err
		}
		out[i] = time.Since(begin)
	}
	return out, nil
}

func ms(d time.Duration) string {
	v := float64(d) / float64(time.Millisecond)
	switch {
	case v >= 100:
		return fmt.Sprintf("%.0f ms", v)
	case v >= 10:
		return fmt.Sprintf("%.1f ms", v)
	}
	return fmt.Sprintf("%.2f ms", v)
}

func mib(bytes int64) string { return fmt.Sprintf("%.1f MiB", float64(bytes)/(1<<20)) }

// rate is so many a second.
func rate(n int, d time.Duration) string {
	return thousands(int64(float64(n)/d.Seconds())) + "/s"
}

// thousands sets commas.
func thousands(n int64) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// worked is the processor time of this process so far.
func worked() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
