package parse

import "time"

// Kind says what a message is to the book.
type Kind string

// The eight kinds of message.
const (
	Readings   Kind = "readings"   // measured values, perhaps with a question
	Event      Kind = "event"      // a deed, with any readings in the same message
	NewBatch   Kind = "new_batch"  // a batch begun
	Correction Kind = "correction" // a repair of something logged
	Question   Kind = "question"   // an answer is wanted, a setting changed, or danger
	Ask        Kind = "ask"        // something is missing: the bot asks back
	Reject     Kind = "reject"     // impossible: one answer, nothing stored
	Ignore     Kind = "ignore"     // not for the book
)

// When is the time of an entry as the text gave it: the message's own time, an
// instant to the minute, or a day of which the hour is not known.
type When struct {
	At  time.Time // zero: the message's own time ("now"); local time of the house
	Day bool      // only the day of At counts
}

// Now reports whether the entry happens at the message's own time.
func (w When) Now() bool { return w.At.IsZero() }

// WhyPlan is the reason of a note that tells what is to come: no reading and no deed.
const WhyPlan = "a plan, not a deed"

// Entry is one line for the book, in the value and unit that were typed.
type Entry struct {
	Quantity   string   // sg, temp, addition, event, note, … (the contract's list)
	Value      *float64 // nil where no number was typed
	Unit       string   // sg, C, L, US gal, … ; empty where there is none
	Typed      string   // the digits as typed: "1,048"
	When       When
	Batch      string // its name; empty: belongs to the house
	BatchN     int    // its number; 0: belongs to the house, or a batch begun by this message
	Deed       string // the deed this entry belongs to; of an `event` entry, the deed itself
	Material   string
	Basis      string // of a titratable acidity: tartaric, sulfuric
	By         string // who did it, where the text says somebody else
	Text       string // serials, lots, notes, faults, places, names
	Instrument string
	Type       string // kind of a new batch; sample, must or cap of a temperature
	Approx     bool
}

// Option is one answer that a tap may give to a question of the bot.
type Option struct {
	Label   string  // what the button says: "1.048", "gorse", "second dose"
	Entries []Entry // what choosing it stores, all together with what the message gave
	Replace bool    // choosing it stores nothing new but repairs (see Intent.Action)
	Whose   string  // of a repair: Mine or Theirs
}

// Whose entry a repair means, where the newest is somebody else's.
const (
	Mine   = "mine"   // the sender's own newest
	Theirs = "theirs" // the newest of all
)

// Word explains one run of the text: what it was taken for.
type Word struct {
	Text string // as typed
	As   string // number, unit, batch, deed, time, … or "-" where it meant nothing
	Note string // the value or the reason
}

// Intent is what a message was understood to mean.
type Intent struct {
	Kind    Kind
	Entries []Entry // exactly what is stored now
	Event   string  // the deed of the message, of the contract's list
	Action  string  // of a correction: replace_last, delete_last, …
	Whose   string  // of a correction: Mine or Theirs; empty: the sender's own, where there is one
	Topic   string  // of a question
	Args    map[string]any
	Ask     string   // what is missing: magnitude, which_batch, …
	Wishes  []Wish   // of a new batch: what is set for it beside
	Held    []Entry  // what `Keep` stores as typed while a question is open
	Options []Option // likely answers, the first the likeliest
	Warn    []string // what must be said: keys of bot/say
	Batch   int      // the batch that is meant, also where nothing is stored; 0 unknown
	Why     string   // why something was asked, ignored or refused, in plain words
	Words   []Word   // word by word (only when Context.Explain)
	Chosen  string   // how the batch was found, in plain words (only when Context.Explain)
	Reason  string   // of a reject: machine word (impossible_sg, future, too_long, …)
	Unasked string   // the bare deed for which a group's message was ignored; it counts if a reminder asked for it
}

// Batch is what the understanding of a message needs to know of an open batch.
// Gravities are 20/20 or as typed; zero values mean unknown.
type Batch struct {
	N           int
	Name        string
	Nicks       []string
	Kind        string // kit, country, red, white, rosé, mead, cider, other
	VolumeL     float64
	Stage       string // must, lag, primary, …
	Malolactic  bool   // running
	OG          float64
	LastSG      float64
	LastTempC   *float64 // sample temperature of the last gravity
	LastWhen    time.Time
	Readings    []Reading // gravities in time order where known, for late entries
	Pitched     time.Time
	Started     time.Time
	Stable      bool // stopped
	Stabilised  bool
	MLFWanted   bool
	OnPulp      bool
	PH          float64
	FreeSO2     float64
	BottlesLeft int
	BottlesMade int
	Counting    bool     // bottles are being counted: what comes more adds to the sum
	Recent      []Deed   // newest last
	StepsDue    []string // deeds that are due or were just reminded of
}

// Reading is a gravity in the book.
type Reading struct {
	When  time.Time
	SG    float64
	TempC *float64
}

// Deed is something done lately: used to notice doubles.
type Deed struct {
	What  string // "racked", "addition sulphite", …
	By    string
	When  time.Time
	Value *float64 // the amount of an addition, as typed; nil where none was told
	Unit  string
}

// Last is the newest entry of the book, and whose it is.
type Last struct {
	By       string
	Batch    string
	Quantity string
	Value    *float64
	Unit     string
	Material string // of an addition
	When     time.Time
	Day      bool      // only the day of When counts
	Typed    time.Time // when it was sent; zero: same as When
	Beside   []Last    // the others of the same message
}

// Pending is a question of the bot that waits for this sender's answer.
type Pending struct {
	Ask     string
	Action  string // of a repair that was asked about
	Held    []Entry
	Options []Option
	Batch   int
}

// Context is what is known around a message. The zero value is a private chat of
// a metric house without batches.
type Context struct {
	Batches []Batch
	Active  int // the sender's current batch number, 0 none
	Group   bool
	Units   string    // metric, us, uk
	Gallon  string    // "US gal", "imp gal": a metric house's answer, kept; empty: ask
	Now     time.Time // in the house's zone
	Sender  string
	Members []string // other people of the house, for "Tom racked it"
	BotName string
	// Instruments are the names of the house's hydrometers but its own: "long".
	Instruments []string
	ReplyTo     string // text of the bot's message being answered
	ReplyN      int    // the batch of that message, where the caller knows it
	Mention     bool
	Forwarded   bool
	Lang        string
	LastEntry   *Last
	OwnEntry    *Last // the sender's own newest, where LastEntry is somebody else's
	Pending     *Pending
	Explain     bool

	anyName bool // the name is a guess: with a mention any @name is the bot's

	told bool // the text speaks of the bot, not to it
}
