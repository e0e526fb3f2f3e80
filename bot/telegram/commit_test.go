package telegram

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// TestRoundsInARow has each round begin while the one before is under way, and something
// go wrong in one of them: at once, late, or as a panic. What is good is in the book once
// and in order, and whoever brought it learns that it is stored.
func TestRoundsInARow(t *testing.T) {
	for _, wrong := range []string{"", "bad", "torn", "panics"} {
		for at := range 3 {
			t.Run(fmt.Sprint(wrong, at), func(t *testing.T) {
				r := newRig(t, loopback.Options{}).start()
				nora := r.host("nora")
				r.s.WaitIdle(t)
				r.stop()
				r.talk.errs["bad"] = errors.New("it can't be done")
				r.talk.panics["panics"] = 100
				b, err := newBot(r.cfg)
				if err != nil {
					t.Fatal(err)
				}
				b.flight.ctx = t.Context()
				b.arrivals = make(chan *arrival, 1) // nobody has to wait for the worker's look
				var brought []*arrival
				var want []string
				bring := func(i int) *arrival {
					texts := []string{fmt.Sprint("first of ", i), fmt.Sprint("second of ", i)}
					want = append(want, texts...)
					if wrong != "" && i == at {
						texts = slices.Insert(texts, 1, wrong)
					}
					brought = append(brought, arrived(b, nora, 900+10*i, texts...))
					return brought[i]
				}
				first := bring(0)
				first.stored <- b.takeIn(t.Context(), first)
				inARow, rounds := 0, 0
				for i, quiet := 1, 0; quiet < 4; {
					if i < 12 && len(b.arrivals) == 0 {
						b.arrivals <- bring(i)
						i++
					}
					before := b.air
					n, err := b.round(t.Context())
					if rounds++; rounds > 40 {
						t.Fatalf("it comes to no end: %d, %v", n, err)
					}
					if before != nil && b.air != nil && err == nil {
						inARow++
					}
					if quiet++; n > 0 || i < 12 {
						quiet = 0
					}
				}
				if b.air != nil || len(b.hand) > 0 || inARow == 0 {
					t.Errorf("%d rounds began behind another; under way %v, in hand %d", inARow, b.air, len(b.hand))
				}
				for i, a := range brought {
					if len(a.stored) == 0 {
						t.Errorf("whoever brought %d still waits", i)
					} else if err := <-a.stored; err != nil {
						t.Errorf("stored %d: %v", i, err)
					}
				}
				if got := r.notes(1); !slices.Equal(got, want) {
					t.Errorf("the book holds %q, want %q", got, want)
				}
				err = r.db.View(t.Context(), func(tx *store.Tx) error {
					if n, err := tx.PendingInbox(); n != 0 || err != nil || tx.Offset() != brought[11].offset {
						t.Errorf("%d wait, %v; offset %d", n, err, tx.Offset())
					}
					return nil
				})
				if err != nil {
					t.Fatal(err)
				}
			})
		}
	}
}
