package schedule

import "time"

// House is what holds for every batch of a household: its clock, its settings, and
// what reminders hang on beside the batches. The zero value is a house in UTC with
// the defaults of the trade and nothing of its own.
type House struct {
	Zone *time.Location // nil: UTC

	// The household's clock, in minutes after midnight of its zone. Quiet hours of
	// 0 to 0 are the default, 21:30 to 07:30; any other equal pair means none. A
	// bundle at 0 is the default, 18:30.
	QuietFrom, QuietTo int
	Bundle             int
	StirAt             []int // hours of the stirring nudge; nil: 07:30 and 19:30

	NoRoundUp         bool // the weekly round-up is off
	UrgentBreaksQuiet bool // urgent ones may come at night
	Minors            bool // minors read along: nothing that speaks of drinking
	Paused            bool // all reminders rest, but for what can hurt somebody

	// Intervals and Muted are by rule id, for all batches; R08 stands for R08a and
	// R08b. A batch's own plan goes before them.
	Intervals map[string]time.Duration
	Muted     map[string]bool

	// Limits that the household set; 0: the default of the rule.
	HotC, RiseC float64 // °C
	FastPoints  float64 // points (0.001) a day

	// Changed is when the book last changed, edits and undoings too. Zero: the
	// newest entry of the states is taken.
	Changed time.Time

	Away        []Away
	Own         []Own
	Steps       []Step
	Tubs        []Tub
	Instruments []Instrument

	// PlaceL is how many litres are at work in each place, all batches together.
	PlaceL map[string]float64

	HeatAt   time.Time // newest report of a heat-wave; zero: none
	HeatRoot int64

	// The year's limit is the household's own; the program knows no law.
	YearLimitL float64 // litres; 0: none set
	YearMadeL  float64 // litres made this year
}

// Away is a holiday of the household. While it lasts, its minder is reminded in
// the place of everybody else, or reminders rest but for what can hurt somebody.
type Away struct {
	Root     int64
	Typed    time.Time
	From, To time.Time // first instant away, first instant back
	Minder   string    // who minds the batches; empty: nobody yet
	Pause    bool      // nobody: reminders pause
}

// Own is a reminder that somebody asked for, or a plan that was typed and agreed
// to be one. A dropped one is left out by the caller.
type Own struct {
	Root    int64
	Batch   int   // 0: the house
	Member  int64 // who asked
	What    string
	Deed    string // the deed it speaks of, where one was understood
	At      time.Time
	DayOnly bool // no hour was said: 10:00
	Made    time.Time
}

// Step is a step of a recipe: a nutrient or a sugar step. The steps of a rule are
// in the order in which they go in.
type Step struct {
	Root   int64
	Batch  int
	Rule   string        // R08a or R08b
	Amount string        // as typed
	After  time.Duration // from the pitch
}

// Tub is an opened packet of sulphite or sorbate. A new one is another tub.
type Tub struct {
	N      int64
	Root   int64
	What   string
	Opened time.Time
}

// Instrument is a hydrometer of the house. A season begins with its first reading
// after a long rest; what counts as one is the caller's.
type Instrument struct {
	N        int64
	Root     int64
	FirstUse time.Time // first reading of this season
	Checked  time.Time // newest water test
	Disagree time.Time // two instruments more than 0.003 apart; zero: never
}

// The defaults of a household's clock, in minutes after midnight.
const (
	defaultQuietFrom = 21*60 + 30
	defaultQuietTo   = 7*60 + 30
	defaultBundle    = 18*60 + 30
	morning          = 9 * 60
)

// zone is where the household's clock hangs.
func (h *House) zone() *time.Location {
	if h.Zone == nil {
		return time.UTC
	}
	return h.Zone
}

// quiet is when nothing is sent that the clock sets off.
func (h *House) quiet() (from, to int) {
	if h.QuietFrom == 0 && h.QuietTo == 0 {
		return defaultQuietFrom, defaultQuietTo
	}
	return h.QuietFrom, h.QuietTo
}

// bundle is when the day's message goes.
func (h *House) bundle() int {
	if h.Bundle == 0 {
		return defaultBundle
	}
	return h.Bundle
}

// stirAt are the hours of the stirring nudge.
func (h *House) stirAt() []int {
	if h.StirAt == nil {
		return []int{7*60 + 30, 19*60 + 30}
	}
	return h.StirAt
}

// muted reports whether the household switched a rule off; R08 stands for both
// R08a and R08b.
func muted(m map[string]bool, rule string) bool { return m[rule] || len(rule) > 3 && m[rule[:3]] }

// awayAt returns the holiday that an instant falls into.
func (h *House) awayAt(t time.Time) (Away, bool) {
	for _, a := range h.Away {
		if !t.Before(a.From) && t.Before(a.To) {
			return a, true
		}
	}
	return Away{}, false
}

// Minder returns who is to be reminded of a batch at an instant: who minds it
// while the household is away, else its own minder; empty: the batch's chat.
func Minder(batchMinder string, h House, t time.Time) string {
	if a, ok := h.awayAt(t); ok && a.Minder != "" {
		return a.Minder
	}
	return batchMinder
}
