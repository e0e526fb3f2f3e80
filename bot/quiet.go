package bot

import (
	"time"

	"mustbook/ferment"
)

// thumb is the sign that something is in the book; it is one of those that the
// platform lets bots use.
const thumb = "👍"

// quietDeeds need no words in a group: nothing follows from them that the household
// has to be told at once.
var quietDeeds = map[string]bool{
	ferment.DeedWorking: true, ferment.DeedStirred: true, ferment.DeedPunched: true, ferment.DeedStrained: true, ferment.DeedPressed: true,
	ferment.DeedRacked: true, ferment.DeedToppedUp: true, ferment.DeedDegassed: true, ferment.DeedFined: true, ferment.DeedMoved: true,
	ferment.DeedAirlock: true, ferment.DeedColdStart: true, ferment.DeedColdEnd: true, ferment.DeedLaidDown: true, ferment.DeedLabelled: true,
	ferment.DeedTasted: true, ferment.DeedNote: true, ferment.DeedOakIn: true, ferment.DeedOakOut: true, ferment.DeedMustMade: true,
}

// quiet reports plain deeds and notes of now, without a figure that somebody may
// want to check: what was measured, added or dated is read back.
func quiet(es []ferment.Entry) bool {
	for _, e := range es {
		plain := e.Quantity == ferment.QEvent && quietDeeds[e.Deed] || e.Quantity == ferment.QNote && (e.Deed == "" || quietDeeds[e.Deed])
		if !plain || e.Has || e.DayOnly || e.TypedAt.Sub(e.At) > time.Hour {
			return false
		}
	}
	return len(es) > 0
}
