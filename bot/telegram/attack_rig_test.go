package telegram

import (
	"context"
	"fmt"
	"log/slog"
	"strings"
	"testing"
	"time"

	"mustbook/bot"
	"mustbook/bot/say"
	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// newCellar is a rig whose conversation is the bot itself, as serve wires it.
func newCellar(t *testing.T, o loopback.Options) *rig {
	t.Helper()
	r := newRig(t, o)
	r.access.Cry = func(string, bool) (string, bool) { return "", false }
	b := &bot.Bot{Zone: time.LoadLocation, Default: time.UTC, Rand: seeded(6), Log: slog.New(slog.DiscardHandler), Access: r.access}
	r.cfg.Conversation, r.reminder = b, b
	r.cfg.Pictured = func(ctx context.Context, tx *store.Tx, p store.Photo, code, _ string) error {
		return b.Pictured(ctx, tx, p, code, r.clock.now())
	}
	return r
}

// entries is the whole book, one line an entry that stands.
func (r *rig) entries() string {
	r.t.Helper()
	var lines []string
	err := r.db.View(r.t.Context(), func(tx *store.Tx) (err error) {
		lines, err = tx.Dump("entries", time.UTC)
		return err
	})
	if err != nil {
		r.t.Fatal(err)
	}
	return strings.Join(lines, "\n")
}

// hear says something and waits for its answer.
func (r *rig) hear(u *loopback.User, c *loopback.Chat, text string, more ...loopback.Said) loopback.Message {
	r.t.Helper()
	id := u.Say(c, text, more...)
	var got loopback.Message
	r.s.Wait(r.t, "an answer to "+text, func() bool {
		for _, m := range c.FromBot() {
			if m.ReplyTo == id {
				got = m
				return true
			}
		}
		return false
	})
	return got
}

// damson is a household with a batch in its book.
func (r *rig) damson() (*loopback.User, *loopback.Chat) {
	r.t.Helper()
	nora := r.host("nora")
	c := nora.Private()
	r.hear(nora, c, "new damson 23 l")
	r.hear(nora, c, "sg 1.086 at 20c")
	return nora, c
}

// small checks what holds for every answer: five lines of forty-one characters,
// with no character that turns or hides others, and nothing of a failure.
func small(t *testing.T, what, text string) {
	t.Helper()
	lines := strings.Split(text, "\n")
	if len(lines) > 5 {
		t.Errorf("%s: %d lines: %q", what, len(lines), text)
	}
	for _, l := range lines {
		if n := len([]rune(l)); n > say.Width {
			t.Errorf("%s: %d characters: %q", what, n, l)
		}
		for _, r := range l {
			if r < ' ' || r == 0x7f || r >= 0x200b && r <= 0x200f || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0xfeff {
				t.Errorf("%s: %U in %q", what, r, l)
			}
		}
	}
	if strings.Contains(text, say.Parked()) {
		t.Errorf("%s: %q", what, text)
	}
}

// raw is a message of any shape, as an odd client may make the platform send it.
func raw(id int, u *loopback.User, at time.Time, text string) string {
	return fmt.Sprintf(`{"message_id":%d,"date":%d,"chat":{"id":%d,"type":"private"},"from":{"id":%d,"first_name":%q},"text":"%s"}`, id, at.Unix(), u.ID, u.ID, u.Name, text)
}
