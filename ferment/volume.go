package ferment

import (
	"strings"

	"mustbook/ferment/liquid"
)

// volume folds what changes the litres of a batch. Doses use the volume of now; a
// vessel's size is not a volume.
func (f *folder) volume(e *Entry) {
	l, ok := LitresOf(e.Value, e.Unit)
	if !e.Has || !ok {
		return
	}
	s := f.s
	switch e.Quantity {
	case QVolume:
		f.volumeSaid(e, l)
	case QVolumeLoss:
		s.VolumeL = max(0, s.VolumeL-l)
	case QVesselSize:
		s.VesselL = l
	case QTopping:
		f.topUp(ClassOf(e.Material), l)
	}
	s.VolumeAt = e.At
}

func (f *folder) volumeSaid(e *Entry, l float64) {
	s := f.s
	switch e.Deed {
	case DeedPoured, DeedGiven:
		s.VolumeL = max(0, s.VolumeL-l)
		return
	case DeedToppedUp:
		f.topUp(ClassOf(e.Material), l)
		return
	}
	s.VolumeL = l
	s.VolumeSaid = s.VolumeSaid || e.Deed != ""
}

// topUp adds litres: water thins alcohol and sugar, wine is taken as like wine.
func (f *folder) topUp(c Class, l float64) {
	s := f.s
	if c == WaterClass {
		f.thin(liquid.Litres(l))
	}
	if s.VolumeL > 0 {
		s.VolumeL += l // how much there is with it is not known where it was not before
	}
}

// thin follows water into the balance: before it stopped the original gravity
// falls with it, afterwards the alcohol does.
func (f *folder) thin(water liquid.Litres) {
	s := f.s
	if s.VolumeL <= 0 {
		return
	}
	f.goesIn(0, water)
	if s.Stop.Shown.IsZero() {
		f.raiseOG(0, water)
		f.forgetRun()
		return
	}
	f.diluted *= s.VolumeL / (s.VolumeL + float64(water))
}

// addition folds something put in: its grams, and what it does to the balance.
func (f *folder) addition(e *Entry) {
	s := f.s
	class := ClassOf(e.Material)
	a := Addition{Material: e.Material, At: e.At, Amount: e.Value, Has: e.Has, Unit: e.Unit, Typed: e.Typed,
		By: e.By, Root: e.Root, Deed: e.Deed, VolumeL: s.VolumeL}
	if e.Has {
		a.Grams, a.Estimate = gramsOf(e, class, s.VolumeL)
		if l, ok := LitresOf(e.Value, e.Unit); ok {
			a.Litres = l
		}
	}
	defer func() { s.Additions = append(s.Additions, a) }()
	switch class {
	case SulphiteClass:
		s.Sulphited = e.At
		if s.VolumeL > 0 {
			a.SO2 = a.Grams * saltOf(e.Material).SO2() * 1000 / s.VolumeL
			s.SO2Added += a.SO2
		}
	case SorbateClass:
		s.Sorbated = e.At
		if s.VolumeL > 0 {
			s.Sorbate += a.Grams * 1000 / s.VolumeL
		}
	case FiningClass:
		if f.pitched(e.At) {
			s.Fined = e.At
		}
	case OakClass:
		s.Oak = e.At
	case SugarClass, HoneyClass, SyrupClass, WaterClass:
		f.sugar(e, a)
	case JuiceClass, FruitClass:
		f.juice(e, a)
	}
}

// sugar follows sugar, honey and water into the balance.
func (f *folder) sugar(e *Entry, a Addition) {
	s := f.s
	g, water := a.sugarIn()
	mustRead := !s.OGAt.IsZero() && !e.At.Before(s.OGAt)
	switch {
	case !s.Stop.Shown.IsZero() && g > 0 || e.Deed == DeedSweetened:
		f.sweeten(e, a)
		return
	case !s.Stop.Shown.IsZero():
		f.thin(water)
	case mustRead:
		f.goesIn(g, water)
		f.raiseOG(g, water) // a must is expected to be read again; until then by balance
		if f.pitched(e.At) || s.OGSource == OGExplicit {
			f.ogFixed = f.pitched(e.At)
			f.loosen(e)
		}
	}
	if e.Message != f.begin || s.VolumeL == 0 { // "new damson 23 l with 1 kg sugar": it is in the 23
		f.grow(g, water)
	}
}

// grow adds the room that sugar and water take. Before the yeast the water makes the
// must; afterwards, and for dry sugar, what was there must be known.
func (f *folder) grow(sugar liquid.Grams, water liquid.Litres) {
	if f.s.VolumeL > 0 || water > 0 && f.s.Pitched.IsZero() {
		f.s.VolumeL += volumeOf(sugar, water)
	}
}

// juice follows juice and fruit. What they hold is seldom known: a must is read again;
// after the yeast a juice counts as one of 1.050 (common practice, no source: apple
// juice has 1.040 to 1.065), concentrate and fruit as more than can be told.
func (f *folder) juice(e *Entry, a Addition) {
	s := f.s
	f.loosen(e)
	thin := ClassOf(e.Material) == JuiceClass && !strings.Contains(strings.ToLower(e.Material), "concentrate")
	switch {
	case !f.pitched(e.At):
	case !thin || a.Litres == 0 || s.VolumeL <= 0 || s.OG == 0:
		s.ABVLeast = true
	case !s.Stop.Shown.IsZero():
		f.sweeten(e, a)
		return
	default:
		sugar, water := juiceOf(a.Litres)
		f.goesIn(sugar, water)
		f.raiseOG(sugar, water)
		f.ogFixed = true
	}
	if s.VolumeL > 0 || !f.pitched(e.At) {
		s.VolumeL += a.Litres
	}
}

// volumeOf is the room that sugar and water take up: 0.62 L a kilo (from memory).
func volumeOf(sugar liquid.Grams, water liquid.Litres) float64 {
	return 0.00062*float64(sugar) + float64(water)
}

// sweeten keeps the gravity that was reached before sugar went into a stopped
// wine: from then on the alcohol changes by dilution only.
func (f *folder) sweeten(e *Entry, a Addition) {
	s := f.s
	s.Sweetened, s.SweetRoot = e.At, e.Root
	if n := len(s.Readings); n > 0 && f.fermentedTo == 0 {
		f.fermentedTo = s.lastCounting()
	}
	g, water := a.sugarIn()
	f.goesIn(g, water)
	if room := volumeOf(g, water); s.VolumeL > 0 && room > 0 {
		f.diluted *= s.VolumeL / (s.VolumeL + room)
		s.VolumeL += room
	}
	f.rised = true
}

// loosen ends a run of agreeing readings: what went in moves the gravity.
func (f *folder) loosen(e *Entry) {
	if f.pitched(e.At) {
		f.forgetRun()
	}
}

func (s *State) lastCounting() liquid.Gravity {
	for i := len(s.Readings) - 1; i >= 0; i-- {
		if s.Readings[i].Counts {
			return s.Readings[i].SG
		}
	}
	return 0
}

// bottles folds counts: two people counting add up, a total ends the sum.
func (f *folder) bottles(e *Entry) {
	if !e.Has {
		return
	}
	s, n := f.s, int(e.Value+0.5)
	switch e.Quantity {
	case QBottles:
		if e.Type == "total" {
			s.BottlesLeft += n - s.BottlesMade
			s.BottlesMade, s.Counted = n, true
			return
		}
		s.Counts = append(s.Counts, Count{doer(e), e.Author, n, e.Unit == "half bottle", e.At, e.Root})
		s.BottlesMade += n
		s.BottlesLeft += n
	case QBottlesLeft:
		s.BottlesLeft = n
		s.BottlesMade = max(s.BottlesMade, n)
	case QBottlesOut:
		s.BottlesLeft = max(0, s.BottlesLeft-n)
	}
	if s.BottlesLeft == 0 && s.BottlesMade > 0 && e.Quantity != QBottles {
		s.Emptied = e.At
	}
}
