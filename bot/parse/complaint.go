package parse

import "strings"

// complaint is what a household sees or smells, by the phrases that it uses. A single
// word is too little for most: "clear" and "foam" are good news as a rule.
type complaint struct{ name, phrases string }

var complaints = []complaint{
	{"eggs", "of eggs|like eggs|egg smell|eggy|rotten egg|bad egg|sulphur smell|sulfur smell|of sulphur|of sulfur|like drains|like cabbage"},
	{"match", "struck match|burnt match|burned match|lit match|like matches|of matches|match smell|of sulphur dioxide|of sulfur dioxide|of so2|sulphite smell|sulfite smell|of sulphite|of sulfite|fireworks"},
	{"geranium", "geranium"},
	{"fizz", "fizzy bottle|bottles are fizzy|bottle is fizzy|bottles fizz|fizz in the bottle|fizzy in the bottle|gas in the bottle|pushed cork|pushed a cork|corks pushed|cork pushed|corks are rising|corks rising|cork rising|cork is rising|cork popped|corks popped|corks popping|corks coming out"},
	{"vinegar", "vinegar|nail varnish|nail polish|acetone|pear drops"},
	{"slime", "slimy|slime|oily film|ropey|ropy"},
	{"film", "film|mould on|mold on|white skin|skin on top|flowers of wine"},
	{"taint", "mouse|mousy|mousey|corky|corked|burnt rubber|rubbery|mouldy|moldy|musty|wet cardboard|barnyard|horse blanket"},
	{"medicine", "medicin|plasters|of plaster|like plaster|band aid|band-aid|of bleach|bleach smell|of chlorine|chlorine smell"},
	{"brown", "browning|turned brown|turning brown|gone brown|going brown|sherry|oxidis|oxidiz"},
	{"haze", "won't clear|wont clear|will not clear|not clearing|doesn't clear|does not clear|isn't clearing|never clears|still cloudy|still hazy|gone cloudy|gone hazy|turned cloudy|haze won't go|pectin haze"},
	{"foam", "foaming over|foaming out|foaming right|foaming up through|out of the bucket|out the bucket|out the top|over the rim|foam over|foams over|foamed over|overflow|boiled over|boiling over|out of the airlock|foam in the airlock|climbing out|over the top"},
	{"rise", "gravity went up|gravity has gone up|gravity rose|gravity is rising|gravity goes up|sg went up|reading went up|went up instead"},
	{"no_start", "won't start|wont start|will not start|not starting|hasn't started|no sign of life|nothing is happening|nothing happens|not fermenting|no fermentation|no sign of fermentation"},
	{"stuck", "it's stuck|its stuck|is stuck|seems stuck|stuck ferment|stalled"},
	{"sluggish", "sluggish|very slow|too slow|slowed right down"},
	{"hot", "too hot|too warm|overheat"},
	{"cold", "too cold|too cool"},
	{"much_sugar", "too much sugar|too much honey|too many sugars|oversugared"},
	{"much_sulphite", "too much sulphite|too much sulfite|too much campden|too many campden|too much metabisulphite|too much metabi|too much so2|oversulphited|too much meta"},
	{"much_acid", "too much acid|too much citric|too much tartaric|too much lemon|too acid|too acidic|far too sour"},
	{"much_water", "too much water|too watery|overdiluted|over diluted"},
	{"much_oak", "too much oak|too oaky|too much tannin|too tannic"},
	{"much_nutrient", "too much nutrient|too much dap|too much yeast food"},
	{"crystals", "crystals in|crystals at|wine diamonds|tartrate"},
}

// cutComplaints are their phrases cut apart; all of them begin with a letter.
var cutComplaints = func() (out []choices) {
	for _, c := range complaints {
		out = append(out, anyOf(c.phrases))
	}
	return out
}()

// soleComplaints are words that are a complaint when they are all that was typed.
var soleComplaints = map[string]string{"eggs": "eggs", "fizz": "fizz", "fizzy": "fizz", "stuck": "stuck", "haze": "haze", "hazy": "haze", "cloudy": "haze",
	"slow": "sluggish", "brown": "brown", "crystals": "crystals", "mould": "film", "mold": "film"}

// Complaint names the fault that a text complains of: eggs, vinegar, film, slime, haze,
// foam, fizz, geranium, match, taint, medicine, brown, rise, no_start, stuck, sluggish, hot, cold,
// crystals, or much_ and what too much of went in; empty where it complains of none, or says that there is none.
func Complaint(text string) string {
	f := fold(text)
	if name := soleComplaints[strings.Trim(f, " .!?")]; name != "" {
		return name
	}
	starts := wordStarts(f)
	for k, c := range complaints {
		for _, p := range cutComplaints[k].forms {
			if starts&initial(p[0]) == 0 {
				continue
			}
			if i := wordAt(f, p); i >= 0 && !deniedBefore(f[:i]) && !strings.Contains(f[i:], " gone") && !strings.Contains(f[i:], " went away") {
				return c.name
			}
		}
	}
	return ""
}

// wordAt finds a phrase at the beginning of a word, -1 where it is not there.
func wordAt(f, phrase string) int {
	for from := 0; ; {
		i := strings.Index(f[from:], phrase)
		if i < 0 {
			return -1
		}
		if i += from; i == 0 || !letter(f[i-1]) {
			return i
		}
		from = i + 1
	}
}

// deniedBefore reports a word of denial among the last three.
func deniedBefore(f string) bool {
	w := strings.Fields(f)
	for _, x := range w[max(0, len(w)-3):] {
		switch strings.Trim(x, ",.!") {
		case "no", "not", "never", "without", "isn't", "doesn't", "less", "wasn't", "nor", "if", "avoid":
			return true
		}
	}
	return false
}
