package ferment

import (
	"time"

	"mustbook/ferment/liquid"
)

// deed folds the deed that an entry belongs to, once for a message.
func (f *folder) deed(e *Entry) {
	if e.Deed == "" || e.Deed == DeedAddition || e.Deed == DeedNote {
		return
	}
	k := deedKey{e.Message, e.Deed, e.At.Unix()}
	if f.deeds[k] || e.Deed == DeedBottled && f.stillBottling(e) {
		return
	}
	f.deeds[k] = true
	s := f.s
	s.Deeds = append(s.Deeds, Deed{What: e.Deed, At: e.At, Day: e.DayOnly, By: doer(e), Root: e.Root, Text: e.Text})
	if at := f.milestone(e.Deed); at != nil {
		*at = e.At
	}
	switch e.Deed {
	case DeedWorking:
		if s.Started.IsZero() {
			s.Started, s.StartWord = e.At, true
		}
	case DeedPitched:
		if !s.Pitched.IsZero() && e.At.After(s.Pitched.Add(time.Hour)) {
			s.Started, s.Stop = time.Time{}, Stop{} // fresh yeast: back to the lag
			f.forgetRun()
		}
	case DeedRacked:
		s.Racked = append(s.Racked, e.At)
	case DeedMLFDone:
		s.MLFDoneN++
	case DeedColdEnd:
		s.Cold = time.Time{}
	case DeedOakOut:
		s.Oak = time.Time{}
	case DeedSweetened:
		s.SweetRoot = e.Root
		if f.fermentedTo == 0 {
			f.fermentedTo = s.lastCounting()
		}
		f.rised = true
	case DeedReopened:
		s.Bottled, s.Emptied, s.Deleted = time.Time{}, time.Time{}, time.Time{}
		s.BottlesMade, s.BottlesLeft, s.Counts, s.Counted = 0, 0, nil, false
	case DeedPoured:
		if e.Quantity == QEvent {
			s.Emptied = e.At
		}
	}
}

// milestone returns where the time of a deed is kept.
func (f *folder) milestone(deed string) *time.Time {
	s := f.s
	switch deed {
	case DeedStrained, DeedPressed:
		return &s.Strained
	case DeedStabilised:
		return &s.Stabilised
	case DeedSweetened:
		return &s.Sweetened
	case DeedFined:
		return &s.Fined
	case DeedDegassed:
		return &s.Degassed
	case DeedMLFStarted:
		return &s.MLFStarted
	case DeedMLFDone:
		return &s.MLFDone
	case DeedColdStart:
		return &s.Cold
	case DeedBottled:
		return &s.Bottled
	case DeedLaidDown:
		return &s.LaidDown
	case DeedLabelled:
		return &s.Labelled
	case DeedBlended:
		return &s.Blended
	case DeedOakIn:
		return &s.Oak
	case DeedEmpty, DeedEmptied:
		return &s.Emptied
	case DeedDeleted:
		return &s.Deleted
	}
	return nil
}

func doer(e *Entry) string {
	if e.By != "" {
		return e.By
	}
	return e.AuthorName
}

// finish derives the figures of now from what the walk found.
func (f *folder) finish() {
	s := f.s
	for i := range s.Readings {
		if s.Readings[i].Counts {
			s.Prev, s.Last = s.Last, &s.Readings[i]
		}
	}
	s.Allergens = joined(allergensOf(s.Additions), f.came)
	s.OnPulp = s.onPulp()
	f.figures()
	s.judge()
	s.Sheet = s.sheetVerdict()
	s.Stage = s.stageAt(f.in.Now)
	s.Conditions = s.conditionsAt(f.in.Now)
}

// figures computes alcohol and sugar by balance from the original gravity, the
// gravity that fermentation reached, and what was added since.
func (f *folder) figures() {
	s := f.s
	if s.OG > 0 {
		s.Potential, _ = liquid.PotentialAlcohol(s.OG)
	}
	if s.Last == nil {
		return
	}
	s.Expected = f.expected()
	if s.OG == 0 || s.Pitched.IsZero() {
		return
	}
	to := f.fermentedTo
	if to == 0 {
		to = s.Expected
	}
	to = min(to, s.OG)
	alc, err := liquid.AlcoholByBalance(s.OG, to)
	if err != nil {
		return
	}
	s.ABV, s.ABVDoubt, s.ABVKnown = liquid.PercentVol(float64(alc.ABV)*f.diluted), alc.Doubt, true
	s.ABVLeast = s.ABVLeast || s.OnPulp
	f.sugarLeft()
}

func (f *folder) sugarLeft() {
	s := f.s
	sugar, err := liquid.SugarLeft(s.OG, min(s.Expected, s.OG))
	if err != nil {
		return
	}
	s.SugarLeft, s.SugarDoubt, s.Gone, s.SugarKnown = float64(sugar.Left), float64(sugar.Doubt), sugar.Gone, true
	if f.fermentedTo == 0 {
		return
	}
	// What was left when it stopped, thinned, and all that the extract rose by since: the
	// sugar that went in counts whole, however low the dry wine's own extract is.
	then, err := liquid.ExtractWithAlcohol(f.fermentedTo, liquid.PercentVol(float64(s.ABV)/f.diluted))
	if err != nil {
		return
	}
	if e, err := liquid.ExtractWithAlcohol(s.Expected, s.ABV); err == nil {
		left := max(0, float64(then-liquid.OtherExtract)) * f.diluted
		s.SugarLeft = max(0, left+float64(e)-float64(then)*f.diluted)
	}
}

// sheetVerdict holds day one's gravity against the range of the kit's sheet.
func (s *State) sheetVerdict() SheetVerdict {
	r := s.Plan.Sheet
	if r.Low == 0 && r.High == 0 || s.OG == 0 {
		return SheetNone
	}
	og := thousandths(s.OG)
	switch {
	case r.Low > 0 && og < thousandths(liquid.Gravity(r.Low)):
		return SheetUnder
	case r.High > 0 && og > thousandths(liquid.Gravity(r.High)):
		return SheetOver
	}
	return SheetInside
}

// ageingAfter is how long a stopped wine stands before it counts as ageing.
const ageingAfter = 60 * 24 * time.Hour

// stageAt is the furthest stage that holds.
func (s *State) stageAt(now time.Time) Stage {
	switch {
	case !s.Emptied.IsZero():
		return Empty
	case !s.Bottled.IsZero():
		return Bottled
	case s.Pitched.IsZero():
		return Must
	case s.Started.IsZero():
		return Lag
	case s.Stop.Shown.IsZero() || s.Stop.Verdict == StopStuck:
		return s.working()
	}
	return s.stopped(now)
}

func (s *State) working() Stage {
	if len(s.Racked) > 0 || !s.Strained.IsZero() {
		return Secondary
	}
	return Primary
}

func (s *State) stopped(now time.Time) Stage {
	since := latest(s.Stop.Shown, s.Fined, s.stabilisedAt())
	racked := 0
	for _, r := range s.Racked {
		if r.After(s.Stop.From) {
			racked++
		}
	}
	after := len(s.Racked) > 0 && (s.Fined.After(s.Stop.From) || !s.stabilisedAt().IsZero()) &&
		s.Racked[len(s.Racked)-1].After(latest(s.Fined, s.stabilisedAt()))
	switch {
	case racked >= 2 || after || now.Sub(since) >= ageingAfter:
		return Ageing
	case s.Fined.After(s.Stop.From):
		return Clearing
	case !s.stabilisedAt().IsZero():
		return Stabilised
	}
	return Stopped
}

// stabilisedAt is when it was stabilised: the word, or sulphite after it stopped,
// with sorbate where sweet; zero where it was not.
func (s *State) stabilisedAt() time.Time {
	if !s.Stabilised.IsZero() {
		return s.Stabilised
	}
	since := latest(s.Stop.From, s.Unguarded)
	if s.Stop.Shown.IsZero() || !s.Sulphited.After(since) {
		return time.Time{}
	}
	if s.IsSweet() && !s.Sorbated.After(since) {
		return time.Time{}
	}
	return latest(s.Sulphited, s.Sorbated)
}

// IsSweet reports a wine with sugar that could ferment again, by intent or by
// balance; a fixed gravity is not dryness.
func (s *State) IsSweet() bool {
	if !s.Sweetened.IsZero() || s.Plan.MeantSweet {
		return true
	}
	return !s.Stop.Shown.IsZero() && standIn(s.SugarKnown, s.SugarLeft, s.Stop.SG) > DryLeft && s.Stop.Verdict != StopEnough
}

func latest(ts ...time.Time) time.Time {
	var m time.Time
	for _, t := range ts {
		if t.After(m) {
			m = t
		}
	}
	return m
}
