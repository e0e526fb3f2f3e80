package telegram

import (
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"testing"

	"mustbook/bot/telegram/loopback"
)

func TestMessageIsKeptAndAnswered(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	id := nora.Say(nora.Private(), "sg 1.048 at 21c")
	ms := nora.Private().WaitBot(t, 2)
	if ms[1].Text != "kept: sg 1.048 at 21c" || ms[1].ReplyTo != id {
		t.Errorf("answer %q to %d", ms[1].Text, ms[1].ReplyTo)
	}
	if got := r.notes(1); !slices.Equal(got, []string{"sg 1.048 at 21c"}) {
		t.Errorf("the book holds %v", got)
	}
}

func TestOrderWithinChat(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	var want []string
	for i := range 150 {
		if i%50 == 0 {
			r.clock.add(1e12)
		}
		text := fmt.Sprint("reading ", i)
		want = append(want, text)
		nora.Say(nora.Private(), text)
	}
	ms := nora.Private().WaitBot(t, 151)
	for i, m := range ms[1:] {
		if m.Text != "kept: "+want[i] {
			t.Fatalf("answer %d is %q", i, m.Text)
		}
	}
	if got := r.notes(1); !slices.Equal(got, want) {
		t.Errorf("the book holds %d notes, not in the order typed", len(got))
	}
}

func TestDeliveredAgain(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	nora.Say(nora.Private(), "pitched")
	nora.Private().WaitBot(t, 2)
	r.s.Again(2)
	r.s.WaitIdle(t)
	r.s.Renumber(3)
	nora.Say(nora.Private(), "racked")
	nora.Private().WaitBot(t, 3)
	r.s.Again(1)
	r.s.WaitIdle(t)
	if got := r.notes(1); !slices.Equal(got, []string{"pitched", "racked"}) {
		t.Errorf("after repeats and renumbered ids: %v", got)
	}
}

func TestEditChangesAnswerInPlace(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	c := nora.Private()
	id := nora.Say(c, "sg 1.048")
	first := c.WaitBot(t, 2)[1]
	nora.Edit(c, id, "sg 1.046")
	r.s.Wait(t, "the edited answer", func() bool { return c.Message(first.ID).Text == "kept: sg 1.046" })
	nora.Edit(c, id, "sg 1.046") // an edit that changes nothing
	nora.Say(c, "next")
	if ms := c.WaitBot(t, 3); len(ms) != 3 || len(c.Message(first.ID).Edits) != 1 {
		t.Errorf("%d answers, edits %v", len(ms), c.Message(first.ID).Edits)
	}
}

func TestPressIsAnsweredOnce(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	c := nora.Private()
	nora.Say(c, "ask")
	m := c.WaitBot(t, 2)[1]
	if !slices.Equal(m.Labels(), []string{"This"}) {
		t.Fatalf("buttons %v", m.Labels())
	}
	p := nora.Press(c, m.ID, "This")
	c.WaitBot(t, 3)
	r.s.Wait(t, "the end of the press", func() bool { return r.s.Answered(p) })
	r.s.Again(1)
	nora.Say(c, "done")
	if got := texts(c.WaitBot(t, 4)); got[2] != "pressed This" || got[3] != "kept: done" {
		t.Errorf("answers %q", got)
	}
}

func TestStrangeUpdatesDoNotStopIt(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	c := nora.Private()
	r.s.Raw("message", `{"date": 1}`)
	r.s.Raw("message", `[1, 2]`)
	r.s.Raw("callback_query", `"x"`)
	r.s.RawAny("a_kind_of_2027", `{"what": {"ever": 1}}`)
	nora.Say(c, "1.048", loopback.Said{Extra: map[string]any{
		"forward_origin":   map[string]any{"type": "from_another_world"},
		"paid_media":       map[string]any{"paid_media": []any{map[string]any{"type": "live_photo"}}},
		"external_reply":   []any{"unknown"},
		"reply_to_message": "not even an object",
	}})
	if got := texts(c.WaitBot(t, 2)); got[1] != "kept: 1.048" {
		t.Errorf("answers %q", got)
	}
	if n := strings.Count(r.logged(), "can't be read"); n != 3 {
		t.Errorf("%d updates were told as unreadable, want 3", n)
	}
}

func TestPanicCostsOneMessage(t *testing.T) {
	r := newRig(t, loopback.Options{})
	r.talk.panics["bad"] = 3 * 2 // each try is one with the others and one apart
	r.talk.panics["slip"] = 2
	r.start()
	nora := r.host("nora")
	c := nora.Private()
	nora.Say(c, "slip")
	nora.Say(c, "bad")
	nora.Say(c, "good")
	got := texts(c.WaitBot(t, 4))[1:]
	if got[0] != "kept: slip" || !strings.HasPrefix(got[1], "Not saved") || got[2] != "kept: good" {
		t.Errorf("answers %q", got)
	}
	if notes := r.notes(1); !slices.Equal(notes, []string{"slip", "good"}) {
		t.Errorf("the book holds %v", notes)
	}
}

// TestRowOfTheOutboxCostsNoMessage: what can't be read there stops the sends, but what
// is said goes into the book.
func TestRowOfTheOutboxCostsNoMessage(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	c := nora.Private()
	nora.Say(c, "one")
	c.WaitBot(t, 2)
	d, err := sql.Open("sqlite", "file:"+r.path+"?_pragma=busy_timeout(5000)")
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	if _, err := d.Exec("UPDATE outbox SET state = 'due', created = 'spoilt'"); err != nil {
		t.Fatal(err)
	}
	nora.Say(c, "two")
	nora.Say(c, "three")
	want := []string{"one", "two", "three"}
	r.s.Wait(t, "what was said to be kept", func() bool { return slices.Equal(r.notes(1), want) })
}

func TestFloodIsDroppedWithOneLine(t *testing.T) {
	standing := newRig(t, loopback.Options{})
	r := standing
	r.start()
	nora := r.host("nora")
	c := nora.Private()
	for i := range 100 {
		nora.Say(c, fmt.Sprint("m", i))
	}
	r.s.WaitIdle(t)
	r.s.Wait(t, "the line about the flood", func() bool {
		return slices.ContainsFunc(texts(c.FromBot()), func(s string) bool { return strings.HasPrefix(s, "Too many") })
	})
	r.clock.add(1e12)
	nora.Say(c, "calm")
	r.s.Wait(t, "the next answer", func() bool { return has(texts(c.FromBot()), "kept: calm") })
	lines := 0
	for _, s := range texts(c.FromBot()) {
		if strings.HasPrefix(s, "Too many") {
			lines++
		}
	}
	if lines != 1 {
		t.Errorf("the flood was told %d times", lines)
	}
	if n := len(r.notes(1)); n < burst || n > burst+5 {
		t.Errorf("%d of a flood of 100 were kept", n)
	}
}
