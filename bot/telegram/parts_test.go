package telegram

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	lib "github.com/go-telegram/bot"

	"mustbook/store"
)

func TestReadUpdate(t *testing.T) {
	u, err := readUpdate([]byte(`{"update_id":7,"message":{"message_id":5,"date":1789237800,"chat":{"id":-100123456789012,"type":"supergroup","title":"Cellar"},
		"from":{"id":5000000001,"first_name":"Nora","last_name":"Q"},"text":"1.048","is_topic_message":true,"message_thread_id":12,
		"reply_to_message":{"message_id":4,"text":"damson","from":{"id":42,"is_bot":true}},"forward_origin":{"type":"new"}}}`))
	if err != nil || u.ID != 7 || u.Message == nil {
		t.Fatalf("%+v, %v", u, err)
	}
	m := u.Message
	if m.Chat.ID != -100123456789012 || m.From.name() != "Nora Q" || m.Text != "1.048" || m.Thread != 12 || m.Reply.ID != 4 || !m.Forwarded || !m.Chat.group() {
		t.Errorf("%+v", m)
	}
	if at := sent(m.Date); !at.Equal(time.Date(2026, 9, 12, 18, 30, 0, 0, time.UTC)) { // 20708 days of 86400 s, and 66600 s
		t.Errorf("date %v is not 18:30 UTC of that day", at)
	}
}

func TestUnknownPartsCostThemselves(t *testing.T) {
	const frame = `{"update_id":1,"message":{"message_id":5,"chat":{"id":9,"type":"private"},"text":"1.048",%s}}`
	for _, part := range []string{`"from":"who"`, `"reply_to_message":7`, `"photo":{"new":1}`, `"sender_chat":[]`, `"voice":null`,
		`"new_chat_members":{"a":1}`, `"is_topic_message":"yes"`, `"date":"today"`} {
		u, err := readUpdate(fmt.Appendf(nil, frame, part))
		if err != nil || u.Message.Text != "1.048" || u.Message.Reply != nil || u.Message.Voice || u.Message.FileID != "" {
			t.Errorf("%s: %+v, %v", part, u.Message, err)
		}
	}
	for _, raw := range []string{``, `7`, `{}`, `{"update_id":1,"message":{"chat":{"id":9}}}`, `{"update_id":1,"edited_message":{"message_id":1}}`,
		`{"update_id":1,"callback_query":{"from":{"id":1}}}`, `{"update_id":1,"my_chat_member":{}}`} {
		if _, err := readUpdate([]byte(raw)); !errors.Is(err, errUndecodable) {
			t.Errorf("%s: %v", raw, err)
		}
	}
}

func TestKeys(t *testing.T) {
	key := func(raw string) string {
		u, _ := readUpdate([]byte(raw))
		k, _, _ := u.key([]byte(raw))
		return k
	}
	message := `{"update_id":%d,"%s":{"message_id":5,"edit_date":%d,"chat":{"id":%d},"text":"%s"}}`
	a := key(fmt.Sprintf(message, 1, "message", 0, 9, "x"))
	for name, c := range map[string]struct {
		raw  string
		same bool
	}{
		"again under another id": {fmt.Sprintf(message, 2, "message", 0, 9, "x"), true},
		"in another chat":        {fmt.Sprintf(message, 1, "message", 0, 10, "x"), false},
		"edited":                 {fmt.Sprintf(message, 1, "edited_message", 3, 9, "x"), false},
	} {
		if got := key(c.raw); (got == a) != c.same {
			t.Errorf("%s: keys %q and %q", name, a, got)
		}
	}
	if key(fmt.Sprintf(message, 1, "edited_message", 3, 9, "x")) == key(fmt.Sprintf(message, 1, "edited_message", 3, 9, "y")) {
		t.Error("two edits within a second are one")
	}
	if key(`{"update_id":1,"callback_query":{"id":"77","from":{"id":1}}}`) != "c:77" {
		t.Error("a press is not known by its id")
	}
}

func FuzzReadUpdate(f *testing.F) {
	f.Add([]byte(`{"update_id":1,"message":{"message_id":5,"chat":{"id":9},"text":"x"}}`))
	f.Add([]byte(`{"update_id":1,"callback_query":{"id":"1","from":{"id":1},"message":{"message_id":0}}}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		u, err := readUpdate(raw)
		if k, _, _ := u.key(raw); k == "" {
			t.Error("an update without a key")
		}
		if err == nil && u.Message != nil && (u.Message.ID == 0 || u.Message.Chat.ID == 0) {
			t.Error("a message without chat or id passed")
		}
	})
}

// TestJudge pairs what the library returns (read in its raw_request.go) with what
// has to follow.
func TestJudge(t *testing.T) {
	bad := func(text string) error { return fmt.Errorf("%w, Bad Request: %s", lib.ErrorBadRequest, text) }
	lost := errors.New("error do request for method sendMessage, EOF")
	cases := []struct {
		name  string
		err   error
		wrote bool
		want  fate
	}{
		{"fine", nil, true, fateSent},
		{"refused connection", lost, false, fateNotSent},
		{"lost answer", lost, true, fateUnknown},
		{"502 page", errors.New("error decode response body for method sendMessage, <html>, invalid character"), true, fateUnknown},
		{"500", errors.New("error response from telegram for method sendMessage, 500 Internal Server Error"), true, fateUnknown},
		{"429", fmt.Errorf("wrapped: %w", &lib.TooManyRequestsError{RetryAfter: 7}), true, fateLater},
		{"moved", fmt.Errorf("wrapped: %w", &lib.MigrateError{MigrateToChatID: -100}), true, fateMoved},
		{"blocked", fmt.Errorf("%w, Forbidden: bot was blocked by the user", lib.ErrorForbidden), true, fateShut},
		{"token", fmt.Errorf("%w, Unauthorized", lib.ErrorUnauthorized), true, fateTokenBad},
		{"same text", bad("message is not modified: specified new message content …"), true, fateSent},
		{"old press", bad("query is too old and response timeout expired or query ID is invalid"), true, fateSent},
		{"html", bad("can't parse entities: Unsupported start tag"), true, fatePlain},
		{"no chat", bad("chat not found"), true, fateDead},
	}
	for _, c := range cases {
		a := &attempt{}
		a.wrote.Store(c.wrote)
		if got := judge(c.err, a); got.fate != c.want {
			t.Errorf("%s: fate %d, want %d", c.name, got.fate, c.want)
		}
	}
	if o := judge(&lib.TooManyRequestsError{RetryAfter: 7}, &attempt{}); o.wait != 7*time.Second {
		t.Errorf("retry_after 7 gives %v", o.wait)
	}
}

// TestPace drives the limits by hand: the platform's own words are 1 a second in
// a chat, 20 a minute in a group and about 30 a second over all.
func TestPace(t *testing.T) {
	count := func(group bool, chats int, seconds int) int {
		p, now, n := newPace(true), time.Unix(0, 0), 0
		for range seconds * 100 {
			for c := range chats {
				if p.take(int64(c), group, now) == 0 {
					n++
				}
			}
			now = now.Add(10 * time.Millisecond)
		}
		return n
	}
	if n := count(false, 1, 60); n < 58 || n > 61 {
		t.Errorf("%d messages a minute to one person", n)
	}
	if n := count(true, 1, 300); n < 100 || n > 120 {
		t.Errorf("%d messages in five minutes to one group, at most 20 a minute and a first burst", n)
	}
	if n := count(false, 500, 10); n < 240 || n > 256 {
		t.Errorf("%d messages in ten seconds to many", n)
	}
	p := newPace(true)
	p.take(1, false, time.Unix(0, 0))
	if w := p.take(1, false, time.Unix(0, 0)); w < 900*time.Millisecond || w > 1100*time.Millisecond {
		t.Errorf("asked to wait %v", w)
	}
	if w := newPace(false).take(1, true, time.Unix(0, 0)); w != 0 {
		t.Errorf("a pace that is off waits %v", w)
	}
}

func TestPaceForgets(t *testing.T) {
	p := newPace(true)
	for c := range int64(3 * maxChats) {
		p.take(c, true, time.Unix(c, 0))
	}
	if len(p.chats) > maxChats {
		t.Errorf("%d chats are remembered", len(p.chats))
	}
}

func TestKeyboardLayout(t *testing.T) {
	l := letter{}
	if l.keyboard() != nil {
		t.Error("a keyboard without buttons must be an untyped nil")
	}
	for _, label := range []string{"18", "20", "22", "24 °C", "It is well stirred", "Undo"} {
		l.out.Buttons = append(l.out.Buttons, store.Button{Label: label, Key: "k"})
	}
	got := fmt.Sprintf("%+v", l.keyboard())
	if strings.Count(got, "CallbackData:k") != 6 {
		t.Errorf("layout %s", got)
	}
}

func TestStripAndCut(t *testing.T) {
	for in, want := range map[string]string{
		"<b>damson</b> &lt; 1.000": "damson < 1.000", "plain": "plain", "a < b": "a < b", "<i>x</i><": "x<",
	} {
		if got := strip(in); got != want {
			t.Errorf("strip %q: %q, want %q", in, got, want)
		}
	}
	if got := cut("äöüß", 3); got != "äö…" {
		t.Errorf("cut: %q", got)
	}
}

func TestBackoff(t *testing.T) {
	if backoff(0) != 500*time.Millisecond || backoff(1) != time.Second || backoff(60) != 5*time.Minute {
		t.Errorf("%v %v %v", backoff(0), backoff(1), backoff(60))
	}
}

func TestRedact(t *testing.T) {
	b := &tg{cfg: Config{Token: "1:secret", Webhook: Webhook{Secret: "hooksecret"}}}
	for _, text := range []string{
		"Post https://x/bot1:secret/send: EOF", "hooksecret", "error decode response body for method x, <html>nora's text</html>",
	} {
		if got := b.redact(errors.New(text)).Error(); strings.Contains(got, "secret") || strings.Contains(got, "nora") {
			t.Errorf("%q became %q", text, got)
		}
	}
	if b.redact(nil) != nil {
		t.Error("no error became one")
	}
}
