package telegram

import (
	"strings"
	"time"

	"mustbook/bot"
	"mustbook/bot/say"
	"mustbook/store"
)

// picked is what a round found to do.
type picked struct {
	letters []letter
	dead    []int64       // rows for chats that take nothing any more
	next    time.Duration // when to look again
}

// pick finds due rows of chats without a send under way, as far as the pace lets
// them.
func (s *flight) pick(tx *store.Tx, now time.Time, p *picked) error {
	// A chat whose outcome is about to be written has room again.
	room := inFlight - len(s.chats) + len(s.owed)
	if room <= 0 {
		return nil
	}
	// Mostly the first rows fill the room; a long look each time would cost more than
	// the sends while many rows wait.
	busy, seen := s.busy(), 0
	for _, wide := range []int{room + inFlight/4, wideAtPace} {
		due, err := tx.DueOut(now, wide)
		if err != nil {
			return err
		}
		if err := s.choose(tx, due[min(seen, len(due)):], room, busy, now, p); err != nil {
			return err
		}
		if seen = len(due); seen < wide || len(p.letters) == room || !s.b.cfg.Pace {
			break
		}
	}
	return nil
}

func (p *picked) ids() []int64 {
	ids := make([]int64, len(p.letters))
	for i, l := range p.letters {
		ids[i] = l.out.ID
	}
	return ids
}

// choose takes of these rows what may go now.
func (s *flight) choose(tx *store.Tx, due []store.Due, room int, busy map[int64]bool, now time.Time, p *picked) error {
	for _, out := range due {
		if busy[out.Chat] || len(p.letters) == room {
			continue
		}
		if until := s.held[out.Chat]; now.Before(until) {
			p.next = min(p.next, until.Sub(now)+time.Millisecond)
			continue
		}
		if out.Silent {
			p.dead = append(p.dead, out.ID)
			continue
		}
		l, err := s.prepare(tx, out)
		if err != nil {
			return err
		}
		// From here on later rows of this chat stand behind this one. An ack is no
		// message and does not count for the pace.
		busy[out.Chat] = true
		if out.Kind != "ack" {
			if wait := s.b.pace.take(l.chatID, l.group, now); wait > 0 {
				p.next = min(p.next, wait)
				continue
			}
		}
		p.letters = append(p.letters, l)
	}
	return nil
}

// busy are the chats that must wait for a send under way, or for an outcome that
// is not written yet and was no success.
func (s *flight) busy() map[int64]bool {
	busy := map[int64]bool{}
	for c := range s.chats {
		busy[c] = true
	}
	for _, r := range s.owed {
		if r.o.fate == fateSent {
			delete(busy, r.l.out.Chat)
		}
	}
	return busy
}

// prepare looks up what a row needs to go.
func (s *flight) prepare(tx *store.Tx, due store.Due) (letter, error) {
	l := letter{out: due.Out, chatID: due.PlatformID, group: due.Group}
	var err error
	switch l.out.Kind {
	case "edit":
		l.edits, err = s.messageOf(tx, l.out.Edits)
	case "reply":
		l.carries, err = s.carriedBy(tx, l.out)
		if err == nil && l.group && unasked(l.out) {
			l.out.Thread, err = bot.TopicOf(tx, l.out.Chat, l.out.Batch)
		}
	}
	return l, err
}

// unasked is what no message and no press called for: a reminder about a batch.
func unasked(out store.Out) bool {
	return out.Batch != 0 && out.Thread == 0 && out.Message == 0 && out.ReplyTo == 0 && !strings.HasPrefix(out.Source, "p")
}

// messageOf is the platform's id of an earlier answer; 0 where it never arrived:
// an edit of it goes as a new message.
func (s *flight) messageOf(tx *store.Tx, out int64) (int64, error) {
	for _, r := range s.owed {
		if r.l.out.ID == out {
			return r.o.id, nil
		}
	}
	target, err := tx.Out(out)
	return target.PlatformMessage, ignoreMissing(err)
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
