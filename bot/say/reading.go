package say

import (
	"fmt"
	"math"
	"strings"
	"time"

	"mustbook/ferment"
)

// Labels of buttons that the conversation knows by name.
const (
	Keep    = "Keep"
	Drop    = "Leave it out"
	PutBack = "Put it back"
	Undo    = "Undo"
	More    = "More"
)

// House is what an entry of no batch goes by.
const House = "house"

// NameWidth is the most characters of a batch's name in a line.
const NameWidth = 18

// Title is a batch's name fit for the first line of an answer.
func Title(name string) string {
	if name = Clip(name, NameWidth); name == "" {
		return "batch"
	}
	return name
}

// Next is what to do next with a batch, and when; a zero Due means at any time.
type Next struct {
	What string // an id of the reminders, or empty
	Do   string // "Read", "Rack"
	Due  time.Time
}

// Crossing is a forecast day with its interval.
type Crossing struct {
	Target            float64
	Median, Low, High time.Time
	Never             float64
}

// Outlook is what the forecast adds to an answer; the zero value adds nothing.
type Outlook struct {
	Rack    *Crossing
	Verdict string // on course, slow, stuck; empty: unknown
}

// Reading answers a gravity: the corrected value, what was typed, how it goes.
func (s Style) Reading(b *ferment.State, r ferment.Reading, prev *ferment.Reading, o Outlook, next []Next) []string {
	l1 := fmt.Sprintf("%s, %s: %s", Title(b.Name), s.DayOf(b, r.At), s.SG(r.SG))
	if b.Pitched.IsZero() || r.Entry.Root == b.OGRoot {
		l1 = s.startLine(b, r)
	}
	if v := s.verdict(b, o); v == "stuck" || v == "slow" {
		l1 += ", " + v
	}
	if s.verdict(b, o) == "stuck" || b.Stage == ferment.Lag {
		o.Rack = nil // what has not begun has no day to end
	}
	if !r.Counts {
		l1 = fmt.Sprintf("%s: kept as typed, not used", Title(b.Name))
	}
	last := s.NextLine(next, o)
	if b.Sheet == ferment.SheetUnder && b.Pitched.IsZero() {
		last = "" // first it is read again
	}
	return []string{l1, s.typedLine(r, prev), s.courseLine(b, r, o), s.soFar(b), last}
}

func (s Style) startLine(b *ferment.State, r ferment.Reading) string {
	l := fmt.Sprintf("%s, day 0: %s", Title(b.Name), s.SG(r.SG))
	switch b.Sheet {
	case ferment.SheetInside:
		return l + ", inside the sheet"
	case ferment.SheetUnder:
		return l + ", under the sheet"
	case ferment.SheetOver:
		return l + ", over the sheet"
	}
	return fmt.Sprintf("%s, day 0: start %s", Title(b.Name), s.SG(r.SG))
}

// DayOf counts the days of a batch from its pitch, before it from nothing.
func (s Style) DayOf(b *ferment.State, at time.Time) string {
	from := b.Pitched
	if from.IsZero() || at.Before(from) {
		return "day 0"
	}
	return fmt.Sprintf("day %d", daysBetween(from.In(s.zone()), at.In(s.zone())))
}

func (s Style) typedLine(r ferment.Reading, prev *ferment.Reading) string {
	t := "typed " + Clip(r.Entry.Typed, 12)
	if r.Entry.Unit != "" && r.Entry.Unit != "sg" {
		t += " " + r.Entry.Unit
	}
	switch {
	case r.TempC != nil:
		t += " at " + s.Temp(*r.TempC)
	case r.Entry.Instrument != "refractometer":
		t += ", no temperature"
	}
	if n := ferment.InstrumentName(r.Entry.Instrument); n != "" {
		t += ", " + Clip(n, 14)
	}
	if prev != nil && len([]rune(t)) < 26 {
		t += fmt.Sprintf("; %s %s", s.SG(prev.SG), s.Day(prev.At))
	}
	return t
}

// courseLine says how it goes, in one of the verdict words.
func (s Style) courseLine(b *ferment.State, r ferment.Reading, o Outlook) string {
	switch {
	case !r.Counts && r.Entry.Instrument == "refractometer":
		return "Alcohol bends light: not on the curve"
	case !r.Counts:
		return "Outside 5–35 °C the stem tells too little"
	case b.Sheet == ferment.SheetUnder && b.Pitched.IsZero():
		return "Most often: syrup left on the bottom"
	case b.Pitched.IsZero() || r.Entry.Root == b.OGRoot:
		return fmt.Sprintf("If dry, about %s %% vol", s.ABV(b.Potential))
	case b.Stage == ferment.Bottled:
		return "Bottled; this reading is for the record"
	}
	switch s.verdict(b, o) {
	case "stuck":
		return fmt.Sprintf("Not finished: about %s sugar left", s.PerLitre(b.SugarLeft))
	case "stopped":
		return s.stoppedLine(b)
	}
	v := "On course"
	switch {
	case o.Verdict == "slow":
		v = "Slow"
	case b.Stage == ferment.Lag && s.Now.Sub(b.Pitched) >= actAfter:
		return "No start shown in " + s.days(b.Pitched)
	case b.Stage == ferment.Lag:
		return "No start shown yet: that is normal"
	}
	if b.Last != nil && r.At.Before(b.Last.At) { // typed late: what follows is as of the newest
		v = fmt.Sprintf("Since: %s %s;", s.SG(b.Last.SG), s.Day(b.Last.At))
		if b.SugarKnown {
			return fmt.Sprintf("%s %s of sugar gone", v, s.Share(b.Gone))
		}
	}
	if !b.SugarKnown {
		return fmt.Sprintf("%s in %s; start gravity unknown", v, b.Stage)
	}
	if nothingGone(b) {
		return fmt.Sprintf("%s in %s, no fall yet", v, b.Stage)
	}
	line := fmt.Sprintf("%s in %s, %s of sugar gone", v, b.Stage, s.Share(b.Gone))
	if len([]rune(line)) > Width {
		line = strings.Replace(line, " of sugar", " sugar", 1)
	}
	return line
}

func (s Style) verdict(b *ferment.State, o Outlook) string {
	switch {
	case b.Has(ferment.Stuck):
		return "stuck"
	case b.Stop.Verdict != ferment.StopNo:
		return "stopped"
	}
	return o.Verdict
}

func (s Style) stoppedLine(b *ferment.State) string {
	switch b.Stop.Verdict {
	case ferment.StopAsk:
		return fmt.Sprintf("Stopped, about %s left: meant sweet?", s.PerLitre(b.SugarLeft))
	case ferment.StopSweet:
		return "Stopped, with sugar that could ferment"
	case ferment.StopStuck:
		return "Stopped with sugar left: stuck"
	case ferment.StopEnough:
		return fmt.Sprintf("Stopped, about %s left: dry enough", s.PerLitre(b.SugarLeft))
	}
	return fmt.Sprintf("Stopped and dry, shown %s", s.On(b.Stop.Shown))
}

// nothingGone reports figures that mean nothing yet: no fall was read since the start.
func nothingGone(b *ferment.State) bool {
	return b.ABVKnown && math.Round(float64(b.ABV)*10) == 0 && math.Round(b.Gone*20) == 0
}

// soFar is figureLine once there is something to tell.
func (s Style) soFar(b *ferment.State) string {
	if !b.Pitched.IsZero() && nothingGone(b) {
		return ""
	}
	return s.figureLine(b)
}

// figureLine tells the alcohol so far with its doubt.
func (s Style) figureLine(b *ferment.State) string {
	switch {
	case b.Sheet == ferment.SheetUnder && b.Pitched.IsZero():
		return "Stir hard 2 minutes, then read again"
	case b.Pitched.IsZero():
		return ""
	case !b.ABVKnown:
		return "Alcohol: not known, no start gravity"
	}
	least := ""
	if b.ABVLeast {
		least = "At least "
	}
	return fmt.Sprintf("%s%s %% vol so far (± %s)", least, s.ABV(b.ABV), s.Doubt(b.ABVDoubt))
}

// NextLine is what to do and when, with the forecast's day where there is one: the
// first step that leaves room for it.
func (s Style) NextLine(next []Next, o Outlook) string {
	cross := ""
	if o.Rack != nil && o.Rack.Never <= 0.5 {
		if cross = s.Cross(*o.Rack); s.over(*o.Rack) && len(next) > 0 && next[0].Do == "Read" {
			return cross // it says so already
		}
	}
	for _, n := range next {
		line := s.step(n)
		if cross == "" {
			return line
		}
		if line += ". " + cross; len([]rune(line)) <= Width {
			return line
		}
	}
	return cross
}

// Cross tells when a gravity is reached: "1.010 about Sat 14 (Fri–Mon)".
func (s Style) Cross(c Crossing) string {
	if s.over(c) {
		return s.fixed(c.Target, 3) + " by now, likely: read it"
	}
	return fmt.Sprintf("%s about %s (%s)", s.fixed(c.Target, 3), c.Median.In(s.zone()).Format("Mon 2"), s.within(c))
}

// over reports a crossing whose day is past: what was foreseen then is to be read now.
func (s Style) over(c Crossing) bool {
	return daysBetween(s.Now.In(s.zone()), c.Median.In(s.zone())) < 0
}

// within is the doubt of a crossing: from when to when.
func (s Style) within(c Crossing) string {
	z := s.zone()
	day := func(t time.Time) string { return t.In(z).Format("Mon") }
	if daysBetween(c.Low, c.High) >= 6 {
		day = func(t time.Time) string { return t.In(z).Format("2 Jan") }
	}
	if low, high := day(c.Low), day(c.High); low != high {
		return low + "–" + high
	}
	return day(c.Low)
}
