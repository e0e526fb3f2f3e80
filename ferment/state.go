package ferment

import (
	"time"

	"mustbook/ferment/liquid"
)

// Reading is one gravity of the book and what it means.
type Reading struct {
	Entry  Entry          // as typed
	At     time.Time      //
	Day    bool           // the hour is not known
	Typed  float64        // on the stem, as SG, the instrument's error taken off nothing yet
	SG     liquid.Gravity // at 20 °C (20/20)
	TempC  *float64       // the sample's temperature as typed, in °C; the thermometer's error is taken off where it corrects
	Taken  bool           // "taken as read": no temperature
	Counts bool           // false: outside 5–35 °C or not on the curve; kept as typed
	Worked bool           // worked out for a blend by the balance of masses; nobody read it
	Scale  string         // scale it was typed in: sg, Bx, Oe, …
}

// Temperature is one temperature of the book, in °C.
type Temperature struct {
	At   time.Time
	C    float64
	From string // must, unlabelled, sample, room, cap
	Root int64
}

// Deed is something done.
type Deed struct {
	What string
	At   time.Time
	Day  bool
	By   string // who did it
	Root int64  // root of the first entry of the deed
	Text string
}

// Addition is something put in, with the amount as typed and in grams where it
// can be told.
type Addition struct {
	Material string
	At       time.Time
	Amount   float64 // as typed
	Has      bool
	Unit     string
	Typed    string
	Grams    float64 // 0: not known
	Litres   float64 // of a liquid; 0: not a liquid or not known
	SO2      float64 // mg/L that a sulphite added
	Estimate bool    // grams from spoons, tablets or packets
	VolumeL  float64 // litres of wine it went into; 0: unknown
	By       string
	Root     int64
	Deed     string
}

// OGSource says where the original gravity comes from.
type OGSource string

// The sources of an original gravity.
const (
	OGNone        OGSource = ""            // not known
	OGExplicit    OGSource = "explicit"    // typed as such
	OGBeforePitch OGSource = "before"      // last gravity before the yeast
	OGAfterPitch  OGSource = "after"       // read within 6 h after, no fall shown
	OGProvisional OGSource = "provisional" // newest of a must, no pitch logged
	OGAssumed     OGSource = "assumed"     // a fall without a pitch: the pitch is assumed just before it
	OGBlend       OGSource = "blend"       // what the wines of a blend would have been together, by balance
)

// StopVerdict says what the newest run of agreeing readings shows.
type StopVerdict string

// What a run of readings shows.
const (
	StopNo     StopVerdict = ""       // not shown to have stopped
	StopDry    StopVerdict = "dry"    // stopped and dry
	StopAsk    StopVerdict = "ask"    // stopped with 8–20 g/L: dry enough, or sweet on purpose?
	StopSweet  StopVerdict = "sweet"  // stopped, marked sweet
	StopStuck  StopVerdict = "stuck"  // stopped with sugar left
	StopEnough StopVerdict = "enough" // 8–20 g/L, answered dry enough
)

// Stop is the proof that a ferment has stopped.
type Stop struct {
	Verdict StopVerdict
	From    time.Time // first reading of the run
	Shown   time.Time // the reading that closed the proof
	Last    time.Time // newest agreeing reading
	SG      liquid.Gravity
	N       int // readings in the run
}

// Range is the gravity that a kit's sheet asks for on day one; zero: not set.
type Range struct{ Low, High float64 }

// Plan holds the thresholds and intervals of a batch. The household's word beats
// the kit's sheet, which beats the default of the kind.
type Plan struct {
	RackAt                                 float64 // gravity at or below which it may be racked
	RackFrom                               string  // default, sheet, house
	CheckDay                               int     // primary check, days after the pitch
	CheckFrom                              string
	Sheet                                  Range
	Intervals                              map[string]time.Duration // by rule id of the reminders, where changed
	From                                   map[string]string        // by rule id: sheet or house
	Steps                                  []string
	Muted                                  map[string]bool // rule ids
	Minder                                 string
	MeantSweet                             bool
	MeantFizzy                             bool
	DryEnough                              bool
	MLF                                    string // "", wanted, unwanted
	Sorbate                                string // "", unwanted
	NoLees, NoHydrometer, NoMeter, BySheet bool
	Flags                                  map[string]bool // further yes/no settings by key
}

// SheetVerdict is day one's gravity against the kit's sheet.
type SheetVerdict string

// Day one's gravity against the sheet.
const (
	SheetNone   SheetVerdict = ""
	SheetInside SheetVerdict = "inside"
	SheetUnder  SheetVerdict = "under"
	SheetOver   SheetVerdict = "over"
)

// State is what a batch knows, folded from its entries: nothing in it is stored.
// Zero values mean unknown.
type State struct {
	N      int
	Name   string
	Names  []string // earlier names and nicknames
	Kind   Kind
	Began  time.Time
	Parent int
	Came   []Share // other wines that went into it

	Stage      Stage
	Conditions []Condition

	OG       liquid.Gravity // with sugar added later, by balance
	OGSource OGSource
	OGAt     time.Time
	OGRoot   int64

	Readings []Reading // in order of time
	Temps    []Temperature
	Last     *Reading       // newest gravity that counts
	Prev     *Reading       // the one before it
	Expected liquid.Gravity // what it would read now: Last and what went in since, by balance; 0 unknown

	ABV        liquid.PercentVol
	ABVDoubt   liquid.PercentVol
	ABVKnown   bool
	ABVLeast   bool    // "at least": on the pulp, or honey not dissolved
	SugarLeft  float64 // g/L
	SugarDoubt float64
	SugarKnown bool
	Gone       float64           // share of the sugar gone, 0–1
	Potential  liquid.PercentVol // if fermented dry, from OG

	VolumeL    float64 // of now; 0 unknown
	VolumeAt   time.Time
	VolumeSaid bool // false: only the size asked for at the start
	OnPulp     bool
	VesselL    float64
	Place      string

	Pitched      time.Time
	PitchRoot    int64
	PitchDay     bool
	PitchAssumed bool
	Repitched    time.Time // newest pitch where there are more
	RepitchRoot  int64
	Started      time.Time // start proven
	StartWord    bool      // by the word, not by a fall
	Strained     time.Time
	Racked       []time.Time
	Stop         Stop
	Sweetened    time.Time
	SweetRoot    int64
	Stabilised   time.Time
	Sulphited    time.Time // newest sulphite
	Sorbated     time.Time
	Fined        time.Time
	Degassed     time.Time
	MLFStarted   time.Time
	MLFDone      time.Time
	MLFDoneN     int
	Bottled      time.Time
	LaidDown     time.Time
	Labelled     time.Time
	Emptied      time.Time
	Blended      time.Time
	Unguarded    time.Time // blended with wine that was not stabilised as this asks; zero: not so
	MLFCame      time.Time // wine came in of which nobody has said whether it goes through malolactic
	Cold         time.Time // cold stabilising since; zero: not now
	Oak          time.Time
	Deleted      time.Time

	Deeds     []Deed
	Additions []Addition
	Notes     []Entry
	Faults    []Entry
	PH        *Measure
	TA        *Measure // g/L as tartaric
	FreeSO2   *Measure
	TotalSO2  *Measure
	SO2Added  float64 // mg/L, all sulphite added over the volume then
	Sorbate   float64 // mg/L potassium sorbate added
	Allergens []string

	Counts                            []Count // bottles as each counted them since they were begun to be filled
	Counted                           bool    // a total was said: the counts are no sum any more
	BottlesMade                       int
	BottlesLeft                       int
	BottleML                          float64
	Closure                           string
	Serial, Lot, BestBefore, YeastLot string

	Plan        Plan
	Sheet       SheetVerdict
	NewestEntry int64 // row id of the newest entry: key of the forecast's cache
	NewestAt    time.Time
	NewestRoot  int64
	LastLook    time.Time // newest entry of any sort by its own time
}

// Share is wine of another batch that went into this one.
type Share struct {
	N      int
	Name   string
	Litres float64 // 0: not known
	At     time.Time
	Root   int64
}

// Count is how many bottles one person counted, in one message.
type Count struct {
	By     string
	Author int64
	N      int
	Half   bool // half bottles
	At     time.Time
	Root   int64
}

// Measure is a measured value and when it was taken.
type Measure struct {
	Value float64
	At    time.Time
	Root  int64
}

// Has reports whether a condition holds.
func (s *State) Has(c Condition) bool {
	for _, x := range s.Conditions {
		if x == c {
			return true
		}
	}
	return false
}

// Did returns the newest deed of that name and whether there is one.
func (s *State) Did(what string) (Deed, bool) {
	for i := len(s.Deeds) - 1; i >= 0; i-- {
		if s.Deeds[i].What == what {
			return s.Deeds[i], true
		}
	}
	return Deed{}, false
}
