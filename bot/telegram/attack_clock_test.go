package telegram

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"mustbook/bot/telegram/loopback"
	"mustbook/schedule/runner"
	"mustbook/store"
)

// rows is a table of the database as the scripts see it.
func (r *rig) rows(table string) []string {
	r.t.Helper()
	var lines []string
	err := r.db.View(r.t.Context(), func(tx *store.Tx) (err error) {
		lines, err = tx.Dump(table, time.UTC)
		return err
	})
	if err != nil {
		r.t.Fatal(err)
	}
	return lines[1:]
}

// TestClockJumps: the computer's clock leaps by a day and comes back, forwards first
// and then backwards, while the platform's stays right. A reading keeps the
// platform's time, nothing is lost, and what was reminded of is not said again.
func TestClockJumps(t *testing.T) {
	for _, jump := range []time.Duration{24 * time.Hour, -24 * time.Hour} {
		t.Run(jump.String(), func(t *testing.T) {
			o := loopback.Options{}
			right := &clock{step: time.Millisecond, t: time.Date(2026, 9, 12, 18, 30, 0, 0, time.UTC)}
			o.Now = right.now
			r := newCellar(t, o)
			hand, err := runner.New(r.db, runner.Options{Now: r.clock.now, Hand: func(ctx context.Context, tx *store.Tx, book int64, _ []store.Subject, now time.Time) error {
				return r.reminder.Remind(ctx, tx, book, now)
			}})
			if err != nil {
				t.Fatal(err)
			}
			r.start()
			nora, c := r.damson()
			r.hear(nora, c, "#1 pitched")
			pass := func(d time.Duration) { right.add(d); r.clock.add(d) }
			tick := func() {
				if err := hand.Tick(t.Context(), r.clock.now()); err != nil {
					t.Fatal(err)
				}
			}
			say := func(ph int) {
				got := r.hear(nora, c, fmt.Sprintf("#1 ph 3.%02d", ph))
				small(t, "an answer", got.Text)
				want := fmt.Sprintf("%s  ph  3.%02d", right.now().Format("2006-01-02 15:04"), ph)
				if !strings.Contains(r.entries(), want) {
					t.Errorf("no %q in\n%s", want, r.entries())
				}
			}
			for range 3 {
				pass(25 * time.Hour)
				tick()
			}
			say(40)
			r.clock.add(jump)
			tick()
			say(41)
			pass(time.Hour)
			tick()
			r.hear(nora, c, "undo")
			if strings.Contains(r.entries(), "3.41") {
				t.Error("undo takes nothing back while the clock is wrong")
			}
			r.clock.add(-jump)
			tick()
			say(42)
			for range 4 {
				pass(25 * time.Hour)
				tick()
			}
			once := map[string]bool{}
			for _, line := range r.rows("said") {
				f := strings.Fields(line)
				key := strings.Join(append(f[:1:1], f[3:]...), " ") // without the instant
				if once[key] {
					t.Errorf("said twice: %s", line)
				}
				once[key] = true
			}
			if len(once) == 0 {
				t.Error("nothing was ever reminded of: the test looks at nothing")
			}
			if n := len(r.rows("said")); n != len(once) {
				t.Errorf("%d reminders of %d kinds", n, len(once))
			}
			r.alive(nora)
		})
	}
}
