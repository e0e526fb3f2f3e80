package ferment

import (
	"strings"
	"time"
)

// Refusal is a reason why a batch must not be bottled.
type Refusal string

// The reasons, the gravest first (common practice, no source).
const (
	NotStopped     Refusal = "not stopped"
	Unanswered     Refusal = "dry enough, or meant sweet?"
	NoReading      Refusal = "no reading"
	SweetLoose     Refusal = "sweet, not stabilised"
	MLFRunning     Refusal = "malolactic running"
	MLFUnknown     Refusal = "malolactic unknown"
	ReadingIsOld   Refusal = "reading too old"
	ReadAfterSugar Refusal = "sweetened, not read since"
	ReadAfterBlend Refusal = "blended, not read since"
	TooFizzy       Refusal = "too much sugar for any glass"
)

// readingHolds is how long a reading opens the gate.
const readingHolds = 14 * 24 * time.Hour

// Gate returns why the batch must not be bottled at now; empty: it may.
func (s *State) Gate(now time.Time) []Refusal {
	var out []Refusal
	if s.Last == nil {
		return []Refusal{NoReading}
	}
	switch {
	case s.Stop.Verdict == StopAsk:
		out = append(out, Unanswered)
	case !s.Stop.Proven():
		out = append(out, NotStopped)
	}
	// What is meant fizzy is sugared on purpose: it is not asked to be stabilised, nor
	// read after the sugar, but must not burst the strongest glass.
	fizzy := s.Plan.MeantFizzy
	switch {
	case fizzy && s.tooFizzy():
		out = append(out, TooFizzy)
	case !fizzy && s.IsSweet() && !s.guarded():
		out = append(out, SweetLoose)
	}
	switch {
	case s.MLFOpen():
		out = append(out, MLFRunning)
	case s.MLFUnknown():
		out = append(out, MLFUnknown)
	}
	switch {
	case !fizzy && !s.Sweetened.IsZero() && s.Last.At.Before(s.Sweetened):
		out = append(out, ReadAfterSugar)
	case s.Last.Worked:
		out = append(out, ReadAfterBlend)
	case now.Sub(s.Last.At) > readingHolds:
		out = append(out, ReadingIsOld)
	}
	return out
}

// guarded reports sulphite and sorbate, or the word that it is stabilised; what was
// given before a blend with a wine that had none of it guards no longer.
func (s *State) guarded() bool {
	return !s.Stabilised.IsZero() || s.Sorbated.After(s.Unguarded) && s.Sulphited.After(s.Unguarded)
}

// MLFOpen reports a malolactic fermentation that runs or is wanted.
func (s *State) MLFOpen() bool {
	if !s.MLFStarted.IsZero() && s.MLFDone.Before(s.MLFStarted) {
		return true
	}
	return s.Plan.MLF == "wanted" && s.MLFDone.IsZero()
}

// sourFruit are the fruits whose malic acid makes a malolactic likely.
var sourFruit = []string{"apple", "plum", "gooseberry", "blackberry"}

// MLFLikely reports a wine in which malolactic bacteria are at home: red, cider,
// and country wines of fruit rich in malic acid (common practice, no source).
func (s *State) MLFLikely() bool {
	if s.Kind == Red || s.Kind == Cider {
		return true
	}
	if s.Kind != Country {
		return false
	}
	name := strings.ToLower(s.Name)
	for _, fruit := range sourFruit {
		if strings.Contains(name, fruit) {
			return true
		}
	}
	return false
}

// MLFUnknown reports that it is likely and nobody has said what is wanted. A
// stabilised wine has settled it.
func (s *State) MLFUnknown() bool {
	if !s.MLFCame.IsZero() && s.Plan.MLF == "" && s.MLFDone.Before(s.MLFCame) && s.MLFStarted.Before(s.MLFCame) && s.Stabilised.IsZero() {
		return true
	}
	return s.MLFLikely() && s.Plan.MLF == "" && s.MLFStarted.IsZero() && s.MLFDone.IsZero() && s.Stabilised.IsZero() && s.Sorbated.IsZero()
}

// flowers are country wines made without pulp.
var flowers = []string{"flower", "gorse", "dandelion", "rose petal", "blossom", "juice", "tea", "birch", "sap"}

// onPulp reports must and fruit together: country wines and reds between the
// start and the straining, unless the household says otherwise.
func (s *State) onPulp() bool {
	if !s.Strained.IsZero() || len(s.Racked) > 0 || !s.Bottled.IsZero() {
		return false
	}
	if s.Plan.Flags["pulp"] {
		return true
	}
	if s.Plan.Flags["no pulp"] || s.Kind != Country && s.Kind != Red {
		return false
	}
	name := strings.ToLower(s.Name)
	for _, w := range flowers {
		if strings.Contains(name, w) {
			return false
		}
	}
	return true
}

// Temperatures that are hot or cold for a ferment, °C (common practice, no
// source), and how long a temperature speaks for the jar.
const (
	hotMust   = 30.0
	hotSkins  = 32.0
	tempHolds = 48 * time.Hour
	headShare = 0.03
)

// ColdBelow is below how many °C a must is too cold (common practice, no source).
const ColdBelow = 14.0

// HotAt is from how many °C a must is too hot for its kind: a red bears more on its skins
// (common practice, no source).
func (s *State) HotAt() float64 {
	if s.Kind == Red && s.OnPulp {
		return hotSkins
	}
	return hotMust
}

// conditionsAt lists what holds beside the stage.
func (s *State) conditionsAt(now time.Time) []Condition {
	var out []Condition
	working := s.Stage == Lag || s.Stage == Primary || s.Stage == Secondary
	if t, ok := s.ferment(now); ok && working {
		switch {
		case t.C >= s.HotAt():
			out = append(out, TooHot)
		case t.C < ColdBelow:
			out = append(out, TooCold)
		}
	}
	if s.Stop.Verdict == StopStuck && working {
		out = append(out, Stuck)
	}
	kept := s.Stage == Stopped || s.Stage == Stabilised || s.Stage == Clearing || s.Stage == Ageing
	if kept && s.VesselL > 0 && s.VolumeL > 0 && (s.VesselL-s.VolumeL)/s.VesselL > headShare {
		out = append(out, Headspace)
	}
	if s.MLFOpen() && !s.MLFStarted.IsZero() {
		out = append(out, Malolactic)
	}
	if kept && s.IsSweet() {
		out = append(out, Sweet)
	}
	if !s.Sorbated.IsZero() && (!s.MLFStarted.IsZero() || !s.MLFDone.IsZero()) {
		out = append(out, Geranium)
	}
	if kept && len(s.Gate(now)) > 0 || s.Stage == Bottled && s.bottledUnsafe() {
		out = append(out, Unsafe)
	}
	if s.Last != nil && s.Last.Taken {
		out = append(out, NoTemperature)
	}
	return out
}

// bottledUnsafe judges the gate as it stood on the day of bottling.
func (s *State) bottledUnsafe() bool {
	return len(s.Gate(s.Bottled)) > 0
}

// ferment returns the newest temperature of the must, not of the room.
func (s *State) ferment(now time.Time) (Temperature, bool) {
	for i := len(s.Temps) - 1; i >= 0; i-- {
		t := s.Temps[i]
		if t.From != "room" && t.From != "sample" {
			return t, now.Sub(t.At) <= tempHolds
		}
	}
	return Temperature{}, false
}
