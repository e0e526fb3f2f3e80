package store

import (
	"context"
	"errors"
	"fmt"
	"math/rand"
	"path/filepath"
	"testing"
	"time"

	"mustbook/ferment"
)

// noon is the evening's instant that most tests start from; the data are invented.
var noon = time.Date(2026, 10, 13, 12, 0, 0, 0, time.UTC)

func mustOpen(t testing.TB, path string) *DB {
	t.Helper()
	db, err := Open(context.Background(), path, Options{Rand: rand.New(rand.NewSource(1))})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return db
}

func mustUpdate(t testing.TB, db *DB, f func(*Tx) error) {
	t.Helper()
	if err := db.Update(context.Background(), f); err != nil {
		t.Fatal(err)
	}
}

func mustView(t testing.TB, db *DB, f func(*Tx) error) {
	t.Helper()
	if err := db.View(context.Background(), f); err != nil {
		t.Fatal(err)
	}
}

// wants compares an error with the kind that is expected of it.
func wants(t testing.TB, what string, err, kind error) {
	t.Helper()
	if !errors.Is(err, kind) {
		t.Errorf("%s: got %v, want %v", what, err, kind)
	}
}

// world is a file with two households: whatever the first one's tests do, the
// second one's rows must neither show nor change.
type world struct {
	t       testing.TB
	db      *DB
	a, b    Book
	nora    Member // keeper of a
	tom     Member // of a
	eve     Member // keeper of b
	cellar  Chat   // a's group
	private Chat   // nora's
	shed    Chat   // b's group
	damson  int    // a's first batch
	quince  int    // b's first batch
	next    int64  // platform message ids
}

func mustWorld(t testing.TB) *world {
	t.Helper()
	w := &world{t: t, db: mustOpen(t, filepath.Join(t.TempDir(), "book.db"))}
	w.update(func(tx *Tx) (err error) {
		step := func(e error) { err = errors.Join(err, e) }
		var e error
		w.a, e = tx.CreateBook("north", noon)
		step(e)
		w.b, e = tx.CreateBook("south", noon)
		step(e)
		w.nora, e = tx.AddMember(Member{Book: w.a.ID, Name: "nora", Keeper: true, Host: true, PlatformUser: 71, Joined: noon})
		step(e)
		w.tom, e = tx.AddMember(Member{Book: w.a.ID, Name: "tom", PlatformUser: 72, Joined: noon})
		step(e)
		w.eve, e = tx.AddMember(Member{Book: w.b.ID, Name: "eve", Keeper: true, PlatformUser: 73, Joined: noon})
		step(e)
		w.cellar, e = tx.PutChat(Chat{Book: w.a.ID, Platform: "script", PlatformID: -1, Kind: "group", Title: "Cellar", Admitted: true})
		step(e)
		w.private, e = tx.PutChat(Chat{Book: w.a.ID, Platform: "script", PlatformID: 71, Kind: "private", Member: w.nora.ID, Admitted: true})
		step(e)
		w.shed, e = tx.PutChat(Chat{Book: w.b.ID, Platform: "script", PlatformID: -2, Kind: "group", Title: "Shed", Admitted: true})
		step(e)
		w.damson, e = tx.NewBatch(w.a.ID, noon)
		step(e)
		w.quince, e = tx.NewBatch(w.b.ID, noon)
		step(e)
		return err
	})
	return w
}

func (w *world) update(f func(*Tx) error) { w.t.Helper(); mustUpdate(w.t, w.db, f) }
func (w *world) view(f func(*Tx) error)   { w.t.Helper(); mustView(w.t, w.db, f) }

// say keeps a message of nora's in the cellar.
func (w *world) say(tx *Tx, text string, at time.Time) Message {
	w.t.Helper()
	return w.sayIn(tx, w.cellar, w.nora, text, at)
}

func (w *world) sayIn(tx *Tx, c Chat, m Member, text string, at time.Time) Message {
	w.t.Helper()
	w.next++
	msg, dup, err := tx.AddMessage(Message{Book: c.Book, Chat: c.ID, Member: m.ID, OriginChat: c.PlatformID, PlatformMessage: w.next, Text: text, At: at})
	if err != nil || dup {
		w.t.Fatalf("message %q: dup %v, %v", text, dup, err)
	}
	return msg
}

// gravity is a reading as an entry of a message.
func gravity(m Message, batch, ordinal int, sg float64) ferment.Entry {
	return ferment.Entry{Message: m.ID, Ordinal: ordinal, Batch: batch, Quantity: ferment.QSG, Value: sg, Has: true, Unit: "sg",
		Typed: fmt.Sprintf("%.3f", sg), At: m.At, Author: m.Member, AuthorName: "nora", TypedAt: m.At}
}

// log keeps a reading of the damson and gives its root.
func (w *world) log(tx *Tx, sg float64, at time.Time) ferment.Entry {
	w.t.Helper()
	m := w.say(tx, fmt.Sprintf("sg %.3f", sg), at)
	es, err := tx.AddEntries(w.a.ID, []ferment.Entry{gravity(m, w.damson, 0, sg)})
	if err != nil {
		w.t.Fatal(err)
	}
	return es[0]
}
