package main

import (
	"context"
	crand "crypto/rand"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"time"

	"mustbook/bot"
	"mustbook/cmd/bench/village"
	"mustbook/store"
)

// perHousehold is how many batches a household of the village has.
const perHousehold = 10

// town is a large file and a small one, with the same households in them.
type town struct {
	b            *bench
	now          time.Time
	large, small *store.DB
	others       map[*store.DB]*store.DB // the same files, opened once more
	distinct     int                     // households that differ; the others are copies of them
	copies       int
	said         int // messages of households long silent
	talk         *bot.Bot
	r            *rand.Rand
}

// scale measures a reply and a tick in a file of a million batches and twenty
// million entries against a file that holds one household.
func scale(ctx context.Context, b *bench) error {
	t := &town{b: b, now: time.Date(2026, 11, 28, 12, 0, 0, 0, time.UTC), r: rand.New(rand.NewPCG(1, 3)), talk: newBot()}
	t.distinct = min(1000, max(1, b.batches/perHousehold/10))
	t.copies = max(1, b.batches/perHousehold/t.distinct)
	if err := t.grow(ctx); err != nil {
		return err
	}
	defer func() {
		for db, other := range t.others {
			other.Close()
			db.Close()
		}
	}()
	for _, f := range []func(context.Context) error{t.newHousehold, t.oldHousehold, t.ticks} {
		if err := f(ctx); err != nil {
			return err
		}
	}
	return nil
}

func (t *town) grow(ctx context.Context) error {
	o := store.Options{Now: time.Now, Rand: crand.Reader}
	v, err := village.New(ctx, t.b.dir, 1)
	if err != nil {
		return err
	}
	size := village.Size{Households: 1, Batches: perHousehold, Now: t.now}
	if _, err := v.Grow(ctx, t.b.file("small.db"), o, size, 1, nil); err != nil {
		return err
	}
	size.Households = t.distinct
	begin := time.Now()
	tally, err := v.Grow(ctx, t.b.file("large.db"), o, size, t.copies, func(done int) {
		if done%10 == 0 {
			t.b.note("%d of %d copies", done, t.copies)
		}
	})
	if err != nil {
		return err
	}
	took := time.Since(begin)
	if t.large, err = store.Open(ctx, t.b.file("large.db"), o); err != nil {
		return err
	}
	if t.small, err = store.Open(ctx, t.b.file("small.db"), o); err != nil {
		return err
	}
	t.others = map[*store.DB]*store.DB{}
	for _, db := range []*store.DB{t.large, t.small} {
		if t.others[db], err = store.Open(ctx, db.Path(), o); err != nil {
			return err
		}
	}
	st, err := os.Stat(t.large.Path())
	if err != nil {
		return err
	}
	t.b.add("large file", fmt.Sprintf("%s households, %s batches, %s entries", thousands(int64(len(tally.Books))), thousands(int64(tally.Batches)), thousands(int64(tally.Entries))), "",
		fmt.Sprintf("made in %s, %s (%s bytes a batch)", took.Round(time.Second), mib(st.Size()), thousands(st.Size()/int64(tally.Batches))))
	return nil
}

// latency is what one message costs, with its commit. Before the clock runs begun is
// called.
func (t *town) latency(ctx context.Context, db *store.DB, talk *bot.Bot, who func(*store.Tx) (*household, error), begun func() error, text string, at time.Time) (time.Duration, error) {
	var h *household
	if err := db.View(ctx, func(tx *store.Tx) (err error) { h, err = who(tx); return err }); err != nil {
		return 0, err
	}
	if err := begun(); err != nil {
		return 0, err
	}
	h.said += at.Unix()
	begin := time.Now()
	err := db.Update(ctx, func(tx *store.Tx) error { return h.say(ctx, tx, talk, text, at) })
	return time.Since(begin), err
}

// like is the aim of what must not cost more in a large file.
const like = "≤ 1.5 ×"

// compare runs f on both files in turns and prints the two, and how much more
// the large one costs where that was promised.
func (t *town) compare(what, aim string, n int, f func(db *store.DB, i int) (time.Duration, error)) error {
	var large, small times
	for i := range n {
		for _, db := range []*store.DB{t.large, t.small} {
			took, err := f(db, i)
			if err != nil {
				return err
			}
			if db == t.large {
				large = append(large, took)
			} else {
				small = append(small, took)
			}
		}
	}
	figure := large.String()
	if aim == like {
		figure += fmt.Sprintf(": %.2f ×", float64(large.median())/float64(small.median()))
	}
	t.b.add(what, figure, aim, "in a file of one household: "+small.String())
	return nil
}

// newHousehold is a reply, commit and all, in a book that was begun just now.
func (t *town) newHousehold(ctx context.Context) error {
	at := t.now.AddDate(0, 0, -30)
	books := map[*store.DB]int64{}
	for _, db := range []*store.DB{t.large, t.small} {
		err := db.Update(ctx, func(tx *store.Tx) error {
			h, err := moveIn(tx, 7, at)
			if err != nil {
				return err
			}
			books[db] = h.book
			return h.fill(tx, "winea", 20, at)
		})
		if err != nil {
			return err
		}
	}
	return t.compare("reply with its commit, a new household", like, t.b.size(300, 5), func(db *store.DB, i int) (time.Duration, error) {
		at := at.AddDate(0, 0, 20).Add(time.Duration(i) * time.Hour)
		return t.latency(ctx, db, t.talk, func(tx *store.Tx) (*household, error) { return hears(tx, books[db]) },
			func() error { return nil }, "winea ph 3.4", at)
	})
}

// forget makes a file's connection drop what it remembers: another one commits.
func (t *town) forget(ctx context.Context, db *store.DB, i int) error {
	return t.others[db].Update(ctx, func(tx *store.Tx) error { return tx.SetMeta("bench", fmt.Sprint(i)) })
}

// oldHousehold is the first message in a long while of a household with ten
// batches, of which the program remembers nothing: with the household's pages in the
// system's memory, and with the whole of either file on the disk alone. The small file
// is there in one go; in the large one each page lies elsewhere.
func (t *town) oldHousehold(ctx context.Context) error {
	for _, c := range []struct {
		what, aim string
		ready     func(db *store.DB, book int64) error
	}{
		{"reply with its commit, ten batches, nothing remembered", like, func(db *store.DB, book int64) error { return look(ctx, db, book) }},
		{"the same, everything on the disk alone", "", func(db *store.DB, _ int64) error { return offMemory(db.Path()) }},
	} {
		pages, kilobytes := map[*store.DB][]int64{}, map[*store.DB][]int64{}
		err := t.compare(c.what, c.aim, t.b.size(200, 5), func(db *store.DB, i int) (time.Duration, error) {
			book := int64(1)
			if db == t.large {
				book += int64(t.distinct) * int64(t.r.IntN(t.copies))
			}
			t.said++
			if err := t.forget(ctx, db, t.said); err != nil {
				return 0, err
			}
			who := func(tx *store.Tx) (*household, error) { return hears(tx, book) }
			var times, bytes int64
			begun := func() (err error) {
				if err = c.ready(db, book); err == nil {
					times, bytes, err = input()
				}
				return err
			}
			at := t.now.Add(time.Duration(t.said) * time.Minute)
			took, err := t.latency(ctx, db, newBot(), who, begun, fmt.Sprintf("#%d note looked at", 1+i%perHousehold), at)
			if err != nil {
				return 0, err
			}
			now, read, err := input()
			pages[db], kilobytes[db] = append(pages[db], now-times), append(kilobytes[db], (read-bytes)>>10)
			return took, err
		})
		if errors.Is(err, errors.ErrUnsupported) {
			continue
		}
		if err != nil {
			return err
		}
		read := func(db *store.DB) string {
			return fmt.Sprintf("median %d pages, %d KB from the disk", middle(pages[db]), middle(kilobytes[db]))
		}
		t.b.add("  read for it", read(t.large), "", "in a file of one household: "+read(t.small))
	}
	return nil
}

func middle(ns []int64) int64 {
	if len(ns) == 0 {
		return 0
	}
	return slices.Sorted(slices.Values(ns))[len(ns)/2]
}

// look reads a household past the connection that writes.
func look(ctx context.Context, db *store.DB, book int64) error {
	return db.View(ctx, func(tx *store.Tx) error {
		for n := range perHousehold + 1 {
			if _, err := tx.Entries(book, n); err != nil {
				return err
			}
		}
		return nil
	})
}
