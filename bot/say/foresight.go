package say

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

// Ahead is what the questions about a batch's future are answered from.
type Ahead struct {
	Outlook Outlook
	Days    []Crossing // of each threshold below the last gravity
	Rate    float64    // points a day now; 0: not known
	Gate    []ferment.Refusal
	Next    []Next
}

// Foresight answers when and whether: the verdict first, then what it rests on.
func (s Style) Foresight(question string, b *ferment.State, a Ahead) []string {
	name := Title(b.Name)
	if b.Has(ferment.Stuck) {
		return []string{name + ": stuck, not finished", fmt.Sprintf("At %s, about %s sugar left", s.SG(b.Last.SG), s.PerLitre(b.SugarLeft)),
			"Warm to " + s.Between(20, 22) + " slowly, swirl lees,", "read in 2 days. No dry yeast on top;", "do not stabilise or bottle"}
	}
	if question == "when_bottle" {
		return s.whetherToBottle(b, a)
	}
	verdict := s.foreseen(question, b, a)
	if question == "when_rack" { // the verdict has said it
		a.Next = slices.DeleteFunc(slices.Clone(a.Next), func(n Next) bool { return n.What == "R10" })
	}
	return Answer([]string{name + ": " + verdict}, s.interval(question, verdict, a), s.pace(b, a), s.NextLine(a.Next, Outlook{}))
}

func (s Style) whetherToBottle(b *ferment.State, a Ahead) []string {
	switch {
	case len(a.Gate) == 0:
		return s.SafeToBottle(b)
	case b.Stage == ferment.Must || b.Last == nil:
		return []string{Title(b.Name) + ": not for weeks yet", "It must ferment out, stop, clear", s.NextLine(a.Next, Outlook{})}
	}
	lines := s.NotSafe(b, a.Gate)
	last := &lines[len(lines)-1]
	if next := s.NextLine(a.Next, Outlook{}); next != "" && strings.HasPrefix(*last, airlockOn) && s.Now.Sub(b.Last.At) < 24*time.Hour {
		*last = airlockOn + ". " + next // it was read just now
	}
	return lines
}

// foreseen is the answer in a few words.
func (s Style) foreseen(question string, b *ferment.State, a Ahead) string {
	stopped := b.Stop.Verdict != ferment.StopNo
	switch question {
	case "when_rack":
		switch {
		case len(b.Racked) > 0:
			return "racked " + s.Day(b.Racked[len(b.Racked)-1])
		case b.Last != nil && !b.Pitched.IsZero() && b.Last.SG <= liquid.Gravity(b.Plan.RackAt):
			return "rack it now, at " + s.SG(b.Last.SG)
		case a.Outlook.Rack != nil:
			return "rack about " + s.weekday(*a.Outlook.Rack)
		}
		return fmt.Sprintf("rack it at %s or below", s.fixed(b.Plan.RackAt, 3))
	case "is_stuck":
		switch {
		case stopped:
			return "not stuck, it has stopped"
		case a.Outlook.Verdict == "slow":
			return "slow, not stuck"
		case a.Outlook.Verdict == "":
			return "too few readings to tell"
		}
		return "not stuck"
	}
	switch {
	case stopped:
		return strings.Replace(s.stoppedLine(b), "Stopped", "stopped", 1)
	case question == "is_stopped" && b.Last != nil:
		return "not shown to have stopped"
	case s.lowest(a) != nil:
		c := s.lowest(a)
		return s.fixed(c.Target, 3) + " about " + s.weekday(*c)
	case len(b.Readings) < 2:
		return "too few readings to tell a day"
	}
	return "nobody can tell a day yet"
}

// unlikely is the chance of never getting there from which no day is told.
const unlikely = 0.9

// pace is how fast it falls.
func (s Style) pace(b *ferment.State, a Ahead) string {
	if b.Last == nil || b.Stop.Verdict != ferment.StopNo {
		return ""
	}
	now := fmt.Sprintf("%s %s", s.SG(b.Last.SG), s.On(b.Last.At))
	if a.Rate > 0 {
		return fmt.Sprintf("%s, falls %s points a day", now, s.Number(a.Rate, 1))
	}
	return now
}

// weekday is the median day of a crossing.
func (s Style) weekday(c Crossing) string { return c.Median.In(s.zone()).Format("Mon 2 Jan") }

// lowest is the last threshold that will likely be reached; nil where none is.
func (s Style) lowest(a Ahead) *Crossing {
	for i := len(a.Days) - 1; i >= 0; i-- {
		if c := &a.Days[i]; c.Never < unlikely && !c.Median.IsZero() {
			return c
		}
	}
	return nil
}

// interval is the crossing that the answer rests on, with its doubt; a day that the
// verdict has told is not told again.
func (s Style) interval(question, verdict string, a Ahead) string {
	c := s.lowest(a)
	if question == "when_rack" && a.Outlook.Rack != nil {
		c = a.Outlook.Rack
	}
	if c == nil {
		return ""
	}
	if strings.HasSuffix(verdict, s.weekday(*c)) && !s.over(*c) {
		return s.fixed(c.Target, 3) + " likely " + s.within(*c)
	}
	return s.Cross(*c)
}
