package script

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"mustbook/bot"
	"mustbook/ferment"
	"mustbook/store"
)

// Said is one thing said in a chat, by a person or the bot.
type Said struct {
	At       time.Time
	Chat     string
	From     string // a name, or "bot"
	Text     string
	Buttons  []string
	Image    string
	Edits    time.Time // of an edited answer: the time of the first
	Reaction string
}

// Player speaks a story to the conversation.
type Player struct {
	DB    *store.DB
	Bot   *bot.Bot
	Story *Story
	Tick  func(ctx context.Context, now time.Time) error // makes what fell due; may be nil
	Say   func(Said) error                               // receives all that is said, in order

	// For tests alone: Tests plays restart, redeliver and check, which replay skips.
	Tests  bool
	Reopen func(ctx context.Context, db *store.DB) (*store.DB, error)
	Check  func(name, want string, got []string) error

	book    int64
	members map[string]store.Member
	next    int64
	heard   []heard
	now     time.Time
	lastIn  bot.Incoming
}

// heard is a message that can be edited or replied to.
type heard struct {
	chat int64
	id   int64
	text string
	bot  bool
	who  string
	out  int64
	at   time.Time
}

const platform = "script"

// Play runs the whole story. A bad line is a *BadLine.
func (p *Player) Play(ctx context.Context) error {
	if err := p.begin(ctx); err != nil {
		return err
	}
	for _, s := range p.Story.Steps {
		if err := p.Step(ctx, s); err != nil {
			return err
		}
	}
	return nil
}

func (p *Player) begin(ctx context.Context) error {
	p.members = map[string]store.Member{}
	if len(p.Story.Steps) > 0 {
		p.now = p.Story.Steps[0].At
	}
	return p.DB.Update(ctx, func(tx *store.Tx) error {
		b, err := tx.CreateBook("home", p.now)
		if err != nil {
			return err
		}
		p.book = b.ID
		settings := []ferment.Entry{{Quantity: ferment.QSetting, Key: ferment.SetZone, Text: p.Story.Zone.String(), At: p.now, TypedAt: p.now},
			{Quantity: ferment.QSetting, Key: ferment.SetUnits, Text: p.Story.Units, At: p.now, TypedAt: p.now, Ordinal: 1}}
		_, err = tx.AddEntries(b.ID, settings)
		return err
	})
}

// Step plays one line: the clock walks to it first.
func (p *Player) Step(ctx context.Context, s Step) error {
	if err := p.walk(ctx, s.At); err != nil {
		return err
	}
	switch {
	case s.Verb == Test && p.Tests:
		return p.test(ctx, s)
	case s.Verb == Test || s.Verb == Waits:
		return nil
	}
	err := p.DB.Update(ctx, func(tx *store.Tx) error { return p.speak(ctx, tx, s) })
	if err != nil {
		return err
	}
	return p.flush(ctx)
}

// test plays a line that only tests have.
func (p *Player) test(ctx context.Context, s Step) error {
	word, rest, _ := strings.Cut(s.Text, " ")
	switch word {
	case "restart":
		db, err := p.Reopen(ctx, p.DB)
		p.DB = db
		return err
	case "redeliver":
		err := p.DB.Update(ctx, func(tx *store.Tx) error { return p.Bot.Handle(ctx, tx, p.lastIn) })
		if err != nil {
			return err
		}
		return p.flush(ctx)
	case "check":
		return p.DB.View(ctx, func(tx *store.Tx) error {
			got, err := tx.Dump(rest, p.Story.Zone)
			if err != nil {
				return err
			}
			return p.Check(rest, p.Story.Files[rest], got)
		})
	}
	return &BadLine{s.Line, "no such test: " + s.Text}
}

// walk lets the clock tick up to an instant.
func (p *Player) walk(ctx context.Context, to time.Time) error {
	defer func() { p.now = to }()
	if p.Tick == nil {
		return nil
	}
	for {
		t, ok, err := p.due(ctx, to)
		if err != nil || !ok {
			return err
		}
		p.now = t
		if err := p.Tick(ctx, t); err != nil {
			return err
		}
		if err := p.flush(ctx); err != nil {
			return err
		}
	}
}

// due is the next minute, up to an instant, at which a tick has something to do:
// those between would find nothing.
func (p *Player) due(ctx context.Context, to time.Time) (at time.Time, ok bool, err error) {
	err = p.DB.View(ctx, func(tx *store.Tx) error {
		due, err := tx.DueSubjects(to, 1)
		if err != nil || len(due) == 0 {
			return err
		}
		next := p.now.Truncate(time.Minute).Add(time.Minute)
		if at = due[0].NextDue.Add(time.Minute - 1).Truncate(time.Minute); at.Before(next) {
			at = next
		}
		ok = !at.After(to)
		return nil
	})
	return at, ok, err
}

func (p *Player) member(tx *store.Tx, name string) (store.Member, error) {
	if m, ok := p.members[name]; ok {
		return m, nil
	}
	m, err := tx.AddMember(store.Member{Book: p.book, Name: name, Keeper: len(p.members) == 0, Joined: p.now})
	p.members[name] = m
	return m, err
}

func (p *Player) chat(tx *store.Tx, name string, m store.Member) (store.Chat, error) {
	if strings.EqualFold(name, "private") {
		return tx.PutChat(store.Chat{Book: p.book, Platform: platform, PlatformID: m.ID, Kind: "private", Title: m.Name, Member: m.ID, Admitted: true})
	}
	h := int64(0)
	for _, c := range name {
		h = h*31 + int64(c)
	}
	return tx.PutChat(store.Chat{Book: p.book, Platform: platform, PlatformID: -1 - (h & 0xffffffff), Kind: "group", Title: name, Admitted: true})
}

// speak hands one line to the conversation.
func (p *Player) speak(ctx context.Context, tx *store.Tx, s Step) error {
	m, err := p.member(tx, s.Who)
	if err != nil {
		return err
	}
	c, err := p.chat(tx, s.Chat, m)
	if err != nil {
		return err
	}
	if c.Group() { // as the doors of the platforms note it
		if err := tx.SeeInChat(c.ID, m.ID, s.At); err != nil {
			return err
		}
	}
	p.next++
	in := bot.Incoming{Chat: c, Member: m, OriginChat: c.ID, MessageID: p.next, At: s.At, Now: s.At, Text: s.Text}
	said := Said{At: s.At, Chat: chatName(c), From: s.Who, Text: s.Text}
	switch s.Verb {
	case Presses:
		said.Text = "[" + s.Quoted + "]"
		err = p.press(tx, &in, s)
	case Edits:
		said.Text = "edits “" + s.Quoted + "”: " + s.Text
		err = p.edit(&in, s)
	case Replies:
		err = p.replyTo(&in, s)
	case Sends:
		said.Text = "(" + s.Quoted + ")"
		err = p.send(&in, s)
	}
	if err != nil {
		return err
	}
	if s.Verb == Says || s.Verb == Replies {
		in.Mention = strings.Contains(strings.ToLower(s.Text), "@mustbook")
		p.heard = append(p.heard, heard{chat: c.ID, id: in.MessageID, text: s.Text, who: s.Who, at: s.At})
	}
	if err := p.Say(said); err != nil {
		return err
	}
	p.lastIn = in
	return p.Bot.Handle(ctx, tx, in)
}

func chatName(c store.Chat) string {
	if c.Group() {
		return c.Title
	}
	return "private"
}

func (p *Player) press(tx *store.Tx, in *bot.Incoming, s Step) error {
	outs, err := tx.RecentOut(in.Chat.ID, 200)
	if err != nil {
		return err
	}
	for _, o := range outs {
		for _, b := range o.Buttons {
			if b.Label == s.Quoted {
				in.Kind, in.Button, in.Callback, in.MessageID = bot.Pressed, b.Key, fmt.Sprintf("s%d", p.next), o.PlatformMessage
				return nil
			}
		}
	}
	return &BadLine{s.Line, fmt.Sprintf("no button %q in this chat", s.Quoted)}
}

func (p *Player) find(chat int64, text string, ok func(heard) bool) *heard {
	for i := len(p.heard) - 1; i >= 0; i-- {
		h := &p.heard[i]
		if h.chat == chat && strings.Contains(h.text, text) && ok(*h) {
			return h
		}
	}
	return nil
}

func (p *Player) edit(in *bot.Incoming, s Step) error {
	h := p.find(in.Chat.ID, s.Quoted, func(h heard) bool { return !h.bot })
	if h == nil {
		return &BadLine{s.Line, fmt.Sprintf("no message with %q in this chat", s.Quoted)}
	}
	in.Kind, in.MessageID = bot.Edited, h.id
	h.text = s.Text
	return nil
}

func (p *Player) replyTo(in *bot.Incoming, s Step) error {
	h := p.find(in.Chat.ID, s.Quoted, func(heard) bool { return true })
	if h == nil {
		return &BadLine{s.Line, fmt.Sprintf("no message with %q in this chat", s.Quoted)}
	}
	in.ReplyTo, in.ReplyText, in.ReplyToBot = h.id, h.text, h.bot
	return nil
}

func (p *Player) send(in *bot.Incoming, s Step) error {
	raw, err := os.ReadFile(s.Quoted)
	if err != nil {
		return &BadLine{s.Line, "cannot read " + s.Quoted}
	}
	if ext := strings.ToLower(filepath.Ext(s.Quoted)); ext == ".csv" || ext == ".json" {
		in.Kind, in.File = bot.File, &bot.Attached{Name: filepath.Base(s.Quoted), Bytes: raw, Size: int64(len(raw))}
		return nil
	}
	in.Kind, in.Photo = bot.Photo, &bot.Picture{FileID: s.Quoted, FileUnique: s.Quoted, Bytes: raw}
	return nil
}

// flush hands on what the bot has to say.
func (p *Player) flush(ctx context.Context) error {
	return p.DB.Update(ctx, func(tx *store.Tx) error {
		outs, err := tx.DueOut(p.now, 1000)
		if err != nil {
			return err
		}
		for _, o := range outs {
			if err := p.deliver(tx, o); err != nil {
				return err
			}
		}
		return nil
	})
}

func (p *Player) deliver(tx *store.Tx, o store.Due) error {
	c, err := tx.Chat(o.Chat)
	if err != nil {
		return err
	}
	s := Said{At: p.now, Chat: chatName(c), From: "bot", Text: o.Text, Image: o.Render, Reaction: o.Reaction}
	if o.Kind == "reaction" { // no message; its text is for where reactions are refused
		s.Text = ""
		if err := p.Say(s); err != nil {
			return err
		}
		return tx.MarkSent(o.ID, 0, p.now)
	}
	for _, b := range o.Buttons {
		s.Buttons = append(s.Buttons, b.Label)
	}
	p.next++
	id := p.next
	if o.Edits != 0 {
		for i := range p.heard {
			if p.heard[i].out == o.Edits {
				s.Edits, id = p.heard[i].at, p.heard[i].id
				if s.Edits.IsZero() {
					s.Edits = p.now
				}
				p.heard[i].text = o.Text
			}
		}
	}
	if o.Edits == 0 || s.Edits.IsZero() {
		p.heard = append(p.heard, heard{chat: c.ID, id: id, text: o.Text, bot: true, out: o.ID, at: p.now})
	}
	if o.Kind == "ack" {
		return tx.MarkSent(o.ID, id, p.now)
	}
	if err := p.Say(s); err != nil {
		return err
	}
	return tx.MarkSent(o.ID, id, p.now)
}

// Summaries folds the book at the end of the story.
func (p *Player) Summaries(ctx context.Context) ([]bot.Summary, error) {
	var out []bot.Summary
	err := p.DB.View(ctx, func(tx *store.Tx) (err error) {
		out, err = p.Bot.Summaries(ctx, tx, p.book, p.now)
		return err
	})
	return out, err
}
