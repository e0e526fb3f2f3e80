package loopback

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"time"
)

// An update waiting for the bot.
type update struct {
	id   int64
	kind string
	body json.RawMessage // the object beside update_id
}

// queue holds what the bot has not confirmed.
type queue struct {
	next    int64
	waiting []update
	all     []update // everything ever delivered, for Again
	allowed []string
	poll    chan reply // the poll that waits; a newer one ends it with a conflict
	fresh   chan struct{}
	webhook string
	secret  string
	lastAt  time.Time
	lastOff int64
	polls   int
}

// defaultKinds is what a bot gets that never set allowed_updates.
var defaultKinds = []string{"message", "edited_message", "callback_query", "my_chat_member"}

// init begins at an id that is no round number: a bot must not count from 1.
func (q *queue) init() {
	q.next, q.allowed, q.fresh = 700001, defaultKinds, make(chan struct{})
}

// wakeAll makes the waiting poll look again.
func (q *queue) wakeAll() { close(q.fresh); q.fresh = make(chan struct{}) }

// push makes an update, if the bot asked for its kind, and wakes the poll. 0: not made.
func (s *Server) push(kind string, body any) int64 {
	q := &s.queue
	if !has(q.allowed, kind) {
		return 0
	}
	raw, err := json.Marshal(body)
	if err != nil {
		panic("loopback: " + err.Error())
	}
	u := update{id: q.next, kind: kind, body: raw}
	q.next++
	q.all = append(q.all, u)
	q.waiting = append(q.waiting, u)
	q.wakeAll()
	s.changed()
	return u.id
}

// has finds a string in a list.
func has(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// envelope is the update as it goes out.
func (u update) envelope() json.RawMessage {
	return fmt.Appendf(nil, `{"update_id":%d,%q:%s}`, u.id, u.kind, u.body)
}

// confirm forgets what lies below the offset. An offset too far ahead is not
// believed (td TQueue.cpp): everything stays.
func (q *queue) confirm(offset int64) {
	if offset > 0 && offset > q.next+10 {
		return
	}
	if offset < 0 {
		if keep := int(-offset); keep < len(q.waiting) {
			q.waiting = q.waiting[len(q.waiting)-keep:]
		}
		return
	}
	i := 0
	for i < len(q.waiting) && q.waiting[i].id < offset {
		i++
	}
	q.waiting = q.waiting[i:]
}

// getUpdates is the long poll.
func (s *Server) getUpdates(ctx context.Context, p params) reply {
	limit, wait := s.pollBounds(p)
	s.mu.Lock()
	q := &s.queue
	if q.webhook != "" {
		s.mu.Unlock()
		return refuse(409, "Conflict: can't use getUpdates method while webhook is active; use deleteWebhook to delete the webhook first")
	}
	if q.poll != nil {
		q.poll <- refuse(409, "Conflict: terminated by other getUpdates request; make sure that only one bot instance is running")
	}
	mine := make(chan reply, 1)
	q.poll = mine
	q.polls++
	s.setAllowed(p)
	q.confirm(p.int("offset"))
	if q.repeated(p.int("offset"), s.nowQuiet()) {
		limit = 1
	}
	s.changed()
	s.mu.Unlock()
	return s.waitUpdates(ctx, mine, limit, wait)
}

// pollBounds holds limit within 1–100 and the wait within what the server allows.
func (s *Server) pollBounds(p params) (limit int, wait time.Duration) {
	limit = int(p.int("limit"))
	if limit < 1 || limit > 100 {
		limit = 100
	}
	wait = time.Duration(p.int("timeout")) * time.Second
	return limit, min(max(wait, 0), s.max)
}

// repeated says whether the same offset was asked a moment ago: the platform
// then gives one update only (telegram-bot-api process_get_updates_query). It
// needs a clock that walks, so the standing one of most tests never shows it.
func (q *queue) repeated(offset int64, now time.Time) bool {
	again := offset != 0 && offset == q.lastOff && !now.IsZero() && now.Sub(q.lastAt) < 500*time.Millisecond
	q.lastOff, q.lastAt = offset, now
	return again
}

// nowQuiet is zero for the ticking clock, which only messages move.
func (s *Server) nowQuiet() time.Time {
	if s.ticking {
		return time.Time{}
	}
	return s.now()
}

// setAllowed keeps the last setting where none is given, as the platform does.
func (s *Server) setAllowed(p params) {
	if !p.has("allowed_updates") {
		return
	}
	var kinds []string
	if json.Unmarshal([]byte(p.str("allowed_updates")), &kinds) != nil {
		return
	}
	if len(kinds) == 0 {
		kinds = defaultKinds
	}
	s.queue.allowed = kinds
}

// waitUpdates answers as soon as there is something, or empty when time is up.
func (s *Server) waitUpdates(ctx context.Context, mine chan reply, limit int, wait time.Duration) reply {
	timer := time.NewTimer(wait)
	defer timer.Stop()
	for late := false; ; {
		s.mu.Lock()
		q := &s.queue
		select {
		case r := <-mine:
			s.mu.Unlock()
			return r
		default:
		}
		if len(q.waiting) > 0 || late || s.closed || ctx.Err() != nil {
			out := []json.RawMessage{}
			for _, u := range q.waiting[:min(limit, len(q.waiting))] {
				out = append(out, u.envelope())
			}
			q.poll = nil
			s.mu.Unlock()
			return ok(out)
		}
		fresh := q.fresh
		s.mu.Unlock()
		select {
		case <-fresh:
		case <-timer.C:
			late = true
		case <-ctx.Done():
		case r := <-mine:
			return r
		}
	}
}

// Polls counts the getUpdates calls so far.
func (s *Server) Polls() int { s.mu.Lock(); defer s.mu.Unlock(); return s.queue.polls }

// Waiting counts the updates that are not confirmed.
func (s *Server) Waiting() int { s.mu.Lock(); defer s.mu.Unlock(); return len(s.queue.waiting) }

// Renumber makes the next update carry this id, as after a week of silence.
func (s *Server) Renumber(id int64) { s.mu.Lock(); defer s.mu.Unlock(); s.queue.next = id }

// Again delivers the last n updates once more, under new ids.
func (s *Server) Again(n int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	last := append([]update(nil), s.queue.all[max(0, len(s.queue.all)-n):]...)
	for _, u := range last {
		s.push(u.kind, u.body)
	}
}

// Raw delivers an update of any shape: what a newer platform may send.
func (s *Server) Raw(kind, body string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.push(kind, json.RawMessage(body))
}

// RawAny is Raw for kinds that the bot did not ask for.
func (s *Server) RawAny(kind, body string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	kept := s.queue.allowed
	s.queue.allowed = append([]string{kind}, kept...)
	s.push(kind, json.RawMessage(body))
	s.queue.allowed = kept
}

// setWebhook ends polling until it is deleted.
func (s *Server) setWebhook(p params) reply {
	s.queue.webhook, s.queue.secret = p.str("url"), p.str("secret_token")
	s.setAllowed(p)
	s.dropIfAsked(p)
	return ok(true)
}

// deleteWebhook keeps what waits unless told to drop it.
func (s *Server) deleteWebhook(p params) reply {
	s.queue.webhook, s.queue.secret = "", ""
	s.dropIfAsked(p)
	return ok(true)
}

// dropIfAsked is the switch with which a bot loses messages on purpose.
func (s *Server) dropIfAsked(p params) {
	if p.bool("drop_pending_updates") {
		s.queue.waiting = nil
	}
}

// getWebhookInfo tells the address and how much waits.
func (s *Server) getWebhookInfo(params) reply {
	return ok(map[string]any{"url": s.queue.webhook, "has_custom_certificate": false, "pending_update_count": len(s.queue.waiting)})
}

// Webhook tells where updates would be posted, and the secret to send along.
func (s *Server) Webhook() (url, secret string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.queue.webhook, s.queue.secret
}

// Deliver posts the oldest update to addr as the platform posts to a webhook and
// drops it at a 2xx. It returns the status.
func (s *Server) Deliver(ctx context.Context, addr, secret string) (int, error) {
	s.mu.Lock()
	if len(s.queue.waiting) == 0 {
		s.mu.Unlock()
		return 0, errors.New("loopback: nothing waits")
	}
	u := s.queue.waiting[0]
	s.mu.Unlock()
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, addr, bytes.NewReader(u.envelope()))
	if err != nil {
		return 0, err
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("X-Telegram-Bot-Api-Secret-Token", secret)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return 0, err
	}
	res.Body.Close()
	if res.StatusCode/100 == 2 {
		s.mu.Lock()
		s.queue.confirm(u.id + 1)
		s.mu.Unlock()
	}
	return res.StatusCode, nil
}
