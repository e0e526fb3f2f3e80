package ferment

import (
	"testing"
	"time"
)

// A reading of 1.050 at 25 °C is 1.0513 by an instrument marked for 20 °C and 1.0521 by one
// marked for 60 °F: published corrections for a sugar solution, in points +1.3 and +2.1.
func TestInstrumentsOfAReading(t *testing.T) {
	const nora, tom = 1, 2
	early, late := day0.AddDate(0, 0, -9), day0.AddDate(0, 0, 5)
	mark := func(name string, c float64, at time.Time) Entry {
		return Entry{Quantity: QSetting, Key: SetReference, Instrument: name, Value: c, Has: true, At: at, TypedAt: at}
	}
	off := func(name string, e float64, at time.Time, all string) Entry {
		return Entry{Quantity: QInstrument, Instrument: name, Value: e, Has: true, Unit: "sg", Type: all, At: at, TypedAt: at}
	}
	own := func(author int64, name string) Entry {
		return Entry{Quantity: QSetting, Key: SetOwn, Text: name, Author: author, At: early, TypedAt: early}
	}
	warm := Entry{Quantity: QSetting, Key: SetThermometer, Value: 5, Has: true, At: early}
	for _, c := range []struct {
		what  string
		house []Entry
		named string
		by    int64
		want  float64
	}{
		{"nothing said", nil, "", nora, 1.0513},
		{"the house's is marked for 60 °F", []Entry{mark("", 15.5556, early)}, "", nora, 1.0521},
		{"a named one goes by the house's mark", []Entry{mark("", 15.5556, early)}, "long", nora, 1.0521},
		{"and by its own where it has one", []Entry{mark("", 15.5556, early), mark("long", 20, early)}, "long", nora, 1.0513},
		{"the house's error, said of the hydrometer", []Entry{off("hydrometer", 0.002, early, "")}, "", nora, 1.0493},
		{"is not a named one's", []Entry{off("hydrometer", 0.002, early, "")}, "long", nora, 1.0513},
		{"a named one's error", []Entry{off("long", 0.002, early, "")}, "the long hydrometer", nora, 1.0493},
		{"is not the house's", []Entry{off("long", 0.002, early, "")}, "", nora, 1.0513},
		{"the member's own", []Entry{off("long", 0.002, early, ""), own(tom, "long")}, "", tom, 1.0493},
		{"is nobody else's", []Entry{off("long", 0.002, early, ""), own(tom, "long")}, "", nora, 1.0513},
		{"the one named beats the member's", []Entry{off("long", 0.002, early, ""), own(tom, "long")}, "short", tom, 1.0513},
		{"said later: from then on", []Entry{off("", 0.002, late, "")}, "", nora, 1.0513},
		{"said later, for all", []Entry{off("", 0.002, late, SetAllReadings)}, "", nora, 1.0493},
		{"the newest word counts, whatever order they came in", []Entry{off("", 0.001, late, SetAllReadings), off("", 0.002, early, "")}, "", nora, 1.0503},
		{"a thermometer 5 °C too high: it was 20 °C", []Entry{warm}, "", nora, 1.050},
	} {
		g := sg(0, 1.050)
		g.Instrument, g.Author = c.named, c.by
		temp := Entry{Quantity: QTemp, Value: 25, Has: true, Unit: "C", At: g.At}
		es := made(begun(White), g, temp)
		es[2].Message = es[1].Message
		s := Fold(Input{N: 1, Entries: es, House: c.house, Now: late})
		near(t, c.what, float64(s.Readings[0].SG), c.want, 0.00011)
	}
}
