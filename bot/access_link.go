package bot

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

// Kinds of links.
const (
	linkJoin  = "join"      // into the book of the keeper who made it
	linkHouse = "household" // to a new, empty book
)

// linkLife is how long a link works.
const linkLife = 24 * time.Hour

// hashOf is what is stored of a link: the link itself is random enough (128
// bits) to need no salt.
func hashOf(payload string) []byte {
	sum := sha256.Sum256([]byte(payload))
	return sum[:]
}

// newLink makes a link for one person and stores its hash.
func (a *Access) newLink(tx *store.Tx, kind string, book, by int64, now time.Time) (string, error) {
	payload, err := a.random(16)
	if err != nil {
		return "", err
	}
	if err := tx.AddInvite(hashOf(payload), book, kind, now.Add(linkLife), by); err != nil {
		return "", fmt.Errorf("invite: %w", err)
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.botName == "" {
		return "/start " + payload, nil
	}
	return "https://t.me/" + a.botName + "?start=" + payload, nil
}

// link tries a payload as an invite. It is used up in this transaction, together
// with the admission; whoever is in a book already is told so and the link stays
// whole. A member's odd word is no link unless it came with /start: the
// conversation may know what it is.
func (a *Access) link(tx *store.Tx, from From, c ChatInfo, payload string) (Verdict, bool, error) {
	// Whoever is in a book keeps the link whole: they may have opened their own.
	chat, err := present(tx, c)
	if err == nil {
		if _, started := startPayload(c.Text); !started {
			return Verdict{}, false, nil
		}
		return Verdict{What: Handled}, true, a.tell(tx, chat, c, say.OtherBook(), nil)
	}
	if !errors.Is(err, store.ErrNotFound) {
		return Verdict{}, true, fmt.Errorf("invite: %w", err)
	}
	book, kind, by, err := tx.UseInvite(hashOf(payload), c.Now)
	if errors.Is(err, store.ErrNotFound) || errors.Is(err, store.ErrExpired) {
		a.mu.Lock()
		a.wrong(from.User, c.Now)
		a.mu.Unlock()
		return Verdict{What: Ignore, Say: say.LinkDead()}, true, nil
	}
	if err != nil {
		return Verdict{}, true, fmt.Errorf("invite: %w", err)
	}
	if kind == linkHouse {
		return a.openHousehold(tx, from, c)
	}
	return a.join(tx, from, c, book, by)
}

// openHousehold makes a new, empty book, kept by the sender.
func (a *Access) openHousehold(tx *store.Tx, from From, c ChatInfo) (Verdict, bool, error) {
	book, err := tx.CreateBook("", c.Now)
	if err != nil {
		return Verdict{}, true, fmt.Errorf("new household: %w", err)
	}
	m, err := tx.AddMember(store.Member{Book: book.ID, Name: from.Name, Keeper: true, PlatformUser: from.User, Joined: c.Now})
	if err != nil {
		return Verdict{}, true, fmt.Errorf("new household: %w", err)
	}
	chat, err := a.admitPrivate(tx, m, from, c)
	if err != nil {
		return Verdict{}, true, err
	}
	return Verdict{What: Handled}, true, a.tell(tx, chat, c, say.NewBook(), nil)
}

// join lets the sender into a book and tells its keeper, with a way back. A link
// whose maker keeps the book no longer is dead.
func (a *Access) join(tx *store.Tx, from From, c ChatInfo, book, by int64) (Verdict, bool, error) {
	keeper, err := keeperOf(tx, book)
	if err != nil {
		return Verdict{}, true, err
	}
	if keeper.ID != by {
		return Verdict{What: Ignore, Say: say.LinkDead()}, true, nil
	}
	m, err := a.enter(tx, book, from, 0, c.Now)
	if err != nil {
		return Verdict{}, true, err
	}
	chat, err := a.admitPrivate(tx, m, from, c)
	if err != nil {
		return Verdict{}, true, err
	}
	buttons := []store.Button{button(say.LabelRemove, actRemoveNow, m.ID, c.Now)}
	if err := a.tellMember(tx, keeper, c, "joined", say.Welcome(from.Name), buttons); err != nil {
		return Verdict{}, true, err
	}
	return Verdict{What: Handled}, true, a.tell(tx, chat, c, say.Joined(keeper.Name), nil)
}

// enter finds or makes the sender's membership of a book. via is the group's
// chat that they came through, 0 for a link.
func (a *Access) enter(tx *store.Tx, book int64, from From, via int64, now time.Time) (store.Member, error) {
	m, err := memberByUser(tx, book, from.User)
	switch {
	case errors.Is(err, store.ErrNotFound):
		m, err = tx.AddMember(store.Member{Book: book, Name: from.Name, PlatformUser: from.User, Joined: now, Via: via})
	case err == nil && via == 0 && m.Via != 0: // a link outlasts the group
		m.Via = 0
		err = tx.SetMember(m)
	}
	if err != nil {
		return m, fmt.Errorf("enter: %w", err)
	}
	return m, clearRemoved(tx, m, via)
}

// admitPrivate opens the private chat of a member. A chat that was in another book
// before moves with it: its platform id is in one book at a time.
func (a *Access) admitPrivate(tx *store.Tx, m store.Member, from From, c ChatInfo) (store.Chat, error) {
	chat, err := tx.PutChat(store.Chat{
		Book: m.Book, Platform: c.Platform, PlatformID: c.PlatformID, Kind: "private",
		Title: from.Name, Member: m.ID, Admitted: true,
	})
	if err != nil {
		return chat, fmt.Errorf("admit: %w", err)
	}
	return chat, nil
}
