package bot

import (
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// chatFor is where a reminder goes: to who minds its batch, where that member has a
// private chat; else the chat in which the batch was begun, else the book's first
// group, else a private chat. An urgent one goes to the batch's chat always, one
// that somebody asked for to where it was asked, and what speaks to the traveller to
// where the days away were told. false where that chat is silent
// (blocked, kicked): the reminder waits until something is heard from there.
func (r *reminding) chatFor(it schedule.Item) (int64, bool, error) {
	if err := r.meet(); err != nil {
		return 0, false, err
	}
	if len(r.order) == 1 && !r.order[0].Silent && r.order[0].Admitted {
		return r.order[0].ID, true, nil // there is no other, whoever typed what
	}
	s := r.bk.batch(batchOf(it))
	if s != nil && it.Weight != schedule.Urgent && it.Rule != ownRule {
		if c, ok := r.privateOf(schedule.Minder(s.Plan.Minder, r.house, r.now)); ok {
			return c.ID, true, nil
		}
	}
	if it.Rule == handoverRule || it.Rule == welcomeRule {
		if c, ok := r.askedIn(it.Anchor); ok && !c.Silent {
			return c.ID, true, nil
		}
	}
	if it.Rule == ownRule {
		if c, ok := r.askedIn(it.Anchor); ok {
			return c.ID, !c.Silent, nil
		}
	}
	if s != nil {
		for _, e := range r.bk.entries[s.N] {
			if c, ok := r.typedIn(e); ok {
				return c.ID, !c.Silent, nil
			}
		}
	}
	for _, group := range []bool{true, false} {
		for _, c := range r.order {
			if c.Group() == group && !c.Silent && c.Admitted {
				return c.ID, true, nil
			}
		}
	}
	return 0, false, nil
}

// meet reads who is present in the household and where they can read, once.
func (r *reminding) meet() error {
	if r.chats != nil {
		return nil
	}
	chats, err := r.tx.Chats(r.bk.id)
	if err != nil {
		return err
	}
	if r.members, err = r.tx.Members(r.bk.id); err != nil {
		return err
	}
	r.chats = map[int64]store.Chat{}
	for _, c := range chats {
		if c.Group() || r.present(c.Member) {
			r.chats[c.ID] = c
			r.order = append(r.order, c)
		}
	}
	return nil
}

const (
	ownRule     = "R50" // the reminder that somebody asked for
	welcomeRule = "R43" // what to read first after days away: it speaks to who was away, not to all
)

// present reports a member that has not left the household: what is said in the
// private chat of one that has is no longer theirs to read.
func (r *reminding) present(member int64) bool {
	for _, m := range r.members {
		if m.ID == member {
			return true
		}
	}
	return false
}

// privateOf is the private chat of a member by name; false where there is none, or
// where it is silent: what is minded by somebody who cannot be reached goes to the
// batch's chat.
func (r *reminding) privateOf(name string) (store.Chat, bool) {
	for _, m := range r.members {
		if name == "" || !strings.EqualFold(m.Name, name) {
			continue
		}
		for _, c := range r.order {
			if !c.Group() && c.Member == m.ID && !c.Silent {
				return c, true
			}
		}
	}
	return store.Chat{}, false
}

// askedIn is the chat in which an own reminder was asked for, or days away were told.
func (r *reminding) askedIn(root int64) (store.Chat, bool) {
	e, err := r.tx.Entry(r.bk.id, root)
	if err != nil {
		return store.Chat{}, false
	}
	return r.typedIn(e)
}

// typedIn is the chat in which an entry was typed; false for one that was imported
// or made by a button.
func (r *reminding) typedIn(e ferment.Entry) (store.Chat, bool) {
	if e.Message == 0 {
		return store.Chat{}, false
	}
	m, err := r.tx.Message(r.bk.id, e.Message)
	if err != nil || m.Kind == "import" {
		return store.Chat{}, false
	}
	c, ok := r.chats[m.Chat]
	return c, ok && (m.Kind != "press" || e.Key == ferment.SetRemind)
}

// lookAgain has the next tick look at a book: a chat that was silent speaks again,
// and what waited for it may still matter.
func lookAgain(tx *store.Tx, book int64, now time.Time) error {
	return tx.SetNextDue(store.Subject{Book: book, Kind: schedule.BookKind, N: book, NextDue: now})
}
