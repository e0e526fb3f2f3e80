package telegram

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"io"
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

func TestGroupHintWhilePrivacyHides(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	g := r.s.Group("Cellar", nora)
	nora.AddBot(g)
	m := g.WaitBot(t, 1)[0]
	if !strings.Contains(m.Text, "Make me an admin") {
		t.Errorf("when added: %q", m.Text)
	}
	nora.Say(g, "unseen")
	nora.Say(g, "/now@"+loopback.BotName)
	g.WaitBot(t, 2)
	nora.Say(g, "a reply", loopback.Said{ReplyTo: m.ID})
	g.WaitBot(t, 3)
	nora.Promote(g)
	if ms := g.WaitBot(t, 4); !strings.HasPrefix(ms[3].Text, "Now I see") {
		t.Errorf("as an admin: %q", ms[3].Text)
	}
	nora.Say(g, "seen")
	g.WaitBot(t, 5)
	if got := r.notes(1); !slices.Equal(got, []string{"/now@" + loopback.BotName, "a reply", "seen"}) {
		t.Errorf("the book holds %v", got)
	}
}

func TestTopicsAndOtherBotsCommands(t *testing.T) {
	r := newRig(t, loopback.Options{CanRead: true}).start()
	nora := r.host("nora")
	g := r.s.Supergroup("Cellar", nora)
	nora.AddBot(g)
	g.WaitBot(t, 1)
	damson := nora.Topic(g, "damson")
	nora.Say(g, "/roll@some_other_bot")
	nora.Say(g, "racked", loopback.Said{Thread: damson})
	m := g.WaitBot(t, 2)[1]
	if m.Text != "kept: racked" || m.Thread != damson {
		t.Errorf("answer %q in topic %d, want topic %d", m.Text, m.Thread, damson)
	}
}

func TestPhotoIsFetchedAndShrunk(t *testing.T) {
	r := newRig(t, loopback.Options{})
	seen := make(chan string, 1)
	r.cfg.Pictured = func(_ context.Context, _ *store.Tx, p store.Photo, code, format string) error {
		seen <- format + code
		return nil
	}
	r.start()
	nora := r.host("nora")
	var b bytes.Buffer
	png.Encode(&b, image.NewGray(image.Rect(0, 0, 2000, 10)))
	r.s.Fail("download", loopback.Fault{Cut: true})
	nora.Say(nora.Private(), "sticker", loopback.Said{Photo: b.Bytes()})
	nora.Private().WaitBot(t, 2)
	if got := <-seen; got != "" {
		t.Errorf("an empty picture showed %q", got)
	}
	r.stop() // its commit is finished
	r.db.View(t.Context(), func(tx *store.Tx) error {
		ps, err := tx.Photos(1, 0)
		if err != nil || len(ps) != 1 || len(ps[0].JPEG) == 0 {
			t.Errorf("photos %d, %v", len(ps), err)
		}
		todo, _ := tx.PhotosToFetch(10)
		if len(todo) != 0 {
			t.Error("the photo is still to be fetched")
		}
		return nil
	})
}

func TestUnreadablePhotoEnds(t *testing.T) {
	r := newRig(t, loopback.Options{})
	done := make(chan bool, 1)
	r.cfg.Pictured = func(_ context.Context, _ *store.Tx, p store.Photo, _, _ string) error {
		done <- len(p.JPEG) == 0
		return nil
	}
	r.start()
	nora := r.host("nora")
	nora.Say(nora.Private(), "sticker", loopback.Said{Photo: []byte("no picture at all")})
	if empty := <-done; !empty {
		t.Error("something was kept of what is no picture")
	}
	r.stop()
	r.db.View(t.Context(), func(tx *store.Tx) error {
		if todo, _ := tx.PhotosToFetch(10); len(todo) != 0 {
			t.Error("it will be fetched for ever")
		}
		return nil
	})
}

func TestDrawnPicture(t *testing.T) {
	r := newRig(t, loopback.Options{})
	r.cfg.Render = func(_ context.Context, o store.Out) (string, []byte, error) {
		return "graph.png", []byte(o.Render), nil
	}
	r.start()
	nora := r.host("nora")
	nora.Say(nora.Private(), "draw damson")
	m := nora.Private().WaitBot(t, 2)[1]
	if m.Kind != "photo" || string(m.File) != "draw damson" || m.Text != "kept: draw damson" {
		t.Errorf("%s %q, caption %q", m.Kind, m.File, m.Text)
	}
}

// TestNothingSecretIsLogged reads all that the bot wrote about a bad day.
func TestNothingSecretIsLogged(t *testing.T) {
	r := newRig(t, loopback.Options{CanRead: true})
	r.talk.panics["secret cellar talk"] = 1
	r.start()
	nora := r.host("Leonora Quillfeather")
	stranger := r.s.Person("Balthasar Undertow")
	r.s.Fail("getUpdates", loopback.Fault{Cut: true}, loopback.Fault{Status: 502, Page: "<html>secret cellar talk</html>"}, loopback.Fault{Status: 401, Text: "Unauthorized"})
	r.s.Fail("sendMessage", loopback.Fault{Cut: true}, loopback.Fault{Status: 502, Page: "<html>secret cellar talk</html>"}, loopback.Fault{Status: 400, Text: "Bad Request: chat not found"})
	r.s.Fail("download", loopback.Fault{Cut: true}, loopback.Fault{Status: 404, Text: "Not Found"})
	nora.Say(nora.Private(), "ask secret cellar talk", loopback.Said{Photo: []byte("x")})
	nora.Say(nora.Private(), "secret cellar talk")
	stranger.Start("wrongwrongwrong")
	r.s.Wait(t, "the day to pass", func() bool { return len(r.s.CallsOf("sendMessage")) >= 4 })
	r.halt()
	out := r.logged()
	token := strings.SplitN(loopback.Token, ":", 2)[1]
	for _, s := range []string{token, "/file/bot", "secret cellar", "Leonora", "Quillfeather", "Balthasar", "wrongwrong", hostCode, "photos/"} {
		if strings.Contains(out, s) {
			t.Errorf("the log holds %q:\n%s", s, out)
		}
	}
	if !strings.Contains(out, "stumble") || !strings.Contains(out, "no answer from the platform") {
		t.Errorf("the log does not tell what went wrong:\n%s", out)
	}
}

func TestNoNetworkIsSaidOnceAndLosesNothing(t *testing.T) {
	r := newRig(t, loopback.Options{})
	nora := r.s.Person("nora")
	nora.Start(hostCode)
	nora.Say(nora.Private(), "typed while it was off")
	r.s.Fail("getUpdates", loopback.Fault{Cut: true}, loopback.Fault{Cut: true}, loopback.Fault{Cut: true})
	r.start()
	nora.Private().WaitBot(t, 2)
	r.halt()
	if n := strings.Count(r.logged(), "no answer from the platform"); n != 1 {
		t.Errorf("it was said %d times", n)
	}
	r.open()
	if got := r.notes(1); !slices.Equal(got, []string{"typed while it was off"}) {
		t.Errorf("the book holds %v", got)
	}
}

func TestOffForLongWarnsTheKeeper(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	r.halt()
	r.clock.add(50 * time.Hour)
	r.open()
	r.start()
	if m := nora.Private().WaitBot(t, 2)[1]; !strings.Contains(m.Text, "off for 50 hours") {
		t.Errorf("said %q", m.Text)
	}
}

func TestMenu(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	r.s.Wait(t, "the menu", func() bool { return strings.Contains(r.s.Commands(), `"undo"`) })
	for _, c := range []string{"now", "next", "book", "graph", "sheet", "bottles", "undo", "help", "settings"} {
		if !strings.Contains(r.s.Commands(), `"`+c+`"`) {
			t.Errorf("/%s is not in the menu", c)
		}
	}
}

func TestWebhook(t *testing.T) {
	r := newRig(t, loopback.Options{})
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	addr := l.Addr().String()
	l.Close()
	r.cfg.Webhook = Webhook{URL: "https://cellar.example/hook", Listen: addr, Secret: "s3cret"}
	r.start()
	r.s.Wait(t, "setWebhook", func() bool { u, _ := r.s.Webhook(); return u != "" })
	nora := r.s.Person("nora")
	nora.Start(hostCode)
	nora.Say(nora.Private(), "pitched")
	if status, err := r.s.Deliver(t.Context(), "http://"+addr+"/hook", "wrong"); err != nil || status != http.StatusForbidden {
		t.Errorf("a wrong secret: %d %v", status, err)
	}
	for range 2 {
		if status, err := r.s.Deliver(t.Context(), "http://"+addr+"/hook", "s3cret"); err != nil || status != http.StatusOK {
			t.Fatalf("delivery: %d %v", status, err)
		}
	}
	nora.Private().WaitBot(t, 2)
	if got := r.notes(1); !slices.Equal(got, []string{"pitched"}) {
		t.Errorf("the book holds %v", got)
	}
}

// TestWebhookBounds asks the handler directly.
func TestWebhookBounds(t *testing.T) {
	r := newRig(t, loopback.Options{})
	cfg := r.cfg
	cfg.Webhook = Webhook{URL: "https://x", Listen: "x", Secret: "s"}
	b, err := newBot(cfg)
	if err != nil {
		t.Fatal(err)
	}
	close(b.ended) // there is no worker
	ask := func(method, secret string, body io.Reader) int {
		req := httptest.NewRequest(method, "/", body)
		req.Header.Set("X-Telegram-Bot-Api-Secret-Token", secret)
		w := httptest.NewRecorder()
		b.posted(w, req)
		return w.Code
	}
	for _, tc := range []struct {
		name, method, secret string
		body                 io.Reader
		want                 int
	}{
		{"no secret", "POST", "", strings.NewReader("{}"), 403},
		{"longer secret", "POST", "ss", strings.NewReader("{}"), 403},
		{"get", "GET", "s", nil, 405},
		{"not JSON", "POST", "s", strings.NewReader("hello"), 400},
		{"huge", "POST", "s", strings.NewReader(`{"a":"` + strings.Repeat("x", maxUpdate) + `"}`), 413},
		{"fine", "POST", "s", strings.NewReader(`{"update_id":1}`), 200},
	} {
		if got := ask(tc.method, tc.secret, tc.body); got != tc.want {
			t.Errorf("%s: %d, want %d", tc.name, got, tc.want)
		}
	}
	r.db.Close()
	if got := ask("POST", "s", strings.NewReader(`{"update_id":2}`)); got != 503 {
		t.Errorf("nothing stored, yet %d", got)
	}
	r.db = nil
}

func TestSettings(t *testing.T) {
	good := newRig(t, loopback.Options{}).cfg
	for name, change := range map[string]func(*Config){
		"no token":          func(c *Config) { c.Token = " " },
		"no address":        func(c *Config) { c.APIURL = "localhost:8081" },
		"webhook in clear":  func(c *Config) { c.Webhook = Webhook{URL: "http://x", Listen: ":1", Secret: "s"} },
		"no database":       func(c *Config) { c.DB = nil },
		"webhook no secret": func(c *Config) { c.Webhook = Webhook{URL: "https://x", Listen: ":1"} },
		"odd secret":        func(c *Config) { c.Webhook = Webhook{URL: "https://x", Listen: ":1", Secret: "ü"} },
	} {
		c := good
		change(&c)
		if err := Run(t.Context(), c); err == nil || !strings.Contains(err.Error(), "telegram settings") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestStrangerThroughThePlatform(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	r.host("nora")
	mal := r.s.Person("mal")
	mal.Start("")
	if m := mal.Private().WaitBot(t, 1)[0]; !strings.HasPrefix(m.Text, "I keep a household's wine book") {
		t.Errorf("said %q", m.Text)
	}
	mal.Say(mal.Private(), "sg 1.048")
	r.s.WaitIdle(t)
	r.halt()
	r.open()
	if got := r.notes(1); len(got) != 0 {
		t.Errorf("a stranger's words are in the book: %v", got)
	}
	if n := len(mal.Private().FromBot()); n != 1 {
		t.Errorf("%d lines to a stranger in a day", n)
	}
}

func TestMemberWhoLeftUnseen(t *testing.T) {
	r := newRig(t, loopback.Options{CanRead: true}).start()
	nora, ines := r.host("nora"), r.s.Person("ines")
	g := r.s.Group("Cellar", nora, ines)
	nora.AddBot(g)
	g.WaitBot(t, 1)
	ines.Say(g, "one")
	g.WaitBot(t, 2)
	ines.Say(ines.Private(), "two")
	ines.Private().WaitBot(t, 1)
	ines.LeaveUnseen(g)
	r.clock.add(25 * time.Hour)
	ines.Say(ines.Private(), "three")
	r.s.Wait(t, "the stranger's line", func() bool { return len(ines.Private().FromBot()) == 2 })
	if got := r.notes(1); !slices.Equal(got, []string{"one", "two"}) {
		t.Errorf("the book holds %v", got)
	}
}

// TestForwardedAndForeignButtons presses what is not one's own.
func TestForwardedAndForeignButtons(t *testing.T) {
	r := newRig(t, loopback.Options{CanRead: true}).start()
	nora, mal := r.host("nora"), r.s.Person("mal")
	nora.Say(nora.Private(), "ask")
	m := nora.Private().WaitBot(t, 2)[1]
	key := m.Buttons[0][0].Data
	if len(key) > 64 || strings.Contains(key, "{") {
		t.Errorf("callback data %q", key)
	}
	g := r.s.Group("Cellar", nora)
	nora.AddBot(g)
	g.WaitBot(t, 1)
	mal.Say(mal.Private(), "hello")
	mal.Private().WaitBot(t, 1)
	mal.PressData(mal.Private(), 1, key)      // a stranger with the key
	mal.PressData(nora.Private(), m.ID, key)  // in a chat that is not theirs
	nora.PressData(g, 1, key)                 // a member, but another chat
	nora.PressData(nora.Private(), m.ID, "x") // guessed
	r.s.WaitIdle(t)
	nora.Say(nora.Private(), "end")
	if got := texts(nora.Private().WaitBot(t, 3)); got[2] != "kept: end" {
		t.Errorf("a foreign press had an effect: %q", got)
	}
}

func TestHealthPage(t *testing.T) {
	r := newRig(t, loopback.Options{})
	b, err := newBot(r.cfg)
	if err != nil {
		t.Fatal(err)
	}
	b.heardAt = r.clock.now()
	ask := func() (int, string) {
		w := httptest.NewRecorder()
		b.healthPage(w, httptest.NewRequest("GET", "/", nil))
		return w.Code, w.Body.String()
	}
	if status, body := ask(); status != 200 || !strings.Contains(body, "waiting 0") {
		t.Errorf("%d %q", status, body)
	}
	r.clock.add(4 * time.Minute)
	if status, _ := ask(); status != 503 {
		t.Errorf("four quiet minutes: %d", status)
	}
}
