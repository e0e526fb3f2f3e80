package telegram

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	lib "github.com/go-telegram/bot"

	"mustbook/bot"
	"mustbook/bot/say"
	"mustbook/store"
)

// platform is the name under which our chats stand in the book.
const platform = "telegram"

// trace is what stays of an update in the inbox once it is handled.
type trace bool

const (
	keyStays trace = true  // its key, so that it is not handled again when it comes again
	nothing  trace = false // it was no business of the book: not even that it came
)

// take handles one update within its savepoint.
func (b *tg) take(ctx context.Context, tx *store.Tx, j *job) (trace, error) {
	switch {
	case j.bad != nil:
		b.cfg.Log.Warn("an update that can't be read was set aside", "inbox", j.row.Seq)
		return keyStays, nil
	case j.u.Own != nil:
		return b.ownStatus(ctx, tx, j, j.u.Own)
	case j.u.Press != nil:
		return b.press(ctx, tx, j, j.u.Press)
	case j.u.Message != nil:
		return b.message(ctx, tx, j, j.u.Message)
	}
	return nothing, nil
}

// traceOf says what may stay of something whose chat need not be in a book.
func traceOf(tx *store.Tx, chatID int64) (trace, error) {
	_, err := tx.ChatByPlatform(platform, chatID)
	return trace(err == nil), ignoreMissing(err)
}

// source names the outbox rows of an update.
func source(j *job) string { return "in:" + j.row.Key }

// message goes to the service handlers, to Access, and if that lets it pass to
// the conversation.
func (b *tg) message(ctx context.Context, tx *store.Tx, j *job, m *message) (trace, error) {
	if done, err := b.service(tx, j, m); done || err != nil {
		if err != nil {
			return nothing, err
		}
		return traceOf(tx, m.Chat.ID)
	}
	kind, wanted := kindOf(m, j.u.Edited)
	if !wanted || m.From.IsBot && m.Sender == nil || b.toOtherBot(m) {
		return nothing, nil
	}
	at := sent(m.Date)
	if j.u.Edited {
		at = sent(m.EditDate)
	}
	from, info := b.fromOf(m, j), b.infoOf(m, j, at)
	chat, member, verdict, err := b.cfg.Access.Resolve(ctx, tx, from, info)
	if err != nil {
		return nothing, fmt.Errorf("access: %w", err)
	}
	j.aside = verdict.Say
	if verdict.What != bot.Pass {
		return verdict.What == bot.Handled, nil
	}
	if !j.weighed {
		j.flood, j.tell = b.floods(m.Chat.ID, at)
		j.weighed = true
	}
	if j.flood {
		if j.tell {
			j.aside = say.Flood()
		}
		return keyStays, nil
	}
	in := b.incoming(m, j, kind, chat, member, from, at)
	return keyStays, b.cfg.Conversation.Handle(ctx, tx, in)
}

// kindOf says what a message is to the conversation; stickers, polls, places and
// the like are nothing to it.
func kindOf(m *message, edited bool) (bot.InKind, bool) {
	switch {
	case edited:
		return bot.Edited, m.Text != ""
	case m.FileID != "":
		return bot.Photo, true
	case m.Doc != nil:
		return bot.File, true
	case m.Voice:
		return bot.Voice, true
	}
	return bot.Text, m.Text != ""
}

// toOtherBot is a command of a group that names another bot.
func (b *tg) toOtherBot(m *message) bool {
	word, _, _ := strings.Cut(m.Text, " ")
	_, name, named := strings.Cut(word, "@")
	b.mu.Lock()
	defer b.mu.Unlock()
	return m.Chat.group() && strings.HasPrefix(word, "/") && named && b.who.Username != "" && !strings.EqualFold(name, b.who.Username)
}

// fromOf says who sent a message. Rights hang on it, so whoever hides behind a
// group or channel is that group or channel, not a person.
func (b *tg) fromOf(m *message, j *job) bot.From {
	if m.Sender != nil { // an anonymous admin or a channel: from is a stand-in
		return bot.From{User: m.Sender.ID, Name: m.Sender.Title, Anonymous: true}
	}
	return bot.From{User: m.From.ID, Name: m.From.name(), Gone: j.gone}
}

// infoOf is the message as Access looks at it.
func (b *tg) infoOf(m *message, j *job, at time.Time) bot.ChatInfo {
	return bot.ChatInfo{
		Platform: platform, PlatformID: m.Chat.ID, Group: m.Chat.group(), Title: m.Chat.Title, Text: m.Text,
		Thread: m.Thread, MessageID: m.ID, Source: source(j), At: at, Now: b.cfg.Now(),
	}
}

// incoming is the message as the conversation takes it. Its time is the platform's:
// a reading typed in a cellar without reception counts from when it was sent.
func (b *tg) incoming(m *message, j *job, kind bot.InKind, chat store.Chat, member store.Member, from bot.From, at time.Time) bot.Incoming {
	in := bot.Incoming{
		Kind: kind, Chat: chat, Member: member, OriginChat: m.Chat.ID, MessageID: m.ID, At: at, Now: b.cfg.Now(),
		Text: m.Text, Thread: m.Thread, ThreadTitle: m.Title, Mention: b.mentions(m.Text), Forwarded: m.Forwarded, Anonymous: from.Anonymous, Quick: j.quick, Rush: j.rush,
	}
	if m.Reply != nil {
		in.ReplyTo, in.ReplyText, in.ReplyToBot = m.Reply.ID, m.Reply.Text, m.Reply.From.ID == b.id()
		if in.ReplyText == "" {
			in.ReplyText = m.Reply.Caption
		}
	}
	if m.FileID != "" {
		in.Photo = &bot.Picture{FileID: m.FileID, FileUnique: m.FileUnique, Album: m.Album}
	}
	if m.Doc != nil {
		in.File = &bot.Attached{Name: m.Doc.Name, Bytes: j.file, Size: m.Doc.Size}
	}
	return in
}

// id is the bot's own, which the token begins with.
func (b *tg) id() int64 {
	n, _, _ := strings.Cut(b.cfg.Token, ":")
	id, err := strconv.ParseInt(n, 10, 64)
	if err != nil {
		return 0
	}
	return id
}

// mentions looks for @name as a word.
func (b *tg) mentions(text string) bool {
	b.mu.Lock()
	name := b.who.Username
	b.mu.Unlock()
	if name == "" {
		return false
	}
	for _, w := range strings.Fields(text) {
		if strings.EqualFold(strings.TrimRight(w, ".,:;!?"), "@"+name) {
			return true
		}
	}
	return false
}

// press is a tap on a button: the presser must be in the book of the chat.
func (b *tg) press(ctx context.Context, tx *store.Tx, j *job, p *press) (trace, error) {
	m := &p.Message
	if m.Chat.ID == 0 || p.Data == "" {
		return nothing, nil
	}
	from := bot.From{User: p.From.ID, Name: p.From.name(), Gone: j.gone}
	info := b.infoOf(m, j, b.cfg.Now())
	info.Text = ""
	chat, member, verdict, err := b.cfg.Access.Resolve(ctx, tx, from, info)
	if err != nil {
		return nothing, fmt.Errorf("access: %w", err)
	}
	if verdict.What != bot.Pass {
		j.foreign = true
		return nothing, nil
	}
	in := b.incoming(m, j, bot.Pressed, chat, member, from, b.cfg.Now())
	in.Text, in.Photo, in.Button, in.Callback = "", nil, p.Data, p.ID
	if err := b.cfg.Conversation.Handle(ctx, tx, in); err != nil {
		return keyStays, err
	}
	return keyStays, b.ack(tx, chat, p.ID)
}

// ackSource names the row that ends a press; the conversation may write it first,
// with a text to flash.
func ackSource(callback string) string { return "ack:" + callback }

// ack ends the little clock on the button. It goes before everything else.
func (b *tg) ack(tx *store.Tx, chat store.Chat, callback string) error {
	_, _, err := tx.Enqueue(store.Out{
		Book: chat.Book, Chat: chat.ID, Source: ackSource(callback), Kind: "ack", Created: b.cfg.Now(), Priority: -1,
	})
	return err
}

// say answers past the book, once: a stranger's message must leave no trace. It
// does not hold up the household's messages, and a crowd of strangers gets fewer
// answers rather than a queue.
func (b *tg) say(ctx context.Context, j *job) {
	if j.aside == "" && !j.foreign {
		return
	}
	select {
	case b.asides <- struct{}{}:
	default:
		return
	}
	go func() {
		defer func() { <-b.asides }()
		b.sayNow(ctx, j)
	}()
}

// sayNow makes the call. What fails is not tried again: there is no row of it.
func (b *tg) sayNow(ctx context.Context, j *job) {
	chatID, thread := j.row.OriginChat, 0
	if j.u.Message != nil {
		thread = int(j.u.Message.Thread)
	}
	ctx, cancel := context.WithTimeout(ctx, 10*time.Second)
	defer cancel()
	if j.foreign { // only the little clock on the button stops
		if _, err := b.lib.AnswerCallbackQuery(ctx, &lib.AnswerCallbackQueryParams{CallbackQueryID: j.u.Press.ID}); err != nil {
			b.cfg.Log.Debug("a stranger's press was not answered", "error", b.redact(err))
		}
		return
	}
	_, err := b.lib.SendMessage(ctx, &lib.SendMessageParams{ChatID: chatID, MessageThreadID: thread, Text: j.aside})
	if err != nil {
		b.cfg.Log.Debug("an answer past the book failed", "error", b.redact(err))
	}
}
