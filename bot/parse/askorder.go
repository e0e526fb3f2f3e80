package parse

// isWhat reports "1.030 is how much sugar": the number is what is asked about.
func (r *reader) isWhat(j, k int) bool {
	switch r.items[j].fold {
	case "is", "means", "equals", "makes", "gives", "=":
		return j+1 < k && r.items[j+1].strongWord()
	}
	return false
}

// invertedBehind reports a verb of asking and its subject behind the word at k: "how strong
// is it", "when can we".
func (r *reader) invertedBehind(k int) bool {
	for j := k + 1; j+1 < len(r.items) && j < k+4; j++ {
		if x := &r.items[j+1]; r.items[j].is(cQ) && (x.is(cPron) || x.batch > 0 || x.fold == "the") {
			return true
		}
	}
	return false
}

// askedAhead reports a question of what is to be done, and with whom: "who's bottling the
// plum with me", "morgen de kweepeer bottelen?".
func (r *reader) askedAhead(from, end int) bool {
	for i := range r.times {
		if t := &r.times[i]; t.future && t.from >= from && t.to <= end {
			return true
		}
	}
	for k := from; k+1 < end; k++ {
		if r.items[k].fold == "with" && (r.items[k+1].fold == "me" || r.items[k+1].fold == "us") {
			return true
		}
	}
	return false
}

// clauseEndAt is the end of the question that begins at s: its mark, a
// line's end or the end of the text. A comma does not end it: "how much
// sugar, and when?"
func (r *reader) clauseEndAt(s int) int {
	for k := s; k < len(r.items); k++ {
		if r.items[k].punct("?") {
			return k + 1
		}
		if r.items[k].kind == tLine && k > s || r.items[k].punct(".") && r.items[k].used == "" && r.toldBehind(k) || r.items[k].punct(",") && r.figureBehind(s, k) {
			return k
		}
	}
	return len(r.items)
}

// figureBehind reports a question from s to the comma at k that speaks of no wine and
// nothing of its measures, and behind it nothing but a name and its figure: "is it hot in
// here, ginger's at 1.050".
func (r *reader) figureBehind(s, k int) bool {
	if r.saidInGroup() && r.items[s].strongWord() { // "what's the price, ginger 1.050" may answer itself
		return false
	}
	for j := s; j < k; j++ {
		if it := &r.items[j]; it.batch > 0 || it.kind == tNum || it.isAny(measures) {
			return false
		}
	}
	named, figure := false, false
	for j := k + 1; j < len(r.items); j++ {
		it := &r.items[j]
		switch {
		case it.batch > 0:
			named = true
		case it.kind == tNum:
			if !named && !figure {
				return false
			}
			figure = figure || gravityItem(it) && it.num.decimals == 3 || j+1 < len(r.items) && unitQuantity[r.items[j+1].name(cUnit)] == "temp"
		case it.punct("?") || !it.is(cFill) && !it.is(cPlain) && !it.is(cUnit) && !it.is(cNow) && it.kind == tWord:
			return false
		}
	}
	return named && figure
}

// measures are the words of what is measured, made and put in: a question with one of them
// may go on behind its comma.
var measures = []class{cLabel, cUnit, cMaterial, cDeed, cAct, cPlan, cCond}

// asksFrom returns where a question begins if item k opens one, else -1.
// In the middle of a text only the plain words of asking open one, behind
// a number or a name: "1.030 when can I rack".
func (r *reader) asksFrom(k int) int {
	it := &r.items[k]
	start := k == 0 || r.items[k-1].breaks() || r.items[k-1].punct(":") || r.items[k-1].punct("¿") || r.items[k-1].fold == "and" || r.items[k-1].fold == "but" || r.items[k-1].fold == "so" || k == 1 && r.items[0].is(cApprox) || r.items[k-1].is(cThanks) && !(k+1 < len(r.items) && r.items[k+1].fold == "you") || r.onlyGreeted(k)
	if it.is(cQ) && it.used == "" && !(it.name(cJoin) == "or" && k+1 < len(r.items) && r.items[k+1].kind == tNum) { // "1,050 ou 1,040": no place is asked for
		if it.name(cQ) == "now" { // "added too much sugar, what now"
			return k
		}
		if it.name(cQ) == "ask" && start || k < 7 && it.has(cQ, "wonder") && !r.numberAhead(k) {
			return k
		}
		if start && r.strong(k) {
			return k
		}
		if k > 0 && it.strongWord() && !(it.name(cJoin) == "or" && k+1 < len(r.items) && gravityItem(&r.items[k+1])) && (r.numberBefore(k) || r.items[k-1].batch > 0) && r.strong(k) {
			if r.otherScale(k) {
				return 0
			}
			return k
		}
	}
	if k > 0 && k+1 == len(r.items) && r.addressed() && it.strongWord() && r.dueWhen(k) {
		return 0
	}
	if it.punct("?") && !r.exclaimed(k) {
		return r.backFrom(k)
	}
	if r.inverted(k) {
		return k
	}
	if k > 2 && r.items[0].fold == "if" && it.used == "" && it.strongWord() && r.invertedBehind(k) { // "if it is 1.010 now how strong is it"
		return 0
	}
	if k == 0 && r.worksOut() {
		return 0
	}
	return -1
}

// inverted reports a verb before its pronoun in the middle of a clause: "furnace died, 45
// tonight will that kill the yeast". Nobody tells anything in this order, but for "the
// thing is it stinks" and what other words of asking govern.
func (r *reader) inverted(k int) bool {
	if k == 0 || k+3 > len(r.items) || r.items[k].used != "" || !r.items[k].is(cQ) {
		return false
	}
	thing := false // "did it" tells
	switch r.items[k].fold {
	case "will", "would", "is", "can", "could", "should", "shall":
		thing = true
	case "does", "do", "did":
	default:
		return false
	}
	switch r.items[k+1].fold {
	case "it", "that", "this":
		if !thing {
			return false
		}
	case "i", "we", "they":
	default:
		return false
	}
	p := &r.items[k-1]
	if p.kind == tPunct && !p.breaks() || p.is(cQ) || p.is(cCond) || p.is(cPlan) {
		return false
	}
	switch p.fold {
	case "thing", "problem", "question", "point", "issue", "fact", "truth", "trouble", "news", "idea", "guess", "that", "as", "so", "than", "all", "and", "it", "which", "smell", "taste":
		return false
	}
	return r.items[k+2].kind == tWord || r.items[k+2].kind == tNum
}

// mostExclaimed bounds how far back such a sentence is looked at: the work stays linear.
const mostExclaimed = 12

// exclaimed reports that the marks at k show wonder and ask nothing: "its 1.020
// already???". Several stand behind a reading with its small words.
func (r *reader) exclaimed(k int) bool {
	more := k+1 < len(r.items) && (r.items[k+1].punct("?") || r.items[k+1].punct("!")) || k > 0 && r.items[k-1].punct("?")
	if !more {
		return false
	}
	reading := false
	for j := k - 1; j >= 0 && j > k-mostExclaimed; j-- {
		it := &r.items[j]
		switch {
		case it.punct("?") || it.punct("!"):
		case it.breaks():
			return reading
		case it.kind == tNum && it.num.decimals == 3 && !reading && (gravityShaped(it.num) || j > 0 && r.items[j-1].is(cLabel)):
			reading = true
		case it.kind == tNum || it.is(cQ) && !it.is(cPlain) && !it.is(cPron) && it.batch == 0:
			return false
		case it.batch > 0 || it.is(cPron) || it.is(cPlain) || it.is(cLabel) || it.is(cApprox) || it.is(cUnit):
		default:
			return false
		}
	}
	return reading
}

// onlyGreeted reports that nothing but a greeting or two stands before item k: "hey when
// is it ready".
func (r *reader) onlyGreeted(k int) bool {
	if k > 2 || k+1 < len(r.items) && r.items[k+1].fold == "you" { // "hey can you log 1.018"
		return false
	}
	for i := range k {
		if it := &r.items[i]; !it.is(cThanks) || it.batch > 0 {
			return false
		}
	}
	return k > 0
}

// numberBefore reports a number or its unit just before.
func (r *reader) numberBefore(k int) bool {
	return r.items[k-1].kind == tNum || r.items[k-1].is(cUnit) || r.items[k-1].punct("°")
}

// strongWord reports a word that opens a question without its mark: it is hardly ever said
// without asking; "can", "is" and "will" are.
func (it *item) strongWord() bool {
	for i := range it.senses {
		if it.senses[i].class == cQ && it.senses[i].name == "strong" {
			return true
		}
	}
	return false
}

// strong decides whether the word at k opens a question although no mark
// ends it. "when" without a mark is mostly a condition ("when it hits
// 1.010"), "should rack" a plan, "was 1.036" a statement.
func (r *reader) strong(k int) bool {
	it := &r.items[k]
	end := r.clauseEndAt(k)
	marked := r.items[end-1].punct("?")
	next := func(c class) bool {
		return k+1 < len(r.items) && (r.items[k+1].is(c) || r.items[k+1].batch > 0 || r.items[k+1].fold == "the")
	}
	switch it.fold {
	case "when", "quand", "cuando", "quando", "wanneer":
		return marked || k+1 < len(r.items) && r.items[k+1].is(cQ)
	case "what", "which", "who", "how", "why", "where", "when's", "whens", "how's", "what's", "who's":
		return true
	case "can", "could", "may", "shall", "should", "would", "do", "does", "did", "has", "have", "will", "am":
		if marked && !it.is(cMonth) {
			return true
		}
		switch it.fold {
		case "does": // nor "does the elder need stirring"
			return next(cPron) || next(cFill) || k == 0 && k+1 < len(r.items) && r.items[k+1].kind == tNum
		case "has": // "has the elder been stirred": nobody tells it in this order
			return next(cPron)
		case "did":
			if k+2 < len(r.items) && r.items[k+1].fold == "it" && !r.bareVerb(k+2) { // "did it at 8pm", "did it mum's way"
				return false
			}
			if r.plainVerbBehind(k) {
				return true
			}
			return next(cPron) && r.items[k+1].fold != "the" && r.items[k+1].batch == 0
		case "will", "would": // "will 10 degrees stop it"
			return k+1 < len(r.items) && k == 0 && (r.items[k+1].kind == tNum || next(cPron) && r.items[k+1].fold != "you")
		case "can", "could", "shall", "should", "do":
			if x := r.items[min(k+1, len(r.items)-1)].fold; x == "whoever" || x == "someone" || x == "somebody" {
				return true
			}
			return next(cPron) && r.items[k+1].fold != "the" && r.items[k+1].batch == 0 || k == 0 && it.fold != "should" && r.plainVerbBehind(k)
		}
		return false
	case "is", "are", "was", "were", "isn't", "aren't":
		if k == 0 && k+1 < len(r.items) && r.items[k+1].fold == "there" { // "are there 12 left"
			return true
		}
		return marked || next(cPron) && it.fold == "is" || r.judges(k)
	}
	return marked || it.strongWord()
}

// judges reports that what stands behind the verb at k asks for a judgement: "is 1.012
// bad", "is the cherry stuck or just slow".
func (r *reader) judges(k int) bool {
	if f := r.items[k].fold; f != "is" && f != "are" && f != "isn't" && f != "aren't" {
		return r.hasWord(k, "too", "enough", "ok", "normal", "safe")
	}
	if k+1 >= len(r.items) {
		return false
	}
	if x := &r.items[k+1]; x.kind != tNum && x.batch == 0 && !x.is(cPron) && x.fold != "the" && x.fold != "my" && x.fold != "our" && !x.is(cMaterial) && !x.is(cUnit) {
		return r.hasWord(k, "too", "enough", "ok", "normal", "safe")
	}
	for j := k + 2; j < len(r.items) && !r.items[j].breaks() && r.items[j].fold != "and"; j++ {
		if r.items[j].is(cJudge) {
			return true
		}
	}
	return false
}

// backFrom finds where the question that ends with the mark at k begins.
// The clause before the mark asks, but for a reading at its head.
func (r *reader) backFrom(k int) int {
	from := 0
	for j := k - 1; j >= 0; j-- {
		if r.items[j].breaks() {
			from = j + 1
			break
		}
	}
	if from == k {
		return -1
	}
	if k := r.afterValues(from, k); k > from {
		return k
	}
	// "1.030 abv?": a reading before the word that asks.
	for j := from; j < k && r.wantedUnit(from, k) == ""; j++ {
		if gravityItem(&r.items[j]) && j+1 < k && r.items[j+1].name(cJoin) != "or" && !r.isWhat(j+1, k) && r.asksAfter(j+1, k) {
			for j++; j < k && (r.items[j].kind == tNum || r.items[j].is(cUnit) && !r.items[j].is(cLabel)); j++ {
			}
			return j
		}
	}
	return from
}

// afterValues: in "1.032 19c ok?" the question begins behind the reading.
// A unit that is asked for ("1.090 in brix?") makes the number part of the
// question. "1.032 ok?" stores the reading and answers the rest.
func (r *reader) afterValues(from, k int) int {
	j := from
	for j < k && (r.items[j].batch > 0 || r.items[j].name(cLabel) == "sg" || r.items[j].punct(":") || r.items[j].is(cThanks) && !r.items[j].is(cQ) || r.items[j].fold == "fine") { // "ok 1.036 happy now?"
		j++
	}
	if n := r.readAndJudged(from, j, k); n > 0 {
		return n
	}
	if j >= k || !gravityItem(&r.items[j]) || r.wantedUnit(from, k) != "" || r.items[from].is(cQ) {
		return -1
	}
	for j < k && (r.items[j].kind == tNum || r.items[j].is(cUnit) && r.items[j-1].kind == tNum || r.items[j].punct("-") || r.items[j].punct("@") || r.items[j].fold == "at" && r.items[j+1].kind == tNum) {
		j++
	}
	if j >= k || r.items[j].name(cJoin) == "or" || r.isWhat(j, k) {
		return -1
	}
	return j
}

// asksAfter: the words behind a reading ask for something else than the
// reading. A text that opens with a verb asks as a whole: "convert 1.090
// brix?"
func (r *reader) asksAfter(j, k int) bool {
	if j > 1 && (r.items[0].is(cQ) || r.items[0].is(cAct)) {
		return false
	}
	for ; j < k; j++ {
		if r.items[j].is(cLabel) && r.items[j].name(cLabel) != "temp" || r.items[j].is(cQ) && r.items[j].name(cJoin) != "or" {
			return true
		}
	}
	return false
}

// eitherOrClause keeps "1.023 or 1.032?" for the policy. It doubts two
// digits and asks the bot nothing.
func (r *reader) eitherOrClause(from, end int) bool {
	if from+1 < end && r.items[from].is(cQ) {
		switch r.items[from].fold {
		case "can", "could", "should", "shall", "may", "would", "do", "must", "when":
			if w := r.items[from+1].fold; w == "i" || w == "we" { // "can I rack at 1.010 or wait for 1.005?"
				return false
			}
		}
		for k := from; k < end; k++ {
			if r.items[k].is(cAct) && r.items[k].name(cAct) != "read" {
				return false
			}
		}
	}
	g, or := 0, false
	for k := from; k < end; k++ {
		if gravityItem(&r.items[k]) {
			g++
		}
		or = or || g == 1 && r.items[k].name(cJoin) == "or"
	}
	return g == 2 && or
}

// isLoneQuery: "1.032?" asks nothing but shows doubt. The policy asks back
// whether it is a reading at all.
func (r *reader) isLoneQuery(from, end int) bool {
	return from == 0 && end == 2 && gravityItem(&r.items[0])
}

// dueWhen reports a message that ends on "when" behind something to be done, of which nothing
// is denied or measured: "plum needs racking when".
func (r *reader) dueWhen(k int) bool {
	due := false
	for j := range k {
		it := &r.items[j]
		if it.kind == tNum || it.is(cDeny) || it.is(cSay) || it.is(cApprox) || it.breaks() {
			return false
		}
		due = due || it.is(cAct)
	}
	return due
}
