package say

import (
	"fmt"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"mustbook/ferment"
)

// newsFor is how long a reading is worth telling again.
const newsFor = 14 * 24 * time.Hour

// WeekLine is a batch in the round-up of the week: its day, its last gravity, what comes
// next, in a second line where one does not hold it.
func (s Style) WeekLine(b *ferment.State, next []Next) []string {
	name := ShortName(b.Name)
	if b.Last != nil && (b.Has(ferment.Stuck) || len(next) > 0 && next[0].What == "R15") {
		return []string{name + ": " + s.stuckWeek(b)}
	}
	day, read := "", ""
	if !b.Pitched.IsZero() {
		day = ", " + s.DayOf(b, s.Now)
	}
	switch {
	case b.Last == nil || !b.Bottled.IsZero():
	case s.Now.Sub(b.Last.At) < newsFor:
		read = ": " + s.SG(b.Last.SG) + " " + s.Day(b.Last.At)
	case b.Stop.Verdict == ferment.StopNo: // it works, for all that is known
		read = ": unread " + s.days(b.Last.At)
	}
	if len(next) == 0 {
		return []string{name + day + read}
	}
	do := s.dated(next[0])
	for _, head := range []string{name + day + read, name + read} {
		if whole := head + ". " + do; utf8.RuneCountInString(whole) <= Width {
			return []string{whole}
		}
	}
	return append([]string{name + day + read + "."}, Wrap(do)...)
}

// days counts the days since an instant: "26 days".
func (s Style) days(since time.Time) string {
	return plural(daysBetween(since.In(s.zone()), s.Now.In(s.zone())), "day")
}

// dated is a step with its day by number: on a Sunday "Sat" may be yesterday's.
func (s Style) dated(n Next) string {
	if n.What == "R02" { // said without its advice, which stands in the reminder
		n.Do = "Read the start gravity"
	}
	if n.Due.IsZero() || strings.HasSuffix(n.Do, "?") {
		return n.Do
	}
	day := s.Day(n.Due)
	if weekday := n.Due.In(s.zone()).Format("Mon"); day == weekday {
		day = n.Due.In(s.zone()).Format("Mon 2")
	}
	return n.Do + " " + day
}

// aWeek is how long ago a round-up may have told the same.
const aWeek = 7 * 24 * time.Hour

// stuckWeek tells of a stuck batch what is new this week: the warning in the week in which
// it was found, later how far it moved, or for how long nobody has read it.
func (s Style) stuckWeek(b *ferment.State) string {
	since := s.Now.Add(-aWeek)
	switch {
	case b.Stop.Shown.IsZero() && b.Last.At.After(since) || b.Stop.Shown.After(since):
		return s.SG(b.Last.SG) + ", stuck: no bottling"
	case !b.Last.At.After(since):
		return "stuck, unread " + s.days(b.Last.At)
	}
	before := b.Last
	for i := range b.Readings {
		if r := &b.Readings[i]; r.Counts && !r.At.After(since) {
			before = r
		}
	}
	switch fell := int(math.Round(float64(before.SG-b.Last.SG) * 1000)); {
	case fell > 1:
		return fmt.Sprintf("stuck, %d points this week", fell)
	case fell == 1:
		return "stuck, 1 point this week"
	}
	return s.SG(b.Last.SG) + ", stuck, no move"
}
