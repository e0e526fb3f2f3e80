package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
)

// NothingLikeIt answers a description that fits nothing in the book.
func NothingLikeIt() []string {
	return []string{"Nothing in the book fits that", "history shows what there is"}
}

// WhichOfThem asks which of several things is meant.
func WhichOfThem(n int) []string {
	if n > 4 {
		return []string{fmt.Sprintf("%d fit; the newest four. Which?", n)}
	}
	return []string{fmt.Sprintf("%d fit. Which?", n)}
}

// Described names an entry so that it can be told from others like it: batch, what, when.
func (s Style) Described(batch string, es []ferment.Entry) string {
	e := es[0]
	what := s.entry(e)
	if saysMore(e.Deed) && what != e.Deed {
		what = e.Deed
	}
	when := s.Moment(e.At)
	if e.DayOnly {
		when = s.Day(e.At)
	}
	return strings.TrimSpace(fmt.Sprintf("%s %s, %s", Clip(batch, 10), Clip(what, 14), when))
}

// StandsAgain tells what a correction that was undone had changed.
func (s Style) StandsAgain(e ferment.Entry) string { return s.entry(e) + " stands again" }

// TimeAgain answers the undoing of a new time: the entry has its old one.
func (s Style) TimeAgain(name string, e ferment.Entry) []string {
	when := "at " + s.Moment(e.At)
	if e.DayOnly {
		when = s.On(e.At)
	}
	return Wrap(Title(name) + ": " + s.Done([]ferment.Entry{e}) + " stands " + when + " again")
}

// InAgain answers the undoing of a move: the batch that has it again.
func InAgain(name string) []string { return Wrap("It stands in " + Title(name) + " again") }

// setTo renders a setting as the household set it: "rack at 1.012", "check day 6".
func (s Style) setTo(e ferment.Entry) string {
	switch e.Key {
	case ferment.SetRackAt, ferment.SetSheetLow, ferment.SetSheetHigh:
		return e.Key + " " + s.Bare(e.Value)
	case ferment.SetCheckDay:
		return e.Key + " " + s.number(e.Value, 0)
	case ferment.SetReference:
		return strings.TrimSpace(Clip(e.Instrument, 14)+" hydrometer ") + " " + s.Temp(e.Value)
	case ferment.SetThermometer:
		return "thermometer " + s.off(e.Value)
	case ferment.SetBottleML:
		return e.Key + " " + s.Volume(e.Value/1000)
	case ferment.SetYearLimit:
		return e.Key + " " + s.Volume(e.Value)
	case ferment.SetInterval, ferment.SetMute:
		if name := ReminderName(e.Material); name != "" {
			return e.Key + " " + name
		}
		return strings.TrimSpace(e.Key + " " + Clip(e.Material, 20))
	case ferment.SetRemind:
		return "reminder: " + Clip(e.Text, 20)
	case ferment.SetFlag:
		return strings.TrimSpace(Clip(e.Material, 20) + " " + strings.TrimPrefix(e.Text, "on"))
	}
	if e.Text == "on" {
		return e.Key
	}
	return strings.TrimSpace(e.Key + " " + Clip(e.Text, 30))
}
