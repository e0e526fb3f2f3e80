package runner

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"github.com/robfig/cron/v3"

	"mustbook/store"
)

// Hand takes the due subjects of one book inside a transaction of its own: it
// makes the reminders that are due, and writes each subject's next due instant.
// A bundle is one message for all batches, so a book comes whole.
type Hand func(ctx context.Context, tx *store.Tx, book int64, due []store.Subject, now time.Time) error

// Options are what a runner needs from outside.
type Options struct {
	Now       func() time.Time
	Hand      Hand
	Log       *slog.Logger // nil: silent
	BackupDir string       // empty: no nightly backups
}

// Runner asks each minute what is due. Start may be called once.
type Runner struct {
	db   *store.DB
	o    Options
	cron *cron.Cron
	stop context.CancelFunc
}

// New makes a runner over an open database. Options.Now and Options.Hand must be
// set.
func New(db *store.DB, o Options) (*Runner, error) {
	if o.Now == nil || o.Hand == nil {
		return nil, errors.New("a runner needs a clock and somebody to hand on to")
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Runner{db: db, o: o}, nil
}

// How often the jobs run. The backup looks each hour whether the night's copy is
// there, so that one missed while the program was off is made up.
const (
	everyMinute = "* * * * *"
	everyHour   = "17 * * * *"
)

// Start begins ticking, with a first tick at once: what fell due while the program
// was off is made up. It returns after that tick.
func (r *Runner) Start(ctx context.Context) error {
	ctx, r.stop = context.WithCancel(ctx)
	log := cronLog{r.o.Log}
	// SkipIfStillRunning must stand outside Recover: the other way round a panic
	// leaves it locked and the job silent for good.
	r.cron = cron.New(cron.WithLocation(time.UTC), cron.WithLogger(log),
		cron.WithChain(cron.SkipIfStillRunning(log), cron.Recover(log)))
	jobs := map[string]func(context.Context, time.Time) error{everyMinute: r.Tick}
	if r.o.BackupDir != "" {
		jobs[everyHour] = r.Backup
	}
	for spec, job := range jobs {
		if _, err := r.cron.AddFunc(spec, func() { r.report(job(ctx, r.o.Now())) }); err != nil {
			return err
		}
	}
	r.report(r.Tick(ctx, r.o.Now()))
	r.cron.Start()
	return nil
}

// Stop ends the ticks and waits for the job in hand. It may be called before Start.
func (r *Runner) Stop() {
	if r.cron == nil {
		return
	}
	<-r.cron.Stop().Done()
	r.stop()
}

// report logs a failure; the next tick tries again.
func (r *Runner) report(err error) {
	if err != nil && !errors.Is(err, context.Canceled) {
		r.o.Log.Error("tick", "error", err)
	}
}

// cronLog lets the ticks log through ours: their failures only.
type cronLog struct{ log *slog.Logger }

// Info drops what cron tells of each wake-up.
func (cronLog) Info(string, ...any) {}

// Error passes a failure or a panic on, with its stack.
func (c cronLog) Error(err error, msg string, keysAndValues ...any) {
	c.log.Error("cron: "+msg, append([]any{"error", err}, keysAndValues...)...)
}
