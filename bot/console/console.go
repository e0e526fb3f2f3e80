package console

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"mustbook/bot"
	"mustbook/store"
)

// Config is what a conversation in the terminal needs.
type Config struct {
	DB     *store.DB
	Bot    *bot.Bot
	In     io.Reader
	Out    io.Writer
	Now    func() time.Time
	Prompt bool                                                   // a person sits there: show a prompt
	Name   string                                                 // the keeper's name
	Draw   func(ctx context.Context, o store.Out) (string, error) // saves a picture and tells its name
	Tick   func(ctx context.Context, now time.Time) error         // makes what fell due
}

// talk is one conversation: who speaks, and where.
type talk struct {
	Config
	speaker store.Member
	chat    store.Chat
	n       int64
	shown   map[int64]bool // rows of the outbox that were shown, which is not written down yet
}

const platform = "console"

// Run talks until the input ends.
func Run(ctx context.Context, c Config) error {
	s := &talk{Config: c, shown: map[int64]bool{}}
	if err := s.begin(ctx); err != nil {
		return err
	}
	if err := s.due(ctx); err != nil {
		return err
	}
	r := bufio.NewReaderSize(c.In, 64<<10)
	for {
		if c.Prompt {
			fmt.Fprint(c.Out, "> ")
		}
		line, err := r.ReadString('\n')
		if line = strings.TrimRight(line, "\r\n"); strings.TrimSpace(line) != "" {
			if e := s.line(ctx, line); e != nil {
				return e
			}
		}
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if ctx.Err() != nil {
			return nil
		}
		if err := s.due(ctx); err != nil {
			return err
		}
	}
}

// begin finds or makes book 1, its keeper and the private chat of the terminal.
func (s *talk) begin(ctx context.Context) error {
	first := false
	err := s.DB.Update(ctx, func(tx *store.Tx) error {
		books, err := tx.Books()
		if err != nil {
			return err
		}
		var b store.Book
		if len(books) == 0 {
			first = true
			if b, err = tx.CreateBook("home", s.Now()); err != nil {
				return err
			}
		} else {
			b = books[0]
		}
		members, err := tx.Members(b.ID)
		if err != nil {
			return err
		}
		for _, m := range members {
			if m.Keeper {
				s.speaker = m
			}
		}
		if s.speaker.ID == 0 {
			if s.speaker, err = tx.AddMember(store.Member{Book: b.ID, Name: s.Name, Keeper: true, Joined: s.Now()}); err != nil {
				return err
			}
		}
		s.chat, err = s.private(tx, s.speaker)
		if err != nil {
			return err
		}
		if v, ok := tx.Meta("console"); ok {
			fmt.Sscan(v, &s.n)
		}
		return nil
	})
	if err == nil && first {
		zone := "UTC"
		if s.Bot.Default != nil {
			zone = s.Bot.Default.String()
		}
		fmt.Fprintf(s.Out, "New book: metric, 20 °C hydrometer, zone %s.\nBegin with: new damson 23 l\n", zone)
	}
	return err
}

// private is the private chat of a member with the terminal.
func (s *talk) private(tx *store.Tx, m store.Member) (store.Chat, error) {
	return tx.PutChat(store.Chat{Book: m.Book, Platform: platform, PlatformID: m.ID, Kind: "private", Title: m.Name, Member: m.ID, Admitted: true})
}

// line handles one typed line: a change of speaker or chat, a button, a message.
func (s *talk) line(ctx context.Context, line string) error {
	if who, ok := strings.CutPrefix(line, "/as "); ok {
		return s.as(ctx, strings.TrimSpace(who))
	}
	if where, ok := strings.CutPrefix(line, "/in "); ok {
		return s.in(ctx, strings.TrimSpace(where))
	}
	err := s.DB.Update(ctx, func(tx *store.Tx) error {
		in := bot.Incoming{Chat: s.chat, Member: s.speaker, OriginChat: s.chat.ID, At: s.Now(), Now: s.Now(), Text: line}
		s.n++
		if err := tx.SetMeta("console", fmt.Sprint(s.n)); err != nil {
			return err
		}
		in.MessageID = s.n
		if b, ok, err := Pressed(tx, s.chat.ID, line); err != nil {
			return err
		} else if ok {
			in.Kind, in.Button, in.Callback, in.Text = bot.Pressed, b.Key, fmt.Sprintf("c%d", s.n), ""
		}
		return s.Bot.Handle(ctx, tx, in)
	})
	if err != nil {
		return s.unsaved(err)
	}
	return s.flush(ctx)
}

// unsaved tells a fault in one line; what is in the book is untouched.
func (s *talk) unsaved(err error) error {
	switch {
	case errors.Is(err, store.ErrFull):
		fmt.Fprintln(s.Out, "Not saved: the disk is full")
	case errors.Is(err, store.ErrDisk): // a quota too: the system does not say which
		fmt.Fprintln(s.Out, "Not saved: the disk is full or fails")
	case errors.Is(err, store.ErrReadOnly), errors.Is(err, store.ErrLocked):
		return err
	default:
		fmt.Fprintln(s.Out, "Not saved: something failed. Try again")
	}
	return nil
}

// Pressed finds the button that a typed line names: of the newest answers in the
// chat, the last one's first.
func Pressed(tx *store.Tx, chat int64, line string) (store.Button, bool, error) {
	outs, err := tx.RecentOut(chat, 6)
	if err != nil {
		return store.Button{}, false, err
	}
	want := strings.Trim(strings.TrimSpace(line), "[]")
	for i, o := range outs {
		for _, b := range o.Buttons {
			if strings.EqualFold(b.Label, want) && !(strings.EqualFold(want, "undo") && i > 0) {
				return b, true, nil
			}
		}
	}
	return store.Button{}, false, nil
}

// as lets somebody else of the house speak, making a member of a new name.
func (s *talk) as(ctx context.Context, name string) error {
	return s.DB.Update(ctx, func(tx *store.Tx) error {
		members, err := tx.Members(s.chat.Book)
		if err != nil {
			return err
		}
		group := s.chat.Group()
		found := false
		for _, m := range members {
			if strings.EqualFold(m.Name, name) {
				s.speaker, found = m, true
			}
		}
		if !found {
			if s.speaker, err = tx.AddMember(store.Member{Book: s.chat.Book, Name: name, Joined: s.Now()}); err != nil {
				return err
			}
		}
		if group {
			return tx.SeeInChat(s.chat.ID, s.speaker.ID, s.Now())
		}
		s.chat, err = s.private(tx, s.speaker)
		return err
	})
}

// in changes the chat: "private", or a group by its name.
func (s *talk) in(ctx context.Context, name string) error {
	return s.DB.Update(ctx, func(tx *store.Tx) (err error) {
		if strings.EqualFold(name, "private") {
			s.chat, err = s.private(tx, s.speaker)
			return err
		}
		s.chat, err = Group(tx, platform, s.speaker.Book, name)
		if err != nil {
			return err
		}
		return tx.SeeInChat(s.chat.ID, s.speaker.ID, s.Now())
	})
}

// Group finds or makes a group chat of a book by its name.
func Group(tx *store.Tx, platform string, book int64, name string) (store.Chat, error) {
	chats, err := tx.Chats(book)
	if err != nil {
		return store.Chat{}, err
	}
	lowest := int64(0)
	for _, c := range chats {
		if c.Platform == platform && c.Group() && strings.EqualFold(c.Title, name) {
			return c, nil
		}
		if c.Platform == platform {
			lowest = min(lowest, c.PlatformID)
		}
	}
	return tx.PutChat(store.Chat{Book: book, Platform: platform, PlatformID: lowest - 1, Kind: "group", Title: name, Admitted: true})
}

// due shows what fell due since last time.
func (s *talk) due(ctx context.Context) error {
	if s.Tick == nil {
		return nil
	}
	if err := s.Tick(ctx, s.Now()); err != nil {
		return err
	}
	return s.flush(ctx)
}

// flush prints what waits to be sent to the terminal's chats. Where a full disk keeps it
// from being written that it was shown, it is not shown again.
func (s *talk) flush(ctx context.Context) error {
	err := s.DB.Update(ctx, func(tx *store.Tx) error {
		outs, err := tx.DueOut(s.Now(), 100)
		if err != nil {
			return err
		}
		for _, o := range outs {
			c, err := tx.Chat(o.Chat)
			if err != nil {
				return err
			}
			if c.Platform != platform {
				continue
			}
			if !s.shown[o.ID] {
				s.shown[o.ID] = true
				if err := s.show(ctx, tx, o.Out, c); err != nil {
					return err
				}
			}
			if err := tx.MarkSent(o.ID, o.ID, s.Now()); err != nil {
				return err
			}
		}
		return nil
	})
	switch {
	case err == nil:
		clear(s.shown)
	case errors.Is(err, store.ErrFull), errors.Is(err, store.ErrDisk):
		return nil // the next message is told that it can't be saved
	}
	return err
}

func (s *talk) show(ctx context.Context, tx *store.Tx, o store.Out, c store.Chat) error {
	text := o.Text
	if o.Kind == "reaction" {
		text = o.Reaction
	}
	if o.Render != "" && s.Draw != nil {
		name, err := s.Draw(ctx, o)
		if err != nil {
			text += "\n(" + err.Error() + ")"
		} else {
			text += "\n" + name
		}
	}
	if c.ID != s.chat.ID {
		text = "(" + c.Title + ") " + text
	}
	fmt.Fprintln(s.Out, text)
	if labels := Labels(o.Buttons); labels != "" {
		fmt.Fprintln(s.Out, labels)
	}
	return nil
}

// Labels shows buttons as words that one can type.
func Labels(bs []store.Button) string {
	var parts []string
	for _, b := range bs {
		parts = append(parts, "["+b.Label+"]")
	}
	return strings.Join(parts, " ")
}
