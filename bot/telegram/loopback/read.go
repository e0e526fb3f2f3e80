package loopback

import (
	"context"
	"fmt"
	"testing"
	"time"
)

// Calls are the bot's requests so far, polls left out.
func (s *Server) Calls() []Call {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]Call(nil), s.calls...)
}

// CallsOf are those of one method.
func (s *Server) CallsOf(method string) []Call {
	var out []Call
	for _, c := range s.Calls() {
		if c.Method == method {
			out = append(out, c)
		}
	}
	return out
}

// Messages are copies of what stands in the chat, people's and the bot's.
func (c *Chat) Messages() []Message {
	c.s.mu.Lock()
	defer c.s.mu.Unlock()
	return c.copies()
}

// copies are safe to read while the server runs.
func (c *Chat) copies() []Message {
	var out []Message
	for _, m := range c.messages {
		if !m.Deleted {
			out = append(out, *m)
		}
	}
	return out
}

// FromBot are the bot's messages in the chat.
func (c *Chat) FromBot() []Message { return onlyBot(c.Messages()) }

// onlyBot leaves out what people said.
func onlyBot(ms []Message) []Message {
	var out []Message
	for _, m := range ms {
		if m.From == BotID {
			out = append(out, m)
		}
	}
	return out
}

// Message is one of the chat's, a copy; its ID is 0 where there is none.
func (c *Chat) Message(id int) Message {
	c.s.mu.Lock()
	defer c.s.mu.Unlock()
	if m := c.find(id); m != nil {
		return *m
	}
	return Message{}
}

// Answered says whether the bot has ended a press.
func (s *Server) Answered(press string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	open, known := s.world.callbacks[press]
	return known && !open
}

// Commands is the menu that the bot has set, as JSON.
func (s *Server) Commands() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return string(s.commands)
}

// patience ends a wait that would never end; a passing test never meets it.
const patience = time.Minute

// Until waits for done, which is asked anew after everything that happens on the
// server, and must not call back into it while it holds locks of its own.
func (s *Server) Until(ctx context.Context, done func() bool) error {
	stop := context.AfterFunc(ctx, func() { s.mu.Lock(); s.changed(); s.mu.Unlock() })
	defer stop()
	for {
		s.mu.Lock()
		seen := s.version
		s.mu.Unlock()
		if done() {
			return nil
		}
		s.mu.Lock()
		for seen == s.version && ctx.Err() == nil {
			s.cond.Wait()
		}
		s.mu.Unlock()
		if ctx.Err() != nil {
			return ctx.Err()
		}
	}
}

// changed tells those who wait that something happened; the lock is held.
func (s *Server) changed() {
	s.version++
	s.cond.Broadcast()
}

// Wait is Until for tests: it fails the test where done never comes.
func (s *Server) Wait(t testing.TB, what string, done func() bool) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	if err := s.Until(ctx, done); err != nil {
		t.Fatalf("waited for %s in vain: %v", what, err)
	}
}

// WaitBot waits until the bot has written n messages into the chat and gives them.
func (c *Chat) WaitBot(t testing.TB, n int) []Message {
	t.Helper()
	c.s.Wait(t, fmt.Sprintf("%d messages of the bot in %q, has %d", n, c.Title, len(c.FromBot())), func() bool { return len(c.FromBot()) >= n })
	return c.FromBot()
}

// WaitIdle waits until everything is confirmed and a poll waits.
func (s *Server) WaitIdle(t testing.TB) {
	t.Helper()
	s.Wait(t, "a quiet bot", func() bool {
		s.mu.Lock()
		defer s.mu.Unlock()
		return len(s.queue.waiting) == 0 && s.queue.poll != nil
	})
}

// Wake makes everybody who waits look again.
func (s *Server) Wake() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.changed()
}
