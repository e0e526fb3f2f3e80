package village

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
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

// Settle writes households into a file, all of them in the order in which they spoke:
// between two rows of a household lie those of all others, as they do in a file that
// was lived in. told, which may be nil, hears after each commit how far it is.
func (v *Village) Settle(ctx context.Context, db *store.DB, s Size, told func(Tally)) (Tally, error) {
	w := &settling{v: v, s: s, r: rand.New(rand.NewPCG(v.seed, 2))}
	err := db.Update(ctx, func(tx *store.Tx) error {
		for range s.Households {
			if err := w.household(tx); err != nil {
				return fmt.Errorf("household %d: %w", len(w.houses), err)
			}
		}
		return nil
	})
	slices.SortStableFunc(w.told, func(a, b spoken) int { return a.at.Compare(b.at) })
	for next := w.told; err == nil && len(next) > 0; {
		err = db.Update(ctx, func(tx *store.Tx) error {
			for until := w.t.Entries + share; len(next) > 0 && w.t.Entries < until; next = next[1:] {
				if err := w.speak(tx, next[0]); err != nil {
					return fmt.Errorf("book %d: %w", next[0].of.book, err)
				}
			}
			return nil
		})
		if err == nil && told != nil {
			told(w.t)
		}
	}
	return w.t, err
}

// settling is a village while it is written.
type settling struct {
	v      *Village
	s      Size
	r      *rand.Rand
	t      Tally
	houses []*homestead
	told   []spoken
}

// names of the people.
var names = []string{"nora", "tom", "ines", "jon", "ada", "piet", "mira", "sean", "olga", "raul"}

// span is how far back the first batches were begun.
const span = 3 * 365 * day

// household makes a book and draws what will be said of its batches.
func (w *settling) household(tx *store.Tx) error {
	house := len(w.houses) + 1
	from := w.s.Now.Add(-span)
	book, err := tx.CreateBook(fmt.Sprint("house ", house), from)
	if err != nil {
		return err
	}
	h := &homestead{book: book.ID, origin: int64(1_000_000 + house)}
	if h.m, err = tx.AddMember(store.Member{Book: book.ID, Name: names[w.r.IntN(len(names))], Keeper: true, PlatformUser: h.origin, Joined: from}); err != nil {
		return err
	}
	if h.c, err = tx.PutChat(store.Chat{Book: book.ID, Platform: platform, PlatformID: h.origin, Kind: "private", Member: h.m.ID, Admitted: true}); err != nil {
		return err
	}
	w.t.Books, w.houses = append(w.t.Books, book.ID), append(w.houses, h)
	for range w.s.Batches {
		w.batch(h)
	}
	return tx.SetNextDue(store.Subject{Book: book.ID, Kind: "book", N: book.ID, NextDue: w.s.Now.Add(day + time.Duration(w.r.Int64N(int64(30*day))))})
}

// homestead is one household while it is written.
type homestead struct {
	book   int64
	m      store.Member
	c      store.Chat
	origin int64
	spoken int64
}

// copied is one batch of a household: a life that began on another day.
type copied struct {
	n     int             // 0: nothing was said yet
	moved time.Duration   // by how much
	roots map[int64]int64 // from the recorded entries to the copies, for those that speak of others
}

// spoken is one line at its instant.
type spoken struct {
	at    time.Time
	of    *homestead
	batch *copied
	said  *taken
}

// batch copies a life to a day of the three years; what would come after now has
// not happened yet.
func (w *settling) batch(h *homestead) {
	began := w.s.Now.Add(-time.Duration(w.r.Int64N(int64(span)))).Truncate(time.Minute)
	b := &copied{moved: began.Sub(begin), roots: map[int64]int64{}}
	w.t.Batches++
	life := w.v.lives[w.r.IntN(len(w.v.lives))]
	for i := range life {
		if at := began.Add(life[i].after); !at.After(w.s.Now) {
			w.told = append(w.told, spoken{at, h, b, &life[i]})
		}
	}
}

// speak writes a line, the first of a batch with its number.
func (w *settling) speak(tx *store.Tx, s spoken) (err error) {
	if s.batch.n == 0 {
		if s.batch.n, err = tx.NewBatch(s.of.book, s.at); err != nil {
			return err
		}
	}
	if err := w.say(tx, s); err != nil {
		return fmt.Errorf("%q: %w", s.said.text, err)
	}
	return nil
}

// say writes one message with its entries and answers.
func (w *settling) say(tx *store.Tx, s spoken) error {
	if len(s.said.entries) == 0 {
		return nil
	}
	h := s.of
	h.spoken++
	m, _, err := tx.AddMessage(store.Message{Book: h.book, Chat: h.c.ID, Member: h.m.ID, OriginChat: h.origin, PlatformMessage: h.spoken, Text: s.said.text, At: s.at})
	if err != nil {
		return err
	}
	es := make([]ferment.Entry, len(s.said.entries))
	for i, e := range s.said.entries {
		e.ID, e.Root, e.Message, e.Author, e.AuthorName = 0, 0, m.ID, h.m.ID, h.m.Name
		e.At, e.TypedAt, e.Of = e.At.Add(s.batch.moved), e.TypedAt.Add(s.batch.moved), s.batch.roots[e.Of]
		if e.Batch != 0 {
			e.Batch = s.batch.n
		}
		es[i] = e
	}
	if es, err = tx.AddEntries(h.book, es); err != nil {
		return err
	}
	for i, e := range es {
		s.batch.roots[s.said.entries[i].Root] = e.Root
	}
	w.t.Messages++
	w.t.Entries += len(es)
	if !w.s.Talk {
		return nil
	}
	return w.answer(tx, s, m)
}

// answer writes what the bot had said, as it stands after it was sent.
func (w *settling) answer(tx *store.Tx, s spoken, m store.Message) error {
	h, moved := s.of, s.batch.moved
	for i, o := range s.said.outs {
		bs := make([]store.Button, len(o.Buttons))
		for j, b := range o.Buttons {
			bs[j] = store.Button{Label: b.Label, Action: b.Action, Expires: b.Expires.Add(moved)}
		}
		o.Book, o.Chat, o.Source, o.Message, o.Batch, o.Buttons = h.book, h.c.ID, fmt.Sprintf("m%d/%d", m.ID, i+1), m.ID, s.batch.n, bs
		o.Created, o.NotBefore, o.ReplyTo, o.Edits = o.Created.Add(moved), o.NotBefore.Add(moved), h.spoken, 0
		id, _, err := tx.Enqueue(o)
		if err != nil {
			return err
		}
		if err := tx.MarkSent(id, h.spoken, o.Created); err != nil {
			return err
		}
		w.t.Answers++
	}
	return nil
}
