package ferment

import (
	"math"
	"math/rand"
	"reflect"
	"testing"
	"time"
)

// cellar is a book of several batches as tests write it: entries get their numbers in the
// order in which they are put in.
type cellar struct {
	all map[int][]Entry
	n   int64
}

func (c *cellar) put(batch int, es ...Entry) *cellar {
	if c.all == nil {
		c.all = map[int][]Entry{}
	}
	for _, e := range es {
		c.n++
		e.ID, e.Root, e.Batch, e.TypedAt = c.n, c.n, batch, e.At
		if e.Message == 0 {
			e.Message = c.n
		}
		c.all[batch] = append(c.all[batch], e)
	}
	return c
}

func (c *cellar) at(batch int, days float64) *State {
	return Fold(Input{N: batch, Entries: c.all[batch], Others: c.all, Zone: time.UTC, Now: day0.Add(time.Duration(days * 24 * float64(time.Hour)))})
}

func litres(days float64, q Quantity, l float64) Entry {
	return Entry{Quantity: q, Value: l, Has: l > 0, Unit: "L", At: day0.Add(time.Duration(days * 24 * float64(time.Hour)))}
}

// from is wine of another batch coming in; 0 litres: all there was.
func from(days float64, other int, l float64, deed string) Entry {
	e := litres(days, QBlend, l)
	e.Other, e.Deed = other, deed
	return e
}

func put(days float64, grams float64, material string) Entry {
	return Entry{Quantity: QAddition, Deed: DeedAddition, Material: material, Value: grams, Has: true, Unit: "g", At: day0.Add(time.Duration(days * 24 * float64(time.Hour)))}
}

func set(days float64, key, text string) Entry {
	return Entry{Quantity: QSetting, Key: key, Text: text, At: day0.Add(time.Duration(days * 24 * float64(time.Hour)))}
}

// wine is a batch that went from one gravity to another, read steady for a week, racked.
func wine(name string, kind Kind, l, og, now float64) []Entry {
	begin := begun(kind)
	begin.Text = name
	return []Entry{begin, litres(-0.02, QVolume, l), sg(-0.01, og), did(0, DeedPitched), sg(20, now), sg(23, now), sg(27, now), did(28, DeedRacked)}
}

func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if math.Abs(got-want) > by || math.IsNaN(got) {
		t.Errorf("%s: %.4f, want %.4f ± %g", what, got, want, by)
	}
}

// 10 L of 13.0 % and 5 L of 10.0 % make 15 L of 12.0 %: (V1·A1 + V2·A2) ÷ (V1 + V2), and
// mass does the same to the gravity. 1.0893 to 0.9923 and 1.0699 to 0.9945 make these two
// (13.0 and 10.0 % by the balance).
func TestBlendOfTwoWines(t *testing.T) {
	c := new(cellar).put(1, wine("elder", Country, 10, 1.0893, 0.9923)...).put(2, wine("sloe", Country, 5, 1.0699, 0.9945)...)
	a, b := c.at(1, 29), c.at(2, 29)
	near(t, "the first", float64(a.ABV), 13.0, 0.06)
	near(t, "the second", float64(b.ABV), 10.0, 0.06)
	c.put(3, Entry{Quantity: QNewBatch, Text: "house red", Type: string(Country), Deed: DeedBlended, At: day0.AddDate(0, 0, 30), Message: 99},
		from(30, 1, 0, DeedBlended), from(30, 2, 5, DeedBlended))
	s := c.at(3, 30)
	near(t, "litres", s.VolumeL, 15, 1e-9)
	near(t, "alcohol", float64(s.ABV), (10*float64(a.ABV)+5*float64(b.ABV))/15, 0.01)
	near(t, "gravity", float64(s.Last.SG), (10*0.9923+5*0.9945)/15, 0.00005)
	near(t, "start", float64(s.OG), (10*1.0893+5*1.0699)/15, 0.0005)
	if !s.Last.Worked || s.OGSource != OGBlend || s.Stage != Stopped || s.Stop.Verdict != StopDry {
		t.Errorf("worked %v, source %q, stage %s, verdict %q", s.Last.Worked, s.OGSource, s.Stage, s.Stop.Verdict)
	}
	if why := s.Gate(day0.AddDate(0, 0, 31)); !has(why, ReadAfterBlend) {
		t.Errorf("may be bottled unread: %v", why)
	}
	fizzy := *s
	fizzy.Plan.MeantFizzy = true
	if why := fizzy.Gate(day0.AddDate(0, 0, 31)); !has(why, ReadAfterBlend) {
		t.Errorf("meant fizzy, may be bottled unread: %v", why)
	}
	c.put(3, sg(33, 0.991))
	if s = c.at(3, 34); s.Last.Worked || s.Stage != Stopped || has(s.Gate(day0.AddDate(0, 0, 34)), ReadAfterBlend) {
		t.Errorf("a reading two points under what was worked out: worked %v, stage %s", s.Last.Worked, s.Stage)
	}
	c.put(3, sg(36, 0.987))
	if s = c.at(3, 37); s.Stage != Secondary {
		t.Errorf("it falls again: stage %s, want secondary", s.Stage)
	}
}

func has(rs []Refusal, r Refusal) bool {
	for _, x := range rs {
		if x == r {
			return true
		}
	}
	return false
}

// Two musts, 10 L of 1.090 and 10 L of 1.050: 1.070 by mass. Read again before the yeast,
// the reading counts.
func TestBlendOfMusts(t *testing.T) {
	c := new(cellar).put(1, begun(White), litres(0, QVolume, 10), sg(0, 1.090)).put(2, begun(White), litres(0, QVolume, 10), sg(0, 1.050))
	c.put(3, begun(White), from(1, 1, 0, DeedBlended), from(1, 2, 0, DeedBlended))
	s := c.at(3, 1)
	near(t, "start", float64(s.OG), 1.070, 0.0001)
	if s.Stage != Must || s.ABVKnown {
		t.Errorf("stage %s, alcohol known %v", s.Stage, s.ABVKnown)
	}
	c.put(3, sg(1.1, 1.073), did(1.2, DeedPitched), sg(10, 1.000))
	s = c.at(3, 10)
	near(t, "start as read", float64(s.OG), 1.073, 1e-9)
	near(t, "alcohol of 1.073 to 1.000", float64(s.ABV), 9.7, 0.1) // (1.073 − 1.000) × 131 is 9.6, a rule of thumb that is 0.2 low
}

// A wine of unknown start leaves the alcohol of a blend unknown; topping up with a little
// of it counts as like wine.
func TestNothingIsInvented(t *testing.T) {
	unknown := []Entry{begun(Country), litres(0, QVolume, 5), did(0, DeedPitched), sg(20, 0.996)}
	c := new(cellar).put(1, wine("elder", Country, 10, 1.090, 0.995)...).put(2, unknown...)
	c.put(3, begun(Country), from(30, 1, 0, DeedBlended), from(30, 2, 0, DeedBlended))
	if s := c.at(3, 30); s.ABVKnown || s.OG != 0 || s.Last == nil {
		t.Errorf("alcohol known %v, start %v, a gravity %v", s.ABVKnown, s.OG, s.Last != nil)
	}
	c.put(1, from(31, 2, 0.4, DeedToppedUp))
	s := c.at(1, 31)
	near(t, "alcohol", float64(s.ABV), 12.72, 0.05)
	near(t, "litres", s.VolumeL, 10.4, 1e-9)
}

// What can do harm comes along from either wine.
func TestDangersComeAlong(t *testing.T) {
	dry := func() *cellar {
		return new(cellar).put(1, wine("elder", Country, 10, 1.090, 0.993)...).put(2, wine("quince", Country, 10, 1.090, 0.993)...)
	}
	blend := func(c *cellar) *State {
		c.put(3, begun(Country), from(60, 1, 0, DeedBlended), from(60, 2, 0, DeedBlended), sg(61, 0.993))
		return c.at(3, 61)
	}
	if s := blend(dry()); has(s.Gate(day0.AddDate(0, 0, 61)), SweetLoose) || has(s.Gate(day0.AddDate(0, 0, 61)), MLFRunning) {
		t.Errorf("two sound dry wines: %v", s.Gate(day0.AddDate(0, 0, 61)))
	}
	for _, x := range []struct {
		what string
		of   *cellar
		want Refusal
	}{
		{"sweetened and stabilised, the other not", dry().put(2, put(40, 2, "sulphite"), put(40, 2, "sorbate"), put(41, 300, "sugar")), SweetLoose},
		{"malolactic running in one", dry().put(1, did(40, DeedMLFStarted)), MLFRunning},
		{"malolactic wanted in one", dry().put(1, set(40, SetMLF, "wanted")), MLFRunning},
		{"malolactic done in one only", dry().put(1, did(40, DeedMLFStarted), did(55, DeedMLFDone)), MLFUnknown},
		{"one still works", new(cellar).put(1, wine("elder", Country, 10, 1.090, 0.993)...).put(2, begun(Country), litres(0, QVolume, 10), sg(0, 1.09), did(0.1, DeedPitched), sg(9, 1.04)), NotStopped},
		{"one is stuck", new(cellar).put(1, wine("elder", Country, 10, 1.090, 0.993)...).put(2, wine("sloe", Country, 10, 1.090, 1.020)...), NotStopped},
	} {
		s := blend(x.of)
		if why := s.Gate(day0.AddDate(0, 0, 61)); !has(why, x.want) {
			t.Errorf("%s: %v, want %q", x.what, why, x.want)
		}
	}
	c := dry().put(1, put(40, 2, "sulphite"), put(40, 2, "sorbate"), put(41, 1, "isinglass"), did(41, DeedFined)).put(2, did(40, DeedMLFStarted), did(50, DeedMLFDone))
	s := blend(c)
	near(t, "sorbate, 2 g in 10 L thinned by 10 L", s.Sorbate, 100, 1e-9)
	near(t, "sulphite, 2 g of 57.6 % in 10 L thinned by 10 L", s.SO2Added, 57.6, 0.1)
	if !s.Has(Geranium) || !reflect.DeepEqual(s.Allergens, []string{"sulphites", "fish"}) {
		t.Errorf("geranium %v, allergens %v", s.Has(Geranium), s.Allergens)
	}
}

// Sugar that went in after the last reading is in the blend: 10 g/L lifts the gravity by
// about 0.004, so 300 g in 10 L, thinned by 10 L of the dry one, lift it by 0.006.
func TestBlendOfWhatWasNotReadAgain(t *testing.T) {
	c := new(cellar).put(1, wine("elder", Country, 10, 1.090, 0.993)...).put(2, wine("quince", Country, 10, 1.090, 0.993)...)
	c.put(2, put(41, 300, "sugar")).put(3, begun(Country), from(60, 1, 0, DeedBlended), from(60, 2, 0, DeedBlended))
	s := c.at(3, 60)
	near(t, "gravity", float64(s.Last.SG), 0.999, 0.0006)
	near(t, "expected", float64(s.Expected), float64(s.Last.SG), 1e-9)
	near(t, "alcohol, thinned by 0.186 L in 20", float64(s.ABV), 13.0*20/20.186, 0.15)
	if s.Sweetened.IsZero() || !s.IsSweet() {
		t.Error("the sugar is forgotten")
	}
}

// A topping changes what there is by its share, and leaves the stage alone.
func TestToppingFromAnotherBatch(t *testing.T) {
	c := new(cellar).put(1, wine("elder", Country, 22, 1.090, 0.995)...).put(2, wine("apple", Cider, 5, 1.050, 0.995)...)
	c.put(1, from(30, 2, 0.5, DeedToppedUp)).put(2, Entry{Quantity: QVolumeLoss, Value: 0.5, Has: true, Unit: "L", Deed: DeedDrawn, Other: 1, At: day0.AddDate(0, 0, 30)})
	s, o := c.at(1, 30), c.at(2, 30)
	near(t, "alcohol", float64(s.ABV), (22*12.72+0.5*7.24)/22.5, 0.05)
	near(t, "litres", s.VolumeL, 22.5, 1e-9)
	near(t, "litres of the other", o.VolumeL, 4.5, 1e-9)
	if s.Stage != Stopped || s.Last.Worked || len(s.Racked) != 1 || !s.Blended.IsZero() {
		t.Errorf("stage %s, worked %v", s.Stage, s.Last.Worked)
	}
	if !s.MLFUnknown() {
		t.Error("cider came in: nobody has said anything of malolactic, and it is not asked")
	}
	c.put(2, from(30, 1, 0.5, DeedToppedUp)) // with each other, on one day: it comes to an end
	near(t, "litres of both", c.at(1, 31).VolumeL+c.at(2, 31).VolumeL, 22.5+5, 1e-9)
}

// The same entries make the same blend in whatever order they came, and what is taken back
// leaves everything as it was.
func TestBlendIsPure(t *testing.T) {
	c := new(cellar).put(1, wine("elder", Country, 10, 1.0893, 0.9923)...).put(2, wine("sloe", Country, 5, 1.0699, 0.9945)...)
	alone := c.at(1, 40)
	c.put(3, begun(Country), from(30, 1, 0, DeedBlended), from(30, 2, 0, DeedBlended), sg(35, 0.993))
	want := c.at(3, 40)
	rng := rand.New(rand.NewSource(3))
	for range 50 {
		mixed := map[int][]Entry{}
		for n, es := range c.all {
			mixed[n] = append([]Entry(nil), es...)
			rng.Shuffle(len(es), func(i, j int) { mixed[n][i], mixed[n][j] = mixed[n][j], mixed[n][i] })
		}
		if got := (&cellar{all: mixed}).at(3, 40); !reflect.DeepEqual(got, want) {
			t.Fatalf("another order, another state:\n%+v\n%+v", got, want)
		}
	}
	late := sg(29, 0.9953) // typed late, read before the blend: the blend follows
	late.TypedAt = day0.AddDate(0, 0, 39)
	c.put(2, late)
	if got := c.at(3, 40); got.ABV == want.ABV {
		t.Error("a late reading of a part changes nothing in the blend")
	}
	if got := c.at(1, 40); !reflect.DeepEqual(got, alone) {
		t.Error("a batch that is only looked at has changed")
	}
}

// A part of a part knows the whole past.
func TestSplitOfASplit(t *testing.T) {
	c := new(cellar).put(1, wine("damson", Country, 9, 1.085, 0.994)...)
	split := func(n, of int, days, l float64) {
		p := litres(days, QParent, 0)
		p.Other, p.Key = of, DeedSplit
		v := litres(days, QVolume, l)
		v.Deed = DeedSplit
		c.put(n, p, v)
	}
	split(2, 1, 30, 4.5)
	split(3, 2, 40, 2)
	s := c.at(3, 41)
	near(t, "start", float64(s.OG), 1.085, 1e-9)
	near(t, "litres", s.VolumeL, 2, 1e-9)
}
