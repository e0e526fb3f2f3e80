package village

import (
	"context"
	"fmt"
	"math/rand/v2"
	"time"

	"mustbook/ferment"
	"mustbook/store"
)

// platform is the one on which the village speaks.
const platform = "telegram"

// Village knows the lives that batches lead in it.
type Village struct {
	seed  uint64
	lives [][]taken
}

// Lives is how many different batches a village knows.
const Lives = 24

// New has the bot take down the lives of a village, in a file of its own in dir.
// The same seed gives the same village.
func New(ctx context.Context, dir string, seed uint64) (*Village, error) {
	lives, err := record(ctx, dir, seed, Lives)
	if err != nil {
		return nil, err
	}
	return &Village{seed: seed, lives: lives}, nil
}

// Size says how large a village is to be.
type Size struct {
	Households int
	Batches    int       // of each household
	Talk       bool      // the bot's answers and their buttons too
	Now        time.Time // batches were begun in the three years before it
}

// Tally counts what was written. Books are the households in their order.
type Tally struct {
	Books                               []int64
	Batches, Messages, Entries, Answers int
}

// share is how many entries go into a commit: large ones are quick, and the log
// beside the file grows with the largest.
const share = 50_000

// Settle writes households into a file. told, which may be nil, hears after each
// commit how far it is.
func (v *Village) Settle(ctx context.Context, db *store.DB, s Size, told func(Tally)) (Tally, error) {
	w := &settling{v: v, s: s, r: rand.New(rand.NewPCG(v.seed, 2))}
	for w.house < s.Households {
		err := db.Update(ctx, func(tx *store.Tx) error {
			for until := w.t.Entries + share; w.house < s.Households && w.t.Entries < until; {
				if err := w.household(tx); err != nil {
					return fmt.Errorf("household %d: %w", w.house, err)
				}
			}
			return nil
		})
		if err != nil {
			return w.t, err
		}
		if told != nil {
			told(w.t)
		}
	}
	return w.t, nil
}

// settling is a village while it is written.
type settling struct {
	v     *Village
	s     Size
	r     *rand.Rand
	t     Tally
	house int
}

// names of the people.
var names = []string{"nora", "tom", "ines", "jon", "ada", "piet", "mira", "sean", "olga", "raul"}

// span is how far back the first batches were begun.
const span = 3 * 365 * day

func (w *settling) household(tx *store.Tx) error {
	w.house++
	from := w.s.Now.Add(-span)
	book, err := tx.CreateBook(fmt.Sprint("house ", w.house), from)
	if err != nil {
		return err
	}
	h := homestead{settling: w, tx: tx, book: book.ID, origin: int64(1_000_000 + w.house)}
	if h.m, err = tx.AddMember(store.Member{Book: book.ID, Name: names[w.r.IntN(len(names))], Keeper: true, PlatformUser: h.origin, Joined: from}); err != nil {
		return err
	}
	if h.c, err = tx.PutChat(store.Chat{Book: book.ID, Platform: platform, PlatformID: h.origin, Kind: "private", Member: h.m.ID, Admitted: true}); err != nil {
		return err
	}
	w.t.Books = append(w.t.Books, book.ID)
	for range w.s.Batches {
		if err := h.batch(); err != nil {
			return err
		}
	}
	return tx.SetNextDue(store.Subject{Book: book.ID, Kind: "book", N: book.ID, NextDue: w.s.Now.Add(day + time.Duration(w.r.Int64N(int64(30*day))))})
}

// homestead is one household while it is written.
type homestead struct {
	*settling
	tx     *store.Tx
	book   int64
	m      store.Member
	c      store.Chat
	origin int64
	spoken int64
}

// batch copies a life to a day of the three years; what would come after now has
// not happened yet.
func (h *homestead) batch() error {
	began := h.s.Now.Add(-time.Duration(h.r.Int64N(int64(span)))).Truncate(time.Minute)
	n, err := h.tx.NewBatch(h.book, began)
	if err != nil {
		return err
	}
	h.t.Batches++
	roots := map[int64]int64{}
	for _, said := range h.v.lives[h.r.IntN(len(h.v.lives))] {
		at := began.Add(said.after)
		if at.After(h.s.Now) {
			break
		}
		if err := h.say(said, n, at, began.Sub(begin), roots); err != nil {
			return fmt.Errorf("%q: %w", said.text, err)
		}
	}
	return nil
}

// say writes one message with its entries and answers. roots leads from the
// recorded entries to the copies, for those that speak of others.
func (h *homestead) say(said taken, n int, at time.Time, moved time.Duration, roots map[int64]int64) error {
	if len(said.entries) == 0 {
		return nil
	}
	h.spoken++
	m, _, err := h.tx.AddMessage(store.Message{Book: h.book, Chat: h.c.ID, Member: h.m.ID, OriginChat: h.origin, PlatformMessage: h.spoken, Text: said.text, At: at})
	if err != nil {
		return err
	}
	es := make([]ferment.Entry, len(said.entries))
	for i, e := range said.entries {
		e.ID, e.Root, e.Message, e.Author, e.AuthorName = 0, 0, m.ID, h.m.ID, h.m.Name
		e.At, e.TypedAt, e.Of = e.At.Add(moved), e.TypedAt.Add(moved), roots[e.Of]
		if e.Batch != 0 {
			e.Batch = n
		}
		es[i] = e
	}
	if es, err = h.tx.AddEntries(h.book, es); err != nil {
		return err
	}
	for i, e := range es {
		roots[said.entries[i].Root] = e.Root
	}
	h.t.Messages++
	h.t.Entries += len(es)
	if !h.s.Talk {
		return nil
	}
	return h.answer(said, m, n, moved)
}

// answer writes what the bot had said, as it stands after it was sent.
func (h *homestead) answer(said taken, m store.Message, n int, moved time.Duration) error {
	for i, o := range said.outs {
		bs := make([]store.Button, len(o.Buttons))
		for j, b := range o.Buttons {
			bs[j] = store.Button{Label: b.Label, Action: b.Action, Expires: b.Expires.Add(moved)}
		}
		o.Book, o.Chat, o.Source, o.Message, o.Batch, o.Buttons = h.book, h.c.ID, fmt.Sprintf("m%d/%d", m.ID, i+1), m.ID, n, bs
		o.Created, o.NotBefore, o.ReplyTo, o.Edits = o.Created.Add(moved), o.NotBefore.Add(moved), h.spoken, 0
		id, _, err := h.tx.Enqueue(o)
		if err != nil {
			return err
		}
		if err := h.tx.MarkSent(id, h.spoken, o.Created); err != nil {
			return err
		}
		h.t.Answers++
	}
	return nil
}
