package schedule

import (
	"sort"
	"time"
)

// BundleLines is how many lines one message of the day may hold.
const BundleLines = 5

// Bundle returns what a day's message shows, the most pressing first, and how many
// more there are, for "what next". All of them count as made. Where there is more
// the last line is left free to say so.
func Bundle(items []Item) (shown []Item, more int) {
	sorted := Pressing(items)
	if len(sorted) <= BundleLines {
		return sorted, 0
	}
	return sorted[:BundleLines-1], len(sorted) - BundleLines + 1
}

// Pressing sorts items by how pressing they are, the most pressing first.
func Pressing(items []Item) []Item {
	sorted := append([]Item(nil), items...)
	sort.SliceStable(sorted, func(i, j int) bool { return pressing(sorted[i]) < pressing(sorted[j]) })
	return sorted
}

// Split parts what is due now into what goes alone and what goes into one message.
func Split(items []Item) (alone, together []Item) {
	for _, it := range items {
		if it.Bundle {
			together = append(together, it)
		} else {
			alone = append(alone, it)
		}
	}
	return alone, together
}

// Gathering is how far apart equal reminders may fall due and still go as one message:
// two batches are pitched some minutes after each other, and nobody wants to be asked twice.
const Gathering = 15 * time.Minute

// gatheringDay is the same for what is asked by days: the bottles of one afternoon are
// looked at together.
const gatheringDay = 4 * time.Hour

// gathers are the reminders that may share a message with others of their time: what is
// asked of a batch by the hour, and means the same of each. What can hurt somebody, what
// has an hour of its own wish, and what takes back somebody's entry goes alone.
var gathers = map[string]bool{"R01": true, "R02": true, "R03": true, "R04": true, "R05": true, "R06": true, "R08a": true,
	"R08b": true, "R21": true, "R22": true, "R32": true, "R37": true, "R51": true}

// Gathers reports that a reminder may share a message with others of its time.
func Gathers(rule string) bool { return gathers[rule] }

// Shared reports that a reminder says one thing of several batches at once, where it can:
// beside what is asked by the hour, that their gas fills one room.
func Shared(rule string) bool { return gathers[rule] || rule == "R45" }

// Soon leaves of a plan what falls due so shortly after now that it goes with what is
// due. What falls due to the minute by the household's own word waits for its minute.
func Soon(items []Item, now time.Time) []Item {
	var out []Item
	for _, it := range items {
		within := Gathering
		if it.Rule == "R37" || it.Rule == "R32" {
			within = gatheringDay
		}
		if Gathers(it.Rule) && !it.Open && !it.Bundle && !it.AtOnce && it.Rule != "R22" && it.Due.After(now) && !it.Due.After(now.Add(within)) {
			out = append(out, it)
		}
	}
	return out
}
