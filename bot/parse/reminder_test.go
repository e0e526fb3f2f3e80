package parse

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// 22 July 2026 is a Wednesday.
var wednesday = time.Date(2026, 7, 22, 19, 0, 0, 0, time.UTC)

func said(text string) Intent {
	return Message(text, Context{Now: wednesday, Members: []string{"Jo", "Tom"}, Active: 1, Batches: []Batch{{N: 1, Name: "damson", Stage: "primary"}, {N: 2, Name: "elder"}}})
}

// day writes a day as the cases do.
func dayOf(v any) string {
	t, ok := v.(time.Time)
	if !ok {
		return "-"
	}
	return t.Format("2006-01-02")
}

func TestHolidays(t *testing.T) {
	for _, c := range []struct{ text, from, to, who string }{
		{"away 1-15 aug, jo minds it", "2026-08-01", "2026-08-15", "Jo"},
		{"away 1–15 aug", "2026-08-01", "2026-08-15", ""},
		{"away aug 3 to 9", "2026-08-03", "2026-08-09", ""},
		{"away from 30 dec to 3 jan", "2026-12-30", "2027-01-03", ""},
		{"away 1.8. - 15.8. tom looks after it", "2026-08-01", "2026-08-15", "Tom"},
		{"away until sunday", "2026-07-22", "2026-07-26", ""},
		{"away saturday to tuesday", "2026-07-25", "2026-07-28", ""},
		{"away tomorrow", "2026-07-23", "2026-07-23", ""},
		{"away for 2 weeks from 1 aug", "2026-08-01", "2026-08-14", ""},
		{"away for 10 days, nobody minds it", "2026-07-22", "2026-07-31", "pause"},
		{"on holiday 28 feb to 1 march", "2027-02-28", "2027-03-01", ""},
		{"away 2026-09-01 to 2026-09-05", "2026-09-01", "2026-09-05", ""},
		{"we're back", "-", "-", "over"},
		{"away cancelled", "-", "-", "over"},
		{"away", "-", "-", ""},
	} {
		in := said(c.text)
		who, _ := in.Args["minder"].(string)
		if in.Args["pause"] == true {
			who = "pause"
		}
		if in.Args["over"] == true {
			who = "over"
		}
		if in.Topic != TopicAway || dayOf(in.Args["from"]) != c.from || dayOf(in.Args["to"]) != c.to || who != c.who {
			t.Errorf("%q: %s %s to %s, %q", c.text, in.Topic, dayOf(in.Args["from"]), dayOf(in.Args["to"]), who)
		}
	}
}

func TestReminderSettings(t *testing.T) {
	for _, c := range []struct{ text, topic, args string }{
		{"mute labels", TopicMute, "rule=R38"},
		{"stop reminding about airlocks", TopicMute, "rule=R28"},
		{"no label reminders", TopicMute, "rule=R38"},
		{"reminders off", TopicMute, "all=true"},
		{"mute damson", TopicMute, "named=true"},
		{"mute the neighbours", TopicMute, "unknown=true"},
		{"unmute labels", TopicUnmute, "rule=R38"},
		{"snooze 6 h", TopicSnooze, "at=2026-07-23"},
		{"snooze until saturday", TopicSnooze, "at=2026-07-25"},
		{"snooze until 14 october", TopicSnooze, "at=2026-10-14"},
		{"snooze 3 days", TopicSnooze, "at=2026-07-25"},
		{"quiet hours 22:00-7:00", TopicSetQuiet, "from=22:00 to=07:00"},
		{"urgent may break quiet hours", TopicSetUrgent, "off=false"},
		{"bundle at 6pm", TopicSetBundle, "at=18:00"},
		{"no weekly round-up", TopicSetRoundUp, "off=true"},
		{"stir hours 8 and 20:30", TopicSetStir, "hours=[08:00 20:30]"},
		{"labels after 10 days", TopicSetInterval, "rule=R38 hours=240 named=false"},
		{"stir every 8 h", TopicSetInterval, "rule=R06 hours=8"},
		{"elder rack again after 60 days", TopicSetInterval, "rule=R26 hours=1440 named=true"},
		{"sugar in 3 steps of 500 g", TopicSetSteps, "material=sugar count=3 amount=500 g"},
		{"nutrient steps at 24, 48, 72 h", TopicSetSteps, "material=nutrient hours=[24 48 72]"},
		{"sugar steps on day 3, 6, 9", TopicSetSteps, "hours=[72 144 216]"},
		{"no nutrient steps", TopicSetSteps, "material=nutrient off=true"},
		{"heat wave", TopicHeat, "off=false"},
		{"heat wave over", TopicHeat, "off=true"},
		{"opened a new tub of sulphite", TopicTub, "material=sulphite"},
		{"sorbate opened 3 may", TopicTub, "material=sorbate at=2026-05-03"},
		{"tom minds elder", TopicMinder, "text=Tom named=true"},
		{"nobody minds damson", TopicMinder, "text=nobody"},
		{"kit says day 6", TopicSetCheckDay, "day=6"},
		{"rack at 1.012", TopicSetRack, "sg=1.012"},
		{"the room is airy", TopicSetFlag, "flag=airy"},
		{"damson no hydrometer", TopicSetFlag, "flag=no hydrometer named=true"},
		{"remind me on 3 august at 9 to rack", TopicRemind, "at=2026-08-03 text=rack day=false"},
		{"remind me saturday to bottle", TopicRemind, "at=2026-07-25 text=bottle deed=bottled"},
	} {
		in := said(c.text)
		if in.Kind != Question || in.Topic != c.topic {
			t.Errorf("%q: %s %s", c.text, in.Kind, in.Topic)
			continue
		}
		for _, want := range fields(c.args) {
			key, value, _ := strings.Cut(want, "=")
			got := fmt.Sprint(in.Args[key])
			if at, ok := in.Args[key].(time.Time); ok && len(value) == 10 {
				got = dayOf(at)
			}
			if got != value {
				t.Errorf("%q: %s is %s, want %s", c.text, key, got, value)
			}
		}
	}
}

// fields parts "a=1 b=two words c=3" before each name.
func fields(s string) (out []string) {
	for _, w := range strings.Fields(s) {
		if strings.Contains(w, "=") || len(out) == 0 {
			out = append(out, w)
		} else {
			out[len(out)-1] += " " + w
		}
	}
	return out
}

// A plan in private is kept and carries what a reminder of it needs; in a group it
// is nobody's.
func TestPlansCarryTheirReminder(t *testing.T) {
	in := said("will rack on Sunday")
	if in.Kind != Event || in.Event != "note" || dayOf(in.Args["at"]) != "2026-07-26" || in.Args["deed"] != "racked" || in.Args["text"] != "rack" {
		t.Errorf("%s %s %v", in.Kind, in.Event, in.Args)
	}
	in = said("going to strain the elder on 3 august")
	if in.Batch != 2 || dayOf(in.Args["at"]) != "2026-08-03" || in.Args["deed"] != "strained" {
		t.Errorf("%s for batch %d: %v", in.Kind, in.Batch, in.Args)
	}
	if in := Message("will rack the damson on Sunday", Context{Now: wednesday, Group: true, Batches: []Batch{{N: 1, Name: "damson", Stage: "primary"}}}); in.Kind != Ignore {
		t.Errorf("in a group it is %s", in.Kind)
	}
}
