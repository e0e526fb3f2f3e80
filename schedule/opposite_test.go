package schedule

import (
	"fmt"
	"math"
	"strings"
	"time"

	"mustbook/ferment"

	"pgregory.net/rapid"
)

// watch follows a random life by its own book-keeping, from what was typed alone,
// and holds each reminder against the opposites that are forbidden.
type watch struct {
	s         *sim
	seen      int
	seenOnce  int
	sg        float64
	read      []float64 // gravities since the pitch, as typed at 20 °C
	readAt    []time.Time
	mlfOpen   bool
	mlfEver   bool
	mlfKnown  bool
	asked     bool // R19 asked
	lastTempC float64
	saidR15   time.Time
	saidR14   time.Time
}

func newWatch(s *sim) *watch { return &watch{s: s, sg: 1.090, lastTempC: 20} }

// draw takes a doing at random, fermentation running down and standing still.
func (w *watch) draw(rt *rapid.T) string {
	doings := []string{"pitched", "working", "stirred", "strained", "racked", "sg", "sg", "sg", "sg", "same", "same", "same", "temp",
		"add potassium metabisulphite", "add potassium sorbate", "add bentonite", "add nutrient", "degassed", "mlf started", "mlf done",
		"set malolactic=wanted", "set malolactic=unwanted", "set meant sweet=on", "sweetened", "ph 3.4", "so2 30", "stabilised",
		"cold stabilising started", "brought in", "topped up", "bottled 28", "."}
	what := rapid.SampledFrom(doings).Draw(rt, "doing")
	switch what {
	case "sg":
		w.sg = math.Max(0.990, w.sg-float64(rapid.IntRange(0, 30).Draw(rt, "fall"))/1000)
		return fmt.Sprintf("sg %.3f", w.sg)
	case "same":
		return fmt.Sprintf("sg %.3f", w.sg)
	case "temp":
		w.lastTempC = rapid.SampledFrom([]float64{12, 17, 19, 24, 29}).Draw(rt, "temp")
		return fmt.Sprintf("temp %.1f", w.lastTempC)
	}
	return what
}

// did keeps the watch's own book.
func (w *watch) did(what string) {
	switch {
	case strings.HasPrefix(what, "sg "):
		w.read, w.readAt = append(w.read, w.sg), append(w.readAt, w.s.clock)
	case what == "mlf started":
		w.mlfOpen, w.mlfEver, w.mlfKnown = true, true, true
	case what == "mlf done":
		w.mlfOpen, w.mlfEver, w.mlfKnown = false, true, true
	case what == "set malolactic=wanted":
		w.mlfKnown = true
		w.mlfOpen = w.mlfOpen || !w.everDone()
	case what == "set malolactic=unwanted":
		w.mlfKnown = true
		w.mlfOpen = w.running()
	}
}

func (w *watch) everDone() bool { _, ok := w.s.state().Did(ferment.DeedMLFDone); return ok }

// running reports a malolactic that was started and not found done since.
func (w *watch) running() bool {
	open := false
	for _, e := range w.s.entries {
		switch e.Deed {
		case ferment.DeedMLFStarted:
			open = true
		case ferment.DeedMLFDone:
			open = false
		}
	}
	return open
}

// mayHaveStopped is a necessary condition: three readings within 0.002 somewhere,
// first and last three days apart.
func (w *watch) mayHaveStopped() bool {
	for i := range w.read {
		n := 0
		for j := i; j < len(w.read); j++ {
			if math.Abs(w.read[j]-w.read[i]) > 0.0025 {
				break
			}
			if n++; n >= 3 && w.readAt[j].Sub(w.readAt[i]) > 48*time.Hour {
				return true
			}
		}
	}
	return false
}

// check looks at what was made since it last looked.
func (w *watch) check(rt *rapid.T) {
	for ; w.seen < len(w.s.sent); w.seen++ {
		it := w.s.sent[w.seen]
		w.opposites(rt, it, w.s.at[w.seen])
		early := it.Wanted.In(w.s.loc).Format(time.DateOnly) > w.s.at[w.seen].In(w.s.loc).Format(time.DateOnly)
		if early {
			rt.Fatalf("%s wanted %v, made %v", it.Rule, it.Wanted, w.s.at[w.seen])
		}
	}
	for ; w.seenOnce < len(w.s.atOnce); w.seenOnce++ {
		w.opposites(rt, w.s.atOnce[w.seenOnce], w.s.clock)
	}
}

func (w *watch) opposites(rt *rapid.T, it Item, at time.Time) {
	likely := w.s.kind == ferment.Red || w.s.kind == ferment.Cider || w.s.kind == ferment.Country && w.s.name == "plum"
	sorbate := it.Rule == "R20" || it.Rule == "R19" && it.Args["sorbate"] != ""
	switch it.Rule {
	case "R19", "R20", "R25", "R29":
		if w.mlfOpen {
			rt.Fatalf("%s while malolactic is open", it.Rule)
		}
		if it.Rule != "R19" && it.Rule != "R25" && likely && !w.mlfKnown && !w.asked && !w.settled() {
			rt.Fatalf("%s before anybody was asked about malolactic", it.Rule)
		}
	case "R14":
		w.saidR14 = at
	case "R15":
		w.saidR15 = at
		if w.lastTempC < 18 && w.flat() {
			rt.Fatalf("stuck is said while it is %.0f °C", w.lastTempC)
		}
	case "R10", "R23", "R26":
		if n := len(w.read); n > 0 && w.read[n-1] > 1.0305 {
			rt.Fatalf("%s at %.3f", it.Rule, w.read[n-1])
		}
	}
	if it.Rule == "R19" {
		w.asked = true
	}
	if sorbate && w.mlfEver {
		rt.Fatalf("%s asks for sorbate with malolactic", it.Rule)
	}
	if (it.Rule == "R19" || it.Rule == "R20" || it.Rule == "R34") && !w.mayHaveStopped() {
		rt.Fatalf("%s before it stopped: %v", it.Rule, w.read)
	}
	if !w.saidR14.IsZero() && w.saidR14.Equal(w.saidR15) {
		rt.Fatalf("cold and stuck in one breath")
	}
}

// settled reports that stabilising by word or sorbate has closed the question.
func (w *watch) settled() bool {
	for _, e := range w.s.entries {
		if e.Deed == ferment.DeedStabilised || e.Material == "potassium sorbate" {
			return true
		}
	}
	return false
}

// flat reports readings that hardly moved over three days, up to the last.
func (w *watch) flat() bool {
	n := len(w.read)
	for i := n - 2; i >= 0; i-- {
		if w.readAt[n-1].Sub(w.readAt[i]) >= 96*time.Hour {
			return math.Abs(w.read[n-1]-w.read[i]) < 0.0014
		}
	}
	return false
}
