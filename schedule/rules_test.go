package schedule

import (
	"strings"
	"testing"

	"mustbook/ferment"

	"github.com/google/go-cmp/cmp"
)

// life is one life of a batch and what a rule says in it. The expected instants
// are worked out by hand from the household's table of reminders (common practice
// of the trade), in London time: the bundle at 18:30, quiet from 21:30 to 07:30.
type life struct {
	name   string
	rule   string
	kind   ferment.Kind
	batch  string
	script string
	want   string // "MM-DD HH:MM RULE", one a line; at once ones are under atOnce
	atOnce int
}

const pitchedFriday = `
09-11 17:00 new
09-11 17:30 sg 1.085
09-11 18:00 pitched
`

// dryDamson is a fruit wine that stopped dry: three equal readings over five days.
const dryDamson = pitchedFriday + `
09-12 17:00 working
09-17 12:00 strained
09-18 12:00 sg 1.010
09-18 12:05 racked
09-28 12:00 sg 0.994
10-01 12:00 sg 0.994
10-03 12:00 sg 0.994
`

// lives are the lives up to the stopping; laterLives are those after.
var lives = []life{
	{"wait is over", "R01", ferment.Country, "pear", `
09-11 09:00 new
09-11 10:00 add potassium metabisulphite
09-14 00:00 .`, "09-12 10:00 R01", 0},
	{"wait ends at night", "R01", ferment.Country, "pear", `
09-11 09:00 new
09-11 23:00 add potassium metabisulphite
09-14 00:00 .`, "09-13 07:30 R01", 0},
	{"pitched before", "R01", ferment.Country, "pear", `
09-11 09:00 new
09-11 10:00 add potassium metabisulphite
09-12 09:00 pitched
09-14 00:00 .`, "", 0},
	{"put off for six hours", "R01", ferment.Country, "pear", `
09-11 09:00 new
09-11 10:00 add potassium metabisulphite
09-12 10:10 answers R01 Later 6 h
09-14 00:00 .`, "09-12 10:00 R01\n09-12 16:10 R01", 0},

	{"no start gravity", "R02", ferment.Country, "pear", "09-11 09:00 new\n09-14 00:00 .", "09-11 11:00 R02", 0},
	{"read at once", "R02", ferment.Country, "pear", "09-11 09:00 new\n09-11 10:00 sg 1.090\n09-14 00:00 .", "", 0},
	{"no hydrometer", "R02", ferment.Country, "pear", "09-11 09:00 new\n09-11 10:00 flag no hydrometer\n09-14 00:00 .", "", 0},

	{"start check", "R03", ferment.Country, "pear", pitchedFriday + "09-13 12:00 .", "09-12 18:00 R03", 0},
	{"it works", "R03", ferment.Country, "pear", pitchedFriday + "09-12 09:10 working\n09-15 00:00 .", "", 0},
	{"a fall shows it", "R03", ferment.Country, "pear", pitchedFriday + "09-12 09:10 sg 1.082\n09-15 00:00 .", "", 0},
	{"undone", "R03", ferment.Country, "pear", pitchedFriday + "09-11 19:00 undo pitched\n09-15 00:00 .", "", 0},
	{"moved", "R03", ferment.Country, "pear", pitchedFriday + "09-11 20:00 moves pitched to 09-11 15:00\n09-15 00:00 .", "09-12 15:00 R03", 0},
	{"moved after it was said", "R03", ferment.Country, "pear", pitchedFriday + "09-12 20:00 moves pitched to 09-10 21:00\n09-12 20:01 .", "09-12 18:00 R03", 0},

	{"second check, not yet", "R04", ferment.Country, "pear", pitchedFriday + "09-12 18:05 answers R03 Not yet\n09-15 00:00 .", "09-13 18:00 R04", 0},
	{"second check, silence", "R04", ferment.Country, "pear", pitchedFriday + "09-15 00:00 .", "09-13 18:00 R04", 0},
	{"works meanwhile", "R04", ferment.Country, "pear", pitchedFriday + "09-13 08:00 working\n09-15 00:00 .", "", 0},

	{"no start", "R05", ferment.Country, "pear", pitchedFriday + "09-13 18:30 answers R04 Still nothing\n09-16 00:00 .", "09-14 18:00 R05", 0},
	{"nobody said still nothing", "R05", ferment.Country, "pear", pitchedFriday + "09-16 00:00 .", "", 0},
	{"works after all", "R05", ferment.Country, "pear", pitchedFriday + "09-13 18:30 answers R04 Still nothing\n09-14 10:00 working\n09-16 00:00 .", "", 0},

	{"stirring, twice unanswered", "R06", ferment.Country, "damson", pitchedFriday + "09-15 00:00 .", "09-12 07:30 R06\n09-12 19:30 R06", 0},
	{"stirring, done each time", "R06", ferment.Country, "damson", pitchedFriday + `
09-12 08:00 answers R06 Done
09-12 20:00 answers R06 Done
09-13 08:00 answers R06 Done
09-13 09:00 .`, "09-12 07:30 R06\n09-12 19:30 R06\n09-13 07:30 R06", 0},
	{"stirred within six hours", "R06", ferment.Country, "damson", pitchedFriday + "09-12 05:00 stirred\n09-12 15:00 punched down\n09-13 07:00 .", "", 0},
	{"strained", "R06", ferment.Country, "damson", pitchedFriday + "09-11 20:00 strained\n09-13 07:00 .", "", 0},
	{"stop these", "R06", ferment.Country, "damson", pitchedFriday + "09-12 08:00 answers R06 Stop these\n09-14 07:00 .", "09-12 07:30 R06", 0},
	{"no pulp", "R06", ferment.Kit, "white", pitchedFriday + "09-14 07:00 .", "", 0},

	{"reading in primary", "R07", ferment.Kit, "white", pitchedFriday + "09-12 12:00 sg 1.070\n09-15 00:00 .", "09-14 18:30 R07", 0},
	{"daily while warm", "R07", ferment.Kit, "white", pitchedFriday + "09-12 12:00 temp 27\n09-12 12:00 sg 1.070\n09-13 20:00 .", "09-13 18:30 R07", 0},
	{"by the sheet", "R07", ferment.Kit, "white", pitchedFriday + "09-12 12:00 sg 1.070\n09-12 12:01 flag by the sheet\n09-15 00:00 .", "", 0},
	{"up to four hours after the bundle", "R07", ferment.Kit, "white", pitchedFriday + "09-12 22:00 sg 1.070\n09-15 00:00 .", "09-14 18:30 R07", 0},
	{"more than four hours after it", "R07", ferment.Kit, "white", pitchedFriday + "09-12 22:31 sg 1.070\n09-16 00:00 .", "09-15 18:30 R07", 0},

	{"nutrient of a mead", "R08a", ferment.Mead, "mead", pitchedFriday + "09-15 00:00 .", "09-12 18:00 R08a\n09-13 18:00 R08a\n09-14 18:00 R08a", 0},
	{"step is in", "R08a", ferment.Mead, "mead", pitchedFriday + "09-12 12:00 add nutrient\n09-14 00:00 .", "09-13 18:00 R08a", 0},
	{"kit", "R08a", ferment.Kit, "white", pitchedFriday + "09-15 00:00 .", "", 0},
	{"fruit with nutrient", "R08a", ferment.Country, "pear", "09-11 17:00 new\n09-11 17:30 add nutrient\n09-11 18:00 pitched\n09-15 00:00 .", "", 0},
	{"third of the sugar gone", "R08a", ferment.Mead, "mead", pitchedFriday + "09-12 12:00 working\n09-12 12:01 add nutrient\n09-12 12:02 add nutrient\n09-12 12:03 add nutrient\n09-16 12:00 sg 1.050\n09-17 00:00 .", "", 1},

	{"day seven", "R09", ferment.Kit, "white", pitchedFriday + "09-19 00:00 .", "09-18 18:30 R09", 0},
	{"mead at ten days", "R09", ferment.Mead, "mead", pitchedFriday + "09-22 00:00 .", "09-21 18:30 R09", 0},
	{"sheet's day", "R09", ferment.Kit, "white", pitchedFriday + "09-12 00:00 every R09 144\n09-18 00:00 .", "09-17 18:30 R09", 0},
	{"racked", "R09", ferment.Kit, "white", pitchedFriday + "09-12 09:00 working\n09-16 00:00 racked\n09-21 00:00 .", "", 0},
	{"moved by a day", "R09", ferment.Country, "damson", pitchedFriday + "09-12 20:00 moves pitched to 09-10 21:00\n09-18 00:00 .", "09-17 18:30 R09", 0},
	{"in two days", "R09", ferment.Kit, "white", pitchedFriday + "09-18 19:00 answers R09 In 2 days\n09-21 00:00 .", "09-18 18:30 R09\n09-20 18:30 R09", 0},
	{"one repeat", "R09", ferment.Kit, "white", pitchedFriday + "09-12 09:00 working\n10-03 00:00 .", "09-18 18:30 R09\n09-20 18:30 R09 again", 0},

	{"ready to rack", "R10", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-16 12:00 sg 1.010\n09-18 00:00 .", "09-17 18:30 R10", 0},
	{"not ready", "R10", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-16 12:00 sg 1.011\n09-18 00:00 .", "", 0},
	{"racked already", "R10", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-16 12:00 sg 1.010\n09-17 12:00 racked\n09-18 00:00 .", "", 0},
	{"not racking", "R10", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-16 12:00 sg 1.010\n09-17 19:00 answers R10 Not racking\n09-30 00:00 .", "09-17 18:30 R10", 0},
	{"on the pulp it waits for the straining to be asked for", "R10", ferment.Country, "damson", pitchedFriday + "09-12 12:00 working\n09-14 12:00 sg 1.009\n09-17 00:00 .", "09-15 18:30 R10", 0},
	{"house's rack point", "R10", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-16 12:00 sg 1.020\n09-18 00:00 .", "", 0},

	{"off the pulp on day five", "R11", ferment.Country, "damson", pitchedFriday + "09-12 12:00 working\n09-17 00:00 .", "09-16 18:30 R11", 0},
	{"by gravity", "R11", ferment.Country, "damson", pitchedFriday + "09-12 12:00 working\n09-14 12:00 sg 1.020\n09-16 00:00 .", "09-14 18:30 R11", 0},
	{"red at ten days", "R11", ferment.Red, "merlot", pitchedFriday + "09-12 12:00 working\n09-22 00:00 .", "09-21 18:30 R11", 0},
	{"strained already", "R11", ferment.Country, "damson", pitchedFriday + "09-12 12:00 working\n09-15 12:00 strained\n09-22 00:00 .", "", 0},

	{"no nutrient in the heat", "R08a", ferment.Country, "damson", pitchedFriday + "09-12 12:00 working\n09-12 17:00 temp 31\n09-12 20:00 .", "", 0},
	{"nutrient once it has cooled", "R08a", ferment.Country, "damson", pitchedFriday + "09-12 12:00 working\n09-12 17:00 temp 31\n09-12 21:00 temp 24\n09-12 21:10 .", "09-12 21:00 R08a late", 0},
	{"hot", "R12a", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-13 12:00 temp 30\n09-13 12:30 .", "", 1},
	{"hot on skins is later", "R12a", ferment.Red, "merlot", pitchedFriday + "09-12 12:00 working\n09-13 12:00 temp 31\n09-13 12:30 .", "", 0},
	{"cool", "R12a", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-13 12:00 temp 29.9\n09-13 12:30 .", "", 0},
	{"rising", "R12b", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-13 08:00 temp 22\n09-13 18:00 temp 26\n09-13 18:30 .", "", 1},
	{"rising slowly", "R12b", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-13 08:00 temp 22\n09-13 21:00 temp 26\n09-13 21:30 .", "", 0},
	{"fast", "R12c", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-13 12:00 sg 1.070\n09-14 12:00 sg 1.044\n09-14 12:30 .", "", 1},
	{"fast red", "R12c", ferment.Red, "merlot", pitchedFriday + "09-12 12:00 working\n09-13 12:00 sg 1.070\n09-14 12:00 sg 1.044\n09-14 12:30 .", "", 0},

	{"heat in the house", "R13", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-12 14:00 room 27\n09-13 12:00 answers R13 Type temperatures\n09-13 12:01 .", "09-12 19:30 R13\n09-13 07:30 R13", 0},
	{"cool twice", "R13", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-12 14:00 room 27\n09-12 15:00 room 24\n09-12 16:00 room 24\n09-14 00:00 .", "", 0},
}

func TestRules(t *testing.T) {
	for _, l := range append(append([]life{}, lives...), laterLives...) {
		t.Run(l.rule+" "+l.name, func(t *testing.T) {
			s := newSim(t, "Europe/London", l.kind, l.batch)
			s.play(l.script)
			want := []string{}
			if l.want != "" {
				want = strings.Split(l.want, "\n")
			}
			if d := cmp.Diff(want, s.lines(l.rule)); d != "" {
				t.Errorf("%s (-want +got):\n%s", l.rule, d)
			}
			n := 0
			for _, it := range s.atOnce {
				if it.Rule == l.rule {
					n++
				}
			}
			if n != l.atOnce {
				t.Errorf("%s at once %d times, want %d; all: %v", l.rule, n, l.atOnce, s.rules())
			}
		})
	}
}
