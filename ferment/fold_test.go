package ferment

import (
	"math"
	"math/rand"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"mustbook/ferment/liquid"
)

var day0 = time.Date(2026, 9, 12, 18, 0, 0, 0, time.UTC)

// made numbers entries as the book would, in the order given.
func made(es ...Entry) []Entry {
	for i := range es {
		es[i].ID, es[i].Root, es[i].Message, es[i].Batch = int64(i+1), int64(i+1), int64(i+1), 1
		if es[i].TypedAt.IsZero() {
			es[i].TypedAt = es[i].At
		}
	}
	return es
}

func begun(kind Kind) Entry {
	return Entry{Quantity: QNewBatch, Type: string(kind), Text: "damson", At: day0.Add(-time.Hour)}
}

func sg(days, v float64) Entry {
	return Entry{Quantity: QSG, Value: v, Has: true, Unit: "sg", At: day0.Add(time.Duration(days * 24 * float64(time.Hour)))}
}

func did(days float64, deed string) Entry {
	return Entry{Quantity: QEvent, Deed: deed, At: day0.Add(time.Duration(days * 24 * float64(time.Hour)))}
}

func fold(es []Entry) *State {
	now := day0
	for _, e := range es {
		if e.At.After(now) {
			now = e.At
		}
	}
	return Fold(Input{N: 1, Entries: es, Zone: time.UTC, Now: now})
}

// The worked figures of the design: 1.090 to 0.995 makes 12.72 % vol (± 0.3), and
// leaves 8 g/L of sugar.
func TestAlcoholOfABatch(t *testing.T) {
	s := fold(made(begun(Kit), sg(-0.01, 1.090), did(0, DeedPitched), sg(10, 0.995)))
	if !s.ABVKnown || math.Abs(float64(s.ABV)-12.72) > 0.05 || math.Abs(float64(s.ABVDoubt)-0.3) > 0.06 {
		t.Errorf("alcohol %v ± %v, known %v", s.ABV, s.ABVDoubt, s.ABVKnown)
	}
	if math.Abs(s.SugarLeft-8) > 0.6 || s.Stage != Primary {
		t.Errorf("sugar left %v, stage %s", s.SugarLeft, s.Stage)
	}
}

// No start gravity: alcohol is not known, never invented (design, 7).
func TestNoStartGravity(t *testing.T) {
	s := fold(made(begun(Kit), did(0, DeedPitched), sg(5, 1.020)))
	if s.ABVKnown || s.OG != 0 {
		t.Errorf("alcohol %v from OG %v", s.ABV, s.OG)
	}
}

// A fall of 0.003 proves a start; 0.002 does not (common practice, no source).
func TestStartProof(t *testing.T) {
	for _, c := range []struct {
		to   float64
		want Stage
	}{{1.088, Lag}, {1.087, Primary}} {
		if s := fold(made(begun(Kit), sg(-0.01, 1.090), did(0, DeedPitched), sg(1, c.to))); s.Stage != c.want {
			t.Errorf("at %v: %s, want %s", c.to, s.Stage, c.want)
		}
	}
}

// The rule of stopping (common practice, no source): three readings within 0.001
// over three calendar days; two are not enough, nor three in two days.
func TestStopRule(t *testing.T) {
	head := []Entry{begun(Kit), sg(-0.01, 1.080), did(0, DeedPitched)}
	for _, c := range []struct {
		name string
		tail []Entry
		want StopVerdict
	}{
		{"two", []Entry{sg(10, 0.994), sg(13, 0.994)}, StopNo},
		{"three in two days", []Entry{sg(10, 0.994), sg(11, 0.994), sg(12, 0.994)}, StopNo},
		{"three in three days", []Entry{sg(10, 0.994), sg(11, 0.995), sg(13, 0.994)}, StopDry},
		{"still falling", []Entry{sg(10, 0.998), sg(14, 0.997), sg(18, 0.996)}, StopNo},
		{"steady and sweet", []Entry{sg(10, 1.020), sg(11, 1.020), sg(13, 1.020)}, StopStuck},
		{"works again", []Entry{sg(10, 0.998), sg(11, 0.998), sg(13, 0.998), sg(15, 0.995)}, StopNo},
	} {
		s := fold(made(append(append([]Entry(nil), head...), c.tail...)...))
		if s.Stop.Verdict != c.want {
			t.Errorf("%s: %q, want %q", c.name, s.Stop.Verdict, c.want)
		}
	}
}

// A sweetened wine's alcohol changes by dilution only, though its gravity rises.
func TestSweeteningMakesNoAlcohol(t *testing.T) {
	es := []Entry{begun(Kit), {Quantity: QVolume, Value: 20, Has: true, Unit: "L", At: day0.Add(-time.Hour)}, sg(-0.01, 1.085), did(0, DeedPitched),
		sg(10, 0.993), sg(12, 0.993), sg(14, 0.993)}
	dry := fold(made(append([]Entry(nil), es...)...))
	sugar := Entry{Quantity: QAddition, Material: "sugar", Value: 400, Has: true, Unit: "g", Deed: DeedSweetened, At: day0.AddDate(0, 0, 15)}
	s := fold(made(append(append([]Entry(nil), es...), sugar, sg(16, 1.001))...))
	want := float64(dry.ABV) * 20 / (20 + 0.4*0.62)
	if math.Abs(float64(s.ABV)-want) > 0.02 || !s.IsSweet() || !s.Has(Unsafe) {
		t.Errorf("alcohol %v, want %.2f; sweet %v, %v", s.ABV, want, s.IsSweet(), s.Conditions)
	}
}

// An explicit original gravity wins, whenever it was typed.
func TestExplicitOGWins(t *testing.T) {
	og := Entry{Quantity: QOG, Value: 1.095, Has: true, Unit: "sg", At: day0.AddDate(0, 0, 5)}
	s := fold(made(begun(Kit), sg(-0.01, 1.080), did(0, DeedPitched), sg(4, 1.020), og))
	if math.Abs(float64(s.OG)-1.095) > 1e-6 || s.OGSource != OGExplicit {
		t.Errorf("OG %v from %s", s.OG, s.OGSource)
	}
}

// A batch begun in the book after the fact: its size of then does not undo the
// litres that were racked since.
func TestBegunLate(t *testing.T) {
	today := day0.AddDate(0, 0, 60)
	begin, size := begun(Country), Entry{Quantity: QVolume, Value: 23, Has: true, Unit: "L", At: today}
	begin.At = today
	rack := Entry{Quantity: QVolume, Value: 19, Has: true, Unit: "L", Deed: DeedRacked, At: day0.AddDate(0, 0, 11)}
	es := made(begin, size, sg(-0.01, 1.085), did(0, DeedPitched), sg(10, 1.006), rack)
	es[1].Message = es[0].Message
	if s := fold(es); s.VolumeL != 19 || s.Began.After(s.Pitched) {
		t.Errorf("%v L, begun %v", s.VolumeL, s.Began)
	}
}

// The bottling gate: dry, read lately, nothing running.
func TestGate(t *testing.T) {
	es := made(begun(Kit), sg(-0.01, 1.080), did(0, DeedPitched), sg(10, 0.994), sg(12, 0.994), sg(14, 0.994))
	s := fold(es)
	if why := s.Gate(day0.AddDate(0, 0, 15)); len(why) != 0 {
		t.Errorf("refused: %v", why)
	}
	if why := s.Gate(day0.AddDate(0, 0, 40)); len(why) != 1 || why[0] != ReadingIsOld {
		t.Errorf("after 26 days: %v", why)
	}
	// Stopped with a little sugar left is asked about, unless it is stabilised: then it
	// may be either.
	sweetish := []Entry{begun(Kit), sg(-0.01, 1.084), did(0, DeedPitched), sg(14, 0.9975), sg(17, 0.9975), sg(20, 0.9975)}
	if why := fold(made(append([]Entry(nil), sweetish...)...)).Gate(day0.AddDate(0, 0, 21)); !slices.Contains(why, Unanswered) {
		t.Errorf("10 g/L left and nothing said: %v", why)
	}
	if why := fold(made(append(sweetish, did(20.1, DeedStabilised))...)).Gate(day0.AddDate(0, 0, 21)); len(why) != 0 {
		t.Errorf("stabilised: %v", why)
	}
}

// entriesOf draws a life of a batch.
func entriesOf(t *rapid.T) []Entry {
	es := []Entry{begun(Country), sg(-0.01, rapid.Float64Range(1.06, 1.11).Draw(t, "og")), did(0, DeedPitched)}
	n := rapid.IntRange(0, 8).Draw(t, "n")
	for i := range n {
		d := rapid.Float64Range(0.3, 40).Draw(t, "day") + float64(i)*1e-3
		switch rapid.IntRange(0, 4).Draw(t, "what") {
		case 0:
			es = append(es, did(d, DeedRacked))
		case 1:
			es = append(es, Entry{Quantity: QAddition, Material: "sugar", Value: 200, Has: true, Unit: "g", Deed: DeedAddition, At: did(d, "").At})
		default:
			es = append(es, sg(d, rapid.Float64Range(0.992, 1.09).Draw(t, "sg")))
		}
	}
	return made(es...)
}

// The order in which entries arrive does not matter, and no figure is nonsense.
func TestOrderOfArrival(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		es := entriesOf(t)
		want := fold(es)
		shuffled := append([]Entry(nil), es...)
		rand.New(rand.NewSource(rapid.Int64().Draw(t, "seed"))).Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		if got := fold(shuffled); !reflect.DeepEqual(got, want) {
			t.Fatalf("another order, another state:\n%+v\n%+v", got, want)
		}
		for _, v := range []float64{float64(want.ABV), want.SugarLeft, want.Gone, float64(want.OG)} {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("nonsense: %+v", want)
			}
		}
	})
}

// Taking an entry back gives the state as if it had never been.
func TestUndoRestores(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		es := entriesOf(t)
		before := fold(es)
		more := append(append([]Entry(nil), es...), sg(20, 1.000))
		more[len(more)-1].ID, more[len(more)-1].Root = int64(len(more)), int64(len(more))
		_ = fold(more)
		if after := fold(more[:len(es)]); !reflect.DeepEqual(before, after) {
			t.Fatal("undo left a trace")
		}
	})
}

func TestGravityScales(t *testing.T) { // 90 °Oe is 1.090 by definition (glossaries of the trade)
	if g, err := GravityOf(QOechsle, 90); err != nil || math.Abs(float64(g-liquid.Gravity(1.090))) > 1e-9 {
		t.Errorf("%v %v", g, err)
	}
}

func BenchmarkFold100(b *testing.B) {
	es := []Entry{begun(Kit), sg(-0.01, 1.090), did(0, DeedPitched)}
	for i := range 100 {
		es = append(es, sg(1+float64(i)/4, 1.080-float64(i)*0.0008))
	}
	es = made(es...)
	b.ReportAllocs()
	for b.Loop() {
		fold(es)
	}
}
