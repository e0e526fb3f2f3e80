package telegram

import (
	"testing"
	"testing/synctest"
	"time"
)

// TestRoad has more sends than lanes: the first go, the others after them, a slow one
// makes way, and none begins while the road is closed.
func TestRoad(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		r := newRoad()
		begun := make(chan func(), lanes+3)
		send := func() {
			go func() { begun <- r.enter() }()
			synctest.Wait()
		}
		want := func(n int, when string) {
			t.Helper()
			if len(begun) != n {
				t.Errorf("%s: %d sends have begun, not %d", when, len(begun), n)
			}
		}
		for range lanes + 2 {
			send()
		}
		want(lanes, "the lanes are taken")
		first := <-begun
		first()
		synctest.Wait()
		want(lanes, "one is over and the next has begun")
		time.Sleep(laneTime)
		synctest.Wait()
		want(lanes+1, "the others wait for the network")
		r.close(true)
		time.Sleep(laneTime)
		send()
		want(lanes+1, "the worker goes first")
		r.close(false)
		synctest.Wait()
		want(lanes+2, "the worker is done")
		first()
		for len(begun) > 0 { // those that were late leave a second time
			(<-begun)()
		}
		if len(r.lane) != 0 {
			t.Errorf("%d lanes are taken by nobody", len(r.lane))
		}
	})
}
