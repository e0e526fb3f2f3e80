package telegram

import (
	"context"
	"encoding/json"
	"errors"
	"net"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// secrets must never be told; the platform's answers below repeat them all.
var secrets = []string{strings.SplitN(loopback.Token, ":", 2)[1], "/file/bot", "Quillfeather", "smells of pears", "photos/secret.jpg", "hooksecret"}

// citing are answers of a server, or of something before it, that cite what they
// got. 200 with a page is a proxy that wants a login.
func citing() []loopback.Fault {
	all := strings.Join(secrets, " ")
	cite := ` "` + all + `" and ` + all
	var out []loopback.Fault
	for _, status := range []int{200, 400, 401, 403, 404, 409, 413, 420, 429, 500, 502, 503} {
		out = append(out, loopback.Fault{Status: status, Text: "Bad Request: can't parse entities: Unsupported start tag" + cite},
			loopback.Fault{Status: status, Text: cite}, loopback.Fault{Status: status, Page: "<html>" + cite + "</html>"},
			loopback.Fault{Status: status, Page: `{"ok":true,"result":` + string(must(json.Marshal(cite))) + `}`},
			loopback.Fault{Status: status, Page: `{"ok":` + cite})
	}
	return append(out, loopback.Fault{Cut: true}, loopback.Fault{Lost: true}, loopback.Fault{Status: 429, RetryAfter: 3, Text: cite},
		loopback.Fault{Status: 400, MigrateTo: -100123, Text: cite})
}

func must(b []byte, err error) []byte {
	if err != nil {
		panic(err)
	}
	return b
}

// TestNoErrorTellsSecrets meets every citing answer with every call that the bot
// makes, and reads all that it logs and keeps of it.
func TestNoErrorTellsSecrets(t *testing.T) {
	r := newRig(t, loopback.Options{})
	r.cfg.Webhook = Webhook{URL: "https://cellar.example", Listen: "x", Secret: "hooksecret"}
	b, err := newBot(r.cfg)
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	note := func(err error) {
		if err != nil {
			told = append(told, b.redact(err).Error())
		}
	}
	out := store.Out{ID: 1, Book: 1, Chat: 1, Kind: "reply", Text: "smells of pears", HTML: true, ReplyTo: 7}
	send := func(kind string, edits int64) func() {
		l := letter{out: out, chatID: 5_000_000_001, edits: edits}
		l.out.Kind, l.out.Reaction, l.out.Source = kind, "👍", "ack:1"
		return func() {
			o := b.send(t.Context(), l)
			note(o.err)
			r.db.Update(t.Context(), func(tx *store.Tx) error {
				note(b.write(tx, result{l, o}, r.clock.now())) // there is no such row: only the log matters
				return errors.New("undone")
			})
		}
	}
	b.cfg.Render = func(context.Context, store.Out) (string, []byte, error) { return "x.png", []byte("x"), nil }
	poll := func(method string) func() {
		return func() {
			err := b.call(t.Context(), method, map[string]any{"text": "smells of pears"}, new([]json.RawMessage))
			note(err)
			if err != nil {
				b.pollFailed(t.Context(), err, time.Second)
			}
			clear(b.told)
		}
	}
	calls := map[string]func(){
		"getUpdates": poll("getUpdates"), "getMe": poll("getMe"), "getChatMember": poll("getChatMember"),
		"deleteWebhook": poll("deleteWebhook"), "setWebhook": poll("setWebhook"),
		"sendMessage": send("reply", 0), "editMessageText": send("edit", 9), "setMessageReaction": send("reaction", 0),
		"answerCallbackQuery": send("ack", 0), "sendPhoto": send("photo", 0), "sendDocument": send("document", 0),
		"getFile":  func() { _, err := b.download(t.Context(), "photos/secret.jpg"); note(err) },
		"download": func() { _, err := b.download(t.Context(), r.s.Keep([]byte("x"))); note(err) },
	}
	met := 0
	for method, call := range calls {
		for _, f := range citing() {
			r.s.Mend()
			r.s.Fail(method, f, f)
			n := len(told)
			call()
			if len(told) > n {
				met++
			}
		}
	}
	if met < len(calls)*len(citing())/2 {
		t.Errorf("only %d of %d answers were errors", met, len(calls)*len(citing()))
	}
	for _, line := range append(told, strings.Split(r.logged(), "\n")...) {
		for _, s := range secrets {
			if strings.Contains(line, s) {
				t.Fatalf("%q is told: %s", s, line)
			}
		}
	}
	for _, want := range []string{"can't parse entities", "429 retry after 3 s", "400 the group has a new id"} {
		if !slices.ContainsFunc(told, func(s string) bool { return strings.Contains(s, want) }) {
			t.Errorf("nobody can tell what went wrong: %q is never said", want)
		}
	}
}

// TestSlim keeps the number of a sent message, whatever else the answer holds.
func TestSlim(t *testing.T) {
	strange := `{"ok":true,"result":{"message_id":77,"date":1,"chat":{"id":5},"reply_to_message":{"forward_origin":{"type":"of 2027"},"paid_media":[1]}}}`
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.Write([]byte(strange)) }))
	defer srv.Close()
	r := newRig(t, loopback.Options{})
	r.cfg.APIURL = srv.URL
	b, err := newBot(r.cfg)
	if err != nil {
		t.Fatal(err)
	}
	o := b.send(t.Context(), letter{out: store.Out{Kind: "reply", Text: "x"}, chatID: 5})
	if o.fate != fateSent || o.id != 77 {
		t.Errorf("fate %d of message %d: %v", o.fate, o.id, o.err)
	}
	for from, want := range map[string]string{
		`{"ok":true,"result":{"message_id":77,"text":"x"}}`:                `{"ok":true,"result":{"message_id":77}}`,
		`{"ok":true,"result":{"date":5,"message_id":77,"newer":[{}]}}`:     `{"ok":true,"result":{"message_id":77}}`,
		`{ "ok": true, "result": { "message_id": 77, "text": "\u00e9" } }`: `{"ok":true,"result":{"message_id":77}}`,
	} {
		if got := string(slim([]byte(from))); got != want {
			t.Errorf("%q became %q", from, got)
		}
	}
	for _, same := range []string{`{"ok":true,"result":true}`, `{"ok":false,"error_code":400}`, `<html>`, ``,
		`{"ok":true,"result":{"message_id":`, `{"ok":true,"result":{"message_id":7`, `{"ok":true,"result":{"message_id":"a"}}`} {
		if got := string(slim([]byte(same))); got != same {
			t.Errorf("%q became %q", same, got)
		}
	}
}

// TestAddressInUse is told at the start.
func TestAddressInUse(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	for name, change := range map[string]func(*Config){
		"health":  func(c *Config) { c.Health = l.Addr().String() },
		"webhook": func(c *Config) { c.Webhook = Webhook{URL: "https://x", Listen: l.Addr().String(), Secret: "s"} },
	} {
		cfg := newRig(t, loopback.Options{}).cfg
		change(&cfg)
		if err := Run(t.Context(), cfg); err == nil || !strings.Contains(err.Error(), "cannot listen") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestEachTroubleIsSaidOnce has the network fail, then another poller come.
func TestEachTroubleIsSaidOnce(t *testing.T) {
	r := newRig(t, loopback.Options{})
	other := loopback.Fault{Status: 409, Text: "Conflict: terminated by other getUpdates request; make sure that only one bot instance is running"}
	r.s.Fail("getUpdates", loopback.Fault{Cut: true}, loopback.Fault{Cut: true}, other)
	r.start()
	r.s.Wait(t, "both lines", func() bool { return strings.Contains(r.logged(), "another program polls") })
	if n := strings.Count(r.logged(), "no answer from the platform"); n != 1 {
		t.Errorf("the lost network was said %d times", n)
	}
}
