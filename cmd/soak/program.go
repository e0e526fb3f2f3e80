package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"sync"
	"syscall"
	"time"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// program is the real one, built with the tag storm for its fast clock, and the
// platform it talks to, which runs on the same clock.
type program struct {
	bin, path string
	s         *loopback.Server
	fast      string // MUSTBOOK_FAST
	now       func() time.Time
	average   time.Duration
	cmd       *exec.Cmd
	gone      chan error
	born      time.Time
	starts    int
	out       tail
}

// shown is what the clock shows when a soak begins: a Saturday in autumn.
var shown = time.Date(2026, 9, 12, 9, 0, 0, 0, time.UTC)

func newProgram(ctx context.Context, path string, o options) (*program, error) {
	p := &program{bin: path + ".mustbook", path: path, average: o.restart}
	c := exec.CommandContext(ctx, "go", "build", "-tags", "storm", "-o", p.bin, "./cmd/mustbook")
	c.Env = append(os.Environ(), "CGO_ENABLED=0")
	if said, err := c.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("build (from the root of the tree?): %w: %s", err, said)
	}
	began := time.Now()
	p.fast = fmt.Sprint(began.UnixNano(), " ", shown.Unix(), " ", o.speed)
	p.now = func() time.Time { return shown.Add(time.Since(began) * time.Duration(o.speed)) }
	p.s = loopback.New(loopback.Options{Now: p.now, CanRead: true})
	return p, nil
}

// lifetime is how long the program lives until it is ended: so often a minute on
// average, at any moment as likely as at any other.
func (p *program) lifetime(r *rand.Rand) time.Duration {
	return time.Duration(r.ExpFloat64() * float64(p.average))
}

func (p *program) begin() error {
	p.cmd = exec.Command(p.bin, "serve")
	p.cmd.Env = append(os.Environ(), "MUSTBOOK_DB="+p.path, "MUSTBOOK_TZ=Europe/Dublin", "MUSTBOOK_FAST="+p.fast,
		"TELEGRAM_API_URL="+p.s.URL(), "TELEGRAM_BOT_TOKEN="+loopback.Token)
	p.cmd.Stdout, p.cmd.Stderr = &p.out, &p.out
	if err := p.cmd.Start(); err != nil {
		return err
	}
	p.born = time.Now()
	p.starts++
	gone, cmd := make(chan error, 1), p.cmd
	p.gone = gone
	go func() { gone <- cmd.Wait() }()
	return nil
}

// end kills the program, or asks it to stop; then what it returns is told.
func (p *program) end(kill bool) error {
	if p.cmd == nil {
		return nil
	}
	defer func() { p.cmd = nil }()
	if kill {
		p.cmd.Process.Kill()
		<-p.gone
		return nil
	}
	p.cmd.Process.Signal(syscall.SIGTERM)
	select {
	case err := <-p.gone:
		return err
	case <-time.After(30 * time.Second):
		p.cmd.Process.Kill()
		<-p.gone
		return fmt.Errorf("it did not stop within 30 s")
	}
}

// patience is how long the program may do nothing while something waits for it.
const patience = 2 * time.Minute

// calm waits until everything was fetched and the program has nothing more to say
// for a while. However much waits, what counts is that it grows less.
func (p *program) calm(ctx context.Context) error {
	for left := p.s.Waiting(); left > 0; left = p.s.Waiting() {
		some, cancel := context.WithTimeout(ctx, patience)
		err := p.s.Until(some, func() bool { return p.s.Waiting() < left })
		cancel()
		if err != nil {
			return fmt.Errorf("%d updates were never fetched: %w", left, err)
		}
	}
	if err := p.handled(ctx); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, 5*time.Minute)
	defer cancel()
	for quiet, last := 0, -1; quiet < 10; quiet++ {
		if n := len(p.s.CallsOf("sendMessage")); n != last {
			quiet, last = 0, n
		}
		select {
		case <-time.After(300 * time.Millisecond):
		case <-ctx.Done():
			return nil // reminders go on for ever on a fast clock
		}
	}
	return nil
}

// handled waits until nothing is in the inbox any more, as long as it grows less.
func (p *program) handled(ctx context.Context) error {
	db, err := store.Open(ctx, p.path, store.Options{ReadOnly: true})
	if err != nil {
		return err
	}
	defer db.Close()
	for least, since := int64(math.MaxInt64), time.Now(); ; time.Sleep(300 * time.Millisecond) {
		var left int64
		if err := db.View(ctx, func(tx *store.Tx) (err error) { left, err = tx.PendingInbox(); return err }); err != nil || left == 0 {
			return err
		}
		if left < least {
			least, since = left, time.Now()
		} else if time.Since(since) > patience {
			return fmt.Errorf("%d messages stay in the inbox", left)
		}
	}
}

// said is the end of what the program printed.
func (p *program) said() string { return p.out.String() }

// tail keeps the last part of what is written.
type tail struct {
	mu sync.Mutex
	b  bytes.Buffer
}

const most = 8 << 10

// Write implements io.Writer.
func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.b.Write(p)
	if over := t.b.Len() - most; over > 0 {
		t.b.Next(over)
	}
	return len(p), nil
}

// String is that part.
func (t *tail) String() string { t.mu.Lock(); defer t.mu.Unlock(); return t.b.String() }
