package main

import (
	"context"
	crand "crypto/rand"
	"fmt"
	"log/slog"
	"os"
	"sync/atomic"
	"time"

	"mustbook/bot"
	"mustbook/bot/telegram"
	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// path measures the durable whole path: a backlog waits on a platform on
// 127.0.0.1, and is fetched, stored, understood, answered and sent, every commit
// with synchronous=FULL. Beside it, in the same run and on the same disk: one
// insert a commit with the same driver and settings, and a small bot on the
// library's own loop, which loses messages when it is killed. They take turns, so
// that a disk that is slow for a while is slow for all.
func path(ctx context.Context, b *bench) error {
	sum := map[string]*tries{"whole": {}, "insert": {}, "library": {}}
	v := &crowd{backlog: b.size(10_000, 200), chats: b.size(100, 10), batches: b.size(500, 20)}
	bytes := int64(0)
	for i := range b.size(3, 1) {
		for _, m := range []struct {
			name string
			run  func(context.Context, *store.DB, *crowd) (time.Duration, error)
		}{{"whole", wholePath}, {"insert", insertPerCommit}, {"library", libraryLoop}} {
			db, err := b.open(ctx, fmt.Sprint(m.name, i, ".db"))
			if err != nil {
				return err
			}
			before := worked()
			took, err := m.run(ctx, db, v)
			if e := db.Close(); err == nil {
				err = e
			}
			if err != nil {
				return fmt.Errorf("%s: %w", m.name, err)
			}
			sum[m.name].add(v.backlog, took)
			sum[m.name].cpu = append(sum[m.name].cpu, (worked()-before)/time.Duration(v.backlog))
			b.note("%s: %s", m.name, rate(v.backlog, took))
			if st, err := os.Stat(db.Path()); err == nil && m.name == "whole" {
				bytes = st.Size()
			}
		}
	}
	what := fmt.Sprintf("durable whole path, %s readings over %d batches", thousands(int64(v.backlog)), v.batches)
	b.add(what, sum["whole"].String(), "≥ one insert a commit", "one insert a commit: "+sum["insert"].String())
	b.add("", "", "", "small bot on the library's own loop: "+sum["library"].String())
	b.add("  processor time a message, the platform's side too", ms(sum["whole"].cpu.median()), "", fmt.Sprintf("one insert: %s; small bot: %s", ms(sum["insert"].cpu.median()), ms(sum["library"].cpu.median())))
	sync, err := syncs(b.dir)
	if err != nil {
		return err
	}
	b.add("  a write to this disk with its sync", sync.String(), "", "both hang on it: one insert waits for one a message, the whole path for one in fifty")
	b.add("  file afterwards, a message", fmt.Sprintf("%s bytes", thousands(bytes/int64(v.backlog+v.batches))), "", "")
	return nil
}

// syncs measures what a commit costs at the least: a page written behind the others
// and brought to the disk.
func syncs(dir string) (times, error) {
	f, err := os.CreateTemp(dir, "sync")
	if err != nil {
		return nil, err
	}
	defer os.Remove(f.Name())
	defer f.Close()
	page := make([]byte, 4096)
	return repeat(200, func() error {
		if _, err := f.Write(page); err != nil {
			return err
		}
		return f.Sync()
	})
}

// tries are the rates of several runs.
type tries struct {
	rates []float64
	cpu   times // a message: tells more than the rate where others use the machine too
}

func (t *tries) add(n int, d time.Duration) { t.rates = append(t.rates, float64(n)/d.Seconds()) }

// String is their median with the least and the greatest.
func (t *tries) String() string {
	s := times{}
	for _, r := range t.rates {
		s = append(s, time.Duration(r*float64(time.Second)))
	}
	n := func(q float64) string { return thousands(int64(s.quantile(q).Seconds())) }
	return fmt.Sprintf("%s/s (%s–%s)", n(0.5), n(0), n(1))
}

// crowd is who writes: each chat is a group of its own household.
type crowd struct{ backlog, chats, batches int }

// platform has the groups, admitted already; say sends the ith message to one of
// them in turn.
func (v *crowd) platform(ctx context.Context, db *store.DB) (s *loopback.Server, say func(i int, text string), err error) {
	s = loopback.New(loopback.Options{CanRead: true})
	nora := s.Person("nora")
	var groups []*loopback.Chat
	err = db.Update(ctx, func(tx *store.Tx) error {
		for i := range v.chats {
			g := s.Group(fmt.Sprint("Cellar ", i), nora)
			nora.AddBot(g)
			groups = append(groups, g)
			if err := admit(tx, g, nora); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		s.Close()
		return nil, nil, err
	}
	return s, func(i int, text string) { nora.Say(groups[i%v.chats], text) }, nil
}

// admit makes a book whose group this is.
func admit(tx *store.Tx, g *loopback.Chat, keeper *loopback.User) error {
	book, err := tx.CreateBook("", time.Now())
	if err != nil {
		return err
	}
	m, err := tx.AddMember(store.Member{Book: book.ID, Name: keeper.Name, Keeper: true, PlatformUser: keeper.ID, Joined: time.Now()})
	if err != nil {
		return err
	}
	c, err := tx.PutChat(store.Chat{Book: book.ID, Platform: "telegram", PlatformID: g.ID, Kind: "group", Title: g.Title, Admitted: true})
	if err != nil {
		return err
	}
	return tx.SeeInChat(c.ID, m.ID, time.Now())
}

// counted counts what the bot says from now on.
func counted(s *loopback.Server) *atomic.Int64 {
	var n atomic.Int64
	s.OnCall(func(c loopback.Call) *loopback.Fault {
		if c.Method == "sendMessage" || c.Method == "setMessageReaction" {
			n.Add(1)
		}
		return nil
	})
	return &n
}

// wholePath runs the bot until the backlog is answered. Batches are begun first,
// outside the time.
func wholePath(ctx context.Context, db *store.DB, v *crowd) (time.Duration, error) {
	access, err := bot.NewAccess(crand.Reader)
	if err != nil {
		return 0, err
	}
	s, say, err := v.platform(ctx, db)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	answers := counted(s)
	talk := newBot()
	talk.Access = access
	running, cancel := context.WithCancel(ctx)
	done := make(chan error, 1)
	go func() {
		done <- telegram.Run(running, telegram.Config{Token: loopback.Token, APIURL: s.URL(), Conversation: talk, DB: db, Access: access,
			Now: time.Now, Log: slog.New(slog.DiscardHandler)})
	}()
	defer func() { cancel(); <-done }()
	for i := range v.batches {
		say(i, fmt.Sprintf("new batch bramble%c%c 23 l", 'a'+i/26, 'a'+i%26))
	}
	until := func(n int) error { return s.Until(ctx, func() bool { return answers.Load() >= int64(n) }) }
	if err := until(v.batches); err != nil {
		return 0, err
	}
	begin := time.Now()
	for i := range v.backlog {
		say(i, fmt.Sprintf("#%d sg 1.%03d at 20c", 1+i/v.chats%(v.batches/v.chats), 90-i*10/v.backlog))
	}
	err = until(v.batches + v.backlog)
	return time.Since(begin), err
}

// insertPerCommit is the yardstick: one row a commit, nothing else.
func insertPerCommit(ctx context.Context, db *store.DB, v *crowd) (time.Duration, error) {
	err := db.Update(ctx, func(tx *store.Tx) error { _, err := moveIn(tx, 1, time.Now()); return err })
	if err != nil {
		return 0, err
	}
	begin := time.Now()
	for i := range v.backlog {
		err := db.Update(ctx, func(tx *store.Tx) error {
			_, _, err := tx.AddMessage(store.Message{Book: 1, Chat: 1, Member: 1, OriginChat: 1, PlatformMessage: int64(i), Text: "sg 1.048 at 21c", At: begin})
			return err
		})
		if err != nil {
			return 0, err
		}
	}
	return time.Since(begin), nil
}
