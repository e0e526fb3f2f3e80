package main

import (
	"context"
	"fmt"
	"sync/atomic"
	"time"

	lib "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// libraryLoop is a small bot on the library's own loop, one handler at a time: an
// insert, a commit, an answer.
func libraryLoop(ctx context.Context, db *store.DB, v *crowd) (time.Duration, error) {
	s, say, err := v.platform(ctx, db)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	for i := range v.backlog {
		say(i, fmt.Sprint("note ", i))
	}
	answers := counted(s)
	running, cancel := context.WithCancel(ctx)
	defer cancel()
	var n atomic.Int64
	failed := make(chan error, 1)
	handle := func(ctx context.Context, l *lib.Bot, u *models.Update) {
		if u.Message == nil {
			return
		}
		k := n.Add(1)
		err := db.Update(ctx, func(tx *store.Tx) error {
			_, _, err := tx.AddMessage(store.Message{Book: 1, Chat: 1, Member: 1, OriginChat: 1, PlatformMessage: k, Text: u.Message.Text, At: time.Now()})
			return err
		})
		if err == nil {
			_, err = l.SendMessage(ctx, &lib.SendMessageParams{ChatID: u.Message.Chat.ID, Text: "kept"})
		}
		if err != nil {
			select {
			case failed <- err:
			default:
			}
		}
	}
	small, err := lib.New(loopback.Token, lib.WithServerURL(s.URL()), lib.WithSkipGetMe(), lib.WithNotAsyncHandlers(), lib.WithDefaultHandler(handle))
	if err != nil {
		return 0, err
	}
	begin := time.Now()
	done := make(chan struct{})
	go func() { small.Start(running); close(done) }()
	err = s.Until(ctx, func() bool { return answers.Load() >= int64(v.backlog) || len(failed) > 0 })
	took := time.Since(begin)
	cancel()
	<-done
	if answers.Load() < int64(v.backlog) && len(failed) > 0 { // the end itself cuts the last send
		err = <-failed
	}
	return took, err
}
