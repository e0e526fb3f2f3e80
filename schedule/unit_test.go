package schedule

import (
	"testing"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

var epoch = time.Date(2026, 9, 11, 18, 0, 0, 0, time.UTC)

// The forbidden opposites, each on a bare state: the last word on a rule stands
// whatever a rule found.
func TestForbidden(t *testing.T) {
	dry := ferment.Stop{Verdict: ferment.StopDry, Shown: epoch, From: epoch.Add(-week)}
	sweet := ferment.Stop{Verdict: ferment.StopSweet, Shown: epoch, From: epoch.Add(-week)}
	at := func(g liquid.Gravity) *ferment.Reading { return &ferment.Reading{SG: g, Counts: true} }
	for _, c := range []struct {
		name string
		st   ferment.State
		rule string
		want bool
	}{
		{"stabilise a dry wine", ferment.State{Stop: dry}, "R19", false},
		{"stabilise what has not stopped", ferment.State{}, "R19", true},
		{"stabilise what is stuck", ferment.State{Stop: ferment.Stop{Verdict: ferment.StopStuck, Shown: epoch}}, "R19", true},
		{"stabilise while malolactic runs", ferment.State{Stop: dry, MLFStarted: epoch}, "R19", true},
		{"stabilise where it is wanted", ferment.State{Stop: dry, Plan: ferment.Plan{MLF: "wanted"}}, "R19", true},
		{"stabilise where it is done", ferment.State{Stop: dry, MLFStarted: epoch, MLFDone: epoch.Add(day)}, "R19", false},
		{"ask a red", ferment.State{Stop: dry, Kind: ferment.Red}, "R19", false},
		{"second substance", ferment.State{Stop: sweet}, "R20", false},
		{"second substance after malolactic", ferment.State{Stop: sweet, MLFStarted: epoch, MLFDone: epoch.Add(day)}, "R20", true},
		{"second substance of a red nobody asked about", ferment.State{Stop: sweet, Kind: ferment.Red}, "R20", true},
		{"sulphite of a red nobody asked about", ferment.State{Stop: dry, Kind: ferment.Red}, "R29", true},
		{"sulphite of a red, not wanted", ferment.State{Stop: dry, Kind: ferment.Red, Plan: ferment.Plan{MLF: "unwanted"}}, "R29", false},
		{"sulphite of a plum wine", ferment.State{Stop: dry, Kind: ferment.Country, Name: "plum 26"}, "R29", true},
		{"sulphite of a pear wine", ferment.State{Stop: dry, Kind: ferment.Country, Name: "pear 26"}, "R29", false},
		{"bottle what has not stopped", ferment.State{}, "R34", true},
		{"bottle a dry wine", ferment.State{Stop: dry}, "R34", false},
		{"rack at 1.030", ferment.State{Last: at(1.0304)}, "R10", false},
		{"rack at 1.031", ferment.State{Last: at(1.0306)}, "R10", true},
		{"rack again at 1.031", ferment.State{Last: at(1.031)}, "R26", true},
		{"clear, above 1.030", ferment.State{Last: at(1.040)}, "R23", true},
		{"a check above 1.030", ferment.State{Last: at(1.040)}, "R09", false},
	} {
		v := &view{st: &c.st, h: &House{}, loc: time.UTC, now: epoch}
		if got := v.forbidden(c.rule); got != c.want {
			t.Errorf("%s (%s): forbidden %v, want %v", c.name, c.rule, got, c.want)
		}
	}
}

// Once R19 has asked, silence no longer holds the rest back.
func TestAskedOnceIsEnough(t *testing.T) {
	st := &ferment.State{N: 1, Kind: ferment.Red, Stop: ferment.Stop{Verdict: ferment.StopDry, Shown: epoch}}
	v := &view{st: st, h: &House{}, loc: time.UTC, now: epoch}
	if !v.mlfOpen() {
		t.Error("nobody was asked, and it is not open")
	}
	v.said = []Said{{Key: Key{Rule: "R19"}}}
	if v.mlfOpen() {
		t.Error("it was asked, and is still open")
	}
}

// A step that was snoozed has its repeat still to come; one that was told twice in
// silence has not.
func TestTellings(t *testing.T) {
	key := func(o int) Key { return Key{Rule: "R09", Subject: Subject{BatchKind, 1}, Anchor: 5, Occurrence: o} }
	said := func(o int, more ...func(*Said)) Said {
		s := Said{Key: key(o), MadeAt: epoch.AddDate(0, 0, o)}
		for _, m := range more {
			m(&s)
		}
		return s
	}
	snoozed := func(s *Said) { s.SnoozedTo = epoch.AddDate(0, 0, 9) }
	answered := func(s *Said) { s.AnsweredAt = epoch.AddDate(0, 0, 9) }
	mutedTap := func(s *Said) { s.Muted = true }
	for _, c := range []struct {
		name    string
		said    []Said
		want    string // what comes next: first, snooze, repeat, open, nothing
		telling int
	}{
		{"nothing said", nil, "first", 0},
		{"said", []Said{said(0)}, "repeat", 1},
		{"said and answered", []Said{said(0, answered)}, "nothing", 0},
		{"snoozed", []Said{said(0, snoozed)}, "snooze", 1},
		{"snoozed and said again", []Said{said(0, snoozed), said(1)}, "repeat", 2},
		{"said twice", []Said{said(0), said(1)}, "open", 1},
		{"said, repeated, snoozed", []Said{said(0), said(1, snoozed)}, "snooze", 2},
		{"said, repeated, snoozed, said", []Said{said(0), said(1, snoozed), said(2)}, "open", 2},
		{"muted", []Said{said(0, mutedTap)}, "nothing", 0},
		{"another step is muted", []Said{said(100, mutedTap)}, "nothing", 0},
		{"another step was said", []Said{said(100)}, "first", 0},
	} {
		v := &view{st: &ferment.State{N: 1}, h: &House{}, said: c.said, now: epoch, loc: time.UTC}
		out := v.tell(nil, ruleOf("R09"), nudge{anchor: 5, wanted: epoch, subject: Subject{BatchKind, 1}, args: args()})
		got, telling := "nothing", 0
		if len(out) == 1 {
			telling = out[0].Telling()
			switch {
			case out[0].Open:
				got = "open"
			case out[0].Repeat:
				got = "repeat"
			case telling > 0:
				got = "snooze"
			default:
				got = "first"
			}
		}
		if got != c.want || telling != c.telling {
			t.Errorf("%s: %s, telling %d; want %s, %d", c.name, got, telling, c.want, c.telling)
		}
	}
}

func TestKeyParts(t *testing.T) {
	k := Key{Occurrence: 302}
	if k.Step() != 3 || k.Telling() != 2 {
		t.Errorf("302 is step %d, telling %d", k.Step(), k.Telling())
	}
}

// A series of weeks: the newest whose time has come, else the next.
func TestSeries(t *testing.T) {
	made := func(step int, at time.Time) Said {
		return Said{Key: Key{Rule: "R49", Subject: Subject{BatchKind, 1}, Anchor: 5, Occurrence: step * tellings}, MadeAt: at, AnsweredAt: at}
	}
	silent := func(step int, at time.Time) Said {
		s := made(step, at)
		s.AnsweredAt = time.Time{}
		return s
	}
	on := func(d int) time.Time { return epoch.AddDate(0, 0, d) }
	for _, c := range []struct {
		name string
		now  time.Time
		said []Said
		want int // step, -1: none
	}{
		{"before the first", on(3), nil, 0},
		{"the first has come", on(14), nil, 0},
		{"the first is told", on(15), []Said{made(0, on(14))}, 1},
		{"three weeks missed: the newest only", on(36), nil, 3},
		{"two in silence end it", on(29), []Said{silent(0, on(14)), silent(1, on(21))}, -1},
		{"one in silence does not", on(22), []Said{made(0, on(14)), silent(1, on(21))}, 2},
	} {
		v := &view{st: &ferment.State{N: 1}, h: &House{}, said: c.said, now: c.now, loc: time.UTC}
		got := -1
		if n := v.series("R49", 5, v.weekly(on(14), week), nil, args()); len(n) == 1 {
			got = n[0].step
		}
		if got != c.want {
			t.Errorf("%s: step %d, want %d", c.name, got, c.want)
		}
	}
	v := &view{st: &ferment.State{N: 1}, h: &House{}, now: on(60), loc: time.UTC, said: []Said{made(1, on(45))}}
	if n := v.series("R49", 5, v.days(epoch, 14, 45), nil, args()); len(n) != 0 {
		t.Errorf("after the last of two days: %v", n)
	}
}

func TestBudgetOfTheFirstWeek(t *testing.T) {
	said := func(rule string, h int) Said {
		return Said{Key: Key{Rule: rule}, MadeAt: epoch.Add(time.Duration(h) * hour)}
	}
	st := &ferment.State{N: 1, Pitched: epoch}
	v := &view{st: st, h: &House{}, now: epoch, loc: time.UTC, said: []Said{
		said("R01", -24),                  // before the pitch
		said("R45", 1),                    // part of an answer
		said("R06", 14),                   // one message
		said("R03", 24), said("R08a", 24), // one text of a minute
		said("R07", 24), said("R11", 24), // the day's message of the same
	}}
	for _, c := range []struct {
		share, hours int
		want         bool
	}{{3, 48, true}, {4, 48, false}, {3, 7*24 - 1, true}, {3, 7 * 24, false}} {
		if got := v.overBudget(c.share, epoch.Add(time.Duration(c.hours)*hour)); got != c.want {
			t.Errorf("share %d after %d h: %v, want %v", c.share, c.hours, got, c.want)
		}
	}
}

func TestArgs(t *testing.T) {
	a := args("sg", liquid.Gravity(1.048), "unread", liquid.Gravity(0), "d", 7, "none", 0, "day", epoch, "never", time.Time{}, "what", "rack", "v", 4.5)
	want := map[string]string{"sg": "1.048000", "d": "7", "day": "2026-09-11T18:00:00Z", "what": "rack", "v": "4.500000"}
	if len(a) != len(want) {
		t.Errorf("args are %v", a)
	}
	for k, w := range want {
		if a[k] != w {
			t.Errorf("%s is %q, want %q", k, a[k], w)
		}
	}
}

// A month that is shorter than the day: 31 August and six months is the end of
// February.
func TestAddMonths(t *testing.T) {
	for _, c := range []struct {
		from   string
		months int
		want   string
	}{{"2026-08-31", 6, "2027-02-28"}, {"2027-08-31", 6, "2028-02-29"}, {"2026-01-15", 12, "2027-01-15"}, {"2026-12-31", 2, "2027-02-28"}} {
		from, err := time.Parse(time.DateOnly, c.from)
		if err != nil {
			t.Fatal(err)
		}
		if got := addMonths(from, c.months, time.UTC).Format(time.DateOnly); got != c.want {
			t.Errorf("%s and %d months: %s, want %s", c.from, c.months, got, c.want)
		}
	}
}

// The newest run of readings within 0.001, as the stop rule counts it.
func TestRun(t *testing.T) {
	for _, c := range []struct {
		points []int
		want   int
	}{{nil, 0}, {[]int{1010}, 1}, {[]int{1010, 1008}, 1}, {[]int{1010, 1009}, 2}, {[]int{1010, 1009, 1008}, 2}, {[]int{1020, 1010, 1010, 1011}, 3}} {
		var rs []ferment.Reading
		for _, p := range c.points {
			rs = append(rs, ferment.Reading{SG: liquid.Gravity(p) / 1000})
		}
		if got := len(run(rs)); got != c.want {
			t.Errorf("%v: %d in the run, want %d", c.points, got, c.want)
		}
	}
}
