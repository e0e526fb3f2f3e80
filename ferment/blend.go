package ferment

import (
	"slices"
	"time"

	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// likeWine is the share of a wine that may be topped up with another before pH and free
// SO2, which do not average, must be measured anew (common practice, no source).
const likeWine = 0.05

// stemShows is the smallest change of gravity that a stem shows.
const stemShows = 0.001

// blend folds wine of another batch that came in: volumes add, alcohol and sugar follow
// by the balance of masses, and what can do harm is carried over from whichever wine had
// it. A topping leaves the batch's own stage alone, a blend takes the earlier of both.
func (f *folder) blend(e *Entry) {
	s := f.s
	in := f.past(e.Other, e)
	if in == nil {
		in = &State{}
	}
	m := &mixing{f: f, s: s, in: in, own: f.past(f.in.N, e), at: e.At, topping: e.Deed == DeedToppedUp}
	if m.own == nil {
		m.own = &State{}
	}
	m.first = m.own.VolumeL == 0 && len(m.own.Readings) == 0 && m.own.Pitched.IsZero() && len(m.own.Came) == 0
	if l, ok := LitresOf(e.Value, e.Unit); ok && e.Has {
		m.l = l
	} else {
		m.l = in.VolumeL
	}
	s.Came = append(s.Came, Share{N: e.Other, Name: in.Name, Litres: m.l, At: e.At, Root: e.Root})
	m.dangers()
	m.malolactic()
	m.milestones()
	m.stops()
	m.figures(e)
	m.measures()
	f.came = joined(f.came, in.Allergens)
	switch {
	case m.l == 0 && !m.topping:
		s.VolumeL = 0 // nobody can tell how much there is now
	default:
		s.VolumeL += m.l
	}
	s.VolumeAt = e.At
}

// mixing is one wine coming into another.
type mixing struct {
	f       *folder
	s       *State // the batch as it is folded
	own     *State // the batch just before, all its figures worked out
	in      *State // the wine that comes in, just before
	l       float64
	at      time.Time
	first   bool // the first part of a blend: nothing was in it yet
	topping bool
}

// share is the part of the mix that came in; 1 where one of the volumes is not known.
func (m *mixing) share() float64 {
	if m.l <= 0 || m.s.VolumeL <= 0 {
		return 1
	}
	return m.l / (m.l + m.s.VolumeL)
}

// joint is when something was done to the mix: what only one of two parts had, the mix
// has not.
func (m *mixing) joint(own *time.Time, in time.Time) {
	switch {
	case m.first:
		*own = in
	case !m.topping:
		*own = both(*own, in)
	}
}

// milestones carries what was done: a blend stands where the earlier of its parts stands.
func (m *mixing) milestones() {
	s, in := m.s, m.in
	if !in.Pitched.IsZero() && (s.Pitched.IsZero() || in.Pitched.Before(s.Pitched) && !m.topping) {
		if s.Pitched.After(m.at) && !s.PitchAssumed {
			s.Repitched, s.RepitchRoot = s.Pitched, s.PitchRoot // fresh yeast that went into the blend
		}
		s.Pitched, s.PitchRoot, s.PitchDay, s.PitchAssumed = in.Pitched, in.PitchRoot, in.PitchDay, in.PitchAssumed
	}
	if s.Started.IsZero() || !m.topping {
		s.Started = earliest(s.Started, in.Started)
	}
	m.joint(&s.Strained, in.Strained)
	m.joint(&s.Fined, in.Fined)
	m.joint(&s.Degassed, in.Degassed)
	s.Oak = latest(s.Oak, in.Oak)
	switch {
	case m.first:
		s.Racked = append(s.Racked, in.Racked...)
	case !m.topping && len(in.Racked) == 0:
		s.Racked = nil
	}
	if !m.topping && !m.f.settled(SetPulp) {
		pulp := in.OnPulp || !m.first && m.own.OnPulp
		s.Plan.Flags["pulp"], s.Plan.Flags["no pulp"] = pulp, !pulp
	}
	if !m.topping {
		m.fed()
	}
	s.Plan.MeantSweet = s.Plan.MeantSweet || in.Plan.MeantSweet
	enough := func(st *State) bool { return st.Plan.DryEnough || st.Stop.Verdict == StopDry }
	s.Plan.DryEnough = s.Plan.DryEnough && m.f.settled(SetDryEnough) ||
		(in.Plan.DryEnough || m.own.Plan.DryEnough) && enough(in) && (m.first || enough(m.own))
}

// fed carries the nutrient that went into a part, each dose once: parts of one whole share
// those of before the split.
func (m *mixing) fed() {
	seen := map[int64]bool{}
	for _, a := range m.s.Additions {
		seen[a.Root] = true
	}
	for _, a := range m.in.Additions {
		if ClassOf(a.Material) == NutrientClass && !seen[a.Root] {
			m.s.Additions = append(m.s.Additions, a)
		}
	}
}

// settled reports that the household has said something of this batch itself.
func (f *folder) settled(key string) bool {
	for _, e := range f.all {
		if e.Quantity == QSetting && e.Key == key {
			return true
		}
	}
	return false
}

// still reports a wine that is shown to have stopped and is not stuck.
func (s *State) still() bool {
	return !s.Stop.Shown.IsZero() && s.Stop.Verdict != StopStuck
}

// stops follows whether the ferment has stopped: one part that works makes all work. A
// proof holds for the gravity that was worked out until a reading shows the blend's own.
func (m *mixing) stops() {
	s := m.s
	switch {
	case m.first:
		s.Stop = m.in.Stop
	case !m.in.still() || !m.own.still():
		s.Stop = Stop{}
	default:
		s.Stop.From, s.Stop.N = latest(s.Stop.From, m.in.Stop.From), min(s.Stop.N, m.in.Stop.N)
	}
	if !m.in.still() {
		m.f.forgetRun()
	}
}

// dangers carries what can do harm from either wine.
func (m *mixing) dangers() {
	s, in := m.s, m.in
	sweet := in.IsSweet() || !m.first && m.own.IsSweet()
	safe := func(st *State) bool {
		return !st.stabilisedAt().IsZero() && (!sweet || !st.Sorbated.IsZero() && st.guarded())
	}
	switch {
	case m.first:
		s.Stabilised, s.Unguarded = in.Stabilised, in.Unguarded
	case m.topping && m.share() <= likeWine && in.still() && !in.IsSweet():
		// so little of a finished dry wine weakens nothing
	case safe(in) && safe(m.own):
		s.Stabilised = both(s.Stabilised, in.Stabilised)
	default:
		s.Stabilised, s.Unguarded = time.Time{}, m.at
	}
	s.Sulphited, s.Sorbated = latest(s.Sulphited, in.Sulphited), latest(s.Sorbated, in.Sorbated)
	if in.Sweetened.After(s.Sweetened) {
		s.Sweetened, s.SweetRoot = in.Sweetened, in.SweetRoot
	}
	s.ABVLeast = s.ABVLeast || in.ABVLeast && !in.OnPulp // the pulp's own "at least" ends with it
}

// malolactic carries what is known of it: where it runs or is wanted in one, it is so in
// all; where it is done in one only, its bacteria have found new acid.
func (m *mixing) malolactic() {
	s, in, own := m.s, m.in, m.own
	ask := in.MLFUnknown() || !m.first && own.MLFUnknown()
	switch {
	case in.MLFOpen() && !in.MLFStarted.IsZero():
		s.MLFStarted, s.MLFDone = latest(s.MLFStarted, in.MLFStarted), time.Time{}
	case m.first:
		s.MLFStarted, s.MLFDone, s.MLFDoneN = in.MLFStarted, in.MLFDone, in.MLFDoneN
	case !own.MLFOpen():
		ask = ask || in.MLFDone.IsZero() != own.MLFDone.IsZero()
		s.MLFStarted, s.MLFDone = latest(s.MLFStarted, in.MLFStarted), latest(s.MLFDone, in.MLFDone)
		s.MLFDoneN = min(s.MLFDoneN, in.MLFDoneN)
	}
	if !m.f.settled(SetMLF) {
		switch {
		case m.first || in.Plan.MLF == "wanted" && in.MLFDone.IsZero():
			s.Plan.MLF = in.Plan.MLF
		case s.Plan.MLF != in.Plan.MLF && s.Plan.MLF != "wanted":
			s.Plan.MLF = ""
		}
	}
	if ask {
		s.MLFCame = m.at
	}
}

// figures works out gravity and alcohol of the mix, and the original gravity that its
// wines would have had together. Where one of them is not known, a topping counts as
// like wine, and of a blend nothing is invented.
func (m *mixing) figures(e *Entry) {
	f, s := m.f, m.s
	if m.first && m.topping {
		return
	}
	parts := []dose.Part{m.in.Part(m.l)}
	if !m.first {
		parts = append(parts, m.own.Part(m.s.VolumeL))
	}
	r, err := dose.Blend(parts...)
	var og liquid.Gravity
	if err == nil && r.Has&dose.HasGravity != 0 && r.Has&dose.HasABV != 0 {
		og, err = liquid.OriginalGravity(r.Gravity, r.ABV)
	}
	if og == 0 || err != nil {
		if !m.topping {
			m.unknown(e, r)
		}
		return
	}
	if s.OGSource != OGExplicit || m.topping || !m.first && m.own.OG > 0 {
		s.OG, s.OGSource, s.OGAt, s.OGRoot = og, OGBlend, e.At, e.Root
		f.fermentedTo, f.diluted, f.ogFixed = 0, 1, f.pitched(e.At)
		f.since.og, f.since.diluted = og, 1
	}
	if last := s.lastCounting(); !m.topping || last == 0 || float64(max(last-r.Gravity, r.Gravity-last)) >= stemShows {
		m.level(e, r.Gravity)
	}
}

// unknown leaves a blend without a start gravity, but not without a gravity where the
// parts have one.
func (m *mixing) unknown(e *Entry, r dose.Part) {
	s := m.s
	if s.OGSource != OGExplicit {
		s.OG, s.OGSource, s.OGAt, s.OGRoot = 0, OGNone, time.Time{}, 0
		m.f.ogFixed = m.f.pitched(e.At)
	}
	m.f.fermentedTo, m.f.diluted = 0, 1
	if r.Has&dose.HasGravity != 0 {
		m.level(e, r.Gravity)
		return
	}
	s.Stop = Stop{}
	m.f.forgetRun()
}

// level puts a gravity that was worked out among the readings, until one is read.
func (m *mixing) level(e *Entry, g liquid.Gravity) {
	s := m.s
	s.Readings = append(s.Readings, Reading{Entry: *e, At: e.At, Day: e.DayOnly, Typed: float64(g), SG: g, Counts: true, Worked: true, Scale: "sg"})
	m.f.forgetRun()
	m.f.since = since{og: s.OG, diluted: m.f.diluted}
	if !s.Stop.Shown.IsZero() {
		s.Stop.SG, s.Stop.Shown, s.Stop.Last = g, latest(s.Stop.Shown, e.At), e.At
		m.f.unread = true
	}
}

// Part is so many litres of the wine as it is now, as the bench takes it for a blend.
func (s *State) Part(l float64) dose.Part {
	p := dose.Part{Volume: liquid.Litres(l)}
	switch {
	case s.Expected > 0:
		p.Gravity, p.Has = s.Expected, dose.HasGravity
	case s.OG > 0 && s.Pitched.IsZero():
		p.Gravity, p.Has = s.OG, dose.HasGravity
	}
	if s.ABVKnown || s.Pitched.IsZero() {
		p.ABV, p.Has = s.ABV, p.Has|dose.HasABV
	}
	if s.TA != nil {
		p.TA, p.Has = liquid.GramsPerLitre(s.TA.Value), p.Has|dose.HasTA
	}
	if s.TotalSO2 != nil {
		p.TotalSO2, p.Has = liquid.MilligramsPerLitre(s.TotalSO2.Value), p.Has|dose.HasTotal
	}
	return p
}

// measures carries what was measured and what was added by the litre. Acid and SO2 in all
// average by volume; pH and free SO2 do not.
func (m *mixing) measures() {
	s, in := m.s, m.in
	share := m.share()
	if m.first {
		share = 1
	}
	average := func(own, other float64) float64 { return own*(1-share) + other*share }
	if !m.first && share == 1 { // a volume is not known: the worse of both
		average = func(own, other float64) float64 { return max(own, other) }
	}
	s.SO2Added, s.Sorbate = average(s.SO2Added, in.SO2Added), average(s.Sorbate, in.Sorbate)
	measured := func(own **Measure, other *Measure) {
		switch {
		case m.first:
			*own = other
		case *own == nil || other == nil || m.share() == 1:
			if share > likeWine {
				*own = nil
			}
		default:
			mean := **own
			mean.Value = average((*own).Value, other.Value)
			*own = &mean
		}
	}
	measured(&s.TA, in.TA)
	measured(&s.TotalSO2, in.TotalSO2)
	if share > likeWine && !(m.first && m.topping) {
		s.PH, s.FreeSO2 = nil, nil
	}
}

// joined puts together what guests must be told of two wines, each once.
func joined(a, b []string) []string {
	out := append([]string(nil), a...)
	for _, x := range b {
		if !slices.Contains(a, x) {
			out = append(out, x)
		}
	}
	return out
}
