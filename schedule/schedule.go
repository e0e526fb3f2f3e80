package schedule

import "time"

// Weight says how a reminder is sent.
type Weight string

// The weights, the lightest first.
const (
	Normal Weight = "normal" // with the day's bundle
	Timed  Weight = "timed"  // alone, at its own time
	High   Weight = "high"   // alone, at its own time
	Urgent Weight = "urgent" // at once
)

// The kinds of subject.
const (
	BatchKind      = "batch"
	MemberKind     = "member"
	InstrumentKind = "instrument"
	TubKind        = "tub"
	BookKind       = "book"
)

// Subject is what a reminder is about.
type Subject struct {
	Kind string // batch, member, instrument, tub, book
	N    int64  // number within the book; 0 for the book itself
}

// Key names a reminder for ever: it is made once under it. An edit of the
// anchoring entry keeps the key; an entry logged anew makes another.
//
// Occurrence counts the steps of a rule that comes several times (the second
// nutrient step, the third week). Telling the same step again, after a snooze or
// as the one repeat, is an occurrence of its own: step × 100 + telling.
type Key struct {
	Rule       string
	Subject    Subject
	Anchor     int64 // root of the anchoring entry; 0: the subject itself
	Occurrence int
}

// tellings is the room for tellings of one step in an occurrence.
const tellings = 100

// Step returns which of the rule's steps it is, from 0.
func (k Key) Step() int { return k.Occurrence / tellings }

// Telling returns how often the step was told before.
func (k Key) Telling() int { return k.Occurrence % tellings }

// Said is a reminder that was made, and what became of it.
type Said struct {
	Key
	MadeAt     time.Time
	Due        time.Time
	AnsweredAt time.Time // zero: not answered
	Answer     string    // label of the button
	SnoozedTo  time.Time // zero: not snoozed
	Muted      bool      // the rule is off for this subject and anchor
}

// Forecast is what the rules need from a batch's forecast. The zero value is
// no forecast.
type Forecast struct {
	RackMedian time.Time // median instant at which the rack point is reached
	PProblem   float64   // probability of a problem at the newest reading, 0–1
	PBefore    float64   // the same at the reading before
}

// Watch reports that the newest reading alone points to a problem: one more
// reading is wanted. One half is where the forecast's own test stands.
func (f *Forecast) Watch() bool { return f != nil && f.PProblem > 0.5 }

// Alarm reports two readings running that point to a problem.
func (f *Forecast) Alarm() bool { return f.Watch() && f.PBefore > 0.5 }

// Item is one reminder, made or to come.
type Item struct {
	Key
	Wanted time.Time // when it falls due by its rule
	Due    time.Time // when it may be sent: after quiet hours, bundle and pauses
	Weight Weight
	Bundle bool      // goes with others in one message
	Late   bool      // the bot was off when it was due: marked "was due"
	Was    time.Time // when a late one was due; its Due is then when it may go
	Repeat bool      // the one repeat
	AtOnce bool      // set off by a message: part of its answer
	Open   bool      // made, and neither answered nor moot: only in "what next"
	// Args fill the text, in machine form: gravities 1.048000, temperatures in °C,
	// volumes in litres, times in RFC 3339. bot/say renders them.
	Args map[string]string
}
