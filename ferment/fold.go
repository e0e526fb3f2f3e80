package ferment

import (
	"slices"
	"strings"
	"time"

	"mustbook/ferment/liquid"
)

// Input is all that a batch's state is folded from.
type Input struct {
	N       int
	Entries []Entry        // the batch's live entries, in any order
	House   []Entry        // the house's live entries
	Zone    *time.Location // nil: UTC
	Now     time.Time      // the instant the state is asked for
	// Others are the live entries of the batches that its own speak of (what it was
	// split from, what was blended into it) and of those that these speak of.
	Others map[int][]Entry

	pasts map[pastKey]*State // what others were at a blend, worked out once
}

// folder walks through the entries of one batch in the order of what happened.
type folder struct {
	in          Input
	all         []Entry // with what it was split from, in order
	s           *State
	samples     samples
	instruments instruments
	run         []level // readings that may prove a stop
	rised       bool    // sugar went in after it stopped: a rise is expected
	ogFixed     bool    // sugar was added: later readings are not the must's own
	diluted     float64 // what is left of the alcohol after additions since it stopped
	fermentedTo liquid.Gravity
	begin       int64    // the message that began the batch
	unread      bool     // blended: the level that must hold is worked out, not read
	came        []string // allergens that came with other wines
	since       since
	from        fall
	deeds       map[deedKey]bool
	top         int64 // the newest message
}

type deedKey struct {
	message int64
	what    string
	at      int64
}

// Fold derives the state of a batch. It is pure: the same entries give the same
// state in whatever order they came.
func Fold(in Input) *State {
	f := walked(in)
	f.finish()
	return f.s
}

// walked is the fold before its figures of now are worked out.
func walked(in Input) *folder {
	if in.Zone == nil {
		in.Zone = time.UTC
	}
	if in.pasts == nil {
		in.pasts = map[pastKey]*State{}
	}
	es := ordered(in)
	f := &folder{in: in, all: es, s: &State{N: in.N, Kind: Other, BottleML: 750}, diluted: 1,
		samples: newSamples(es), instruments: instrumentsOf(in.House), deeds: map[deedKey]bool{}}
	f.prepare(es)
	gravities, temperatures := counted(es)
	f.s.Readings, f.s.Temps = make([]Reading, 0, gravities), make([]Temperature, 0, temperatures)
	for i := range es {
		f.take(&es[i])
	}
	return f
}

// ordered are the entries that a batch is folded from, in the order of what happened.
// Mostly they were typed in it, and then they are not copied: an entry is half a
// kilobyte.
func ordered(in Input) []Entry {
	if inOrder(in.Entries) {
		return in.Entries
	}
	es := withParents(in.N, in.Entries, in.Others)
	beginFirst(es)
	Sort(es, in.Zone)
	return es
}

// inOrder reports entries to which withParents, beginFirst and Sort would change
// nothing: a begin and then, in order of time, what has an hour.
func inOrder(es []Entry) bool {
	for i := range es {
		e := &es[i]
		switch {
		case e.DayOnly || e.Quantity == QParent, (e.Quantity == QNewBatch) != (i == 0):
			return false
		case i > 0 && (e.At.Before(es[i-1].At) || e.At.Equal(es[i-1].At) && typedBefore(e, &es[i-1])):
			return false
		}
	}
	return true
}

// counted tells how many gravities and temperatures there are.
func counted(es []Entry) (gravities, temperatures int) {
	for i := range es {
		switch q := es[i].Quantity; {
		case q == QTemp || q == QAmbient:
			temperatures++
		case IsGravity(q):
			gravities++
		}
	}
	return gravities, temperatures
}

// beginFirst puts what a batch was begun with before all that was entered of an
// earlier time: who starts a book late types the begin today and the past after it.
// A gravity keeps its own time.
func beginFirst(es []Entry) {
	begin := int64(0)
	var at, earliest time.Time
	for _, e := range es {
		if e.Quantity == QNewBatch {
			begin, at = e.Message, e.At
		}
		if earliest.IsZero() || e.At.Before(earliest) {
			earliest = e.At
		}
	}
	for i := range es {
		e := &es[i]
		if begin != 0 && e.Message == begin && e.At.Equal(at) && e.At.After(earliest) && !IsGravity(e.Quantity) && e.Quantity != QTemp {
			e.At = earliest.Add(-time.Second)
		}
	}
}

// prepare takes what must be known before the walk: kind, plan, the explicit
// original gravity, the pitch.
func (f *folder) prepare(es []Entry) {
	s := f.s
	for i := range es {
		e := &es[i]
		switch {
		case e.Quantity == QNewBatch && e.Type != "":
			s.Kind = Kind(e.Type)
		case e.Deed == DeedPitched && s.Pitched.IsZero():
			s.Pitched, s.PitchRoot, s.PitchDay = e.At, e.Root, e.DayOnly
		case e.Deed == DeedPitched && e.At.Sub(s.Pitched) > time.Hour:
			s.Repitched, s.RepitchRoot = e.At, e.Root
		}
		f.meets(e)
	}
	if s.Kind == Other {
		s.Kind = guessKind(es)
	}
	s.Plan = defaultPlan(s.Kind)
	s.Plan.applySettings(f.in.House)
	s.Plan.applySettings(es)
	if og := explicitOG(es); og != nil {
		if r, ok := f.reading(og); ok && r.Counts {
			s.OG, s.OGSource, s.OGAt, s.OGRoot = r.SG, OGExplicit, r.At, og.Root
		}
	}
	f.assumePitch(es)
	s.BottleML = FoldHouse(f.in.House).BottleML
}

// meets keeps which entry and which message is the newest.
func (f *folder) meets(e *Entry) {
	s := f.s
	if e.ID > s.NewestEntry {
		s.NewestEntry, s.NewestAt, s.NewestRoot = e.ID, e.TypedAt, e.Root
	}
	f.top = max(f.top, e.Message)
}

// take folds one entry.
func (f *folder) take(e *Entry) {
	s := f.s
	if e.At.After(s.LastLook) && e.Key != SetRemind { // what is to come is no look
		s.LastLook = e.At
	}
	f.deed(e)
	switch e.Quantity {
	case QNewBatch:
		if s.Began.IsZero() {
			s.Began, f.begin = e.At, e.Message
		}
		if s.Name == "" && e.Text != "" {
			s.Name = e.Text
		}
	case QName:
		if s.Name != "" && !strings.EqualFold(s.Name, e.Text) {
			s.Names = append(s.Names, s.Name)
		}
		s.Name = e.Text
	case QParent:
		s.Parent = e.Other
	case QSG, QBrix, QBalling, QOechsle, QBaume, QKMW:
		f.gravity(e)
	case QOG:
		f.givenOG(e)
	case QTemp, QAmbient:
		f.temperature(e)
	case QVolume, QVolumeLoss, QTopping, QVesselSize:
		f.volume(e)
	case QBlend:
		f.blend(e)
	case QAddition:
		f.addition(e)
	case QPH, QTA, QFreeSO2, QTotalSO2:
		f.measure(e)
	case QBottles, QBottlesLeft, QBottlesOut:
		f.bottles(e)
	default:
		f.text(e)
	}
}

// gravity folds a reading: it may be the must's, prove a start, prove a stop.
func (f *folder) gravity(e *Entry) {
	if !e.Has {
		return
	}
	r, ok := f.reading(e)
	if !ok {
		return
	}
	s := f.s
	s.Readings = append(s.Readings, r)
	if !r.Counts {
		return
	}
	f.takeOG(r)
	f.since = since{og: s.OG, volume: liquid.Litres(s.VolumeL), diluted: f.diluted}
	if f.pitched(r.At) && s.Started.IsZero() && s.OG > 0 && float64(s.OG-r.SG) >= startFall-1e-9 {
		s.Started = r.At
	}
	if f.pitched(r.At) {
		f.checkStop(r)
	}
}

// givenOG shows an original gravity that was typed as such as the must's reading.
func (f *folder) givenOG(e *Entry) {
	if r, ok := f.reading(e); ok && e.Has && (f.s.Pitched.IsZero() || !e.At.After(f.s.Pitched)) {
		f.s.Readings = append(f.s.Readings, r)
	}
}

func (f *folder) temperature(e *Entry) {
	if !e.Has {
		return
	}
	from := "unlabelled"
	switch {
	case e.Quantity == QAmbient:
		from = "room"
	case e.Type != "":
		from = e.Type
	}
	f.s.Temps = append(f.s.Temps, Temperature{At: e.At, C: f.instruments.celsius(CelsiusOf(e.Value, e.Unit), e.At), From: from, Root: e.Root})
}

func (f *folder) measure(e *Entry) {
	if !e.Has {
		return
	}
	m := &Measure{Value: e.Value, At: e.At, Root: e.Root}
	switch e.Quantity {
	case QPH:
		f.s.PH = m
	case QTA:
		if e.Unit == "g/100mL" {
			m.Value *= 10
		}
		if e.Basis == "sulfuric" {
			m.Value *= 1.53 // Handbook of Enology, vol. 1: 1 g/L sulphuric is 1.53 g/L tartaric
		}
		f.s.TA = m
	case QFreeSO2:
		f.s.FreeSO2 = m
	case QTotalSO2:
		f.s.TotalSO2 = m
	}
}

func (f *folder) text(e *Entry) {
	s := f.s
	switch e.Quantity {
	case QKitSerial:
		s.Serial = e.Text
	case QKitLot:
		s.Lot = e.Text
	case QKitBest:
		s.BestBefore = e.Text
	case QYeastLot:
		s.YeastLot = e.Text
	case QPlace:
		s.Place = e.Text
	case QNote:
		s.Notes = append(s.Notes, *e)
	case QFault:
		s.Faults = append(s.Faults, *e)
	}
}

// At is the state as of another instant, nothing having been entered: only stage and
// conditions depend on the time. It is s itself where these are the same; a state that
// was handed out is never changed.
func (s *State) At(now time.Time) *State {
	if stage := s.stageAt(now); stage != s.Stage {
		c := *s
		c.Stage = stage
		c.Conditions = c.conditionsAt(now)
		return &c
	}
	conditions := s.conditionsAt(now)
	if slices.Equal(conditions, s.Conditions) {
		return s
	}
	c := *s
	c.Conditions = conditions
	return &c
}
