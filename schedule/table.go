package schedule

import "time"

// Short names for the spans of the table. A day of the table is a day of the
// calendar wherever it is added to an instant.
const (
	minute = time.Minute
	hour   = time.Hour
	day    = 24 * time.Hour
	week   = 7 * day
)

// Rule is one row of the table: what is known of a reminder beside what it counts
// from. Intervals and ranges are common practice of the trade unless a kit's sheet
// or the household says otherwise.
type Rule struct {
	ID      string
	Weight  Weight
	Default time.Duration // 0: at once, or by what the rule itself finds
	Min     time.Duration // the interval may be set from Min to Max
	Max     time.Duration
	Repeat  time.Duration // unanswered, it is told once more after this; 0: never
	Keep    time.Duration // later than this after its time it no longer matters; 0: until moot
	AtOnce  bool          // set off by a message
}

// WeeklyID is the id of the weekly round-up, which is no reminder of the table.
const WeeklyID = "weekly"

// table holds all rules in their order.
var table = []Rule{
	// The start. R03 to R05 and R51 are each other's repeats, so none has its own;
	// a start gravity is worth asking for until about a day after the must.
	{ID: "R01", Weight: Timed, Default: day, Min: 12 * hour, Max: 36 * hour},
	{ID: "R02", Weight: Timed, Default: 2 * hour, Min: hour, Max: 12 * hour, Keep: day},
	{ID: "R03", Weight: High, Default: day, Min: 12 * hour, Max: 72 * hour},
	{ID: "R04", Weight: High, Default: 48 * hour, Min: 36 * hour, Max: 72 * hour},
	{ID: "R05", Weight: High, Default: 72 * hour, Min: 60 * hour, Max: 96 * hour},
	// Primary. A stirring that was missed is not made up; the readings are each
	// other's repeats, the check, the racking and the straining are repeated once.
	{ID: "R06", Weight: Timed, Default: 12 * hour, Min: 6 * hour, Max: day, Keep: 4 * hour},
	{ID: "R07", Weight: Normal, Default: 48 * hour, Min: day, Max: 4 * day},
	// A step that was missed by a day belongs to the next one.
	{ID: "R08a", Weight: Timed, Keep: day},
	{ID: "R08b", Weight: Timed, Keep: 2 * day},
	{ID: "R09", Weight: Normal, Default: 7 * day, Min: 5 * day, Max: 10 * day, Repeat: 2 * day},
	{ID: "R10", Weight: Normal, Default: day, Max: 3 * day, Repeat: 3 * day},
	{ID: "R11", Weight: Normal, Default: 5 * day, Min: 3 * day, Max: 14 * day, Repeat: 2 * day},
	// Heat. A temperature of half a day ago says little of now.
	{ID: "R12a", Weight: Urgent, Keep: 12 * hour, AtOnce: true},
	{ID: "R12b", Weight: High, Keep: 12 * hour, AtOnce: true},
	{ID: "R12c", Weight: Normal, Keep: 48 * hour, AtOnce: true},
	{ID: "R13", Weight: Timed, Keep: 4 * hour},
	// The end of fermentation. Cold and stuck are said once a pitch and stay open;
	// what proves the stop is worth a repeat.
	{ID: "R14", Weight: High, AtOnce: true},
	{ID: "R15", Weight: High, Default: 3 * day, Min: 2 * day, Max: 5 * day, AtOnce: true},
	{ID: "R16", Weight: Normal, Default: week, Min: 5 * day, Max: 14 * day},
	{ID: "R17", Weight: Normal, Default: 3 * day, Min: 2 * day, Max: 7 * day, Repeat: 2 * day},
	{ID: "R18", Weight: Normal, Default: 2 * day, Min: day, Max: 7 * day, Repeat: 2 * day},
	{ID: "R19", Weight: Normal, Default: day, Max: 7 * day, Repeat: week},
	// Minutes and hours: of no use to a later day.
	{ID: "R20", Weight: Timed, Default: 30 * minute, Min: 10 * minute, Max: day, Keep: day},
	{ID: "R21", Weight: Timed, Default: 12 * hour, Min: 4 * hour, Max: day, Keep: 2 * day},
	{ID: "R22", Weight: Timed, Default: hour, Min: 10 * minute, Max: day, Keep: 2 * day},
	// Clearing, malolactic, racking, air, sulphite: slow things, repeated slowly.
	// R24 and R28 come again by themselves.
	{ID: "R23", Weight: Normal, Default: 14 * day, Min: week, Max: 28 * day, Repeat: week},
	{ID: "R24", Weight: Normal, Default: 21 * day, Min: 14 * day, Max: 42 * day},
	{ID: "R25", Weight: Normal, Default: day, Max: 5 * day, Repeat: 3 * day},
	{ID: "R26", Weight: Normal, Default: 42 * day, Min: 21 * day, Max: 120 * day, Repeat: 2 * week},
	{ID: "R27", Weight: Normal, Default: day, Max: week, Repeat: week},
	{ID: "R28", Weight: Normal, Default: 2 * week, Min: week, Max: 30 * day},
	{ID: "R29", Weight: Normal, Default: 42 * day, Min: 28 * day, Max: 90 * day, Repeat: 2 * week},
	{ID: "R30", Weight: Normal},
	// The cold, sweetening, blending, bottling.
	{ID: "R31", Weight: Normal, Default: 2 * week, Min: week, Max: 28 * day, Repeat: week},
	{ID: "R32", Weight: High, Default: 10 * day, Min: week, Max: 21 * day, Repeat: 4 * day},
	{ID: "R33", Weight: Normal, Default: 14 * day, Min: week, Max: 30 * day, Repeat: week},
	{ID: "R34", Weight: Normal},
	// Bottles. What can burst stays due until it is answered.
	{ID: "R35", Weight: Urgent, AtOnce: true},
	{ID: "R36", Weight: Normal, Default: 3 * day, Min: day, Max: week, Repeat: 3 * day},
	{ID: "R37", Weight: High, Default: 14 * day, Min: 5 * day, Max: 60 * day},
	{ID: "R38", Weight: Normal, Default: week, Min: day, Max: 30 * day, Repeat: 2 * week},
	{ID: "R39", Weight: Normal, Min: 14 * day, Max: 730 * day},
	{ID: "R40", Weight: Normal},
	// At any time, and for the whole house.
	{ID: "R41", Weight: Normal, Min: week, Max: 180 * day},
	{ID: "R42", Weight: Normal, Default: 2 * day},
	{ID: "R43", Weight: Normal, Keep: 4 * day},
	// Part of the answer to a message; a day later nobody needs them.
	{ID: "R44", Weight: Normal, Keep: 2 * day, AtOnce: true},
	{ID: "R45", Weight: High, Keep: 2 * day, AtOnce: true},
	{ID: "R46", Weight: Normal},
	{ID: "R47", Weight: Normal},
	{ID: "R48", Weight: Normal, Default: 365 * day, Min: 180 * day, Max: 730 * day},
	{ID: "R49", Weight: Normal, Default: 14 * day, Min: 3 * day, Max: 60 * day},
	{ID: "R50", Weight: Timed, Repeat: day},
	{ID: "R51", Weight: High, Default: day, Min: 12 * hour, Max: 48 * hour},
	{ID: WeeklyID, Weight: Normal, Keep: 2 * day},
}

// press orders what is due together, the most pressing first: what can hurt
// somebody, then what spoils a wine within hours, within days, within weeks, then
// what only keeps the book whole. What is not named comes last.
var press = rank("R35", "R12a", "R37", "R15", "R14", "R05", "R04", "R51", "R03", "R12b", "R32", "R45", "R12c", "R42", "R43",
	"R02", "R01", "R06", "R08a", "R08b", "R20", "R22", "R21", "R13", "R50", "R10", "R11", "R18", "R17", "R09", "R07", "R25",
	"R19", "R30", "R31", "R36", "R27", "R29", "R24", "R16", "R34", "R33", "R49", "R23", "R26", "R28", "R44", "R38", "R41", "R47",
	"R48", "R46", "R40", "R39")

var index = indexed()

// indexed finds the rules of the table by their ids.
func indexed() map[string]int {
	m := map[string]int{}
	for i, r := range table {
		m[r.ID] = i
	}
	return m
}

// rank gives ids negative ranks in their order; what is not among them has rank 0,
// behind them all.
func rank(ids ...string) map[string]int {
	m := map[string]int{}
	for i, id := range ids {
		m[id] = i - len(ids)
	}
	return m
}

// pressing ranks an item; lower is more pressing.
func pressing(it Item) int { return press[it.Rule] }

// ruleOf returns a rule that is known to be in the table.
func ruleOf(id string) *Rule { return &table[index[id]] }

// Rules returns the table in its order, the weekly round-up last.
func Rules() []Rule { return append([]Rule(nil), table...) }

// RuleOf returns a rule by its id; false where there is none.
func RuleOf(id string) (Rule, bool) {
	i, ok := index[id]
	if !ok {
		return Rule{}, false
	}
	return table[i], true
}

// Settable reports whether a rule's interval may be set to d. A rule without a
// range counts from something that is no interval: a temperature, a request.
func (r Rule) Settable(d time.Duration) bool { return r.Max > 0 && d >= r.Min && d <= r.Max }

// Mutable reports whether a household may switch a reminder off. What can hurt
// somebody may be answered, but not silenced.
func (r Rule) Mutable() bool { return r.Weight != Urgent && r.ID != "R37" }
