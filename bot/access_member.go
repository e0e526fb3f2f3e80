package bot

import (
	"errors"
	"fmt"
	"time"

	"mustbook/store"
)

// memberByUser finds somebody present in one book.
func memberByUser(tx *store.Tx, book, user int64) (store.Member, error) {
	ms, err := tx.Members(book)
	if err != nil {
		return store.Member{}, err
	}
	for _, m := range ms {
		if m.PlatformUser == user && user != 0 {
			return m, nil
		}
	}
	return store.Member{}, store.ErrNotFound
}

// keeperOf is the keeper of a book.
func keeperOf(tx *store.Tx, book int64) (store.Member, error) {
	ms, err := tx.Members(book)
	if err != nil {
		return store.Member{}, fmt.Errorf("keeper: %w", err)
	}
	for _, m := range ms {
		if m.Keeper && m.Left.IsZero() {
			return m, nil
		}
	}
	return store.Member{}, fmt.Errorf("keeper: %w", store.ErrNotFound)
}

// removedKey notes that somebody was taken out by the keeper: standing in an
// admitted group does not bring them back, only a new link does.
func removedKey(book, user int64) string { return fmt.Sprintf("access/removed/%d/%d", book, user) }

// removed says whether the keeper took somebody out and no link has brought them
// back.
func removed(tx *store.Tx, book, user int64) bool {
	v, has := tx.Meta(removedKey(book, user))
	return has && v != ""
}

// clearRemoved lets somebody back in who came with a link.
func clearRemoved(tx *store.Tx, m store.Member, via int64) error {
	if via != 0 || !removed(tx, m.Book, m.PlatformUser) {
		return nil
	}
	return tx.SetMeta(removedKey(m.Book, m.PlatformUser), "")
}

// end ends a membership and closes the private chat that came with it.
func (a *Access) end(tx *store.Tx, m store.Member, now time.Time) error {
	// The row stays: entries name their author by it.
	m.Left = now
	if err := tx.SetMember(m); err != nil {
		return fmt.Errorf("leave: %w", err)
	}
	chats, err := tx.Chats(m.Book)
	if err != nil {
		return fmt.Errorf("leave: %w", err)
	}
	for _, c := range chats {
		if c.Kind == "private" && c.Member == m.ID && c.Admitted {
			c.Admitted = false
			if _, err := tx.PutChat(c); err != nil {
				return fmt.Errorf("leave: %w", err)
			}
		}
	}
	return nil
}

// Leaves notes that somebody left a group: their membership ends if they came
// through it, and so does the private chat that came with that. A keeper stays.
func (a *Access) Leaves(tx *store.Tx, platform string, group, user int64, now time.Time) error {
	chat, err := tx.ChatByPlatform(platform, group)
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("leave: %w", err)
	}
	m, err := memberByUser(tx, chat.Book, user)
	if errors.Is(err, store.ErrNotFound) || err == nil && (m.Via != chat.ID || m.Keeper || !m.Left.IsZero()) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("leave: %w", err)
	}
	return a.end(tx, m, now)
}

// Silence notes that the bot can't write to a chat any more (blocked, kicked)
// until something is heard from there.
func (a *Access) Silence(tx *store.Tx, platform string, id int64) error {
	return setSilent(tx, platform, id, true)
}

// Wake notes that the bot can write to a chat again.
func (a *Access) Wake(tx *store.Tx, platform string, id int64) error {
	return setSilent(tx, platform, id, false)
}

// setSilent does nothing where the chat is in no book.
func setSilent(tx *store.Tx, platform string, id int64, silent bool) error {
	chat, err := tx.ChatByPlatform(platform, id)
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	if err == nil && chat.Silent != silent {
		chat.Silent = silent
		_, err = tx.PutChat(chat)
	}
	if err != nil {
		return fmt.Errorf("silence: %w", err)
	}
	return nil
}

// Due says, from memory alone, whether a day has passed since somebody's presence
// behind a chat was looked at, and notes that it is looked at now.
func (a *Access) Due(chatID, user int64, now time.Time) bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	return firstToday(a.asked, [2]int64{chatID, user}, now)
}

// Doubt names the group of which the platform should be asked whether the user is
// still in it: the one through which they came into the book of this chat. ok is
// false where nothing is to be asked.
func (a *Access) Doubt(tx *store.Tx, platform string, chatID, user int64) (group int64, ok bool) {
	chat, err := tx.ChatByPlatform(platform, chatID)
	var m store.Member
	if err == nil && chat.Admitted {
		m, err = memberByUser(tx, chat.Book, user)
	} else {
		m, err = tx.MemberByUser(user)
	}
	if err != nil || m.Via == 0 || m.Keeper || !m.Left.IsZero() {
		return 0, false
	}
	via, err := tx.Chat(m.Via)
	return via.PlatformID, err == nil && !via.Silent && via.PlatformID != chatID
}
