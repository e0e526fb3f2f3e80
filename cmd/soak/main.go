// Command soak lets invented households live for an hour against the real program
// and a platform on 127.0.0.1: many messages a second, a clock that runs fast, and
// the program stopped or killed again and again. Each minute it prints what the
// program holds; at the end it compares the book with a simple model of its own
// and has the database verified.
//
//	go run ./cmd/soak                     an hour at 50 messages a second
//	go run ./cmd/soak -for 3m -rate 20    less
//
// It must be run from the root of the tree, because it builds the program. home.go is a
// household and what it says, program.go the program started and stopped, vitals.go what it
// holds, judge.go the model.
package main

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/signal"
	"path/filepath"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	o := options{}
	flag.DurationVar(&o.last, "for", time.Hour, "how long")
	flag.IntVar(&o.rate, "rate", 50, "messages a second")
	flag.IntVar(&o.households, "households", 400, "how many households speak in turns")
	flag.DurationVar(&o.restart, "restart", time.Minute, "how long the program lives, on average")
	flag.Int64Var(&o.speed, "speed", 240, "seconds that pass in one for the households")
	flag.Uint64Var(&o.seed, "seed", 1, "of what is said and when the program is killed")
	flag.StringVar(&o.dir, "dir", "", "where to put the database; it is removed unless something is wrong")
	flag.Parse()
	if err := soak(ctx, o); err != nil {
		fmt.Fprintln(os.Stderr, "soak:", err)
		os.Exit(1)
	}
}

type options struct {
	last, restart    time.Duration
	rate, households int
	speed            int64
	seed             uint64
	dir              string
}

func soak(ctx context.Context, o options) error {
	dir, err := os.MkdirTemp(o.dir, "soak")
	if err != nil {
		return err
	}
	r := rand.New(rand.NewPCG(o.seed, 1))
	p, err := newProgram(ctx, filepath.Join(dir, "book.db"), o)
	if err != nil {
		return err
	}
	defer p.s.Close()
	defer p.end(true)
	crowd, err := settle(ctx, p, o.households)
	if err != nil {
		return err
	}
	if err := live(ctx, p, crowd, o, r); err != nil {
		return fmt.Errorf("%w; the database is in %s; the program said last:\n%s", err, dir, p.said())
	}
	return os.RemoveAll(dir)
}

// live is the soak itself.
func live(ctx context.Context, p *program, crowd []*home, o options, r *rand.Rand) error {
	if err := p.begin(); err != nil {
		return err
	}
	log := newVitals(p)
	begin := time.Now()
	ends := begin.Add(o.last)
	dies, tells := begin.Add(p.lifetime(r)), begin.Add(time.Minute)
	step := time.Second / time.Duration(o.rate)
	for next := begin; time.Now().Before(ends) && ctx.Err() == nil; next = next.Add(step) {
		time.Sleep(time.Until(next))
		crowd[r.IntN(len(crowd))].speak(r)
		if r.IntN(500) == 0 {
			p.s.Again(1 + r.IntN(5)) // the platform delivers some once more
		}
		if now := time.Now(); now.After(dies) {
			p.end(r.IntN(2) == 0)
			if err := p.begin(); err != nil {
				return err
			}
			dies = now.Add(p.lifetime(r))
		} else if now.After(tells) {
			tells = tells.Add(time.Minute)
			if err := log.tell(crowd); err != nil {
				return err
			}
		}
	}
	if err := p.calm(ctx); err != nil {
		return err
	}
	if err := log.tell(crowd); err != nil {
		return err
	}
	if err := p.end(false); err != nil {
		return fmt.Errorf("SIGTERM: %w", err)
	}
	return judge(ctx, p, crowd)
}
