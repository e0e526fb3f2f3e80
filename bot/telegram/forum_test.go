package telegram

import (
	"strings"
	"testing"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// next says a text and gives what the bot answers to it.
func next(t *testing.T, u *loopback.User, c *loopback.Chat, text string, more ...loopback.Said) loopback.Message {
	t.Helper()
	n := len(c.FromBot())
	u.Say(c, text, more...)
	ms := c.WaitBot(t, n+1)
	return ms[n]
}

// TestOneTopicABatch keeps two batches in two topics: no name is needed there.
func TestOneTopicABatch(t *testing.T) {
	r, nora, g := newHouse(t, loopback.Options{CanRead: true})
	damson, second := nora.Topic(g, "Damson"), nora.Topic(g, "the other jar")
	next(t, nora, g, "new damson 23 l")
	next(t, nora, g, "new quince 10 l", loopback.Said{Thread: second})
	for _, c := range []struct {
		thread int
		text   string
		begins string
	}{
		{damson, "1.090 20c", "damson, day 0: start 1.090"}, // by its title
		{second, "1.080 20c", "quince, day 0: start 1.080"}, // by what was begun there
		{damson, "1.089 20c", "damson, day 0: start 1.089"},
		{second, "/now", "quince, day 0"},
		{damson, "/now", "damson, day 0"},
		{second, "damson 1.088 20c", "damson, day 0: start 1.088"}, // a name wins
		{second, "1.079 20c", "quince, day 0: start 1.079"},        // and moves nothing
		{second, "new elder 5 l", "elder: begun"},                  // what is begun takes the topic over
		{second, "1.070 20c", "elder, day 0: start 1.070"},
	} {
		m := next(t, nora, g, c.text, loopback.Said{Thread: c.thread})
		if !strings.HasPrefix(m.Text, c.begins) || m.Thread != c.thread {
			t.Errorf("%q in topic %d: %q in topic %d", c.text, c.thread, m.Text, m.Thread)
		}
	}
	// What nobody asked for goes where its batch is spoken of.
	remind := func(source string, n int) {
		r.wake(func(tx *store.Tx) error {
			chat, err := tx.ChatByPlatform(platform, g.ID)
			if err != nil {
				return err
			}
			_, _, err = tx.Enqueue(store.Out{Book: 1, Chat: chat.ID, Source: source, Kind: "reply", Text: "look", Batch: n, Created: r.clock.now(), Priority: 1})
			return err
		})
	}
	has := len(g.FromBot())
	remind("r1", 3)
	if m := g.WaitBot(t, has+1)[has]; m.Thread != second {
		t.Errorf("a reminder of the elder went to topic %d, want %d", m.Thread, second)
	}
	nora.CloseTopic(g, second)
	remind("r2", 3)
	if m := g.WaitBot(t, has+2)[has+1]; m.Thread != 0 || m.Text != "look" {
		t.Errorf("with the topic gone %q went to topic %d", m.Text, m.Thread)
	}
}
