package bot

import (
	"context"
	"crypto/rand"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"mustbook/ferment"
	"mustbook/store"
)

// BenchmarkReply is a reply's own work (parse, fold, decide, render, write) for a
// batch of 100 readings, without the forecast and the commit, which are measured
// elsewhere: the two extra figures are of the work inside the transaction.
func BenchmarkReply(b *testing.B) {
	for _, others := range []int{0, 4} {
		b.Run(fmt.Sprintf("batches=%d", others+1), func(b *testing.B) { benchReply(b, others) })
	}
}

func benchReply(b *testing.B, others int) {
	ctx := context.Background()
	at := time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)
	db, err := store.Open(ctx, filepath.Join(b.TempDir(), "x.db"), store.Options{Now: time.Now, Rand: rand.Reader})
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	bot := &Bot{Zone: time.LoadLocation, Default: time.UTC, Rand: rand.Reader}
	var m store.Member
	var c store.Chat
	say := func(tx *store.Tx, n int, text string, at time.Time) error {
		return bot.Handle(ctx, tx, Incoming{Chat: c, Member: m, OriginChat: 1, MessageID: int64(n), At: at, Now: at, Text: text, Quick: true})
	}
	n := 0
	err = db.Update(ctx, func(tx *store.Tx) error {
		book, err := tx.CreateBook("home", at)
		if err != nil {
			return err
		}
		if m, err = tx.AddMember(store.Member{Book: book.ID, Name: "nora", Keeper: true, Joined: at}); err != nil {
			return err
		}
		if c, err = tx.PutChat(store.Chat{Book: book.ID, Platform: "script", PlatformID: 1, Kind: "private", Member: m.ID, Admitted: true}); err != nil {
			return err
		}
		for k := range others + 1 {
			name := fmt.Sprintf("wine%c", 'a'+k)
			for _, text := range []string{"new " + name + " white 23 l", name + " sg 1.100 at 20c", name + " pitched"} {
				n++
				if err := say(tx, n, text, at); err != nil {
					return err
				}
			}
			for i := range 100 {
				n++
				if err := say(tx, n, fmt.Sprintf("%s 1.%03d 20c", name, 99-i), at.Add(time.Duration(i+1)*6*time.Hour)); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	b.ResetTimer()
	var took []time.Duration
	for i := range b.N {
		n++
		err = db.Update(ctx, func(tx *store.Tx) error {
			from := time.Now()
			defer func() { took = append(took, time.Since(from)) }()
			return say(tx, n, "winea ph 3.4", at.AddDate(0, 1, 0).Add(time.Duration(i)*time.Second))
		})
		if err != nil {
			b.Fatal(err)
		}
		if i%10 == 9 { // the batch stays what it is: a hundred readings
			b.StopTimer()
			shrink(b, db, m, at)
			b.StartTimer()
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds()), "µs-median")
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds()), "µs-p99")
}

// shrink takes back what was measured.
func shrink(b *testing.B, db *store.DB, m store.Member, at time.Time) {
	err := db.Update(context.Background(), func(tx *store.Tx) error {
		es, err := tx.Entries(m.Book, 1)
		if err != nil {
			return err
		}
		var roots []int64
		for _, e := range es {
			if e.Quantity == ferment.QPH {
				roots = append(roots, e.Root)
			}
		}
		return tx.VoidRoots(m.Book, roots, m.ID, at)
	})
	if err != nil {
		b.Fatal(err)
	}
}
