package ferment

import (
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// lifeOf draws a batch as it is typed in, message by message: mostly readings of now,
// with a temperature beside them or after them, and all that a fold can not go on over.
func lifeOf(t *rapid.T, from int64) []Entry {
	es := []Entry{begun(rapid.SampledFrom([]Kind{Country, Kit, Mead}).Draw(t, "kind"))}
	at := day0.Add(time.Duration(from) * 24 * time.Hour)
	if rapid.Bool().Draw(t, "pitched") {
		es = append(es, did(0.1, DeedPitched))
	}
	message := from
	for range rapid.IntRange(1, 12).Draw(t, "messages") {
		message++
		at = at.Add(time.Duration(rapid.IntRange(0, 50).Draw(t, "hours")) * time.Hour)
		e := Entry{Quantity: QSG, Value: rapid.Float64Range(0.99, 1.1).Draw(t, "sg"), Has: true, Unit: "sg", At: at, Author: int64(rapid.IntRange(1, 2).Draw(t, "author"))}
		more := []Entry(nil)
		switch rapid.IntRange(0, 16).Draw(t, "what") {
		case 0:
			e = Entry{Quantity: QNote, Text: "smells of pears", At: at}
		case 1:
			e = Entry{Quantity: QPH, Value: 3.4, Has: true, At: at}
		case 2:
			e = Entry{Quantity: QAddition, Material: rapid.SampledFrom([]string{"sugar", "water", "metabisulphite", "apple juice"}).Draw(t, "material"), Value: 200, Has: true, Unit: "g", Deed: DeedAddition, At: at}
		case 3:
			e = Entry{Quantity: QEvent, Deed: rapid.SampledFrom([]string{DeedPitched, DeedRacked, DeedWorking, DeedStabilised, DeedBottled}).Draw(t, "deed"), At: at}
		case 4:
			e.At = at.Add(-80 * time.Hour) // told late
		case 5:
			e.DayOnly = true
		case 6:
			e.Deed = DeedRacked
		case 7:
			e.Quantity = QOG
		case 8:
			e = Entry{Quantity: QSetting, Key: SetDryEnough, At: at}
		case 9:
			e = Entry{Quantity: QVolume, Value: 20, Has: true, Unit: "L", At: at}
		case 10: // the temperature of a gravity of before
			e = Entry{Quantity: QTemp, Value: 26, Has: true, Unit: "C", At: at, Of: int64(rapid.IntRange(1, len(es)).Draw(t, "of"))}
		case 11:
			e = Entry{Quantity: QAmbient, Value: 17, Has: true, Unit: "C", At: at}
		case 12:
			e = Entry{Quantity: QBrix, Value: 12, Has: true, Unit: "Bx", Instrument: "refractometer", At: at}
		case 13, 14:
			more = append(more, Entry{Quantity: QTemp, Value: 25, Has: true, Unit: "C", At: at})
		}
		for _, e := range append([]Entry{e}, more...) {
			e.Message = message
			es = append(es, e)
		}
	}
	for i := range es {
		es[i].ID, es[i].Root, es[i].Ordinal, es[i].TypedAt = int64(i+1), int64(i+1), i, es[i].At
		if es[i].Message == 0 {
			es[i].Message = from
		}
	}
	return es
}

// TestFoldOn holds a fold that goes on from the one before it against one from the
// beginning, also where two go on from the same, and looks at the end whether one has
// written over another.
func TestFoldOn(t *testing.T) {
	house := []Entry{{ID: 900, Root: 900, Quantity: QInstrument, Value: 0.002, Has: true, At: day0.AddDate(0, 0, -9)}}
	went := 0
	rapid.Check(t, func(t *rapid.T) {
		type told struct {
			got *State
			in  Input
		}
		var all []told
		var kept *Kept
		on := func(es []Entry, was *Kept) *Kept {
			in := Input{N: 1, Entries: es, House: house, Zone: time.UTC, Now: es[len(es)-1].At.Add(time.Hour)}
			if was.onto(in) != nil {
				went++
			}
			s, next := FoldOn(in, was)
			all = append(all, told{s, in})
			return next
		}
		es := lifeOf(t, 1)
		other := lifeOf(t, 1)
		for n := 1; n <= len(es); n++ {
			was := kept
			kept = on(es[:n:n], was)
			if n < len(es) && n < len(other) { // a message that was undone, and came anew as another
				fork := append(append([]Entry(nil), es[:n]...), other[n])
				fork[n].Message, fork[n].At = es[n].Message, fork[n].At.Add(es[n-1].At.Sub(day0))
				on(fork, kept)
			}
		}
		for _, x := range all {
			if want := Fold(x.in); !reflect.DeepEqual(x.got, want) {
				t.Fatalf("gone on:\n%+v\nfrom the beginning:\n%+v", x.got, want)
			}
		}
	})
	if went < 100 {
		t.Errorf("only %d folds went on from the one before", went)
	}
}

// TestFoldOnReadings is what it is for: a reading with its temperature goes on.
func TestFoldOnReadings(t *testing.T) {
	es := made(begun(Kit), sg(-0.01, 1.085), did(0, DeedPitched))
	_, kept := FoldOn(Input{N: 1, Entries: es}, nil)
	at := day0.AddDate(0, 0, 2)
	es = append(es, Entry{ID: 8, Root: 8, Message: 9, Quantity: QSG, Value: 1.06, Has: true, At: at, TypedAt: at},
		Entry{ID: 9, Root: 9, Message: 9, Ordinal: 1, Quantity: QTemp, Value: 21, Has: true, Unit: "C", At: at, TypedAt: at})
	if kept.onto(Input{N: 1, Entries: es}) == nil {
		t.Error("a reading of now is folded from the beginning")
	}
	es[0].Text = "another name"
	if kept.onto(Input{N: 1, Entries: es}) != nil {
		t.Error("it goes on from other entries")
	}
}
