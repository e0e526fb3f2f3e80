package main

import (
	"context"
	crand "crypto/rand"
	"fmt"
	"log/slog"
	"time"

	"mustbook/bot"
	"mustbook/ferment"
	"mustbook/store"
)

func zone(name string) (*time.Location, error) { return time.LoadLocation(name) }

// newBot is the conversation as serve has it, but that everybody is let in.
func newBot() *bot.Bot {
	return &bot.Bot{Zone: zone, Default: time.UTC, Rand: crand.Reader, Log: slog.New(slog.DiscardHandler)}
}

func (b *bench) open(ctx context.Context, name string) (*store.DB, error) {
	return store.Open(ctx, b.file(name), store.Options{Now: time.Now, Rand: crand.Reader})
}

// household is a book with one person in a private chat.
type household struct {
	book int64
	m    store.Member
	c    store.Chat
	said int64
}

// moveIn makes a household; key tells its chat from others'.
func moveIn(tx *store.Tx, key int64, at time.Time) (*household, error) {
	book, err := tx.CreateBook("", at)
	if err != nil {
		return nil, err
	}
	h := &household{book: book.ID}
	if h.m, err = tx.AddMember(store.Member{Book: book.ID, Name: "nora", Keeper: true, Joined: at}); err != nil {
		return nil, err
	}
	h.c, err = tx.PutChat(store.Chat{Book: book.ID, Platform: "bench", PlatformID: key, Kind: "private", Member: h.m.ID, Admitted: true})
	return h, err
}

// hears is the household in whose book things stand already.
func hears(tx *store.Tx, book int64) (*household, error) {
	cs, err := tx.Chats(book)
	if err != nil || len(cs) == 0 {
		return nil, fmt.Errorf("book %d has no chat: %v", book, err)
	}
	h := &household{book: book, c: cs[0], said: 1_000_000}
	h.m, err = tx.Member(book, cs[0].Member)
	return h, err
}

// say hands one message to the conversation.
func (h *household) say(ctx context.Context, tx *store.Tx, b *bot.Bot, text string, at time.Time) error {
	h.said++
	return b.Handle(ctx, tx, bot.Incoming{Chat: h.c, Member: h.m, OriginChat: h.c.PlatformID, MessageID: h.said, At: at, Now: at, Text: text, Quick: true})
}

// fill puts a batch of so many readings into the book, past the conversation: only
// what is measured goes through it. They fall by 0.0005 every six hours.
func (h *household) fill(tx *store.Tx, name string, readings int, at time.Time) error {
	n, err := tx.NewBatch(h.book, at)
	if err != nil {
		return err
	}
	h.said++
	m, _, err := tx.AddMessage(store.Message{Book: h.book, Chat: h.c.ID, Member: h.m.ID, OriginChat: h.c.PlatformID, PlatformMessage: h.said, Text: name, At: at})
	if err != nil {
		return err
	}
	es := []ferment.Entry{
		{Quantity: ferment.QNewBatch, Deed: "new batch", Text: name, Type: string(ferment.Country)},
		{Quantity: ferment.QVolume, Value: 23, Has: true, Unit: "L", Typed: "23"},
		{Quantity: ferment.QSG, Value: 1.100, Has: true, Unit: "sg", Typed: "1.100"},
		{Quantity: ferment.QEvent, Deed: ferment.DeedPitched},
	}
	for i := range readings {
		typed := fmt.Sprintf("%.4f", 1.0995-0.0005*float64(i))
		es = append(es, ferment.Entry{Quantity: ferment.QSG, Value: 1.0995 - 0.0005*float64(i), Has: true, Unit: "sg", Typed: typed})
	}
	for i := range es {
		e := &es[i]
		e.Batch, e.Message, e.Ordinal, e.Author, e.AuthorName = n, m.ID, i, h.m.ID, h.m.Name
		e.At, e.TypedAt = at.Add(time.Duration(i)*time.Minute), at.Add(time.Duration(i)*time.Minute)
		if i >= 4 {
			e.At, e.TypedAt = at.Add(time.Duration(i-3)*6*time.Hour), at.Add(time.Duration(i-3)*6*time.Hour)
		}
	}
	_, err = tx.AddEntries(h.book, es)
	return err
}
