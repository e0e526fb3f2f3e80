package telegram

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	lib "github.com/go-telegram/bot"

	"mustbook/bot/say"
	"mustbook/store"
)

// tg is a running bot.
type tg struct {
	cfg     Config
	lib     *lib.Bot
	pace    *pace
	mu      sync.Mutex
	who     me
	polled  time.Time // when the last poll was written down
	heardAt time.Time // last good poll or webhook call
	downAt  time.Time // when it was last said that sends fail

	flight   *flight
	working  atomic.Bool // the worker has messages in hand
	full     atomic.Bool // the last poll brought as much as one can: more wait at the platform
	lately   lately
	asides   chan struct{} // answers past the book that are under way
	arrivals chan *arrival // what came, for the worker to store
	ended    chan struct{} // closed once the worker takes nothing more
	pictures chan struct{} // a photo waits to be fetched

	air  *batch        // the worker's commit that is under way
	hand []store.InRow // what that takes into the inbox: the next rows

	swollen bool          // a backlog was worked off, and its memory not given back yet
	usualGC int           // the collector's percentage to go back to after a backlog; 0: it is that
	fails   map[int64]int // in-process failures of inbox rows
	flood   map[int64]*inflow
	started time.Time       // rows of the inbox from before may be what ended the last run
	told    map[string]bool // what was said of polls that fail, since the last good one
}

// Run talks to the platform until ctx ends; then it finishes the message in hand
// and the sends that are under way (at most 10 s) and returns nil. Errors:
// ErrConfig, and those of the database at the start; what the network does is
// never an error, but an address that can't be listened on is.
func Run(ctx context.Context, cfg Config) error {
	b, err := newBot(cfg)
	if err != nil {
		return err
	}
	armed(cfg.DB.Path())
	if err := b.start(ctx); err != nil {
		return err
	}
	b.heardAt = cfg.Now()
	hard, cancel := context.WithCancel(context.WithoutCancel(ctx))
	defer cancel()
	b.flight.ctx = hard
	parts := []func(context.Context){b.worker, b.sender, b.fetcher, b.pruner, b.menu}
	doors, err := b.doors()
	if err != nil {
		return err
	}
	parts = append(parts, doors...)
	if cfg.Webhook.URL == "" {
		parts = append(parts, b.poller)
	}
	var wg sync.WaitGroup
	for _, part := range parts {
		wg.Go(func() { part(ctx) })
	}
	wg.Wait()
	return nil
}

// newBot makes the parts without starting them.
func newBot(cfg Config) (*tg, error) {
	if err := cfg.fill(); err != nil {
		return nil, err
	}
	b := &tg{
		cfg: cfg, pace: newPace(cfg.Pace && !unpaced), asides: make(chan struct{}, 8), arrivals: make(chan *arrival), ended: make(chan struct{}), pictures: make(chan struct{}, 1),
		fails: map[int64]int{}, flood: map[int64]*inflow{}, told: map[string]bool{},
	}
	b.flight = newFlight(b)
	var err error
	b.lib, err = lib.New(cfg.Token,
		lib.WithServerURL(b.cfg.APIURL), lib.WithSkipGetMe(), lib.WithHTTPClient(time.Minute, newSendClient()),
		lib.WithErrorsHandler(func(err error) { b.cfg.Log.Debug("library", "error", b.redact(err)) }))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrConfig, b.redact(err))
	}
	return b, nil
}

// Names in the table of settings of the database.
const metaPolled = "telegram/polled"

// start takes up what a run before left: sends of unknown fate, and a warning
// after more than the 24 hours that the platform keeps updates.
func (b *tg) start(ctx context.Context) error {
	now := b.cfg.Now()
	b.started = now
	var last time.Time
	err := b.cfg.DB.Update(ctx, func(tx *store.Tx) error {
		if v, has := tx.Meta(metaPolled); has {
			last, _ = time.Parse(time.RFC3339, v)
		}
		return b.recoverSends(tx, now)
	})
	if err != nil {
		return fmt.Errorf("start: %w", err)
	}
	if off := now.Sub(last); !last.IsZero() && off > 24*time.Hour {
		b.cfg.Log.Warn("off for longer than the platform keeps messages: some may be lost", "hours", int(off.Hours()))
		return b.warnKeepers(ctx, now, int(off.Hours()))
	}
	return nil
}

// warnKeepers tells every keeper that messages may be missing.
func (b *tg) warnKeepers(ctx context.Context, now time.Time, hours int) error {
	return b.cfg.DB.Update(ctx, func(tx *store.Tx) error {
		books, err := tx.Books()
		if err != nil {
			return err
		}
		for _, book := range books {
			chats, err := tx.Chats(book.ID)
			if err != nil {
				return err
			}
			for _, c := range chats {
				m, err := tx.Member(book.ID, c.Member)
				if err != nil || c.Kind != "private" || !c.Admitted || !m.Keeper {
					continue
				}
				_, _, err = tx.Enqueue(store.Out{
					Book: book.ID, Chat: c.ID, Source: "off:" + now.UTC().Format(time.RFC3339), Kind: "reply",
					Text: say.OffTooLong(hours), Created: now,
				})
				if err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// notePoll remembers that the platform was heard; on disk it needs to be only
// roughly right.
func (b *tg) notePoll(tx *store.Tx, now time.Time) error {
	b.mu.Lock()
	b.polled = now
	b.mu.Unlock()
	return tx.SetMeta(metaPolled, now.UTC().Format(time.RFC3339))
}

// pruner forgets, every hour, the keys of what was no business of the book.
func (b *tg) pruner(ctx context.Context) {
	for {
		err := b.cfg.DB.Update(ctx, func(tx *store.Tx) error { return tx.PruneInbox(b.cfg.Now().Add(-48 * time.Hour)) })
		if err != nil && ctx.Err() == nil {
			b.cfg.Log.Error("prune", "error", b.redact(err))
		}
		if !pause(ctx, time.Hour) {
			return
		}
	}
}

// pause waits; false when ctx ended first.
func pause(ctx context.Context, d time.Duration) bool {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return true
	case <-ctx.Done():
		return false
	}
}

// nudge wakes a part without waiting for it.
func nudge(c chan struct{}) {
	select {
	case c <- struct{}{}:
	default:
	}
}
