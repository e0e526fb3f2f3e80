package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"mustbook/bot"
	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// newHome is a rig with the conversation that a household has.
func newHome(t *testing.T) *rig {
	r := newRig(t, loopback.Options{CanRead: true})
	b := &bot.Bot{Access: r.access, Rand: seeded(3)}
	r.cfg.Conversation = b
	r.cfg.Render = func(ctx context.Context, o store.Out) (string, []byte, error) {
		var d bot.Drawn
		err := r.db.View(ctx, func(tx *store.Tx) (err error) { d, err = b.Draw(ctx, tx, o, r.clock.now()); return err })
		return d.Name, d.Data, err
	}
	return r.start()
}

// talk is one person's chat with the bot, read answer by answer.
type talk struct {
	t    *testing.T
	who  *loopback.User
	chat *loopback.Chat
	seen int
}

func (k *talk) next() loopback.Message {
	k.t.Helper()
	k.seen++
	return k.chat.WaitBot(k.t, k.seen)[k.seen-1]
}

func (k *talk) say(text string, more ...loopback.Said) loopback.Message {
	k.t.Helper()
	k.who.Say(k.chat, text, more...)
	return k.next()
}

func (k *talk) press(m loopback.Message, label string) loopback.Message {
	k.t.Helper()
	if !slices.Contains(m.Labels(), label) {
		k.t.Fatalf("no button %q under %q: %q", label, m.Text, m.Labels())
	}
	k.who.Press(k.chat, m.ID, label)
	return k.next()
}

const elder24 = "Date,Gravity,Temperature (°C)\n2024-10-01,1.090,20\n2024-10-08,1.030,21\n2024-10-20,0.996,20\n"

// A keeper takes an old table in, sees the book leave as files after being asked twice,
// and forgets it; the file of the whole then makes the same book again. Nobody else can
// do any of it.
func TestABookLeavesAndComesBack(t *testing.T) {
	r := newHome(t)
	nora := r.host("nora")
	k := &talk{t: t, who: nora, chat: nora.Private(), seen: 1}
	m := k.say("", loopback.Said{Document: []byte(elder24), Name: "Elder 24.csv"})
	if !strings.HasPrefix(m.Text, "elder 24: 3 readings\n") || !strings.Contains(m.Text, "3 temperatures in °C") {
		t.Errorf("looked at as %q", m.Text)
	}
	if m = k.press(m, "Put it in"); !strings.HasPrefix(m.Text, "7 entries put in") { // a beginning, three gravities, three temperatures
		t.Errorf("taken as %q", m.Text)
	}
	if m = k.say("undo"); m.Text != "The file is taken back: 7 entries" {
		t.Errorf("undone as %q", m.Text)
	}
	nora.Press(k.chat, m.ID, "Put it back") // edits the answer in place
	if m = k.say("list"); !strings.Contains(m.Text, "elder 24") {
		t.Errorf("put back, but the list is %q", m.Text)
	}

	m = k.press(k.press(k.say("export"), "Export it"), "Yes, send the files")
	files := map[string][]byte{}
	for i := range 4 {
		if m.Kind != "document" || len(m.File) == 0 {
			t.Fatalf("file %d is a %s, %q", i, m.Kind, m.Text)
		}
		files[m.Text] = m.File
		if i < 3 {
			m = k.next()
		}
	}
	whole := files["The book, to be taken in elsewhere"]
	var d bot.Document
	if err := json.Unmarshal(whole, &d); err != nil || len(d.Batches) != 1 || d.Batches[0].Name != "elder 24" {
		t.Errorf("exported %d batches, %v", len(d.Batches), err)
	}
	if rows := bytes.Count(files["Every entry, for a spreadsheet"], []byte("\r\n")); rows < 8 {
		t.Errorf("%d lines in entries.csv", rows)
	}

	if m = k.say("", loopback.Said{Document: whole, Name: "mustbook.json"}); !strings.HasPrefix(m.Text, "This book is not empty") {
		t.Errorf("into a full book: %q", m.Text)
	}
	if m = k.press(k.press(k.say("forget everything"), "Forget it"), "Yes, forget all"); !strings.HasPrefix(m.Text, "Forgotten") {
		t.Errorf("forgotten as %q", m.Text)
	}
	if m = k.say("list"); !strings.HasPrefix(m.Text, "No batch") {
		t.Errorf("the book still lists %q", m.Text)
	}
	m = k.press(k.say("", loopback.Said{Document: whole, Name: "mustbook.json"}), "Put it in")
	if !strings.Contains(m.Text, "put in") {
		t.Errorf("taken back in as %q", m.Text)
	}
	if m = k.say("list"); !strings.Contains(m.Text, "elder 24") || !strings.Contains(m.Text, "0.996") {
		t.Errorf("the book lists %q", m.Text)
	}
}

// In the group, and from somebody who does not keep the book, neither files nor the
// words of leaving do anything, and no file is fetched.
func TestOnlyTheKeeperTakesInAndLeaves(t *testing.T) {
	r := newHome(t)
	nora := r.host("nora")
	tom := r.s.Person("tom")
	g := r.s.Group("Cellar", nora, tom)
	nora.AddBot(g)
	hello := g.WaitBot(t, 1)[0]
	group := &talk{t: t, who: nora, chat: g, seen: 1}
	for _, text := range []string{"export", "forget everything"} {
		if m := group.say(text, loopback.Said{ReplyTo: hello.ID}); m.Text != "Ask me that in our private chat." || len(m.Labels()) > 0 {
			t.Errorf("%s in the group: %q %q", text, m.Text, m.Labels())
		}
	}
	tom.Say(g, "", loopback.Said{Document: []byte(elder24), Name: "elder 24.csv"})
	tom.Say(g, "new damson 9 l")
	group.next()
	if n := len(r.s.CallsOf("getFile")); n > 0 {
		t.Errorf("%d files asked for", n)
	}
	tom.Start("")
	private := &talk{t: t, who: tom, chat: tom.Private()}
	private.next()
	for _, m := range []loopback.Message{private.say("export"), private.say("forget everything"), private.say("", loopback.Said{Document: []byte(elder24), Name: "e.csv"})} {
		if m.Text != "Only the keeper of the book can do that." {
			t.Errorf("to a member: %q", m.Text)
		}
	}
	if n := len(r.s.CallsOf("getFile")); n > 0 {
		t.Errorf("%d files asked for", n)
	}
}
