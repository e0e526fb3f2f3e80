package main

import (
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var whole = flag.Bool("whole", false, "measure the built program too, which takes two links")

// TestEveryFigure runs the parts on a small scale: each figure that is promised has
// a line, its aim and its baseline. What the figures are is not asserted.
func TestEveryFigure(t *testing.T) {
	t.Chdir(filepath.Join("..", ".."))
	figures := map[string][]string{
		"reply":    {"reply's own work, batch of 100 readings .*median ≤ 1 ms, p99 ≤ 5 ms .*without readings"},
		"forecast": {"forecast, one posterior.*≤ 10 ms .*fold", "with the stuck test.*≤ 40 ms .*fold"},
		"chart":    {"chart.*≤ 50 ms .*PNG"},
		"path":     {"durable whole path.*one insert a commit: ", "library's own loop: ", "processor time a message.*one insert: "},
		"scale": {"reply with its commit, a new household.*≤ 1.5 × .*one household", "nothing remembered.*≤ 1.5 × .*one household", "on the disk alone.*one household", "read for it.*pages.*one household",
			"tick, .*due, .*≤ 250 ms .*one household", "an evening's reminders made.*one household", "a household of it.*the platform takes"},
	}
	if *whole {
		figures["hear"] = []string{"hear --json.*≥ 20,000/s .*encoding/json"}
		figures["start"] = []string{"start to first poll.*≤ 150 ms .*only polls", "resident memory.*≤ 40 MiB ", "binary.*≤ 40 MiB "}
	}
	for part, lines := range figures {
		var out strings.Builder
		if err := run(t.Context(), &out, io.Discard, []string{"-small", "-batches", "100", "-only", part, "-dir", t.TempDir()}); err != nil {
			t.Fatalf("%s: %v", part, err)
		}
		for _, want := range lines {
			if !found(out.String(), want) {
				t.Errorf("no line like %q in\n%s", want, out.String())
			}
		}
	}
}

// found says whether a line has these parts in this order.
func found(text, want string) bool {
	for line := range strings.Lines(text) {
		rest, ok := line, true
		for _, part := range strings.Split(want, ".*") {
			var has bool
			_, rest, has = strings.Cut(rest, part)
			ok = ok && has
		}
		if ok {
			return true
		}
	}
	return false
}

func TestParts(t *testing.T) {
	if ps, err := choose("hear,reply"); err != nil || len(ps) != 2 || ps[0].name != "hear" {
		t.Errorf("%v, %v", ps, err)
	}
	if _, err := choose("hear,here"); err == nil || !strings.Contains(err.Error(), "reply, hear") {
		t.Errorf("an unknown part: %v", err)
	}
}

func TestQuantiles(t *testing.T) {
	var ts times
	for i := 100; i >= 1; i-- {
		ts = append(ts, time.Duration(i)*time.Millisecond)
	}
	if ts.median() != 51*time.Millisecond || ts.quantile(0.99) != 100*time.Millisecond || ts.quantile(0) != time.Millisecond || (times{}).median() != 0 {
		t.Errorf("%v %v", ts.median(), ts.quantile(0.99))
	}
}

func TestNumbers(t *testing.T) {
	for n, want := range map[int64]string{0: "0", 999: "999", 1000: "1,000", 20_000_000: "20,000,000"} {
		if got := thousands(n); got != want {
			t.Errorf("%d: %s", n, got)
		}
	}
	for d, want := range map[time.Duration]string{1234 * time.Microsecond: "1.23 ms", 12345 * time.Microsecond: "12.3 ms", 250 * time.Millisecond: "250 ms"} {
		if got := ms(d); got != want {
			t.Errorf("%v: %s, want %s", d, got, want)
		}
	}
	if kept, err := resident(os.Getpid()); err != nil || kept < 1<<20 {
		t.Errorf("own memory %d, %v", kept, err)
	}
}
