package ferment

import (
	"sort"
	"time"
)

// Quantity names what an entry holds.
type Quantity string

// The quantities of the book. Their values and units are kept as typed.
const (
	QSG          Quantity = "sg"
	QOG          Quantity = "og"
	QTargetSG    Quantity = "target_sg"
	QBrix        Quantity = "brix"
	QBalling     Quantity = "balling"
	QOechsle     Quantity = "oechsle"
	QBaume       Quantity = "baume"
	QKMW         Quantity = "kmw"
	QTemp        Quantity = "temp"
	QAmbient     Quantity = "ambient_temp"
	QPH          Quantity = "ph"
	QTA          Quantity = "ta"
	QFreeSO2     Quantity = "free_so2"
	QTotalSO2    Quantity = "total_so2"
	QABV         Quantity = "abv"
	QVolume      Quantity = "volume"
	QVolumeLoss  Quantity = "volume_loss"
	QVesselSize  Quantity = "vessel_size"
	QTopping     Quantity = "topping"
	QAddition    Quantity = "addition"
	QDuration    Quantity = "duration"
	QBottles     Quantity = "bottles"
	QBottlesLeft Quantity = "bottles_left"
	QBottlesOut  Quantity = "bottles_out"
	QKitSerial   Quantity = "kit_serial"
	QKitLot      Quantity = "kit_lot"
	QKitBest     Quantity = "kit_best_before"
	QYeastLot    Quantity = "yeast_lot"
	QNewBatch    Quantity = "new_batch"
	QName        Quantity = "name"
	QPlace       Quantity = "place"
	QNote        Quantity = "note"
	QFault       Quantity = "fault"
	QEvent       Quantity = "event"
	QInstrument  Quantity = "instrument_error"
	QSetting     Quantity = "setting" // Key names the setting
	QParent      Quantity = "parent"  // Key is split, Value the number of the batch it came from
	QBlend       Quantity = "blend"   // Value litres of batch Other that came in; without a value all there was
)

// Entry is one line of the book. It is never rewritten: a repair is a new row
// with the same Root, and the newest row of a root is the one that counts.
type Entry struct {
	ID         int64 // row
	Root       int64 // first row of its chain; an edit keeps it
	Message    int64 // the message that made it; entries of one message belong together
	Ordinal    int   // place in that message
	Batch      int   // number of the batch; 0: the house
	Quantity   Quantity
	Value      float64 // as typed, in Unit; meaningless unless Has
	Has        bool
	Unit       string // sg, C, L, US gal, …; empty: none
	Typed      string // the digits as typed
	Deed       string // the deed this entry belongs to: racked, pitched, …
	Material   string
	Basis      string
	By         string // who did it, where that is not the author
	Text       string
	Instrument string
	Type       string // kind of a new batch; sample, must, cap of a temperature
	Key        string // name of a setting
	Other      int    // another batch that this entry speaks of (blend, split)
	Of         int64  // root of the entry this one completes: a temperature typed after its gravity
	Approx     bool
	At         time.Time // the instant meant; of a day alone, noon there
	DayOnly    bool      // the hour is not known
	Author     int64     // the member who typed it
	AuthorName string
	TypedAt    time.Time // when the message was sent
}

// Sort puts entries in the order of what happened: by instant; on the same day
// an entry without an hour goes by the order typed, but a must's readings and
// additions stand before the pitch of that day.
func Sort(es []Entry, loc *time.Location) {
	pitchDay := map[string]time.Time{}
	for _, e := range es {
		if e.Deed == DeedPitched && !e.DayOnly {
			k := dayKey(e.At, loc)
			if t, ok := pitchDay[k]; !ok || e.At.Before(t) {
				pitchDay[k] = e.At
			}
		}
	}
	key := func(e Entry) time.Time {
		if e.DayOnly && beforePitch(e) {
			if t, ok := pitchDay[dayKey(e.At, loc)]; ok && !e.At.Before(t) {
				return t.Add(-time.Second)
			}
		}
		return e.At
	}
	sort.SliceStable(es, func(i, j int) bool {
		a, b := key(es[i]), key(es[j])
		if es[i].DayOnly && es[j].DayOnly && dayKey(es[i].At, loc) == dayKey(es[j].At, loc) {
			if ra, rb := dayRank(es[i]), dayRank(es[j]); ra != rb {
				return ra < rb
			}
			return typedBefore(&es[i], &es[j])
		}
		if !a.Equal(b) {
			return a.Before(b)
		}
		return typedBefore(&es[i], &es[j])
	})
}

func typedBefore(a, b *Entry) bool {
	if !a.TypedAt.Equal(b.TypedAt) {
		return a.TypedAt.Before(b.TypedAt)
	}
	if a.Root != b.Root {
		return a.Root < b.Root
	}
	return a.Ordinal < b.Ordinal
}

// dayRank puts what a must needs before the pitch of the same day.
func dayRank(e Entry) int {
	if e.Deed == DeedPitched {
		return 1
	}
	if beforePitch(e) {
		return 0
	}
	return 2
}

func beforePitch(e Entry) bool {
	switch e.Quantity {
	case QNewBatch, QOG:
		return true
	case QAddition:
		return e.Deed != DeedPitched
	}
	return false
}

func dayKey(t time.Time, loc *time.Location) string { return t.In(loc).Format("2006-01-02") }
