package forecast

import "errors"

// Limits of what is forecast at all.
const (
	// MinOG and MaxOG bound the original gravity (SG): below, there is too little
	// sugar for the priors to mean anything; above lies nothing that was fermented
	// in the curves they were made from (common practice, no source).
	MinOG, MaxOG = 1.025, 1.180
	// MinReadings is how many readings a forecast needs, the original gravity
	// being one of them.
	MinReadings = 2
	// Horizon is how far after the newest reading a date may lie, in days. What
	// a curve reaches later counts as never.
	Horizon = 365.0
)

// ErrOG is returned for an original gravity outside MinOG to MaxOG.
var ErrOG = errors.New("forecast: original gravity outside 1.025 to 1.180")

// Reading is one gravity.
type Reading struct {
	Day float64 // days since the pitch; negative before it
	SG  float64 // at 20/20 °C
}

// Source says what a temperature was measured in, best first.
type Source string

// Sources of a temperature. Any other is ignored: a cap of skins is hotter than
// the must, and an assumed temperature is no measurement.
const (
	Must       Source = "must"
	Unlabelled Source = "unlabelled"
	Sample     Source = "sample"
	Room       Source = "room"
)

// Temperature is one temperature of the log.
type Temperature struct {
	Day  float64 // days since the pitch
	C    float64 // °C
	From Source
}

// Input is a batch as far as the forecast cares. The zero value of every field but
// Readings is usable.
type Input struct {
	OG       float64       // 0: the last reading up to six hours after the pitch
	Readings []Reading     // in any order
	Temps    []Temperature // in any order; none: 20 °C and more doubt
	Racked   float64       // day it left primary; 0: not yet. A room adds 2 °C before it
	Sigma    float64       // standard deviation of one reading, SG; 0: 0.001
	Planned  *float64      // °C from the newest reading on; nil: the latest logged
	Targets  []float64     // SG; those not below the newest reading are left out
	Halt     bool          // test for slowing and arrest, which costs several times as much
	Days     []float64     // days since the pitch for which the band is wanted
}

// Crossing is when a gravity will be reached.
type Crossing struct {
	Target            float64 // SG
	Median, Low, High float64 // days since the pitch, 50, 10, 90 % of the curves that reach it
	PNever            float64 // share of curves that do not within Horizon
	Dated             bool    // false: PNever above 0.9, and the days are 0
}

// BandPoint is the gravity expected on a day.
type BandPoint struct {
	Day               float64
	Median, Low, High float64 // SG; 50, 10, 90 %
}

// Verdict sums the result up in one word.
type Verdict string

// Verdicts. Watch asks for one more reading; Stuck is the alarm, which takes two
// readings in a row.
const (
	TooFew   Verdict = "too few readings"
	OnCourse Verdict = "on course"
	NoStart  Verdict = "no start"
	Sluggish Verdict = "sluggish"
	Watch    Verdict = "watch"
	Stuck    Verdict = "stuck"
)

// Problem is the outcome of the test for slowing and arrest at one reading.
type Problem struct {
	Tested        bool    // at least three readings, and not nearly dry
	Slowing, Halt float64 // probabilities
}

// P is the probability that something is wrong, 0 to 1.
func (p Problem) P() float64 { return p.Slowing + p.Halt }

// Result is a forecast. No field is ever NaN or infinite.
type Result struct {
	Verdict    Verdict
	Crossings  []Crossing
	Band       []BandPoint
	Readings   int     // that were fitted, the original gravity among them
	LastDay    float64 // of the newest that counted, days since the pitch
	OG         float64 // taken as the start, SG
	OGAssumed  bool    // not read: 1.088 ± 0.012, and the doubt is in the answer
	ClockBlind bool    // no temperature logged: 20 °C assumed, with more doubt
	DryGravity float64 // where a must of this OG usually ends, SG

	Rate      float64 // fall now by the fitted curves, SG/day at the temperature of now
	UsualRate float64 // fall of the usual curve at this extent and temperature, SG/day
	PSluggish float64 // probability that 1.010 comes later than a healthy ferment's

	Now, Before Problem // at the newest reading and at the one before it
	ESS         float64 // effective number of draws; below 50 the interval is rough
}
