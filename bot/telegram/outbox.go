package telegram

import (
	"context"
	"fmt"
	"strings"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

// inFlight is how many sends may be under way, each of another chat.
const inFlight = 25

// wide is how many due rows are looked at: those of busy chats, or of chats that
// must wait, should not hide the others.
const wide = 200

// tick is how often the outbox is looked at without a hint: rows that become due
// later (reminders, retries) need no more.
const tick = time.Second

// result is a send that came back.
type result struct {
	l letter
	o outcome
}

// sender empties the outbox until ctx ends, then waits for what is under way.
func (b *tg) sender(ctx context.Context) {
	hard, cancel := context.WithCancel(context.WithoutCancel(ctx))
	defer cancel()
	s := &flight{b: b, ctx: hard, chats: map[int64]bool{}, held: map[int64]time.Time{}, unsure: map[int64]bool{}, back: make(chan result, inFlight)}
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
		done = s.drain(done)
		next, err := s.round(done, ctx.Err() == nil)
		if err != nil {
			b.cfg.Log.Error("outbox", "error", err)
		}
		timer.Reset(next)
	}
	s.land(10 * time.Second)
}

// flight is the sends that are under way.
type flight struct {
	b     *tg
	ctx   context.Context
	chats map[int64]bool // chats (of the book) with a send under way
	back  chan result
	owed  []result // outcomes that could not be written yet

	held   map[int64]time.Time // chats whose first row waits: those behind it must not overtake
	unsure map[int64]bool      // whether a chat has receipts of unknown fate; missing: not looked yet
}

// drain takes whatever else has come back.
func (s *flight) drain(done []result) []result {
	for {
		select {
		case r := <-s.back:
			done = append(done, r)
		default:
			return done
		}
	}
}

// round writes the outcomes and picks the next rows in one commit, then lets them
// go. It says when to look again.
func (s *flight) round(done []result, more bool) (time.Duration, error) {
	s.owed = append(s.owed, done...)
	now := s.b.cfg.Now()
	next := tick
	var letters []letter
	idle, err := s.idle(now)
	if err != nil || idle && len(s.owed) == 0 {
		return next, err
	}
	passed("before send commit")
	err = s.b.cfg.DB.Update(s.ctx, func(tx *store.Tx) error {
		for _, r := range s.owed {
			if err := s.b.write(tx, r, now); err != nil {
				return err
			}
		}
		letters = nil
		if !more {
			return nil
		}
		var err error
		letters, next, err = s.pick(tx, now)
		return err
	})
	passed("after send commit")
	if err != nil {
		return backoff(1), err
	}
	for _, r := range s.owed {
		s.landed(r, now)
	}
	s.owed = nil
	for _, l := range letters {
		s.chats[l.out.Chat] = true
		go s.fly(l)
	}
	if len(letters) > 0 && len(s.chats) < inFlight {
		nudge(s.b.cfg.Wake) // chats whose outcome was just written may have more
	}
	return next, nil
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

// idle looks, without the write lock, whether anything is due.
func (s *flight) idle(now time.Time) (bool, error) {
	idle := true
	err := s.b.cfg.DB.View(s.ctx, func(tx *store.Tx) error {
		outs, err := tx.DueOut(now, 1)
		idle = len(outs) == 0
		return err
	})
	return idle, err
}

// pick takes due rows of chats without a send under way, as far as the pace lets
// them, and marks them as being sent.
func (s *flight) pick(tx *store.Tx, now time.Time) ([]letter, time.Duration, error) {
	room := inFlight - len(s.chats) + len(s.owed)
	if room <= 0 {
		return nil, tick, nil
	}
	outs, err := tx.DueOut(now, wide)
	if err != nil {
		return nil, tick, err
	}
	busy := map[int64]bool{}
	for c := range s.chats {
		busy[c] = true
	}
	for _, r := range s.owed {
		delete(busy, r.l.out.Chat)
	}
	next := tick
	var letters []letter
	var ids []int64
	for _, out := range outs {
		if busy[out.Chat] || len(letters) == room {
			continue
		}
		if until := s.held[out.Chat]; now.Before(until) {
			next = min(next, until.Sub(now)+time.Millisecond)
			continue
		}
		l, send, err := s.prepare(tx, out)
		if err != nil {
			return nil, tick, err
		}
		if !send {
			continue
		}
		if out.Kind != "ack" {
			if wait := s.b.pace.take(l.chatID, l.group, now); wait > 0 {
				busy[out.Chat] = true
				next = min(next, wait)
				continue
			}
		}
		busy[out.Chat] = true
		letters, ids = append(letters, l), append(ids, out.ID)
	}
	if len(ids) == 0 {
		return nil, next, nil
	}
	return letters, next, tx.MarkSending(ids)
}

// fly makes one send.
func (s *flight) fly(l letter) {
	ctx, cancel := context.WithTimeout(s.ctx, sendTime)
	defer cancel()
	s.back <- result{l, s.b.send(ctx, l)}
}

// land waits for the sends under way and writes their outcomes.
func (s *flight) land(limit time.Duration) {
	timer := time.NewTimer(limit)
	defer timer.Stop()
	for len(s.chats) > 0 {
		select {
		case r := <-s.back:
			if _, err := s.round(s.drain([]result{r}), false); err != nil {
				s.b.cfg.Log.Error("outbox at the end", "error", err)
				return
			}
		case <-timer.C:
			return // the rows stand as being sent; the next start takes care of them
		}
	}
}

// prepare looks up what a row needs to go. send is false where there is nothing
// to send: the row is ended then.
func (s *flight) prepare(tx *store.Tx, out store.Out) (letter, bool, error) {
	chat, err := tx.Chat(out.Chat)
	if err != nil {
		return letter{}, false, fmt.Errorf("outbox chat: %w", err)
	}
	l := letter{out: out, chatID: chat.PlatformID, group: chat.Kind == "group"}
	if out.Kind != "reaction" && out.Kind != "ack" {
		if l.out.Buttons, err = tx.ButtonsOf(out.ID); err != nil {
			return l, false, fmt.Errorf("outbox buttons: %w", err)
		}
	}
	if chat.Silent {
		return l, false, tx.MarkDead(out.ID, "the chat is silent")
	}
	if out.Kind == "edit" {
		target, err := tx.Out(out.Edits)
		if err == nil {
			l.edits = target.PlatformMessage
		} else if ignoreMissing(err) != nil {
			return l, false, err
		}
		return l, true, nil
	}
	if out.Kind == "reply" {
		l.carries, err = s.carriedBy(tx, out)
	}
	return l, true, err
}

// maxCarried is how many answers of unknown fate one answer begins with.
const maxCarried = 3

// carriedBy finds the plain receipts of the chat whose arrival is not known: the
// next answer begins with their first lines.
func (s *flight) carriedBy(tx *store.Tx, out store.Out) ([]carried, error) {
	if known, looked := s.unsure[out.Chat]; looked && !known {
		return nil, nil
	}
	recent, err := tx.RecentOut(out.Chat, 30)
	if err != nil {
		return nil, err
	}
	var cs []carried
	for _, u := range recent {
		if u.State != "unknown" || len(cs) == maxCarried {
			continue
		}
		line, _, _ := strings.Cut(u.Text, "\n")
		if u.HTML {
			line = strip(line)
		}
		cs = append(cs, carried{u.ID, say.Carried(line)})
	}
	s.unsure[out.Chat] = len(cs) > 0
	return cs, nil
}
