package telegram

import (
	"slices"
	"strings"
	"testing"
	"time"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// pressed taps a button and gives the bot's next message in the chat.
func pressed(t *testing.T, u *loopback.User, c *loopback.Chat, m loopback.Message, label string) loopback.Message {
	t.Helper()
	n := len(c.FromBot())
	if u.Press(c, m.ID, label) == "" {
		t.Fatalf("no button %q under %q", label, m.Text)
	}
	return c.WaitBot(t, n+1)[n]
}

// link asks for one in private and says yes twice.
func link(t *testing.T, u *loopback.User, what string) (payload string) {
	t.Helper()
	c := u.Private()
	m := pressed(t, u, c, pressed(t, u, c, next(t, u, c, what), "Make a link"), "Yes, sure")
	_, rest, found := strings.Cut(m.Text, "https://t.me/"+loopback.BotName+"?start=")
	if !found {
		t.Fatalf("no link in %q", m.Text)
	}
	payload, _, _ = strings.Cut(rest, "\n")
	if len(payload) > 64 { // the platform's bound of a start parameter
		t.Errorf("a start parameter of %d characters", len(payload))
	}
	return payload
}

// start opens a link and gives the answer.
func start(t *testing.T, u *loopback.User, payload string) string {
	t.Helper()
	n := len(u.Private().FromBot())
	u.Start(payload)
	return u.Private().WaitBot(t, n+1)[n].Text
}

// TestTwoHouseholds has one try all that it can to reach the other's book.
func TestTwoHouseholds(t *testing.T) {
	r, nora, g := newHouse(t, loopback.Options{CanRead: true})
	ines, tom := r.s.Person("ines"), r.s.Person("tom")
	next(t, nora, nora.Private(), "new gorse 23 l")
	asks := next(t, nora, nora.Private(), "1.090")
	if got := start(t, ines, link(t, nora, "new household")); !strings.HasPrefix(got, "This is your own book") {
		t.Fatalf("a new household: %q", got)
	}
	if got := start(t, tom, link(t, nora, "invite")); !strings.HasPrefix(got, "You are in nora's book") {
		t.Fatalf("an invite: %q", got)
	}
	c := ines.Private()
	for _, text := range []string{"status", "list", "gorse", "#1", "history", "bottles", "members", "/book", "/now", "what next", "undo", "gorse abv?", "forget everything"} {
		if got := next(t, ines, c, text).Text; strings.Contains(got, "gorse") || strings.Contains(got, "1.09") || strings.Contains(got, "nora") {
			t.Errorf("%q shows another book: %q", text, got)
		}
	}
	for _, row := range asks.Buttons {
		for _, b := range row {
			p := ines.PressData(c, c.FromBot()[0].ID, b.Data) // known from a screenshot, say
			r.s.Wait(t, "the end of the press", func() bool { return r.s.Answered(p) })
			p = ines.PressData(nora.Private(), asks.ID, b.Data) // even in the very chat
			r.s.Wait(t, "the end of the press", func() bool { return r.s.Answered(p) })
		}
	}
	if got := next(t, ines, g, "sg 1.050"); !strings.Contains(got.Text, "gorse") { // in the family group she is the family's
		t.Errorf("in the other family's group: %q", got.Text)
	}
	if got := start(t, ines, link(t, nora, "invite")); !strings.HasPrefix(got, "This chat is in a book already") {
		t.Errorf("a chat in two books: %q", got)
	}
	r.stop()
	r.db.View(t.Context(), func(tx *store.Tx) error {
		es, err := tx.Entries(1, 1)
		if err != nil {
			return err
		}
		for _, e := range es {
			if e.Quantity == "temp" || e.AuthorName == "ines" && e.Text != "" {
				t.Errorf("the other household changed this book: %+v", e)
			}
		}
		if other, err := tx.Entries(2, 0); err != nil || len(other) != 0 {
			t.Errorf("the new book holds %v, %v", other, err)
		}
		return nil
	})
}

// TestDeadLinks are used, a day old, guessed, or of a keeper of before.
func TestDeadLinks(t *testing.T) {
	r, nora, _ := newHouse(t, loopback.Options{})
	const dead = "That link does not work"
	used := link(t, nora, "invite")
	tom, mal, vera := r.s.Person("tom"), r.s.Person("mal"), r.s.Person("vera")
	start(t, tom, used)
	if got := start(t, mal, used); !strings.HasPrefix(got, dead) {
		t.Errorf("used: %q", got)
	}
	old := link(t, nora, "invite")
	r.clock.add(24*time.Hour + time.Minute)
	if got := start(t, mal, old); !strings.HasPrefix(got, dead) {
		t.Errorf("a day old: %q", got)
	}
	fresh := link(t, nora, "invite")
	for i := range 5 {
		vera.Start(strings.Repeat("abcdefghij"[i:i+1], 26))
	}
	vera.Start(fresh) // after five wrong tries the right one gets silence as well
	r.s.WaitIdle(t)
	if n := len(slices.DeleteFunc(texts(vera.Private().FromBot()), func(s string) bool { return strings.HasPrefix(s, dead) })); n != 0 {
		t.Errorf("whoever guesses gets in: %q", texts(vera.Private().FromBot()))
	}
	if got := start(t, mal, fresh); !strings.HasPrefix(got, "You are in nora's book") {
		t.Errorf("the link is whole all the same: %q", got)
	}
}

// TestRemovedMember can do nothing any more, in the group neither.
func TestRemovedMember(t *testing.T) {
	r, nora, g := newHouse(t, loopback.Options{CanRead: true})
	tom := r.s.Person("tom")
	next(t, nora, g, "new damson 23 l")
	start(t, tom, link(t, nora, "invite"))
	asks := next(t, tom, tom.Private(), "damson 1.090")
	c := nora.Private()
	out := pressed(t, nora, c, pressed(t, nora, c, next(t, nora, c, "remove tom"), "Remove"), "Yes, sure")
	if !strings.HasPrefix(out.Text, "tom is out") {
		t.Fatalf("removed: %q", out.Text)
	}
	n := len(g.FromBot())
	p := tom.Press(tom.Private(), asks.ID, "20")
	r.s.Wait(t, "the end of the press", func() bool { return r.s.Answered(p) })
	tom.Say(tom.Private(), "damson 1.080")
	tom.Say(g, "damson 1.070")
	tom.Edit(tom.Private(), tom.Private().Messages()[1].ID, "damson 1.060")
	r.s.WaitIdle(t)
	m := next(t, nora, g, "/now damson")
	if !strings.Contains(m.Text, "1.090") || len(g.FromBot()) != n+1 {
		t.Errorf("after his removal: %q", texts(g.FromBot()[n:]))
	}
	if got := start(t, tom, link(t, nora, "invite")); !strings.HasPrefix(got, "You are in nora's book") {
		t.Errorf("back by a link: %q", got)
	}
}

// TestSilentChat is a group that threw the bot out, and let it in again.
func TestSilentChat(t *testing.T) {
	r, nora, g := newHouse(t, loopback.Options{CanRead: true})
	next(t, nora, g, "new damson 23 l")
	nora.RemoveBot(g)
	next(t, nora, nora.Private(), "list") // by then it is known
	n := len(r.s.CallsOf("sendMessage"))
	r.wake(func(tx *store.Tx) error {
		chat, err := tx.ChatByPlatform(platform, g.ID)
		if err != nil || !chat.Silent {
			t.Errorf("the chat is not silent: %+v, %v", chat, err)
		}
		_, _, err = tx.Enqueue(store.Out{Book: 1, Chat: chat.ID, Source: "r1", Kind: "reply", Text: "look", Batch: 1, Created: r.clock.now(), Priority: 1})
		return err
	})
	next(t, nora, nora.Private(), "list")
	if calls := r.s.CallsOf("sendMessage")[n:]; len(calls) != 1 || calls[0].Chat() != nora.ID {
		t.Errorf("something was sent to a silent chat: %+v", calls)
	}
	nora.AddBot(g)
	if m := next(t, nora, g, "damson 1.090 20c"); !strings.HasPrefix(m.Text, "damson, day 0: start 1.090") {
		t.Errorf("back again: %q", m.Text)
	}
	nora.Block()
	nora.Unblock()
	next(t, nora, g, "/now damson")
	r.wake(func(tx *store.Tx) error {
		chat, err := tx.ChatByPlatform(platform, nora.ID)
		if err != nil || chat.Silent {
			t.Errorf("an unblocked chat is silent: %+v, %v", chat, err)
		}
		return err
	})
}

// TestCryOfAStranger is answered, anywhere, and leaves nothing behind.
func TestCryOfAStranger(t *testing.T) {
	w, _ := newServed(t, loopback.Options{CanRead: true})
	mal := w.s.Person("mal")
	g := w.s.Group("Elsewhere", mal)
	for _, c := range []*loopback.Chat{mal.Private(), g} {
		if c == g {
			mal.AddBot(g)
			c.WaitBot(t, 1) // how to let the group in
		}
		if m := next(t, mal, c, "my brother passed out in the cellar"); !strings.Contains(m.Text, "112") {
			t.Errorf("in %s: %q", c.Type, m.Text)
		}
	}
	w.book(func(tx *store.Tx) error {
		es, err := tx.Entries(1, 0)
		if _, missing := tx.ChatByPlatform(platform, mal.ID); missing == nil || len(es) != 0 {
			t.Errorf("a stranger is in the book: %v", es)
		}
		return err
	})
}
