package bot

import (
	"time"

	"mustbook/bot/say"
	"mustbook/ferment"
)

// next says what to do next with a batch, the most pressing first.
func (t *turn) next(s *ferment.State, o outlook) []say.Next {
	return upcoming(s, o, t.bk.zone, t.in.At)
}

// upcoming derives the next steps of a batch from its state: the trade's
// defaults (common practice, no source), the plan's own intervals before them.
func upcoming(s *ferment.State, o outlook, zone *time.Location, now time.Time) []say.Next {
	switch s.Stage {
	case ferment.Must:
		return mustNext(s)
	case ferment.Lag:
		return []say.Next{{What: "R03", Do: "Look if it works", Due: s.Pitched.Add(interval(s, "R03", 24*time.Hour))}}
	case ferment.Primary, ferment.Secondary:
		return workingNext(s, o, zone, now)
	case ferment.Bottled:
		return bottledNext(s, zone)
	case ferment.Empty:
		return nil
	}
	return stoppedNext(s, zone)
}

func interval(s *ferment.State, rule string, d time.Duration) time.Duration {
	if v, ok := s.Plan.Intervals[rule]; ok {
		return v
	}
	return d
}

func inDays(t time.Time, days int, zone *time.Location) time.Time {
	return t.In(zone).AddDate(0, 0, days)
}

func mustNext(s *ferment.State) []say.Next {
	if s.OG == 0 {
		return []say.Next{{What: "R02", Do: "Read the gravity, with its temperature"}}
	}
	if !s.Sulphited.IsZero() {
		return []say.Next{{What: "R01", Do: "Pitch", Due: s.Sulphited.Add(interval(s, "R01", 24*time.Hour))}}
	}
	return []say.Next{{What: "R01", Do: "Pitch the yeast at 18–24 °C"}}
}

func workingNext(s *ferment.State, o outlook, zone *time.Location, now time.Time) []say.Next {
	if s.Has(ferment.Stuck) {
		return []say.Next{{What: "R15", Do: "Do not stabilise or bottle. Read", Due: inDays(now, 2, zone)}}
	}
	if s.Last == nil {
		return []say.Next{{What: "R07", Do: "Read it"}}
	}
	if s.Stage == ferment.Primary && float64(s.Last.SG) <= s.Plan.RackAt+0.0005 {
		if s.OnPulp {
			return []say.Next{{What: "R11", Do: "Strain or press", Due: inDays(s.Last.At, 1, zone)}}
		}
		return []say.Next{{What: "R10", Do: "Rack off the lees", Due: inDays(s.Last.At, 1, zone)}}
	}
	if s.SugarKnown && s.SugarLeft <= ferment.StuckLeft || !s.SugarKnown && s.Last.SG <= 1.005 {
		what := "R17"
		if s.Prev != nil && s.Prev.SG-s.Last.SG <= 0.0011 {
			what = "R18"
		}
		return []say.Next{{What: what, Do: "Read", Due: inDays(s.Last.At, 3, zone)}}
	}
	read := say.Next{What: "R07", Do: "Read", Due: inDays(s.Last.At, 2, zone)}
	if s.Stage == ferment.Secondary {
		read = say.Next{What: "R16", Do: "Read", Due: inDays(s.Last.At, 7, zone)}
	}
	out := []say.Next{read}
	if s.Stage == ferment.Primary {
		day := inDays(s.Pitched, s.Plan.CheckDay, zone)
		if s.Plan.CheckFrom == "default" && o.Rack != nil && !o.Rack.Median.IsZero() {
			day = clampDay(o.Rack.Median, inDays(s.Pitched, 3, zone), inDays(s.Pitched, 10, zone))
		}
		check := say.Next{What: "R09", Do: "Check it", Due: day}
		if check.Due.Before(read.Due) {
			return []say.Next{check, read}
		}
		out = append(out, check)
	}
	return out
}

func clampDay(t, low, high time.Time) time.Time {
	if t.Before(low) {
		return low
	}
	if t.After(high) {
		return high
	}
	return t
}

func stoppedNext(s *ferment.State, zone *time.Location) []say.Next {
	switch {
	case s.Stop.Verdict == ferment.StopAsk:
		return []say.Next{{What: "R19", Do: "Say: dry enough, or meant sweet"}}
	case s.MLFOpen():
		return []say.Next{{What: "R24", Do: "Test malolactic", Due: inDays(s.MLFStarted, 21, zone)}}
	case s.MLFUnknown():
		return []say.Next{{What: "R19", Do: "Is malolactic wanted?", Due: inDays(s.Stop.Shown, 1, zone)}}
	case s.Stage == ferment.Stopped:
		return []say.Next{{What: "R19", Do: "Rack and stabilise", Due: inDays(s.Stop.Shown, 1, zone)}}
	case s.Stage == ferment.Clearing:
		return []say.Next{{What: "R23", Do: "See if it is clear", Due: inDays(s.Fined, 14, zone)}}
	case !s.Sweetened.IsZero() && s.Last != nil && s.Last.At.Before(s.Sweetened):
		return []say.Next{{What: "R32", Do: "Read after sweetening", Due: inDays(s.Sweetened, 10, zone)}}
	}
	last := s.Stop.Shown
	if n := len(s.Racked); n > 0 {
		last = s.Racked[n-1]
	}
	return []say.Next{{What: "R26", Do: "Rack if there are lees", Due: inDays(last, 42, zone)}, {What: "R34", Do: "Bottle when clear"}}
}

func bottledNext(s *ferment.State, zone *time.Location) []say.Next {
	switch {
	case s.LaidDown.IsZero() && s.Closure != "screw":
		return []say.Next{{What: "R36", Do: "Lay down", Due: inDays(s.Bottled, 3, zone)}, {What: "R37", Do: "Look for fizz", Due: inDays(s.Bottled, 14, zone)}}
	case s.Labelled.IsZero():
		return []say.Next{{What: "R38", Do: "Label", Due: inDays(s.Bottled, 7, zone)}}
	}
	return []say.Next{{What: "R39", Do: "First look", Due: inDays(s.Bottled, firstLook(s), zone)}}
}

// firstLook is the days from bottling to a first tasting (common practice, no source).
func firstLook(s *ferment.State) int {
	switch s.Kind {
	case ferment.White, ferment.Rose:
		return 60
	case ferment.Kit, ferment.Red:
		return 240
	case ferment.Mead:
		return 270
	case ferment.Cider:
		return 45
	}
	return 180
}
