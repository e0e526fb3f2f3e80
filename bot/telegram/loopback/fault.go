package loopback

import "encoding/json"

// Fault is what happens to a call instead of, or after, its work.
type Fault struct {
	Status     int             // an error: 400, 401, 403, 404, 409, 429, 5xx
	Text       string          // its description, with its prefix ("Bad Request: …")
	RetryAfter int             // seconds, with 429
	MigrateTo  int64           // the chat's new id, with 400
	Page       string          // this body instead of JSON, with Status
	Lost       bool            // the call is done, then the connection is cut
	Cut        bool            // the connection is cut and nothing is done
	Hold       <-chan struct{} // waits for this before anything
	OnlyChat   int64           // for this chat alone; other calls pass and leave it
	Forever    bool            // is not used up
}

// hook may choose a fault for any call; nil: none.
type hook func(Call) *Fault

// Fail makes the next calls of a method meet these faults, one after another.
func (s *Server) Fail(method string, fs ...Fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.faults[method] = append(s.faults[method], fs...)
}

// Mend forgets all scripted faults.
func (s *Server) Mend() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.faults, s.hook = map[string][]Fault{}, nil
}

// OnCall asks f before each call which fault it meets.
func (s *Server) OnCall(f func(Call) *Fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.hook = f
}

// fault takes the fault that this call meets, the hook's first.
func (s *Server) fault(method string, p params) Fault {
	s.mu.Lock()
	h := s.hook
	s.mu.Unlock()
	if h != nil {
		if f := h(Call{Method: method, Fields: p.fields}); f != nil {
			return *f
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	list := s.faults[method]
	if len(list) == 0 || (list[0].OnlyChat != 0 && list[0].OnlyChat != p.int("chat_id")) {
		return Fault{}
	}
	if !list[0].Forever {
		s.faults[method] = list[1:]
	}
	return list[0]
}

// cutsBefore is a connection that ends with nothing done.
func (f Fault) cutsBefore() bool { return f.Cut && !f.Lost }

// reply is the scripted error, nil where the call is to be done.
func (f Fault) reply() *reply {
	if f.Status == 0 || f.Lost {
		return nil
	}
	r := refuse(f.Status, f.Text)
	if f.RetryAfter > 0 || f.MigrateTo != 0 {
		r.params = map[string]any{}
	}
	if f.RetryAfter > 0 {
		r.params["retry_after"] = f.RetryAfter
	}
	if f.MigrateTo != 0 {
		r.params["migrate_to_chat_id"] = f.MigrateTo
	}
	return &r
}

// Call is one request that the bot made.
type Call struct {
	Method string
	Fields map[string]string
	Files  map[string][]byte
	Status int // 0: done
}

// Chat is the call's chat id, 0 where it has none.
func (c Call) Chat() int64 { return params{fields: c.Fields}.int("chat_id") }

// record keeps the call for the test to read; polls are only counted.
func (s *Server) record(method string, p params, status int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if method != "getUpdates" {
		s.calls = append(s.calls, Call{Method: method, Fields: p.fields, Files: p.files, Status: status})
	}
	s.changed()
}

// setMyCommands checks the limits of the menu: ≤ 100 commands, names of 1–32
// [a-z0-9_], descriptions of 1–256.
func (s *Server) setMyCommands(p params) reply {
	var cs []struct{ Command, Description string }
	if json.Unmarshal([]byte(p.str("commands")), &cs) != nil {
		return bad("can't parse commands")
	}
	if len(cs) > 100 {
		return bad("BOT_COMMANDS_TOO_MUCH")
	}
	for _, c := range cs {
		if !commandName(c.Command) {
			return bad("BOT_COMMAND_INVALID")
		}
		if n := len([]rune(c.Description)); n < 1 || n > 256 {
			return bad("BOT_COMMAND_DESCRIPTION_INVALID")
		}
	}
	s.commands = json.RawMessage(p.str("commands"))
	return ok(true)
}

// commandName is 1–32 of a-z, 0-9 and _.
func commandName(name string) bool {
	for _, r := range name {
		if !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '_') {
			return false
		}
	}
	return len(name) >= 1 && len(name) <= 32
}
