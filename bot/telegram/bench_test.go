package telegram

import (
	"context"
	"fmt"
	"log/slog"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	lib "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"mustbook/bot"
	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// The whole path against a platform on 127.0.0.1: a backlog is fetched, stored,
// handled, answered and sent. Beside it, in the same run: one insert a commit with
// the same driver and file settings, and a small bot on the library's own loop.
// Every figure is messages a second; none is asserted.

const (
	backlog      = 10_000
	benchChats   = 100
	benchBatches = 500
)

func benchDB(b *testing.B) *store.DB {
	b.Helper()
	db, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "book.db"), store.Options{Now: time.Now, Rand: seeded(4)})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { db.Close() })
	return db
}

// platformFor has households with a group each, admitted already; say sends the ith
// message to one of the groups in turn.
func platformFor(b *testing.B, db *store.DB) (s *loopback.Server, say func(i int, text string)) {
	b.Helper()
	s = loopback.New(loopback.Options{CanRead: true})
	b.Cleanup(s.Close)
	nora := s.Person("nora")
	var chats []*loopback.Chat
	err := db.Update(b.Context(), func(tx *store.Tx) error {
		for i := range benchChats {
			g := s.Group(fmt.Sprint("Cellar ", i), nora)
			nora.AddBot(g)
			chats = append(chats, g)
			if err := admitFor(tx, g, nora); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
	return s, func(i int, text string) { nora.Say(chats[i%benchChats], text) }
}

// admitFor makes a book whose group this is.
func admitFor(tx *store.Tx, g *loopback.Chat, keeper *loopback.User) error {
	book, err := tx.CreateBook("", time.Now())
	if err != nil {
		return err
	}
	m, err := tx.AddMember(store.Member{Book: book.ID, Name: keeper.Name, Keeper: true, PlatformUser: keeper.ID, Joined: time.Now()})
	if err != nil {
		return err
	}
	c, err := tx.PutChat(store.Chat{Book: book.ID, Platform: platform, PlatformID: g.ID, Kind: "group", Title: g.Title, Admitted: true})
	if err != nil {
		return err
	}
	return tx.SeeInChat(c.ID, m.ID, time.Now())
}

// BenchmarkBacklog is the whole path with a small conversation: what the platform
// side of the program costs.
func BenchmarkBacklog(b *testing.B) {
	drain(b, func(a *bot.Access) Conversation { return &talker{access: a} }, 0, func(i int) string { return fmt.Sprint("note ", i) })
}

// BenchmarkBacklogWhole is the whole path with the bot itself: readings of 500
// batches in 100 households.
func BenchmarkBacklogWhole(b *testing.B) {
	drain(b, func(a *bot.Access) Conversation {
		return &bot.Bot{Zone: time.LoadLocation, Default: time.UTC, Rand: seeded(6), Log: slog.New(slog.DiscardHandler), Access: a}
	}, benchBatches, func(i int) string {
		return fmt.Sprintf("#%d sg 1.%03d at 20c", 1+i/benchChats%(benchBatches/benchChats), 90-i/1000)
	})
}

// drain runs the bot until a backlog is answered. Batches are begun first, outside
// the time.
func drain(b *testing.B, talk func(*bot.Access) Conversation, batches int, text func(int) string) {
	for b.Loop() {
		db := benchDB(b)
		access, err := bot.NewAccess(seeded(5))
		if err != nil {
			b.Fatal(err)
		}
		s, say := platformFor(b, db)
		var answers atomic.Int64
		s.OnCall(func(c loopback.Call) *loopback.Fault {
			if c.Method == "sendMessage" || c.Method == "setMessageReaction" {
				answers.Add(1)
			}
			return nil
		})
		ctx, cancel := context.WithCancel(context.Background())
		done := make(chan error, 1)
		go func() {
			done <- Run(ctx, Config{Token: loopback.Token, APIURL: s.URL(), Conversation: talk(access), DB: db, Access: access,
				Now: time.Now, Log: slog.New(slog.DiscardHandler)})
		}()
		for i := range batches {
			say(i, fmt.Sprintf("new batch bramble%c%c 23 l", 'a'+i/26, 'a'+i%26))
		}
		until := func(n int64) {
			if err := s.Until(b.Context(), func() bool { return answers.Load() >= n }); err != nil {
				b.Fatal(err)
			}
		}
		until(int64(batches))
		begin := time.Now()
		for i := range backlog {
			say(i, text(i))
		}
		until(int64(batches + backlog))
		b.ReportMetric(backlog/time.Since(begin).Seconds(), "messages/s")
		cancel()
		<-done
		s.Close()
	}
}

// BenchmarkInsertPerCommit is the yardstick: one row a commit, nothing else.
func BenchmarkInsertPerCommit(b *testing.B) {
	db := benchDB(b)
	err := db.Update(b.Context(), func(tx *store.Tx) error {
		if _, err := tx.CreateBook("", time.Now()); err != nil {
			return err
		}
		_, err := tx.PutChat(store.Chat{Book: 1, Platform: platform, PlatformID: 1, Kind: "private"})
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	begin, n := time.Now(), 0
	for b.Loop() {
		n++
		err := db.Update(b.Context(), func(tx *store.Tx) error {
			_, _, err := tx.AddMessage(store.Message{Book: 1, Chat: 1, Member: 1, OriginChat: 1, PlatformMessage: int64(n), Text: "sg 1.048 at 21c", At: begin})
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(n)/time.Since(begin).Seconds(), "messages/s")
}

// BenchmarkLibraryLoop is a small bot on the library's own loop, one handler at a
// time: an insert, a commit, an answer. It loses messages when it is killed.
func BenchmarkLibraryLoop(b *testing.B) {
	for b.Loop() {
		db := benchDB(b)
		s, say := platformFor(b, db)
		for i := range backlog {
			say(i, fmt.Sprint("note ", i))
		}
		ctx, cancel := context.WithCancel(context.Background())
		var n atomic.Int64
		small, err := lib.New(loopback.Token, lib.WithServerURL(s.URL()), lib.WithSkipGetMe(), lib.WithNotAsyncHandlers(),
			lib.WithDefaultHandler(func(ctx context.Context, l *lib.Bot, u *models.Update) {
				if u.Message == nil {
					return
				}
				k := n.Add(1)
				err := db.Update(ctx, func(tx *store.Tx) error {
					_, _, err := tx.AddMessage(store.Message{Book: 1, Chat: 1, Member: 1, OriginChat: 1, PlatformMessage: k, Text: u.Message.Text, At: time.Now()})
					return err
				})
				if err != nil {
					b.Error(err)
				}
				l.SendMessage(ctx, &lib.SendMessageParams{ChatID: u.Message.Chat.ID, Text: "kept"})
			}))
		if err != nil {
			b.Fatal(err)
		}
		begin := time.Now()
		done := make(chan struct{})
		go func() { small.Start(ctx); close(done) }()
		if err := s.Until(b.Context(), func() bool { return n.Load() >= backlog }); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(backlog/time.Since(begin).Seconds(), "messages/s")
		cancel()
		<-done
		s.Close()
	}
}

// BenchmarkStart is from Run to the first poll.
func BenchmarkStart(b *testing.B) {
	db := benchDB(b)
	access, err := bot.NewAccess(seeded(5))
	if err != nil {
		b.Fatal(err)
	}
	s := loopback.New(loopback.Options{})
	defer s.Close()
	for b.Loop() {
		polls := s.Polls()
		ctx, cancel := context.WithCancel(context.Background())
		done := make(chan error, 1)
		go func() {
			done <- Run(ctx, Config{Token: loopback.Token, APIURL: s.URL(), Conversation: &talker{access: access}, DB: db, Access: access,
				Now: time.Now, Log: slog.New(slog.DiscardHandler)})
		}()
		if err := s.Until(b.Context(), func() bool { return s.Polls() > polls }); err != nil {
			b.Fatal(err)
		}
		cancel()
		<-done
	}
}
