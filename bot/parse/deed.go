package parse

import "strings"

// deed is something that the message says was done.
type deed struct {
	at, end int
	name    string
	by      string
	claims  int // what the message gives it
}

// findDeeds finds what was done and by whom. A deed denied is none. The
// same deed twice in a row ("racked, racked it") is one. Whoever did it is
// looked for around the first word of it.
func (r *reader) findDeeds() []deed {
	var ds []deed
	for i := range r.items {
		it := &r.items[i]
		name := it.name(cDeed)
		if name == "" && it.is(cAct) && (r.actDone(i) || r.toppingNow(i)) {
			name = it.name(cAct)
		}
		if name == "" && it.is(cSip) && r.ofBottles(i) {
			name = "opened"
		}
		if name == "" && r.lastGone(i) {
			name = "emptied"
		}
		if name == "" && r.oneGone(i) {
			name = "opened"
		}
		if (name == "" || name == "topped up") && it.name(cAirlock) == "refilled" && r.airlockBefore(i) {
			name = "airlock refilled"
		}
		if name == "cold stabilising started" && it.fold == "into the cold" && i+1 < len(r.items) && r.items[i+1].is(cAmbient) { // "into the cold garage"
			name = "moved"
		}
		if name == "" && it.fold == "corked" && r.corksCounted(i) {
			name = "bottled"
		}
		if name == "" && (r.putSomewhere(i) || r.offToRoom(i)) {
			name = "moved"
		}
		if name == "" && r.triesWine(i) {
			name = "tasted"
		}
		if name == "" {
			name = r.didWhatWasPlanned(i)
		}
		if name == "addition" || name == "read" || name == "stirred" && r.stirsIn(i) {
			continue
		}
		if name == "" || it.used != "" || it.batch > 0 || r.denied(i) || r.deedInName(i) || r.afterThat(i) {
			continue
		}
		if name == "given away" && i+1 < len(r.items) && (r.items[i+1].fold == "us" || r.items[i+1].fold == "me") { // that is got
			continue
		}
		if r.doneToThing(i, name) { // "pressed the label on the jar"
			continue
		}
		if name == "given away" && r.givenMaterial(i) { // "gave the sloe 5 g of nutrient"
			continue
		}
		if len(ds) > 0 && ds[len(ds)-1].name == name && !r.otherBatch(&ds[len(ds)-1], i) {
			ds[len(ds)-1].end = i + 1
			it.used = "deed"
			continue
		}
		d := deed{at: i, end: i + 1, name: name}
		d.by = r.doer(i)
		it.used = "deed"
		ds = append(ds, d)
	}
	return r.quietDeeds(ds)
}

// givenMaterial reports that a wine at work was given something to work on: a material
// stands in the clause, and no bottle.
func (r *reader) givenMaterial(i int) bool {
	from, to := r.clauseOf(i)
	material := r.amountGiven(i, to)
	for k := max(i, from); k < to; k++ {
		it := &r.items[k]
		if it.name(cUnit) == "bottle" || it.batch > 0 && r.ctx.Batches[it.batch-1].bottled() {
			return false
		}
		material = material || it.is(cMaterial) && it.batch == 0 && it.name(cMaterial) != "wine" && !it.is(cFruit)
	}
	return material
}

// otherBatch reports that the deed at i, the same as the one before it, was done to
// another batch: "stirred cowslip, stirred primrose".
func (r *reader) otherBatch(x *deed, i int) bool {
	batch := func(from, to int) int {
		for k := from; k < to && k < len(r.items); k++ {
			if k != i && r.items[k].batch == 0 && r.items[k].is(cDeed) {
				break
			}
			if r.items[k].batch > 0 {
				return r.items[k].batch
			}
		}
		return 0
	}
	between, after := batch(x.end, i), batch(i+1, len(r.items))
	if between == 0 {
		return false
	}
	if after > 0 {
		return after != between
	}
	before := 0
	for k := x.at - 1; k >= 0 && before == 0; k-- {
		before = r.items[k].batch
	}
	return before > 0 && before != between
}

// actDone: "racking done", "done stirring", "did the racking". The trade's
// nouns become deeds by their verb: "did the racking".
func (r *reader) actDone(i int) bool {
	done := func(k int) bool {
		if k < 0 || k >= len(r.items) {
			return false
		}
		switch r.items[k].fold {
		case "done", "finished", "complete", "completed", "did", "over":
			return true
		}
		return false
	}
	if i > 0 && r.items[i-1].fold == "after" && r.items[i-1].used == "" && strings.HasSuffix(r.items[i].fold, "ing") && r.volumeTyped() {
		return true // "2 gallons after straining"
	}
	if strings.HasSuffix(r.items[i].fold, "ing") && r.lostBefore(i) {
		return true
	}
	k := i + 1
	for k < len(r.items) && r.items[k].fold == "the" {
		k++
	}
	if k < len(r.items) && (r.items[k].kind == tNum || r.items[k].batch > 0) { // "top up 0.4 l done", "punch down merlot done 8pm"
		for k < len(r.items) && (r.items[k].kind == tNum || r.items[k].is(cUnit) || r.items[k].batch > 0) {
			k++
		}
		if done(k) && (k+1 == len(r.items) || r.items[k+1].breaks() || r.items[k+1].used == "time") {
			return true
		}
	}
	return done(i-1) || done(i+1) || i > 1 && (r.items[i-1].fold == "the" || r.items[i-1].fold == "a") && done(i-2)
}

// volumeTyped reports a volume with its unit in the text.
func (r *reader) volumeTyped() bool {
	for i := 1; i < len(r.items); i++ {
		if r.items[i-1].kind == tNum && isVolumeUnit(r.items[i].name(cUnit)) {
			return true
		}
	}
	return false
}

// quietDeeds drops a vague word beside a plainer deed: "tastes" beside
// "bottled". Bubbling beside a racking is a remark, and the gift of a stir
// ("gave it a stir") no gift.
func (r *reader) quietDeeds(ds []deed) []deed {
	out := ds[:0]
	for i, d := range ds {
		if i+1 < len(ds) && r.saidWrong(&d, &ds[i+1]) {
			continue
		}
		if d.name == "working" && (len(ds) > 1 || r.foamsOver()) || (d.name == "working" || strings.HasPrefix(r.items[d.at].fold, "sampled")) && r.gravityTyped() || len(ds) > 1 && d.name == "given away" && ds[len(ds)-1].name == "stirred" {
			r.items[d.at].used = ""
			continue
		}
		out = append(out, d)
	}
	return out
}

// foamsOver reports that advice is asked because a wine at work climbs out of its vessel:
// that it works is no news.
func (r *reader) foamsOver() bool {
	asked := r.hasWord(0, "help")
	for i := range r.items {
		asked = asked || r.items[i].used == "question"
	}
	b := r.index(r.meantBatch())
	return asked && b > 0 && !stageFits("working", &r.ctx.Batches[b-1]) && Complaint(r.text) == "foam"
}

// gravityTyped reports a number shaped like a gravity: beside it "bubbling" is a remark,
// since the gravity says it better.
func (r *reader) gravityTyped() bool {
	for i := range r.items {
		if gravityItem(&r.items[i]) {
			return true
		}
	}
	return false
}

// deedInName keeps "must made of …" and adjectives from counting. A slip
// that is also an everyday word is not forgiven: "stained" is not
// "strained".
func (r *reader) deedInName(i int) bool {
	it := &r.items[i]
	if it.name(cDeed) == "emptied" && i > 0 && (r.items[i-1].is(cObs) || r.items[i-1].is(cFault) || r.items[i-1].is(cMaterial)) && r.items[i-1].batch == 0 {
		return true // "bubbles all gone"
	}
	switch it.fold {
	case "tasting": // "zin tasting at the winery" is an event
		if i+1 < len(r.items) {
			switch r.items[i+1].fold {
			case "at", "on", "in", "next", "this", "with", "for":
				return true
			}
			return r.items[i+1].used == "time"
		}
	case "tried the", "tried a", "tried some of", "sampled the", "sampled our", "sampled my", "sampled some": // "tried the door"
		return i+1 >= len(r.items) || r.items[i+1].batch == 0
	}
	return it.slip && it.is(cGuard)
}

// denied reports "not racked yet", "haven't stirred", "almost bottled". The words of
// the other languages stand before the verb as well.
func (r *reader) denied(i int) bool {
	if i > 0 && (r.items[i-1].fold == "be" || strings.HasSuffix(r.items[i-1].fold, " be") && r.items[i-1].batch == 0) { // "must be drunk by spring" is not done
		return true
	}
	if i > 0 && r.unreal(i-1) || i > 1 && r.items[i-1].fold != "have" && r.unreal(i-2) && r.items[i-1].is(cFill) {
		return true
	}
	if (r.items[i].fold == "drunk" || r.items[i].fold == "wrecked") && r.tipsy(i) { // so is who says it
		return true
	}
	for k := i - 1; k >= 0 && k >= i-3; k-- {
		if it := &r.items[k]; it.is(cDeny) && (it.name(cDeny) != "nearly" || k == i-1) {
			return true
		}
		if r.items[k].breaks() {
			return false
		}
	}
	return false
}

// unreal reports "should have", "would've" at k, behind which a deed was not done.
func (r *reader) unreal(k int) bool {
	switch r.items[k].fold {
	case "should've", "would've", "could've", "might've", "shoulda", "woulda", "coulda", "should have", "would have", "could have", "might have", "ought to have", "i'd have", "we'd have", "wish i'd", "wish we'd", "wish we had", "wish i had", "if only":
		return true
	case "have":
		if k == 0 {
			return false
		}
		switch r.items[k-1].fold {
		case "should", "would", "could", "might", "i'd", "we'd", "he'd", "she'd", "they'd", "ought to":
			return true
		}
	}
	return false
}

// tipsy reports that it is somebody who is drunk, and no wine: "or I am drunk".
func (r *reader) tipsy(i int) bool {
	for i > 1 && (r.items[i-1].fold == "both" || r.items[i-1].fold == "all" || strings.HasSuffix(r.items[i-1].fold, "ly") && r.items[i-1].batch == 0) { // "absolutely"
		i--
	}
	if i == 0 {
		return false
	}
	switch r.items[i-1].fold {
	case "am", "i'm", "im", "getting", "got", "too", "half", "he's", "she's", "you're", "we're", "they're", "a bit", "very", "so":
		return true
	case "is", "are", "was", "were":
		if i < 2 {
			return false
		}
		p := &r.items[i-2]
		return p.kind == tWord && p.batch == 0 && (p.is(cPron) && p.fold != "it" && p.fold != "one" || p.is(cPerson) || p.is(cInstr) || r.isMember(p.fold) || !p.known())
	}
	return false
}

// doer is the person before the deed: a member, a kin word, or an unknown
// word that opens the clause ("Sal punched down"). Unknown words count
// only at the head of the clause: there stands whoever did it. The
// sender's own name is no news.
func (r *reader) doer(i int) string {
	if by := r.byName(i); by != "" {
		return by
	}
	k := i - 1
	for k >= 0 && (r.items[k].fold == "has" || r.items[k].fold == "have" || r.items[k].fold == "just" || r.items[k].fold == "also" || r.items[k].fold == "already" || r.items[k].used == "time") {
		k--
	}
	if k < 0 {
		return ""
	}
	it := &r.items[k]
	if it.kind != tWord || it.batch > 0 || it.used != "" {
		return ""
	}
	if it.fold == "he" || it.fold == "she" { // "tom says he stirred it"
		return r.reporter(k)
	}
	if r.isMember(it.fold) {
		return r.claimDoer(it)
	}
	if s, ok := strings.CutSuffix(it.fold, "'s"); ok && r.opens(k) && (r.isMember(s) || len(it.senses) == 0) { // "Tom's racked it"
		it.used = "by"
		return named(it.text[:len(it.text)-len("'s")])
	}
	if it.is(cPerson) || len(it.senses) == 0 && r.opens(k) && len(it.fold) >= 2 && !strings.Contains(it.fold, "'") {
		return r.claimDoer(it)
	}
	return ""
}

// byName reads "racked by Tom". "by" before a time is none of it: "racked
// by noon".
func (r *reader) byName(i int) string {
	for k := i + 1; k+1 < len(r.items) && k < i+4; k++ {
		if r.items[k].breaks() {
			return ""
		}
		it := &r.items[k+1]
		if r.items[k].fold == "by" && it.kind == tWord && it.batch == 0 && it.used == "" && (it.is(cPerson) || r.isMember(it.fold) || len(it.senses) == 0) {
			return r.claimDoer(it)
		}
	}
	return ""
}

// claimDoer marks the word and returns the name as typed, or nothing for
// the sender.
func (r *reader) claimDoer(it *item) string {
	it.used = "by"
	if fold(r.ctx.Sender) == it.fold {
		return ""
	}
	for _, m := range r.ctx.Members {
		if fold(m) == it.fold {
			return m
		}
	}
	return named(it.text)
}

// named writes somebody's name with its capital.
func named(s string) string {
	if c := s[0]; c >= 'a' && c <= 'z' {
		return string(c-'a'+'A') + s[1:]
	}
	return s
}

// isMember reports a name of the house.
func (r *reader) isMember(w string) bool {
	for _, m := range r.ctx.Members {
		if fold(m) == w {
			return true
		}
	}
	return false
}

// opens reports that item k begins its clause, but for a time. A time may
// stand before: "yesterday Tom racked it".
func (r *reader) opens(k int) bool {
	for j := k - 1; j >= 0; j-- {
		if r.items[j].used == "time" {
			continue
		}
		return r.items[j].breaks() || r.items[j].punct(":") || r.items[j].fold == "and" || r.items[j].fold == "my"
	}
	return true
}

// deedAt is the deed that governs item k: the last one before it, else the
// next. With none before it, the deed that follows takes it: "8 l,
// racked".
func (d *draft) deedAt(k int, fits func(string) bool) *deed {
	var best *deed
	for i := range d.deeds {
		x := &d.deeds[i]
		if !fits(x.name) {
			continue
		}
		if x.at < k || best == nil {
			best = x
		}
	}
	return best
}

// anyDeed accepts every deed.
func anyDeed(string) bool { return true }

// undone reports a deed that is denied: "haven't stirred it yet" is worth a
// note, but no deed.
func (r *reader) undone() bool {
	for i := range r.items {
		if it := &r.items[i]; (it.is(cDeed) || it.is(cVerb)) && r.denied(i) {
			return true
		}
	}
	return false
}
