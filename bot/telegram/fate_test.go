package telegram

import (
	"slices"
	"strings"
	"testing"
	"time"

	"mustbook/bot/telegram/loopback"
)

func TestLostReceiptBecomesThumb(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	c := nora.Private()
	r.s.Fail("sendMessage", loopback.Fault{Lost: true})
	id := nora.Say(c, "racked")
	r.s.Wait(t, "the thumb", func() bool { return slices.Equal(c.Message(id).Reactions, []string{"👍"}) })
	nora.Say(c, "sg 1.010")
	ms := texts(c.WaitBot(t, 3))
	if ms[1] != "kept: racked" || ms[2] != "Before: kept: racked\nkept: sg 1.010" {
		t.Errorf("answers %q", ms)
	}
	r.restart() // the fate of the last answer is written down before the next is made
	nora.Say(c, "topped up")
	if ms = texts(c.WaitBot(t, 4)); ms[3] != "kept: topped up" {
		t.Errorf("the receipt was carried twice: %q", ms[3])
	}
}

func TestLostQuestionIsAskedAgainOnce(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	c := nora.Private()
	r.s.Fail("sendMessage", loopback.Fault{Lost: true}, loopback.Fault{Lost: true})
	id := nora.Say(c, "ask me")
	r.s.Wait(t, "the thumb", func() bool { return len(c.Message(id).Reactions) == 1 })
	nora.Say(c, "after")
	got := texts(c.WaitBot(t, 4))[1:]
	if !slices.Equal(got, []string{"which one? ask me", "which one? ask me", "Before: which one? ask me\nkept: after"}) {
		t.Errorf("answers %q", got)
	}
}

func TestErrorsOfTheServer(t *testing.T) {
	cases := []struct {
		name  string
		fault loopback.Fault
		want  []string // texts that stand afterwards, "ask" questions
	}{
		{"429", loopback.Fault{Status: 429, Text: "Too Many Requests: retry after 1", RetryAfter: 1}, []string{"which one? ask"}},
		{"500", loopback.Fault{Status: 500, Text: "Internal Server Error"}, []string{"which one? ask"}},
		{"502 page", loopback.Fault{Status: 502, Page: "<html>Bad Gateway</html>"}, []string{"which one? ask"}},
		{"cut", loopback.Fault{Cut: true}, []string{"which one? ask"}},
		{"400", loopback.Fault{Status: 400, Text: "Bad Request: chat not found"}, nil},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			r := newRig(t, loopback.Options{}).start()
			nora := r.host("nora")
			c := nora.Private()
			r.s.Fail("sendMessage", tc.fault)
			nora.Say(c, "ask")
			r.s.Wait(t, "the fault to be met", func() bool { return len(r.s.CallsOf("sendMessage")) >= 2 || tc.fault.Cut })
			r.clock.stride(time.Second)
			nora.Say(c, "end")
			r.s.Wait(t, "the last answer", func() bool { return has(texts(c.FromBot()), "kept: end") })
			got := texts(c.FromBot())[1:]
			if !slices.Equal(got, append(tc.want, "kept: end")) {
				t.Errorf("answers %q", got)
			}
		})
	}
}

func TestHTMLNotUnderstoodGoesPlain(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	nora.Say(nora.Private(), "html <b>sg</b> < 1.000")
	if m := nora.Private().WaitBot(t, 2)[1]; m.Text != "sg < 1.000" {
		t.Errorf("answer %q", m.Text)
	}
	nora.Say(nora.Private(), "html <b>sg</b> &lt; 1.000")
	if m := nora.Private().WaitBot(t, 3)[2]; m.Text != "sg < 1.000" || !strings.Contains(m.Markup, "<b>") {
		t.Errorf("answer %q sent as %q", m.Text, m.Markup)
	}
}

func TestBlockedAndBack(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	c := nora.Private()
	nora.Say(c, "one")
	c.WaitBot(t, 2)
	nora.Block()
	r.s.WaitIdle(t)
	nora.Say(c, "two") // unblocks
	if got := texts(c.WaitBot(t, 3)); got[2] != "kept: two" {
		t.Errorf("answers %q", got)
	}
}

func TestMigrationMovesTheBook(t *testing.T) {
	r := newRig(t, loopback.Options{CanRead: true}).start()
	nora := r.host("nora")
	g := r.s.Group("Cellar", nora)
	nora.AddBot(g)
	g.WaitBot(t, 1)
	old := nora.Say(g, "before")
	g.WaitBot(t, 2)
	n := r.s.Migrate(g, nora)
	var id int
	for id < old { // message ids start anew: reach the same number again
		r.clock.add(time.Minute)
		id = nora.Say(n, "after")
	}
	if id != old {
		t.Fatalf("message %d in the new group, %d in the old", id, old)
	}
	n.WaitBot(t, 1)
	r.s.Wait(t, "all answers", func() bool { return len(n.FromBot()) == len(r.notes(1))-1 && len(n.FromBot()) > 0 })
	notes := r.notes(1)
	if notes[0] != "before" || len(notes) < 2 {
		t.Errorf("the book holds %v", notes)
	}
}

// TestMigrationSeenAtSend has the answer find out first.
func TestMigrationSeenAtSend(t *testing.T) {
	r := newRig(t, loopback.Options{CanRead: true}).start()
	nora := r.host("nora")
	g := r.s.Group("Cellar", nora)
	nora.AddBot(g)
	g.WaitBot(t, 1)
	gate := make(chan struct{})
	r.s.Fail("sendMessage", loopback.Fault{Hold: gate})
	nora.Say(g, "one")
	nora.Say(g, "two")
	r.s.WaitIdle(t)
	n := r.s.Migrate(g, nora)
	close(gate)
	got := texts(n.WaitBot(t, 2))
	if !slices.Equal(got, []string{"kept: one", "kept: two"}) {
		t.Errorf("answers in the new group %q", got)
	}
}

// TestSlowChatsDoNotHoldOthers has more of them than there are lanes.
func TestSlowChatsDoNotHoldOthers(t *testing.T) {
	r := newRig(t, loopback.Options{CanRead: true}).start()
	nora := r.host("nora")
	var slow []*loopback.Chat
	for range lanes + 1 {
		g := r.s.Group("Cellar", nora)
		nora.AddBot(g)
		g.WaitBot(t, 1)
		slow = append(slow, g)
	}
	gate := make(chan struct{})
	r.s.OnCall(func(c loopback.Call) *loopback.Fault {
		if c.Method == "sendMessage" && c.Chat() < 0 {
			return &loopback.Fault{Hold: gate}
		}
		return nil
	})
	for _, g := range slow {
		nora.Say(g, "slow")
	}
	r.s.WaitIdle(t)
	nora.Say(nora.Private(), "quick")
	if got := texts(nora.Private().WaitBot(t, 2)); got[1] != "kept: quick" {
		t.Errorf("answers %q", got)
	}
	for _, g := range slow {
		if n := len(g.FromBot()); n != 1 {
			t.Errorf("%d answers in a slow chat before its time", n)
		}
	}
	close(gate)
	for _, g := range slow {
		g.WaitBot(t, 2)
	}
}

func TestRestartSendsWhatWaits(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	c := nora.Private()
	r.s.Fail("sendMessage", loopback.Fault{Status: 429, RetryAfter: 30, Text: "Too Many Requests: retry after 30"})
	nora.Say(c, "one")
	r.s.Wait(t, "the 429", func() bool { return len(r.s.CallsOf("sendMessage")) == 2 })
	nora.Say(c, "two")
	r.s.WaitIdle(t)
	r.halt()
	r.clock.add(time.Minute)
	r.open()
	r.start()
	if got := texts(c.WaitBot(t, 3))[1:]; !slices.Equal(got, []string{"kept: one", "kept: two"}) {
		t.Errorf("answers %q", got)
	}
}

func TestConflictIsToldPlainly(t *testing.T) {
	r := newRig(t, loopback.Options{})
	r.s.Fail("getUpdates", loopback.Fault{Status: 409, Text: "Conflict: terminated by other getUpdates request; make sure that only one bot instance is running"})
	r.start()
	r.s.Wait(t, "the line", func() bool { return strings.Contains(r.logged(), "another program polls") || r.s.Polls() > 0 })
	if !strings.Contains(r.logged(), "another program polls with the same token") {
		t.Errorf("log: %s", r.logged())
	}
}

func TestWebhookIsTakenDownForPolling(t *testing.T) {
	r := newRig(t, loopback.Options{})
	nora := r.s.Person("nora")
	nora.Start(hostCode)
	r.s.Fail("getUpdates", loopback.Fault{Status: 409, Text: "Conflict: can't use getUpdates method while webhook is active; use deleteWebhook to delete the webhook first"})
	r.start()
	r.s.Wait(t, "deleteWebhook", func() bool { return len(r.s.CallsOf("deleteWebhook")) == 1 })
	if c := r.s.CallsOf("deleteWebhook")[0]; c.Fields["drop_pending_updates"] == "true" {
		t.Error("what waits was dropped")
	}
}

// TestRefusedReactionBecomesWords is a group whose admins allow no reactions.
func TestRefusedReactionBecomesWords(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	c := nora.Private()
	r.s.Fail("setMessageReaction", loopback.Fault{Status: 400, Text: "Bad Request: REACTION_INVALID"})
	id := nora.Say(c, "nod stirred")
	if m := c.WaitBot(t, 2)[1]; m.Text != "kept: nod stirred" || m.ReplyTo != id {
		t.Errorf("answer %q to %d", m.Text, m.ReplyTo)
	}
	id = nora.Say(c, "nod racked")
	r.s.Wait(t, "the sign", func() bool { return slices.Equal(c.Message(id).Reactions, []string{"👍"}) })
	nora.Say(c, "end")
	if got := texts(c.WaitBot(t, 3)); got[2] != "kept: end" {
		t.Errorf("a sign was followed by words: %q", got)
	}
}
