package parse

import "strings"

// claim is an entry that the message seems to make, before the policy has
// spoken.
type claim struct {
	e       Entry
	at      int // item
	batch   int // index+1; 0: not named
	v       *value
	ask     string
	options []float64
	reject  string
	strange bool // put in, and nothing that the lexicon knows
}

// draft is what a statement seems to say.
type draft struct {
	claims  []claim
	deeds   []deed
	values  []value
	scopes  *scopes
	unnamed bool // it names a batch that is not open
	name    string
	torn    bool // two gravities are said of two batches, and not which is whose
	fetched bool // something was bought or picked, not put in
	q       *question
	w       weight
}

// statement reads what is told: readings, deeds, notes. What is certain to
// be something else is taken away first: starters, plans, serials. Then
// materials take their amounts, volumes and bottles theirs, and what is
// left of the numbers is judged by shape.
func (r *reader) statement(q *question) Intent {
	whole := r.weigh()
	if r.starter() {
		return r.noteOr("starter or trial: kept out of the batch")
	}
	r.sheetSays()
	plan := r.dropPlans()
	d := draft{q: q, fetched: r.fetched()}
	d.deeds = r.findDeeds()
	r.otherWine(&d)
	ids := r.identities()
	instrument, from, to := r.instrumentNamed()
	for k := from; k < to && instrument != "refractometer"; k++ {
		if r.items[k].used == "" && !r.items[k].is(cInstr) {
			r.items[k].used = "instrument"
		}
	}
	r.prices()
	d.values = r.findValues()
	if in, ok := r.instrument(&d, instrument, to > 0); ok {
		return in
	}
	first := len(r.items)
	for _, v := range d.values {
		first = min(first, v.at)
	}
	for _, x := range d.deeds {
		first = min(first, x.at)
	}
	for _, c := range ids {
		first = min(first, c.at)
	}
	d.scopes = r.newScopes(first)
	d.claims = append(d.claims, ids...)
	r.pairMaterials(&d)
	r.amounts(&d)
	r.bares(&d)
	r.oneBottle(&d)
	r.measured(&d)
	r.readWith(&d, instrument)
	r.deedEntries(&d)
	r.sameAgain(&d)
	d.onlyWhatIsLeft()
	r.values = d.values
	r.deedDone = d.cellarsDeed()
	for i := range d.deeds {
		switch d.deeds[i].name {
		case "stirred", "punched down", "degassed", "racked", "strained":
		default:
			r.otherTwice = true
		}
	}
	if !r.addressed() {
		r.standsBy()
	}
	d.w = r.weigh()
	if r.addressed() && len(d.claims) > 0 {
		others := d.w.others
		d.w = r.weighClaims(&d)
		d.w.others = others
	}
	if !r.addressed() {
		r.weighGroup(&d)
	}
	r.findUnknownName(&d)
	if len(d.claims) == 0 {
		d.w = whole
		return r.nothing(plan, &d)
	}
	for i := range d.claims {
		c := &d.claims[i]
		if c.batch == 0 {
			c.batch = d.scopes.batch(c.at)
		}
		c.e.When = d.scopes.when(c.at)
	}
	d.split()
	return r.decide(&d, plan)
}

// cellarsDeed reports a deed that is not vague, or something put in: how it was done and
// with what, "hard", "with the whisk", is then the cellar's as well.
func (d *draft) cellarsDeed() bool {
	for i := range d.deeds {
		if !vague(d.deeds[i].name) && d.deeds[i].name != "working" && d.deeds[i].name != "not working yet" {
			return true
		}
	}
	for i := range d.claims {
		if d.claims[i].e.Quantity == "addition" {
			return true
		}
	}
	return false
}

// otherWine: in "topped up the damson with 0.4 l gorse" the gorse is what
// went in. It would otherwise be read as a second batch that was topped
// up.
func (r *reader) otherWine(d *draft) {
	if !r.hasDeedNamed(d, "topped up") {
		return
	}
	with := false
	for i := d.deeds[0].end; i < len(r.items); i++ {
		it := &r.items[i]
		switch {
		case it.fold == "with" || it.fold == "mit" || it.fold == "avec" || it.fold == "con" || it.fold == "met":
			with = true
		case it.breaks() && it.used == "":
			with = false
		case with && it.batch > 0:
			it.used, r.toppedBy = "material", r.ctx.Batches[it.batch-1].Name
		}
	}
}

// onlyWhatIsLeft drops the bottles that went where what is left is said.
// Both would count the same bottles twice.
func (d *draft) onlyWhatIsLeft() {
	left := false
	for _, c := range d.claims {
		left = left || c.e.Quantity == "bottles_left"
	}
	if !left {
		return
	}
	out := d.claims[:0]
	for _, c := range d.claims {
		if c.e.Quantity != "bottles_out" {
			out = append(out, c)
		}
	}
	d.claims = out
}

// starter reports a reading of something that is not the batch. With a
// deed it is the household's own affair: "starter in" is a pitch.
func (r *reader) starter() bool {
	num, st := false, false
	for i := range r.items {
		it := &r.items[i]
		if it.used == "" && (it.is(cDeed) || it.is(cVerb)) && r.portion(i) {
			return true
		}
		st = st || it.used == "" && it.batch == 0 && (it.is(cStarter) && it.name(cStarter) != "portion" || it.fold == "glass" && !r.ofGlass(i))
		if it.is(cDeed) && it.name(cDeed) != "working" && it.name(cDeed) != "not working yet" && it.name(cDeed) != "tasted" {
			return false
		}
		num = num || it.kind == tNum
	}
	return st && num
}

// noteOr keeps the text as a note in private, and is silent in a group.
// Mostly for plans and remarks.
func (r *reader) noteOr(why string) Intent {
	if !r.addressed() {
		return r.ignore(why)
	}
	in := r.note("note", "note", strings.TrimSpace(r.text))
	if in.Kind == Event {
		in.Why = why
	}
	return in
}

// note is one entry with the message's text. Without a batch it cannot be
// kept, as every note belongs to one; which is asked.
func (r *reader) note(event, quantity, text string) Intent {
	e := Entry{Quantity: quantity, Text: text, Deed: event}
	sc := r.newScopes(len(r.items))
	for _, t := range r.times {
		if !t.future {
			e.When = t.when
		}
	}
	b := 0
	for i := 0; b == 0 && i < len(r.items); i++ { // a name inside the plan itself
		b = r.items[i].batch
	}
	if b == 0 {
		b = sc.batch(len(r.items))
	}
	if b >= jointID {
		b = sc.joint[b-jointID][0]
	}
	if b <= 0 {
		b = r.choose(deedChoice(event), When{}, nil)
	}
	if b == 0 {
		if len(r.ctx.Batches) == 0 {
			return r.ignore("no batch to keep it with")
		}
		return r.askBatch([]Entry{e}, deedChoice(event))
	}
	r.setBatch(&e, b)
	return Intent{Kind: Event, Event: event, Entries: []Entry{e}, Batch: e.BatchN}
}

// setBatch names the batch in an entry.
func (r *reader) setBatch(e *Entry, b int) {
	e.Batch, e.BatchN = r.ctx.Batches[b-1].Name, r.ctx.Batches[b-1].N
}

// nothing answers a message in which nothing was found to store. A remark
// needs a word of the cellar and must not be full of words that are not.
func (r *reader) nothing(plan bool, d *draft) Intent {
	if d.q != nil {
		return Intent{Kind: Question}
	}
	if plan {
		if r.cellarTalk() && r.addressed() && (d.w.other == 0 || r.onlyPeople() || r.onlyIf()) {
			for i := range r.items {
				if r.items[i].batch > 0 && r.items[i].used == "plan" {
					r.items[i].used = "" // whose plan it is
				}
			}
			return r.planned(r.noteOr(WhyPlan))
		}
		return r.ignore("a plan")
	}
	if d.fetched && r.cellarTalk() && d.w.other+d.w.others == 0 && r.addressed() {
		return r.noteOr("bought or picked, not put in")
	}
	if (r.observation() || r.undone() || r.markDenied()) && (d.w.other == 0 || d.w.other == 1 && r.namedBatch() > 0) && d.w.others == 0 && r.addressed() {
		return r.noteOr("an observation")
	}
	return r.ignore("nothing in it for the book")
}

// cellarTalk reports words of the cellar in a text without data. A plan
// for the weekend is not for the book unless it is about the wine.
func (r *reader) cellarTalk() bool {
	for i := range r.items {
		it := &r.items[i]
		if it.batch > 0 || it.is(cAct) || it.is(cDeed) || it.is(cMaterial) || it.is(cObs) || it.is(cTType) || it.name(cUnit) == "bottle" || it.kind == tNum && gravityShaped(it.num) {
			return true
		}
	}
	return false
}

// observation reports a remark about the wine: in a private chat a sentence
// with a batch's name in it is one.
func (r *reader) observation() bool {
	n, unknown := 0, 0
	for i := range r.items {
		it := &r.items[i]
		if it.is(cObs) || it.is(cFault) || it.batch > 0 && len(r.items) > 2 {
			n++
		} else if !it.known() {
			unknown++
		}
	}
	return n > 0 && unknown <= 6
}

// explicitNote keeps what begins with "note", or with a batch and then "note":
// whatever figures follow are the note's. The word is left out of its text. In a
// group the word alone may be anybody's; with its colon it is a label, where it is
// plain which batch is meant.
func (r *reader) explicitNote() (Intent, bool) {
	k := 0
	for k < len(r.items) && (r.items[k].batch > 0 || k > 0 && (r.items[k].punct(":") || r.items[k].punct(","))) {
		k++
	}
	if k == 0 && r.unknownHead() {
		k = 1
		for k < len(r.items) && r.items[k].kind == tPunct {
			k++
		}
		if k+1 < len(r.items) && r.items[k].is(cNote) && !r.ctx.Group {
			t := strings.TrimSpace(strings.TrimLeft(r.text[r.items[k].end:], " :-"))
			in := r.askBatch([]Entry{{Quantity: "note", Text: t, Deed: "note"}}, nil)
			in.Why = r.items[0].text + " is no open batch"
			return in, true
		}
		return Intent{}, false
	}
	if k+1 >= len(r.items) || !r.items[k].is(cNote) || r.asksInAnother(k) {
		return Intent{}, false
	}
	label := k == 0 && r.items[1].punct(":") && !strings.Contains(r.items[0].fold, " ") && r.meantBatch() > 0
	if !r.addressed() && r.namedBatch() == 0 && !label {
		return Intent{}, false
	}
	t := strings.TrimLeft(r.text[r.items[k].end:], " :-")
	return r.note("note", "note", strings.TrimSpace(t)), true
}

// unknownHead reports a code that opens the text like a batch's name and is none: "b1
// note: …", "b1: smells off", "b1 1.040".
func (r *reader) unknownHead() bool {
	it := &r.items[0]
	if len(r.items) < 2 || it.kind != tCode || it.batch > 0 || len(it.text) > 12 || !isLetterAt(it.text, 0) {
		return false
	}
	return r.items[1].is(cNote) || r.items[1].punct(":") || gravityItem(&r.items[1]) && r.items[1].num.decimals == 3
}

// dropPlans marks the clauses that speak of what is not yet: plans,
// conditions, things to come. It reports whether there was one. Only their
// own clauses: "racked it, will top up tomorrow" is a racking. Their times
// go with them.
func (r *reader) dropPlans() bool {
	plan := false
	for from := 0; from < len(r.items); {
		to := from
		for to < len(r.items) && !(r.items[to].breaks() && r.items[to].used == "") {
			to++
		}
		if r.isPlan(from, to) {
			plan = true
			from = r.toldBefore(from, to)
			for k := from; k < to; k++ {
				r.items[k].used = "plan"
			}
			for i := range r.times {
				if r.times[i].from >= from && r.times[i].from < to {
					r.times[i].future, r.times[i].when = true, When{}
				}
			}
		}
		from = to + 1
	}
	return plan
}

// toldBefore is where the plan begins in a clause that tells a reading first:
// "1.040 gotta run", "1.031 will check tomorrow". Where the gravity is what
// is hoped for ("1.010 should be reached") the whole clause is the plan.
func (r *reader) toldBefore(from, to int) int {
	told := false
	for k := from; k < to; k++ {
		it := &r.items[k]
		told = told || it.kind == tNum && it.used == "" && it.num.decimals == 3 && gravityShaped(it.num)
		if !it.is(cPlan) && !it.is(cFuture) && !it.is(cCond) {
			continue
		}
		if !told {
			return from
		}
		if it.is(cFuture) && !it.is(cPlan) {
			if p := &r.items[k-1]; p.kind == tNum || p.is(cUnit) { // "1.012 next week"
				return from
			}
			for j := k - 1; j > from; j-- { // the rest of the clause is the plan's: "- quince tomorrow"
				if p := &r.items[j-1]; p.kind == tNum || p.is(cUnit) {
					return j
				}
			}
			return from
		}
		if k+1 >= to {
			return from
		}
		switch it.fold {
		case "should", "would", "could", "might", "may", "needs", "expected":
			return from
		}
		switch r.items[k+1].fold {
		case "do":
			if k+2 >= to || r.items[k+2].batch == 0 && !r.items[k+2].is(cPron) && r.items[k+2].fold != "the" {
				return from
			}
		case "be", "reach", "hit", "happen", "mean", "suit", "was", "is":
			return from
		}
		return k
	}
	return from
}

// isPlan decides for one clause. A deed in the past is none, nor is a
// reading. Words of wanting, conditions and times to come make one; a bare
// verb ("racking on saturday") does, unless something was measured or put
// in.
func (r *reader) isPlan(from, to int) bool {
	if r.pleads(from, to) {
		return true
	}
	act, planned, done := false, false, false
	for k := from; k < to; k++ {
		it := &r.items[k]
		if it.used == "question" {
			continue
		}
		switch {
		case it.batch > 0:
		case it.is(cPlan) && !(it.fold == "need" && k > from && r.items[k-1].fold == "no") && !it.is(cMonth):
			planned = true
		case it.is(cCond) && it.used != "time" && !r.onlyTimeAfter(k):
			planned = true
		case it.is(cApprox) && strings.HasSuffix(it.fold, " be") && k+1 < to && r.items[k+1].is(cDeed):
			planned = true // "could be racked"
		case it.fold == "must" && k+1 < to && r.items[k+1].is(cAct):
			planned, act = true, true
		case it.fold == "by" && k+1 < to && r.items[k+1].used == "time":
			planned = true
		case it.is(cFuture) && !it.is(cMonth) && it.used == "time" && !done:
			planned = true
		case it.is(cDeed) && r.frenchPresent(k, to):
			planned, act = true, true
		case it.is(cDeed) || it.is(cAct) && r.actDone(k):
			done = true
		case it.is(cAct) && !it.is(cLabel) && it.name(cAct) != "read":
			act = true
			planned = planned || r.toldWhen(k, to)
		}
	}
	if !planned && act && !done {
		return r.actIsPlan(from, to)
	}
	if planned && done {
		return r.planBeforeDeed(from, to)
	}
	return planned
}

// onlyTimeAfter lets "when" and "after" introduce nothing but a time. A
// marked question with "when" is no condition.
func (r *reader) onlyTimeAfter(k int) bool {
	if r.items[k].fold == "when" { // "when i read it it was 1.031" tells
		from, to := r.clauseOf(k)
		for j := max(from, k); j < to; j++ {
			switch r.items[j].fold {
			case "was", "it was", "were", "had", "got", "did":
				return true
			}
		}
	}
	return r.items[k].is(cQ) && r.items[len(r.items)-1].punct("?")
}

// planBeforeDeed: "will be racked", "if racked" are plans; "racked, need
// sugar" is not. What stands first decides: a plan's words before the deed
// make it one.
func (r *reader) planBeforeDeed(from, to int) bool {
	for k := from; k < to; k++ {
		it := &r.items[k]
		if it.is(cPlan) || it.is(cCond) || it.is(cFuture) {
			return true
		}
		if it.is(cDeed) {
			return false
		}
	}
	return false
}

// actIsPlan: "racking on saturday", "rack tomorrow"; with a gravity and no
// time to come ("at rack 1.010") it is none. A reading in the clause says
// that it has been done.
func (r *reader) actIsPlan(from, to int) bool {
	for k := from; k < to; k++ {
		if it := &r.items[k]; it.is(cMaterial) || it.kind == tNum && it.used == "" && !it.is(cTType) {
			return false
		}
	}
	return true
}
