package loopback

import (
	"encoding/json"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
)

// The expectations here are the platform's documented words and the texts of its
// open-source server (tdlib/telegram-bot-api), not this package's.

type answer struct {
	OK          bool
	Result      json.RawMessage
	ErrorCode   int `json:"error_code"`
	Description string
	Parameters  struct {
		RetryAfter int   `json:"retry_after"`
		Migrate    int64 `json:"migrate_to_chat_id"`
	}
}

// ask calls a method with urlencoded pairs.
func ask(t *testing.T, s *Server, method string, kv ...string) answer {
	t.Helper()
	a, err := try(s, Token, method, kv...)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func try(s *Server, token, method string, kv ...string) (a answer, err error) {
	form := url.Values{}
	for i := 0; i < len(kv); i += 2 {
		form.Set(kv[i], kv[i+1])
	}
	res, err := http.PostForm(s.URL()+"/bot"+token+"/"+method, form)
	if err != nil {
		return a, err
	}
	defer res.Body.Close()
	body, _ := io.ReadAll(res.Body)
	return a, json.Unmarshal(body, &a)
}

func ids(t *testing.T, a answer) []int64 {
	t.Helper()
	var us []struct {
		ID int64 `json:"update_id"`
	}
	if err := json.Unmarshal(a.Result, &us); err != nil {
		t.Fatal(err)
	}
	var out []int64
	for _, u := range us {
		out = append(out, u.ID)
	}
	return out
}

func start(t *testing.T, o Options) (*Server, *User, *Chat) {
	s := New(o)
	t.Cleanup(s.Close)
	u := s.Person("nora")
	return s, u, u.Private()
}

func id(c *Chat) string { return strconv.FormatInt(c.ID, 10) }

func TestOffsetConfirms(t *testing.T) {
	s, u, c := start(t, Options{})
	for i := range 120 {
		u.Say(c, "m"+strconv.Itoa(i))
	}
	first := ids(t, ask(t, s, "getUpdates"))
	if len(first) != 100 {
		t.Fatalf("a poll gave %d updates, at most 100 are allowed and 120 wait", len(first))
	}
	again := ids(t, ask(t, s, "getUpdates"))
	if again[0] != first[0] || s.Waiting() != 120 {
		t.Error("unconfirmed updates were not kept")
	}
	rest := ids(t, ask(t, s, "getUpdates", "offset", strconv.FormatInt(first[99]+1, 10)))
	if len(rest) != 20 || rest[0] != first[99]+1 || s.Waiting() != 20 {
		t.Errorf("after confirming 100: %d come, %d wait", len(rest), s.Waiting())
	}
	far := ids(t, ask(t, s, "getUpdates", "offset", strconv.FormatInt(first[99]+5000, 10)))
	if len(far) != 20 {
		t.Errorf("an offset far ahead must not be believed, got %d updates", len(far))
	}
}

func TestRenumberedIDs(t *testing.T) {
	s, u, c := start(t, Options{})
	u.Say(c, "before")
	last := ids(t, ask(t, s, "getUpdates"))[0]
	ask(t, s, "getUpdates", "offset", strconv.FormatInt(last+1, 10))
	s.Renumber(17)
	u.Say(c, "after")
	if got := ids(t, ask(t, s, "getUpdates", "offset", strconv.FormatInt(last+1, 10))); len(got) != 1 || got[0] != 17 {
		t.Errorf("after renumbering: %v", got)
	}
}

func TestSecondPollerEndsFirst(t *testing.T) {
	s, u, c := start(t, Options{})
	first := make(chan answer, 1)
	go func() { a, _ := try(s, Token, "getUpdates", "timeout", "50"); first <- a }()
	s.Wait(t, "the first poll", func() bool { return s.Polls() == 1 })
	second := make(chan answer, 1)
	go func() { a, _ := try(s, Token, "getUpdates", "timeout", "50"); second <- a }()
	if a := <-first; a.ErrorCode != 409 || !strings.HasPrefix(a.Description, "Conflict: terminated by other getUpdates request") {
		t.Errorf("the earlier poll got %d %q", a.ErrorCode, a.Description)
	}
	u.Say(c, "hello")
	if got := ids(t, <-second); len(got) != 1 {
		t.Errorf("the later poll got %v", got)
	}
}

func TestWebhookForbidsPolling(t *testing.T) {
	s, _, _ := start(t, Options{})
	ask(t, s, "setWebhook", "url", "https://example.org/hook")
	if a := ask(t, s, "getUpdates"); a.ErrorCode != 409 || !strings.Contains(a.Description, "webhook is active") {
		t.Errorf("polling beside a webhook: %d %q", a.ErrorCode, a.Description)
	}
	ask(t, s, "deleteWebhook")
	if a := ask(t, s, "getUpdates"); !a.OK {
		t.Errorf("after deleteWebhook: %q", a.Description)
	}
}

func TestSendErrors(t *testing.T) {
	s, u, c := start(t, Options{})
	if a := ask(t, s, "sendMessage", "chat_id", id(c), "text", "hi"); a.Description != "Forbidden: bot can't initiate conversation with a user" {
		t.Errorf("before start: %q", a.Description)
	}
	u.Start("")
	own := strconv.Itoa(u.Say(c, "1.048"))
	long := strings.Repeat("a", 4097)
	cases := []struct {
		name, want, method string
		kv                 []string
	}{
		{"empty", "message text is empty", "sendMessage", []string{"text", ""}},
		{"blank", "text must be non-empty", "sendMessage", []string{"text", " \n"}},
		{"long", "message is too long", "sendMessage", []string{"text", long}},
		{"open tag", `can't parse entities: Unsupported start tag "" at byte offset 3`, "sendMessage", []string{"parse_mode", "HTML", "text", "sg < 1.000"}},
		{"no end", `can't parse entities: Can't find end tag corresponding to start tag "b"`, "sendMessage", []string{"parse_mode", "HTML", "text", "<b>x"}},
		{"button", "BUTTON_DATA_INVALID", "sendMessage", []string{"text", "x", "reply_markup", `{"inline_keyboard":[[{"text":"a","callback_data":"` + strings.Repeat("é", 33) + `"}]]}`}},
		{"null markup", "object expected as reply markup", "sendMessage", []string{"text", "x", "reply_markup", "null"}},
		{"reply gone", "message to be replied not found", "sendMessage", []string{"text", "x", "reply_parameters", `{"message_id":9}`}},
		{"thread", "message thread not found", "sendMessage", []string{"text", "x", "message_thread_id", "1"}},
		{"reaction", "REACTION_INVALID", "setMessageReaction", []string{"message_id", own, "reaction", `[{"type":"emoji","emoji":"✅"}]`}},
		{"edit none", "message to edit not found", "editMessageText", []string{"message_id", "999", "text", "x"}},
		{"edit other's", "message can't be edited", "editMessageText", []string{"message_id", own, "text", "x"}},
		{"press", "query is too old and response timeout expired or query ID is invalid", "answerCallbackQuery", []string{"callback_query_id", "1"}},
		{"command", "BOT_COMMAND_INVALID", "setMyCommands", []string{"commands", `[{"command":"Now","description":"x"}]`}},
	}
	for _, tc := range cases {
		a := ask(t, s, tc.method, append(tc.kv, "chat_id", id(c))...)
		if a.ErrorCode != 400 || a.Description != "Bad Request: "+tc.want {
			t.Errorf("%s: %d %q, want %q", tc.name, a.ErrorCode, a.Description, tc.want)
		}
	}
	if a := ask(t, s, "sendMessage", "chat_id", "12345", "text", "x"); a.Description != "Bad Request: chat not found" {
		t.Errorf("unknown chat: %q", a.Description)
	}
	if a := ask(t, s, "nothing"); a.ErrorCode != 404 || a.Description != "Not Found: method not found" {
		t.Errorf("unknown method: %q", a.Description)
	}
	if a, _ := try(s, "1:x", "getMe"); a.ErrorCode != 401 || a.Description != "Unauthorized" {
		t.Errorf("wrong token: %q", a.Description)
	}
	u.Block()
	if a := ask(t, s, "sendMessage", "chat_id", id(c), "text", "x"); a.Description != "Forbidden: bot was blocked by the user" {
		t.Errorf("blocked: %q", a.Description)
	}
}

func TestHTMLAsShown(t *testing.T) {
	for in, want := range map[string]string{
		"<b>1.048</b> &lt; 1.050 &amp; falling": "1.048 < 1.050 & falling",
		"a&nbsp;b":                              "a&nbsp;b", // no named reference of the dialect: shown as typed
		`<a href="x">y</a>`:                     "y",
	} {
		if got, err := readHTML(in); got != want || err != "" {
			t.Errorf("%q shows %q (%s), want %q", in, got, err, want)
		}
	}
}

func TestEditDropsKeyboard(t *testing.T) {
	s, u, c := start(t, Options{})
	u.Start("")
	ask(t, s, "sendMessage", "chat_id", id(c), "text", "x", "reply_markup", `{"inline_keyboard":[[{"text":"Undo","callback_data":"k"}]]}`)
	m := c.FromBot()[0]
	kv := []string{"chat_id", id(c), "message_id", strconv.Itoa(m.ID), "text", "y"}
	if a := ask(t, s, "editMessageText", kv...); !a.OK {
		t.Fatal(a.Description)
	}
	if m = c.FromBot()[0]; m.Text != "y" || len(m.Buttons) != 0 {
		t.Errorf("after the edit: %q %v", m.Text, m.Buttons)
	}
	if a := ask(t, s, "editMessageText", kv...); !strings.HasPrefix(a.Description, "Bad Request: message is not modified") {
		t.Errorf("same again: %q", a.Description)
	}
}

func TestPrivacyMode(t *testing.T) {
	s, u, _ := start(t, Options{})
	g := s.Group("Cellar", u)
	u.AddBot(g)
	before := s.Waiting()
	u.Say(g, "sg 1.048 at 21c")
	u.Say(g, "/now")
	if s.Waiting() != before {
		t.Error("plain talk or a bare command reached a bot in privacy mode")
	}
	u.Say(g, "/now@"+BotName)
	if s.Waiting() != before+1 {
		t.Error("a command by name did not reach the bot")
	}
	u.Promote(g)
	before = s.Waiting()
	u.Say(g, "sg 1.048 at 21c")
	if s.Waiting() != before+1 {
		t.Error("an admin bot sees everything")
	}
}

func TestMigrationStartsIDsAnew(t *testing.T) {
	s, u, _ := start(t, Options{CanRead: true})
	g := s.Group("Cellar", u)
	u.AddBot(g)
	n := s.Migrate(g, u)
	if id := u.Say(n, "first"); id > 3 {
		t.Errorf("ids of the new chat go on at %d", id)
	}
	a := ask(t, s, "sendMessage", "chat_id", id(g), "text", "x")
	if a.Description != "Bad Request: group chat was upgraded to a supergroup chat" || a.Parameters.Migrate != n.ID {
		t.Errorf("the old chat answers %q, %d", a.Description, a.Parameters.Migrate)
	}
}

func TestFaults(t *testing.T) {
	s, u, c := start(t, Options{})
	u.Start("")
	s.Fail("sendMessage", Fault{Status: 429, Text: "Too Many Requests: retry after 7", RetryAfter: 7}, Fault{Lost: true}, Fault{Cut: true})
	if a := ask(t, s, "sendMessage", "chat_id", id(c), "text", "a"); a.ErrorCode != 429 || a.Parameters.RetryAfter != 7 {
		t.Errorf("429: %+v", a)
	}
	if _, err := try(s, Token, "sendMessage", "chat_id", id(c), "text", "b"); err == nil || len(c.FromBot()) != 1 {
		t.Errorf("a lost answer: err %v, %d messages stand", err, len(c.FromBot()))
	}
	if _, err := try(s, Token, "sendMessage", "chat_id", id(c), "text", "c"); err == nil || len(c.FromBot()) != 1 {
		t.Errorf("a cut call: err %v, %d messages stand", err, len(c.FromBot()))
	}
	if a := ask(t, s, "sendMessage", "chat_id", id(c), "text", "d"); !a.OK {
		t.Errorf("the faults are used up, yet %q", a.Description)
	}
}

func TestFileDownload(t *testing.T) {
	s, u, c := start(t, Options{})
	u.Say(c, "the sticker", Said{Photo: []byte("jpeg")})
	var us []struct {
		Message struct {
			Photo []struct {
				ID string `json:"file_id"`
			}
		}
	}
	json.Unmarshal(ask(t, s, "getUpdates").Result, &us)
	sizes := us[0].Message.Photo
	var f struct {
		Path string `json:"file_path"`
	}
	json.Unmarshal(ask(t, s, "getFile", "file_id", sizes[len(sizes)-1].ID).Result, &f)
	res, err := http.Get(s.URL() + "/file/bot" + Token + "/" + f.Path)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	if data, _ := io.ReadAll(res.Body); string(data) != "jpeg" {
		t.Errorf("downloaded %q", data)
	}
}

func TestPressAndAnswer(t *testing.T) {
	s, u, c := start(t, Options{})
	u.Start("")
	ask(t, s, "sendMessage", "chat_id", id(c), "text", "x", "reply_markup", `{"inline_keyboard":[[{"text":"Undo","callback_data":"k1"}]]}`)
	if p := u.Press(c, c.FromBot()[0].ID, "Other"); p != "" {
		t.Error("pressed a button that is not there")
	}
	p := u.Press(c, c.FromBot()[0].ID, "Undo")
	if s.Answered(p) {
		t.Error("answered before the bot did")
	}
	if a := ask(t, s, "answerCallbackQuery", "callback_query_id", p); !a.OK || !s.Answered(p) {
		t.Errorf("answer: %q", a.Description)
	}
}
