package parse

import (
	"embed"
	"sort"
	"strings"
	"sync"
)

// lexicons holds one text file a language: lines "class name: form; form".
//
//go:embed lexicon/*.txt
var lexicons embed.FS

// class is the part that a word plays in the grammar.
type class uint8

// The classes of the lexicon, in the order of their names below.
const (
	cLabel    class = iota // names a quantity: "sg", "Dichte"
	cIdent                 // names a text that looks like a number: "serial", "lot"
	cUnit                  // a unit
	cNoun                  // a counted thing: "sachet"
	cMaterial              // something put in
	cDeed                  // a deed done
	cAct                   // a deed not (yet) done: "rack", "racking"
	cVerb                  // "added", "in"
	cLost                  // marks a loss: "lost"
	cLeft                  // marks what remains
	cNow                   // the message's own time
	cDay                   // a whole day, its distance from today in the name
	cDaypart               // a part of today
	cPart                  // a part of a day that something else names
	cClock                 // "noon"
	cHalf                  // "half past"
	cQuarter               // "quarter past", "quarter to"
	cAmPm                  // half of the day
	cOclock                // ends an hour
	cAgo                   // "ago" and its like before the number
	cLast                  // makes a weekday the one before today
	cFuture                // a time to come
	cWeekday               // 0 is Sunday
	cMonth                 // 1 is January
	cOrd                   // "th"
	cAmbient               // a room, whose temperature is the air's
	cTType                 // must, sample, cap
	cVessel                // a vessel, whose size is no volume
	cPlan                  // makes a clause a plan
	cCond                  // makes it a condition
	cStarter               // wine that is not the batch's
	cNew                   // begins a batch
	cNewword               // "batch"
	cKind                  // kind of wine
	cFruit                 // what batches are called after
	cPerson                // kin
	cPron                  // pronouns
	cFill                  // small words that decide nothing
	cApprox                // "about"
	cSay                   // begins or marks a repair
	cUndo                  // takes back
	cRedo                  // brings back
	cRename                // "rename"
	cOther                 // another topic: trains, ovens
	cOthers                // other people and their wine
	cQ                     // begins a question
	cObs                   // a word of the cellar in an observation
	cFault                 // a fault seen or smelt
	cThanks                // thanks and greetings
	cIn                    // "in water"
	cInstr                 // an instrument
	cNote                  // "note:"
	cNumber                // a number in words
	cArt                   // "a"
	cOrdinal               // "third"
	cTrade                 // a word that everyday talk does not use
	cTaste                 // how a wine tastes
	cBlur                  // a digit that cannot be read
	cPlain                 // may stand beside a bare gravity: it says nothing else
	cFining                // finings by what they are of: read apart, beside the items
	cPour                  // a small word in a request about wines put together
	cTool                  // a tool with a fruit's name: "apple press"
	cGot                   // bought, picked, sold: it went into no wine
	cDeny                  // denies the word behind it
	cTotal                 // ends a count: "in all"
	cMore                  // goes on with a count: "2 more"
	cDose                  // the last addition once more: "the same dose"
	cMine                  // the sender's own entry
	cTheirs                // somebody else's
	cLastOne               // the last bottle
	cZone                  // sets the time zone
	cLives                 // says where the house is
	cWhole                 // what a text means as a whole: "the other one"
	cTells                 // a verb behind a name that is spoken of: "says"
	cJudge                 // judges: with "is" before it, a question
	cSet                   // means several batches, or the one not spoken of
	cToward                // goes before a thing or a person: "in", "ask"
	cJoin                  // joins two of a kind: "and", or leaves open which of them: "or"
	cPrefix                // a small word with which a name begins: "de", "la"
	cAirlock               // the airlock, or that something was refilled, which beside it is the airlock
	cManner                // how or with what a deed is done, or how much was seen: counts only beside a deed or an observation
	cBye                   // a farewell or the day's greeting: "happy friday" tells no day
	cSip                   // opens a bottle, where one of a bottled batch stands behind it: "cracked a nettle"
	cAside                 // counts only beside another word: where a vessel stands (by, thing), of what or whose (of, gen), how big (size), how well (nice), where it is sold (sold), the articles (by the language's code) and nouns of a deed's object (part, bag)
	cGuard                 // an everyday word that is nobody's slip
	classes
)

var classNames = [classes]string{"label", "ident", "unit", "noun", "material", "deed", "act", "verb", "lost", "left",
	"now", "day", "daypart", "part", "clock", "half", "quarter", "ampm", "oclock", "ago", "last", "future", "weekday",
	"month", "ord", "ambient", "ttype", "vessel", "plan", "cond", "starter", "new", "newword", "kind", "fruit", "person",
	"pron", "fill", "approx", "say", "undo", "redo", "rename", "other", "others", "q", "obs", "fault", "thanks", "in",
	"instr", "note", "num", "art", "ordinal", "trade", "taste", "blur", "plain", "fining", "pour", "tool", "got", "deny", "total", "more", "dose", "mine", "theirs", "lastone", "zone", "lives", "whole", "tells", "judge", "set", "toward", "join", "prefix", "airlock", "manner", "bye", "sip", "aside", "guard"}

// sense is one meaning of a form.
type sense struct {
	class class
	name  string
	lang  string
}

// form is a run of words that means something.
type form struct {
	words  []string // folded tokens
	senses []sense
	exact  bool // made from another form: no slip is forgiven
}

// gapForm is a form in two parts with a few words between them: "topped ..
// up" is found in "topped the gorse up".
type gapForm struct {
	head, tail []string
	senses     []sense
}

// maxGap is how many words may stand between the parts: "the rest of the" and a name of
// two words.
const maxGap = 6

// dictionary finds forms by their first word, the longest first.
type dictionary struct {
	byFirst map[string][]*form
	firsts  []string         // its keys, in the order of the files: two starts must read alike
	alone   map[string]*form // the forms of one word
	gapped  map[string][]*gapForm
	slips   map[string][]*form // a form with one letter left out → forms
	short   map[string]string  // a short word as thumbs type it → the word
	inner   map[string]string  // a word of a longer form with one letter left out → the word
	finings []*form
	wholes  map[string][]string // whole texts, their words with blanks between → names
}

// lexicon is loaded when it is first asked for: a start must not wait for it.
var lexicon = sync.OnceValue(loadLexicon)

// Ready loads the words, which the first message would otherwise wait for: some tenth
// of a second.
func Ready() { lexicon(); alarms(); alarmRules() }

// loadLexicon reads the files of all languages into one dictionary. A
// household mixes languages in one message, so the forms are looked up
// together; the language of a sense is kept only to be shown.
func loadLexicon() *dictionary {
	d := &dictionary{byFirst: map[string][]*form{}, alone: map[string]*form{}, gapped: map[string][]*gapForm{}, slips: map[string][]*form{}, short: map[string]string{}, inner: map[string]string{}, wholes: map[string][]string{}}
	eachLine(lexicons, "lexicon", d.addLine)
	for _, fs := range d.byFirst {
		sort.SliceStable(fs, func(i, j int) bool { return len(fs[i].words) > len(fs[j].words) })
	}
	for _, gs := range d.gapped {
		sort.SliceStable(gs, func(i, j int) bool { return len(gs[i].tail) > len(gs[j].tail) })
	}
	d.indexSlips()
	d.indexShort()
	return d
}

// eachLine hands on each line of a folder's files, one a language, with the language.
func eachLine(files embed.FS, dir string, f func(line, lang string)) {
	list, err := files.ReadDir(dir)
	if err != nil {
		panic(err) // the files are part of the program
	}
	for _, x := range list {
		data, err := files.ReadFile(dir + "/" + x.Name())
		if err != nil {
			panic(err)
		}
		for line := range strings.SplitSeq(string(data), "\n") {
			f(line, strings.TrimSuffix(x.Name(), ".txt"))
		}
	}
}

// addLine files the forms of one line. An unknown class is a slip of ours
// and stops the program at once.
func (d *dictionary) addLine(line, lang string) {
	head, forms, ok := strings.Cut(line, ":")
	cls, name, ok2 := strings.Cut(head, " ")
	if !ok || !ok2 || strings.HasPrefix(line, "#") {
		return
	}
	// "clock 12:00: noon" has a colon in its name.
	if cls == "clock" {
		mm, rest, _ := strings.Cut(forms, ":")
		name, forms = name+":"+mm, rest
	}
	c, ok := classOf(cls)
	if !ok {
		panic("lexicon: unknown class in " + lang + ": " + line)
	}
	for _, f := range strings.Split(forms, ";") {
		for _, x := range expand(strings.TrimSpace(f)) {
			if c == cWhole {
				k := strings.Join(foldedWords(x), " ")
				d.wholes[k] = append(d.wholes[k], name)
			} else if c == cFining {
				d.finings = append(d.finings, &form{words: foldedWords(x), senses: []sense{{c, name, lang}}})
			} else if head, tail, ok := strings.Cut(x, " .. "); ok {
				d.addGap(foldedWords(head), foldedWords(tail), sense{c, name, lang})
			} else if x != "" {
				d.add(x, sense{c, name, lang})
				if c == cDeed {
					d.addAgreeing(x, sense{c, name, lang})
				}
				if first, second, ok := strings.Cut(x, " "); ok && c == cDeed && len(first) > 3 && len(second) > 1 && len(x) > 7 && !strings.ContainsAny(second, " '-") {
					d.add(first+second, sense{c, name, lang}) // "toppedup"
				}
			}
		}
	}
}

// agreement are the endings by which a participle agrees with what it is said of: "soutiré"
// of one wine, "soutirés" of two.
var agreement = map[string][][]string{
	"fr": {{"é", "ée", "és", "ées"}},
	"es": {{"ado", "ada", "ados", "adas"}, {"ido", "ida", "idos", "idas"}},
	"pt": {{"ado", "ada", "ados", "adas"}, {"ido", "ida", "idos", "idas"}},
	"it": {{"ato", "ata", "ati", "ate"}, {"uto", "uta", "uti", "ute"}, {"ito", "ita", "iti", "ite"}},
	"pl": {{"any", "ana", "ane", "ano"}, {"ony", "ona", "one", "ono"}},
	"cs": {{"án", "ána", "áno", "ány"}, {"en", "ena", "eno", "eny"}},
	"sv": {{"ad", "at", "ade"}},
}

// addAgreeing files the other endings of a deed that is told in one word, where they mean
// nothing else: "completes" is English.
func (d *dictionary) addAgreeing(w string, s sense) {
	if len(w) < 6 || strings.ContainsRune(w, ' ') {
		return
	}
	for _, ends := range agreement[s.lang] {
		for _, e := range ends {
			stem, ok := strings.CutSuffix(w, e)
			if !ok {
				continue
			}
			for _, x := range ends {
				if w := fold(stem + x); d.byFirst[w] == nil {
					d.file(&form{words: []string{w}, senses: []sense{s}, exact: true})
				}
			}
			return
		}
	}
}

// expand writes out the alternatives of a form: "(undo|delete) (that|it)" is
// four forms. An empty alternative leaves the word out.
func expand(f string) []string {
	from := strings.IndexByte(f, '(')
	to := strings.IndexByte(f, ')')
	if from < 0 || to < from {
		return []string{strings.Join(strings.Fields(f), " ")}
	}
	var out []string
	for _, a := range strings.Split(f[from+1:to], "|") {
		out = append(out, expand(f[:from]+a+f[to+1:])...)
	}
	return out
}

// addGap files a form in two parts, or one more meaning of it.
func (d *dictionary) addGap(head, tail []string, s sense) {
	for _, g := range d.gapped[head[0]] {
		if sameWords(g.head, head) && sameWords(g.tail, tail) {
			g.senses = append(g.senses, s)
			return
		}
	}
	d.gapped[head[0]] = append(d.gapped[head[0]], &gapForm{head, tail, []sense{s}})
}

// classOf finds a class by its name in the files.
func classOf(name string) (class, bool) {
	for i, n := range classNames {
		if n == name {
			return class(i), true
		}
	}
	return 0, false
}

// add files one form, joining the senses of forms that several languages
// share ("alkohol", "most").
func (d *dictionary) add(text string, s sense) {
	words := foldedWords(text)
	if len(words) == 0 {
		return
	}
	for _, f := range d.byFirst[words[0]] {
		if sameWords(f.words, words) {
			f.exact = false
			for _, old := range f.senses {
				if old.class == s.class && old.name == s.name {
					return
				}
			}
			f.senses = append(f.senses, s)
			return
		}
	}
	d.file(&form{words: words, senses: []sense{s}})
}

// file files a new form.
func (d *dictionary) file(f *form) {
	first := f.words[0]
	if d.byFirst[first] == nil {
		d.firsts = append(d.firsts, first)
	}
	d.byFirst[first] = append(d.byFirst[first], f)
	if len(f.words) == 1 {
		d.alone[first] = f
	}
}

// The files go through the very scanner that reads messages, so that a
// form and what is typed are cut alike.
func foldedWords(text string) []string {
	if plainWords(text) { // as nearly all are
		return strings.Fields(text)
	}
	list := tokenLists.Get().(*[]token)
	toks := scanInto(*list, text)
	var ws []string
	if len(toks) > 0 {
		ws = make([]string, len(toks))
	}
	for i := range toks {
		ws[i] = toks[i].fold
	}
	giveBack(list, toks)
	return ws
}

// plainWords reports small letters and blanks alone, of which the scanner makes the
// words themselves.
func plainWords(text string) bool {
	for i := range len(text) {
		if c := text[i]; (c < 'a' || c > 'z') && c != ' ' {
			return false
		}
	}
	return true
}

// sameWords compares two runs of folded words.
func sameWords(a, b []string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
