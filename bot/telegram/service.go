package telegram

import (
	"context"
	"fmt"
	"strings"

	"mustbook/bot"
	"mustbook/store"
)

// service handles what a message says about its chat: a move to a supergroup,
// somebody who left. done means that there is nothing else in it.
func (b *tg) service(tx *store.Tx, j *job, m *message) (done bool, err error) {
	switch {
	case m.MovedTo != 0:
		return true, ignoreMissing(tx.MigrateChat(platform, m.Chat.ID, m.MovedTo))
	case m.MovedFrom != 0:
		return true, ignoreMissing(tx.MigrateChat(platform, m.MovedFrom, m.Chat.ID))
	case m.Left != nil && m.Left.ID != b.id():
		return true, b.cfg.Access.Leaves(tx, platform, m.Chat.ID, m.Left.ID, b.cfg.Now())
	}
	return m.Left != nil || len(m.Joined) > 0, nil
}

// ownStatus is a change of what the bot is in a chat: added, made an admin,
// thrown out, blocked.
func (b *tg) ownStatus(ctx context.Context, tx *store.Tx, j *job, o *ownStatus) (trace, error) {
	var err error
	switch {
	case o.New == "left" || o.New == "kicked":
		err = b.cfg.Access.Silence(tx, platform, o.Chat.ID)
	case !o.Chat.group():
		err = b.cfg.Access.Wake(tx, platform, o.Chat.ID) // unblocked
	default:
		return b.standing(ctx, tx, j, o)
	}
	if err != nil {
		return nothing, err
	}
	return traceOf(tx, o.Chat.ID)
}

// standing is the bot added to a group, or what it may see there changed.
func (b *tg) standing(ctx context.Context, tx *store.Tx, j *job, o *ownStatus) (trace, error) {
	b.mu.Lock()
	sees := b.who.SeesAll
	b.mu.Unlock()
	info := bot.ChatInfo{
		Platform: platform, PlatformID: o.Chat.ID, Group: true, Title: o.Chat.Title, Source: source(j),
		At: sent(o.Date), Now: b.cfg.Now(), Added: true, Hidden: !sees && o.New != "administrator",
	}
	_, _, verdict, err := b.cfg.Access.Resolve(ctx, tx, bot.From{User: o.From.ID, Name: o.From.name()}, info)
	if err != nil {
		return nothing, fmt.Errorf("access: %w", err)
	}
	j.aside = verdict.Say
	return verdict.What == bot.Handled, nil
}

// isGone asks the platform, before the transaction and at most once a day, whether
// a member who came through a group is still in it. It also learns who the bot is
// where an update needs that.
func (b *tg) isGone(ctx context.Context, j *job) bool {
	u := j.u
	if m := u.Message; m != nil && m.Chat.group() && strings.Contains(m.Text, "@") {
		if _, err := b.self(ctx); err != nil { // whom a command or a mention means hangs on it
			b.cfg.Log.Debug("who am I", "error", b.redact(err))
		}
	}
	if u.Own != nil {
		// Privacy mode may have been changed since the start; that shows when the bot is
		// added anew.
		if _, err := b.askSelf(ctx); err != nil {
			b.cfg.Log.Debug("who am I", "error", b.redact(err))
		}
		return false
	}
	if j.doubt.user == 0 {
		return false
	}
	group, ask := int64(0), false
	err := b.cfg.DB.View(ctx, func(tx *store.Tx) error {
		group, ask = b.cfg.Access.Doubt(tx, platform, j.doubt.chat, j.doubt.user)
		return nil
	})
	return err == nil && ask && !b.stillThere(ctx, group, j.doubt.user)
}

// sender is who did something in which chat; zero for nobody.
type sender struct{ chat, user int64 }

// inDoubt is the sender of an update where it is time to ask whether they are still in
// the group that they came through. It notes that it was.
func (b *tg) inDoubt(u update) (s sender) {
	switch {
	case u.Press != nil:
		s = sender{u.Press.Message.Chat.ID, u.Press.From.ID}
	case u.Message != nil && u.Message.Sender == nil:
		s = sender{u.Message.Chat.ID, u.Message.From.ID}
	}
	if s.user == 0 || s.chat == 0 || s.user == b.id() || !b.cfg.Access.Due(s.chat, s.user, b.cfg.Now()) {
		return sender{}
	}
	return s
}
