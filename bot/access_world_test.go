package bot

import (
	"context"
	"io"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

const (
	testCode = "aaaabbbbccccdddd"
	platform = "telegram"
)

func randomBytes(seed byte) io.Reader { return rand.NewChaCha8([32]byte{seed}) }

// world is a database and the access to it.
type world struct {
	t   *testing.T
	db  *store.DB
	a   *Access
	now time.Time
	n   int64 // message ids and sources
}

func newWorld(t *testing.T) *world {
	t.Helper()
	w := &world{t: t, now: time.Date(2026, 9, 12, 18, 30, 0, 0, time.UTC)}
	db, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "book.db"), store.Options{Now: func() time.Time { return w.now }, Rand: randomBytes(2)})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	w.db = db
	w.restart(testCode, false)
	return w
}

// restart is a new run of the program with this code.
func (w *world) restart(code string, anew bool) string {
	w.t.Helper()
	w.n += 1000
	var err error
	if w.a, err = NewAccess(randomBytes(byte(w.n / 1000))); err != nil {
		w.t.Fatal(err)
	}
	w.a.SetBotName("cellar_test_bot")
	w.a.Cry = func(text string, _ bool) (string, bool) { return "call 112", strings.Contains(text, "gas") }
	open, err := w.a.OpenCode(w.t.Context(), w.db, code, anew)
	if err != nil {
		w.t.Fatal(err)
	}
	return open
}

// person and room are who speaks and where.
type person struct {
	id   int64
	name string
}

var (
	nora  = person{11, "Nora"}
	tom   = person{12, "Tom"}
	ines  = person{13, "Ines"}
	mal   = person{66, "Mal"}
	group = int64(-900)
)

// heard is what became of a message.
type heard struct {
	chat    store.Chat
	member  store.Member
	verdict Verdict
	outs    []store.Out // rows made for it, anywhere
}

// to sends a message to a chat; 0 is the private chat.
func (w *world) to(p person, chat int64, text string) heard { return w.send(p, chat, text, nil) }

func (w *world) send(p person, chat int64, text string, change func(*From, *ChatInfo)) heard {
	w.t.Helper()
	w.n++
	from := From{User: p.id, Name: p.name}
	info := ChatInfo{Platform: platform, PlatformID: chat, Group: chat < 0, Title: "Cellar", Text: text, MessageID: w.n, Source: "t:" + text + itoa(w.n), At: w.now, Now: w.now}
	if chat == 0 {
		info.PlatformID = p.id
	}
	if change != nil {
		change(&from, &info)
	}
	var h heard
	w.update(func(tx *store.Tx) error {
		before := lastOut(tx)
		var err error
		if h.chat, h.member, h.verdict, err = w.a.Resolve(w.t.Context(), tx, from, info); err != nil {
			return err
		}
		if h.verdict.What == Pass {
			in := Incoming{Chat: h.chat, Member: h.member, OriginChat: info.PlatformID, MessageID: w.n, Text: text, At: w.now, Now: w.now, Anonymous: from.Anonymous}
			if _, err = w.a.Command(tx, in); err != nil {
				return err
			}
		}
		h.outs = outsSince(tx, before)
		return nil
	})
	return h
}

// press taps the button with the label on a row, as somebody in a chat.
func (w *world) press(p person, out store.Out, label string) heard {
	w.t.Helper()
	w.n++
	var h heard
	w.update(func(tx *store.Tx) error {
		before := lastOut(tx)
		chat, err := tx.Chat(out.Chat)
		if err != nil {
			return err
		}
		h.chat, h.member, h.verdict, err = w.a.Resolve(w.t.Context(), tx, From{User: p.id, Name: p.name},
			ChatInfo{Platform: platform, PlatformID: chat.PlatformID, Group: chat.PlatformID < 0, Source: itoa(w.n), At: w.now, Now: w.now})
		if err != nil || h.verdict.What != Pass {
			return err
		}
		for _, b := range out.Buttons {
			if b.Label == label {
				_, err = w.a.Press(tx, Incoming{Kind: Pressed, Chat: h.chat, Member: h.member, Now: w.now, Callback: itoa(w.n), Button: b.Key}, b.Action)
			}
		}
		h.outs = outsSince(tx, before)
		return err
	})
	return h
}

func (w *world) update(f func(*store.Tx) error) {
	w.t.Helper()
	if err := w.db.Update(context.Background(), f); err != nil {
		w.t.Fatal(err)
	}
}

func lastOut(tx *store.Tx) int64 {
	id := int64(0)
	for {
		if _, err := tx.Out(id + 1); err != nil {
			return id
		}
		id++
	}
}

func outsSince(tx *store.Tx, id int64) []store.Out {
	var out []store.Out
	for {
		id++
		o, err := tx.Out(id)
		if err != nil {
			return out
		}
		out = append(out, o)
	}
}

// said are the texts of what was made for a message, the answers past the book
// included.
func (h heard) said() string {
	var out []string
	for _, o := range h.outs {
		out = append(out, o.Text)
	}
	if h.verdict.Say != "" {
		out = append(out, h.verdict.Say)
	}
	return strings.Join(out, "|")
}

// link asks for a link and says yes twice.
func (w *world) link(p person, what string) string {
	w.t.Helper()
	h := w.to(p, 0, what)
	for _, label := range []string{say.LabelLink, say.LabelYes} {
		if len(h.outs) != 1 || h.payload() != "" {
			w.t.Fatalf("%s: %q before it was asked twice", what, h.said())
		}
		h = w.press(p, h.outs[0], label)
	}
	return h.payload()
}

// invites counts the links that were ever made: each has a button that was pressed.
func (w *world) invites() int {
	n := 0
	w.update(func(tx *store.Tx) error {
		for id := int64(1); ; id++ {
			o, err := tx.Out(id)
			if err != nil {
				return nil
			}
			if strings.Contains(o.Text, "?start=") {
				n++
			}
		}
	})
	return n
}

// payload is the last word of a link.
func (h heard) payload() string {
	_, rest, _ := strings.Cut(h.said(), "?start=")
	p, _, _ := strings.Cut(rest, "\n")
	return p
}

func itoa(n int64) string { return time.Duration(n).String() }

// household is a world with Nora as host and Tom in by a link.
func household(t *testing.T) *world {
	t.Helper()
	w := newWorld(t)
	w.to(nora, 0, testCode)
	link := w.link(nora, "invite")
	if h := w.to(tom, 0, "/start "+link); h.verdict.What != Handled {
		t.Fatalf("the invite did not work: %s", h.said())
	}
	return w
}

func (w *world) mustPass(h heard, book int64) {
	w.t.Helper()
	if h.verdict.What != Pass || h.chat.Book != book || h.member.Book != book {
		w.t.Errorf("verdict %v, chat of book %d, member of book %d; want to pass in book %d", h.verdict, h.chat.Book, h.member.Book, book)
	}
}

func (w *world) mustNot(h heard) {
	w.t.Helper()
	if h.verdict.What == Pass || h.chat.ID != 0 || h.member.ID != 0 {
		w.t.Errorf("let in: %v, chat %d, member %d", h.verdict, h.chat.ID, h.member.ID)
	}
}
