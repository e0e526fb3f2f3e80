package telegram

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"slices"
	"time"

	"mustbook/store"
)

// share is how many waiting messages may go into one commit, each under its own
// savepoint.
const share = 100

// quickAbove is how many waiting messages make the answers go without a new
// forecast; more than one commit takes leave the reminders to the next tick.
const quickAbove = 20

// backlogHeap is how large the heap may grow between two collections while more
// messages wait than one commit takes: a quarter of the time would go into collecting.
// A quiet bot stays small.
const backlogHeap = 192 << 20

// errLater is for a message behind one of the same chat that failed: it waits, so
// that the order of the chat is kept.
var errLater = errors.New("behind a message that failed")

// worker takes the inbox in order until ctx ends, and finishes what it has in
// hand. Once nothing has come for a while it tidies the disk.
func (b *tg) worker(ctx context.Context) {
	wait := time.Duration(0)
	quiet := time.NewTimer(b.cfg.Quiet)
	defer quiet.Stop()
	defer close(b.ended)
	defer b.idle()
	defer b.land(context.WithoutCancel(ctx))
	for ctx.Err() == nil {
		n, err := b.round(ctx)
		if n == 0 || err != nil {
			b.idle()
		}
		switch {
		case err != nil:
			wait = min(max(2*wait, 50*time.Millisecond), 10*time.Second)
			again := time.NewTimer(wait)
			b.rest(ctx, nil, again.C)
			again.Stop()
		case n > 0:
			wait = 0
			quiet.Reset(b.cfg.Quiet)
		default:
			b.rest(ctx, quiet.C, nil)
		}
	}
}

// backlog tells whether many messages wait.
func (b *tg) backlog(many bool) {
	switch {
	case many && b.usualGC == 0:
		b.swollen = true
		b.usualGC = debug.SetGCPercent(max(300, 100*backlogHeap/liveHeap()))
	case !many && b.usualGC != 0:
		debug.SetGCPercent(b.usualGC)
		b.usualGC = 0
	}
}

// liveHeap is what the last collection left, in bytes; at least one.
func liveHeap() int {
	live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(live)
	if live[0].Value.Kind() != metrics.KindUint64 {
		return backlogHeap // a runtime that does not tell: all stays as usual
	}
	return int(max(1, live[0].Value.Uint64()))
}

// idle leaves the sends to the sender, where the worker had them.
func (b *tg) idle() {
	b.backlog(false)
	if b.working.CompareAndSwap(true, false) {
		nudge(b.cfg.Wake)
	}
}

// tidy takes off the disk what was handled: a row that is emptied or removed stands
// in the log beside the database until the log is emptied too. What a backlog took of
// memory is given back.
func (b *tg) tidy(ctx context.Context) {
	if b.swollen {
		b.swollen = false
		debug.FreeOSMemory()
	}
	err := b.cfg.DB.Tidy(ctx)
	switch {
	case err == nil:
		b.cfg.Log.Debug("tidied the disk")
	case ctx.Err() == nil:
		b.cfg.Log.Warn("the disk could not be tidied yet", "error", b.redact(err))
	}
}

// round handles the oldest rows of the inbox in one commit. It gives how many
// there were; an error means that some are still there and that it would be
// wrong to hurry.
func (b *tg) round(ctx context.Context) (int, error) {
	// What is begun is finished: a stop comes between rounds.
	ctx = context.WithoutCancel(ctx)
	rows, waiting, err := b.oldest(ctx)
	if err != nil || len(rows) == 0 {
		return 0, err
	}
	pending := waiting
	if b.full.Load() {
		pending += fullPoll // at the platform, at the least
	}
	b.working.Store(true)
	b.backlog(pending > share)
	if rows, err = b.careful(ctx, rows); err != nil || len(rows) == 0 {
		return len(rows), err
	}
	t := b.jobs(rows, pending)
	t.all = waiting == int64(len(rows))
	if t.asks() {
		if undone, err := b.land(ctx); undone || err != nil {
			return len(rows), err
		}
	}
	t.ask(ctx)
	passed("before work commit")
	return len(rows), b.follow(ctx, t)
}

// oldest are the first rows of the inbox, and how many wait.
func (b *tg) oldest(ctx context.Context) (rows []store.InRow, pending int64, err error) {
	if rows, b.hand = b.hand, nil; len(rows) > 0 {
		return rows, int64(len(rows)), nil
	}
	if _, err := b.land(ctx); err != nil {
		return nil, 0, err
	}
	err = b.cfg.DB.View(ctx, func(tx *store.Tx) (err error) {
		if rows, err = tx.NextInbox(share); err == nil && len(rows) > 0 {
			pending, err = tx.PendingInbox()
		}
		return err
	})
	if err != nil {
		b.cfg.Log.Error("inbox", "error", b.redact(err))
	}
	return rows, pending, err
}

// job is one row on its way through a commit.
type job struct {
	row   store.InRow
	u     update
	bad   error  // it could not be read
	doubt sender // who may have left the group they came through
	gone  bool   // asked of the platform: the sender left the group they came through
	file  []byte // what a keeper sent to be taken in
	aside string // an answer past the book
	quick bool
	rush  bool

	foreign bool // a press by somebody who is not in the book of the chat

	weighed, flood, tell bool // whether its chat writes too fast, found once
}

type jobs []*job

// jobs decodes the rows.
func (b *tg) jobs(rows []store.InRow, pending int64) *batch {
	out := &batch{b: b, failed: map[int64]bool{}, ride: ride{s: b.flight}}
	for _, r := range rows {
		j := &job{row: r, quick: pending > quickAbove, rush: pending > share}
		var known bool
		if j.u, known = b.lately.take(r.Key); !known {
			j.u, j.bad = readUpdate(r.Raw)
		}
		j.doubt = b.inDoubt(j.u)
		out.jobs = append(out.jobs, j)
	}
	return out
}

// asks tells whether something must be looked up for the rows beforehand.
func (t *batch) asks() bool {
	return slices.ContainsFunc(t.jobs, func(j *job) bool {
		return j.doubt.user != 0 || j.u.Own != nil || j.u.Message != nil && j.u.Message.Doc != nil
	})
}

// ask asks the platform beforehand what only it knows, so that no transaction waits for
// the network.
func (t *batch) ask(ctx context.Context) {
	t.ctx = ctx
	for _, j := range t.jobs {
		j.gone = t.b.isGone(ctx, j)
		j.file = t.b.sentFile(ctx, j.u)
	}
}

// batch is the rows of one commit.
type batch struct {
	b      *tg
	ctx    context.Context
	jobs   jobs
	failed map[int64]bool // chats with a failure in this commit
	ended  []int64        // rows of the inbox that are handled
	ride   ride

	all     bool          // no other row waits
	arrived []*arrival    // what goes into the inbox with it
	next    []store.InRow // the rows of these
	landing *store.Landing
}

// funcs are the rows as the store runs them, one savepoint each.
func (t *batch) funcs() []func(*store.Tx) error {
	out := make([]func(*store.Tx) error, len(t.jobs))
	for i, j := range t.jobs {
		out[i] = func(tx *store.Tx) error { return t.one(tx, j) }
	}
	return out
}

// one handles a row: its effects and its replies are one savepoint. A panic costs
// that row.
func (t *batch) one(tx *store.Tx, j *job) (err error) {
	j.aside, j.foreign = "", false
	chat := j.row.OriginChat
	if t.failed[chat] && chat != 0 {
		return errLater
	}
	defer func() {
		if p := recover(); p != nil {
			err = stumble(p)
			t.b.cfg.Log.Error("a message made the program stumble", "inbox", j.row.Seq, "cause", err, "stack", string(debug.Stack()))
		}
		if err != nil {
			t.failed[chat] = true
		}
	}()
	stays, err := t.b.take(t.ctx, tx, j)
	if err != nil {
		return err
	}
	if stays == nothing {
		return tx.DropInbox(j.row.Seq)
	}
	t.ended = append(t.ended, j.row.Seq)
	return nil
}

// finish marks as done what was handled, in the commit of its effects.
func (t *batch) finish(tx *store.Tx) error { return tx.FinishInbox(false, t.ended...) }

// stumble is what may be told of a panic: the runtime's own words, but of any
// other value its type alone, for it may quote the message.
func stumble(p any) error {
	if r, is := p.(runtime.Error); is {
		return fmt.Errorf("panic: %w", r)
	}
	return fmt.Errorf("panic of type %T", p)
}

// settle looks at what became of each row after the commit.
func (b *tg) settle(ctx context.Context, jobs *batch, errs []error) error {
	var wrong error
	for i, j := range jobs.jobs {
		err := errs[i]
		switch {
		case err == nil:
			delete(b.fails, j.row.Seq)
			b.say(ctx, j)
		case errors.Is(err, errLater):
			wrong = errors.Join(wrong, err)
		case sick(err):
			// The database can't be written: nobody's fault, so the row waits. Told once
			// for them all.
			if wrong == nil {
				b.cfg.Log.Error("the database can't be written; messages wait", "error", b.redact(err))
			}
			wrong = err
		default:
			wrong = errors.Join(wrong, b.again(ctx, j, err))
		}
	}
	// Both parts look for themselves; a nudge too many costs one query.
	nudge(b.cfg.Wake)
	nudge(b.pictures)
	return wrong
}
