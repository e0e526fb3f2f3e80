package telegram

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// arrived makes what a poll brings of texts that a person wrote in private.
func arrived(b *tg, who *loopback.User, id int, texts ...string) *arrival {
	a := &arrival{offset: int64(id + len(texts)), at: b.cfg.Now(), stored: make(chan error, 1)}
	for i, text := range texts {
		raw := fmt.Sprintf(`{"update_id":%d,"message":{"message_id":%d,"date":%d,"chat":{"id":%d,"type":"private"},"from":{"id":%d,"first_name":"nora"},"text":%q}}`,
			id+i, id+i, a.at.Unix(), who.ID, who.ID, text)
		row, _ := b.inRow(json.RawMessage(raw), a.at)
		a.rows = append(a.rows, row)
	}
	return a
}

// TestArrivalsRide: what comes while the worker has messages in hand is stored in their
// commit, and by itself where that is undone; either way whoever brought it learns of it.
func TestArrivalsRide(t *testing.T) {
	for _, word := range []string{"racked", "bad"} {
		t.Run(word, func(t *testing.T) {
			r := newRig(t, loopback.Options{}).start()
			nora := r.host("nora")
			r.s.WaitIdle(t)
			r.stop()
			r.talk.errs["bad"] = errors.New("it can't be done")
			b, err := newBot(r.cfg)
			if err != nil {
				t.Fatal(err)
			}
			b.flight.ctx = t.Context()
			b.arrivals = make(chan *arrival, 2) // nobody has to wait for the worker's look
			first := arrived(b, nora, 900, word)
			if err := b.takeIn(t.Context(), first); err != nil {
				t.Fatal(err)
			}
			second := arrived(b, nora, 910, "pitched", "stirred")
			b.arrivals <- second
			n, err := b.round(t.Context())
			_, landed := b.land(t.Context())
			err = errors.Join(err, landed)
			if n != 1 || (err != nil) != (word == "bad") {
				t.Errorf("a round of %d: %v", n, err)
			}
			select {
			case err := <-second.stored:
				if err != nil {
					t.Errorf("stored: %v", err)
				}
			default:
				t.Fatal("whoever brought it still waits")
			}
			var waiting []store.InRow
			err = r.db.View(t.Context(), func(tx *store.Tx) (err error) {
				waiting, err = tx.NextInbox(10)
				if tx.Offset() != second.offset {
					t.Errorf("offset %d, want %d", tx.Offset(), second.offset)
				}
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
			want := 2
			if word == "bad" {
				want = 3 // it is tried again
			}
			if len(waiting) != want {
				t.Errorf("%d rows wait, want %d", len(waiting), want)
			}
		})
	}
}

// TestArrivalAfterTheWorker: at a stop what was brought is stored all the same.
func TestArrivalAfterTheWorker(t *testing.T) {
	r := newRig(t, loopback.Options{})
	b, err := newBot(r.cfg)
	if err != nil {
		t.Fatal(err)
	}
	nora := r.s.Person("nora")
	for _, taken := range []bool{false, true} { // the worker ends before it takes it, or with it
		b.ended, b.arrivals = make(chan struct{}), make(chan *arrival)
		if taken {
			go func() { <-b.arrivals; close(b.ended) }()
		} else {
			close(b.ended)
		}
		if err := b.bring(t.Context(), arrived(b, nora, 900, "pitched")); err != nil {
			t.Fatal(err)
		}
	}
	err = r.db.View(t.Context(), func(tx *store.Tx) error {
		n, err := tx.PendingInbox()
		if n != 1 {
			t.Errorf("%d rows, want the one", n)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	r.db.Close()
	if err := b.bring(t.Context(), arrived(b, nora, 920, "pitched")); err == nil {
		t.Error("nothing was stored and nobody told")
	}
}
