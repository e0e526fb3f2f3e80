package schedule

import "time"

// House is what holds for every batch of a household. Its zero value is a house
// in UTC with the defaults of the trade and nothing of its own.
type House struct {
	Zone              *time.Location // nil: UTC
	QuietFrom         int            // minutes after midnight; both 0: the default 21:30–07:30
	QuietTo           int            // equal to QuietFrom and not 0: no quiet hours
	Bundle            int            // minutes after midnight; 0: 18:30
	NoRoundUp         bool           // the weekly round-up is off
	UrgentBreaksQuiet bool           // the house allows urgent ones at night
	Intervals         map[string]time.Duration
	Muted             map[string]bool // by rule id
	Minors            bool            // the chat holds minors
	Changed           time.Time       // when the book last changed; zero: as the states say
	HotC, RiseC       float64         // °C; 0: default
	FastPoints        float64         // points a day; 0: default
	StirAt            []int           // minutes after midnight; nil: 07:30 and 19:30

	Away        []Away
	Own         []Own
	Steps       []Step
	Tubs        []Tub
	Instruments []Instrument
	PlaceL      map[string]float64 // litres at work by place, all batches

	HeatAt   time.Time // newest report of a heat-wave; zero: none
	HeatRoot int64

	YearLimitL float64 // 0: none set
	YearMadeL  float64
}

// Away is a holiday of the household.
type Away struct {
	Root     int64
	Typed    time.Time
	From, To time.Time // first instant away, first instant back
	Minder   string    // who minds the batches; empty: nobody yet
	Pause    bool      // nobody: reminders pause
}

// Own is a reminder that somebody asked for.
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

// Step is a step of a recipe: a nutrient or a sugar step.
type Step struct {
	Root   int64
	Batch  int
	Rule   string        // R08a or R08b
	Amount string        // as typed
	After  time.Duration // from the pitch
}

// Tub is an opened packet of sulphite or sorbate.
type Tub struct {
	N      int64
	Root   int64
	What   string
	Opened time.Time
}

// Instrument is a hydrometer of the house.
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

func (h *House) zone() *time.Location {
	if h.Zone == nil {
		return time.UTC
	}
	return h.Zone
}

func (h *House) quiet() (from, to int) {
	if h.QuietFrom == 0 && h.QuietTo == 0 {
		return defaultQuietFrom, defaultQuietTo
	}
	return h.QuietFrom, h.QuietTo
}

func (h *House) bundle() int {
	if h.Bundle == 0 {
		return defaultBundle
	}
	return h.Bundle
}

func (h *House) stirAt() []int {
	if h.StirAt == nil {
		return []int{7*60 + 30, 19*60 + 30}
	}
	return h.StirAt
}

// muted reports whether the household switched a rule off; R08 stands for both
// R08a and R08b.
func muted(m map[string]bool, rule string) bool { return m[rule] || len(rule) > 3 && m[rule[:3]] }

// Away returns the holiday that an instant falls into.
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
