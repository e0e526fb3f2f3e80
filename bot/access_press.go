package bot

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

// What the buttons of this file do.
const (
	actInvite     = "invite"
	actInviteSure = "invite sure"
	actHouse      = "house"
	actHouseSure  = "house sure"
	actRemove     = "remove"
	actRemoveNow  = "removed" // asked twice by then, or under the news that somebody joined
	actHandOn     = "handon"
	actSure       = "sure"
	actAccept     = "accept"
	actLeave      = "leave"
	actNothing    = "nothing"
)

// act is the action of a button: what, and whom it is about.
type act struct {
	Access string `json:"access"`
	Member int64  `json:"member"`
	From   int64  `json:"from,omitempty"` // of an offer: who makes it
}

// buttonLife is how long a question about people can be answered.
const buttonLife = 24 * time.Hour

// button is an answer to a question about people.
func button(label, what string, member int64, now time.Time) store.Button {
	return buttonFrom(label, what, member, 0, now)
}

// buttonFrom is a button that also remembers who made the offer, for the offer dies
// when that person no longer keeps the book.
func buttonFrom(label, what string, member, from int64, now time.Time) store.Button {
	b, err := json.Marshal(act{what, member, from})
	if err != nil {
		panic(err) // a struct of a string and two numbers
	}
	return store.Button{Label: label, Action: b, Expires: now.Add(buttonLife)}
}

// Press does what a button of this file says; the caller has checked that chat,
// book and present membership of the presser match the button's row. done is
// false for the buttons of others.
func (a *Access) Press(tx *store.Tx, in Incoming, action []byte) (done bool, err error) {
	var x act
	if json.Unmarshal(action, &x) != nil || x.Access == "" {
		return false, nil
	}
	switch x.Access {
	case actNothing:
		return true, a.answer(tx, in, say.Unchanged(), nil)
	case actLeave:
		return true, a.leave(tx, in, x)
	case actAccept:
		return true, a.accept(tx, in, x)
	case actHouse, actHouseSure:
		return true, a.pressHouse(tx, in, x)
	}
	if no := keeperInPrivate(in); no != "" {
		return true, a.answer(tx, in, no, nil)
	}
	switch x.Access {
	case actInvite:
		return true, a.ask(tx, in, say.AskInviteAgain(), say.LabelYes, actInviteSure, x.Member)
	case actInviteSure:
		return true, a.giveLink(tx, in, linkJoin, say.Invite)
	}
	m, err := tx.Member(in.Chat.Book, x.Member)
	if errors.Is(err, store.ErrNotFound) || err == nil && !m.Left.IsZero() {
		return true, a.answer(tx, in, say.Unchanged(), nil)
	}
	if err != nil {
		return true, fmt.Errorf("press: %w", err)
	}
	switch x.Access {
	case actRemove:
		return true, a.ask(tx, in, say.AskRemoveAgain(m.Name), say.LabelYes, actRemoveNow, m.ID)
	case actRemoveNow:
		return true, a.remove(tx, in, m)
	case actHandOn:
		return true, a.ask(tx, in, say.AskKeeperAgain(m.Name), say.LabelSure, actSure, m.ID)
	case actSure:
		return true, a.offer(tx, in, m)
	}
	return false, nil
}

// pressHouse goes on with a new household, if the presser is still the host.
func (a *Access) pressHouse(tx *store.Tx, in Incoming, x act) error {
	if no := hostInPrivate(in); no != "" {
		return a.answer(tx, in, no, nil)
	}
	if x.Access == actHouse {
		return a.ask(tx, in, say.AskHouseholdAgain(), say.LabelYes, actHouseSure, x.Member)
	}
	return a.giveLink(tx, in, linkHouse, say.Household)
}

// leave says goodbye first: once the membership has ended nothing more may be
// written to that chat.
func (a *Access) leave(tx *store.Tx, in Incoming, x act) error {
	if in.Member.ID != x.Member || in.Member.Keeper {
		return a.answer(tx, in, say.Unchanged(), nil)
	}
	if err := a.answer(tx, in, say.Left(), nil); err != nil {
		return err
	}
	return a.takeOut(tx, in.Member, in.Now)
}

// remove takes somebody out. What they typed stays: the record is the book's.
func (a *Access) remove(tx *store.Tx, in Incoming, m store.Member) error {
	if m.Keeper {
		return a.answer(tx, in, say.KeeperCannotLeave(), nil)
	}
	if err := a.takeOut(tx, m, in.Now); err != nil {
		return err
	}
	return a.answer(tx, in, say.Removed(m.Name), nil)
}

// takeOut ends a membership for good: standing in a group does not renew it.
func (a *Access) takeOut(tx *store.Tx, m store.Member, now time.Time) error {
	if m.PlatformUser != 0 {
		if err := tx.SetMeta(removedKey(m.Book, m.PlatformUser), "1"); err != nil {
			return fmt.Errorf("remove: %w", err)
		}
	}
	return a.end(tx, m, now)
}

// offer asks the one who is to keep the book, in their private chat.
func (a *Access) offer(tx *store.Tx, in Incoming, m store.Member) error {
	chat, err := privateOf(tx, m)
	if errors.Is(err, store.ErrNotFound) {
		return a.answer(tx, in, say.NoPrivate(m.Name), nil)
	}
	if err != nil {
		return err
	}
	_, _, err = tx.Enqueue(store.Out{
		Book: m.Book, Chat: chat.ID, Source: sourceOf(in) + ":offer", Kind: "reply", Text: say.OfferKeeper(in.Member.Name), Created: in.Now,
		Buttons: []store.Button{
			buttonFrom(say.LabelAccept, actAccept, m.ID, in.Member.ID, in.Now), button(say.LabelNo, actNothing, m.ID, in.Now),
		},
	})
	if err != nil {
		return fmt.Errorf("offer: %w", err)
	}
	return a.answer(tx, in, say.KeeperAsked(m.Name), nil)
}

// accept hands the book on, if whoever offered it still keeps it.
func (a *Access) accept(tx *store.Tx, in Incoming, x act) error {
	// The offer may be a day old: whoever made it must still keep the book.
	old, err := tx.Member(in.Chat.Book, x.From)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return fmt.Errorf("accept: %w", err)
	}
	if err != nil || !old.Keeper || in.Member.ID != x.Member || in.Anonymous {
		return a.answer(tx, in, say.Unchanged(), nil)
	}
	now := in.Member
	old.Keeper, now.Keeper = false, true
	now.Via = 0 // a keeper does not depend on a group
	for _, m := range []store.Member{old, now} {
		if err := tx.SetMember(m); err != nil {
			return fmt.Errorf("accept: %w", err)
		}
	}
	text := say.KeeperNow(now.Name)
	if err := a.tellMember(tx, old, ChatInfo{Source: sourceOf(in), Now: in.Now}, "handed", text, nil); err != nil {
		return err
	}
	return a.answer(tx, in, text, nil)
}
