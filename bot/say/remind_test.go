package say

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// long fills every value that a reminder may name: a batch name of 14 characters,
// more than fits of what the household types itself.
var long = map[string]string{
	"batch": "elderberry 126", "h": "72", "sg": "1.0480", "rack_sg": "1.0100", "day": "2026-09-12T09:00:00Z", "n": "12", "m": "14", "months": "14",
	"amount": strings.Repeat("sugar and honey ", 9), "d": "400", "temp": "31.5", "rise": "4.5", "p": "42", "v": "23.46", "air": "1.75",
	"so2": "35", "want": "40", "ph": "3.45", "abv": "12.64", "b": "28", "left": "28", "year": "2026", "name": strings.Repeat("elderberry ", 5),
	"bottled": "2026-12-12T09:00:00Z", "allergens": "sulphites, egg, milk, fish, shellfish, gelatine, nuts, gluten",
	"list": strings.Repeat("elderberry 126, ", 9), "what": strings.Repeat("buy corks and ", 20), "from": "2026-12-23T00:00:00Z",
	"to": "2027-01-14T00:00:00Z", "made": "180.5", "limit": "200", "emergency": "112", "was": "2026-09-12T09:00:00Z",
}

func style(units string) Style {
	return Style{Units: units, Zone: time.UTC, Now: time.Date(2026, 9, 16, 12, 0, 0, 0, time.UTC)}
}

func with(args map[string]string, more ...string) map[string]string {
	out := map[string]string{}
	for k, v := range args {
		out[k] = v
	}
	for _, k := range more {
		out[k] = "1"
	}
	return out
}

func TestNoLineOfAReminderIsTooLong(t *testing.T) {
	for rule := range reminders {
		for _, more := range [][]string{nil, {"ask"}, {"sorbate"}, {"missing"}} {
			for _, units := range []string{"metric", "us", "uk"} {
				lines, buttons := style(units).Reminder(rule, with(long, more...))
				if len(lines) == 0 || len(buttons) == 0 {
					t.Fatalf("%s says nothing", rule)
				}
				for _, l := range lines {
					if n := utf8.RuneCountInString(l); n > ReminderLine || strings.ContainsAny(l, "{}\n") {
						t.Errorf("%s: %d characters: %s", rule, n, l)
					}
				}
				if l := lines[len(lines)-1]; l != "(was due Sat 09:00)" {
					t.Errorf("%s ends with %q", rule, l)
				}
			}
		}
	}
}

// Whatever is not known, each rule has a text that needs no more than the values it
// cannot speak without.
func TestRemindersWithLittleKnown(t *testing.T) {
	few := map[string]string{"batch": "pear", "h": "24", "d": "7", "n": "1", "m": "3", "months": "1", "list": "pear", "what": "rack", "amount": "1 kg",
		"temp": "31", "rise": "5", "p": "30", "rack_sg": "1.010", "sg": "1.010", "air": "2", "from": "2026-09-20T00:00:00Z",
		"to": "2026-09-27T00:00:00Z", "allergens": "egg", "name": "pear", "bottled": "2026-09-20T00:00:00Z", "year": "2027", "made": "90",
		"limit": "100", "day": "2026-09-12T09:00:00Z"}
	for rule := range reminders {
		if lines, _ := style("metric").Reminder(rule, few); len(lines) != 1 {
			t.Errorf("%s: %q", rule, lines)
		}
		if s := style("metric").ReminderShort(rule, few); s == "" || strings.Contains(s, "{") {
			t.Errorf("%s in short: %q", rule, s)
		}
	}
	for _, rule := range []string{"R07", "R11", "R32", "R35"} { // no gravity yet
		if lines, _ := style("metric").Reminder(rule, map[string]string{"batch": "pear", "d": "5"}); len(lines) != 1 {
			t.Errorf("%s without a gravity: %q", rule, lines)
		}
	}
	if lines, _ := style("metric").Reminder("R99", few); lines != nil {
		t.Errorf("R99 says %q", lines)
	}
}

// A line of the day's message holds 41 characters.
func TestShortReminders(t *testing.T) {
	args := with(long)
	delete(args, "was")
	for rule := range reminders {
		if rule == "R43" || rule == "R48" || rule == "R50" {
			continue // they name what the household typed
		}
		if s := style("metric").ReminderShort(rule, args); utf8.RuneCountInString(s) > 41 {
			t.Errorf("%s: %d characters: %s", rule, utf8.RuneCountInString(s), s)
		}
	}
	if got := style("metric").ReminderShort("R03", with(long)); got != "elderberry 126: is it working yet? (was due Sat 09:00)" {
		t.Errorf("late in short: %q", got)
	}
}

// Expected texts follow the household's table of reminders; 30 °C is 86 °F and a
// difference of 5 °C is 9 °F by definition of the scales.
func TestReminderTexts(t *testing.T) {
	for _, c := range []struct {
		rule, units string
		args        map[string]string
		want        string
		button      string
	}{
		{"R03", "metric", map[string]string{"batch": "damson", "h": "24"},
			"damson: pitched 24 h ago. Foam, fizz, cap or smell yet? A still airlock proves nothing. Temperature?", "Not yet"},
		{"R09", "metric", map[string]string{"batch": "damson", "d": "7", "rack_sg": "1.0100"},
			"damson: day 7. Please read gravity + temperature. At or below 1.010 it can be racked off the heavy lees.", "In 2 days"},
		{"R12a", "metric", map[string]string{"batch": "quince", "temp": "31.0000"},
			"quince: 31 °C is hot for it. Wet towel and fan, or ice bottles in a tub round it, slowly: not over 5 °C an hour. No nutrient now. Read again in 4 h.", "Room, not must"},
		{"R12a", "us", map[string]string{"batch": "quince", "temp": "30.0000"},
			"quince: 86 °F is hot for it. Wet towel and fan, or ice bottles in a tub round it, slowly: not over 9 °F an hour. No nutrient now. Read again in 4 h.", "Cooling it"},
		{"R14", "us", map[string]string{"batch": "quince", "temp": "15", "sg": "1.03", "d": "3"},
			"quince: 1.030, hardly moved in 3 days, and only 59 °F. Cold comes first: bring it to 64–70 °F over a day, swirl up the lees, read 2 days after.", "Moved it"},
		{"R19", "metric", map[string]string{"batch": "plum", "sg": "0.9940", "v": "4.5", "ask": "1"},
			"plum: stopped at 0.994. Is malolactic wanted? If not: rack, then sulphite weighed for 4.5 L. Window open, do not breathe the dust.", "Malolactic wanted"},
		{"R50", "metric", map[string]string{"what": "buy corks"}, "You asked to be reminded: buy corks", "Drop it"},
	} {
		lines, buttons := style(c.units).Reminder(c.rule, c.args)
		if len(lines) != 1 || lines[0] != c.want {
			t.Errorf("%s: %q\nwant %q", c.rule, lines, c.want)
		}
		if !slices.Contains(buttons, c.button) {
			t.Errorf("%s: no button %q in %q", c.rule, c.button, buttons)
		}
	}
}

// The buttons are those of the table; where a text has several forms, each of the
// table's is on one of them. R42's name of a member is the bot's to fill.
func TestButtonsOfTheTable(t *testing.T) {
	f, err := os.Open("../../schedule/testdata/reminders.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		var have []string
		for _, w := range reminders[row[0]] {
			have = append(have, strings.Split(w.buttons, " · ")...)
		}
		for label := range strings.SplitSeq(row[2], " · ") {
			if label != "Jo" && !slices.Contains(have, label) {
				t.Errorf("%s has no button %q", row[0], label)
			}
		}
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"short", []string{"short"}},
		{"One two. Three four", []string{"One two.", "Three four"}},
		{"one two three four", []string{"one two", "three four"}},
		{"onetwothreefour", []string{"onetwothree", "four"}},
	} {
		if got := wrap(c.text, 11); !slices.Equal(got, c.want) {
			t.Errorf("wrap(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}
