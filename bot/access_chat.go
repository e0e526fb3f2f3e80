package bot

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

// private finds the member of a private chat, or admits one who is in an
// admitted group; anybody else is a stranger.
func (a *Access) private(tx *store.Tx, from From, c ChatInfo) (store.Chat, store.Member, Verdict, error) {
	none := func(v Verdict, err error) (store.Chat, store.Member, Verdict, error) {
		return store.Chat{}, store.Member{}, v, err
	}
	chat, err := present(tx, c)
	if errors.Is(err, store.ErrNotFound) {
		m, err := throughGroup(tx, from)
		if errors.Is(err, store.ErrNotFound) || from.Gone {
			return none(a.stranger(tx, from, c))
		}
		if err != nil {
			return none(Verdict{}, err)
		}
		chat, err = a.admitPrivate(tx, m, from, c)
		return chat, m, Verdict{What: Pass}, err
	}
	if err != nil {
		return none(Verdict{}, fmt.Errorf("chat: %w", err))
	}
	m, err := tx.Member(chat.Book, chat.Member)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return none(Verdict{}, fmt.Errorf("member: %w", err))
	}
	// The row of the chat may outlive the membership, and a chat may come to another
	// person's hands: both are looked at each time.
	gone := err != nil || !m.Left.IsZero() || m.PlatformUser != from.User
	if !gone && m.Via != 0 && from.Gone {
		gone = true
		if err := a.end(tx, m, c.Now); err != nil {
			return none(Verdict{}, err)
		}
	}
	if gone {
		return none(a.stranger(tx, from, c))
	}
	return chat, m, Verdict{What: Pass}, a.awake(tx, &chat, c)
}

// awake forgets that a chat was silent (blocked, kicked): somebody wrote in it.
func (a *Access) awake(tx *store.Tx, chat *store.Chat, c ChatInfo) error {
	if !chat.Silent && (c.Title == "" || chat.Title == c.Title || !c.Group) {
		return nil
	}
	if c.Group && c.Title != "" {
		chat.Title = c.Title
	}
	woken := chat.Silent
	chat.Silent = false
	put, err := tx.PutChat(*chat)
	if err != nil {
		return fmt.Errorf("chat: %w", err)
	}
	*chat = put
	if !woken {
		return nil
	}
	return lookAgain(tx, chat.Book, c.Now)
}

// throughGroup finds a present membership that came through a group: its private
// chat joins the same book.
func throughGroup(tx *store.Tx, from From) (store.Member, error) {
	m, err := tx.MemberByUser(from.User)
	if err != nil {
		return m, err
	}
	if !m.Left.IsZero() || m.Via == 0 {
		return m, store.ErrNotFound
	}
	return m, nil
}

// stranger gets help where somebody may be hurt, else one polite line a day.
func (a *Access) stranger(tx *store.Tx, from From, c ChatInfo) (Verdict, error) {
	if v := a.cryOnly(c); v.Say != "" {
		return v, nil
	}
	if from.Anonymous || !a.lineOfToday(from.User, c.Now) {
		return Verdict{}, nil
	}
	a.mu.Lock()
	open := a.open
	a.mu.Unlock()
	if _, claimed := tx.Meta(metaClaimed); open && !claimed {
		return Verdict{Say: say.Unclaimed()}, nil
	}
	return Verdict{Say: say.Stranger()}, nil
}

// cryOnly answers a cry for help, whoever it comes from, and nothing else.
func (a *Access) cryOnly(c ChatInfo) Verdict {
	if a.Cry == nil || c.Text == "" {
		return Verdict{}
	}
	answer, is := a.Cry(c.Text, c.late())
	if !is {
		return Verdict{}
	}
	return Verdict{Say: answer}
}

// lineOfToday says whether somebody may have the polite line now, and notes it
// under a salted hash.
func (a *Access) lineOfToday(user int64, now time.Time) bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	key := sha256.Sum256(binary.BigEndian.AppendUint64(append([]byte(nil), a.salt...), uint64(user)))
	return firstToday(a.strayed, key, now)
}

// firstToday says whether a day has passed since a key was noted, and notes it. Memory
// is bounded: after ten thousand keys all of them are forgotten.
func firstToday[K comparable](noted map[K]time.Time, key K, now time.Time) bool {
	if last, had := noted[key]; had && now.Sub(last) < 24*time.Hour {
		return false
	}
	if len(noted) > 10_000 {
		clear(noted)
	}
	noted[key] = now
	return true
}

// group finds the book of a group and the sender in it. A group that is not
// admitted can be admitted by a keeper, who adds the bot or sends /admit.
func (a *Access) group(tx *store.Tx, from From, c ChatInfo) (store.Chat, store.Member, Verdict, error) {
	none := func(v Verdict, err error) (store.Chat, store.Member, Verdict, error) {
		return store.Chat{}, store.Member{}, v, err
	}
	chat, err := present(tx, c)
	if errors.Is(err, store.ErrNotFound) {
		return none(a.admit(tx, from, c))
	}
	if err != nil {
		return none(Verdict{}, fmt.Errorf("chat: %w", err))
	}
	// A second admission changes what can be seen, never whose book it is.
	if c.Added || isCommand(c.Text, "/admit") {
		return none(a.admitted(tx, chat, from, c))
	}
	if err := a.awake(tx, &chat, c); err != nil {
		return none(Verdict{}, err)
	}
	if from.Gone || removed(tx, chat.Book, from.User) {
		return none(a.cryOnly(c), nil) // a polite line here would point at them before everybody
	}
	m, err := a.enter(tx, chat.Book, from, chat.ID, c.Now)
	if err != nil {
		return none(Verdict{}, err)
	}
	return chat, m, Verdict{What: Pass}, tx.SeeInChat(chat.ID, m.ID, c.Now)
}

// isCommand reads "/admit" and "/admit@bot", in any case and with words after it.
func isCommand(text, command string) bool {
	word, _, _ := strings.Cut(strings.TrimSpace(text), " ")
	word, _, _ = strings.Cut(word, "@")
	return strings.EqualFold(word, command)
}

// admit lets a group in when the sender keeps a book.
func (a *Access) admit(tx *store.Tx, from From, c ChatInfo) (Verdict, error) {
	// Only a person with a name can admit: an anonymous admin may be anybody.
	// A link that adds the bot to a group (?startgroup=) ends in a /start there.
	asks := c.Added || isCommand(c.Text, "/admit") || isCommand(c.Text, "/start")
	keeper, err := keeping(tx, c.Platform, from)
	if errors.Is(err, store.ErrNotFound) || !asks {
		return a.strangerGroup(from, c, asks)
	}
	if err != nil {
		return Verdict{}, err
	}
	chat, err := tx.PutChat(store.Chat{
		Book: keeper.Book, Platform: c.Platform, PlatformID: c.PlatformID, Kind: "group",
		Title: c.Title, Admitted: true, PrivacyHidden: c.Hidden,
	})
	if err != nil {
		return Verdict{}, fmt.Errorf("admit: %w", err)
	}
	if err := tx.SeeInChat(chat.ID, keeper.ID, c.Now); err != nil {
		return Verdict{}, fmt.Errorf("admit: %w", err)
	}
	text := say.GroupAdmitted(keeper.Name)
	if c.Hidden {
		text += "\n" + say.Hidden()
	}
	return Verdict{What: Handled}, a.tell(tx, chat, c, text, nil)
}

// admitted answers a second admission: nothing changes but what can be seen.
func (a *Access) admitted(tx *store.Tx, chat store.Chat, from From, c ChatInfo) (Verdict, error) {
	text := ""
	if chat.PrivacyHidden && !c.Hidden && c.Added {
		text = say.Seen()
	} else if c.Hidden && c.Added {
		text = say.Hidden()
	}
	if keeper, err := keeping(tx, c.Platform, from); err == nil && keeper.Book != chat.Book && text == "" {
		text = say.GroupElsewhere()
	}
	if c.Added {
		chat.PrivacyHidden = c.Hidden
	}
	chat.Silent = false
	chat, err := tx.PutChat(chat)
	if err == nil {
		err = lookAgain(tx, chat.Book, c.Now)
	}
	if err != nil || text == "" {
		return Verdict{What: Handled}, err
	}
	return Verdict{What: Handled}, a.tell(tx, chat, c, text, nil)
}

// strangerGroup says once a day in a group what it would take to be let in, and
// only where it was asked; a cry for help is answered anywhere.
func (a *Access) strangerGroup(from From, c ChatInfo, asked bool) (Verdict, error) {
	if v := a.cryOnly(c); v.Say != "" {
		return v, nil
	}
	if !asked {
		return Verdict{}, nil
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if last, had := a.standing[c.PlatformID]; had && c.Now.Sub(last) < 24*time.Hour {
		return Verdict{}, nil
	}
	if len(a.standing) > 10_000 {
		clear(a.standing)
	}
	a.standing[c.PlatformID] = c.Now
	return Verdict{Say: say.StrangerGroup()}, nil
}

// keeping finds the book that the sender keeps: the one of their private chat
// where they keep several.
func keeping(tx *store.Tx, platform string, from From) (store.Member, error) {
	if from.Anonymous {
		return store.Member{}, store.ErrNotFound
	}
	chat, err := tx.ChatByPlatform(platform, from.User)
	if err != nil {
		return store.Member{}, err
	}
	m, err := tx.Member(chat.Book, chat.Member)
	if err != nil {
		return m, err
	}
	if !m.Keeper || !m.Left.IsZero() || m.PlatformUser != from.User {
		return m, store.ErrNotFound
	}
	return m, nil
}
