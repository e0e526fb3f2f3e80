package parse

import (
	"strings"
	"time"
)

// repair reads what takes back, replaces, moves or retimes the sender's
// last entry, and what renames a batch. In a group such words are said
// about anything, so an older entry is repaired only by the plainest of
// them, and talk that could have been one is dropped instead of read as a
// new reading.
func (r *reader) repair() (Intent, bool) {
	own := r.ownMeant()
	in, ok := r.repaired()
	if ok && own && in.Kind == Correction {
		in.Whose = Mine
	}
	return in, ok
}

// ownMeant takes "mine" and "my last one" out of a message: a repair with such a word is
// about the sender's own newest entry, whoever logged something since. It reports
// whether that is another than the newest.
func (r *reader) ownMeant() bool {
	if r.ctx.OwnEntry == nil {
		return false
	}
	own, repair := false, false
	for i := range r.items {
		own = own || r.items[i].is(cMine) && r.items[i].batch == 0 || r.items[i].is(cUndo) && strings.Contains(r.items[i].fold, " my ")
		repair = repair || r.items[i].is(cSay) || r.items[i].is(cUndo)
	}
	if !own || !repair {
		return false
	}
	for i := range r.items {
		if it := &r.items[i]; it.is(cMine) || it.is(cTheirs) && i > 0 && r.items[i-1].name(cSay) == "not" {
			it.used = "mine"
		}
	}
	r.ctx.LastEntry = r.ctx.OwnEntry
	return true
}

// repaired is repair once it is known whose entry is meant.
func (r *reader) repaired() (Intent, bool) {
	first := &r.items[0]
	if (first.is(cSay) || first.fold == "no") && len(r.items) > 2 && r.spokenTo(1) { // "no Tom, 1.037"
		r.items[1].used = "by"
	}
	if first.fold == "meant" && len(r.items) > 2 && r.items[1].fold == "to" && r.items[2].is(cAct) { // "meant to rack it on sunday, did it today"
		return Intent{}, false
	}
	if first.is(cRename) {
		return r.rename()
	}
	if first.is(cRedo) && r.onlySmallWords(1) {
		return Intent{Kind: Correction, Action: "redo"}, true
	}
	if r.ctx.Group && !r.addressed() && !plainRepair(first.fold) && !r.justLogged() && !r.deniesLastName() && (first.is(cSay) || first.is(cUndo)) {
		return r.ignore("talk, not a repair"), r.namedBatch() == 0
	}
	if in, ok := r.movesLast(); ok {
		return in, true
	}
	if r.hasUndo() && (r.onlySmallWords(0) || r.undoWithReason() || r.undoThenReason()) || first.is(cUndo) && r.lastValueOnly() {
		return r.undo()
	}
	if k := r.afterScratch(); k > 0 {
		if in, ok := r.correct(k); ok {
			return in, true
		}
	}
	if first.is(cUndo) && len(r.items) > 1 {
		return r.undoNamed()
	}
	if in, ok := r.editNamed(); ok {
		return in, true
	}
	if first.name(cSay) == "not" && len(r.items) > 2 { // "not 1.020 yet", "not sure but 1.031"
		it := &r.items[1]
		if r.items[2].fold == "yet" || it.kind == tWord && it.batch == 0 && it.used == "" && it.fold != "the" && !it.is(cMaterial) && !it.is(cUnit) {
			return Intent{}, false
		}
	}
	if first.fold == "no" && len(r.items) > 1 && r.determiner(1) {
		return Intent{}, false
	}
	k := 0
	if !first.is(cSay) {
		if r.ownLast() && first.is(cUnit) && len(r.items) > 2 && r.onlyDenied(1) { // "ounces, not grams"
			return r.correct(0)
		}
		if r.notTheLast() || r.oneNotOther() || r.ownLast() && (r.saidAfter() || r.onlyTime()) {
			return r.correct(0)
		}
		if k = r.behindReference(); k == 0 || !r.ownLast() {
			return Intent{}, false
		}
	}
	for k < len(r.items) && (r.items[k].used == "mine" || k == 1 && r.items[k].used == "by" || r.items[k].is(cSay) || r.items[k].kind == tPunct || r.items[k].is(cArt) || r.items[k].is(cPron) || r.items[k].fold == "the" || r.items[k].fold == "was" || r.items[k].is(cApprox) && r.items[k].fold == "i think") && (r.items[k].used == "" || r.items[k].used == "mine" || r.items[k].used == "by") && !r.items[k].punct("#") {
		k++
	}
	if k == len(r.items) {
		return r.bareNo()
	}
	return r.correct(k)
}

// spokenTo reports at item k the name of a member, or of whoever made the newest entry,
// and a sign behind it.
func (r *reader) spokenTo(k int) bool {
	it := &r.items[k]
	if next := &r.items[k+1]; it.kind != tWord || it.batch > 0 || it.used != "" || !next.breaks() && next.kind != tNum && !next.is(cSay) && next.fold != "it's" && next.fold != "its" {
		return false
	}
	return r.isMember(it.fold) || r.ctx.LastEntry != nil && fold(r.ctx.LastEntry.By) == it.fold
}

// plainRepair are the words that in a group too begin a repair of an older
// entry. The no of the other languages is among them.
func plainRepair(w string) bool {
	switch w {
	case "undo", "undo that", "no", "nope", "sorry", "oops", "correction", "typo", "nein", "non", "nee", "nie", "ne", "nej", "nao":
		return true
	}
	return false
}

// justLogged: in a group, talk is taken for a repair only while one's own
// entry is fresh. Half an hour: common practice, no source.
func (r *reader) justLogged() bool {
	return r.ctx.LastEntry != nil && r.ctx.Now.Sub(r.lastTyped()) <= 30*time.Minute
}

// justTyped: the newest entry was sent within the last ten minutes (common practice, no
// source).
func (r *reader) justTyped() bool {
	return r.ctx.LastEntry != nil && r.ctx.Now.Sub(r.lastTyped()) <= 10*time.Minute
}

// saidInGroup reports a message of a group that is not meant for the bot.
func (r *reader) saidInGroup() bool { return r.ctx.Group && !r.addressed() }

// lastValueOnly reports "undo 1.034": the value of the last entry. The
// value itself names the entry as well as "that" does.
func (r *reader) lastValueOnly() bool {
	l := r.ctx.LastEntry
	for i := 1; i < len(r.items); i++ {
		it := &r.items[i]
		if it.kind == tNum && l != nil && l.Value != nil && (it.num.val == *l.Value || gravityValue(it.num) == *l.Value) {
			continue
		}
		if it.is(cFill) || it.is(cLabel) || it.kind == tPunct || it.fold == "reading" || it.fold == "entry" {
			continue
		}
		return false
	}
	return l != nil
}

// editNamed reads "change sunday's reading to 1.044" and "sunday was 1.044
// not 1.041": a repair of an entry that a day names. The day names the
// entry; the value is the new one, and whatever stands behind "not" was
// the old.
func (r *reader) editNamed() (Intent, bool) {
	verb := false
	switch r.items[0].fold {
	case "change", "correct", "edit", "fix", "amend":
		verb = true
	}
	w, ok := r.timeFrom(0)
	if !ok || w.Now() || !verb && !r.deniesValue() || r.ctx.Group && !r.addressed() && r.namedBatch() == 0 {
		return Intent{}, false
	}
	vs := r.valuesFrom(0)
	if len(vs) == 0 || r.strange(1, nil) {
		return Intent{}, false
	}
	v := vs[len(vs)-1]
	e := Entry{Quantity: v.q, Unit: v.unit, When: w}
	if v.q == "sg" || v.q == "bare" && gravityShaped(v.n) {
		e.Quantity, e.Unit, v.v = "sg", "sg", gravityValue(v.n)
	} else if v.q != "temp" {
		return Intent{}, false
	}
	f := v.v
	e.Value, e.Typed = &f, v.n.typed
	b := r.namedBatch()
	if b == 0 {
		b = r.choose(func(b *Batch) bool { return !b.bottled() }, When{}, nil)
	}
	if b == 0 {
		return r.askBatch([]Entry{e}, nil), true
	}
	r.setBatch(&e, b)
	return Intent{Kind: Correction, Action: "edit_entry", Entries: []Entry{e}, Batch: e.BatchN}, true
}

// deniesValue reports a value that is said to be wrong: "not 1.041".
// Without it, a day and a value are simply a late reading.
func (r *reader) deniesValue() bool {
	for k := 1; k < len(r.items); k++ {
		if r.items[k].kind == tNum && r.items[k-1].name(cSay) == "not" {
			return true
		}
	}
	return false
}

// determiner: the "no" of "no movement" denies a thing and repairs nothing.
func (r *reader) determiner(k int) bool {
	it := &r.items[k]
	if it.kind != tWord || it.used != "" || it.batch > 0 {
		return false
	}
	for _, c := range []class{cSay, cPron, cFill, cUndo, cLabel, cUnit, cNoun, cMaterial, cArt, cApprox, cThanks, cNumber, cTType} {
		if it.is(c) {
			return false
		}
	}
	return true
}

// notTheLast reports two gravities of which one is what the sender logged last,
// with a word of repair: "1.034 should be 1.026". The other one is right.
func (r *reader) notTheLast() bool {
	l := r.ctx.LastEntry
	if !r.ownLast() || l.Value == nil || l.Quantity != "sg" || !r.addressed() {
		return false
	}
	last, other, said := -1, 0, false
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.kind == tNum && it.used == "" && gravityShaped(it.num) && gravityValue(it.num) == *l.Value:
			last = i
		case it.kind == tNum && it.used == "" && gravityShaped(it.num):
			other++
		case it.is(cDeed), it.punct("?"):
			return false
		}
		said = said || it.is(cSay) || it.fold == "replace" || it.fold == "right"
	}
	if last < 0 || other != 1 || !said {
		return false
	}
	r.items[last].used = "denied"
	return true
}

// behindReference is the place of the word of repair behind "the last one",
// "that" or "my reading"; 0 where none follows.
func (r *reader) behindReference() int {
	for k := range r.items {
		it := &r.items[k]
		if k > 0 && it.is(cSay) {
			return k
		}
		if it.used == "mine" {
			continue
		}
		if k > 0 && r.items[k-1].used == "mine" && (it.fold == "was" || it.fold == "is") { // "mine was the damson"
			return k
		}
		if k == 2 && it.fold == "was" && r.items[0].fold == "that" && r.labelOfLast(1) && r.justTyped() { // "that pH was 3.62"
			return k
		}
		if k == 1 && r.items[0].fold == "that" && r.labelOfLast(1) {
			continue
		}
		switch it.fold {
		case "that", "this", "it", "the", "my", "last", "last one", "one", "reading", "message", "entry", "value", "number":
		default:
			return 0
		}
	}
	return 0
}

// onlyTime reports a message that is nothing but a past time, sent within ten
// minutes of one's own reading: "from yesterday". The reading was of then.
func (r *reader) onlyTime() bool {
	past := false
	for _, t := range r.times {
		past = past || !t.future && !t.when.Now()
	}
	if !past || r.ctx.Group || r.ctx.Now.Sub(r.lastTyped()) > 10*time.Minute {
		return false
	}
	for i := range r.items {
		if it := &r.items[i]; it.used != "time" && it.kind != tPunct && !it.is(cFill) && !it.is(cPron) {
			return false
		}
	}
	return true
}

// oneNotOther reports "1.033 not 1.034" and "damson not gorse". The first
// is right, the second was typed.
func (r *reader) oneNotOther() bool {
	first := 0
	for k := range r.items {
		it := &r.items[k]
		if it.kind == tNum || it.is(cDeed) || len(r.items) > 8 {
			break
		}
		if it.batch > 0 && first > 0 && it.batch != first && (r.items[k-1].name(cSay) == "not" || k > 1 && r.items[k-1].fold == "the" && r.items[k-2].name(cSay) == "not") {
			return true
		}
		if it.batch > 0 && first == 0 {
			first = it.batch
		}
	}
	if r.labelOfLast(0) && r.deniesLast() && len(r.items) <= 10 { // "TA was 7.4, not 4.7"
		return true
	}
	for k := 1; k+1 < len(r.items); k++ {
		if r.items[k].fold == "not" || r.items[k].fold == "instead of" {
			return r.items[0].kind == tNum && r.items[k+1].kind == tNum && (len(r.items) <= 8 || k == 1 && r.deniedFirst(0) > 0)
		}
	}
	return false
}

// labelOfLast reports that item k names what the newest entry is.
func (r *reader) labelOfLast(k int) bool {
	l := r.ctx.LastEntry
	for k < len(r.items) && (r.items[k].fold == "the" || r.items[k].batch > 0) {
		k++
	}
	return l != nil && k < len(r.items) && r.items[k].name(cLabel) == l.Quantity
}

// saidAfter reports "1.032 sorry" and the star of chats: "*1.032". The
// apology may come last, and chats mark a repair with a star.
func (r *reader) saidAfter() bool {
	n := len(r.items)
	if r.items[0].punct("*") {
		return n >= 2 && n <= 3 && r.items[1].kind == tNum
	}
	if l := r.ctx.LastEntry; r.items[0].kind == tNum && n > 3 && l.Value != nil && gravityValue(r.items[0].num) == *l.Value && r.hasWord(1, "wrong", "not right", "typo") {
		r.items[0].used = "denied"
		return true
	}
	if n < 2 || n > 7 {
		return false
	}
	nums := 0
	for k := range r.items[:n-1] {
		it := &r.items[k]
		if it.kind == tNum && it.used == "" {
			nums++
		} else if it.batch > 0 || it.is(cDeed) || it.is(cQ) && k == 0 && !it.is(cPron) || it.used == "" && !it.known() {
			return false
		}
	}
	if nums > 1 || nums == 0 && (len(r.times) != 1 || r.times[0].future || r.times[0].when.Now()) {
		return false
	}
	switch r.items[n-1].fold {
	case "sorry", "typo", "oops", "i mean", "i meant", "correction", "*", "my mistake", "my bad", "actually", "whoops", "rather", "even", "excuse me", "it should be", "i should say":
		return true
	}
	return false
}

// onlySmallWords reports that nothing but filler stands from item k on.
// Please and thanks are welcome.
func (r *reader) onlySmallWords(k int) bool {
	for ; k < len(r.items); k++ {
		it := &r.items[k]
		if k+1 < len(r.items) && r.items[k+1].fold == "you" && (it.fold == "would" || it.fold == "will" || it.fold == "could" || it.fold == "can") { // "undo that would you"
			continue
		}
		if it.used == "mine" || it.kind == tPunct || it.is(cFill) || it.is(cPron) || it.is(cThanks) || it.is(cUndo) || it.is(cSay) || it.is(cNow) {
			continue
		}
		return false
	}
	return true
}

// bareNo: "sorry" or "wrong" alone means nothing to the book. "wrong
// batch" alone asks which one it was.
func (r *reader) bareNo() (Intent, bool) {
	if r.items[0].fold == "wrong one" && r.saidInGroup() && !r.justTyped() {
		return r.ignore("talk, not a repair"), true
	}
	if r.items[0].fold == "wrong batch" || r.items[0].fold == "wrong one" {
		if l := r.ctx.LastEntry; l != nil && r.ownLast() {
			in := r.askBatch([]Entry{r.lastAs(l.Value)}, nil)
			for i := range in.Options {
				in.Options[i].Replace = true
			}
			in.Action = "move_last"
			return in, true
		}
		return Intent{Kind: Ask, Ask: "correct_what", Why: "nothing was logged in the last 48 hours"}, true
	}
	return Intent{}, false
}
