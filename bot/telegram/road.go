package telegram

import (
	"sync"
	"time"
)

// A few sends at a time go over the network: many at once take the processors from the
// worker, and it is its messages that wait. A send that takes longer than laneTime has
// the network to wait for, not the processor, and makes way for the next.
const (
	lanes    = 2
	laneTime = 20 * time.Millisecond
)

// writesFirst is how many writes of the worker may wait to be carried out before sends
// let them go first. Else the sends of the commit before would all be over when this
// one's begins, and the processors would have nothing to do but wait for the disk.
const writesFirst = 64

// road is where sends go.
type road struct {
	lane chan struct{}
	mu   sync.Mutex
	open *sync.Cond
	shut bool
}

func newRoad() *road {
	r := &road{lane: make(chan struct{}, lanes)}
	r.open = sync.NewCond(&r.mu)
	return r
}

// enter waits for a free lane, and for the worker. Whoever is done leaves.
func (r *road) enter() (leave func()) {
	r.lane <- struct{}{}
	r.mu.Lock()
	for r.shut {
		r.open.Wait()
	}
	r.mu.Unlock()
	out := sync.OnceFunc(func() { <-r.lane })
	late := time.AfterFunc(laneTime, out)
	return func() { late.Stop(); out() }
}

// close keeps sends from beginning, or lets them.
func (r *road) close(shut bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.shut && !shut {
		r.open.Broadcast()
	}
	r.shut = shut
}
