package loopback

import (
	"encoding/json"
	"net"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync"
	"time"
)

// Token is the token that the server takes; any other gets 401.
const Token = "424242:loopback-AAbbCCddEEffGGhhIIjjKK"

// BotName is the bot's user name, BotID its id.
const (
	BotName = "cellar_test_bot"
	BotID   = int64(424242)
)

// Options of a server. The zero value is a bot in privacy mode whose clock
// stands still.
type Options struct {
	Now     func() time.Time // date of messages; nil: 2026-09-12 18:30 UTC, one second further at each message
	CanRead bool             // privacy mode is off
	Addr    string           // address to listen on; empty: any free port
	MaxPoll time.Duration    // longest that a poll is held; 0: 50 s, as the platform
}

// Server is the platform with one bot on it.
type Server struct {
	mu     sync.Mutex
	cond   *sync.Cond
	http   *httptest.Server
	now    func() time.Time
	max    time.Duration
	closed bool

	version int // counts what happened, for Until

	ticking  bool // the clock is our own and only messages move it
	canRead  bool
	world    world
	queue    queue
	hook     hook
	faults   map[string][]Fault
	calls    []Call
	commands json.RawMessage
}

// New starts a server. Close it when done.
func New(o Options) *Server {
	s := &Server{now: o.Now, max: o.MaxPoll, canRead: o.CanRead, faults: map[string][]Fault{}}
	s.cond = sync.NewCond(&s.mu)
	if s.now == nil {
		s.now, s.ticking = tickingClock(), true
	}
	if s.max == 0 {
		s.max = 50 * time.Second
	}
	s.world.init()
	s.queue.init()
	s.http = httptest.NewUnstartedServer(http.HandlerFunc(s.serve))
	if o.Addr != "" {
		l, err := net.Listen("tcp", o.Addr)
		if err != nil {
			panic("loopback: " + err.Error())
		}
		s.http.Listener.Close()
		s.http.Listener = l
	}
	s.http.Start()
	return s
}

// tickingClock starts on a Saturday evening and moves a second at a time.
func tickingClock() func() time.Time {
	t := time.Date(2026, 9, 12, 18, 30, 0, 0, time.UTC)
	return func() time.Time { t = t.Add(time.Second); return t }
}

// URL is the value for TELEGRAM_API_URL.
func (s *Server) URL() string { return s.http.URL }

// Close ends all waiting polls and the listener.
func (s *Server) Close() {
	s.mu.Lock()
	s.closed = true
	s.queue.wakeAll()
	s.changed()
	s.mu.Unlock()
	s.http.CloseClientConnections()
	s.http.Close()
}

// reply is an answer on its way: either a result or an error.
type reply struct {
	result any
	status int
	text   string
	params map[string]any
}

// ok is an answer with a result.
func ok(v any) reply { return reply{result: v} }

// refuse is an error with its whole description.
func refuse(status int, text string) reply { return reply{status: status, text: text} }

// bad is a 400.
func bad(text string) reply { return refuse(400, "Bad Request: "+text) }

// forbidden is a 403.
func forbidden(text string) reply { return refuse(403, "Forbidden: "+text) }

// serve takes one request: /bot<token>/<method> or /file/bot<token>/<path>.
func (s *Server) serve(w http.ResponseWriter, r *http.Request) {
	path := r.URL.Path
	if rest, isFile := strings.CutPrefix(path, "/file/bot"); isFile {
		s.serveFile(w, r, rest)
		return
	}
	rest, isBot := strings.CutPrefix(path, "/bot")
	token, method, found := strings.Cut(rest, "/")
	if !isBot || !found {
		write(w, refuse(404, "Not Found"))
		return
	}
	p, err := readParams(r)
	if err != nil {
		return // the caller went away in the middle of its request
	}
	if token != Token {
		write(w, refuse(401, "Unauthorized"))
		return
	}
	s.answer(w, r, method, p)
}

// answer runs a method under the scripted faults.
func (s *Server) answer(w http.ResponseWriter, r *http.Request, method string, p params) {
	f := s.fault(method, p)
	if f.Hold != nil {
		select {
		case <-f.Hold:
		case <-r.Context().Done():
		}
	}
	if f.cutsBefore() {
		cut(w)
		return
	}
	rep := f.reply()
	if rep == nil {
		got := s.call(r, method, p)
		rep = &got
	}
	s.record(method, p, rep.status)
	switch {
	case f.Lost:
		cut(w)
	case f.Page != "":
		page(w, f.Status, f.Page)
	default:
		write(w, *rep)
	}
}

// call is the method itself. getUpdates waits, all others do not.
func (s *Server) call(r *http.Request, method string, p params) reply {
	if method == "getUpdates" || method == "getupdates" {
		return s.getUpdates(r.Context(), p)
	}
	do, known := methods[method]
	if !known {
		return refuse(404, "Not Found: method not found")
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return do(s, p)
}

// methods maps the names of the Bot API to what does them.
var methods = map[string]func(*Server, params) reply{
	"getMe":                  (*Server).getMe,
	"setWebhook":             (*Server).setWebhook,
	"deleteWebhook":          (*Server).deleteWebhook,
	"getWebhookInfo":         (*Server).getWebhookInfo,
	"sendMessage":            (*Server).sendMessage,
	"sendPhoto":              (*Server).sendPhoto,
	"sendDocument":           (*Server).sendDocument,
	"editMessageText":        (*Server).editMessageText,
	"editMessageCaption":     (*Server).editMessageCaption,
	"editMessageReplyMarkup": (*Server).editMessageReplyMarkup,
	"deleteMessage":          (*Server).deleteMessage,
	"setMessageReaction":     (*Server).setMessageReaction,
	"answerCallbackQuery":    (*Server).answerCallbackQuery,
	"getFile":                (*Server).getFile,
	"getChat":                (*Server).getChat,
	"getChatMember":          (*Server).getChatMember,
	"leaveChat":              (*Server).leaveChat,
	"setMyCommands":          (*Server).setMyCommands,
}

// envelope is what every answer of the Bot API stands in.
type envelope struct {
	OK          bool           `json:"ok"`
	Result      any            `json:"result,omitempty"`
	ErrorCode   int            `json:"error_code,omitempty"`
	Description string         `json:"description,omitempty"`
	Parameters  map[string]any `json:"parameters,omitempty"`
}

// write sends the envelope; the HTTP status is the error code.
func write(w http.ResponseWriter, rep reply) {
	status := 200
	if rep.status != 0 {
		status = rep.status
		if after, has := rep.params["retry_after"]; has {
			w.Header().Set("Retry-After", strconv.Itoa(after.(int)))
		}
	}
	body, err := json.Marshal(envelope{rep.status == 0, rep.result, rep.status, rep.text, rep.params})
	if err != nil {
		panic("loopback: " + err.Error())
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(body)
}

// page answers as a proxy in front of the platform does when it is down.
func page(w http.ResponseWriter, status int, body string) {
	w.Header().Set("Content-Type", "text/html")
	w.WriteHeader(status)
	w.Write([]byte(body))
}

// cut closes the connection without an answer.
func cut(w http.ResponseWriter) {
	c, _, err := http.NewResponseController(w).Hijack()
	if err == nil {
		c.Close()
	}
}

// getMe says who the bot is and whether privacy mode is off.
func (s *Server) getMe(params) reply {
	return ok(map[string]any{
		"id": BotID, "is_bot": true, "first_name": "Cellar", "username": BotName,
		"can_join_groups": true, "can_read_all_group_messages": s.canRead, "supports_inline_queries": false,
	})
}
