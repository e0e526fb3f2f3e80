package ferment

import (
	"strings"
	"time"
)

// InstrumentName is the name under which a household speaks of a hydrometer, without the
// words that every instrument has; empty for the house's own.
func InstrumentName(said string) string {
	var out []string
	for _, w := range strings.Fields(strings.ToLower(said)) {
		switch w {
		case "the", "a", "our", "hydrometer", "stem", "one", "thermometer":
			continue
		}
		out = append(out, strings.TrimSuffix(strings.Trim(w, ",.:;"), "'s"))
	}
	return strings.Join(out, " ")
}

// word is something said of an instrument, as it holds from a time on.
type word struct {
	from time.Time
	name string
	all  bool // holds for what was read before it too
	Entry
}

// instruments are the words on the instruments of a house in the order in which they
// count: the later of two beats the earlier.
type instruments struct {
	marks, errors, warmth []word
	own                   []word // whose own instrument which is
}

func instrumentsOf(house []Entry) instruments {
	var in instruments
	sorted := append([]Entry(nil), house...)
	Sort(sorted, time.UTC)
	for _, e := range sorted {
		w := word{from: e.At, name: InstrumentName(e.Instrument), all: e.Type == SetAllReadings, Entry: e}
		switch {
		case e.Quantity == QSetting && e.Key == SetReference:
			in.marks = append(in.marks, w)
		case e.Quantity == QInstrument && e.Has:
			in.errors = append(in.errors, w)
		case e.Quantity == QSetting && e.Key == SetThermometer:
			in.warmth = append(in.warmth, w)
		case e.Quantity == QSetting && e.Key == SetOwn:
			in.own = append(in.own, w)
		}
	}
	return in
}

// newest is the last word on an instrument at a time; nil where there is none.
func newest(ws []word, at time.Time, fits func(*word) bool) *word {
	for i := len(ws) - 1; i >= 0; i-- {
		if fits(&ws[i]) && (ws[i].all || !ws[i].from.After(at)) {
			return &ws[i]
		}
	}
	return nil
}

// nameOf is the instrument that a reading was taken with: the one named, else the
// member's, else the house's.
func (in instruments) nameOf(e *Entry) string {
	if name := InstrumentName(e.Instrument); name != "" {
		return name
	}
	if w := newest(in.own, e.At, func(w *word) bool { return w.Author == e.Author }); w != nil {
		return InstrumentName(w.Text)
	}
	return ""
}

// InstrumentOf tells for a house with which of its hydrometers a reading was taken;
// empty: the house's own.
func InstrumentOf(house []Entry) func(Entry) string {
	in := instrumentsOf(house)
	return func(e Entry) string { return in.nameOf(&e) }
}

// hydrometer returns the temperature in °C that the hydrometer of a reading is marked for
// and its error in water. Until told it is marked for what the house's is, else for 20 °C,
// and has no error: an error is one instrument's alone.
func (in instruments) hydrometer(e *Entry) (reference, err float64) {
	name := in.nameOf(e)
	named := func(w *word) bool { return w.name == name }
	if w := newest(in.errors, e.At, named); w != nil {
		err = w.Value
	}
	for _, fits := range []func(*word) bool{named, func(w *word) bool { return w.name == "" }} {
		if w := newest(in.marks, e.At, fits); w != nil {
			return w.Value, err
		}
	}
	return 20, err
}

// celsius is a temperature as it was, the thermometer's error taken off.
func (in instruments) celsius(c float64, at time.Time) float64 {
	if w := newest(in.warmth, at, func(*word) bool { return true }); w != nil {
		return c - w.Value
	}
	return c
}

// InstrumentNames are the hydrometers that a house has named, in the order in which it
// did.
func InstrumentNames(house []Entry) []string {
	var out []string
	seen := map[string]bool{"": true}
	for _, e := range house {
		name := ""
		switch {
		case e.Quantity == QInstrument, e.Key == SetReference:
			name = InstrumentName(e.Instrument)
		case e.Key == SetOwn:
			name = InstrumentName(e.Text)
		}
		if !seen[name] {
			seen[name] = true
			out = append(out, name)
		}
	}
	return out
}

// Hydrometer is what holds of an instrument by the newest word on it.
type Hydrometer struct {
	Name      string  // empty: the house's own
	Reference float64 // °C that it is marked for
	Error     float64 // SG that it reads too high in water
}

// hydrometersOf lists the house's own hydrometer, where anything was said of it, and those
// that have a name.
func hydrometersOf(house []Entry) []Hydrometer {
	in := instrumentsOf(house)
	var out []Hydrometer
	for _, name := range append([]string{""}, InstrumentNames(house)...) {
		x := Hydrometer{Name: name}
		x.Reference, x.Error = in.hydrometer(&Entry{Instrument: name, At: endOfTime})
		if name != "" || x.Reference != 20 || x.Error != 0 {
			out = append(out, x)
		}
	}
	return out
}

// endOfTime is later than any entry.
var endOfTime = time.Unix(1<<40, 0)
