package village

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"time"

	"mustbook/bot"
	"mustbook/ferment"
	"mustbook/store"
)

// taken is one line of a life with what the bot made of it.
type taken struct {
	line
	entries []ferment.Entry // as of the begin of the life; empty: nothing was kept
	outs    []store.Out     // its answers, with their buttons
}

// begin is when the recorded lives start; copies are moved to other days.
var begin = time.Date(2023, 9, 2, 10, 0, 0, 0, time.UTC)

// record speaks lives to the bot, each in a book of its own, and reads back what
// stands in the book afterwards.
func record(ctx context.Context, dir string, seed uint64, lives int) ([][]taken, error) {
	r := rand.New(rand.NewPCG(seed, 1))
	db, err := store.Open(ctx, filepath.Join(dir, "lives.db"), store.Options{Rand: rand.NewChaCha8([32]byte{byte(seed)})})
	if err != nil {
		return nil, err
	}
	defer db.Close()
	b := &bot.Bot{Default: time.UTC, Rand: rand.NewChaCha8([32]byte{byte(seed), 1})}
	out := make([][]taken, lives)
	for i := range out {
		err := db.Update(ctx, func(tx *store.Tx) (err error) {
			out[i], err = recordOne(ctx, tx, b, int64(i+1), life(r))
			return err
		})
		if err != nil {
			return nil, fmt.Errorf("life %d: %w", i, err)
		}
	}
	return out, nil
}

func recordOne(ctx context.Context, tx *store.Tx, b *bot.Bot, n int64, said []line) ([]taken, error) {
	book, err := tx.CreateBook("", begin)
	if err != nil {
		return nil, err
	}
	m, err := tx.AddMember(store.Member{Book: book.ID, Name: "nora", Keeper: true, Joined: begin})
	if err != nil {
		return nil, err
	}
	c, err := tx.PutChat(store.Chat{Book: book.ID, Platform: platform, PlatformID: n, Kind: "private", Member: m.ID, Admitted: true})
	if err != nil {
		return nil, err
	}
	out := make([]taken, len(said))
	for i, l := range said {
		at := begin.Add(l.after)
		in := bot.Incoming{Chat: c, Member: m, OriginChat: n, MessageID: int64(i + 1), At: at, Now: at, Text: l.text, Quick: true}
		if err := b.Handle(ctx, tx, in); err != nil {
			return nil, fmt.Errorf("%q: %w", l.text, err)
		}
		out[i].line = l
		if out[i].outs, err = answers(tx, c.ID, out[:i]); err != nil {
			return nil, err
		}
	}
	for i := range out {
		if out[i].entries, err = kept(tx, book.ID, n, int64(i+1)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// kept is what stands of a message at the end of the life.
func kept(tx *store.Tx, book, origin, message int64) ([]ferment.Entry, error) {
	m, err := tx.MessageByKey(origin, message)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return tx.EntriesOfMessage(book, m.ID)
}

// answers are the rows of the outbox that came since those before, oldest first.
func answers(tx *store.Tx, chat int64, before []taken) ([]store.Out, error) {
	seen := 0
	for _, t := range before {
		seen += len(t.outs)
	}
	all, err := tx.RecentOut(chat, 1000)
	if err != nil {
		return nil, err
	}
	var out []store.Out
	for i := len(all) - seen - 1; i >= 0; i-- {
		out = append(out, all[i])
	}
	return out, nil
}
