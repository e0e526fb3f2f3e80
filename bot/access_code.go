package bot

import (
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"fmt"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

// tries counts wrong codes within an hour.
type tries struct {
	n     int
	since time.Time
}

// How often a wrong code is answered within an hour, by one person and in all.
const (
	triesEach = 5
	triesAll  = 50
)

// over says whether the limit is reached; an hour after the first guess the count
// begins anew.
func (t *tries) over(limit int, now time.Time) bool {
	if now.Sub(t.since) >= time.Hour {
		t.n, t.since = 0, now
	}
	return t.n >= limit
}

// silent says whether this person, or everybody, has guessed too often.
func (a *Access) silent(user int64, now time.Time) bool {
	t := a.tries[user]
	return a.all.over(triesAll, now) || t != nil && t.over(triesEach, now)
}

// wrong counts one wrong guess.
func (a *Access) wrong(user int64, now time.Time) {
	t := a.tries[user]
	if t == nil {
		if len(a.tries) > 10*triesAll { // more people than can guess in an hour
			clear(a.tries)
		}
		t = &tries{since: now}
		a.tries[user] = t
	}
	t.over(triesEach, now)
	a.all.over(triesAll, now)
	t.n++
	a.all.n++
}

// key takes what came with /start, or a word that looks like a code: the host's
// code, or a link's. done is false where it is neither and nothing was tried.
func (a *Access) key(tx *store.Tx, from From, c ChatInfo, payload string) (v Verdict, done bool, err error) {
	if payload == "" || from.Anonymous {
		return Verdict{}, false, nil
	}
	// Both hashes have one length, so the comparison tells nothing by its time.
	a.mu.Lock()
	quiet, right := a.silent(from.User, c.Now), false
	if !quiet {
		sum := sha256.Sum256([]byte(normalCode(payload)))
		right = subtle.ConstantTimeCompare(sum[:], a.code[:]) == 1 && a.open
	}
	a.mu.Unlock()
	if quiet {
		_, err := present(tx, c)
		return Verdict{}, errors.Is(err, store.ErrNotFound), ignoreMissing(err)
	}
	// A code is compared before a link is looked up: a member who types a code by
	// mistake must not use up a guess.
	if right {
		return a.claim(tx, from, c, payload)
	}
	return a.link(tx, from, c, payload)
}

// present finds the private chat of somebody who is in a book.
func present(tx *store.Tx, c ChatInfo) (store.Chat, error) {
	chat, err := tx.ChatByPlatform(c.Platform, c.PlatformID)
	if err == nil && (!chat.Admitted || chat.Book == 0) {
		return chat, store.ErrNotFound
	}
	return chat, err
}

// ignoreMissing passes over what is simply not in the book.
func ignoreMissing(err error) error {
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	return err
}

// DeadCode is the mark of the one-time code that was used up last; empty for none.
func DeadCode(tx *store.Tx) string {
	dead, _ := tx.Meta(metaCode)
	return dead
}

// KeepDead notes a mark of DeadCode in a file that may not know of it.
func KeepDead(tx *store.Tx, dead string) error { return tx.SetMeta(metaCode, dead) }

// claim makes the sender the host and the keeper of book 1, with all that the
// terminal has put there. Whoever was host before is told.
func (a *Access) claim(tx *store.Tx, from From, c ChatInfo, code string) (Verdict, bool, error) {
	book, err := a.firstBook(tx, c.Now)
	if err != nil {
		return Verdict{}, true, err
	}
	host, err := a.hostOf(tx, book, from, c)
	if err != nil {
		return Verdict{}, true, err
	}
	chat, err := tx.PutChat(store.Chat{
		Book: book.ID, Platform: c.Platform, PlatformID: c.PlatformID, Kind: "private",
		Title: from.Name, Member: host.ID, Admitted: true,
	})
	if err != nil {
		return Verdict{}, true, fmt.Errorf("claim: %w", err)
	}
	if err := tx.ClaimBook(book.ID); err != nil {
		return Verdict{}, true, fmt.Errorf("claim: %w", err)
	}
	if err := tx.SetMeta(metaClaimed, c.Now.UTC().Format(time.RFC3339)); err != nil {
		return Verdict{}, true, fmt.Errorf("claim: %w", err)
	}
	if err := tx.SetMeta(metaCode, hexHash(code)); err != nil {
		return Verdict{}, true, fmt.Errorf("claim: %w", err)
	}
	batches, err := tx.BatchNumbers(book.ID)
	if err != nil {
		return Verdict{}, true, fmt.Errorf("claim: %w", err)
	}
	a.mu.Lock()
	a.open = false
	a.mu.Unlock()
	return Verdict{What: Handled}, true, a.tell(tx, chat, c, say.Claimed(len(batches)), nil)
}

// firstBook is book 1, made where nobody has spoken yet.
func (a *Access) firstBook(tx *store.Tx, now time.Time) (store.Book, error) {
	book, err := tx.Book(1)
	if errors.Is(err, store.ErrNotFound) {
		book, err = tx.CreateBook("", now)
	}
	if err != nil {
		return book, fmt.Errorf("first book: %w", err)
	}
	return book, nil
}

// hostOf makes the sender host and keeper of the book: the member that the
// terminal made becomes theirs, a host of before stays a member.
func (a *Access) hostOf(tx *store.Tx, book store.Book, from From, c ChatInfo) (store.Member, error) {
	members, err := tx.Members(book.ID)
	if err != nil {
		return store.Member{}, fmt.Errorf("host: %w", err)
	}
	me := store.Member{Book: book.ID, Joined: c.Now}
	// The terminal's member has no platform user yet: whoever claims the book takes
	// that row over, and with it all that was typed there.
	for _, m := range members {
		mine := m.PlatformUser == from.User
		if mine || m.PlatformUser == 0 && m.Keeper && me.ID == 0 {
			me = m
		} else if m.Host || m.Keeper {
			m.Host, m.Keeper = false, false
			if err := tx.SetMember(m); err != nil {
				return me, fmt.Errorf("host: %w", err)
			}
			if err := a.tellMember(tx, m, c, "newhost", say.NewHost(from.Name), nil); err != nil {
				return me, err
			}
		}
	}
	me.Name, me.PlatformUser, me.Keeper, me.Host, me.Left = from.Name, from.User, true, true, time.Time{}
	if me.ID == 0 {
		return tx.AddMember(me)
	}
	return me, tx.SetMember(me)
}
