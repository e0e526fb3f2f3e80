package bot

import (
	"encoding/json"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/forecast"
	"mustbook/store"
)

const day = 24 * time.Hour

// targets are the gravities a forecast is made for: the rack point of the plan,
// 1.010, 1.000, and for a light must what it may end near.
func targets(s *ferment.State) []float64 {
	var out []float64
	add := func(g float64) {
		for _, x := range out {
			if x == g {
				return
			}
		}
		if s.Last != nil && g < float64(s.Last.SG)-1e-6 {
			out = append(out, g)
		}
	}
	add(s.Plan.RackAt)
	add(1.010)
	add(1.000)
	if s.OG > 0 && s.OG < 1.075 {
		add(forecast.DryGravity(float64(s.OG)) + 0.005)
	}
	return out
}

// forecastInput gives the forecast what it cares about of a batch. A batch pitched
// anew begins again at that pitch; sugar added lifts what was read before.
func forecastInput(s *ferment.State) forecast.Input {
	from, og := forecastFrom(s), float64(s.OG)
	if !from.Equal(s.Pitched) {
		og = lastBefore(s, from)
	}
	in := forecast.Input{OG: og, Targets: targets(s), Halt: true}
	days := func(t time.Time) float64 { return float64(t.Sub(from)) / float64(day) }
	lift := liftOf(s)
	for _, r := range s.Readings {
		if !r.Counts || r.At.Before(from) && r.Entry.Root != s.OGRoot {
			continue
		}
		g := float64(r.SG)
		if r.At.Before(lift.at) && r.Entry.Root != s.OGRoot {
			g += lift.by
		}
		if r.Entry.Root != s.OGRoot || s.OGSource == ferment.OGExplicit {
			in.Readings = append(in.Readings, forecast.Reading{Day: days(r.At), SG: g})
		}
	}
	if s.OG > 0 {
		in.Readings = append(in.Readings, forecast.Reading{Day: min(0, days(s.OGAt)), SG: og})
		if s.OGSource == ferment.OGAfterPitch {
			in.Readings[len(in.Readings)-1].Day = days(s.OGAt)
		}
	}
	for _, t := range s.Temps {
		in.Temps = append(in.Temps, forecast.Temperature{Day: days(t.At), C: t.C, From: forecast.Source(t.From)})
	}
	if len(s.Racked) > 0 && s.Racked[0].After(from) {
		in.Racked = days(s.Racked[0])
	}
	return in
}

// forecastFrom is day 0 of the forecast: the pitch, or a later one where there was
// still sugar enough to begin again.
func forecastFrom(s *ferment.State) time.Time {
	if !s.Repitched.IsZero() && s.OGAt.Before(s.Repitched) && lastBefore(s, s.Repitched) > forecast.MinOG {
		return s.Repitched
	}
	return s.Pitched
}

func lastBefore(s *ferment.State, at time.Time) float64 {
	g := 0.0
	for _, r := range s.Readings {
		if r.Counts && !r.At.After(at) {
			g = float64(r.SG)
		}
	}
	return g
}

// lift is what sugar given while it worked added to the gravity.
type lift struct {
	by float64
	at time.Time
}

func liftOf(s *ferment.State) lift {
	var l lift
	for _, r := range s.Readings {
		if r.Entry.Root == s.OGRoot && s.OGSource != ferment.OGExplicit {
			l.by = float64(s.OG - r.SG)
		}
	}
	for _, a := range s.Additions {
		if ferment.ClassOf(a.Material).Raises() && a.At.After(s.OGAt) {
			l.at = a.At
		}
	}
	return l
}

// foresee reads the forecast from the cache, or computes and keeps it.
func (b *Bot) foresee(tx *store.Tx, bk *book, s *ferment.State, quick bool) outlook {
	if entry, blob, err := tx.Forecast(bk.id, s.N); err == nil && entry == s.NewestEntry {
		var o outlook
		if json.Unmarshal(blob, &o) == nil {
			return o
		}
	}
	if quick {
		return outlook{}
	}
	o := predict(s)
	blob, err := json.Marshal(o)
	if err == nil {
		err = tx.PutForecast(bk.id, s.N, s.NewestEntry, blob)
	}
	if err != nil && b.Log != nil {
		b.Log.Warn("forecast not kept", "err", err)
	}
	return o
}

// movesAgain is the fall since the reading before that takes the word stuck back
// (common practice, no source).
const movesAgain = 0.003

// predict computes the forecast of a batch.
func predict(s *ferment.State) outlook {
	res, err := forecast.Run(forecastInput(s))
	if err != nil {
		return outlook{}
	}
	from := forecastFrom(s)
	at := func(d float64) time.Time { return from.Add(time.Duration(d * float64(day))).Truncate(time.Second) }
	o := outlook{Verdict: verdictWord(res.Verdict), Rate: res.Rate * 1000, PNow: res.Now.P(), PBefore: res.Before.P()}
	if o.Verdict == "stuck" && s.Prev != nil && float64(s.Prev.SG-s.Last.SG) >= movesAgain {
		o.Verdict = "slow"
	}
	for _, c := range res.Crossings {
		x := crossing{Target: c.Target, PNever: c.PNever}
		if c.Dated {
			x.Median, x.Low, x.High = at(c.Median), at(c.Low), at(c.High)
		}
		o.Crossings = append(o.Crossings, x)
		if c.Target == s.Plan.RackAt && c.Dated {
			rack := x
			o.Rack = &rack
		}
	}
	return o
}

// verdictWord turns the forecast's verdict into the word of an answer. Watch only
// asks for a reading, and says nothing more.
func verdictWord(v forecast.Verdict) string {
	switch v {
	case forecast.OnCourse, forecast.Watch:
		return "on course"
	case forecast.Sluggish:
		return "slow"
	case forecast.Stuck:
		return "stuck"
	}
	return ""
}
