package bot

import (
	"time"

	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/store"
)

// crossing is when a gravity is reached.
type crossing struct {
	Target            float64
	Median, Low, High time.Time
	PNever            float64
}

// outlook is what the forecast says of a batch as of its newest entry; the zero
// value says nothing.
type outlook struct {
	Rack      *crossing
	Crossings []crossing
	Verdict   string  // on course, slow, stuck; empty: too few readings
	Rate      float64 // points a day now
	PNow      float64 // probability of a problem at the newest reading
	PBefore   float64 // the same at the one before
}

func (o outlook) say() say.Outlook {
	out := say.Outlook{Verdict: o.Verdict}
	if o.Rack != nil {
		c := toSay(*o.Rack)
		out.Rack = &c
	}
	return out
}

func (o outlook) all() []say.Crossing {
	var out []say.Crossing
	for _, c := range o.Crossings {
		out = append(out, toSay(c))
	}
	return out
}

func toSay(c crossing) say.Crossing {
	return say.Crossing{Target: c.Target, Median: c.Median, Low: c.Low, High: c.High, Never: c.PNever}
}

// working reports a batch whose forecast is of use.
func working(s *ferment.State) bool {
	return (s.Stage == ferment.Lag || s.Stage == ferment.Primary || s.Stage == ferment.Secondary) && s.Last != nil && !s.Pitched.IsZero()
}

// outlook returns the forecast of a batch; computed once for its newest entry and
// kept in a cache that may be dropped at any time.
func (b *Bot) outlook(tx *store.Tx, bk *book, s *ferment.State, quick bool) outlook {
	if !working(s) {
		return outlook{}
	}
	return b.foresee(tx, bk, s, quick)
}
