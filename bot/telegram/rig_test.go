package telegram

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"mustbook/bot"
	"mustbook/bot/telegram/loopback"
	"mustbook/ferment"
	"mustbook/store"
)

const hostCode = "aaaabbbbccccdddd" // the host's, in tests

// seeded is random bytes that are the same in every run.
func seeded(seed uint64) io.Reader {
	var key [32]byte
	key[0] = byte(seed)
	return rand.NewChaCha8(key)
}

// talker is a small conversation: it keeps each text as an entry and answers with
// it, so that what is lost or doubled shows.
type talker struct {
	access *bot.Access
	mu     sync.Mutex
	panics map[string]int // texts at which it panics, how often still
	errs   map[string]error
	silent string // texts that hold it are talk, not the book's
	got    []bot.Incoming
}

func (c *talker) Handle(ctx context.Context, tx *store.Tx, in bot.Incoming) error {
	c.mu.Lock()
	c.got = append(c.got, in)
	bad, failed := c.panics[in.Text], c.errs[in.Text]
	if bad > 0 {
		c.panics[in.Text]--
	}
	c.mu.Unlock()
	if bad > 0 {
		panic("stumbled")
	}
	if failed != nil {
		return failed
	}
	if c.silent != "" && strings.Contains(in.Text, c.silent) {
		return nil
	}
	switch in.Kind {
	case bot.Pressed:
		return c.pressed(tx, in)
	case bot.Edited:
		return c.edited(tx, in)
	}
	if done, err := c.access.Command(tx, in); done || err != nil {
		return err
	}
	return c.text(tx, in)
}

// times is how often an entry is written: twice is once too many, which shows late where
// writes are carried out behind.
func (c *talker) times(text string) int {
	if text == "torn" {
		return 2
	}
	return 1
}

func (c *talker) text(tx *store.Tx, in bot.Incoming) error {
	m, dup, err := tx.AddMessage(store.Message{Book: in.Chat.Book, Chat: in.Chat.ID, Member: in.Member.ID,
		OriginChat: in.OriginChat, PlatformMessage: in.MessageID, Text: in.Text, At: in.At, Thread: in.Thread})
	if err != nil || dup {
		return err
	}
	for range c.times(in.Text) {
		_, err = tx.AddEntries(in.Chat.Book, []ferment.Entry{{Message: m.ID, Ordinal: 1, Quantity: ferment.QNote, Text: in.Text, At: in.At, TypedAt: in.At, Author: in.Member.ID}})
	}
	if err != nil {
		return err
	}
	out := store.Out{Book: in.Chat.Book, Chat: in.Chat.ID, Source: fmt.Sprint("m", m.ID), Kind: "reply", Text: "kept: " + in.Text,
		Plain: true, Message: m.ID, ReplyTo: in.MessageID, Thread: in.Thread, Created: in.Now}
	switch {
	case strings.HasPrefix(in.Text, "ask"):
		out.Plain, out.Text = false, "which one? "+in.Text
		out.Buttons = []store.Button{{Label: "This", Action: []byte(`{}`), Expires: in.Now.Add(time.Hour)}}
	case strings.HasPrefix(in.Text, "nod"):
		out.Kind, out.Reaction = "reaction", "👍"
	case strings.HasPrefix(in.Text, "html "):
		out.HTML, out.Text = true, strings.TrimPrefix(in.Text, "html ")
	case in.Kind == bot.Photo:
		_, err = tx.AddPhoto(store.Photo{Book: in.Chat.Book, Message: m.ID, FileID: in.Photo.FileID, FileUnique: in.Photo.FileUnique, At: in.At})
	case strings.HasPrefix(in.Text, "draw"):
		out.Kind, out.Render = "photo", in.Text
	}
	if err != nil {
		return err
	}
	_, _, err = tx.Enqueue(out)
	return err
}

func (c *talker) edited(tx *store.Tx, in bot.Incoming) error {
	m, err := tx.MessageByKey(in.OriginChat, in.MessageID)
	if err != nil {
		return ignoreMissing(err)
	}
	if m.Text == in.Text {
		return nil
	}
	if err := tx.UpdateMessageText(m.Book, m.ID, in.Text, in.At); err != nil {
		return err
	}
	old, err := tx.OutOf(m.ID)
	if err != nil {
		return err
	}
	_, _, err = tx.Enqueue(store.Out{Book: m.Book, Chat: m.Chat, Source: fmt.Sprint("e", m.ID, in.At.Unix()), Kind: "edit",
		Text: "kept: " + in.Text, Edits: old.ID, Message: m.ID, Created: in.Now})
	return err
}

func (c *talker) pressed(tx *store.Tx, in bot.Incoming) error {
	b, err := tx.Button(in.Button, in.Now)
	if err != nil || b.Book != in.Chat.Book || b.Chat != in.Chat.ID {
		return ignoreMissing(errors.Join(err))
	}
	if first, err := tx.PressOnce(in.Callback); err != nil || !first {
		return err
	}
	if done, err := c.access.Press(tx, in, b.Action); done || err != nil {
		return err
	}
	_, _, err = tx.Enqueue(store.Out{Book: b.Book, Chat: b.Chat, Source: "p" + in.Callback, Kind: "reply", Text: "pressed " + b.Label, Created: in.Now})
	return err
}

// rig is a platform, a database and a bot between them.
type rig struct {
	t      *testing.T
	s      *loopback.Server
	path   string
	db     *store.DB
	access *bot.Access
	talk   *talker
	log    *bytes.Buffer
	logMu  *sync.Mutex
	cfg    Config
	stop   func()
	clock  *clock

	reminder *bot.Bot // where the conversation is the bot itself
	waker    chan struct{}
	whole    bool // talks as the bot itself does
}

// clock is moved by hand, and by a step at each look.
type clock struct {
	mu   sync.Mutex
	t    time.Time
	step time.Duration
}

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.t = c.t.Add(c.step)
	return c.t
}

func (c *clock) stride(d time.Duration) { c.mu.Lock(); c.step = d; c.mu.Unlock() }

func (c *clock) add(d time.Duration) { c.mu.Lock(); c.t = c.t.Add(d); c.mu.Unlock() }

// lockedWriter is a log that tells those who wait on the platform of each line.
type lockedWriter struct {
	mu *sync.Mutex
	w  io.Writer
	s  *loopback.Server
}

func (l lockedWriter) Write(p []byte) (int, error) {
	defer l.s.Wake()
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.w.Write(p)
}

// newRig has everything but a running bot.
func newRig(t *testing.T, o loopback.Options) *rig {
	t.Helper()
	r := &rig{t: t, path: filepath.Join(t.TempDir(), "book.db"), log: &bytes.Buffer{}, logMu: &sync.Mutex{}, stop: func() {}}
	r.clock = &clock{step: time.Millisecond, t: time.Date(2026, 9, 12, 18, 30, 0, 0, time.UTC)}
	if o.Now == nil {
		o.Now = r.clock.now
	}
	r.s = loopback.New(o)
	t.Cleanup(func() { r.s.Close() })
	r.open()
	t.Cleanup(func() { r.halt() })
	return r
}

// newHouse is a rig with the bot itself, running, with a host and a supergroup.
func newHouse(t *testing.T, o loopback.Options) (r *rig, nora *loopback.User, g *loopback.Chat) {
	t.Helper()
	r = newRig(t, o)
	r.halt()
	r.whole = true
	r.open()
	r.start()
	nora = r.host("nora")
	g = r.s.Supergroup("Cellar", nora)
	nora.AddBot(g)
	g.WaitBot(t, 1)
	return r, nora, g
}

func (r *rig) open() {
	r.t.Helper()
	var err error
	r.db, err = store.Open(r.t.Context(), r.path, store.Options{Now: r.clock.now, Rand: seeded(9)})
	if err != nil {
		r.t.Fatal(err)
	}
	if r.access, err = bot.NewAccess(seeded(uint64(r.clock.now().UnixNano()))); err != nil {
		r.t.Fatal(err)
	}
	if _, err := r.access.OpenCode(r.t.Context(), r.db, hostCode, false); err != nil {
		r.t.Fatal(err)
	}
	if r.talk == nil {
		r.talk = &talker{panics: map[string]int{}, errs: map[string]error{}}
	}
	r.talk.access = r.access
	r.cfg.Token, r.cfg.APIURL, r.cfg.Conversation, r.cfg.DB, r.cfg.Access, r.cfg.Now = loopback.Token, r.s.URL(), r.talk, r.db, r.access, r.clock.now
	if r.whole {
		b := &bot.Bot{Zone: time.LoadLocation, Default: time.UTC, Rand: seeded(6), Log: slog.New(slog.DiscardHandler), Access: r.access,
			Backups: filepath.Join(filepath.Dir(r.path), "backups")}
		r.cfg.Conversation = b
		r.cfg.Pictured = func(ctx context.Context, tx *store.Tx, p store.Photo, code, _ string) error {
			return b.Pictured(ctx, tx, p, code, r.clock.now())
		}
	}
	r.cfg.Log = slog.New(slog.NewTextHandler(lockedWriter{r.logMu, r.log, r.s}, &slog.HandlerOptions{Level: slog.LevelDebug}))
}

// start runs the bot until halt.
func (r *rig) start() *rig {
	r.t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	cfg := r.cfg
	cfg.Wake = make(chan struct{}, 1)
	r.waker = cfg.Wake
	go func() { done <- Run(ctx, cfg) }()
	r.stop = func() {
		cancel()
		if err := <-done; err != nil {
			r.t.Errorf("run: %v", err)
		}
		r.stop = func() {}
	}
	return r
}

// halt stops the bot and closes the database.
func (r *rig) halt() {
	r.stop()
	if r.db != nil {
		r.db.Close()
		r.db = nil
	}
}

// restart is a stop and a start on the same file.
func (r *rig) restart() { r.halt(); r.open(); r.start() }

// host makes a person the host and gives them.
func (r *rig) host(name string) *loopback.User {
	r.t.Helper()
	u := r.s.Person(name)
	u.Start(hostCode)
	u.Private().WaitBot(r.t, 1)
	return u
}

// wake writes something from outside a message and tells the sender.
func (r *rig) wake(f func(*store.Tx) error) {
	r.t.Helper()
	if err := r.db.Update(r.t.Context(), f); err != nil {
		r.t.Fatal(err)
	}
	nudge(r.waker)
}

// notes are the texts of the entries of the book, in order.
func (r *rig) notes(book int64) []string {
	r.t.Helper()
	var out []string
	err := r.db.View(r.t.Context(), func(tx *store.Tx) error {
		es, err := tx.Entries(book, 0)
		for _, e := range es {
			out = append(out, e.Text)
		}
		return err
	})
	if err != nil {
		r.t.Fatal(err)
	}
	return out
}

// logged is what the bot has written to its log so far.
func (r *rig) logged() string { r.logMu.Lock(); defer r.logMu.Unlock(); return r.log.String() }

func texts(ms []loopback.Message) []string {
	var out []string
	for _, m := range ms {
		out = append(out, m.Text)
	}
	return out
}

func has(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
