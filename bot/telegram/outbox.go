package telegram

import (
	"context"
	"sync"
	"time"

	"mustbook/store"
)

// inFlight is how many sends may be under way, each of another chat. The pace lets
// out far fewer; more of them share a commit where a backlog is worked off.
const inFlight = 100

// wideAtPace is how many due rows are looked at: those of chats that must wait
// should not hide the others.
const wideAtPace = 400

// gathering is how long sends that came back wait for others under way, to share a
// commit. A lone one does not wait.
const gathering = 3 * time.Millisecond

// tick is how often the outbox is looked at without a hint: rows that become due
// later (reminders, retries) need no more.
const tick = time.Second

// result is a send that came back.
type result struct {
	l letter
	o outcome
}

// flight is the sends that are under way. The sender and the worker both write what
// became of them, the worker in the commit of the messages it handles.
type flight struct {
	b    *tg
	ctx  context.Context // of the sends; outlives the bot's by landing
	back chan result
	road *road

	mu     sync.Mutex
	ending bool           // nothing more goes out
	chats  map[int64]bool // chats (of the book) with a send under way
	owed   []result       // outcomes that are not written yet

	held   map[int64]time.Time // chats whose first row waits: those behind it must not overtake
	unsure map[int64]bool      // whether a chat has receipts of unknown fate; missing: not looked yet
}

func newFlight(b *tg) *flight {
	return &flight{b: b, chats: map[int64]bool{}, held: map[int64]time.Time{}, unsure: map[int64]bool{}, back: make(chan result, inFlight), road: newRoad()}
}

// landing is how long a stop waits for the sends under way.
const landing = 10 * time.Second

// sender empties the outbox until ctx ends, then waits for what is under way. While
// the worker has messages in hand it leaves that to it.
func (b *tg) sender(ctx context.Context) {
	s := b.flight
	timer := time.NewTimer(0)
	defer timer.Stop()
	for ctx.Err() == nil {
		var done []result
		select {
		case <-b.cfg.Wake:
		case <-timer.C:
		case r := <-s.back:
			done = append(done, r)
		case <-ctx.Done():
		}
		timer.Reset(s.look(ctx, done))
	}
	s.land()
}

// look is one round of the sender, unless the worker will make it; it says when to
// look again.
func (s *flight) look(ctx context.Context, done []result) time.Duration {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.owed = append(s.owed, done...)
	if s.b.working.Load() {
		return tick
	}
	if len(done) > 0 {
		s.gather(ctx)
	}
	next, err := s.round(ctx.Err() == nil)
	if err != nil {
		s.b.cfg.Log.Error("outbox", "error", s.b.redact(err))
	}
	return next
}

// gather takes, for a moment, the sends that come back after one that did.
func (s *flight) gather(ctx context.Context) {
	timer := time.NewTimer(gathering)
	defer timer.Stop()
	for len(s.owed) < len(s.chats) {
		select {
		case r := <-s.back:
			s.owed = append(s.owed, r)
		case <-timer.C:
			return
		case <-ctx.Done():
			return
		}
	}
}

// drain takes whatever has come back.
func (s *flight) drain() {
	for {
		select {
		case r := <-s.back:
			s.owed = append(s.owed, r)
		default:
			return
		}
	}
}

// round picks the next rows and writes them down as being sent, together with the
// outcomes of those before, in one commit; then it lets them go. It says when to
// look again. Nobody else changes rows of the outbox while the lock is held, so they
// are read before the commit, without the write lock.
func (s *flight) round(more bool) (time.Duration, error) {
	s.drain()
	now := s.b.cfg.Now()
	p := picked{next: tick}
	if more {
		if err := s.b.cfg.DB.View(s.ctx, func(tx *store.Tx) error { return s.pick(tx, now, &p) }); err != nil {
			return tick, err
		}
	}
	if len(s.owed)+len(p.letters)+len(p.dead) == 0 {
		return p.next, nil
	}
	passed("before send commit")
	err := s.b.cfg.DB.Update(s.ctx, func(tx *store.Tx) error { return s.mark(tx, p, now) })
	passed("after send commit")
	// Outcomes that could not be written stay owed, and their chats stay busy: a row
	// must not go out again while the book says that it is being sent.
	if err != nil {
		return tick, err
	}
	s.launch(p, now)
	if len(p.letters) > 0 && len(s.chats) < inFlight {
		nudge(s.b.cfg.Wake) // chats whose outcome was just written may have more
	}
	return p.next, nil
}

// launch lets go what was picked, once it is written down.
func (s *flight) launch(p picked, now time.Time) {
	for _, r := range s.owed {
		s.landed(r, now)
	}
	s.owed = nil
	for _, l := range p.letters {
		s.chats[l.out.Chat] = true
		go s.fly(l)
	}
}

// mark writes a round down.
func (s *flight) mark(tx *store.Tx, p picked, now time.Time) error {
	var sent []store.Sent
	for _, r := range s.owed {
		if r.o.fate == fateSent {
			sent = append(sent, store.Sent{Out: r.l.out.ID, PlatformMessage: r.o.id})
		}
		if err := s.b.write(tx, r, now); err != nil {
			return err
		}
	}
	if len(sent) > 0 {
		if err := tx.MarkAllSent(sent, now); err != nil {
			return err
		}
	}
	for _, id := range p.dead {
		if err := tx.MarkDead(id, "the chat is silent"); err != nil {
			return err
		}
	}
	if len(p.letters) == 0 {
		return nil
	}
	return tx.MarkSending(p.ids())
}

// landed forgets a send whose outcome is written. A row that is to be tried again
// holds its chat until then; an answer that may not have arrived is to be looked
// for by the next one.
func (s *flight) landed(r result, now time.Time) {
	chat := r.l.out.Chat
	delete(s.chats, chat)
	delete(s.held, chat)
	if len(s.unsure) > maxChats {
		clear(s.unsure)
	}
	switch r.o.fate {
	case fateNotSent:
		s.held[chat] = now.Add(backoff(r.l.out.Tries))
	case fateLater, fateTokenBad:
		s.held[chat] = now.Add(r.o.wait)
	case fateUnknown:
		delete(s.unsure, chat)
	case fateSent:
		if len(r.l.carries) > 0 {
			delete(s.unsure, chat)
		}
	}
}

// fly makes one send.
func (s *flight) fly(l letter) {
	leave := s.road.enter()
	ctx, cancel := context.WithTimeout(s.ctx, sendTime)
	defer cancel()
	r := result{l, s.b.sendSafely(ctx, l)}
	leave()
	s.back <- r
}

// land waits for the sends under way and writes their outcomes.
func (s *flight) land() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.ending = true
	timer := time.NewTimer(landing)
	defer timer.Stop()
	for len(s.chats) > 0 {
		if len(s.owed) == 0 {
			select {
			case r := <-s.back:
				s.owed = append(s.owed, r)
			case <-timer.C:
				return // the rows stand as being sent; the next start takes care of them
			}
		}
		if _, err := s.round(false); err != nil {
			s.b.cfg.Log.Error("outbox at the end", "error", s.b.redact(err))
			return
		}
	}
}
