package telegram

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// button is the callback data of the newest button in a chat with that label.
func (r *rig) button(c *loopback.Chat, label string) (id int, data string) {
	r.t.Helper()
	for _, m := range c.FromBot() {
		for _, row := range m.Buttons {
			for _, b := range row {
				if b.Text == label {
					id, data = m.ID, b.Data
				}
			}
		}
	}
	if data == "" {
		r.t.Fatalf("no button %q in %q", label, texts(c.FromBot()))
	}
	return id, data
}

// same fails where the book is another than before.
func (r *rig) same(what, before string) {
	r.t.Helper()
	if after := r.entries(); after != before {
		r.t.Errorf("%s: the book was\n%s\nand is\n%s", what, before, after)
	}
}

// over waits until everything that was sent has been handled: the worker goes in
// order, so an answer to a later message says so. The flood's bounds start anew.
func (r *rig) over(u *loopback.User) {
	r.t.Helper()
	r.clock.add(time.Hour)
	r.hear(u, u.Private(), "help")
}

// alive says a reading that must be kept, after whatever went before.
func (r *rig) alive(u *loopback.User) {
	r.t.Helper()
	r.clock.add(time.Hour)
	c := u.Private()
	before := strings.Count(r.entries(), " ph ")
	r.hear(u, c, "#1 ph 3.40")
	if n := strings.Count(r.entries(), " ph "); n != before+1 {
		r.t.Errorf("afterwards a reading is no longer kept: %q", texts(c.FromBot())[len(c.FromBot())-1])
	}
}

// TestPressesMadeUp: what a client sends as the data of a button is its own to
// choose (Bot API, CallbackQuery: "can be used by a bad client to send arbitrary
// data").
func TestPressesMadeUp(t *testing.T) {
	r := newCellar(t, loopback.Options{}).start()
	nora, c := r.damson()
	id, real := r.button(c, "Undo")
	before := r.entries()
	for _, data := range []string{"undo", `{"do":"undo","message":1}`, `{"do":"forget"}`, "1", "-1", "0", "' OR 1=1 --", "\u0000", "../../book.db",
		strings.ToUpper(real) + "x", real[:len(real)-1], real + real, real + " ", " " + real, strings.Repeat("a", 64), strings.Repeat("k", 5000), "דמסון", "\U0001f377"} {
		press := nora.PressData(c, id, data)
		r.s.Wait(t, "the end of the press", func() bool { return r.s.Answered(press) })
	}
	r.same("made-up presses", before)
	for _, raw := range []string{`{"id":"x1","from":{"id":%d},"data":"K"}`, `{"id":"x2","from":{"id":%d},"message":{"message_id":0,"chat":{"id":%d},"date":0},"data":"K"}`,
		`{"id":"x3","from":{"id":%d},"message":{"message_id":3,"chat":{"id":-77,"type":"group"}},"data":"K"}`, `{"id":{},"from":{"id":%d},"data":"K"}`, `{"id":"x5","data":"K"}`,
		`{"id":"x6","from":{"id":%d},"inline_message_id":"7","data":["K"]}`, `{"id":"x7","from":{"id":%d},"game_short_name":"g"}`} {
		user, _ := json.Marshal(nora.ID)
		raw = strings.ReplaceAll(strings.ReplaceAll(raw, "%d", string(user)), `"K"`, `"`+real+`"`)
		if !strings.Contains(raw, `"x2"`) { // a message out of the bot's reach has its chat still: that press is one
			r.s.Raw("callback_query", raw)
		}
	}
	r.over(nora)
	r.same("presses without a place", before)
	r.alive(nora)
}

// TestPressesReplayed: one press does its work once, however often the platform
// delivers it, and a second press of the same button finds it done.
func TestPressesReplayed(t *testing.T) {
	r := newCellar(t, loopback.Options{}).start()
	nora, c := r.damson()
	r.clock.add(time.Hour)
	id, undo := r.button(c, "Undo")
	first := nora.PressData(c, id, undo)
	r.s.Wait(t, "the first press", func() bool { return r.s.Answered(first) })
	before := r.entries()
	if strings.Contains(before, "1.086") {
		t.Errorf("the first press took nothing back:\n%s", before)
	}
	r.s.Again(1)
	for range 5 {
		p := nora.PressData(c, id, undo)
		r.s.Wait(t, "a further press", func() bool { return r.s.Answered(p) })
	}
	r.same("replayed", before)
	r.clock.add(60 * 24 * time.Hour) // buttons are dead by then
	p := nora.PressData(c, id, undo)
	r.s.Wait(t, "an old press", func() bool { return r.s.Answered(p) })
	r.same("pressed after two months", before)
	r.alive(nora)
}

// TestPressesOfOthers: a key that was seen elsewhere opens nothing, neither for a
// stranger nor for another household nor in another chat of one's own.
func TestPressesOfOthers(t *testing.T) {
	r := newCellar(t, loopback.Options{CanRead: true}).start()
	nora, c := r.damson()
	id, undo := r.button(c, "Undo")
	mal, ines := r.s.Person("mal"), r.s.Person("ines")
	r.household(ines)
	mal.Say(mal.Private(), "hello")
	ines.Say(ines.Private(), "new elder 5 l")
	ines.Private().WaitBot(t, 1)
	g := r.s.Group("Cellar", nora)
	nora.AddBot(g)
	seen := g.WaitBot(t, 1)[0].ID
	before := r.entries()
	for _, p := range []struct {
		u  *loopback.User
		c  *loopback.Chat
		id int
	}{{mal, mal.Private(), 1}, {mal, c, id}, {ines, ines.Private(), 1}, {ines, c, id}, {nora, g, seen}, {mal, g, seen}, {ines, g, seen}} {
		p.u.PressData(p.c, p.id, undo)
	}
	r.over(nora)
	r.same("pressed by others", before)
	r.alive(nora)
}

// household puts a second household with a private chat into the file.
func (r *rig) household(u *loopback.User) {
	r.t.Helper()
	err := r.db.Update(r.t.Context(), func(tx *store.Tx) error {
		b, err := tx.CreateBook("", r.clock.now())
		if err != nil {
			return err
		}
		m, err := tx.AddMember(store.Member{Book: b.ID, Name: u.Name, Keeper: true, PlatformUser: u.ID, Joined: r.clock.now()})
		if err != nil {
			return err
		}
		if _, err := tx.PutChat(store.Chat{Book: b.ID, Platform: platform, PlatformID: u.ID, Kind: "private", Title: u.Name, Member: m.ID, Admitted: true}); err != nil {
			return err
		}
		return tx.ClaimBook(b.ID)
	})
	if err != nil {
		r.t.Fatal(err)
	}
}
