package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"time"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// home is a household that speaks in a private chat, and what its book must hold:
// of each message the entries that stand.
type home struct {
	u       *loopback.User
	book    int64
	batches []*batch
	said    []*said
}

// batch is as far as a household thinks of one.
type batch struct {
	n        int
	sg       int // thousandths
	pitched  bool
	messages int
}

// said is one message with what must stand of it; taken back, none of it does.
type said struct {
	id    int
	at    time.Time
	kind  string // what may be done about it later
	n     int
	want  []string
	taken bool
}

// settle makes households with a private chat each, past the conversation.
func settle(ctx context.Context, p *program, n int) ([]*home, error) {
	db, err := store.Open(ctx, p.path, store.Options{})
	if err != nil {
		return nil, err
	}
	defer db.Close()
	var out []*home
	err = db.Update(ctx, func(tx *store.Tx) error {
		for i := range n {
			u := p.s.Person(fmt.Sprint("nora", i))
			b, err := tx.CreateBook("", p.now())
			if err != nil {
				return err
			}
			m, err := tx.AddMember(store.Member{Book: b.ID, Name: u.Name, Keeper: true, Host: i == 0, PlatformUser: u.ID, Joined: p.now()})
			if err != nil {
				return err
			}
			if _, err := tx.PutChat(store.Chat{Book: b.ID, Platform: "telegram", PlatformID: u.ID, Kind: "private", Title: u.Name, Member: m.ID, Admitted: true}); err != nil {
				return err
			}
			if err := tx.ClaimBook(b.ID); err != nil {
				return err
			}
			out = append(out, &home{u: u, book: b.ID})
		}
		return nil
	})
	return out, err
}

// speak does one thing that a household does.
func (h *home) speak(r *rand.Rand) {
	b := h.current(r)
	if b == nil {
		return
	}
	switch k := r.IntN(100); {
	case k < 40:
		h.read(b, r)
	case k < 60:
		ph := 310 + r.IntN(40)
		h.say("ph", b, fmt.Sprintf("#%d ph 3.%02d", b.n, ph-300), fmt.Sprintf("%d ph 3.%02d", b.n, ph-300))
	case k < 70:
		t := 16 + r.IntN(7)
		h.say("temp", b, fmt.Sprintf("#%d temp %dc", b.n, t), fmt.Sprintf("%d temp %d", b.n, t))
	case k < 80:
		text := fmt.Sprintf("label %d torn off", r.IntN(1000))
		h.say("note", b, fmt.Sprintf("#%d note %s", b.n, text), fmt.Sprintf("%d note %s", b.n, text))
	case k < 86:
		h.edit(r)
	case k < 91:
		h.undo()
	case k < 94:
		h.press(r)
	case k < 96:
		h.u.Say(h.u.Private(), "good morning all, lovely weather")
	case k < 99:
		h.u.Say(h.u.Private(), []string{"now", "next", "abv?"}[r.IntN(3)])
	default:
		h.u.Say(h.u.Private(), fmt.Sprintf("graph #%d", b.n))
	}
}

// perBatch is how much is said about a batch before the next is begun.
const perBatch = 40

// current is the batch spoken of now; nil where a new one was begun in its place.
func (h *home) current(r *rand.Rand) *batch {
	if n := len(h.batches); n > 0 && h.batches[n-1].messages < perBatch {
		b := h.batches[max(0, n-1-r.IntN(2))]
		b.messages++
		if !b.pitched {
			b.pitched = true
			h.say("pitched", b, fmt.Sprintf("#%d pitched", b.n), fmt.Sprintf("%d event pitched", b.n))
			return nil
		}
		return b
	}
	b := &batch{n: len(h.batches) + 1, sg: 1090}
	h.batches = append(h.batches, b)
	name := fmt.Sprintf("damson%c%c", 'a'+b.n/26, 'a'+b.n%26)
	h.say("new", b, "new "+name+" 23 l", fmt.Sprintf("%d new_batch %s", b.n, name), fmt.Sprintf("%d volume 23", b.n))
	return nil
}

// read logs a gravity that never rises, at twenty degrees.
func (h *home) read(b *batch, r *rand.Rand) {
	b.sg = max(994, b.sg-r.IntN(5))
	sg := fmt.Sprintf("%d.%03d", b.sg/1000, b.sg%1000)
	h.say("sg", b, fmt.Sprintf("#%d sg %s at 20c", b.n, sg), fmt.Sprintf("%d sg %s", b.n, sg), fmt.Sprintf("%d temp 20", b.n))
}

func (h *home) say(kind string, b *batch, text string, want ...string) {
	s := &said{kind: kind, n: b.n, want: want}
	s.id = h.u.Say(h.u.Private(), text)
	s.at = time.Unix(h.u.Private().Message(s.id).Date, 0)
	h.said = append(h.said, s)
}

// edit changes the text of one of the last messages.
func (h *home) edit(r *rand.Rand) {
	for i := len(h.said) - 1; i >= max(0, len(h.said)-5); i-- {
		if s := h.said[i]; s.kind == "ph" && !s.taken {
			ph := 10 + r.IntN(40)
			s.want = []string{fmt.Sprintf("%d ph 3.%02d", s.n, ph)}
			h.u.Edit(h.u.Private(), s.id, fmt.Sprintf("#%d ph 3.%02d", s.n, ph))
			return
		}
	}
}

// plain may be taken back without ado.
var plain = []string{"ph", "temp", "note"}

// undo takes the newest message back, if it is a plain one and not too old.
func (h *home) undo() {
	s := h.newest()
	if s == nil || !slices.Contains(plain, s.kind) {
		return
	}
	id := h.u.Say(h.u.Private(), "undo")
	if at := time.Unix(h.u.Private().Message(id).Date, 0); at.Sub(s.at) < 47*time.Hour {
		s.taken = true
	}
}

// newest is the last message of which something stands.
func (h *home) newest() *said {
	for i := len(h.said) - 1; i >= 0; i-- {
		if !h.said[i].taken {
			return h.said[i]
		}
	}
	return nil
}

// press taps Undo under the answer to one of the last messages, if it is there
// already; twice now and then, as an impatient thumb does.
func (h *home) press(r *rand.Rand) {
	if len(h.said) == 0 {
		return
	}
	s := h.said[max(0, len(h.said)-1-r.IntN(3))]
	if s.taken || !slices.Contains(plain, s.kind) {
		return
	}
	c := h.u.Private()
	for _, m := range slices.Backward(c.FromBot()) {
		if m.ReplyTo != s.id || !slices.Contains(m.Labels(), "Undo") {
			continue
		}
		h.u.Press(c, m.ID, "Undo")
		if r.IntN(4) == 0 {
			h.u.Press(c, m.ID, "Undo")
		}
		s.taken = true
		return
	}
}
