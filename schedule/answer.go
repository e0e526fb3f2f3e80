package schedule

import (
	"strings"
	"time"

	"mustbook/ferment"
)

// Snooze puts a reminder off. The zero value puts nothing off.
type Snooze struct {
	For      time.Duration // so long from the tap
	Days     int           // so many days on
	Saturday bool          // the next Saturday
}

// Effect is what a button means. Several may hold: "Clear: racked" logs a deed and
// sets a flag. Every button settles the reminder but those that put it off.
type Effect struct {
	Deed     string // logged at the time of the tap, with "earlier…" offered
	Material string // what went in, of an addition
	Key      string // a setting of the batch to write
	Value    string // its text
	Flag     string // a yes of the batch to write
	Ask      string // what to ask for: gravity, temperature, both, ph, so2, volume, date, note, water, limit, bottles, tasting, who
	Show     string // what to show: steps, stuck, danger, list, refuse
	Snooze   Snooze
	Mute     bool // the rule is silent for this subject from now on
	Undo     bool // the entry that set it off is taken back
}

// Off reports that the button only puts the reminder off.
func (e Effect) Off() bool { return e.Snooze != Snooze{} }

// Asks reports a button that only shows or asks for something: another one under the
// same reminder may still be tapped.
func (e Effect) Asks() bool {
	return (e.Show != "" || e.Ask != "") && e.Deed == "" && e.Key == "" && e.Flag == "" && !e.Mute
}

// tap is a button under a rule.
type tap struct{ rule, label string }

// common are the buttons that mean the same under every rule. A button that asks
// for a figure opens a question; one that logs a deed records it at the time of the
// tap and offers "earlier…"; one that puts off ends no series; the empty ones only
// settle the reminder, and some rules read that answer later.
var common = map[string]Effect{
	"Type gravity":      {Ask: "gravity"},
	"Type temperature":  {Ask: "temperature"},
	"Type temperatures": {Ask: "temperature"},
	"Type both":         {Ask: "both"},
	"Type pH":           {Ask: "ph"},
	"Type SO2":          {Ask: "so2"},
	"Volume is…":        {Ask: "volume"},
	"Pick a date":       {Ask: "date"},
	"Add note":          {Ask: "tasting"},
	"Change limit":      {Ask: "limit"},
	"It reads…":         {Ask: "water"},
	"Bottled…":          {Ask: "bottles"},
	"Somebody…":         {Ask: "who"},
	"Working":           {Deed: ferment.DeedWorking},
	"Working after all": {Deed: ferment.DeedWorking},
	"Not yet":           {},
	"Still nothing":     {Deed: ferment.DeedNotWorking},
	"Pitched now":       {Deed: ferment.DeedPitched},
	"Re-pitched":        {Deed: ferment.DeedPitched},
	"Racked":            {Deed: ferment.DeedRacked},
	"Racked already":    {Deed: ferment.DeedRacked},
	"Strained":          {Deed: ferment.DeedStrained},
	"Pressed":           {Deed: ferment.DeedPressed},
	"Stabilised":        {Deed: ferment.DeedStabilised},
	"Topped up":         {Deed: ferment.DeedToppedUp},
	"Topped water":      {Deed: ferment.DeedAirlock},
	"Airlock ok":        {Deed: ferment.DeedAirlock},
	"All fine":          {Deed: ferment.DeedAirlock},
	"Brought in":        {Deed: ferment.DeedColdEnd},
	"Laid down":         {Deed: ferment.DeedLaidDown},
	"Labelled":          {Deed: ferment.DeedLabelled},
	"Out":               {Deed: ferment.DeedOakOut},
	"Moved it":          {Deed: ferment.DeedMoved},
	"It's empty":        {Deed: ferment.DeedEmpty},
	"Last one gone":     {Deed: ferment.DeedEmpty},
	"Bottled":           {Ask: "bottles"},
	"Already bottled":   {Show: "danger"},
	"Saw a film":        {Ask: "note", Show: "film"},
	"Show steps":        {Show: "steps"},
	"Check list":        {Show: "stuck"},
	"Show list":         {Show: "list"},
	"Raised corks":      {Show: "danger"},
	"Some fizz":         {Show: "danger"},
	"It's meant sweet":  {Key: ferment.SetMeantSweet, Value: "on"},
	"It's meant fizzy":  {Key: ferment.SetMeantFizzy, Value: "on"},
	"Malolactic wanted": {Key: ferment.SetMLF, Value: "wanted"},
	"No hydrometer":     {Flag: "no hydrometer"},
	"No meter":          {Flag: "no meter"},
	"No labels":         {Flag: "no labels"},
	"Later 1 h":         {Snooze: Snooze{For: time.Hour}},
	"Later 6 h":         {Snooze: Snooze{For: 6 * time.Hour}},
	"Later":             {Snooze: Snooze{Days: 1}},
	"Tomorrow":          {Snooze: Snooze{Days: 1}},
	"Remind Sat":        {Snooze: Snooze{Saturday: true}},
	"In 2 days":         {Snooze: Snooze{Days: 2}},
	"2 more days":       {Snooze: Snooze{Days: 2}},
	"A week more":       {Snooze: Snooze{Days: 7}},
	"In 2 wk":           {Snooze: Snooze{Days: 14}},
	"Remind in 3 wk":    {Snooze: Snooze{Days: 21}},
	"In 3 months":       {Snooze: Snooze{Days: 91}},
	"Stop these":        {Mute: true},
	"Off":               {Mute: true},
	"Drop it":           {Mute: true},
	"Undo":              {Undo: true},
}

// special are the buttons whose meaning hangs on the rule. "Done" records no
// numbers: what was measured is typed.
var special = map[tap]Effect{
	{"R06", "Done"}:             {Deed: ferment.DeedStirred},
	{"R08a", "Nutrient in"}:     {Deed: ferment.DeedAddition, Material: "nutrient"},
	{"R14", "Meant to be slow"}: {},
	{"R15", "Type gravity"}:     {Ask: "gravity"},
	{"R20", "Sorbate added"}:    {Deed: ferment.DeedAddition, Material: "potassium sorbate"},
	{"R20", "Sulphite added"}:   {Deed: ferment.DeedAddition, Material: "potassium metabisulphite"},
	{"R20", "Sulphite only"}:    {Flag: "no sorbate"},
	{"R21", "Done"}:             {Deed: ferment.DeedDegassed},
	{"R22", "Added"}:            {Deed: ferment.DeedFined},
	{"R23", "Clear: racked"}:    {Deed: ferment.DeedRacked, Flag: "clear"},
	{"R24", "Finished"}:         {Deed: ferment.DeedMLFDone},
	{"R25", "Sulphited"}:        {Deed: ferment.DeedAddition, Material: "potassium metabisulphite"},
	{"R29", "No kit"}:           {Flag: "no so2 kit"},
	{"R32", "It fell"}:          {Ask: "gravity", Show: "refuse"},
	{"R32", "Same"}:             {Ask: "gravity"},
	{"R33", "Gas"}:              {Ask: "gravity"},
	{"R36", "Leaker"}:           {Ask: "note"},
	{"R41", "Pause"}:            {Flag: "paused"},
	{"R42", "Nobody: pause"}:    {Key: "away", Value: "pause"},
	{"R47", "1.000"}:            {Deed: ferment.DeedCheck},
	{"R48", "New one"}:          {Key: "tub", Value: "new"},
	{"R41", "All well"}:         {Deed: ferment.DeedNote},
}

// Answer returns what a button of a rule means, by its label. A label that is not
// known only settles the reminder: its answer is kept as said.
func Answer(rule, button string) Effect {
	button = strings.TrimSpace(button)
	if e, ok := special[tap{rule, button}]; ok {
		return e
	}
	return common[button]
}

// Until returns the instant a snooze ends, for a reminder that was pressed at now.
// A snooze to a day ends in its morning; a normal reminder then goes with that
// day's bundle.
func (s Snooze) Until(h House, w Weight, now time.Time) time.Time {
	loc := h.zone()
	switch {
	case s.Saturday:
		days := (int(time.Saturday) - int(now.In(loc).Weekday()) + 7) % 7
		if days == 0 {
			days = 7
		}
		return atClock(now, days, morning, loc)
	case s.Days > 0 && w == Normal:
		return atClock(now, s.Days, morning, loc)
	case s.Days > 0:
		return addDays(now, s.Days, loc)
	}
	return now.Add(s.For)
}
