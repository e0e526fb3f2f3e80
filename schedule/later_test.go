package schedule

import (
	"testing"

	"mustbook/ferment"
)

// stuckAt20 is a pair of readings with much sugar left.
const stuckAt20 = pitchedFriday + `
09-12 17:00 working
09-20 12:00 sg 1.020
09-22 12:00 sg 1.020
`

// bottledPear was stabilised, racked clear and bottled.
const bottledPear = dryDamson + `
10-04 12:00 add potassium metabisulphite
10-05 12:00 racked
10-20 12:00 sg 0.994
10-20 13:00 bottled 28
`

// laterLives are the lives after primary.
var laterLives = []life{
	{"cold comes first", "R14", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-18 12:00 temp 16\n09-18 12:00 sg 1.030\n09-21 12:00 sg 1.030\n09-22 12:00 .", "", 1},
	{"not cold", "R14", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-18 12:00 temp 20\n09-18 12:00 sg 1.030\n09-21 12:00 sg 1.030\n09-22 12:00 .", "", 0},
	{"marked sweet", "R14", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-13 09:00 set meant sweet=on\n09-18 12:00 temp 16\n09-18 12:00 sg 1.030\n09-21 12:00 sg 1.030\n09-22 12:00 .", "", 0},

	{"stuck", "R15", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-18 12:00 sg 1.030\n09-20 12:00 sg 1.030\n09-22 12:00 sg 1.030\n09-23 12:00 .", "", 1},
	{"never beside cold", "R15", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-18 12:00 temp 16\n09-18 12:00 sg 1.030\n09-20 12:00 sg 1.030\n09-22 12:00 sg 1.030\n09-23 12:00 .", "", 0},
	{"three days after it was warmed", "R15", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-18 12:00 temp 16\n09-18 12:00 sg 1.030\n09-20 12:00 sg 1.030\n09-22 12:00 sg 1.030\n09-23 12:00 temp 20\n09-28 12:00 .", "09-26 12:00 R15", 0},
	{"moves again", "R15", ferment.Kit, "white", pitchedFriday + "09-12 12:00 working\n09-18 12:00 sg 1.030\n09-20 12:00 sg 1.030\n09-22 12:00 sg 1.027\n09-23 12:00 .", "", 0},

	{"weekly in the jar", "R16", ferment.Country, "pear", pitchedFriday + "09-12 12:00 working\n09-15 12:00 strained\n09-16 12:00 racked\n09-16 12:05 sg 1.030\n10-20 00:00 .", "09-23 18:30 R16\n09-30 18:30 R16", 0},
	{"read lately", "R16", ferment.Country, "pear", pitchedFriday + "09-12 12:00 working\n09-15 12:00 strained\n09-16 12:00 racked\n09-16 12:05 sg 1.030\n09-21 12:00 sg 1.020\n09-27 00:00 .", "", 0},
	{"stopped", "R16", ferment.Country, "pear", dryDamson + "11-30 00:00 .", "09-25 18:30 R16", 0},

	{"second reading", "R17", ferment.Country, "pear", pitchedFriday + "09-12 12:00 working\n09-15 12:00 strained\n09-16 12:00 racked\n09-20 12:00 sg 0.996\n09-24 00:00 .", "09-23 18:30 R17", 0},
	{"moved, the clock restarts", "R17", ferment.Country, "pear", pitchedFriday + "09-12 12:00 working\n09-15 12:00 strained\n09-16 12:00 racked\n09-20 12:00 sg 0.998\n09-22 12:00 sg 0.994\n09-26 00:00 .", "09-25 18:30 R17", 0},
	{"a pair above dry", "R17", ferment.Kit, "white", stuckAt20 + "09-26 00:00 .", "09-25 18:30 R17", 0},
	{"closing reading", "R18", ferment.Country, "pear", pitchedFriday + "09-12 12:00 working\n09-15 12:00 strained\n09-16 12:00 racked\n09-20 12:00 sg 0.994\n09-23 12:00 sg 0.994\n09-26 00:00 .", "09-25 18:30 R18", 0},
	{"settled", "R18", ferment.Country, "pear", dryDamson + "10-20 00:00 .", "", 0},

	{"stabilise", "R19", ferment.Country, "pear", dryDamson + "10-05 00:00 .", "10-04 18:30 R19", 0},
	{"sulphite is in", "R19", ferment.Country, "pear", dryDamson + "10-04 09:00 add potassium metabisulphite\n10-25 00:00 .", "", 0},
	{"malolactic wanted", "R19", ferment.Country, "pear", dryDamson + "10-04 09:00 set malolactic=wanted\n10-25 00:00 .", "", 0},
	{"not before it stopped", "R19", ferment.Country, "pear", stuckAt20 + "09-24 12:00 sg 1.020\n10-25 00:00 .", "", 0},

	{"sorbate is missing", "R20", ferment.Country, "pear", dryDamson + "10-03 13:00 set meant sweet=on\n10-04 09:00 add potassium metabisulphite\n10-04 12:00 .", "10-04 09:30 R20", 0},
	{"sulphite only", "R20", ferment.Country, "pear", dryDamson + "10-03 13:00 set meant sweet=on\n10-04 09:00 flag no sorbate\n10-04 09:01 add potassium metabisulphite\n10-04 12:00 .", "", 0},
	{"both", "R20", ferment.Country, "pear", dryDamson + "10-03 13:00 set meant sweet=on\n10-04 09:00 add potassium metabisulphite\n10-04 09:10 add potassium sorbate\n10-04 12:00 .", "", 0},
	{"never with malolactic", "R20", ferment.Country, "pear", dryDamson + "10-03 13:00 set meant sweet=on\n10-03 14:00 mlf started\n10-04 09:00 add potassium metabisulphite\n10-04 12:00 .", "", 0},

	{"degas again", "R21", ferment.Kit, "white", dryDamson + "10-04 10:00 degassed\n10-05 09:00 .", "10-05 07:30 R21", 0},
	{"no gas left", "R21", ferment.Kit, "white", dryDamson + "10-04 10:00 degassed\n10-05 09:00 answers R21 No gas left\n10-05 10:00 degassed\n10-08 00:00 .", "10-05 07:30 R21", 0},
	{"fined", "R21", ferment.Kit, "white", dryDamson + "10-04 10:00 degassed\n10-04 12:00 add bentonite\n10-08 00:00 .", "", 0},

	{"second finings", "R22", ferment.Kit, "white", dryDamson + "10-04 10:00 add kieselsol\n10-04 12:00 .", "10-04 11:00 R22", 0},
	{"second part in", "R22", ferment.Kit, "white", dryDamson + "10-04 10:00 add kieselsol\n10-04 10:50 add chitosan\n10-04 12:00 .", "", 0},
	{"is it clear", "R23", ferment.Kit, "white", dryDamson + "10-04 10:00 add bentonite\n10-19 00:00 .", "10-18 18:30 R23", 0},
	{"a week more", "R23", ferment.Kit, "white", dryDamson + "10-04 10:00 add bentonite\n10-18 19:00 answers R23 A week more\n10-26 00:00 .", "10-18 18:30 R23\n10-25 18:30 R23", 0},
	{"racked off", "R23", ferment.Kit, "white", dryDamson + "10-04 10:00 add bentonite\n10-15 10:00 racked\n10-26 00:00 .", "", 0},

	{"malolactic test", "R24", ferment.Red, "merlot", dryDamson + "10-04 10:00 mlf started\n10-26 00:00 .", "10-25 18:30 R24", 0},
	{"not yet", "R24", ferment.Red, "merlot", dryDamson + "10-04 10:00 mlf started\n10-25 19:00 answers R24 Not yet\n11-09 00:00 .", "10-25 18:30 R24\n11-08 18:30 R24", 0},
	{"no test kit", "R24", ferment.Red, "merlot", dryDamson + "10-04 10:00 mlf started\n10-25 19:00 answers R24 No test kit\n11-20 00:00 .", "10-25 18:30 R24", 0},
	{"sulphite after malolactic", "R25", ferment.Red, "merlot", dryDamson + "10-04 10:00 mlf started\n10-20 10:00 mlf done\n10-22 00:00 .", "10-21 18:30 R25", 0},
	{"sulphited", "R25", ferment.Red, "merlot", dryDamson + "10-04 10:00 mlf started\n10-20 10:00 mlf done\n10-20 11:00 add potassium metabisulphite\n10-30 00:00 .", "", 0},

	{"rack again", "R26", ferment.Country, "pear", dryDamson + "10-04 09:00 add potassium metabisulphite\n10-31 00:00 .", "10-30 18:30 R26", 0},
	{"then every eleven weeks", "R26", ferment.Country, "pear", dryDamson + "10-04 09:00 add potassium metabisulphite\n10-05 10:00 racked\n12-20 00:00 .", "12-19 18:30 R26", 0},
	{"no lees", "R26", ferment.Country, "pear", dryDamson + "10-04 09:00 add potassium metabisulphite\n10-05 09:00 flag no lees\n12-20 00:00 .", "", 0},

	{"air above the wine", "R27", ferment.Country, "pear", dryDamson + "10-04 09:00 add potassium metabisulphite\n10-04 10:00 vessel 23\n10-04 10:00 volume 21\n10-05 00:00 .", "10-04 18:30 R27", 0},
	{"full", "R27", ferment.Country, "pear", dryDamson + "10-04 10:00 vessel 23\n10-04 10:00 volume 22.5\n10-15 00:00 .", "", 0},
	{"topped up", "R27", ferment.Country, "pear", dryDamson + "10-04 09:00 vessel 23\n10-04 09:00 volume 21\n10-04 10:00 topped up\n10-15 00:00 .", "", 0},

	{"airlocks", "R28", ferment.Country, "pear", dryDamson + "10-18 00:00 .", "10-17 18:30 R28", 0},
	{"looked at", "R28", ferment.Country, "pear", dryDamson + "10-10 12:00 airlock refilled\n10-20 00:00 .", "", 0},
	{"bottled", "R28", ferment.Country, "pear", dryDamson + "10-10 12:00 bottled 28\n11-20 00:00 .", "", 0},

	{"test the sulphite", "R29", ferment.Country, "pear", dryDamson + "10-04 09:00 add potassium metabisulphite\n11-16 00:00 .", "11-15 18:30 R29", 0},
	{"tested", "R29", ferment.Country, "pear", dryDamson + "10-04 09:00 add potassium metabisulphite\n11-01 12:00 so2 25\n11-16 00:00 .", "", 0},
	{"malolactic is open", "R29", ferment.Red, "merlot", dryDamson + "10-04 08:00 set malolactic=wanted\n10-04 09:00 add potassium metabisulphite\n11-16 00:00 .", "", 0},
	{"nobody was asked about malolactic", "R29", ferment.Red, "merlot", dryDamson + "10-04 09:00 add potassium metabisulphite\n11-30 00:00 .", "", 0},
	{"it was asked, and not wanted", "R29", ferment.Red, "merlot", dryDamson + "10-04 19:00 set malolactic=unwanted\n10-05 09:00 add potassium metabisulphite\n11-17 00:00 .", "11-16 18:30 R29", 0},
	{"the question is asked once more", "R19", ferment.Red, "merlot", dryDamson + "10-30 00:00 .", "10-04 18:30 R19\n10-11 18:30 R19 again", 0},
	{"no pH", "R30", ferment.Country, "pear", dryDamson + "10-05 00:00 .", "10-04 18:30 R30", 0},
	{"pH is known", "R30", ferment.Country, "pear", dryDamson + "10-03 13:00 ph 3.4\n10-05 00:00 .", "", 0},

	{"out of the cold", "R31", ferment.Country, "pear", dryDamson + "10-04 10:00 cold stabilising started\n10-19 00:00 .", "10-18 18:30 R31", 0},
	{"brought in", "R31", ferment.Country, "pear", dryDamson + "10-04 10:00 cold stabilising started\n10-14 10:00 brought in\n10-25 00:00 .", "", 0},
	{"after sweetening", "R32", ferment.Country, "pear", dryDamson + "10-04 10:00 sweetened\n10-15 00:00 .", "10-14 10:00 R32", 0},
	{"read again", "R32", ferment.Country, "pear", dryDamson + "10-04 10:00 sweetened\n10-12 10:00 sg 1.004\n10-15 00:00 .", "", 0},
	{"after blending", "R33", ferment.Country, "pear", dryDamson + "10-04 10:00 blended\n10-19 00:00 .", "10-18 18:30 R33", 0},
	{"blend is read", "R33", ferment.Country, "pear", dryDamson + "10-04 10:00 blended\n10-14 10:00 sg 0.994\n10-19 00:00 .", "", 0},

	{"bottling day", "R34", ferment.Country, "pear", dryDamson + "10-04 12:00 add potassium metabisulphite\n10-05 12:00 racked\n10-06 12:00 so2 30\n10-08 00:00 .", "10-06 18:30 R34", 0},
	{"by age", "R34", ferment.Country, "pear", dryDamson + "10-04 12:00 add potassium metabisulphite\n10-05 12:00 racked\n2027-01-12 00:00 .", "01-11 18:30 R34", 0},
	{"meant fizzy", "R34", ferment.Cider, "cider", dryDamson + "10-05 12:00 racked\n10-06 12:00 set meant fizzy=on\n2027-01-12 00:00 .", "", 0},
	{"not safe", "R35", ferment.Country, "pear", pitchedFriday + "09-12 17:00 working\n09-20 12:00 sg 1.010\n09-21 12:00 bottled 28\n09-21 13:00 .", "", 1},
	{"safe", "R35", ferment.Country, "pear", bottledPear + "10-21 13:00 .", "", 0},

	{"lay down", "R36", ferment.Country, "pear", bottledPear + "10-24 00:00 .", "10-23 18:30 R36", 0},
	{"laid down", "R36", ferment.Country, "pear", bottledPear + "10-22 12:00 laid down\n10-30 00:00 .", "", 0},
	{"early warning", "R37", ferment.Country, "pear", bottledPear + "12-10 00:00 .", "11-03 13:00 R37\n12-04 13:00 R37", 0},
	{"early warning, fizzy", "R37", ferment.Cider, "cider", dryDamson + "10-06 12:00 set meant fizzy=on\n10-20 13:00 bottled 40\n10-25 18:00 answers R37 Fine\n10-30 18:00 answers R37 Fine\n11-10 00:00 .", "10-25 13:00 R37\n10-30 13:00 R37\n11-09 13:00 R37", 0},
	{"none left", "R37", ferment.Country, "pear", dryDamson + "10-20 13:00 bottled 28\n10-21 12:00 empty\n12-10 00:00 .", "", 0},
	{"labels", "R38", ferment.Country, "pear", bottledPear + "10-28 00:00 .", "10-27 18:30 R38", 0},
	{"labelled", "R38", ferment.Country, "pear", bottledPear + "10-22 12:00 labelled\n11-28 00:00 .", "", 0},
	{"first look at a country wine", "R39", ferment.Country, "pear", bottledPear + "2027-04-20 00:00 .", "04-18 18:30 R39", 0},
	{"first look at a damson", "R39", ferment.Country, "damson", bottledPear + "2027-10-21 00:00 .", "10-20 18:30 R39", 0},
	{"off", "R39", ferment.Country, "pear", bottledPear + "10-21 12:00 mute R39\n2027-04-20 00:00 .", "", 0},
	{"tasted before", "R39", ferment.Country, "pear", bottledPear + "2027-01-01 12:00 tasted\n2027-04-20 00:00 .", "", 0},
	{"end of the best", "R40", ferment.Country, "pear", bottledPear + "2028-10-21 00:00 .", "10-20 18:30 R40", 0},

	{"silent in fermentation", "R41", ferment.Country, "pear", pitchedFriday + "09-12 12:00 working\n10-04 00:00 .", "10-03 18:30 R41", 0},
	{"silent in ageing", "R41", ferment.Country, "pear", dryDamson + "2027-01-02 00:00 .", "01-01 18:30 R41", 0},
	{"paused", "R41", ferment.Country, "pear", pitchedFriday + "09-12 12:00 working\n09-13 12:00 flag paused\n11-04 00:00 .", "", 0},

	{"guests", "R44", ferment.Country, "pear", bottledPear + "12-01 12:00 given away\n12-01 13:00 .", "", 1},
	{"ventilate", "R45", ferment.Country, "pear", "09-11 17:00 new\n09-11 17:01 volume 14\n09-11 18:00 pitched\n09-12 09:10 working\n09-12 10:00 .", "", 1},
	{"little of it", "R45", ferment.Country, "pear", "09-11 17:00 new\n09-11 17:01 volume 4.5\n09-11 18:00 pitched\n09-12 09:10 working\n09-12 10:00 .", "", 0},
	{"airy", "R45", ferment.Country, "pear", "09-11 17:00 new\n09-11 17:01 volume 14\n09-11 17:02 flag airy\n09-11 18:00 pitched\n09-12 09:10 working\n09-12 10:00 .", "", 0},

	{"oak", "R49", ferment.Country, "pear", dryDamson + "10-04 10:00 oak in\n10-26 00:00 .", "10-18 18:30 R49\n10-25 18:30 R49", 0},
	{"oak out", "R49", ferment.Country, "pear", dryDamson + "10-04 10:00 oak in\n10-10 10:00 oak out\n10-26 00:00 .", "", 0},
	{"restart", "R51", ferment.Country, "pear", pitchedFriday + "09-14 18:00 pitched\n09-16 00:00 .", "09-15 18:00 R51", 0},
	{"restart works", "R51", ferment.Country, "pear", pitchedFriday + "09-14 18:00 pitched\n09-15 09:00 working\n09-16 00:00 .", "", 0},
	{"fresh yeast never started", "R04", ferment.Country, "pear", pitchedFriday + "09-14 18:00 pitched\n09-15 19:00 answers R51 Not yet\n09-17 00:00 .", "09-13 18:00 R04\n09-16 18:00 R04", 0},
}

// Where malolactic is likely and nobody has said, R19 asks; where the wine is sweet
// and it is ruled out, it names sorbate; else neither.
func TestWhatStabilisingAsks(t *testing.T) {
	for _, c := range []struct {
		kind         ferment.Kind
		name, script string
		ask, sorbate bool
	}{
		{ferment.Country, "pear", dryDamson, false, false},
		{ferment.Red, "merlot", dryDamson, true, false},
		{ferment.Country, "plum", dryDamson, true, false},
		{ferment.Country, "pear", dryDamson + "10-03 13:00 set meant sweet=on", false, true},
		{ferment.Country, "plum", dryDamson + "10-03 13:00 set meant sweet=on", true, false},
		{ferment.Country, "pear", dryDamson + "10-03 13:00 set meant sweet=on\n10-03 14:00 flag no sorbate", false, false},
	} {
		s := newSim(t, "Europe/London", c.kind, c.name)
		s.play(c.script)
		found := false
		for _, it := range Plan(s.state(), nil, s.h, s.said, s.clock) {
			if it.Rule != "R19" {
				continue
			}
			found = true
			if (it.Args["ask"] != "") != c.ask || (it.Args["sorbate"] != "") != c.sorbate {
				t.Errorf("%s %s: %v", c.kind, c.name, it.Args)
			}
		}
		if !found {
			t.Errorf("%s %s: nothing asks to stabilise", c.kind, c.name)
		}
	}
}
