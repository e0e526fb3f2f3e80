package bot

import (
	"strings"
	"testing"
	"unicode/utf8"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// What households say of a fault, of our own invention, and the page that it belongs to;
// what is good news or another thing belongs to none.
func TestComplaints(t *testing.T) {
	for text, want := range map[string]string{
		"smells of eggs": "eggs", "it smells like rotten eggs": "eggs", "eggy": "eggs", "struck match smell": "match", "elder smells of struck matches": "match", "smells of so2": "match", "added too much sugar": "much_sugar", "way too much sulphite in it": "much_sulphite", "put too much water in": "much_water", "not too much oak": "", "eggs": "eggs",
		"vinegar": "vinegar", "smells of nail varnish": "vinegar", "slimy film at the edge": "slime", "white film on the elder": "film", "mould on top": "film",
		"won't clear": "haze", "still cloudy after a month": "haze", "it has gone hazy": "haze", "foaming over": "foam", "it came out of the airlock": "foam",
		"fizzy bottles": "fizz", "the bottles are fizzy": "fizz", "corks pushed up": "fizz", "two corks popped": "fizz", "smells of geraniums": "geranium",
		"mousy taste": "taint", "tastes corked": "taint", "burnt rubber": "taint", "smells of plasters": "medicine", "smells of bleach": "medicine",
		"tastes of sherry": "brown", "turned brown": "brown", "gravity went up": "rise", "it won't start": "no_start", "no sign of life": "no_start",
		"it's stuck": "stuck", "sluggish": "sluggish", "too hot": "hot", "it's too cold": "cold", "crystals in the jar": "crystals",
		"no film this time": "", "not fizzy": "", "egg smell has gone": "", "clear now": "", "fined with egg white": "", "foam on top": "", "smells lovely": "",
		"no vinegar smell": "", "1.050 at 21c": "", "working": "", "tastes of cherry": "",
	} {
		if got := parse.Complaint(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Every fault of the table has its page, at whatever stage and in every house: at most
// four lines that fit, under the line of what was noted. Where it can hurt or spoil,
// what never to do stands in it.
func TestEveryFaultHasAPage(t *testing.T) {
	bottled := wine("damson", 23, 12.5)
	bottled.Bottled = benchDay.AddDate(0, 0, -1)
	old := wine("damson", 23, 12.5)
	old.Bottled = benchDay.AddDate(0, 0, -20)
	pitched := must(23, 1.085)
	pitched.Pitched, pitched.Stage = benchDay.AddDate(0, 0, -4), ferment.Primary
	stuck := wine("damson", 23, 14.5)
	stuck.Stop.Verdict, stuck.Conditions = ferment.StopStuck, []ferment.Condition{ferment.Stuck}
	hot := must(23, 1.085)
	hot.Pitched, hot.Temps, hot.Conditions = benchDay.AddDate(0, 0, -1), []ferment.Temperature{{At: benchDay, C: 31}}, []ferment.Condition{ferment.TooHot}
	never := map[string]string{"eggs": "No pennies", "vinegar": "Never blend", "slime": "Never blend", "foam": "Never seal", "hot": "no ice in the wine", "fizz": "not carry",
		"no_start": "No", "stuck": "No dry yeast"}
	for _, units := range []string{"metric", "us", "uk"} {
		st := say.Style{Units: units, Now: benchDay}
		for _, name := range []string{"eggs", "vinegar", "slime", "film", "haze", "foam", "fizz", "geranium", "taint", "medicine", "brown", "rise", "no_start", "stuck", "sluggish", "hot", "cold", "crystals", "match",
			"much_sugar", "much_sulphite", "much_acid", "much_water", "much_oak", "much_nutrient", "other"} {
			for i, s := range []*ferment.State{nil, must(23, 1.085), pitched, hot, stuck, wine("damson", 23, 12.5), bottled, old} {
				lines := st.Fault(s, name)
				if len(lines) == 0 || len(lines) > say.Depth-1 {
					t.Errorf("%s, batch %d: %d lines", name, i, len(lines))
				}
				for _, l := range lines {
					if utf8.RuneCountInString(l) > say.Width {
						t.Errorf("%s, batch %d: too wide: %q", name, i, l)
					}
				}
			}
		}
		for name, words := range never {
			s := pitched
			if name == "fizz" {
				s = old
			}
			if name == "stuck" {
				s = stuck
			}
			if got := say.Text(st.Fault(s, name)); !strings.Contains(got, words) {
				t.Errorf("%s: %q is missing in\n%s", name, words, got)
			}
		}
	}
	if l := (say.Style{}).Fault(nil, "nonsense"); l != nil {
		t.Errorf("a page for nonsense: %v", l)
	}
}
