package ferment

import (
	"math"
	"time"

	"mustbook/ferment/liquid"
)

// curve gives how a quantity that is a gravity in some scale is made into one; nil for
// any other.
func curve(q Quantity) func(v float64) (liquid.Gravity, error) {
	switch q {
	case QSG, QOG:
		return func(v float64) (liquid.Gravity, error) { return liquid.Gravity(v), nil }
	case QBrix, QBalling:
		return func(v float64) (liquid.Gravity, error) { return liquid.GravityFromBrix(liquid.Brix(v)) }
	case QOechsle:
		return liquid.GravityFromOechsle
	case QBaume:
		return liquid.GravityFromBaume
	case QKMW:
		return liquid.GravityFromKMW
	}
	return nil
}

// IsGravity reports whether a quantity is a gravity in some scale.
func IsGravity(q Quantity) bool { return curve(q) != nil }

// GravityOf returns the specific gravity of a value typed in the scale of q, which must
// be a gravity.
func GravityOf(q Quantity, v float64) (liquid.Gravity, error) { return curve(q)(v) }

// samples has, by the root of each gravity of the book, the temperature that corrects it:
// one typed after it or with a button, else the sample temperature of its message, else
// the unlabelled one.
type samples map[int64]sample

type sample struct {
	c    float64 // °C
	rank int     // of several the higher one counts
}

// How a temperature came to its gravity.
const (
	besideIt = 1 + iota // in the same message, unlabelled
	ofSample            // called the sample's
	givenIt             // typed after it, or with a button
)

// newSamples gives each temperature its gravity. With several gravities in a message it
// goes to the one typed just before it, or to the first where it stands in front of all.
func newSamples(es []Entry) samples {
	s := samples{}
	type heard struct {
		gravity *Entry   // the last one
		early   []*Entry // temperatures in front of all
	}
	of := map[int64]*heard{} // by message
	for i := range es {
		e := &es[i]
		gravity := IsGravity(e.Quantity)
		switch {
		case e.Quantity == QTemp && e.Has && e.Of != 0:
			s[e.Of] = sample{CelsiusOf(e.Value, e.Unit), givenIt}
			continue
		case !gravity && (e.Quantity != QTemp || !e.Has):
			continue
		}
		m := of[e.Message]
		if m == nil {
			m = &heard{}
			of[e.Message] = m
		}
		switch {
		case gravity:
			m.gravity = e
			for _, t := range m.early {
				s.offer(e, t)
			}
			m.early = nil
		case m.gravity == nil:
			m.early = append(m.early, e)
		default:
			s.offer(m.gravity, e)
		}
	}
	return s
}

// offer gives a gravity the temperature of its own time, unless it has a better one.
func (s samples) offer(g, t *Entry) {
	if !t.At.Equal(g.At) || t.Type == "must" || t.Type == "cap" {
		return
	}
	rank := besideIt
	if t.Type == "sample" {
		rank = ofSample
	}
	if rank > s[g.Root].rank {
		s[g.Root] = sample{CelsiusOf(t.Value, t.Unit), rank}
	}
}

// of returns the temperature in °C that belongs to a gravity, nil where none.
func (s samples) of(g *Entry) *float64 {
	x, known := s[g.Root]
	if !known {
		return nil
	}
	return &x.c
}

// reading makes a gravity of the book into what it means, for a mix known so far.
func (f *folder) reading(e *Entry) (Reading, bool) {
	r := Reading{Entry: *e, At: e.At, Day: e.DayOnly, Scale: e.Unit, TempC: f.samples.of(e)}
	g, err := GravityOf(e.Quantity, e.Value)
	if err != nil {
		return r, false
	}
	r.Typed, r.SG, r.Counts = float64(g), g, true
	if e.Quantity == QBrix || e.Quantity == QBalling || e.Quantity == QKMW {
		if e.Instrument == "refractometer" && f.pitched(e.At) {
			r.Counts = false // alcohol bends light: kept as what it is
		}
		if e.Instrument == "refractometer" {
			return r, true
		}
	}
	ref, off := f.instruments.hydrometer(e)
	h := liquid.Hydrometer{Reference: liquid.Celsius(ref), ErrorInWater: off}
	r.Taken = r.TempC == nil
	t := liquid.Celsius(ref)
	if r.TempC != nil {
		t = liquid.Celsius(f.instruments.celsius(*r.TempC, e.At))
	}
	at20, err := h.At20(g, t, liquid.Mix{OG: f.s.OG, Pitched: f.pitched(e.At)})
	if err != nil {
		r.Counts = false // outside the range of the correction: kept as typed
		return r, true
	}
	r.SG = at20
	return r, true
}

// pitched reports whether yeast was in at a time.
func (f *folder) pitched(at time.Time) bool {
	return !f.s.Pitched.IsZero() && !at.Before(f.s.Pitched)
}

// afterPitch is how long after the yeast a gravity still counts as that of the
// must, and startFall the fall that proves a start (common practice, no source).
const (
	afterPitch = 6 * time.Hour
	startFall  = 0.003
	lowestOG   = 1.030
)

// explicitOG returns the newest typed `og`, whenever typed.
func explicitOG(es []Entry) *Entry {
	var best *Entry
	for i := range es {
		if es[i].Quantity == QOG && es[i].Has && (best == nil || typedBefore(best, &es[i])) {
			best = &es[i]
		}
	}
	return best
}

// takeOG lets a reading become the original gravity where it may.
func (f *folder) takeOG(r Reading) {
	if !r.Counts || f.ogFixed || f.s.OGSource == OGExplicit {
		return
	}
	switch {
	case f.s.Pitched.IsZero():
		f.setOG(r, OGProvisional)
	case !r.At.After(f.s.Pitched):
		f.setOG(r, OGBeforePitch)
	case r.At.Sub(f.s.Pitched) <= afterPitch && f.s.OGSource == OGNone:
		f.setOG(r, OGAfterPitch)
	case r.At.Sub(f.s.Pitched) <= afterPitch && r.SG > f.s.OG && r.SG-f.s.OG < 0.010:
		f.setOG(r, OGAfterPitch) // better stirred: nothing fell, and there was more in it
	}
}

func (f *folder) setOG(r Reading, from OGSource) {
	if r.SG < lowestOG {
		return // alcohol "not known", never invented
	}
	f.s.OG, f.s.OGSource, f.s.OGAt, f.s.OGRoot = r.SG, from, r.At, r.Entry.Root
}

// raiseOG adds sugar or water given after the original gravity was read, by
// balance over the volume of then (liquid.Solution conserves both).
func (f *folder) raiseOG(sugar liquid.Grams, water liquid.Litres) {
	if f.s.OG == 0 || (sugar == 0 && water == 0) {
		return
	}
	if f.s.VolumeL <= 0 {
		f.s.ABVLeast = f.s.ABVLeast || sugar > 0
		return
	}
	must, err := liquid.SolutionOf(liquid.Litres(f.s.VolumeL), f.s.OG, 0)
	if err != nil {
		return
	}
	f.s.OG = must.WithSugar(sugar).WithWater(water).Gravity()
}

// fall is what the search for a fall without a pitch knows of the readings so far.
type fall struct {
	sg   liquid.Gravity // 0: none that a lower one could follow
	at   time.Time
	root int64
}

// assumePitch finds a fall of startFall without a pitch logged: the yeast is
// assumed to have gone in just after the last gravity before the fall.
func (f *folder) assumePitch(es []Entry) {
	if !f.s.Pitched.IsZero() {
		return
	}
	for i := range es {
		if f.falls(&es[i]) {
			f.s.Pitched, f.s.PitchAssumed, f.s.PitchRoot = f.from.at, true, f.from.root
			return
		}
	}
}

// falls reports an entry that shows a fall from the last gravity.
func (f *folder) falls(e *Entry) bool {
	from := &f.from
	if e.Quantity == QBlend {
		from.sg = 0 // another wine came in: a lower gravity proves nothing
	}
	if e.Quantity == QAddition || e.Quantity == QTopping {
		if c := ClassOf(e.Material); c == WaterClass || c == JuiceClass {
			from.sg = 0 // thinned: a lower gravity proves nothing
		}
	}
	if !IsGravity(e.Quantity) || !e.Has || e.Quantity == QOG {
		return false
	}
	r, ok := f.reading(e)
	if !ok || !r.Counts {
		return false
	}
	if float64(from.sg-r.SG) >= startFall-1e-9 && from.sg >= lowestOG {
		return true
	}
	from.sg, from.at, from.root = r.SG, r.At, r.Entry.Root
	return false
}

// thousandths rounds a gravity to the 0.001 that a stem can show.
func thousandths(g liquid.Gravity) int { return int(math.Round(float64(g) * 1000)) }
