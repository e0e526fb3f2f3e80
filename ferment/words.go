package ferment

// The deeds of the book, in the words of the trade.
const (
	DeedPitched    = "pitched"
	DeedWorking    = "working"
	DeedNotWorking = "not working yet"
	DeedStirred    = "stirred"
	DeedPunched    = "punched down"
	DeedStrained   = "strained"
	DeedPressed    = "pressed"
	DeedRacked     = "racked"
	DeedToppedUp   = "topped up"
	DeedDegassed   = "degassed"
	DeedFined      = "fined"
	DeedAddition   = "addition"
	DeedStabilised = "stabilised"
	DeedSweetened  = "sweetened"
	DeedBlended    = "blended"
	DeedDrawn      = "drawn off" // litres that went into another batch
	DeedMoved      = "moved"
	DeedAirlock    = "airlock refilled"
	DeedMLFStarted = "mlf started"
	DeedMLFDone    = "mlf done"
	DeedColdStart  = "cold stabilising started"
	DeedColdEnd    = "brought in"
	DeedBottled    = "bottled"
	DeedLaidDown   = "laid down"
	DeedLabelled   = "labelled"
	DeedTasted     = "tasted"
	DeedOpened     = "opened"
	DeedGiven      = "given away"
	DeedPoured     = "poured away"
	DeedFault      = "fault noted"
	DeedCheck      = "instrument check"
	DeedTarget     = "target set"
	DeedSerial     = "kit serial"
	DeedLot        = "kit lot"
	DeedNote       = "note"
	DeedSplit      = "split"
	DeedMustMade   = "must made"
	DeedDeleted    = "deleted"
	DeedEmpty      = "empty"
	DeedEmptied    = "emptied" // the same, told as done
	DeedReopened   = "reopened"
	DeedOakIn      = "oak in"
	DeedOakOut     = "oak out"
)

// Kind is the kind of a batch.
type Kind string

// The kinds of batch.
const (
	Kit     Kind = "kit"
	Country Kind = "country"
	Red     Kind = "red"
	White   Kind = "white"
	Rose    Kind = "rosé"
	Mead    Kind = "mead"
	Cider   Kind = "cider"
	Other   Kind = "other"
)

// Stage is where a batch stands: the furthest that holds.
type Stage string

// The stages of a batch, in their order.
const (
	Must       Stage = "must"
	Lag        Stage = "lag"
	Primary    Stage = "primary"
	Secondary  Stage = "secondary"
	Stopped    Stage = "stopped"
	Stabilised Stage = "stabilised"
	Clearing   Stage = "clearing"
	Ageing     Stage = "ageing"
	Bottled    Stage = "bottled"
	Empty      Stage = "empty"
)

// Condition is something to watch in a batch.
type Condition string

// The conditions of a batch.
const (
	Sluggish      Condition = "sluggish"
	Stuck         Condition = "stuck"
	TooHot        Condition = "too hot"
	TooCold       Condition = "too cold"
	Headspace     Condition = "headspace"
	Malolactic    Condition = "malolactic"
	Sweet         Condition = "sweet"
	Unsafe        Condition = "unsafe to bottle"
	NoTemperature Condition = "no temperature"
	Geranium      Condition = "sorbate with malolactic"
)
