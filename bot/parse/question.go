package parse

import "strings"

// question is what a message asks: a topic and its arguments.
type question struct {
	topic   string
	args    map[string]any
	foreign bool   // words of other topics are in it
	trade   bool   // plainly about the cellar, though it names no batch
	still   bool   // it wants and plans nothing, and has no strange word: "who's on the gorse"
	found   bool   // a topic has its words
	people  bool   // it speaks of people: "is anyone in", "what do we get her"
	asks    string // its first word
	anyone  bool   // it opens with "anyone": whoever in the group can, is to answer
	ahead   bool   // it speaks of a time to come, or of doing it together
	begins  bool   // whether to make one at all: "shall we make parsnip again"
	oddly   bool   // behind it stands a word that means nothing here: "how tall"
}

// findQuestion marks the clauses that ask, so that no number in them is
// taken for a reading, and finds their topic. nil: the message asks
// nothing. Numbers of a question are its arguments: "is 1.010 low enough?"
// stores nothing. Names stay names, since a question is about a batch too.
func (r *reader) findQuestion() *question {
	from := -1
	end := len(r.items)
	for k := 0; k < len(r.items); k++ {
		if s := r.asksFrom(k); s >= 0 {
			from, end = s, r.clauseEndAt(s)
			break
		}
	}
	if from < 0 {
		return nil
	}
	if r.eitherOrClause(from, end) || r.isLoneQuery(from, end) {
		return nil
	}
	text := r.text[r.items[from].start:r.items[end-1].end]
	foreign := r.weigh()
	oddly := from+1 < end && (!r.items[from+1].known() || r.items[from].fold == "how" && r.items[from+1].is(cTaste) && (r.items[from+1].is(cThanks) || r.items[from+1].fold == "good"))
	still := foreign.unknown+foreign.others == 0 && !r.wanting(from, end)
	trade := foreign.other+foreign.others == 0 && foreign.unknown <= 1 && r.tradeWords(from, end)
	people := false
	ahead := r.askedAhead(from, end)
	for k := from; k < end; k++ {
		switch r.items[k].fold {
		case "anyone", "anybody", "someone", "somebody", "her", "him":
			people = people || k+1 >= end || r.items[k+1].name(cAct) != "read" // the book knows whether anyone read it
		}
		people = people || r.items[k].name(cJoin) == "or" && k > from && k+1 < end && r.items[k-1].batch > 0 && r.items[k+1].batch > 0 // "apple or grape first?"
		if it := &r.items[k]; it.batch == 0 || from == 0 && it.used != "" {
			it.used = "question"
		}
	}
	r.dropTimes(from, end)
	topic, found := topicOf(fold(text))
	if topic == TopicStatus && from > 0 {
		topic, found = topicOf(r.folded)
	}
	if topic == topicWhenReady {
		topic = r.readiness()
	}
	if b := r.namedBatch(); topic == TopicBottlesFrom && b > 0 && r.ctx.Batches[b-1].bottled() && r.hasWord(from, "have", "got", "there", "left", "remaining") {
		topic = TopicBottles
	} else if (topic == TopicStatus || topic == TopicWho) && b > 0 && r.ctx.Batches[b-1].bottled() && r.hasWord(from, "left", "remaining", "many") {
		topic, found = TopicBottles, true
	}
	q := &question{topic: topic, found: found, asks: r.items[from].fold, oddly: oddly, people: people, ahead: ahead, anyone: r.asksAnyone(from), begins: r.wouldMake(from, end), args: map[string]any{}, trade: trade, still: still, foreign: foreign.other > 0 || foreign.unknown > 2 || !found && foreign.unknown > 0}
	r.arguments(q, from, end)
	return q
}

// topicWhenReady is asked of anything: the batch's stage makes another topic of it.
const topicWhenReady = "when_ready"

// readiness is what "ready" means at the stage of the batch: while it works when it is
// dry, then when it may be bottled; in bottles, how they stand.
func (r *reader) readiness() string {
	i := r.index(r.meantBatch())
	if i == 0 {
		return TopicWhenDry
	}
	switch b := &r.ctx.Batches[i-1]; {
	case b.bottled():
		return TopicBottles
	case b.Stable, b.Stage == "stopped", b.Stage == "clearing", b.Stage == "ageing", b.Stage == "stabilised":
		return TopicWhenBottle
	}
	return TopicWhenDry
}

// wanting reports a word of wish or plan: "who wants", "who will".
func (r *reader) wanting(from, end int) bool {
	for k := from; k < end; k++ {
		if r.items[k].is(cPlan) {
			return true
		}
	}
	return false
}

// hasWord reports one of the words from item k on.
func (r *reader) hasWord(k int, words ...string) bool {
	for ; k < len(r.items); k++ {
		for _, w := range words {
			if r.items[k].fold == w {
				return true
			}
		}
	}
	return false
}

// gravityItem reports a number shaped like a gravity.
func gravityItem(it *item) bool { return it.kind == tNum && gravityShaped(it.num) }

// topicOf finds the topic by the words of the text; what fits none is
// about how the batch stands.
func topicOf(f string) (topic string, found bool) {
	starts := wordStarts(f)
	for i := range cutQuestions {
		p, ok := &cutQuestions[i], true
		for g := range p.groups {
			if !p.groups[g].in(f, starts) {
				ok = false
				break
			}
		}
		if ok {
			return p.topic, true
		}
	}
	return TopicStatus, false
}

// arguments takes the numbers of a question with their units. Values keep
// the unit that was typed: the bot converts and says so.
func (r *reader) arguments(q *question, from, end int) {
	for k := from; k < end; k++ {
		it := &r.items[k]
		if m := it.name(cMaterial); m != "" && q.topic == TopicMayAdd {
			q.args["material"] = m
		}
		if d := it.name(cDeed); d != "" && (q.topic == TopicWho || q.topic == TopicWhenWas) {
			q.args["deed"] = d
		} else if a := it.name(cAct); a != "" && (q.topic == TopicWho || q.topic == TopicWhenWas) && q.args["deed"] == nil {
			q.args["deed"] = a
		}
		if it.kind == tNum {
			r.argument(q, k)
		}
	}
	if q.topic == TopicHelpFault {
		q.args["fault"] = faultOf(r.folded)
	}
	if f := r.folded; q.topic == TopicSulphite {
		if hasAny(f, "sodium") {
			q.args["salt"] = "sodium"
		}
		if hasAny(f, "campden|tablet") {
			q.args["tablets"] = true
		}
	} else if q.topic == TopicSweeten && hasAny(f, "honey") {
		q.args["with"] = "honey"
	} else if q.topic == TopicTopUp && hasAny(f, "wine") {
		q.args["with"] = "wine"
	}
	if q.topic == TopicConvert {
		if u := r.wantedUnit(from, end); u != "" {
			q.args["to"] = u
		}
	}
	if q.topic == TopicSugarTo || q.topic == TopicHoneyTo || q.topic == TopicWaterTo {
		if hasAny(r.folded, "final|finished|total|made up to|make up to|after topping|in all") {
			q.args["mode"] = "final"
		}
	}
	if len(q.args) == 0 {
		q.args = nil
	}
}

// argument files one number of a question under its name. A gravity
// without a unit is the target where the topic has one, else the gravity
// that is asked about.
func (r *reader) argument(q *question, k int) {
	n := r.items[k].num
	unit := ""
	if k+1 < len(r.items) {
		unit = r.items[k+1].name(cUnit)
	}
	f := r.folded
	switch {
	case gravityShaped(n) && unit == "":
		switch q.topic {
		case TopicSugarTo, TopicHoneyTo, TopicWaterTo, TopicSweeten:
			q.args["target_sg"] = gravityValue(n)
		case TopicConvert, TopicPotential:
			q.args["value"], q.args["unit"] = gravityValue(n), "sg"
		default:
			q.args["sg"] = gravityValue(n)
		}
	case isVolumeUnit(unit) && q.topic != TopicConvert:
		e, c := Entry{}, claim{}
		r.fill(&e, &c, &value{v: n.val, n: n, unit: unit})
		q.args["volume"], q.args["unit"] = n.val, e.Unit
	case q.topic == TopicSulphite:
		r.sulphiteArgument(q, k, unit)
	case q.topic == TopicPriming && unit == "g":
		q.args["grams"] = n.val
	case q.topic == TopicPriming && (unit == "tsp" || unit == "oz"):
		q.args["each"], q.args["unit"] = n.val, unit
	case q.topic == TopicPriming && (unit == "" || unit == "bottle" || unit == "half bottle"):
		q.args["bottles"] = n.val
	case q.topic == TopicAcidTo || q.topic == TopicAcidDown:
		if k > 0 && r.items[k-1].name(cLabel) == "ph" || n.val < 4.6 && strings.Contains(f, "ph") {
			q.args["ph"] = n.val
		} else {
			q.args["ta"] = n.val
		}
	case q.topic == TopicSweeten && unit == "g/L":
		q.args["grams_per_litre"] = n.val
	default:
		q.args["value"] = n.val
		if unit != "" {
			q.args["unit"] = unit
		}
	}
}

// wantedUnit is the unit behind "in" or "to". The last one counts: "72 f
// in c".
func (r *reader) wantedUnit(from, end int) string {
	for k := end - 1; k > from; k-- {
		it := &r.items[k]
		if p := r.items[k-1].fold; p != "in" && p != "to" && p != "as" {
			continue
		}
		if u := it.name(cUnit); u != "" {
			return u
		}
		if it.name(cLabel) == "sg" {
			return "sg"
		}
	}
	return ""
}

var faults = []struct{ words, name string }{
	{"struck|matches", "match"}, {"egg|eggs|eggy|sulphur|sulfur|rotten|eier", "eggs"}, {"geranium", "geranium"}, {"vinegar|nail|acetone|essig", "vinegar"}, {"slim|ropey", "slime"}, {"film|mould|mold", "film"},
	{"mouse|mousy|corky|corked|rubber|musty|cardboard", "taint"}, {"medicin|plaster|bleach|chlorine", "medicine"}, {"brown|sherry|oxid", "brown"}, {"crystal|tartrate", "crystals"},
	{"cloud|haze|hazy|clear|trub", "haze"}, {"foam|overflow|boil", "foam"}, {"hot|warm", "hot"}, {"cold|cool", "cold"},
	{"not work|not start|no bubble|not bubbl|no sign|not ferment|nothing", "no_start"}, {"stuck|stall", "stuck"}, {"slow|sluggish", "sluggish"}, {"went up|risen|rising", "rise"},
	{"fizz|cork|pushed|gas", "fizz"},
}

// faultOf names the fault that the words of a question point to, for its page of advice.
func faultOf(f string) string {
	if name := Complaint(f); name != "" {
		return name
	}
	for _, x := range faults {
		if hasAny(f, x.words) {
			return x.name
		}
	}
	return "other"
}
