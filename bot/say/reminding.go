package say

import (
	"fmt"
	"strings"
	"time"

	"mustbook/ferment"
)

// reminderNames are what the answers call a reminder.
var reminderNames = map[string]string{
	"R01": "pitching", "R02": "start gravity", "R03": "start check", "R04": "second check", "R05": "no start", "R06": "stirring",
	"R07": "readings", "R08a": "nutrient steps", "R08b": "sugar steps", "R09": "primary check", "R10": "ready to rack", "R11": "straining",
	"R12a": "heat", "R12b": "heating up", "R12c": "fast", "R13": "heat wave", "R14": "cold", "R15": "stuck", "R16": "weekly readings",
	"R17": "second reading", "R18": "closing reading", "R19": "stabilising", "R20": "second substance", "R21": "degassing",
	"R22": "second finings", "R23": "clearing", "R24": "malolactic test", "R25": "malolactic done", "R26": "racking again", "R27": "topping up",
	"R28": "airlocks", "R29": "SO2 test", "R30": "pH", "R31": "cold stabilising", "R32": "after sweetening", "R33": "after blending",
	"R34": "bottling day", "R35": "not safe", "R36": "laying down", "R37": "bottle look", "R38": "labels", "R39": "first tasting",
	"R40": "best time", "R41": "silent batch", "R42": "holiday", "R43": "welcome back", "R44": "guests", "R45": "ventilation",
	"R46": "year total", "R47": "hydrometer check", "R48": "tubs", "R49": "oak", "R50": "own reminder", "R51": "restart check",
	"weekly": "weekly round-up",
}

// ReminderName is what the answers call a reminder.
func ReminderName(rule string) string { return reminderNames[rule] }

// Labels of the buttons that put a reminder off.
const (
	SnoozeHours    = "6 h"
	SnoozeTomorrow = "Tomorrow"
	SnoozeSaturday = "Saturday"
	SnoozePick     = "Pick a day"
	Later          = "Later"
	Earlier        = "Earlier…"
)

// SnoozeWhen asks until when.
func SnoozeWhen(what string) []string { return []string{what + ": until when?"} }

// Snoozed answers what was put off; byDay where it comes with that day's message.
func (s Style) Snoozed(what string, until time.Time, byDay bool) []string {
	when := s.Moment(until)
	if byDay || until.Sub(s.Now) > 36*time.Hour {
		when = s.Date(until)
	}
	return []string{"I ask again " + when + ":", Clip(what, Width)}
}

// Settled answers a tap on a reminder that was answered before.
func Settled(answer string) []string {
	return []string{"Answered already: " + Clip(strings.ToLower(answer), 20)}
}

// By adds to a line who tapped, where others read along.
func By(line, name string) string {
	if with := line + " (" + Clip(name, 12) + ")"; len([]rune(with)) <= Width {
		return with
	}
	return line
}

// PickDay says how to name a day.
func PickDay() []string { return []string{"Type it like: snooze until 14 oct", "or: snooze 3 days"} }

// NothingToSnooze answers a snooze without a reminder.
func NothingToSnooze() []string {
	return []string{"No reminder of this week is open", "Type: remind me saturday to rack"}
}

// Muted answers that a reminder is off; batch is empty for the whole house.
func Muted(rule, batch string) []string {
	if batch == "" {
		return Wrap("No reminders of " + ReminderName(rule) + " any more")
	}
	return Wrap(Title(batch) + ": no reminders of " + ReminderName(rule))
}

// NeverMuted says why a reminder stays.
func NeverMuted() []string { return []string{"That one can hurt somebody: it stays"} }

// Paused answers that reminders rest; batch is empty for the whole house.
func Paused(batch string) []string {
	who := "Reminders rest"
	if batch != "" {
		who = Title(batch) + ": reminders rest"
	}
	return []string{who, "What can hurt somebody still comes", "On again: unmute"}
}

// PauseOver is the reminder that reminders rested until now; batch is empty for all.
func PauseOver(batch string) string {
	if batch == "" {
		return "reminders rested until now: unmute?"
	}
	return Clip(batch, 20) + " rested until now: unmute " + Clip(batch, 20) + "?"
}

// Unmuted answers that reminders are on again; rule and batch are empty for all.
func Unmuted(rule, batch string) []string {
	t := "Reminders are on again"
	if rule != "" {
		t = "Reminders of " + ReminderName(rule) + " are on again"
	}
	if batch != "" {
		t = Title(batch) + ": " + strings.ToLower(t[:1]) + t[1:]
	}
	return Wrap(t)
}

// Span renders an interval as a household says it: "36 h", "10 days".
func (s Style) Span(d time.Duration) string {
	if d < 48*time.Hour || d%(24*time.Hour) != 0 {
		return s.number(d.Hours(), 1) + " h"
	}
	return s.number(d.Hours()/24, 0) + " days"
}

// Interval answers that an interval was set.
func (s Style) Interval(rule, batch string, d time.Duration) []string {
	after := " after "
	switch rule {
	case "R06", "R07", "R16", "R24", "R28", "R29":
		after = " every "
	}
	t := ReminderName(rule) + after + s.Span(d)
	if batch != "" {
		return Wrap(Title(batch) + ": " + t)
	}
	return Wrap(strings.ToUpper(t[:1]) + t[1:] + ", every batch")
}

// OutOfRange says between what an interval may be set.
func (s Style) OutOfRange(rule string, low, high time.Duration) []string {
	if high == 0 {
		return Wrap("There is no interval to set for " + ReminderName(rule))
	}
	t := ReminderName(rule)
	if low == 0 {
		return Wrap(strings.ToUpper(t[:1]) + t[1:] + ": at most " + s.Span(high))
	}
	from := s.Span(low)
	if low == 24*time.Hour && high > 48*time.Hour {
		from = "1 day"
	}
	return Wrap(strings.ToUpper(t[:1]) + t[1:] + ": " + from + " to " + s.Span(high))
}

// Away answers a holiday: who minds the batches, and what to see to before. young
// tells of a batch that will be under ten days old then (common practice, no source).
func (s Style) Away(from, last time.Time, minder string, pause, young bool) []string {
	t := fmt.Sprintf("Away %s–%s", s.Date(from), s.Date(last))
	lines := []string{t}
	switch {
	case pause:
		lines = append(lines, "Reminders rest; what can hurt does not")
	case minder != "":
		lines = append(lines, Clip(minder, 20)+" is reminded meanwhile")
	}
	lines = append(lines, "Airlocks full, lively ones into larger", "jars, sun off")
	if young {
		lines[len(lines)-1] += ". Under 10 days: not alone"
	}
	return lines
}

// AwayWhen asks for the days of a holiday.
func AwayWhen() []string {
	return []string{"When? Like: away 1-15 aug, jo minds it", "or: away until sunday, nobody"}
}

// AwayOver answers the end of a holiday.
func AwayOver() []string { return []string{"Welcome back: reminders as before"} }

// AwayPaused answers that nobody minds the batches of a holiday.
func AwayPaused() []string {
	return []string{"While away reminders rest", "What can hurt somebody still comes"}
}

// NotAway answers the end of a holiday that nobody set.
func NotAway() []string {
	return []string{"No holiday is set", "Type it like: away 1-15 aug, jo minds it"}
}

// Minding answers who is reminded of a batch, or of all while the house is away.
func Minding(what, who string) []string {
	if who == "" {
		return Wrap(what + ": reminders come to its chat")
	}
	return Wrap(what + ": " + Clip(who, 20) + " is reminded")
}

// CannotReach says that a minder has no private chat here.
func CannotReach(who string) []string {
	return []string{"I reach " + Clip(who, 14) + " once they write to me", "in private; till then they come here"}
}

// StepsSet answers the steps of a recipe.
func (s Style) StepsSet(batch, material, amount string, hours []float64) []string {
	var parts []string
	unit := "h"
	for _, h := range hours {
		if h > 72 || h < 24 {
			unit = map[bool]string{true: "h", false: "day"}[h < 24]
		}
	}
	for _, h := range hours {
		if unit == "day" {
			h /= 24
		}
		parts = append(parts, s.number(h, 1))
	}
	first := fmt.Sprintf("%s: %s in %d steps", Title(batch), material, len(hours))
	second := "At " + strings.Join(parts, ", ") + " h after the yeast"
	if unit == "day" {
		second = "Days " + strings.Join(parts, ", ") + " after the yeast"
	}
	lines := append([]string{first}, Wrap(second)...)
	if amount != "" {
		lines = append(lines, Clip(amount, 20)+" each")
	}
	return lines
}

// StepsOff answers that a recipe has no steps.
func StepsOff(batch, material string) []string {
	return Wrap(Title(batch) + ": no " + material + " steps")
}

// KitHasNutrient says why a kit gets no nutrient steps.
func KitHasNutrient(batch string) []string {
	return []string{Title(batch) + ": a kit brings its own nutrient", "No steps set"}
}

// TubOpened answers a new tub.
func (s Style) TubOpened(what string, at time.Time) []string {
	return []string{strings.ToUpper(what[:1]) + what[1:] + " opened " + s.Day(at), "I remind you in a year: it loses strength"}
}

// HeatSet answers a report of hot weather.
func HeatSet(on bool) []string {
	if !on {
		return []string{"Good. No more heat reminders"}
	}
	return []string{"Hot spell noted: I ask morning and", "evening while something works.", "Low and shaded, blinds down"}
}

// PlanNoted answers a plan: it is offered as a reminder.
func (s Style) PlanNoted(what string, at time.Time) []string {
	return append(Wrap("Noted: "+what), "Remind you "+s.Moment(at)+"?")
}

// PlanOnly answers that a plan is no reminder.
func PlanOnly() []string { return []string{"Noted, no reminder"} }

// WaterRead answers that a hydrometer was found true.
func (s Style) WaterRead() []string { return []string{"Hydrometer: " + s.SG(1) + " in water. True"} }

// EarlierWhen says how to give a deed the time at which it was done.
func EarlierWhen() []string { return []string{"When? Type it like: no, yesterday 9pm"} }

// YearList lists the batches of a year with their volumes.
func (s Style) YearList(names []string, litres []float64, made float64) []string {
	lines := []string{"This year so far: " + s.volumeOrNone(made)}
	for i, n := range names {
		if i == Depth-2 && len(names) > Depth-1 {
			lines = append(lines, fmt.Sprintf("and %d more", len(names)-i))
			break
		}
		lines = append(lines, Title(n)+" "+s.Volume(litres[i]))
	}
	return lines
}

// WorkingAgain answers a fall after sweetening.
func (s Style) WorkingAgain(name string) []string {
	return append([]string{Title(name) + " works again: do not bottle", "Airlock on; read it, type it like:"}, s.typable("sg 1.008 at 20c")...)
}

// Reminders tells how a household is reminded: its hours, what is off, its holiday.
func (s Style) Reminders(h ferment.House, off []string, away string) []string {
	roundUp := "Sundays a round-up"
	if h.Flags["no round-up"] {
		roundUp = "No weekly round-up"
	}
	if h.Flags["paused"] {
		roundUp = "All rest till: unmute"
	}
	lines := []string{"Day's message " + h.Bundle + ", quiet " + h.Quiet, roundUp}
	if len(off) > 0 {
		lines = append(lines, Clip("Off: "+strings.Join(off, ", "), Width))
	}
	if away != "" {
		lines = append(lines, away)
	}
	if len(lines) < Depth-1 {
		lines = append(lines, "Type: what next · mute labels · snooze")
	}
	return lines
}

// AwayShort is a holiday in one line.
func (s Style) AwayShort(from, last time.Time, minder string) string {
	t := "Away " + s.Date(from) + "–" + s.Date(last)
	if minder != "" {
		t += ", " + Clip(minder, 12)
	}
	return Clip(t, Width)
}
