package telegram

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"mustbook/bot/telegram/loopback"
)

// TestStreamDisturbed: readings come through a stream of updates that repeats,
// leaps, starts anew and holds what nobody can read; the book is what an
// undisturbed stream makes of the same readings.
func TestStreamDisturbed(t *testing.T) {
	r := newCellar(t, loopback.Options{}).start()
	nora, c := r.damson()
	begin := r.entries()
	disturb := []func(i int){
		func(int) {},
		func(int) { r.s.Again(1) },
		func(int) { r.s.Again(7) },
		func(int) { r.s.Renumber(5) },             // after a quiet week the numbers start anywhere, lower too
		func(int) { r.s.Renumber(2_000_000_000) }, // or far above
		func(int) { r.s.Renumber(700_500) },       // a gap
		func(int) { r.s.Raw("message", `"no object"`) },
		func(int) { r.s.Raw("message", `{"message_id":1}`) },
		func(int) { r.s.Raw("message", `{"message_id":"9","chat":{"id":"x"}}`) },
		func(int) { r.s.Raw("message", `null`) },
		func(int) { r.s.Raw("edited_message", `[]`) },
		func(int) { r.s.Raw("callback_query", `7`) },
		func(int) { r.s.Raw("my_chat_member", `{"chat":{}}`) },
		func(int) {
			r.s.Raw("my_chat_member", `{"chat":{"id":77,"type":"channel"},"new_chat_member":{"status":"emperor"}}`)
		},
		func(int) { r.s.RawAny("poll_answer", `{"poll_id":"1"}`) },
		func(int) {
			r.s.RawAny("chat_of_2031", `{"deep":`+strings.Repeat(`[`, 5000)+strings.Repeat(`]`, 5000)+`}`)
		},
		func(int) {
			r.s.Raw("message", `{"message_id":999999999999999999,"chat":{"id":-9007199254740993,"type":"wormhole"},"text":"sg 1.048"}`)
		},
		func(i int) {
			r.s.Raw("message", raw(9000+i, &loopback.User{ID: 31337, Name: "mal"}, r.clock.now(), "#1 ph 2.99"))
		},
	}
	for i, d := range disturb {
		r.clock.add(time.Hour)
		r.hear(nora, c, fmt.Sprintf("#1 ph 3.%02d", 10+i))
		r.s.WaitIdle(t) // numbers start anew only where nothing waits
		d(i)
	}
	r.over(nora)
	book := r.entries()
	for i := range disturb {
		if n := strings.Count(book, fmt.Sprintf("ph  3.%02d", 10+i)); n != 1 {
			t.Errorf("the reading of disturbance %d is in the book %d times", i, n)
		}
	}
	if n := strings.Count(book, "\n") - strings.Count(begin, "\n"); n != len(disturb) {
		t.Errorf("%d readings became %d entries:\n%s", len(disturb), n, book)
	}
}

// TestEditsOutOfOrder: an edit that comes before its message, after it is gone, of
// a message that was never seen, and an older one after a newer.
func TestEditsOutOfOrder(t *testing.T) {
	r := newCellar(t, loopback.Options{}).start()
	nora, _ := r.damson()
	edit := func(id int, sent, edited time.Time, text string) {
		r.s.Raw("edited_message", fmt.Sprintf(`{"message_id":%d,"date":%d,"edit_date":%d,"chat":{"id":%d,"type":"private"},"from":{"id":%d,"first_name":"nora"},"text":%q}`,
			id, sent.Unix(), edited.Unix(), nora.ID, nora.ID, text))
	}
	at := r.clock.now()
	before := r.entries()

	// Its message never came: the bot was off for too long, or in privacy mode. What
	// it says now counts.
	edit(7001, at, at.Add(time.Minute), "#1 ph 3.33")
	r.over(nora)
	if n := strings.Count(r.entries(), "ph  3.33"); n != 1 || !strings.HasPrefix(r.entries(), before) {
		t.Errorf("an edit of what was never heard is %d entries:\n%s", n, r.entries())
	}

	edit(7002, at, at.Add(2*time.Minute), "#1 ph 3.52") // its message comes after it
	r.over(nora)
	r.s.Raw("message", raw(7002, nora, at, "#1 ph 3.51"))
	r.over(nora)
	if n := strings.Count(r.entries(), "ph  3.5"); n != 1 {
		t.Errorf("a message behind its edit is %d entries:\n%s", n, r.entries())
	}

	r.s.Raw("message", raw(7003, nora, at, "#1 ph 3.60"))
	r.over(nora)
	edit(7003, at, at.Add(5*time.Minute), "#1 ph 3.62")
	edit(7003, at, at.Add(3*time.Minute), "#1 ph 3.61") // older, and later
	edit(7003, at, at.Add(5*time.Minute), "#1 ph 3.62")
	r.over(nora)
	if book := r.entries(); strings.Count(book, "ph  3.6") != 1 || !strings.Contains(book, "ph  3.62") {
		t.Errorf("edits out of order left\n%s", book)
	}

	book := r.entries()
	edit(7003, at, at.AddDate(0, 2, 0), "") // an edit to nothing
	r.s.Raw("edited_message", `{"message_id":7003,"chat":{"id":1},"edit_date":"yesterday"}`)
	r.over(nora)
	r.same("an edit to nothing", book)
	r.alive(nora)
}
