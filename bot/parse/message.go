package parse

import "strings"

// MaxLength is the longest text that is read, in bytes.
const MaxLength = 10000

// Message understands one message. It is pure: the same text and context
// give the same intent. Its work grows linearly with the text, which is
// bounded by MaxLength. The zero Context is a private chat of a metric
// house without batches.
func Message(text string, ctx Context) Intent {
	if len(text) > MaxLength {
		return Intent{Kind: Reject, Reason: "too_long", Entries: []Entry{}, Why: "longer than 10,000 characters"}
	}
	text = ctx.withoutMention(text)
	r := readerOf(text, &ctx)
	if ctx.Group && !r.addressed() {
		if own := ownWords(text); own != text && r.danger() == "" {
			r.text, r.folded = own, fold(own)
		}
	}
	r.read()
	in := r.understand()
	if in.Entries == nil {
		in.Entries = []Entry{}
	}
	if ctx.Explain {
		if r.namedBatch() > 0 {
			r.foundBy = "it is named"
		}
		in.Words, in.Chosen = r.words(), r.foundBy
	}
	return in
}

// understand tries the kinds of message in the order of their urgency:
// danger first, then what repairs, asks or commands, then what may be
// stored. The order is that of harm: a cry unheard is worse than a reading
// lost, a reading stored twice worse than a question. Each reader either
// takes the whole message or leaves it untouched for the next.
func (r *reader) understand() Intent {
	if len(r.items) == 0 {
		return r.ignore("nothing was typed")
	}
	if t := r.danger(); t != "" {
		return Intent{Kind: Question, Topic: t, Warn: []string{t}, Batch: r.anyBatch()}
	}
	if r.ctx.Forwarded {
		return r.ignore("forwarded: it did not happen here")
	}
	if r.ctx.Pending != nil {
		if in, ok := r.answer(*r.ctx.Pending); ok {
			return in
		}
	}
	if in, ok := r.slash(); ok {
		return in
	}
	r.findTimes()
	r.besideWords()
	r.notMeant()
	r.sinceThen()
	r.timetabled()
	if r.saidInGroup() {
		r.otherTimes()
	}
	if in, ok := r.doneReply(); ok {
		return in
	}
	if in, ok := r.repair(); ok {
		return in
	}
	if in, ok := r.command(); ok {
		return in
	}
	if in, ok := r.explicitNote(); ok {
		return in
	}
	if in, ok := r.newBatch(); ok {
		return in
	}
	if in, ok := r.numberedPacket(); ok {
		return in
	}
	q := r.findQuestion()
	in := r.statement(q)
	if q == nil {
		if in.Event == "note" && r.addressed() && r.hasWord(0, "help") && Complaint(r.text) != "" { // "foaming out of the lid, help"
			in = r.ignore("a cry for advice")
		}
		if in.Kind == Ignore && r.addressed() && !r.hasNumber() {
			if f := Complaint(r.text); f != "" {
				return Intent{Kind: Question, Topic: TopicHelpFault, Args: map[string]any{"fault": f}, Batch: r.meantBatch()}
			}
		}
		return in
	}
	if in.Ask == "is_it_a_reading" && q.foreign && !r.addressed() && r.namedBatch() == 0 {
		return r.ignore("a bare number in a question about something else") // "1048 is the bus, right?"
	}
	if len(in.Entries) > 0 || in.Kind == Ask {
		in.Topic, in.Args = q.topic, q.args
		if (q.topic == TopicStatus || q.topic == TopicNext) && (in.Event == "fault noted" || Complaint(r.text) != "") {
			in.Topic, in.Args = TopicHelpFault, map[string]any{"fault": faultOf(r.folded)}
		}
		return in
	}
	if r.ctx.Group && !r.addressed() && (r.namedBatch() == 0 && !(q.trade && r.meantBatch() > 0 && !q.anyone) || q.foreign && !q.trade) {
		return r.ignore("a question that names no batch")
	}
	if q.topic == TopicStatus || q.topic == TopicNext { // "too much sulphite, what now"
		if f := Complaint(r.text); f != "" {
			return Intent{Kind: Question, Topic: TopicHelpFault, Args: map[string]any{"fault": f}, Batch: r.meantBatch()}
		}
	}
	if q.askedOfPeople() && r.ctx.Group && !r.addressed() {
		return r.ignore("asked of the people in the group")
	}
	return Intent{Kind: Question, Topic: q.topic, Args: q.args, Batch: r.meantBatch()}
}

// ignore is silence in a group, one line of help in private.
func (r *reader) ignore(why string) Intent { return Intent{Kind: Ignore, Why: why} }

// addressed reports that the message is meant for the bot. Everything in a
// private chat is.
func (r *reader) addressed() bool {
	return !r.ctx.Group || r.ctx.Mention || r.ctx.ReplyTo != "" || r.ctx.ReplyN > 0 || r.mentionsBot()
}

// mentionsBot: the bot's name counts only as one word or with @. Part of a
// longer word is none: a bot called "must" would be mentioned daily.
func (r *reader) mentionsBot() bool {
	if r.ctx.told {
		return false
	}
	name := r.ctx.botName()
	for i := range r.items {
		if r.items[i].fold == name {
			return true
		}
	}
	return false
}

// namedBatch is the first batch that the text names (index+1). Names
// inside a question or a reminder count too.
func (r *reader) namedBatch() int {
	for i := range r.items {
		if r.items[i].batch > 0 && r.items[i].used == "" {
			return r.items[i].batch
		}
	}
	return 0
}

// anyBatch is the number of the batch that the text or the context points
// to. Danger is answered without a batch as well.
func (r *reader) anyBatch() int { return r.meantBatch() }

// meantBatch is the number of the batch a question is about; 0 where
// unknown. The same order as for entries: named, replied to, active, the
// only one.
func (r *reader) meantBatch() int {
	if b := r.namedBatch(); b > 0 {
		return r.ctx.Batches[b-1].N
	}
	if b := r.replyBatch(); b > 0 {
		return r.ctx.Batches[b-1].N
	}
	if r.index(r.ctx.Active) > 0 {
		return r.ctx.Active
	}
	if len(r.ctx.Batches) == 1 {
		return r.ctx.Batches[0].N
	}
	return 0
}

// index finds a batch by its number (index+1, 0 if it is not open). Zero,
// no number, finds nothing.
func (r *reader) index(n int) int {
	for i := range r.ctx.Batches {
		if n != 0 && r.ctx.Batches[i].N == n {
			return i + 1
		}
	}
	return 0
}

// replyBatch is the batch of the bot's message that is answered: the only
// name in it. A name that opens the message is its subject; elsewhere it
// must be the only one, or the reply says nothing about the batch.
func (r *reader) replyBatch() int {
	if b := r.index(r.ctx.ReplyN); b > 0 {
		return b
	}
	if r.ctx.ReplyTo == "" {
		return 0
	}
	q := readerOf(r.ctx.ReplyTo, &Context{Batches: r.ctx.Batches})
	if len(q.text) > MaxLength {
		return 0
	}
	q.read()
	found := 0
	for i := range q.items {
		if b := q.items[i].batch; b > 0 && !q.items[i].nearName {
			if i == 0 {
				return b
			}
			if found > 0 && found != b {
				return 0
			}
			found = b
		}
	}
	return found
}

// weigh counts what speaks against a message of the cellar: words that
// mean nothing here, words of other topics, and other people's wine.
type weight struct{ unknown, other, others int }

// weigh weighs the whole message.
func (r *reader) weigh() weight { return r.weighWhere(nil) }

// weighClaims weighs only the clauses that something was read from: in a
// private chat one may talk of anything beside a reading. In a group the
// whole message is weighed.
func (r *reader) weighClaims(d *draft) weight {
	in := make([]bool, len(r.items))
	for _, c := range d.claims {
		from, to := r.clauseOf(c.at)
		for k := from; k < to && !in[k]; k++ {
			in[k] = true
		}
	}
	return r.weighWhere(in)
}

// sentenceOf is the run of items around k between full stops, marks and line
// ends.
func (r *reader) sentenceOf(k int) (from, to int) {
	ends := func(j int) bool {
		it := &r.items[j]
		return it.used == "" && (it.kind == tLine || it.punct(".") || it.punct("!") || it.punct("?"))
	}
	from, to = k, k
	for from > 0 && !ends(from-1) {
		from--
	}
	for to < len(r.items) && !ends(to) {
		to++
	}
	return from, to
}

// weighWhere counts in the marked items, or in all for nil. Money counts
// as another topic.
func (r *reader) weighWhere(in []bool) weight {
	var w weight
	for i := range r.items {
		if in == nil || in[i] {
			w.add(r, i)
		}
	}
	return w
}

// add weighs one item.
func (w *weight) add(r *reader, i int) {
	it := &r.items[i]
	switch it.used {
	case "bot": // what is told of the bot is not told to it
		w.others++
	case "price":
		w.other++
	case "thing": // a cake with a batch's name
		w.other += 3
	}
	if it.used != "" || it.batch > 0 || r.inRemark(i) || it.kind == tWord && r.sender != "" && it.fold == r.sender {
		return
	}
	switch {
	case it.is(cOther) && !it.cellar() && !(it.name(cOther) == "thing" && r.takenOff(i)): // "racked off the stones"
		w.other++
	case r.deedDone && it.is(cManner) && !(it.name(cManner) == "twice" && r.otherTwice):
	case r.ofAnotherThing(i):
		w.unknown++
	case r.ctx.Group && r.ofStranger(i):
		w.others++
	case it.is(cOthers) && r.calls(i):
	case it.is(cOthers) && !r.smallInAnother(i) || r.possessive(i):
		w.others++
	case !it.known():
		w.unknown++
	case it.kind == tPunct && strings.ContainsAny(it.text, "€$£"):
		w.other++
	}
}

// ofAnotherThing reports "his glasses", "her phone": what follows is no wine, so that it
// is not somebody else's wine that is spoken of.
func (r *reader) ofAnotherThing(i int) bool {
	switch r.items[i].fold {
	case "his", "her", "their":
	default:
		return false
	}
	if i+1 >= len(r.items) {
		return false
	}
	x := &r.items[i+1]
	return x.kind == tWord && x.batch == 0 && (!x.known() || x.is(cOther) && !x.cellar())
}

// ofStranger reports an unknown word behind a name and "of": "la sidra de Asturias", "der
// Cidre vom Hofladen" are not made here.
func (r *reader) ofStranger(i int) bool {
	if i < 2 || r.items[i].kind != tWord || r.items[i].known() || r.isMember(r.items[i].fold) {
		return false
	}
	k := i - 1
	if k > 1 && r.items[k].batch == 0 && !r.items[k].has(cAside, "gen") && (r.items[k].is(cArt) || r.items[k].fold == "the" || len(r.items[k].fold) <= 3) {
		k--
	}
	return r.items[k].has(cAside, "gen") && r.items[k-1].batch > 0 && r.items[k-1].used == ""
}

// calls reports "can someone collect me": whoever is called upon makes no wine.
func (r *reader) calls(i int) bool {
	if it := &r.items[i]; i == 0 || it.fold != "someone" && it.fold != "somebody" && it.fold != "people" {
		return false
	}
	switch r.items[i-1].fold {
	case "can", "could", "will", "would", "please", "should":
		return true
	}
	return false
}

// inRemark reports a word of a clause about smell or taste: any word may
// be there. In a group only where the batch is named.
func (r *reader) inRemark(i int) bool {
	r.clauseOf(i)
	return r.remark[i] && (!r.ctx.Group || r.namedBatch() > 0 || r.once("full gravity", r.fullGravity))
}

// fullGravity reports a gravity with all its digits.
func (r *reader) fullGravity() bool {
	for i := range r.items {
		if it := &r.items[i]; it.kind == tNum && it.num.decimals >= 3 && gravityShaped(it.num) {
			return true
		}
	}
	return false
}

// possessive reports somebody's name before a batch's: "Sal's gorse". A
// member's name is the house's own: "Nora's gorse" is one of ours.
func (r *reader) possessive(i int) bool {
	it := &r.items[i]
	return i+1 < len(r.items) && r.items[i+1].batch > 0 && strings.HasSuffix(it.fold, "'s") && len(it.senses) == 0 && !r.isMember(strings.TrimSuffix(it.fold, "'s"))
}

// cellar reports a word that also belongs to the cellar. Such a word
// decides nothing by itself: "stock" is soup, "water" is both.
func (it *item) cellar() bool {
	return it.is(cLabel) || it.is(cUnit) || it.is(cMaterial) || it.is(cDeed) || it.is(cAmbient) || it.is(cVessel) || it.is(cObs) || it.is(cFill) || it.is(cPron)
}
