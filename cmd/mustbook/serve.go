package main

import (
	"context"
	"crypto/rand"
	"errors"
	"flag"
	"fmt"
	"runtime/debug"
	"time"

	"mustbook/bot"
	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/bot/telegram"
	"mustbook/schedule/runner"
	"mustbook/store"
)

// serving is what serve can be told.
type serving struct {
	*flag.FlagSet
	db, hook, listen, health string
	anew                     bool
}

func serveFlags() *serving {
	f := &serving{FlagSet: flags("serve")}
	f.StringVar(&f.db, "db", "", "database")
	f.StringVar(&f.hook, "webhook-url", "", "public https address")
	f.StringVar(&f.listen, "listen", "", "address to listen on for the webhook")
	f.StringVar(&f.health, "health", "", "address of the health page; empty: none")
	f.BoolVar(&f.anew, "new-code", false, "print a new one-time code for a lost host")
	return f
}

// serve talks on the chat platform until it is told to stop.
func serve(ctx context.Context, e *environment, args []string) error {
	f := serveFlags()
	if _, err := exactly(e, f.FlagSet, args, 0); err != nil {
		return done(err)
	}
	token := e.Getenv("TELEGRAM_BOT_TOKEN")
	if token == "" {
		return usagef("set TELEGRAM_BOT_TOKEN; the platform's own bot for bots gives one")
	}
	if (f.hook == "") != (f.listen == "") {
		return usagef("--webhook-url and --listen go together")
	}
	path, err := database(e, f.db)
	if err != nil {
		return err
	}
	p, err := openHeld(ctx, e, path)
	if err != nil {
		return err
	}
	defer p.db.Close()
	if err := p.access(ctx, e, f.anew); err != nil {
		return err
	}
	cfg := telegram.Config{Token: token, APIURL: e.Getenv("TELEGRAM_API_URL"), Conversation: p.bot, DB: p.db, Access: p.bot.Access,
		Log: p.log, Now: e.Now, Pace: true, Wake: make(chan struct{}, 1), Health: f.health, Render: p.render(e),
		Pictured: func(ctx context.Context, tx *store.Tx, ph store.Photo, code, _ string) error {
			return p.bot.Pictured(ctx, tx, ph, code, e.Now())
		}}
	if f.hook != "" {
		secret := make([]byte, 24)
		if _, err := rand.Read(secret); err != nil {
			return err
		}
		cfg.Webhook = telegram.Webhook{URL: f.hook, Listen: f.listen, Secret: fmt.Sprintf("%x", secret)}
	}
	stop, err := p.remind(ctx, e, path, cfg.Wake)
	if err != nil {
		return err
	}
	defer stop()
	go func() { // beside the first poll
		parse.Ready()
		debug.FreeOSMemory() // what reading the words took: a quiet bot stays small
	}()
	err = telegram.Run(ctx, cfg)
	if errors.Is(err, telegram.ErrConfig) {
		return usageError{err}
	}
	return err
}

// remind starts the ticks: what is due each minute, a verified copy each night in
// the folder of backups beside the database. wake tells the sender of new rows.
func (p *program) remind(ctx context.Context, e *environment, path string, wake chan<- struct{}) (stop func(), err error) {
	r, err := p.ticks(e, backups(path), wake)
	if err != nil {
		return nil, err
	}
	if err := r.Start(ctx); err != nil {
		return nil, err
	}
	hurry(ctx, path, r.Tick, e.Now)
	return r.Stop, nil
}

// ticks asks which books are due and lets the conversation say it; wake, which may
// be nil, tells a sender of new rows.
func (p *program) ticks(e *environment, backups string, wake chan<- struct{}) (*runner.Runner, error) {
	return runner.New(p.db, runner.Options{Now: e.Now, Log: p.log, BackupDir: backups,
		Hand: func(ctx context.Context, tx *store.Tx, book int64, _ []store.Subject, now time.Time) error {
			defer func() {
				select {
				case wake <- struct{}{}:
				default: // it is awake, or there is none
				}
			}()
			return p.bot.Remind(ctx, tx, book, now)
		}})
}

// access opens the door and prints the one-time code while the book is unclaimed.
func (p *program) access(ctx context.Context, e *environment, anew bool) error {
	a, err := bot.NewAccess(rand.Reader)
	if err != nil {
		return err
	}
	given := e.Getenv("MUSTBOOK_KEEPER_CODE")
	code, err := a.OpenCode(ctx, p.db, given, anew)
	if errors.Is(err, bot.ErrCode) {
		return usageError{err}
	}
	if err != nil {
		return err
	}
	switch {
	case code == "":
	case given != "": // whoever set it knows it, and a journal is read by others too
		fmt.Fprintln(e.Out, "Send the code of MUSTBOOK_KEEPER_CODE to the bot in a private chat; the first to send it keeps the book.")
	default:
		fmt.Fprintf(e.Out, "Send this code to the bot in a private chat; the first to send it keeps the book:\n%s\n", code)
	}
	a.Cry = func(text string, late bool) (string, bool) {
		topic := bot.CryFor(text)
		t, ok := say.Danger(topic, "")
		if ok && late {
			t = "Seen only now: " + t
		}
		return t, ok
	}
	p.bot.Access = a
	return nil
}
